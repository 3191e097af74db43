//! The wood that a section cuts, hatched.

use super::direction::View;
use super::merge::left_over;
use super::model::Model;
use super::prism::Prism;
use super::round;
use super::visible::Stroke;
use crate::geometry::{Plane, Point, Point3, Segment, Vec2, Vec3};
use crate::tolerance::BELOW_CUTTING;
use std::f64::consts::FRAC_PI_4;

/// More lines than this on one board are not told apart on paper.
const MOST: f64 = 2000.0;

impl Model {
    /// Hatching (ISO 128-3: narrow lines at 45°, the next board's the other way, from memory) of the wood cut by the
    /// section, `spacing` mm apart, as seen square to it.
    pub fn hatching(&self, view: &View, spacing: f64) -> Vec<Stroke> {
        let own = |prism: &Prism| prism.section.and_then(|k| prism.planes.get(k).copied());
        let mut strokes = Vec::new();
        for (prism, plane) in self.prisms.iter().filter_map(|p| Some((p, own(p)?))) {
            // Boards and their copies by turns one way and the other, and not in line with each other.
            let turn = if (prism.board + prism.copy).is_multiple_of(2) { FRAC_PI_4 } else { 3.0 * FRAC_PI_4 };
            let filled = |f: &&Prism| f.board == prism.board && f.copy == prism.copy;
            let filled: Vec<&Prism> = self.fittings.iter().filter(filled).collect();
            strokes.extend(hatched(prism, &filled, &plane, view, (turn, spacing)));
        }
        for (fitting, plane) in self.fittings.iter().filter(|p| p.filled).filter_map(|p| Some((p, own(p)?))) {
            // A tenon lies in both its parts: hatched closer than either, and one way in both.
            strokes.extend(hatched(fitting, &[], &plane, view, (FRAC_PI_4, spacing / 2.0)));
        }
        strokes
    }
}

/// Hatching of one prism at a turn and a spacing, without its hollows.
fn hatched(prism: &Prism, filled: &[&Prism], own: &Plane, view: &View, (turn, spacing): (f64, f64)) -> Vec<Stroke> {
    let along = Vec2::from_angle(turn);
    let across = along.turn_90();
    let plane = prism.placement.plane_to_world(own);
    let lift = |p: Vec2| view.space_of(p) + view.towards() * (plane.offset() - plane.normal().dot(view.space_of(p)));
    let reach = prism.corners.iter().map(|p| view.project(*p).to_vec2().dot(across));
    let (low, high) = reach.fold((f64::MAX, f64::MIN), |(a, b), d| (a.min(d), b.max(d)));
    let spacing = spacing.max((high - low) / MOST);
    let direction = lift(along) - lift(Vec2::ZERO);
    let first = (low / spacing).ceil();
    let count = ((high / spacing).floor() - first).max(-1.0) as usize;
    let mut strokes = Vec::new();
    for k in 0..=count {
        let off = (first + k as f64) * spacing;
        let from = Point3::ORIGIN + lift(across * off);
        let filled: Vec<(f64, f64)> = filled.iter().flat_map(|f| inside(f, from, direction)).collect();
        for (a, b) in inside(prism, from, direction).into_iter().flat_map(|(a, b)| left_over(a, b, &filled)) {
            let at = |s: f64| -> Point { view.project(from + direction * s) };
            strokes.push(Stroke { line: Segment::line(at(a), at(b)), board: prism.board, copy: prism.copy });
        }
    }
    strokes
}

/// The stretches of a line in a section's plane that run in a prism.
fn inside(prism: &Prism, from: Point3, direction: Vec3) -> Vec<(f64, f64)> {
    if let Some(turned) = &prism.turned {
        return round::inside(prism, turned, from, direction);
    }
    let (from, direction) = (prism.placement.to_board(from), prism.placement.direction_to_board(direction));
    let leave = prism.section.into_iter().collect::<Vec<usize>>();
    let range = prism.between(from, direction, &leave, 0.0);
    let square = range.map(|range| prism.within_rim(from, direction, range, BELOW_CUTTING)).unwrap_or_default();
    square.into_iter().flat_map(|own| prism.left_of(from, direction, own)).collect()
}

impl View {
    /// The vector in space, in the view's own plane, that is seen as a vector of the page.
    fn space_of(&self, p: Vec2) -> Vec3 {
        self.right() * p.x + self.up() * p.y
    }
}
