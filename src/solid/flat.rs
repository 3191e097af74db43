//! Planes looked at with axes of their own, and what of them lies within other planes.

use crate::geometry::{Plane, Point, Point3, Vec2, Vec3};
use crate::tolerance::{FLUSH, PARALLEL_PLANES};

/// On which side of a plane, a hair away, wood is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hair {
    /// Against its normal: in the wood of a surface.
    In,
    /// Along its normal.
    Out,
}

/// A plane with axes: seen from outside the wood, against its normal, x and y run as on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axes {
    /// The plane.
    pub plane: Plane,
    /// A point of it.
    pub origin: Point3,
    /// To the right, of unit length.
    pub x: Vec3,
    /// Up, of unit length.
    pub y: Vec3,
}

impl Axes {
    /// Axes of a plane, their origin square below a point.
    pub fn of(plane: &Plane, near: Point3) -> Axes {
        let normal = plane.normal();
        let side = if normal.x.abs() < 0.6 { Vec3::X } else { Vec3::Y };
        // A unit normal is square to one of the two within 53 degrees.
        let x = side.cross(normal).unit().unwrap_or(side);
        Axes { plane: *plane, origin: near - normal * plane.distance(near), x, y: normal.cross(x) }
    }

    /// A point of the axes in space.
    pub fn lift(&self, p: Point) -> Point3 {
        self.origin + self.x * p.x + self.y * p.y
    }

    /// The foot of the square from a point in space.
    pub fn drop(&self, p: Point3) -> Point {
        self.along(p - self.origin).to_point()
    }

    /// A direction in space as it is seen.
    pub fn along(&self, d: Vec3) -> Vec2 {
        Vec2::new(self.x.dot(d), self.y.dot(d))
    }
}

/// A plane with any two directions of it as its coordinates, and the side from which flush surfaces are looked at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Flat {
    pub(super) plane: Plane,
    pub(super) origin: Point3,
    pub(super) x: Vec3,
    pub(super) y: Vec3,
    /// Along the normal, to which side the hair goes.
    pub(super) step: f64,
}

/// What of a plane lies within another.
#[derive(Debug, Clone, Copy)]
pub(super) enum Part {
    Whole,
    Nothing,
    Half { point: Point, inwards: Vec2 },
}

impl Flat {
    pub(super) fn of(axes: &Axes, hair: Hair) -> Flat {
        let step = match hair {
            Hair::In => -1.0,
            Hair::Out => 1.0,
        };
        Flat { plane: axes.plane, origin: axes.origin, x: axes.x, y: axes.y, step }
    }

    /// The part of it inside another plane.
    pub(super) fn inside(&self, other: &Plane) -> Part {
        let normal = other.normal();
        let out = Vec2::new(normal.dot(self.x), normal.dot(self.y));
        let beyond = other.distance(self.origin);
        if out.hypot() > PARALLEL_PLANES {
            return Part::Half { point: (out * (-beyond / out.hypot2())).to_point(), inwards: -out };
        }
        let within = match beyond.abs() < FLUSH {
            true => self.step * normal.dot(self.plane.normal()) < 0.0,
            false => beyond < 0.0,
        };
        if within { Part::Whole } else { Part::Nothing }
    }
}
