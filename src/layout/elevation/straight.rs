//! Lines as straight pieces, to ask whether they cross.

use crate::geometry::{Path, Point, Segment};
use crate::page::{Item, Shape};

/// Steps by which a curve is followed.
const CURVE_STEPS: usize = 24;

/// Straight pieces that follow a line.
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

/// Whether two straight lines cross.
pub fn meet((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}
