//! Boards that run into each other, and boards that run through the floor.
//!
//! Two straight-sided boards without inner corners are apart when some direction shows them apart (separating axes:
//! the normals of their surfaces and the directions square to an edge of each; for convex solids this is exact). Curved
//! boards and boards with inner corners are left alone: what looks like a clash of theirs may be a hollow.

use super::assemble::{Single, Work};
use crate::board::{Ring, Solid};
use crate::finding::{Finding, Place, Severity};
use crate::geometry::{Point, Point3, Segment, Vec3};

/// Boards that share less than this, mm, touch: a saw kerf is wider.
const TOUCH: f64 = 0.5;

/// Below the floor by less than this, mm, is on it.
const ON_FLOOR: f64 = 0.01;

/// A corner that turns inwards by less than this sine is straight.
const STRAIGHT: f64 = 1e-6;

/// A board in the world, seen as a convex solid.
struct Convex {
    corners: Vec<Point3>,
    normals: Vec<Vec3>,
    edges: Vec<Vec3>,
}

impl Work<'_> {
    /// Tells every pair of boards that run into each other by more than they touch, with the given severity.
    pub(super) fn tell_clashes(&mut self, severity: Severity) {
        let solids: Vec<Option<Convex>> = (0..self.count()).map(|i| convex(self.single(i), self.solid(i))).collect();
        let mut told: Vec<(String, String)> = Vec::new();
        for (i, a) in solids.iter().enumerate() {
            for (j, b) in solids.iter().enumerate().skip(i + 1) {
                let (Some(a), Some(b)) = (a, b) else { continue };
                let Some(depth) = shared(a, b).filter(|depth| *depth > TOUCH) else { continue };
                let (one, other) = (self.single(i), self.single(j));
                let pair = (one.pointer.clone(), other.pointer.clone());
                if told.contains(&pair) {
                    continue;
                }
                let name = |single: &Single| single.id.clone().unwrap_or_else(|| single.role.replace('_', " "));
                let message = format!("{} and {} run into each other by {}", name(one), name(other), self.mm(depth));
                let place = Place::pointer(other.pointer.clone());
                let finding = Finding::new(severity, "boards-clash", place, message)
                    .remedy("move one of them, make it smaller, or cut it against the other")
                    .measured("depth", depth);
                told.push(pair);
                self.findings.push(finding);
            }
        }
    }

    /// Warns of cuts that do not touch their board.
    pub(super) fn tell_missed_cuts(&mut self) {
        let mut missed = Vec::new();
        for index in 0..self.count() {
            let (single, solid) = (self.single(index), self.solid(index));
            for (number, (cut, end)) in single.board.cuts.iter().zip(&solid.ends).enumerate() {
                if end.rings.is_empty() {
                    let place = Place::pointer(format!("{}/cuts/{number}", single.pointer));
                    let message = format!("this cut ({}) does not touch the board: it takes nothing away", cut.place);
                    let remedy = "move the cut or the board, make the board longer, or leave the cut out";
                    missed.push(Finding::warn("cut-misses", place, message).remedy(remedy));
                }
            }
        }
        self.findings.extend(missed);
    }

    /// Stops where a board reaches below the floor.
    pub(super) fn tell_below_floor(&mut self) {
        let mut told: Vec<String> = Vec::new();
        for index in 0..self.count() {
            let single = self.single(index);
            let corners = corners(single, self.solid(index));
            let lowest = corners.iter().map(|p| p.z).fold(f64::MAX, f64::min);
            if lowest >= -ON_FLOOR || told.contains(&single.pointer) {
                continue;
            }
            told.push(single.pointer.clone());
            let message =
                format!("the {} reaches {} below the floor", single.role.replace('_', " "), self.mm(-lowest));
            let place = Place::pointer(single.pointer.clone());
            let remedy = format!("make its depth smaller, or set it higher, by {}", self.mm(-lowest));
            let finding = Finding::stop("below-floor", place, message).remedy(remedy).measured("below", -lowest);
            self.findings.push(finding);
        }
    }
}

/// The corners of a board in the world.
fn corners(single: &Single, solid: &Solid) -> Vec<Point3> {
    let rim = |ring: &Ring, w: f64| -> Vec<Point3> {
        let starts = ring.path().segments().iter().map(Segment::start);
        starts.map(|p: Point| single.placement.to_world(Point3::new(p.x, p.y, w))).collect()
    };
    let mut all = rim(&solid.face, 0.0);
    all.extend(rim(&solid.far, -single.board.thickness));
    all
}

/// The board as a convex solid; `None` where something of it is curved or turns inwards.
fn convex(single: &Single, solid: &Solid) -> Option<Convex> {
    for ring in [&solid.face, &solid.far] {
        let pieces = ring.path().segments();
        let after = pieces.iter().cycle().skip(1);
        for (piece, next) in pieces.iter().zip(after) {
            let straight = matches!(piece, Segment::Line(_));
            if !straight || piece.tangent(1.0).cross(next.tangent(0.0)) < -STRAIGHT {
                return None;
            }
        }
    }
    let world = |v: Vec3| single.placement.direction_to_world(v);
    let across = solid.face.path().segments().iter().map(|s| s.tangent(0.5));
    let mut normals = vec![world(Vec3::new(0.0, 0.0, 1.0))];
    normals.extend(across.clone().map(|t| world(Vec3::new(t.y, -t.x, 0.0))));
    normals.extend(single.board.cuts.iter().map(|cut| world(cut.plane.normal())));
    let mut edges: Vec<Vec3> = across.map(|t| world(Vec3::new(t.x, t.y, 0.0))).collect();
    edges.push(world(Vec3::new(0.0, 0.0, 1.0)));
    Some(Convex { corners: corners(single, solid), normals, edges })
}

/// How far two convex solids run into each other along the direction in which that is least; `None` where they are apart.
fn shared(a: &Convex, b: &Convex) -> Option<f64> {
    let crossed = a.edges.iter().flat_map(|e| b.edges.iter().map(move |f| e.cross(*f)));
    let axes = a.normals.iter().chain(&b.normals).copied().chain(crossed).filter_map(Vec3::unit);
    let mut least = f64::MAX;
    for axis in axes {
        let range = |corners: &[Point3]| {
            let along = corners.iter().map(|p| p.to_vec().dot(axis));
            along.fold((f64::MAX, f64::MIN), |(low, high), v| (low.min(v), high.max(v)))
        };
        let ((a0, a1), (b0, b1)) = (range(&a.corners), range(&b.corners));
        let overlap = (a1 - b0).min(b1 - a0);
        if overlap <= 0.0 {
            return None;
        }
        least = least.min(overlap);
    }
    Some(least)
}
