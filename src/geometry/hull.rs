//! The smallest ring without hollows around points.

use super::Point;
use crate::tolerance::STRAIGHT_CORNER;

/// The corners of the smallest ring without hollows around points, anticlockwise; fewer than three where the points lie on one line.
pub fn convex_hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut ring = chain(points.iter().copied());
    ring.extend(chain(points.iter().rev().copied()));
    ring
}

/// One side of the ring around points that run one way, without its last point.
fn chain(points: impl Iterator<Item = Point>) -> Vec<Point> {
    let mut ring: Vec<Point> = Vec::new();
    for p in points {
        while let [.., a, b] = ring.as_slice() {
            if (*b - *a).cross(p - *b) > STRAIGHT_CORNER {
                break;
            }
            ring.pop();
        }
        ring.push(p);
    }
    ring.pop();
    ring
}
