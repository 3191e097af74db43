//! Where two pieces meet, and where an outline meets itself.
//!
//! Pairs of parts are split until they lie apart, or until their directions cannot agree (then they cross at most once, and
//! Newton's method finds it), or until they are as good as straight and run alongside each other; such stretches are
//! gathered and looked at along one of the two curves.

mod part;
mod self_crossing;
mod stretch;

use crate::tolerance::{AT_A_STAND, CONTACT_TOLERANCE, NEWTON_SETTLED, NO_STRETCH, ROUNDING, SAME_PARAMETER};
pub use self_crossing::{SelfCrossing, SelfCrossings, self_crossings};

use super::boxes::within_reach;
use super::{FARTHEST, Segment};
use kurbo::{Line, Point, Rect};
use part::Part;
use stretch::Stretch;

/// Pairs of parts looked at before giving up: ordinary pairs of pieces need 3 to 300.
const MOST_PAIRS: usize = 12_000;

/// How two pieces meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ContactKind {
    /// They pass through each other.
    Cross,
    /// They touch without passing. The place is uncertain along the common tangent by some 1e-4 mm.
    Touch,
    /// An end of one lies on the other.
    End,
    /// They run together.
    Overlap,
}

/// A place where two pieces meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// How they meet.
    pub kind: ContactKind,
    /// Parameters of the first piece, rising: equal unless the pieces overlap.
    pub first: (f64, f64),
    /// Parameters of the second piece at the first's two.
    pub second: (f64, f64),
    /// The place; the middle of an overlap.
    pub point: Point,
}

/// All places where two pieces come within `tolerance` mm of each other, along the first piece
/// (see [`CONTACT_TOLERANCE`]).
///
/// `None` where a coordinate is not a number or beyond 10 km, or where the pieces run so nearly together that the tolerance
/// cannot tell them apart with bounded work.
pub fn contacts(a: &Segment, b: &Segment, tolerance: f64) -> Option<Vec<Contact>> {
    if !(a.is_within(FARTHEST) && b.is_within(FARTHEST)) {
        return None;
    }
    let boxes = [a.bounding_box(), b.bounding_box()];
    if !within_reach(&boxes[0], &boxes[1], tolerance) {
        return Some(Vec::new());
    }
    if let (Segment::Line(a), Segment::Line(b)) = (a, b)
        && let Some(met) = lines(a, b, tolerance)
    {
        return Some(met.into_iter().collect());
    }
    Pair { a, b, boxes, tolerance }.contacts()
}

/// Lines that enclose an angle of less than this, in sine, are not simple.
const STEEP: f64 = 0.01;

/// Where two lines cross, or that they do not; `None` where that is not simple: they run nearly alike, or an end of one lies as
/// good as on the other.
fn lines(a: &Line, b: &Line, tolerance: f64) -> Option<Option<Contact>> {
    let (along, other, between) = (a.p1 - a.p0, b.p1 - b.p0, b.p0 - a.p0);
    let turned = along.cross(other);
    let (long, other_long) = (along.hypot(), other.hypot());
    if turned.abs() <= STEEP * long * other_long {
        return None;
    }
    let (t, u) = (between.cross(other) / turned, between.cross(along) / turned);
    // What an end is off from the other line is the way to the crossing times the sine of their angle.
    let clear = |t: f64, across: f64| {
        let off = 2.0 * tolerance / across;
        if t < -off || t > 1.0 + off { Some(false) } else { (t > off && t < 1.0 - off).then_some(true) }
    };
    let (on_a, on_b) = (clear(t, turned.abs() / other_long), clear(u, turned.abs() / long));
    if on_a == Some(false) || on_b == Some(false) {
        return Some(None);
    }
    let crossing = Contact { kind: ContactKind::Cross, first: (t, t), second: (u, u), point: a.p0 + along * t };
    (on_a.is_some() && on_b.is_some()).then_some(Some(crossing))
}

/// As [`contacts`], trying tolerances up to 0.001 mm where the pieces run nearly together: they then show as overlapping.
pub(super) fn contacts_or_overlap(a: &Segment, b: &Segment) -> Option<Vec<Contact>> {
    (0..4).find_map(|k| contacts(a, b, CONTACT_TOLERANCE * 10_f64.powi(k)))
}

/// Two pieces and how near counts as meeting.
struct Pair<'a> {
    a: &'a Segment,
    b: &'a Segment,
    /// Around each.
    boxes: [Rect; 2],
    tolerance: f64,
}

impl Pair<'_> {
    fn contacts(&self) -> Option<Vec<Contact>> {
        let ends = self.end_contacts();
        let mut found = self.overlaps(&ends);
        let overlaps = found.len();
        for stretch in self.gathered(self.stretches(&found)?) {
            let known = ends.iter().any(|e| self.in_stretch(&stretch, *e))
                || found[..overlaps].iter().any(|o| {
                    self.in_stretch(&stretch, (o.first.0, o.second.0))
                        || self.in_stretch(&stretch, (o.first.1, o.second.1))
                });
            if !known {
                found.extend(self.resolve(&stretch));
            }
        }
        let within = |t: f64, range: (f64, f64)| t >= range.0.min(range.1) && t <= range.0.max(range.1);
        for (t, u) in ends {
            let overlapped =
                found.iter().any(|c| c.kind == ContactKind::Overlap && within(t, c.first) && within(u, c.second));
            if !overlapped {
                let point = self.a.eval(t);
                found.push(Contact { kind: ContactKind::End, first: (t, t), second: (u, u), point });
            }
        }
        found.sort_by(|x, y| x.first.0.total_cmp(&y.first.0));
        Some(found)
    }

    /// Parameter pairs at which an end of one piece lies on the other.
    fn end_contacts(&self) -> Vec<(f64, f64)> {
        let mut ends: Vec<(f64, f64)> = Vec::new();
        for t in [0.0, 1.0] {
            ends.extend(self.places_on(self.b, &self.boxes[1], self.a.eval(t)).map(|u| (t, u)));
            ends.extend(self.places_on(self.a, &self.boxes[0], self.b.eval(t)).map(|s| (s, t)));
        }
        ends.sort_by(|x, y| x.0.total_cmp(&y.0));
        ends.dedup_by(|x, y| self.same_place(*x, *y));
        ends
    }

    /// Where `point` lies on a piece: its ends first, which neighbours share, else the nearest place if near enough.
    fn places_on(&self, piece: &Segment, bounds: &Rect, point: Point) -> impl Iterator<Item = f64> + use<> {
        let is_near = bounds.inflate(self.tolerance, self.tolerance).contains(point);
        let at_end = [0.0, 1.0].map(|u| (is_near && piece.eval(u).distance(point) <= self.tolerance).then_some(u));
        let inner = if at_end == [None, None] && is_near { piece.place_within(point, self.tolerance) } else { None };
        at_end.into_iter().chain([inner]).flatten()
    }

    /// Whether two parameter pairs mean one place: near at both and half way between (a closed curve's ends are not one).
    fn same_place(&self, x: (f64, f64), y: (f64, f64)) -> bool {
        let near = |piece: &Segment, s: f64, t: f64| {
            let from = piece.eval(s);
            from.distance(piece.eval(t)) <= 4.0 * self.tolerance
                && from.distance(piece.eval((s + t) / 2.0)) <= 4.0 * self.tolerance
        };
        near(self.a, x.0, y.0) && near(self.b, x.1, y.1)
    }

    /// Stretches between two shared ends along which everything lies within tolerance.
    fn overlaps(&self, ends: &[(f64, f64)]) -> Vec<Contact> {
        let mut found: Vec<Contact> = Vec::new();
        for (i, (t0, u0)) in ends.iter().copied().enumerate() {
            for (t1, u1) in ends.iter().copied().skip(i + 1) {
                let moves = t1 - t0 > NO_STRETCH && (u1 - u0).abs() > NO_STRETCH;
                let taken = found.iter().any(|c| c.first.0 < t1 && c.first.1 > t0);
                if !moves || taken {
                    continue;
                }
                let point = self.a.eval((t0 + t1) / 2.0);
                let long = self.a.eval(t0).distance(point) > 8.0 * self.tolerance;
                let together = (1..8).map(|k| f64::from(k) / 8.0).all(|share| {
                    let on_a = self.a.eval(t0 + share * (t1 - t0));
                    let guess = self.b.approach(on_a, u0 + share * (u1 - u0));
                    self.b.eval(guess).distance(on_a) <= self.tolerance || self.b.nearest(on_a).0 <= self.tolerance
                });
                if long && together {
                    found.push(Contact { kind: ContactKind::Overlap, first: (t0, t1), second: (u0, u1), point });
                }
            }
        }
        found
    }

    /// Places and stretches, outside the overlaps, at which the pieces meet or run alongside; `None` past the work limit.
    fn stretches(&self, overlaps: &[Contact]) -> Option<Vec<Stretch>> {
        let mut pending = self.parts_outside(overlaps);
        let mut found = Vec::new();
        let mut looked_at = 0;
        while let Some((x, y)) = pending.pop() {
            looked_at += 1;
            if looked_at > MOST_PAIRS {
                return None;
            }
            if x.lies_apart(&y, self.tolerance) {
                continue;
            }
            if x.runs_across(&y)
                && let Some(place) = self.crossing_near(&x, &y)
            {
                found.push(place);
            } else if x.runs_alongside(&y, self.tolerance) {
                found.push(Stretch { first: (x.from, x.to), second: (y.from, y.to) });
            } else if x.length() > y.length() {
                pending.extend(x.halves(self.a).map(|half| (half, y)));
            } else {
                pending.extend(y.halves(self.b).map(|half| (x, half)));
            }
        }
        Some(found)
    }

    /// The pairs of parts to look at: everything but what overlaps.
    fn parts_outside(&self, overlaps: &[Contact]) -> Vec<(Part, Part)> {
        let knots = |range: &dyn Fn(&Contact) -> (f64, f64)| {
            let mut knots = vec![0.0, 1.0];
            knots.extend(overlaps.iter().map(range).flat_map(|r| [r.0, r.1]));
            knots.sort_by(f64::total_cmp);
            knots.dedup();
            knots
        };
        let covered = |range: (f64, f64), w: &[f64]| w[0] >= range.0.min(range.1) && w[1] <= range.0.max(range.1);
        let (of_a, of_b) = (knots(&|c| c.first), knots(&|c| c.second));
        let mut pairs = Vec::new();
        for w in of_a.windows(2) {
            for v in of_b.windows(2) {
                if overlaps.iter().any(|c| covered(c.first, w) && covered(c.second, v)) {
                    continue;
                }
                let of_second = Part::all(self.b, v[0], v[1]);
                for x in Part::all(self.a, w[0], w[1]) {
                    pairs.extend(of_second.iter().map(|y| (x, *y)));
                }
            }
        }
        pairs
    }

    /// The one crossing of two parts whose directions differ, by Newton's method on the whole pieces.
    fn crossing_near(&self, x: &Part, y: &Part) -> Option<Stretch> {
        let (mut t, mut u) = ((x.from + x.to) / 2.0, (y.from + y.to) / 2.0);
        for _ in 0..12 {
            let gap = self.b.eval(u) - self.a.eval(t);
            let (along_a, along_b) = (self.a.derivative(t), self.b.derivative(u));
            let det = along_a.cross(along_b);
            let (dt, du) = (gap.cross(along_b) / det, gap.cross(along_a) / det);
            (t, u) = (t + dt, u + du);
            // Also where the directions agree after all and the steps are no numbers.
            if !(t.abs() < 3.0 && u.abs() < 3.0) {
                return None;
            }
            if dt.abs() < NEWTON_SETTLED && du.abs() < NEWTON_SETTLED {
                break;
            }
        }
        let (slack_a, slack_b) = (self.slack(self.a, t, 1.0), self.slack(self.b, u, 1.0));
        let met = self.a.eval(t).distance(self.b.eval(u)) < ROUNDING;
        let inside = t > x.from - slack_a && t < x.to + slack_a && u > y.from - slack_b && u < y.to + slack_b;
        let (t, u) = (t.clamp(0.0, 1.0), u.clamp(0.0, 1.0));
        (met && inside).then_some(Stretch { first: (t, t), second: (u, u) })
    }

    /// The parameter that `times` the tolerance is worth at `t`.
    fn slack(&self, piece: &Segment, t: f64, times: f64) -> f64 {
        SAME_PARAMETER + times * self.tolerance / piece.derivative(t).hypot().max(AT_A_STAND)
    }
}

#[cfg(test)]
mod tests;
