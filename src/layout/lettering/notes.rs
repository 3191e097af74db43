//! Words about something on the part, and words that may stand anywhere on its sheets.

use super::block::{Block, SMALLEST, broken};
use super::desk::{CLEAR, Desk};
use super::leader::{self, Led};
use super::{Said, is_nearest, set};
use crate::geometry::{Path, Point, Rect, Vec2, clip_to_rect};
use crate::layout::furniture::line;
use crate::page::{About, Anchor, Item, Pen, Shape, Text, words_beside};
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

/// A stretch of a line on a sheet that is no longer is taken with the next sheet's, mm.
const SEEN: f64 = 12.0;

/// A leader shorter than this says nothing, mm.
const SHORTEST: f64 = 3.0;

/// Shares of a line from which a leader is tried besides its middle.
const SHARES: [f64; 2] = [0.25, 0.75];

/// How far off what they are about room is looked for where none is near, mm.
const AWAY: [f64; 3] = [12.0, 30.0, 60.0];

/// How many numbers stand for words in a list so far.
#[derive(Debug, Default)]
pub struct Listed {
    count: usize,
}

/// Words about a place or a line of which `at` is the middle. `rivals` are the places of others, to which they do not stand nearer unless a
/// leader says what they are about.
pub fn beside(
    (said, rivals): (&Said, &[Point]),
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
        let is_own = |texts: &[Text]| is_nearest(said, texts, rivals);
        if let Some(texts) = along.or_else(|| shifted(form, path, wished.center, (desk, &is_own))) {
            return Some(set(said, texts, desk));
        }
    }
    for form in &forms {
        if let Some(items) = led(said, form, path, at, desk) {
            return Some(items);
        }
    }
    in_list((said, rivals), path, at, desk, listed)
}

/// The names of lines on each sheet that shows a stretch of them and bears no name.
pub fn again(all: &[Said], placed: &[Vec<Item>], desk: &mut Desk) -> Vec<Item> {
    let mut more = Vec::new();
    for (said, items) in all.iter().zip(placed).filter(|(said, _)| said.label.again) {
        let (About::Along(path), Some(form)) = (&said.label.about, Block::of(said.texts.clone())) else { continue };
        let named = items.iter().filter(|item| matches!(item.shape, Shape::Text(_))).filter_map(Item::bounding_box);
        let named: Vec<usize> = named.filter_map(|around| desk.sheet_of_rect(around)).collect();
        for sheet in (0..desk.count()).filter(|sheet| !named.contains(sheet)) {
            let stretches = clip_to_rect(path, desk.seen(sheet)).into_iter().map(|(stretch, _)| stretch);
            let Some(own) = stretches.max_by(|a, b| a.length().total_cmp(&b.length())) else { continue };
            if own.length() < SEEN {
                continue;
            }
            let at = place_at(&own, 0.5).unwrap_or(form.center);
            more.extend(match slid(&form, &own, desk) {
                Some(texts) => set(said, texts, desk),
                None => led(said, &form, Some(&own), at, desk).unwrap_or_default(),
            });
        }
    }
    more
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
        .find(|texts| desk.fits(texts).is_some() && desk.shows(path, texts))
}

/// Whether words may stand where they do, as far as the desk does not know.
type Accepts<'a> = &'a dyn Fn(&[Text]) -> bool;

/// Words a little off from where they were wished, on the same side of every line that is cut, if they are then told by their place alone.
fn shifted(form: &Block, path: Option<&Path>, wish: Point, (desk, is_own): (&Desk, Accepts)) -> Option<Vec<Text>> {
    let steps = (NEAR / STEP) as i32;
    let mut off: Vec<Vec2> = (-steps..=steps)
        .flat_map(|x| (-steps..=steps).map(move |y| Vec2::new(f64::from(x), f64::from(y)) * STEP))
        .filter(|off| off.hypot() <= NEAR)
        .collect();
    off.sort_by(|a, b| a.hypot().total_cmp(&b.hypot()));
    let near = off.into_iter().filter(|off| desk.is_on_one_side(wish, wish + *off));
    let is_seen = |texts: &Vec<Text>| path.is_none_or(|path| desk.shows(path, texts));
    let mut tried = near.map(|off| form.at(wish + off, form.angle()));
    tried.find(|texts| is_own(texts) && desk.fits(texts).is_some() && is_seen(texts))
}

/// Words on the sheet of what they are about, at the end of a leader: near it, of the places that have room the first whose leader crosses
/// nothing, else the first; farther off the one whose leader runs clearest, and of such the nearest.
fn led(said: &Said, form: &Block, path: Option<&Path>, at: Point, desk: &mut Desk) -> Option<Vec<Item>> {
    let sheet = *desk.from(at).first()?;
    let about = on_sheet_of(path, at, desk.sheet(sheet));
    // Level words are read at the end of a leader, whichever way what they are about runs.
    let level = Block::of(form.at(about, 0.0))?;
    let led = led_near(&level, path, about, desk.sheet(sheet), desk)
        .or_else(|| led_far(&level, path, about, sheet, desk))?;
    Some(with_leader(said, &led.block, (led.from, led.to), desk))
}

/// Words near what they are about.
fn led_near(level: &Block, path: Option<&Path>, about: Point, sheet: Rect, desk: &Desk) -> Option<Led> {
    let along = path.into_iter().flat_map(|path| SHARES.map(|share| place_at(path, share)));
    let along = along.flatten().filter(|at| sheet.contains(*at));
    let points: Vec<Point> = [about].into_iter().chain(along).collect();
    let sides = leader::sides(level, BEFORE_WORDS);
    let may_stand = |block: Rect| sheet.contains_rect(block);
    let first = |is_barred: &dyn Fn(Point, Point) -> bool| {
        leader::about(&points, &sides, desk.standing(), &may_stand, is_barred).next()
    };
    first(&|from, to| desk.is_crossed(from, to)).or_else(|| first(&|_, _| false))
}

/// Words wherever their sheet has room.
fn led_far(level: &Block, path: Option<&Path>, about: Point, sheet: usize, desk: &mut Desk) -> Option<Led> {
    let around = AWAY.into_iter().flat_map(|away| {
        (0..8).map(move |turn| about + Vec2::from_angle(FRAC_PI_4 * (f64::from(turn) + 0.5)) * away)
    });
    let mut known: Vec<Led> = Vec::new();
    for wish in [about].into_iter().chain(around) {
        let block = Block::of(desk.room_for(sheet, level, (0.0, None), wish)?)?;
        if known.iter().any(|other| other.block.center.distance(block.center) < STEP) {
            continue;
        }
        let from = path.and_then(|path| nearest_on(path, block.center, desk.sheet(sheet))).unwrap_or(about);
        let to = block.nearest(from, BEFORE_WORDS);
        known.push(Led { block, from, to });
    }
    known.retain(|led| desk.may_lead(led.from, led.to));
    let rank = |led: &Led| (desk.is_crossed(led.from, led.to), led.from.distance(led.to));
    let ranked = known.into_iter().map(|led| (rank(&led), led));
    ranked.min_by(|(a, _), (b, _)| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))).map(|(_, led)| led)
}

/// The point of a path at a share of its length.
fn place_at(path: &Path, share: f64) -> Option<Point> {
    path.place_at_length(path.length() * share).and_then(|place| path.point_at(place))
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
fn in_list(
    (said, rivals): (&Said, &[Point]),
    path: Option<&Path>,
    at: Point,
    desk: &mut Desk,
    listed: &mut Listed,
) -> Option<Vec<Item>> {
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
    let own = match shifted(&sign, path, at, (desk, &|texts| is_nearest(said, texts, rivals))) {
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
