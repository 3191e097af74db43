//! A part that the file draws directly.

use super::label::Room;
use super::lines::{CUT_WIDTH, MARK_WIDTH, cross, double_arrow, stroke, words as words_item};
use super::{Pattern, half, revision};
use crate::geometry::{Affine, Arc, Path, PathIndex, Point, Rect, Segment, Vec2};
use crate::page::{Anchor, Item, Part, Pen, Role, Shape, Text};
use crate::project::{DrawnPattern, Hole, Mark, Slot};
use crate::units::{Length, Notation};

/// How far a hole's centre cross runs past its edge, mm.
const CROSS_PAST_EDGE: f64 = 3.0;

/// Reach of a marked cross, mm.
const CROSS_REACH: f64 = 5.0;

/// Heights of a capital of the name and of the other words, mm (ISO 3098), largest first; the last is the smallest
/// that can be read in bad light.
const LETTERING: [(f64, f64); 4] = [(7.0, 5.0), (5.0, 3.5), (3.5, 2.5), (2.5, 2.5)];

/// Base line to base line, in capital heights.
const LEADING: f64 = 1.7;

/// Clear room around words, mm.
const CLEAR: f64 = 2.0;

/// Lengths of grain arrow to try, mm.
const GRAIN_ARROWS: [f64; 4] = [80.0, 50.0, 30.0, 15.0];

/// Draws a part of the file at full size.
pub fn draw(drawn: &DrawnPattern, title: &str, notation: &Notation) -> Pattern {
    let (ring, mut items) = half::edge(drawn);
    drawn.holes.iter().for_each(|hole| items.extend(hole_items(hole)));
    drawn.slots.iter().for_each(|slot| items.extend(slot_items(slot)));
    drawn.marks.iter().for_each(|mark| items.extend(mark_items(mark)));
    let sizes_of_holes: Vec<Item> = drawn.holes.iter().map(|hole| hole_words(hole, &items, notation)).collect();
    items.extend(sizes_of_holes);
    let part = Part { name: drawn.name.clone(), revision: revision::code(&items, drawn.thickness.mm()) };
    let bounds = ring.bounding_box().unwrap_or(Rect::ZERO);
    let sizes = format!(
        "{} x {}",
        notation.bare_length(Length::from_mm(bounds.width())),
        notation.length(Length::from_mm(bounds.height()))
    );
    let make = format!("make {}", drawn.make);
    let mut about = vec![make.clone(), format!("{} thick", notation.length(drawn.thickness))];
    about.extend(drawn.material.clone());
    let mut block = vec![about.join(" · "), sizes.clone(), format!("{title} · rev {}", part.revision)];
    block.extend(half::words(drawn).map(str::to_owned));
    label(&mut items, &ring, drawn, &block);
    let bounds = items.iter().map(item_bounds).fold(bounds, |all, one| all.union(one)).inflate(CLEAR, CLEAR);
    Pattern { part, make, sizes, items, bounds }
}

fn hole_items(hole: &Hole) -> Vec<Item> {
    let radius = hole.diameter.mm() / 2.0;
    let mut items = vec![stroke(Role::Drill, Path::circle(hole.at, radius), Pen::solid(CUT_WIDTH))];
    items.extend(cross(Role::Drill, hole.at, radius + CROSS_PAST_EDGE));
    items
}

/// A hole's size beside it, on the first side that is clear of the lines drawn so far.
fn hole_words(hole: &Hole, drawn: &[Item], notation: &Notation) -> Item {
    let size = format!("⌀ {}", notation.length(hole.diameter));
    let words = hole.label.as_ref().map_or(size.clone(), |label| format!("{label} {size}"));
    let off = hole.diameter.mm() / 2.0 * std::f64::consts::FRAC_1_SQRT_2 + 1.0;
    let places = [
        (Vec2::new(off, off), Anchor::Start),
        (Vec2::new(off, -off - 2.5), Anchor::Start),
        (Vec2::new(-off, off), Anchor::End),
        (Vec2::new(-off, -off - 2.5), Anchor::End),
        (Vec2::new(0.0, off + CROSS_PAST_EDGE + 1.0), Anchor::Middle),
        (Vec2::new(0.0, -off - CROSS_PAST_EDGE - 3.5), Anchor::Middle),
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
    words_item(Role::Text, text.clone())
}

/// A round-ended slot as a ring, and its centre line.
fn slot_items(slot: &Slot) -> Vec<Item> {
    let along = slot.to - slot.from;
    let (radius, length) = (slot.width.mm() / 2.0, along.hypot());
    let along = if length > 0.0 { along / length } else { Vec2::new(1.0, 0.0) };
    let side = along.turn_90() * radius;
    let turn = along.atan2();
    let half = |center: Point, start: f64| Segment::Arc(Arc::circular(center, radius, start, std::f64::consts::PI));
    let quarter = std::f64::consts::FRAC_PI_2;
    let mut ring = vec![Segment::line(slot.from - side, slot.to - side)];
    ring.push(half(slot.to, turn - quarter));
    ring.push(Segment::line(slot.to + side, slot.from + side));
    ring.push(half(slot.from, turn + quarter));
    let mut items = vec![stroke(Role::Opening, Path::closed(ring), Pen::solid(CUT_WIDTH))];
    items.extend(cross(Role::Mark, slot.from, CROSS_REACH));
    items.extend(cross(Role::Mark, slot.to, CROSS_REACH));
    let middle = slot.from.midpoint(slot.to) + side.normalize() * (radius + 1.5);
    items.extend(slot.label.as_ref().map(|label| {
        words_item(Role::Text, Text::new(middle, 2.5, label.clone()).anchored(Anchor::Middle).turned(turn))
    }));
    items
}

fn mark_items(mark: &Mark) -> Vec<Item> {
    let labelled = |at: Point, label: &Option<String>| {
        label.as_ref().map(|label| words_item(Role::Text, Text::new(at + Vec2::new(1.5, 1.5), 2.5, label.clone())))
    };
    match mark {
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
            vec![words_item(Role::Text, Text::new(*at, height.mm(), text.clone()).turned(angle.radians()))]
        }
    }
}

/// Writes the name, the lines of `block` and the grain arrow where they stand clear of every line, else below the part.
fn label(items: &mut Vec<Item>, ring: &Path, drawn: &DrawnPattern, block: &[String]) {
    let obstacles: Vec<Path> = items.iter().skip(1).map(obstacle).collect();
    let bounds = ring.bounding_box().unwrap_or(Rect::ZERO);
    let upright = if bounds.height() > bounds.width() { std::f64::consts::FRAC_PI_2 } else { 0.0 };
    let mut taken = Vec::new();
    let placed = LETTERING.iter().find_map(|lettering| {
        [upright, std::f64::consts::FRAC_PI_2 - upright].into_iter().find_map(|angle| {
            let room = Room::new(ring, &obstacles, angle)?;
            let lines = lines_of(&drawn.name, block, *lettering);
            let (width, height) = size_of(&lines);
            let middle = room.place(width + 2.0 * CLEAR, height + 2.0 * CLEAR, bounds.center())?;
            Some((lines, middle, angle, width, height))
        })
    });
    match placed {
        Some((lines, middle, angle, width, height)) => {
            taken.push(
                Path::rectangle(Rect::from_center_size(Point::ORIGIN, (width, height)))
                    .transformed(Affine::translate(middle.to_vec2()) * Affine::rotate(angle)),
            );
            items.extend(set_lines(&lines, middle, angle));
        }
        None => {
            let lines = lines_of(&drawn.name, block, LETTERING[2]);
            let (width, height) = size_of(&lines);
            let middle = Point::new(bounds.x0 + width / 2.0, bounds.y0 - height / 2.0 - 2.0 * CLEAR);
            items.extend(set_lines(&lines, middle, 0.0));
        }
    }
    if let Some(grain) = drawn.grain {
        let obstacles: Vec<Path> = obstacles.into_iter().chain(taken).collect();
        items.extend(grain_arrow(ring, &obstacles, grain.radians(), bounds.center()));
    }
}

fn grain_arrow(ring: &Path, obstacles: &[Path], angle: f64, wish: Point) -> Vec<Item> {
    let Some(room) = Room::new(ring, obstacles, angle) else { return Vec::new() };
    // The arrow with its word above it.
    let high = 2.5 * LEADING + 2.0 + CLEAR;
    let Some((length, middle)) = GRAIN_ARROWS.iter().find_map(|l| Some((*l, room.place(l + CLEAR, high, wish)?)))
    else {
        return Vec::new();
    };
    let along = Vec2::from_angle(angle);
    let mut items = double_arrow(Role::Mark, middle - along.turn_90() * 1.5, along * (length / 2.0));
    let at = middle + along.turn_90() * 0.5;
    items.push(words_item(Role::Text, Text::new(at, 2.5, "grain").anchored(Anchor::Middle).turned(angle)));
    items
}

/// The words of a label with their heights, first line first.
fn lines_of(name: &str, block: &[String], (large, small): (f64, f64)) -> Vec<(f64, String)> {
    std::iter::once((large, name.to_owned())).chain(block.iter().map(|line| (small, line.clone()))).collect()
}

fn size_of(lines: &[(f64, String)]) -> (f64, f64) {
    let width = lines.iter().map(|(height, line)| Text::new(Point::ORIGIN, *height, line.as_str()).width());
    (width.fold(0.0, f64::max), lines.iter().map(|(height, _)| height * LEADING).sum())
}

fn set_lines(lines: &[(f64, String)], middle: Point, angle: f64) -> Vec<Item> {
    let (_, total) = size_of(lines);
    let up = Vec2::from_angle(angle).turn_90();
    let mut below = total / 2.0;
    let mut items = Vec::new();
    for (height, line) in lines {
        // Descenders hang into the lead below the line.
        below -= height * (LEADING + 1.0) / 2.0;
        let at = middle + up * below;
        items.push(words_item(
            Role::Text,
            Text::new(at, *height, line.as_str()).anchored(Anchor::Middle).turned(angle),
        ));
        below -= height * (LEADING - 1.0) / 2.0;
    }
    items
}

/// What words must keep clear of.
fn obstacle(item: &Item) -> Path {
    match &item.shape {
        Shape::Stroke { path, .. } => path.clone(),
        Shape::Fill { rings, .. } => rings.first().cloned().unwrap_or_else(|| Path::open(Vec::new())),
        Shape::Text(text) => Path::rectangle(text.bounding_box()),
    }
}

fn item_bounds(item: &Item) -> Rect {
    match &item.shape {
        Shape::Text(text) => text.bounding_box(),
        _ => obstacle(item).bounding_box().unwrap_or(Rect::ZERO),
    }
}
