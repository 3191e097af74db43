//! Lines that words keep clear of, sorted into the squares of the page.

use crate::geometry::{Path, Point, Rect, Segment};
use crate::page::{Item, Shape};
use std::collections::BTreeMap;

/// Steps by which a curve is followed to keep words off it.
const CURVE_STEPS: usize = 24;

/// Side of the squares into which the lines of a page are sorted, mm: about a word's size.
const SQUARE: f64 = 12.0;

/// Straight pieces of every line by the squares of the page that they touch.
#[derive(Debug, Clone, Default)]
pub struct Ink {
    squares: BTreeMap<(i32, i32), Vec<(Point, Point)>>,
}

impl Ink {
    /// Takes up a line.
    pub fn add(&mut self, (a, b): (Point, Point)) {
        let parts = (a.distance(b) / SQUARE).ceil().max(1.0);
        for k in 0..parts as usize {
            let piece = (a.lerp(b, k as f64 / parts), a.lerp(b, (k + 1) as f64 / parts));
            for square in squares(Rect::from_points(piece.0, piece.1)) {
                self.squares.entry(square).or_default().push(piece);
            }
        }
    }

    /// Whether a line passes through a rectangle.
    pub fn crosses(&self, r: Rect) -> bool {
        squares(r).filter_map(|s| self.squares.get(&s)).flatten().any(|line| crosses(*line, r))
    }
}

/// The squares that a rectangle touches.
fn squares(r: Rect) -> impl Iterator<Item = (i32, i32)> {
    let of = |v: f64| (v / SQUARE).floor() as i32;
    let (x, y) = (of(r.x0)..=of(r.x1), of(r.y0)..=of(r.y1));
    x.flat_map(move |x| y.clone().map(move |y| (x, y)))
}

/// Straight pieces that follow a line closely enough to keep words off it.
pub fn straight(line: &Segment) -> Vec<(Point, Point)> {
    let steps = if matches!(line, Segment::Line(_)) { 1 } else { CURVE_STEPS };
    let at = |i: usize| line.eval(i as f64 / steps as f64);
    (0..steps).map(|i| (at(i), at(i + 1))).collect()
}

/// The straight pieces of an item's lines.
pub fn lines_of(item: &Item) -> Vec<(Point, Point)> {
    match &item.shape {
        Shape::Stroke { path, .. } => path.segments().iter().flat_map(straight).collect(),
        Shape::Fill { rings, .. } => rings.iter().flat_map(Path::segments).flat_map(straight).collect(),
        Shape::Text(_) => Vec::new(),
    }
}

/// Around an item's words.
pub fn words_of(item: &Item) -> Option<Rect> {
    match &item.shape {
        Shape::Text(text) => Some(text.bounding_box()),
        _ => None,
    }
}

/// Whether a straight line passes through a rectangle (Liang and Barsky's clipping, from memory).
pub fn crosses((a, b): (Point, Point), r: Rect) -> bool {
    if a.x.max(b.x) < r.x0 || a.x.min(b.x) > r.x1 || a.y.max(b.y) < r.y0 || a.y.min(b.y) > r.y1 {
        return false;
    }
    let d = b - a;
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-d.x, a.x - r.x0), (d.x, r.x1 - a.x), (-d.y, a.y - r.y0), (d.y, r.y1 - a.y)] {
        if p == 0.0 {
            if q < 0.0 {
                return false;
            }
        } else if p < 0.0 {
            low = low.max(q / p);
        } else {
            high = high.min(q / p);
        }
    }
    low <= high
}

/// Whether two straight lines cross.
pub fn meet((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::crosses;
    use crate::geometry::{Point, Rect};

    #[test]
    fn a_line_is_told_to_pass_through_a_rectangle_or_past_it() {
        let r = Rect::new(0.0, 0.0, 10.0, 5.0);
        let line = |a: (f64, f64), b: (f64, f64)| crosses((Point::from(a), Point::from(b)), r);
        assert!(line((-5.0, 2.0), (15.0, 3.0)));
        assert!(line((2.0, 2.0), (3.0, 3.0)), "inside");
        assert!(!line((-5.0, 6.0), (15.0, 7.0)));
        assert!(!line((-3.0, 2.0), (2.0, 9.0)), "past the corner");
    }
}
