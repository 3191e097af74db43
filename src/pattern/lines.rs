//! The line looks and small signs of a pattern.

use crate::geometry::{Path, Point, Vec2};
use crate::page::{Item, Label, Pen, Role, Shape, Text, kept_together};

/// Width of every line that is cut to, mm: wide beside all others, which are half as wide or less (ISO 128: two to one).
pub const CUT_WIDTH: f64 = 0.5;

/// Width of edges and cuts that are told and not cut to on this pattern, mm (ISO 128 series).
pub const EDGE_WIDTH: f64 = 0.25;

/// Width of lines that are only looked at, mm (ISO 128 series).
pub const MARK_WIDTH: f64 = 0.18;

/// Long dash, gap, dot, gap of a centre line, mm: ISO 128 type 04.1 (proportions from memory, rounded to lengths that print
/// clean).
pub const CENTRE_DASH: [f64; 4] = [8.0, 1.5, 0.5, 1.5];

/// Dash and gap round the landing of a neighbour, mm: shorter than a hidden edge's, so that the two are told apart.
pub const LANDING_DASH: [f64; 2] = [1.0, 0.8];

/// From one base line of capitals of 2.5 mm to the next, mm.
pub const LEAD: f64 = 4.2;

/// Most characters of a line of words under a pattern.
const LINE: usize = 78;

/// A stroke of a role.
pub fn stroke(role: Role, path: Path, pen: Pen) -> Item {
    Item::stroke(role, path, pen)
}

/// A straight line of a role.
pub fn line(role: Role, from: Point, to: Point, pen: Pen) -> Item {
    stroke(role, Path::line(from, to), pen)
}

/// Words of a role.
pub fn words(role: Role, text: Text) -> Item {
    Item { role, part: None, clip: None, shape: Shape::Text(text) }
}

/// Lines of words that stay together, and what they are about.
pub fn together(label: Label, mut texts: Vec<Text>) -> Vec<Item> {
    let more = texts.len().saturating_sub(1);
    if let Some(first) = texts.first_mut() {
        first.label = Some(Box::new(label.with_more(more)));
    }
    texts.into_iter().map(|text| words(Role::Text, text)).collect()
}

/// An upright cross whose arms reach `reach` mm from its middle.
pub fn cross(role: Role, at: Point, reach: f64) -> [Item; 2] {
    let pen = || Pen::solid(MARK_WIDTH);
    let (x, y) = (Vec2::new(reach, 0.0), Vec2::new(0.0, reach));
    [line(role, at - x, at + x, pen()), line(role, at - y, at + y, pen())]
}

/// A line with an open arrowhead at its end.
pub fn arrow(role: Role, from: Point, tip: Point) -> Vec<Item> {
    let length = from.distance(tip);
    if length <= 0.0 {
        return Vec::new();
    }
    vec![
        line(role, from, tip, Pen::solid(MARK_WIDTH)),
        stroke(role, barb(tip, (from - tip) / length), Pen::solid(MARK_WIDTH)),
    ]
}

/// An open arrowhead at `tip`, its point away from `back` (a unit vector).
fn barb(tip: Point, back: Vec2) -> Path {
    let side = back.turn_90();
    Path::polyline(&[tip + back * 3.0 + side, tip, tip + back * 3.0 - side], false)
}

/// A line with an open arrowhead at both ends, as the grain is marked.
pub fn double_arrow(role: Role, middle: Point, half: Vec2) -> Vec<Item> {
    let length = half.hypot();
    if length <= 0.0 {
        return Vec::new();
    }
    let along = half / length;
    vec![
        line(role, middle - half, middle + half, Pen::solid(MARK_WIDTH)),
        stroke(role, barb(middle + half, -along), Pen::solid(MARK_WIDTH)),
        stroke(role, barb(middle - half, along), Pen::solid(MARK_WIDTH)),
    ]
}

/// Words in lines of at most [`LINE`] characters, no size broken.
pub fn wrapped(said: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in kept_together(said) {
        match lines.last_mut().filter(|line| line.chars().count() + word.chars().count() < LINE) {
            Some(line) => {
                line.push(' ');
                line.push_str(&word);
            }
            None => lines.push(word),
        }
    }
    lines
}
