//! One leaning frame: its outside face in the world, and the lines of its legs on it.

use crate::geometry::{Plane, Point, Point3, Vec2, Vec3};
use crate::model::base::FrameLeg;
use crate::piece::edge::{CurveFault, EdgeLine};

/// A frame's outside face with its own coordinates: y across the frame from its centre line, s up the slope from the floor,
/// both in the outside face; depth square to it, towards the middle of the piece.
#[derive(Debug, Clone)]
pub(crate) struct Frame {
    /// `left` or `right`.
    pub(crate) name: &'static str,
    /// Tilt from plumb, radians.
    pub(crate) lean: f64,
    /// Across the frame; world y where it is not twisted.
    pub(crate) across: Vec3,
    /// Up the slope.
    pub(crate) up: Vec3,
    /// Out of the outside face.
    pub(crate) out: Vec3,
    /// Distance from floor to heads up the slope of the outside face, mm.
    pub(crate) slope: f64,
    /// Where the centre line stands on the floor.
    foot: Point3,
}

impl Frame {
    /// The frame on the right (`side` +1) or left (-1) whose outside face passes x = side * half_length at z = height on the x axis.
    pub(crate) fn new(side: f64, half_length: f64, height: f64, lean: f64, twist: f64) -> Frame {
        let (sin, cos) = lean.sin_cos();
        let out = Vec3::new(side * cos, 0.0, sin).turned(twist);
        let up = Vec3::new(-side * sin, 0.0, cos).turned(twist);
        let slope = height / cos;
        let head = Point3::new(side * half_length, 0.0, height);
        let name = if side > 0.0 { "right" } else { "left" };
        Frame { name, lean, across: Vec3::Y.turned(twist), up, out, slope, foot: head - up * slope }
    }

    /// A point by its coordinates in the frame.
    pub(crate) fn point(&self, y: f64, s: f64, depth: f64) -> Point3 {
        self.foot + self.across * y + self.up * s - self.out * depth
    }

    /// The coordinates of a point in the frame: y, s, depth.
    pub(crate) fn local(&self, p: Point3) -> [f64; 3] {
        let from = p - self.foot;
        [from.dot(self.across), from.dot(self.up), -from.dot(self.out)]
    }

    /// The s at which the height z is reached at a depth.
    pub(crate) fn s_at(&self, z: f64, depth: f64) -> f64 {
        (z + depth * self.lean.sin()) / self.lean.cos()
    }

    /// The height reached at s and depth.
    pub(crate) fn z_at(&self, s: f64, depth: f64) -> f64 {
        s * self.lean.cos() - depth * self.lean.sin()
    }

    /// The plane parallel to the outside face at a depth, its normal outwards.
    pub(crate) fn plane(&self, depth: f64) -> Option<Plane> {
        Plane::through(self.point(0.0, 0.0, depth), self.out)
    }
}

/// The lines of a leg on its frame's outside face: x is the distance from the frame's centre line, y is s.
#[derive(Debug, Clone)]
pub(super) struct LegLines {
    /// The edge towards the end of the frame, from head to foot.
    pub(super) outside: EdgeLine,
    /// The edge towards the other leg, from head to foot.
    pub(super) inside: EdgeLine,
}

impl LegLines {
    /// The lines of a leg whose outside edge's head corner lies `half_width` from the centre line.
    ///
    /// # Errors
    /// The faulty edge's field with what is wrong.
    pub(super) fn new(leg: &FrameLeg, half_width: f64, slope: f64) -> Result<LegLines, (&'static str, CurveFault)> {
        let head = Point::new(half_width, slope);
        let foot = Point::new(half_width + slope * leg.splay.radians().tan(), 0.0);
        let inwards = |p: Point, width: f64| Point::new(p.x - width, p.y);
        let (out, back) = (Vec2::new(1.0, 0.0), Vec2::new(-1.0, 0.0));
        let outside = EdgeLine::between(head, foot, &leg.outside_edge, out).map_err(|f| ("outside_edge", f))?;
        let (head_in, foot_in) = (inwards(head, leg.head.mm()), inwards(foot, leg.foot.mm()));
        let inside = EdgeLine::between(head_in, foot_in, &leg.inside_edge, back).map_err(|f| ("inside_edge", f))?;
        Ok(LegLines { outside, inside })
    }
}
