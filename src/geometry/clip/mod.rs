//! Cutting paths along straight lines: to the rectangle of a page, and filled regions to one side of a line.
//! Pieces stay what they are: an arc's part is an arc, a cubic's a cubic.

mod chords;
mod crowd;
mod half_plane;
mod rect;

pub use crowd::{Crowd, levelling};
pub use half_plane::clip_half_plane;
pub use rect::{PathIndex, clip_to_rect};

use super::Segment;
use super::measure::root_between;
use kurbo::{Point, Vec2};

/// The side of a line towards which its normal points, the line itself included.
#[derive(Debug, Clone, Copy)]
struct Side {
    point: Point,
    /// Of unit length.
    normal: Vec2,
}

impl Side {
    /// Distance from the line, mm: positive on this side.
    fn distance(&self, p: Point) -> f64 {
        (p - self.point).dot(self.normal)
    }

    /// Whether a point lies on this side or on the line.
    fn holds(&self, p: Point) -> bool {
        self.distance(p) >= 0.0
    }

    /// The foot of the square from a point to the line.
    fn snapped(&self, p: Point) -> Point {
        p - self.normal * self.distance(p)
    }

    /// Parameters, rising, at which the piece changes sides. Which side its two ends belong to is the caller's to say, so
    /// that two pieces agree about the point that they share.
    fn changes(&self, segment: &Segment, start_held: bool, end_held: bool) -> Vec<f64> {
        let turns = segment.turns_along(self.normal);
        if turns.is_empty() && start_held == end_held {
            return Vec::new();
        }
        let inner = turns.iter().map(|t| (*t, self.holds(segment.eval(*t))));
        let knots: Vec<(f64, bool)> =
            std::iter::once((0.0, start_held)).chain(inner).chain([(1.0, end_held)]).collect();
        let passing = knots.windows(2).filter(|w| w[0].1 != w[1].1);
        passing.map(|w| self.root(segment, w[0].0, w[1].0, w[1].1)).collect()
    }

    /// The one parameter between `low` and `high` at which the piece lies on the line.
    fn root(&self, segment: &Segment, low: f64, high: f64, rising: bool) -> f64 {
        if let Segment::Line(line) = segment {
            let (from, to) = (self.distance(line.p0), self.distance(line.p1));
            return (from / (from - to)).clamp(0.0, 1.0);
        }
        let height = |t: f64| self.distance(segment.eval(t));
        root_between(&height, &|t| segment.derivative(t).dot(self.normal), low, high, rising)
    }
}
