//! Every piece of the source set off by itself, and the joins at its corners: all places that the result can run through.

use super::Join;
use crate::geometry::{Arc, Segment};
use crate::tolerance::{GOES_ON, INSIDE_ENDS, NO_LEAN, SAME_PARAMETER, SAME_PLACE};
use kurbo::{BezPath, CubicBez, Point, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};

/// Looks for the place where a cubic bends as sharply as the distance, this many a piece.
const LOOKS: usize = 16;

/// One piece of the unfinished offset.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    pub(super) segment: Segment,
    /// Whether it begins where the one before it ends, in the same direction.
    pub(super) follows: bool,
    /// Whether it is a side of a mitred corner, which may lie farther from the source than the distance.
    pub(super) spike: bool,
}

/// The unfinished offset.
#[derive(Debug, Default)]
pub(super) struct Raw {
    pub(super) pieces: Vec<Piece>,
    /// What the mitred corners add: nothing of the result lies inside.
    pub(super) kites: Vec<[Point; 4]>,
}

/// The offset to the right of every ring by `distance` mm (to the left where negative), not yet cut where it meets itself.
pub(super) fn raw(rings: &[Vec<Segment>], distance: f64, join: Join, fit: f64) -> Raw {
    let mut raw = Raw::default();
    for ring in rings {
        let mut before = ring.last();
        for segment in ring {
            if let Some(before) = before {
                raw.corner(before, segment, distance, join);
            }
            before = Some(segment);
            match segment {
                Segment::Line(line) => {
                    let out = right(line.p1 - line.p0) * distance;
                    raw.push(Segment::line(line.p0 + out, line.p1 + out));
                }
                Segment::Arc(arc) => {
                    // To the right of an anticlockwise arc is outside it. A hollow tighter than the distance leaves nothing.
                    let radius = arc.p.hypot() + distance * arc.sweep.signum();
                    if radius > SAME_PLACE {
                        raw.push(Segment::Arc(Arc::circular(arc.center, radius, arc.start, arc.sweep)));
                    }
                }
                Segment::Cubic(cubic) => raw.cubic(cubic, distance, fit),
            }
        }
    }
    raw
}

impl Raw {
    fn push(&mut self, segment: Segment) {
        let follows = self.pieces.last().is_some_and(|before| continues(&before.segment, &segment));
        self.pieces.push(Piece { segment, follows, spike: false });
    }

    /// The join where the offset opens at a corner; nothing where it closes or goes straight on.
    fn corner(&mut self, before: &Segment, after: &Segment, distance: f64, join: Join) {
        let (arriving, leaving) = (before.tangent(1.0), after.tangent(0.0));
        let turn = arriving.cross(leaving).atan2(arriving.dot(leaving));
        let opens = turn * distance > 0.0 || PI - turn.abs() < NO_LEAN;
        if !opens || turn.abs() * distance.abs() < SAME_PLACE {
            return;
        }
        let corner = after.start();
        let (from, to) = (corner + right(arriving) * distance, corner + right(leaving) * distance);
        let reach = 1.0 / (turn / 2.0).cos().abs();
        match join {
            Join::Mitre { most } if reach <= most && turn.abs() < PI - 0.01 => {
                let tip = from + arriving * (distance.abs() * (turn / 2.0).tan().abs());
                self.push(Segment::line(from, tip));
                self.push(Segment::line(tip, to));
                for piece in self.pieces.iter_mut().rev().take(2) {
                    piece.spike = true;
                }
                self.kites.push([corner, from, tip, to]);
            }
            Join::Mitre { .. } | Join::Round => {
                let start = (from - corner).atan2();
                // In halves, so that no part turns by half a turn.
                let parts = if turn.abs() > FRAC_PI_2 { 2 } else { 1 };
                let step = turn / f64::from(parts);
                for k in 0..parts {
                    let from = start + step * f64::from(k);
                    self.push(Segment::Arc(Arc::circular(corner, distance.abs(), from, step)));
                }
            }
        }
    }

    /// A cubic's offset, fitted, without the stretches on which the curve bends more sharply than the distance: those lie
    /// nearer to the curve than they should.
    fn cubic(&mut self, cubic: &CubicBez, distance: f64, fit: f64) {
        let whole = Segment::Cubic(*cubic);
        for (from, to) in open_stretches(&whole, distance) {
            let part = whole.subsegment(from, to);
            let Segment::Cubic(part) = part else { continue };
            let mut fitted = BezPath::new();
            kurbo::offset::offset_cubic(part, -distance, fit, &mut fitted);
            for piece in fitted.segments() {
                self.push(Segment::Cubic(piece.to_cubic()));
            }
        }
    }
}

/// The direction square to `along` on its right, of unit length.
pub(super) fn right(along: Vec2) -> Vec2 {
    -along.turn_90() / along.hypot()
}

/// Whether `after` begins where `before` ends and goes on in the same direction.
fn continues(before: &Segment, after: &Segment) -> bool {
    before.end().distance(after.start()) < SAME_PLACE && before.tangent(1.0).dot(after.tangent(0.0)) > GOES_ON
}

/// Parameter ranges on which the offset runs the same way as the piece: where 1 + curvature times distance is positive.
fn open_stretches(piece: &Segment, distance: f64) -> Vec<(f64, f64)> {
    let way = |t: f64| {
        let speed = piece.derivative(t);
        speed.hypot().powi(3) + distance * speed.cross(piece.second_derivative(t)) >= 0.0
    };
    let mut knots = vec![0.0];
    for k in 0..LOOKS {
        let (low, high) = (k as f64 / LOOKS as f64, (k + 1) as f64 / LOOKS as f64);
        let (mut low, mut high) = (low.max(INSIDE_ENDS), high.min(1.0 - INSIDE_ENDS));
        let opens = way(low);
        if opens == way(high) {
            continue;
        }
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            if way(middle) == opens { low = middle } else { high = middle }
        }
        knots.push(low);
    }
    knots.push(1.0);
    let ranges = knots.windows(2).map(|w| (w[0], w[1]));
    ranges.filter(|(from, to)| to - from > SAME_PARAMETER && way((from + to) / 2.0)).collect()
}
