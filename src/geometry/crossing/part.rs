//! A part of a piece, with four points around which it cannot reach.

use crate::geometry::Segment;
use crate::tolerance::{COORDINATE_ROUNDING, NO_LEG, PARALLEL, ROUNDING};
use kurbo::{Point, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};

/// A part whose chord is shorter than this share of its control polygon may turn right round.
const TURNS_ROUND: f64 = 0.2;

/// The part of a piece between two parameters.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    pub(super) from: f64,
    pub(super) to: f64,
    /// The part lies in the hull of these points, begins at the first and ends at the last, and runs in no direction
    /// outside those of the legs between them.
    hull: [Point; 4],
}

impl Part {
    /// The parts of a piece between two parameters, few enough that each has a hull.
    pub(super) fn all(piece: &Segment, from: f64, to: f64) -> Vec<Part> {
        let count = match piece {
            // The corner where the tangents of an arc's ends meet runs away towards half a turn.
            Segment::Arc(arc) => (arc.sweep.abs() * (to - from) / FRAC_PI_2).ceil().clamp(1.0, 8.0) as usize,
            Segment::Line(_) | Segment::Cubic(_) => 1,
        };
        let at = |i: usize| if i == count { to } else { from + (to - from) * i as f64 / count as f64 };
        (0..count).map(|i| Part::between(piece, at(i), at(i + 1))).collect()
    }

    fn between(piece: &Segment, from: f64, to: f64) -> Part {
        let hull = match piece.subsegment(from, to) {
            Segment::Line(l) => [l.p0, l.p0.lerp(l.p1, 1.0 / 3.0), l.p0.lerp(l.p1, 2.0 / 3.0), l.p1],
            Segment::Cubic(c) => [c.p0, c.p1, c.p2, c.p3],
            Segment::Arc(arc) => {
                let out = arc.at_angle(arc.start + arc.sweep / 2.0) - arc.center;
                let corner = arc.center + out / (arc.sweep / 2.0).cos();
                [arc.at_angle(arc.start), corner, corner, arc.at_angle(arc.start + arc.sweep)]
            }
        };
        Part { from, to, hull }
    }

    /// The two halves.
    pub(super) fn halves(&self, piece: &Segment) -> [Part; 2] {
        let middle = (self.from + self.to) / 2.0;
        if let Segment::Arc(_) = piece {
            return [Part::between(piece, self.from, middle), Part::between(piece, middle, self.to)];
        }
        // De Casteljau's halving, on the control points at hand.
        let [a, b, c, d] = self.hull;
        let (ab, bc, cd) = (a.midpoint(b), b.midpoint(c), c.midpoint(d));
        let (abc, bcd) = (ab.midpoint(bc), bc.midpoint(cd));
        let split = abc.midpoint(bcd);
        [
            Part { from: self.from, to: middle, hull: [a, ab, abc, split] },
            Part { from: middle, to: self.to, hull: [split, bcd, cd, d] },
        ]
    }

    fn chord(&self) -> Vec2 {
        self.hull[3] - self.hull[0]
    }

    fn legs(&self) -> [Vec2; 3] {
        let [a, b, c, d] = self.hull;
        [b - a, c - b, d - c]
    }

    /// Length of the polygon through the four points, mm.
    pub(super) fn length(&self) -> f64 {
        self.legs().iter().map(|leg| leg.hypot()).sum()
    }

    /// How far the two inner points lie off the chord, mm.
    fn flatness(&self) -> f64 {
        let chord = self.chord();
        let off = |p: Point| (p - self.hull[0]).cross(chord).abs() / chord.hypot();
        let flatness = off(self.hull[1]).max(off(self.hull[2]));
        if flatness.is_finite() { flatness.min(self.length()) } else { self.length() }
    }

    /// The largest angle between the chord and the direction of travel, radians; beyond a turn where there is no telling.
    fn spread(&self) -> f64 {
        let (chord, length) = (self.chord(), self.length());
        if chord.hypot() < TURNS_ROUND * length || length == 0.0 {
            return 3.0 * PI;
        }
        let moving = self.legs().into_iter().filter(|leg| leg.hypot() > NO_LEG * length);
        moving.map(|leg| chord.cross(leg).atan2(chord.dot(leg)).abs()).fold(0.0, f64::max)
    }

    /// Whether the hulls are separated by more than `tolerance` along or across either chord.
    pub(super) fn lies_apart(&self, other: &Part, tolerance: f64) -> bool {
        let separates = |axis: Vec2| {
            let (a, b) = (self.extent(axis, self.hull[0]), other.extent(axis, self.hull[0]));
            a.0 > b.1 + tolerance || b.0 > a.1 + tolerance
        };
        [self.chord(), other.chord()].into_iter().any(|chord| {
            let length = chord.hypot();
            let along = if length > ROUNDING { chord / length } else { Vec2::new(1.0, 0.0) };
            separates(along) || separates(along.turn_90())
        })
    }

    /// The range of the hull along an axis, from an origin.
    fn extent(&self, axis: Vec2, origin: Point) -> (f64, f64) {
        let along = self.hull.iter().map(|p| (*p - origin).dot(axis));
        along.fold((f64::MAX, f64::MIN), |range, v| (range.0.min(v), range.1.max(v)))
    }

    /// Whether no direction of one is one of the other's: they then cross once at most.
    pub(super) fn runs_across(&self, other: &Part) -> bool {
        let (a, b) = (self.chord(), other.chord());
        let angle = a.cross(b).abs().atan2(a.dot(b).abs());
        // Rounding turns a short part by this much.
        let rounding = PARALLEL + COORDINATE_ROUNDING / self.length().min(other.length()).max(ROUNDING);
        angle > self.spread() + other.spread() + rounding
    }

    /// Whether both are straight to within tolerance and much the same in length, or both no longer than it.
    pub(super) fn runs_alongside(&self, other: &Part, tolerance: f64) -> bool {
        let (a, b) = (self.length(), other.length());
        let similar = a <= 4.0 * b.max(tolerance) && b <= 4.0 * a.max(tolerance);
        let straight =
            || self.flatness().max(other.flatness()) <= 0.5 * tolerance && self.spread().max(other.spread()) < 0.1;
        a.max(b) <= tolerance || similar && straight()
    }
}
