//! Words about something on the part, and words that may stand anywhere on its sheets.

use super::block::{Block, SMALLEST, broken};
use super::desk::{CLEAR, Desk};
use super::{Said, set};
use crate::geometry::{Path, Point, Rect, Vec2};
use crate::layout::furniture::line;
use crate::page::{Anchor, Item, Pen, Shape, Text, words_beside};
use std::f64::consts::FRAC_PI_4;

/// How far words are moved from where they were wished without a leader, mm, and between the places that are tried.
const NEAR: f64 = 8.0;
const STEP: f64 = 2.0;

/// Distances from a line at which words along it are tried, mm.
const OFF: [f64; 4] = [1.5, 4.0, 7.0, 11.0];

/// Between the places along a line that are tried, mm, and how many there are at most.
const ALONG: f64 = 6.0;
const MOST_ALONG: usize = 60;

/// Widths of lines to which words are broken, mm.
const WIDTHS: [f64; 5] = [100.0, 70.0, 50.0, 36.0, 24.0];

/// Width of a leader, mm (ISO 128 series), radius of the dot at its end, and the gap before the words.
const THIN: f64 = 0.18;
const DOT: f64 = 0.5;
const BEFORE_WORDS: f64 = 0.6;

/// A leader shorter than this says nothing, mm.
const SHORTEST: f64 = 3.0;

/// How far off what they are about room is first looked for, mm.
const AWAY: [f64; 3] = [12.0, 30.0, 60.0];

/// How many numbers stand for words in a list so far.
#[derive(Debug, Default)]
pub struct Listed {
    count: usize,
}

/// Words about a place or a line of which `at` is the middle.
pub fn beside(
    said: &Said,
    path: Option<&Path>,
    at: Point,
    desk: &mut Desk,
    listed: &mut Listed,
) -> Option<Vec<Item>> {
    let wished = Block::of(said.texts.clone())?;
    let shorter = said.label.shorter.iter().filter_map(|words| {
        let first = said.texts.first()?;
        Block::of(vec![Text { content: words.clone(), ..first.clone() }])
    });
    let worded: Vec<Block> = [wished.clone()].into_iter().chain(shorter).collect();
    let forms: Vec<Block> = worded.iter().flat_map(|block| block.forms(&WIDTHS)).collect();
    for form in worded.iter().chain(&forms) {
        let along = path.and_then(|path| slid(form, path, desk));
        if let Some(texts) = along.or_else(|| shifted(form, wished.center, desk)) {
            return Some(set(said, texts, desk));
        }
    }
    for form in &forms {
        if let Some(items) = led(said, form, path, at, desk) {
            return Some(items);
        }
    }
    in_list(said, path, at, desk, listed)
}

/// One line of words elsewhere beside its line.
fn slid(form: &Block, path: &Path, desk: &Desk) -> Option<Vec<Text>> {
    let [text] = form.texts() else { return None };
    let text = Text { anchor: Anchor::Middle, ..text.clone() };
    let steps = ((path.length() / ALONG) as usize).clamp(4, MOST_ALONG);
    // From the middle outwards.
    let shares = (0..=steps).map(|k| {
        let off = k.div_ceil(2) as f64 / (steps + 1) as f64;
        if k % 2 == 0 { 0.5 + off } else { 0.5 - off }
    });
    let tried = shares.flat_map(|share| OFF.into_iter().flat_map(move |off| [(share, off), (share, -off)]));
    tried
        .filter_map(|(share, off)| words_beside(path, share, off, &text))
        .map(|text| vec![text])
        .find(|texts| desk.fits(texts).is_some())
}

/// Words a little off from where they were wished, on the same side of every line that is cut.
fn shifted(form: &Block, wish: Point, desk: &Desk) -> Option<Vec<Text>> {
    let steps = (NEAR / STEP) as i32;
    let mut off: Vec<Vec2> = (-steps..=steps)
        .flat_map(|x| (-steps..=steps).map(move |y| Vec2::new(f64::from(x), f64::from(y)) * STEP))
        .filter(|off| off.hypot() <= NEAR)
        .collect();
    off.sort_by(|a, b| a.hypot().total_cmp(&b.hypot()));
    let near = off.into_iter().filter(|off| desk.is_on_one_side(wish, wish + *off));
    near.map(|off| form.at(wish + off, form.angle())).find(|texts| desk.fits(texts).is_some())
}

/// Words on the sheet of what they are about, at the end of a leader: of the places that have room the one whose leader runs clearest, and of
/// such the nearest.
fn led(said: &Said, form: &Block, path: Option<&Path>, at: Point, desk: &mut Desk) -> Option<Vec<Item>> {
    let sheet = *desk.from(at).first()?;
    let about = on_sheet_of(path, at, desk.sheet(sheet));
    let around = AWAY.into_iter().flat_map(|away| {
        (0..8).map(move |turn| about + Vec2::from_angle(FRAC_PI_4 * (f64::from(turn) + 0.5)) * away)
    });
    let mut known: Vec<Led> = Vec::new();
    for wish in [about].into_iter().chain(around) {
        // Level words are read at the end of a leader, whichever way what they are about runs.
        let block = Block::of(desk.room_for(sheet, form, (0.0, None), wish)?)?;
        if known.iter().any(|other| other.block.center.distance(block.center) < STEP) {
            continue;
        }
        let from = path.and_then(|path| nearest_on(path, block.center, desk.sheet(sheet))).unwrap_or(about);
        let to = block.nearest(from, BEFORE_WORDS);
        known.push(Led { block, from, to });
    }
    known.retain(|led| desk.is_clear(led.from, led.to));
    let rank = |led: &Led| (desk.hindered(led.from, led.to), led.from.distance(led.to));
    let best = known
        .into_iter()
        .map(|led| (rank(&led), led))
        .min_by(|(a, _), (b, _)| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let (_, Led { block, from, to }) = best?;
    Some(with_leader(said, &block, (from, to), desk))
}

/// Words and their leader.
struct Led {
    block: Block,
    from: Point,
    to: Point,
}

/// Words with the leader from what they are about.
fn with_leader(said: &Said, block: &Block, (from, to): (Point, Point), desk: &mut Desk) -> Vec<Item> {
    let mut items = set(said, block.texts().to_vec(), desk);
    if from.distance(to) > SHORTEST {
        let leader = line(said.role, from, to, Pen::solid(THIN));
        let dot = Shape::Fill { rings: vec![Path::circle(from, DOT)], grey: 0.0 };
        desk.draw(&leader);
        items.push(leader);
        items.push(Item { role: said.role, part: None, clip: None, shape: dot });
    }
    items
}

/// The point of what words are about that lies on a sheet.
fn on_sheet_of(path: Option<&Path>, at: Point, sheet: Rect) -> Point {
    path.and_then(|path| nearest_on(path, sheet.center(), sheet)).unwrap_or(at)
}

/// The point of a path on a sheet that is nearest to another.
fn nearest_on(path: &Path, to: Point, sheet: Rect) -> Option<Point> {
    let (_, place) = path.nearest(to)?;
    path.point_at(place).filter(|at| sheet.contains(*at))
}

/// A number at the place, and the words behind the same number wherever there is room.
fn in_list(said: &Said, path: Option<&Path>, at: Point, desk: &mut Desk, listed: &mut Listed) -> Option<Vec<Item>> {
    let number = format!("({})", listed.count + 1);
    let sign = Block::of(vec![Text::new(at, SMALLEST, number.as_str())])?;
    let words: Vec<String> = said.texts.iter().map(|text| text.content.clone()).collect();
    let entry = Block::stacked(&[(SMALLEST, format!("{number} {}", words.join(", ")))], Anchor::Start)?;
    let forms = entry.forms(&WIDTHS);
    let order = desk.from(at);
    let place = order
        .into_iter()
        .find_map(|sheet| forms.iter().find_map(|form| desk.room_for(sheet, form, (0.0, None), at)))?;
    let mut items = set(said, place, desk);
    let own = match shifted(&sign, at, desk) {
        Some(texts) => Some(set(said, texts, desk)),
        None => led(said, &sign, path, at, desk),
    };
    listed.count += 1;
    items.extend(own.unwrap_or_default());
    Some(items)
}

/// Words that may stand anywhere: whole on one sheet, else in as few pieces as can be.
pub fn on_sheet(said: &Said, desk: &mut Desk) -> Option<Vec<Item>> {
    let wish = Block::of(said.texts.clone())?;
    let mut pieces = vec![wish.texts().to_vec()];
    let mut items = Vec::new();
    while let Some(piece) = pieces.pop() {
        let block = Block::of(piece.clone())?;
        match anywhere(&block, wish.center, desk) {
            Some(texts) => items.extend(set(said, texts, desk)),
            None if piece.len() > 1 => {
                let (first, rest) = piece.split_at(piece.len() / 2);
                pieces.extend([rest.to_vec(), first.to_vec()]);
            }
            None => {
                desk.set(&piece);
                items.extend(piece.into_iter().map(|text| said.item(text)));
            }
        }
    }
    Some(items)
}

/// Where a block finds room on any sheet.
fn anywhere(block: &Block, wish: Point, desk: &mut Desk) -> Option<Vec<Text>> {
    let forms = sheet_forms(block, desk);
    let order = desk.from(wish);
    forms.iter().find_map(|form| order.iter().find_map(|sheet| desk.room_for(*sheet, form, (0.0, None), wish)))
}

/// A block, broken to the widths of sheets.
fn sheet_forms(block: &Block, desk: &Desk) -> Vec<Block> {
    let wide = desk.sheet(0).width() - 4.0 * CLEAR;
    let widths = [wide, 0.75 * wide, 0.5 * wide, 0.35 * wide];
    let lines = block.lines();
    let narrow = widths.into_iter().filter(|width| *width < block.size.x);
    let narrow = narrow.filter_map(|width| Block::stacked(&broken(&lines, width), Anchor::Start));
    [block.clone()].into_iter().chain(narrow).collect()
}
