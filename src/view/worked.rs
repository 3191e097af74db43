//! Edge profiles as they are seen: the lines that they leave along an edge, their sections where it ends, and what they take of the
//! lines of the square wood.

use super::edges::{SpaceLine, crossings, on_level};
use super::prism::Prism;
use crate::geometry::{Plane, Point, Point3, Segment, Vec2, Vec3};
use crate::piece::WorkedEdge;
use crate::tolerance::{EXACT, FLOWING, NO_LEAN, SAME_POINT};

/// A line of the square wood is asked at so many places whether it is cut away; where that changes it is asked more closely.
const ASKED: u32 = 64;

/// A line of sight is asked at so many places whether it meets wood.
const SIGHTED: u32 = 24;

impl Prism {
    /// Whether a place in the square wood, in the board's axes, is cut away by a profile.
    fn is_taken(&self, p: Point3) -> bool {
        self.worked.iter().any(|worked| worked.takes(p, self.thickness))
    }

    /// Whether of a stretch of the line `from + s along`, in the board's axes and in the square wood, profiles leave any.
    pub(super) fn leaves_any(&self, from: Point3, along: Vec3, (low, high): (f64, f64)) -> bool {
        let at = |k: u32| from + along * (low + (high - low) * (f64::from(k) + 0.5) / f64::from(SIGHTED));
        self.worked.is_empty() || (0..SIGHTED).any(|k| !self.is_taken(at(k)))
    }

    /// What profiles leave of a stretch of the line `from + s along`, in the board's axes and in the square wood.
    pub(super) fn left_of(&self, from: Point3, along: Vec3, (low, high): (f64, f64)) -> Vec<(f64, f64)> {
        if self.worked.is_empty() {
            return vec![(low, high)];
        }
        let at = |t: f64| low + (high - low) * t;
        let runs = runs(|t| !self.is_taken(from + along * at(t)));
        runs.into_iter().map(|(a, b)| (at(a), at(b))).collect()
    }
}

/// The stretches of 0 to 1 over which something holds.
fn runs(holds: impl Fn(f64) -> bool) -> Vec<(f64, f64)> {
    let mut found: Vec<(f64, f64)> = Vec::new();
    let mut before = (0.0, holds(0.0));
    let mut from = before.1.then_some(0.0);
    for k in 1..=ASKED {
        let here = f64::from(k) / f64::from(ASKED);
        let now = (here, holds(here));
        if now.1 != before.1 {
            let (mut low, mut high) = (before.0, here);
            while high - low > EXACT {
                let middle = 0.5 * (low + high);
                if holds(middle) == before.1 { low = middle } else { high = middle }
            }
            found.extend(from.take().map(|from| (from, low)));
            from = now.1.then_some(high);
        }
        before = now;
    }
    found.extend(from.map(|from| (from, 1.0)));
    found
}

/// What profiles leave of lines of the square wood.
pub fn left(prism: &Prism, square: Vec<SpaceLine>) -> Vec<SpaceLine> {
    if prism.worked.is_empty() {
        return square;
    }
    let kept = |line: &SpaceLine| {
        let runs = runs(|t| !prism.is_taken(prism.placement.to_board(line.at(t))));
        runs.into_iter().map(|(from, to)| line.part(from, to)).collect::<Vec<SpaceLine>>()
    };
    square.iter().flat_map(kept).collect()
}

/// The lines of a board as its profiles leave them, with those of the profiles.
pub fn profiled(index: usize, prism: &Prism, square: Vec<SpaceLine>) -> Vec<SpaceLine> {
    if prism.worked.is_empty() {
        return square;
    }
    let mut lines = left(prism, square);
    for (at, worked) in prism.worked.iter().enumerate() {
        for (path, level) in &worked.left {
            let pieces = path.segments().iter();
            lines.extend(pieces.flat_map(|piece| on_level(index, prism, piece, *level)));
        }
        lines.extend(stations(prism, at).iter().flat_map(|station| station.section(index, prism, worked)));
    }
    lines
}

/// Where the section of a profile is seen: a place on the square edge, the way of the edge there, and the plane in which it ends.
struct Station {
    at: Point,
    way: Vec2,
    plane: Plane,
}

impl Station {
    /// The lines of the section in its plane.
    fn section(&self, index: usize, prism: &Prism, worked: &WorkedEdge) -> Vec<SpaceLine> {
        let (way, inwards) = (self.way, self.way.turn_90());
        let n = self.plane.normal();
        let along = n.x * way.x + n.y * way.y;
        let onto = |d: Vec3| d - Vec3::new(way.x, way.y, 0.0) * (n.dot(d) / along);
        let (a, b) = (onto(Vec3::new(inwards.x, inwards.y, 0.0)), onto(Vec3::Z));
        let origin = Point3::new(self.at.x, self.at.y, 0.0);
        let pieces = worked.line.segments().iter();
        let pieces = pieces.filter(|piece| {
            let p = piece.eval(0.5);
            let middle = origin + a * p.x + b * p.y;
            prism.planes.iter().all(|plane| plane.distance(middle) < SAME_POINT)
        });
        pieces.map(|piece| SpaceLine::lifted(index, *piece, (origin, a, b), &prism.placement)).collect()
    }
}

/// The sections of the profiles worked along an edge at a place at which it runs along a line of sight.
pub fn turned_away(index: usize, prism: &Prism, at: Point, way: Vec2) -> Vec<SpaceLine> {
    let own = prism.worked.iter().filter(|own| own.edge.nearest(at).is_some_and(|found| found.0 < SAME_POINT));
    let lines = own.filter_map(|worked| {
        let plane = Plane::through(Point3::new(at.x, at.y, 0.0), Vec3::new(way.x, way.y, 0.0))?;
        let (_, place) = worked.edge.nearest(at)?;
        let way = worked.edge.tangent_at(place)?;
        Some(Station { at, way, plane }.section(index, prism, worked))
    });
    lines.flatten().collect()
}

/// The places at which a profile of a board ends or turns a corner.
fn stations(prism: &Prism, at: usize) -> Vec<Station> {
    let Some(worked) = prism.worked.get(at) else { return Vec::new() };
    let pieces = worked.edge.segments();
    let closed = worked.edge.is_closed();
    let mut found = Vec::new();
    for (k, plane) in prism.planes.iter().enumerate() {
        let n = plane.normal();
        // What is worked all round is worked along its sawn ends too.
        if closed && prism.section != Some(k) || n.x.hypot(n.y) <= NO_LEAN {
            continue;
        }
        for piece in pieces {
            let distance = |p: Point| plane.distance(Point3::new(p.x, p.y, 0.0));
            let crossed = crossings(piece, Vec2::new(n.x, n.y), distance).into_iter();
            let station = |t: f64| Station { at: piece.eval(t), way: piece.tangent(t).normalize(), plane: *plane };
            let own = crossed.map(station).filter(|s| s.way.dot(Vec2::new(n.x, n.y)).abs() > NO_LEAN);
            found.extend(own);
        }
    }
    let ring = if closed { pieces } else { prism.outline.segments() };
    let before = ring.iter().cycle().skip(ring.len().saturating_sub(1));
    found.extend(before.zip(ring).filter_map(|(before, after)| corner(prism, at, before, after)));
    found
}

/// The section at a corner of the outline to which a profile runs: in the plane of the edge that goes on, or in the mitre where that is
/// worked too.
fn corner(prism: &Prism, at: usize, before: &Segment, after: &Segment) -> Option<Station> {
    let p = after.start();
    let (come, go) = (before.tangent(1.0).normalize(), after.tangent(0.0).normalize());
    if come.cross(go).abs() < FLOWING && come.dot(go) > 0.0 {
        return None;
    }
    let along = |worked: &WorkedEdge, piece: &Segment| {
        worked.edge.nearest(piece.eval(0.5)).is_some_and(|found| found.0 < SAME_POINT)
    };
    let own = prism.worked.get(at)?;
    let others = || prism.worked.iter().enumerate().filter(|(k, _)| *k != at).map(|(_, other)| other);
    let (way, other, ends) = match (along(own, before), along(own, after)) {
        (true, true) => (come, go, false),
        (true, false) => (come, go, !others().any(|other| along(other, after))),
        (false, true) => (go, come, !others().any(|other| along(other, before))),
        (false, false) => return None,
    };
    let normal = if ends { other.turn_90() } else { come + go };
    let plane = Plane::through(Point3::new(p.x, p.y, 0.0), Vec3::new(normal.x, normal.y, 0.0))?;
    (normal.normalize().dot(way).abs() > NO_LEAN).then_some(Station { at: p, way, plane })
}
