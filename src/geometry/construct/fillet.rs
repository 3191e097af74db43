//! One rounded corner: the circle of a given radius that rolls into the corner and touches both edges.

use crate::geometry::{Arc, Path, PathPlace, Segment};
use crate::tolerance::{JUST, ROUNDING, SMOOTH};
use kurbo::{Point, Vec2};
use std::f64::consts::{PI, TAU};

/// A corner, rounded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fillet {
    pub(super) arc: Segment,
    /// Where the arc leaves the incoming edge.
    pub(super) from: PathPlace,
    /// Where it joins the outgoing edge.
    pub(super) to: PathPlace,
}

/// What becomes of a corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Corner {
    /// The edges run into each other smoothly: nothing to round.
    Smooth,
    Rounded(Fillet),
    /// The circle does not touch both edges between their ends.
    DoesNotFit,
}

/// Rounds the corner between two edges, the first of which ends where the second begins.
pub(super) fn fillet(incoming: &Path, outgoing: &Path, radius: f64) -> Corner {
    let (Some(last), Some(first)) = (incoming.segments().last(), outgoing.segments().first()) else {
        return Corner::DoesNotFit;
    };
    let (arriving, leaving) = (last.tangent(1.0), first.tangent(0.0));
    let turn = arriving.cross(leaving).atan2(arriving.dot(leaving));
    if turn.abs() < SMOOTH {
        return Corner::Smooth;
    }
    if turn.abs() > PI - SMOOTH {
        return Corner::DoesNotFit;
    }
    let back = incoming.reversed();
    let roll = Roll { back: &back, ahead: outgoing, reach: radius * turn.signum() };
    roll.fillet().map_or(Corner::DoesNotFit, Corner::Rounded)
}

/// A circle that rolls along an edge, away from the corner, until it only just touches the other.
struct Roll<'a> {
    /// The incoming edge, run away from the corner.
    back: &'a Path,
    ahead: &'a Path,
    /// The radius, positive where the circle lies to the left of travel round the part.
    reach: f64,
}

impl Roll<'_> {
    fn fillet(&self) -> Option<Fillet> {
        /// Steps along the edge, closer together near the corner, where small circles end up.
        const STEPS: u32 = 64;
        let length = self.back.segments().len() as f64;
        let at = |i: u32| length * (f64::from(i) / f64::from(STEPS)).powi(2);
        let mut low = (0.0, self.clearance(0.0));
        for i in 1..=STEPS {
            let high = (at(i), self.clearance(at(i)));
            if low.1 < 0.0
                && high.1 >= 0.0
                && let Some(found) = self.touching(low.0, high.0)
            {
                return Some(found);
            }
            low = high;
        }
        None
    }

    /// The place along the edge that runs back from the corner, counted in segments.
    fn place(&self, along: f64) -> PathPlace {
        let last = self.back.segments().len() - 1;
        let segment = (along as usize).min(last);
        PathPlace { segment, t: along - segment as f64 }
    }

    /// The circle's centre where it touches a piece on its side (`hand`: 1 for `ahead`, -1 for `back`, which runs the
    /// other way).
    fn center(&self, piece: &Segment, t: f64, hand: f64) -> Point {
        piece.eval(t) + piece.tangent(t).turn_90() * (self.reach * hand)
    }

    /// How far the circle that touches the one edge at a place is clear of the other, mm; negative where it overlaps it.
    fn clearance(&self, along: f64) -> f64 {
        let place = self.place(along);
        let Some(piece) = self.back.segments().get(place.segment) else { return -1.0 };
        let center = self.center(piece, place.t, -1.0);
        // A circle that touches at the very end of an edge is as good as touching: rounding must not lose it.
        self.ahead.nearest(center).map_or(-1.0, |(distance, _)| distance - self.reach.abs() + ROUNDING)
    }

    /// The fillet whose place on the edge lies between two.
    fn touching(&self, mut low: f64, mut high: f64) -> Option<Fillet> {
        // From a span of a segment down to what Newton's method then brings to rounding.
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            if self.clearance(middle) >= 0.0 { high = middle } else { low = middle }
        }
        let near = self.place(high);
        let piece = self.back.segments().get(near.segment)?;
        let (_, touched) = self.ahead.nearest(self.center(piece, near.t, -1.0))?;
        let other = self.ahead.segments().get(touched.segment)?;
        let (t, u) = self.settled(piece, near.t, other, touched.t)?;
        let centers = [self.center(piece, t, -1.0), self.center(other, u, 1.0)];
        let center = centers[0].midpoint(centers[1]);
        let clear = |path: &Path| path.nearest(center).is_some_and(|n| n.0 >= self.reach.abs() - JUST);
        if centers[0].distance(centers[1]) > ROUNDING || !clear(self.back) || !clear(self.ahead) {
            return None;
        }
        let (p, q) = (piece.eval(t) - center, other.eval(u) - center);
        let hand = self.reach.signum();
        let swept = (p.cross(q).atan2(p.dot(q)) * hand).rem_euclid(TAU);
        // More than half a turn and some is a rounding wrapped round.
        if swept > 1.5 * PI {
            return None;
        }
        let arc = Arc { center, p, q: p.turn_90(), start: 0.0, sweep: swept * hand };
        let segment = self.back.segments().len() - 1 - near.segment;
        Some(Fillet {
            arc: Segment::Arc(arc),
            from: PathPlace { segment, t: 1.0 - t },
            to: PathPlace { segment: touched.segment, t: u },
        })
    }

    /// Newton's method on the two parameters at which the circle's centre is the same seen from either piece; kept within
    /// the pieces.
    fn settled(&self, piece: &Segment, t: f64, other: &Segment, u: f64) -> Option<(f64, f64)> {
        // Moving along a piece of curvature k by d moves the centre at distance r to the left by d (1 - r k).
        let slope = |s: &Segment, t: f64, hand: f64| -> Vec2 {
            let curvature = s.curvature(t);
            let bent = if curvature.is_finite() { self.reach * hand * curvature } else { 0.0 };
            s.derivative(t) * (1.0 - bent)
        };
        let (mut t, mut u) = (t, u);
        for _ in 0..8 {
            let miss = self.center(other, u, 1.0) - self.center(piece, t, -1.0);
            let (a, b) = (slope(piece, t, -1.0), slope(other, u, 1.0));
            let det = a.cross(b);
            let (dt, du) = (miss.cross(b) / det, miss.cross(a) / det);
            if !(dt.abs() < 1.0 && du.abs() < 1.0) {
                break;
            }
            (t, u) = ((t + dt).clamp(0.0, 1.0), (u + du).clamp(0.0, 1.0));
        }
        (t.is_finite() && u.is_finite()).then_some((t, u))
    }
}
