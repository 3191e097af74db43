//! A part that the file draws directly.

use super::caution::caution_lines;
use super::half::Shown;
use super::lines::{CUT_WIDTH, MARK_WIDTH, cross, stroke, words as words_item};
use super::{Pattern, half, on_part, revision as codes, title};
use crate::geometry::{Flat, Outline, Path, PathIndex, Point, Rect, Vec2};
use crate::model::{DrawnPattern, Hole, Laid, Mark, Slot};
use crate::page::{About, Anchor, Item, Label, Part, Pen, Rank, Role, Shape, Text, readable};
use crate::router::{OnPart, part_cautions};
use crate::stock::Stock;
use crate::tolerance::TOOL_STEP;
use crate::units::{Length, Notation};

/// How far a hole's centre cross runs past its edge, mm.
const CROSS_PAST_EDGE: f64 = 3.0;

/// Reach of a marked cross, mm.
const CROSS_REACH: f64 = 5.0;

/// Draws a part of the file at full size, with what the router's side found on it and its revision code; of what it is sawn is not told.
pub fn draw(drawn: &DrawnPattern, found: &OnPart, code: &str, project: &str, notation: &Notation) -> Pattern {
    draw_from(drawn, found, None, code, project, notation)
}

/// The same with the stock that it is sawn from.
pub fn draw_from(
    drawn: &DrawnPattern,
    found: &OnPart,
    stock: Option<&Stock>,
    code: &str,
    project: &str,
    notation: &Notation,
) -> Pattern {
    let (ring, mut items) = half::edge(drawn);
    let shown = Shown::of(drawn, &ring);
    items.extend(shown.kept(cut(drawn, &shown)));
    let of_slots = shown.each(&drawn.slots).flat_map(|slot| slot_marks(slot, &shown, notation));
    items.extend(shown.kept(of_slots));
    let of_marks = shown.each(&drawn.marks).flat_map(|mark| mark_items(mark, &shown));
    items.extend(shown.kept(of_marks));
    let round = shown.each(&drawn.openings).filter_map(|opening| opening.what.path().as_circle(TOOL_STEP / 2.0));
    items.extend(shown.kept(round.flat_map(|(middle, radius)| middle_of_round(middle, radius))));
    items.extend(on_part::marks(drawn, found, &ring, &items, notation));
    for opening in shown.each(&drawn.openings) {
        items.extend(shown.said_once(opening.half).map(|said| opening_words(&opening.what, said)));
    }
    for hole in shown.each(&drawn.holes) {
        // One by one, so that each keeps off the words of the one before.
        let said = hole_words(hole, &items, &shown, notation);
        items.push(said);
    }
    let part = Part::new(drawn.name.as_str(), code);
    let bounds = ring.bounding_box().unwrap_or(Rect::ZERO);
    let size = |of: Rect| {
        // As the schedule tells the blank: what holds the part is never told smaller than it.
        let across = notation.bare_stock(Length::from_mm(of.width()));
        format!("{across} x {}", notation.stock(Length::from_mm(of.height())))
    };
    let whole = drawn.built.outline.path().bounding_box().filter(|_| half::words(drawn).is_some());
    let sizes = match whole {
        // A template that runs on is longer than the half of the part.
        Some(whole) => format!("whole part {}; template {}", size(whole), size(bounds)),
        None => size(bounds),
    };
    let make = made_words(drawn);
    let mut about = vec![make.clone(), format!("{} thick", notation.length(drawn.thickness))];
    about.extend(drawn.material.clone());
    let mut block = vec![about.join(" · "), sizes.clone()];
    block.extend(stock.into_iter().flat_map(|stock| stock_words(drawn, stock, notation)));
    block.push(format!("{project} · rev {}", part.revision));
    block.extend(half::words(drawn).map(str::to_owned));
    let mut staying = vec![0];
    staying.extend(half::words(drawn).map(|_| block.len() - 1));
    title::write(&mut items, &ring, &drawn.name, (&block, &staying), drawn.grain);
    let around = |items: &[Item]| items.iter().filter_map(Item::bounding_box).fold(bounds, |all, one| all.union(one));
    let so_far = around(&items);
    // Where there are templates or profiles they stand beneath those, where the work is done.
    if drawn.routing.templates.is_empty() && drawn.routing.profiles.is_empty() {
        items.extend(caution_lines(&part_cautions(drawn), so_far, notation));
    }
    let bounds = around(&items).inflate(title::CLEAR, title::CLEAR);
    Pattern::new(part, (make, sizes), Flat::from_outside(items).paper(), bounds)
}

/// How many are made.
pub fn made_words(drawn: &DrawnPattern) -> String {
    format!("make {}", drawn.make)
}

/// The net and the rough blank of a part, line by line.
fn stock_words(drawn: &DrawnPattern, stock: &Stock, say: &Notation) -> Vec<String> {
    let why = stock.for_screws.then(|| stock.why_words().to_owned());
    let net = format!("net blank {}", stock.net_words(drawn.grain.is_some(), say));
    [net, stock.rough_words(say)].into_iter().chain(why).collect()
}

/// The revision code of a part of the file: of what is cut and drilled in all of it, its thickness, and what is worked along its
/// edges.
pub fn revision(drawn: &DrawnPattern) -> String {
    let (_, mut items) = half::edge(drawn);
    items.extend(cut(drawn, &Shown::all()));
    codes::drawn(drawn, &items)
}

/// The lines of what is cut and drilled within the edge.
fn cut(drawn: &DrawnPattern, shown: &Shown) -> Vec<Item> {
    let openings = shown.each(&drawn.openings).map(|opening| opening.what.path().clone());
    let openings = openings.chain(shown.each(&drawn.slots).map(|slot| slot.what.ring()));
    let mut items: Vec<Item> = openings.map(|ring| stroke(Role::Opening, ring, Pen::solid(CUT_WIDTH))).collect();
    shown.each(&drawn.holes).for_each(|hole| items.extend(hole_items(&hole.what)));
    items
}

/// The cross in the middle of a round opening, by which it is drilled or the compass set; past the edge of a small one, as a hole's.
fn middle_of_round(middle: Point, radius: f64) -> [Item; 2] {
    cross(Role::Mark, middle, (radius + CROSS_PAST_EDGE).min(CROSS_REACH))
}

/// What is said in the middle of an opening.
fn opening_words(opening: &Outline, said: &str) -> Item {
    let middle = opening.path().bounding_box().unwrap_or(Rect::ZERO).center();
    words_item(Role::Text, Text::new(middle, 2.5, said).anchored(Anchor::Middle).about(Label::at(middle)))
}

/// Words with a remark behind them.
fn remarked(said: String, remark: Option<&str>) -> String {
    remark.map_or_else(|| said.clone(), |remark| format!("{said}, {remark}"))
}

fn hole_items(hole: &Hole) -> Vec<Item> {
    let radius = hole.diameter.mm() / 2.0;
    let mut items = vec![stroke(Role::Drill, Path::circle(hole.at, radius), Pen::solid(CUT_WIDTH))];
    items.extend(cross(Role::Drill, hole.at, radius + CROSS_PAST_EDGE));
    items
}

/// A hole's size beside it, on the first side that is clear of the lines drawn so far.
fn hole_words(laid: &Laid<Hole>, drawn: &[Item], shown: &Shown, notation: &Notation) -> Item {
    let hole = &laid.what;
    let size = format!("⌀ {}", notation.measured(hole.diameter));
    let words = hole.label.as_ref().map_or(size.clone(), |label| format!("{label} {size}"));
    let words = remarked(words, shown.said_once(laid.half));
    let off = hole.diameter.mm() / 2.0 * std::f64::consts::FRAC_1_SQRT_2 + 1.0;
    let far = off + CROSS_PAST_EDGE + 1.0;
    let places = [
        (Vec2::new(off, off), Anchor::Start),
        (Vec2::new(off, -off - 2.5), Anchor::Start),
        (Vec2::new(-off, off), Anchor::End),
        (Vec2::new(-off, -off - 2.5), Anchor::End),
        (Vec2::new(0.0, far), Anchor::Middle),
        (Vec2::new(0.0, -far - 2.5), Anchor::Middle),
        (Vec2::new(0.0, far + 4.5), Anchor::Middle),
        (Vec2::new(0.0, -far - 7.0), Anchor::Middle),
        (Vec2::new(far + 3.0, far + 3.0), Anchor::Start),
        (Vec2::new(far + 3.0, -far - 5.0), Anchor::Start),
    ];
    let texts = places.map(|(by, anchor)| Text::new(hole.at + by, 2.5, words.as_str()).anchored(anchor));
    let clear = |text: &&Text| {
        let block = text.bounding_box();
        drawn.iter().all(|item| match &item.shape {
            Shape::Stroke { path, .. } => !PathIndex::new(path).touches(block),
            Shape::Text(other) => !other.bounding_box().overlaps(block),
            Shape::Fill { .. } => true,
        })
    };
    let text = texts.iter().find(clear).unwrap_or(&texts[0]);
    words_item(Role::Text, text.clone().about(Label::at(hole.at)))
}

/// The crosses in the ends of a slot, and its words.
fn slot_marks(laid: &Laid<Slot>, shown: &Shown, notation: &Notation) -> Vec<Item> {
    let slot = &laid.what;
    let along = slot.to - slot.from;
    let (radius, length) = (slot.width.mm() / 2.0, along.hypot());
    let along = if length > 0.0 { along / length } else { Vec2::new(1.0, 0.0) };
    // Read from below or from the right, whichever way the slot or its mirror image runs.
    let turn = readable(along.atan2());
    let mut items = cross(Role::Mark, slot.from, CROSS_REACH).to_vec();
    items.extend(cross(Role::Mark, slot.to, CROSS_REACH));
    // Clear of the crosses in the slot's two ends.
    let off = (radius + 1.5).max(CROSS_REACH + 1.0);
    let middle = slot.from.midpoint(slot.to) + Vec2::from_angle(turn).turn_90() * off;
    let width = format!("{} wide", notation.measured(slot.width));
    let said = slot.label.as_ref().map_or(width.clone(), |label| format!("{label}, {width}"));
    let said = remarked(said, shown.said_once(laid.half));
    let text = Text::new(middle, 2.5, said).anchored(Anchor::Middle).turned(turn);
    items.push(words_item(Role::Text, text.about(Label::at(slot.from.midpoint(slot.to)))));
    items
}

fn mark_items(laid: &Laid<Mark>, shown: &Shown) -> Vec<Item> {
    let once = shown.said_once(laid.half);
    let labelled = |at: Point, label: &Option<String>| {
        let said = label.clone().map(|label| remarked(label, once)).or_else(|| once.map(str::to_owned));
        said.map(|said| words_item(Role::Text, Text::new(at + Vec2::new(1.5, 1.5), 2.5, said).about(Label::at(at))))
    };
    match &laid.what {
        Mark::Line { points, label } => {
            let mut items = vec![stroke(Role::Mark, Path::polyline(points, false), Pen::solid(MARK_WIDTH))];
            items.extend(points.first().and_then(|first| labelled(*first, label)));
            items
        }
        Mark::Cross { at, label } => {
            let mut items = cross(Role::Mark, *at, CROSS_REACH).to_vec();
            items.extend(labelled(*at, label));
            items
        }
        Mark::Text { at, words: text, height, angle } => {
            let said = remarked(text.clone(), once);
            let text = Text::new(*at, height.mm(), said).turned(angle.radians());
            vec![words_item(Role::Text, text.about(Label::new(About::Place(*at), Rank::Note)))]
        }
    }
}
