//! The words that name a part: whole once, and short on every further sheet of a long part.

use super::block::{Block, SMALLEST, broken};
use super::desk::Desk;
use super::{Said, notes, set};
use crate::geometry::{Point, Rect, Vec2};
use crate::page::{About, Anchor, Item, Label, Part, Role, Shape, Text};
use std::f64::consts::FRAC_PI_2;

/// Heights of a capital of the name and of the other words, mm (ISO 3098), largest first.
const LETTERING: [(f64, f64); 4] = [(7.0, 5.0), (5.0, 3.5), (3.5, SMALLEST), (SMALLEST, SMALLEST)];

/// Widths to which the lines of a plate are broken, mm.
const WIDTHS: [f64; 6] = [240.0, 180.0, 130.0, 95.0, 70.0, 50.0];

/// How many sheets about the middle of a part are tried first.
const NEAR: usize = 6;

/// Heights of the capitals of a short plate, mm, and widths to which its lines are broken.
const SHORT: [f64; 3] = [5.0, 3.5, SMALLEST];
const NARROW: [f64; 4] = [60.0, 40.0, 25.0, 12.0];

/// The plate on the part where one sheet has room for it; else its most important lines there and the others where there is room.
pub fn placed(said: &Said, desk: &mut Desk) -> Option<Vec<Item>> {
    let wish = wish(said, desk)?;
    let lines: Vec<Line> = said.texts.iter().enumerate().map(|(k, text)| Line::of(text, k == 0)).collect();
    if let Some(texts) = on_part(&lines, wish, desk) {
        return Some(set(said, texts, desk));
    }
    let (head, rest): (Vec<Line>, Vec<Line>) = {
        let (head, rest): (Vec<_>, Vec<_>) =
            lines.iter().enumerate().partition(|(k, _)| said.label.staying.contains(k));
        let lines = |of: Vec<(usize, &Line)>| of.into_iter().map(|(_, line)| line.clone()).collect();
        (lines(head), lines(rest))
    };
    let Some(texts) = on_part(&head, wish, desk) else { return beside(said, &lines, wish, desk) };
    let mut items = set(said, texts, desk);
    match on_part(&rest, wish, desk) {
        Some(texts) => items.extend(set(said, texts, desk)),
        None => items.extend(beside(said, &rest, wish, desk).unwrap_or_default()),
    }
    Some(items)
}

/// Where the plate would stand: in the middle of the part.
fn wish(said: &Said, desk: &Desk) -> Option<Point> {
    desk.around(0).map(|bounds| bounds.center()).or_else(|| said.texts.first().map(|text| text.at))
}

/// A line of a plate, as it was wished.
#[derive(Debug, Clone)]
struct Line {
    is_name: bool,
    words: String,
    wished: Text,
}

impl Line {
    fn of(text: &Text, is_name: bool) -> Line {
        Line { is_name, words: text.content.clone(), wished: text.clone() }
    }
}

/// The lines with the heights of their capitals: large for the name.
fn lettered(lines: &[Line], (large, small): (f64, f64)) -> Vec<(f64, String)> {
    lines.iter().map(|line| (if line.is_name { large } else { small }, line.words.clone())).collect()
}

/// The forms in which a plate is set, the plainest first. Each statement begins a line of its own: what runs on is read as one.
fn forms(lines: &[(f64, String)]) -> Vec<Block> {
    let plain = Block::stacked(lines, Anchor::Middle);
    let narrow = WIDTHS.iter().filter_map(|width| Block::stacked(&broken(lines, *width), Anchor::Middle));
    plain.into_iter().chain(narrow).collect()
}

/// The longest side of a shape, mm, in which places for words are tried one by one, and the distance between them.
const SMALL_SHAPE: f64 = 100.0;
const FINE: f64 = 1.0;

/// Shares of what a sheet shows by which a short plate stands off the middle.
const ABOUT: [f64; 3] = [0.0, 0.2, -0.2];

/// Along the part, then across it.
fn ways(bounds: Rect) -> [f64; 2] {
    if bounds.height() > bounds.width() { [FRAC_PI_2, 0.0] } else { [0.0, FRAC_PI_2] }
}

/// Words within the outline of the part on one sheet, in the largest capitals that find room.
fn on_part(words: &[Line], wish: Point, desk: &mut Desk) -> Option<Vec<Text>> {
    let around = desk.around(0).filter(|_| !words.is_empty())?;
    let (ways, order) = (ways(around), desk.from(wish));
    let near = &order[..order.len().min(NEAR)];
    let found = on_sheets(words, near, &ways[..1], wish, desk);
    let found = found.or_else(|| on_sheets(words, near, &ways, wish, desk));
    found.or_else(|| on_sheets(words, &order[near.len()..], &ways, wish, desk))
}

/// Words within the outline of the part on the first of some sheets that has room for them, running in the first way that does.
fn on_sheets(words: &[Line], sheets: &[usize], ways: &[f64], wish: Point, desk: &mut Desk) -> Option<Vec<Text>> {
    for lettering in LETTERING {
        for form in forms(&lettered(words, lettering)) {
            for sheet in sheets {
                let found = ways.iter().find_map(|way| desk.room_for(*sheet, &form, (*way, Some(0)), wish));
                if let Some(texts) = found.filter(|texts| desk.holds(0, texts)) {
                    return Some(texts);
                }
            }
        }
    }
    None
}

/// Words beside the part: as they were wished, or where there is room.
fn beside(said: &Said, lines: &[Line], wish: Point, desk: &mut Desk) -> Option<Vec<Item>> {
    let wished: Vec<Text> = lines.iter().map(|line| line.wished.clone()).collect();
    if desk.fits_tightly(&wished).is_some() {
        return Some(set(said, wished, desk));
    }
    let [.., lettering, _] = LETTERING;
    let order = desk.from(wish);
    for form in forms(&lettered(lines, lettering)) {
        let found = order.iter().find_map(|sheet| desk.room_for(*sheet, &form, (0.0, None), wish));
        if let Some(texts) = found {
            return Some(set(said, texts, desk));
        }
    }
    let label = Label::new(About::Sheet, said.label.rank);
    notes::on_sheet(&Said { role: said.role, label, texts: wished, arrows: Vec::new() }, desk)
}

/// A short plate wherever a sheet shows a part of a shape to be cut out that bears no word there, if it is wide enough for one. `names`
/// and `words` are the texts of plates that name the part, and all that stands.
pub fn repeated(part: &Part, names: &[Text], words: &[Text], desk: &mut Desk) -> Vec<Item> {
    let place = |text: &Text| Some((desk.sheet_of(std::slice::from_ref(text))?, text.bounding_box().center()));
    let [names, words]: [Vec<(usize, Point)>; 2] =
        [names, words].map(|texts| texts.iter().filter_map(place).collect());
    let mut items = Vec::new();
    for ring in 0..desk.rings().count() {
        let Some(around) = desk.around(ring) else { continue };
        let is_long = desk.sheet_of_rect(around).is_none();
        for sheet in 0..desk.count() {
            let here = around.intersect(desk.sheet(sheet));
            // On a part of many sheets each has its name; what lies whole on one sheet bears some word.
            let own = if is_long { &names } else { &words };
            let named = own.iter().any(|(on, at)| *on == sheet && desk.is_within(ring, *at));
            if named || here.width() < SMALLEST || here.height() < SMALLEST {
                continue;
            }
            let (wish, ways) = (here.center(), ways(around));
            let forms = short_forms(part);
            let near = forms.first().and_then(|block| about_middle(ring, here, block, ways[0], desk));
            let found = near.or_else(|| {
                forms.iter().find_map(|block| {
                    let tried = ways.into_iter().find_map(|way| desk.room_for(sheet, block, (way, Some(ring)), wish));
                    tried.filter(|texts| desk.holds(ring, texts))
                })
            });
            let found = found.or_else(|| squeezed(ring, (sheet, here), &forms, desk));
            if let Some(texts) = found {
                desk.set(&texts);
                let item = |text| Item { role: Role::Text, part: None, clip: None, shape: Shape::Text(text) };
                items.extend(texts.into_iter().map(item));
            }
        }
    }
    items
}

/// Words as near to the lines of a small shape as can be, in the place nearest to the middle of what a sheet shows of it.
fn squeezed(ring: usize, (sheet, here): (usize, Rect), forms: &[Block], desk: &Desk) -> Option<Vec<Text>> {
    if here.width().max(here.height()) > SMALL_SHAPE {
        return None;
    }
    let steps = |length: f64| (length / FINE / 2.0) as i32;
    let (across, up) = (steps(here.width()), steps(here.height()));
    let off = (-across..=across).flat_map(|x| (-up..=up).map(move |y| Vec2::new(f64::from(x), f64::from(y)) * FINE));
    let mut off: Vec<Vec2> = off.collect();
    off.sort_by(|a, b| a.hypot().total_cmp(&b.hypot()));
    forms.iter().find_map(|block| {
        let tried = off.iter().map(|off| block.at(here.center() + *off, 0.0));
        tried.into_iter().find(|texts| desk.fits_tightly(texts) == Some(sheet) && desk.holds(ring, texts))
    })
}

/// Words about the middle of what a sheet shows of a shape, where nothing is in the way.
fn about_middle(ring: usize, here: Rect, block: &Block, way: f64, desk: &Desk) -> Option<Vec<Text>> {
    let at = |x: f64, y: f64| here.center() + Vec2::new(here.width() * x, here.height() * y);
    let places = ABOUT.into_iter().flat_map(|x| ABOUT.map(|y| at(x, y)));
    let tried = places.map(|place| block.at(place, way));
    tried.into_iter().find(|texts| desk.fits(texts).is_some() && desk.holds(ring, texts))
}

/// The forms of a short plate: the name with the revision, then the name, broken into lines, then the revision alone, then the short code.
fn short_forms(part: &Part) -> Vec<Block> {
    let full = format!("{} · rev {}", part.name, part.revision);
    let one_line = [full.as_str(), part.name.as_str()].into_iter().flat_map(|words| {
        SHORT.into_iter().filter_map(move |height| Block::stacked(&[(height, words.to_owned())], Anchor::Middle))
    });
    let narrow = NARROW
        .into_iter()
        .filter_map(|width| Block::stacked(&broken(&[(SMALLEST, part.name.clone())], width), Anchor::Middle));
    let codes = [&part.revision, &part.code].into_iter().filter(|code| !code.is_empty());
    let codes = codes.filter_map(|code| Block::stacked(&[(SMALLEST, code.clone())], Anchor::Middle));
    one_line.chain(narrow).chain(codes).collect()
}
