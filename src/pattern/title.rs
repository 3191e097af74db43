//! The words that name a part, and its grain arrow, where they stand clear of its lines.

use super::lines::{double_arrow, words};
use crate::geometry::{Affine, Path, Point, Rect, Vec2};
use crate::page::{About, Anchor, Item, Label, Rank, Role, Room, Shape, Text};
use crate::units::Angle;

/// Heights of a capital of the name and of the other words, mm (ISO 3098), largest first; the last is the smallest
/// that can be read in bad light.
const LETTERING: [(f64, f64); 4] = [(7.0, 5.0), (5.0, 3.5), (3.5, 2.5), (2.5, 2.5)];

/// Base line to base line, in capital heights.
const LEADING: f64 = 1.7;

/// Clear room around words, mm.
pub const CLEAR: f64 = 2.0;

/// Lengths of grain arrow to try, mm.
const GRAIN_ARROWS: [f64; 4] = [80.0, 50.0, 30.0, 15.0];

/// Writes the name, the lines of `block` and the grain arrow where they stand clear of every line, else below the part.
///
/// Of the block the name and those lines that `staying` counts, from 0, must stay on the part.
pub fn write(
    items: &mut Vec<Item>,
    ring: &Path,
    name: &str,
    (block, staying): (&[String], &[usize]),
    grain: Option<Angle>,
) {
    let obstacles: Vec<Path> = items.iter().skip(1).map(obstacle).collect();
    let bounds = ring.bounding_box().unwrap_or(Rect::ZERO);
    let upright = if bounds.height() > bounds.width() { std::f64::consts::FRAC_PI_2 } else { 0.0 };
    let mut taken = Vec::new();
    let placed = LETTERING.iter().find_map(|lettering| {
        [upright, std::f64::consts::FRAC_PI_2 - upright].into_iter().find_map(|angle| {
            let mut room = Room::new(ring, &obstacles, angle)?;
            let lines = lines_of(name, block, *lettering);
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
            items.extend(set_lines(&lines, staying, middle, angle));
        }
        None => {
            let lines = lines_of(name, block, LETTERING[2]);
            let (width, height) = size_of(&lines);
            let low = obstacles.iter().filter_map(Path::bounding_box).map(|b| b.y0).fold(bounds.y0, f64::min);
            let middle = Point::new(bounds.x0 + width / 2.0, low - height / 2.0 - 2.0 * CLEAR);
            items.extend(set_lines(&lines, staying, middle, 0.0));
        }
    }
    if let Some(grain) = grain {
        let obstacles: Vec<Path> = obstacles.into_iter().chain(taken).collect();
        items.extend(grain_arrow(ring, &obstacles, grain.radians(), bounds.center()));
    }
}

fn grain_arrow(ring: &Path, obstacles: &[Path], angle: f64, wish: Point) -> Vec<Item> {
    let Some(mut room) = Room::new(ring, obstacles, angle) else { return Vec::new() };
    // The arrow with its word above it.
    let high = 2.5 * LEADING + 2.0 + CLEAR;
    let Some((length, middle)) = GRAIN_ARROWS.iter().find_map(|l| Some((*l, room.place(l + CLEAR, high, wish)?)))
    else {
        return Vec::new();
    };
    let along = Vec2::from_angle(angle);
    let mut items = double_arrow(Role::Text, middle - along.turn_90() * 1.5, along * (length / 2.0));
    let at = middle + along.turn_90() * 0.5;
    let said = Text::new(at, 2.5, "grain").anchored(Anchor::Middle).turned(angle);
    items.push(words(Role::Text, said.about(Label::way(items.len()))));
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

fn set_lines(lines: &[(f64, String)], staying: &[usize], middle: Point, angle: f64) -> Vec<Item> {
    let (_, total) = size_of(lines);
    let up = Vec2::from_angle(angle).turn_90();
    let mut below = total / 2.0;
    let mut items = Vec::new();
    let staying = [0].into_iter().chain(staying.iter().map(|line| line + 1)).collect();
    let more = lines.len().saturating_sub(1);
    let mut label = Some(Box::new(Label { staying, more, ..Label::new(About::Part, Rank::Plate) }));
    for (height, line) in lines {
        // Descenders hang into the lead below the line.
        below -= height * (LEADING + 1.0) / 2.0;
        let at = middle + up * below;
        let text = Text::new(at, *height, line.as_str()).anchored(Anchor::Middle).turned(angle);
        items.push(words(Role::Text, Text { label: label.take(), ..text }));
        below -= height * (LEADING - 1.0) / 2.0;
    }
    items
}

/// What words must keep clear of.
pub fn obstacle(item: &Item) -> Path {
    match &item.shape {
        Shape::Stroke { path, .. } => path.clone(),
        Shape::Fill { rings, .. } => rings.first().cloned().unwrap_or_else(|| Path::open(Vec::new())),
        Shape::Text(text) => Path::rectangle(text.bounding_box()),
    }
}
