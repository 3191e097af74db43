//! Legs turned from a square blank: where their centre lines stand and how large they are there.

use super::parts::SolvedBoard;
use crate::geometry::{Affine, Path, Placement, Point, Point3, Vec2, Vec3};
use std::f64::consts::PI;

/// A line whose share along the plumb line or a cut's normal is below this never comes through.
const ALONG: f64 = 1e-9;

/// What is turned from a square blank, about a line along it; lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turned {
    /// A point of that line, in board axes; it runs along u.
    pub axis: Point3,
    /// Diameter at the head, below the tenon.
    pub head: f64,
    /// Diameter at the foot.
    pub foot: f64,
    /// Diameter of the tenon.
    pub tenon: f64,
}

impl SolvedBoard {
    /// Where the centre line of a turned board comes through one of its cuts, in board axes; `None` for one that is not turned.
    pub fn centre_at(&self, cut: &str) -> Option<Point3> {
        let turned = self.turned?;
        let plane = self.board.cuts.get(self.board.cut(cut)?)?.plane;
        let share = plane.normal().x;
        (share.abs() > ALONG).then(|| turned.axis - Vec3::X * (plane.distance(turned.axis) / share))
    }

    /// What is left of the wood: its volume, mm³, and its centre of gravity in board axes. Of a turned board that is the frustum
    /// from head to foot between the middles of its cuts; its tenon fills the hole that the top's volume still counts.
    pub fn bulk(&self) -> (f64, Point3) {
        let ends = self.centre_at("foot").zip(self.centre_at("head"));
        let Some((Turned { head, foot, .. }, (from, to))) = self.turned.zip(ends) else {
            return (self.solid.volume, self.solid.centroid);
        };
        let squares = head * head + head * foot + foot * foot;
        let share = (foot * foot + 2.0 * foot * head + 3.0 * head * head) / (4.0 * squares);
        (PI / 12.0 * (to - from).length() * squares, from + (to - from) * share)
    }
}

/// The rim of something round where a level surface cuts it, as seen from above: its centre line leans as a board placed there
/// does. A foot is taken as thick on either side of the cut as at its middle.
pub fn level_rim(centre: Point, placement: &Placement, diameter: f64) -> Option<Path> {
    let along = placement.u();
    let lean = Vec2::new(along.x, along.y);
    (along.z.abs() > ALONG).then(|| {
        let longer = Affine::scale_non_uniform(1.0 / along.z.abs(), 1.0);
        let place = Affine::translate(centre.to_vec2()) * Affine::rotate(lean.atan2()) * longer;
        Path::circle(Point::ORIGIN, diameter / 2.0).transformed(place)
    })
}
