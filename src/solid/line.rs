//! Stretches of straight lines.

use crate::geometry::{Path, Plane, Point, Point3, Segment, Vec2, Vec3};
use crate::tolerance::{FLUSH, LIES_IN_PLANE, PARALLEL_PLANES, SQUARE_TO_PLANE};

/// Farther than this along a line, in mm for a direction of unit length, no wood reaches.
pub(super) const FAR: f64 = 1e6;

/// Stretches of a line, rising and apart, by the line's parameter.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Spans(Vec<(f64, f64)>);

impl Spans {
    /// One stretch; none where it has no length.
    pub(super) fn one(from: f64, to: f64) -> Spans {
        Spans(if to > from { vec![(from, to)] } else { Vec::new() })
    }

    pub(super) fn all() -> Spans {
        Spans::one(-FAR, FAR)
    }

    /// Stretches that rise and lie apart.
    pub(super) fn rising(stretches: Vec<(f64, f64)>) -> Spans {
        Spans(stretches)
    }

    /// The stretches.
    pub fn stretches(&self) -> &[(f64, f64)] {
        &self.0
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// How much of the parameter they cover.
    pub fn length(&self) -> f64 {
        self.0.iter().map(|(from, to)| to - from).sum()
    }

    /// What lies in either.
    pub fn plus(&self, other: &Spans) -> Spans {
        self.folded(other, |own, other| own || other)
    }

    /// What lies in this and not in the other.
    pub fn less(&self, other: &Spans) -> Spans {
        if other.is_empty() { self.clone() } else { self.folded(other, |own, other| own && !other) }
    }

    /// What lies in both.
    pub fn both(&self, other: &Spans) -> Spans {
        self.folded(other, |own, other| own && other)
    }

    fn folded(&self, other: &Spans, keep: impl Fn(bool, bool) -> bool) -> Spans {
        let mut at: Vec<f64> = self.0.iter().chain(&other.0).flat_map(|s| [s.0, s.1]).collect();
        at.sort_by(f64::total_cmp);
        at.dedup();
        let within = |spans: &Spans, t: f64| spans.0.iter().any(|s| s.0 < t && t < s.1);
        let mut kept: Vec<(f64, f64)> = Vec::new();
        for pair in at.windows(2) {
            let middle = 0.5 * (pair[0] + pair[1]);
            if keep(within(self, middle), within(other, middle)) {
                match kept.last_mut() {
                    Some(last) if last.1 == pair[0] => last.1 = pair[1],
                    _ => kept.push((pair[0], pair[1])),
                }
            }
        }
        Spans(kept)
    }
}

/// The stretch of a line outside a plane.
pub(super) fn outside(plane: &Plane, from: Point3, way: Vec3, hair: Vec3) -> Spans {
    let (out, climb) = (plane.distance(from), plane.normal().dot(way));
    if climb.abs() <= PARALLEL_PLANES * way.length() {
        let rises = plane.normal().dot(hair);
        // A wall that only crosses the plane along this line is not flush with it.
        let flush = if rises.abs() > SQUARE_TO_PLANE * hair.length() { FLUSH } else { LIES_IN_PLANE };
        let is_out = if out.abs() < flush { rises > 0.0 } else { out > 0.0 };
        return if is_out { Spans::all() } else { Spans::default() };
    }
    let at = -out / climb;
    if climb > 0.0 { Spans::one(at, FAR) } else { Spans::one(-FAR, at) }
}

/// The stretch of a line inside all planes.
pub(super) fn inside(planes: &[Plane], from: Point3, way: Vec3, hair: Vec3) -> Spans {
    planes.iter().fold(Spans::all(), |all, plane| all.less(&outside(plane, from, way, hair)))
}

/// The stretches of the line `across · p = at` in a ring, measured along `across` turned a quarter anticlockwise; where the
/// ring runs along the line, those of the line a hair off along `across` by the sign of `step`. `across` has unit length.
pub(super) fn stretches(ring: &Path, across: Vec2, at: f64, step: f64) -> Vec<(f64, f64)> {
    let along = across.turn_90();
    let off = |p: Point| across.dot(p.to_vec2()) - at;
    let side = |p: Point| {
        let off = off(p);
        (if off.abs() < FLUSH { -step } else { off }) > 0.0
    };
    let segments = ring.segments();
    let mut places: Vec<f64> = Vec::new();
    for (i, segment) in segments.iter().enumerate() {
        let end = segments[(i + 1) % segments.len()].start();
        let (low, high) = segment.reach_along(across);
        // Most pieces of an outline lie on one side of the line, their turns as well.
        if (low - at).max(at - high) > 2.0 * FLUSH {
            continue;
        }
        let turns = segment.turns_along(across);
        let mut knots = vec![(0.0, segment.start())];
        knots.extend(turns.into_iter().map(|t| (t, segment.eval(t))));
        knots.push((1.0, end));
        for pair in knots.windows(2).filter(|pair| side(pair[0].1) != side(pair[1].1)) {
            let [(low, a), (high, b)] = [pair[0], pair[1]];
            // What lies on the line is where it is passed, to the last bit.
            let passed = if off(a).abs() < FLUSH {
                a
            } else if off(b).abs() < FLUSH {
                b
            } else {
                passing(segment, (low, high), across, at)
            };
            places.push(along.dot(passed.to_vec2()));
        }
    }
    places.sort_by(f64::total_cmp);
    places.chunks_exact(2).filter(|pair| pair[1] > pair[0]).map(|pair| (pair[0], pair[1])).collect()
}

/// The point at which the part of a piece between two parameters passes a line.
fn passing(segment: &Segment, (low, high): (f64, f64), across: Vec2, at: f64) -> Point {
    let part = if (low, high) == (0.0, 1.0) { *segment } else { segment.subsegment(low, high) };
    part.eval(part.passing(across, at).unwrap_or(0.5))
}
