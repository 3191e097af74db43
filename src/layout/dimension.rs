//! Dimension lines after ISO 129-1: extension lines, a thin line with arrowheads, the value above it.

use super::words::item;
use crate::geometry::{Path, Point, Vec2};
use crate::page::{Anchor, Item, Pen, Role, Shape, Text, readable};
use std::f64::consts::FRAC_PI_2;

/// Length of an arrowhead, mm (proportions from memory: about 3 by 1).
pub(super) const ARROW: f64 = 3.0;

/// Gap between what is measured and its extension line, and how far that runs past the dimension line, mm (about eight
/// widths of a 0.18 mm line, from memory).
const EXTENSION: f64 = 1.5;

/// Height of the value, mm (ISO 3098).
pub(super) const LETTERING: f64 = 3.5;

/// A length shown between two points.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// First point measured from, in the pattern.
    pub from: Point,
    /// Second point.
    pub to: Point,
    /// Direction along which the length is taken, radians from x.
    pub along: f64,
    /// How far left of that direction the dimension line stands off the outermost of the points, mm on the page.
    pub off: f64,
    /// The value as written, perhaps with a name.
    pub words: String,
}

/// Draws a dimension whose points are already on the page.
pub fn draw(dimension: &Dimension) -> Vec<Item> {
    draw_aside(dimension, 0.0)
}

/// Draws a dimension whose points are already on the page; words that find no room over its line stand `aside` mm farther
/// from it than they must, the line carried on to them.
pub fn draw_aside(dimension: &Dimension, aside: f64) -> Vec<Item> {
    let along = Vec2::from_angle(dimension.along);
    let left = along.turn_90();
    let height = |p: Point| p.to_vec2().dot(left);
    let (h0, h1) = (height(dimension.from), height(dimension.to));
    let outer = if dimension.off >= 0.0 { h0.max(h1) } else { h0.min(h1) };
    let level = outer + dimension.off;
    let on_line = |p: Point| p + left * (level - height(p));
    let (a, b) = (on_line(dimension.from), on_line(dimension.to));
    let mut items = Vec::new();
    for (point, end) in [(dimension.from, a), (dimension.to, b)] {
        if (end - point).hypot() > 2.0 * EXTENSION {
            let out = (end - point).normalize() * EXTENSION;
            items.push(thin(Path::line(point + out, end + out)));
        }
    }
    let text = Text::new(Point::ORIGIN, LETTERING, dimension.words.as_str());
    let room = a.distance(b);
    let outwards = if (b - a).dot(along) < 0.0 { -along } else { along };
    // Where there is no room between the arrows they point inwards from outside.
    let tight = room < 2.5 * ARROW;
    let reach = if tight { 2.0 * ARROW } else { 0.0 };
    let fits = text.width() + 2.0 <= room;
    let carried = if fits { reach } else { reach + aside };
    items.push(thin(Path::line(a - outwards * reach, b + outwards * carried)));
    let inwards = if tight { -1.0 } else { 1.0 };
    items.push(arrow(a, outwards * inwards));
    items.push(arrow(b, -outwards * inwards));
    let angle = readable(dimension.along);
    let up = Vec2::from_angle(angle).turn_90();
    let text = if fits {
        // Words that reach over the arrowheads stand clear of them.
        let lift = if text.width() + 2.0 * ARROW + 1.0 > room { 1.4 } else { 1.0 };
        Text { at: a.midpoint(b) + up * lift, ..text }.anchored(Anchor::Middle).turned(angle)
    } else if angle > FRAC_PI_2 / 2.0 {
        // No room along an upright line: level words beside it, on the side away from what is measured.
        let (side, anchor) = if dimension.off > 0.0 { (-2.0, Anchor::End) } else { (2.0, Anchor::Start) };
        // Within a part, arrows that point inwards leave room only past the upper one.
        let level =
            if dimension.off == 0.0 && tight || aside > 0.0 { a.y.max(b.y) + carried } else { a.midpoint(b).y };
        Text { at: Point::new(a.x + side, level - LETTERING / 2.0), ..text }.anchored(anchor)
    } else {
        // Past the line's end, along it.
        let at = b + outwards * (carried + text.width() / 2.0 + 2.0) - up * (LETTERING / 2.0);
        Text { at, ..text }.anchored(Anchor::Middle).turned(angle)
    };
    items.push(item(Role::Text, text));
    items
}

/// A filled arrowhead at `tip`, its body towards `back`.
pub(super) fn arrow(tip: Point, back: Vec2) -> Item {
    let side = back.turn_90() * (ARROW / 6.0);
    let ring = Path::polyline(&[tip, tip + back * ARROW + side, tip + back * ARROW - side], true);
    Item { role: Role::Mark, part: None, clip: None, shape: Shape::Fill { rings: vec![ring], grey: 0.0 } }
}

pub(super) fn thin(path: Path) -> Item {
    Item { role: Role::Mark, part: None, clip: None, shape: Shape::Stroke { path, pen: Pen::solid(0.18) } }
}

#[cfg(test)]
mod tests {
    use super::{Dimension, draw};
    use crate::geometry::Point;
    use crate::page::Shape;

    #[test]
    fn the_arrows_stand_as_far_apart_as_the_length() {
        let (from, to) = (Point::new(10.0, 20.0), Point::new(90.0, 35.0));
        let drawn = draw(&Dimension { from, to, along: 0.0, off: -12.0, words: "80 mm".into() });
        let tips: Vec<Point> = drawn
            .iter()
            .filter_map(|item| match &item.shape {
                Shape::Fill { rings, .. } => rings[0].start(),
                _ => None,
            })
            .collect();
        assert_eq!(tips, [Point::new(10.0, 8.0), Point::new(90.0, 8.0)]);
    }
}
