//! Space: points, directions, planes, and where a board stands.

use crate::tolerance::NO_DIRECTION;
use std::ops::{Add, Mul, Neg, Sub};

/// A point in space, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point3 {
    /// Along the piece (or along a board: u).
    pub x: f64,
    /// Across the piece (or across a board: v).
    pub y: f64,
    /// Up (or out of a board's face side: w).
    pub z: f64,
}

/// A difference of two points, or a direction.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Vec3 {
    /// Along the piece (or along a board: u).
    pub x: f64,
    /// Across the piece (or across a board: v).
    pub y: f64,
    /// Up (or out of a board's face side: w).
    pub z: f64,
}

impl Point3 {
    /// The point 0, 0, 0.
    pub const ORIGIN: Point3 = Point3::new(0.0, 0.0, 0.0);

    /// A point by its coordinates, mm.
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Point3 { x, y, z }
    }

    /// The vector from the origin to this point.
    pub const fn to_vec(self) -> Vec3 {
        Vec3::new(self.x, self.y, self.z)
    }

    /// The straight distance to another point, mm.
    pub fn distance(self, other: Point3) -> f64 {
        (self - other).length()
    }

    /// The point halfway to another.
    pub fn midway(self, other: Point3) -> Point3 {
        self + (other - self) * 0.5
    }
}

impl Vec3 {
    /// Along the piece.
    pub const X: Vec3 = Vec3::new(1.0, 0.0, 0.0);
    /// Across the piece.
    pub const Y: Vec3 = Vec3::new(0.0, 1.0, 0.0);
    /// Up.
    pub const Z: Vec3 = Vec3::new(0.0, 0.0, 1.0);

    /// A vector by its components.
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Vec3 { x, y, z }
    }

    /// The scalar product.
    pub fn dot(self, o: Vec3) -> f64 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }

    /// The vector product (right-handed).
    pub fn cross(self, o: Vec3) -> Vec3 {
        Vec3::new(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)
    }

    /// The length.
    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The same direction at length 1; `None` for a vector too short to have one.
    pub fn unit(self) -> Option<Vec3> {
        let length = self.length();
        (length.is_finite() && length > NO_DIRECTION).then(|| self * (1.0 / length))
    }

    /// Turned about the plumb line, radians, positive anticlockwise from above.
    pub fn turned(self, angle: f64) -> Vec3 {
        let (sin, cos) = angle.sin_cos();
        Vec3::new(self.x * cos - self.y * sin, self.x * sin + self.y * cos, self.z)
    }
}

impl Sub for Point3 {
    type Output = Vec3;
    fn sub(self, o: Point3) -> Vec3 {
        Vec3::new(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}
impl Add<Vec3> for Point3 {
    type Output = Point3;
    fn add(self, o: Vec3) -> Point3 {
        Point3::new(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}
impl Sub<Vec3> for Point3 {
    type Output = Point3;
    fn sub(self, o: Vec3) -> Point3 {
        self + -o
    }
}
impl Add for Vec3 {
    type Output = Vec3;
    fn add(self, o: Vec3) -> Vec3 {
        Vec3::new(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}
impl Sub for Vec3 {
    type Output = Vec3;
    fn sub(self, o: Vec3) -> Vec3 {
        self + -o
    }
}
impl Neg for Vec3 {
    type Output = Vec3;
    fn neg(self) -> Vec3 {
        Vec3::new(-self.x, -self.y, -self.z)
    }
}
impl Mul<f64> for Vec3 {
    type Output = Vec3;
    fn mul(self, k: f64) -> Vec3 {
        Vec3::new(self.x * k, self.y * k, self.z * k)
    }
}

/// The plane of all points p with `normal . p = offset`; wood lies where the product is smaller.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    normal: Vec3,
    offset: f64,
}

impl Plane {
    /// The plane through a point, square to a direction; `None` where the direction is none.
    pub fn through(point: Point3, normal: Vec3) -> Option<Plane> {
        let normal = normal.unit()?;
        Some(Plane { normal, offset: normal.dot(point.to_vec()) })
    }

    /// The level plane at a height, mm, looking up.
    pub const fn level(z: f64) -> Plane {
        Plane { normal: Vec3::Z, offset: z }
    }

    /// Its unit normal, out of the wood.
    pub const fn normal(&self) -> Vec3 {
        self.normal
    }

    /// Its distance from the origin along the normal, mm.
    pub const fn offset(&self) -> f64 {
        self.offset
    }

    /// How far a point lies outside, mm (negative inside).
    pub fn distance(&self, point: Point3) -> f64 {
        self.normal.dot(point.to_vec()) - self.offset
    }

    /// The same plane with the wood on its other side.
    pub fn flipped(&self) -> Plane {
        Plane { normal: -self.normal, offset: -self.offset }
    }

    /// The plane moved out along its normal, mm.
    pub const fn moved(&self, out: f64) -> Plane {
        Plane { normal: self.normal, offset: self.offset + out }
    }

    /// The plane with the wood on the side of a point.
    pub fn keeping(&self, point: Point3) -> Plane {
        if self.distance(point) > 0.0 { self.flipped() } else { *self }
    }
}

/// The point that three planes have in common; `None` where two of them are parallel or all share a direction.
pub fn meet(a: &Plane, b: &Plane, c: &Plane) -> Option<Point3> {
    let (bc, ca, ab) = (b.normal.cross(c.normal), c.normal.cross(a.normal), a.normal.cross(b.normal));
    let volume = a.normal.dot(bc);
    if volume.abs() <= NO_DIRECTION {
        return None;
    }
    let sum = bc * a.offset + ca * b.offset + ab * c.offset;
    Some(Point3::ORIGIN + sum * (1.0 / volume))
}

/// Where a board stands: its origin and its axes in the world, each of length 1 and square to the others.
///
/// A mirrored copy has left-handed axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placement {
    origin: Point3,
    u: Vec3,
    v: Vec3,
    w: Vec3,
}

impl Placement {
    /// A right-handed placement: w exactly along `face`, u as near to `along` as square to w allows.
    /// `None` where one of them is no direction or they are parallel.
    pub fn facing(origin: Point3, along: Vec3, face: Vec3) -> Option<Placement> {
        let w = face.unit()?;
        let along = along.unit()?;
        let u = (along - w * along.dot(w)).unit()?;
        Some(Placement { origin, u, v: w.cross(u), w })
    }

    /// A placement by axes of unit length that are square to each other.
    pub const fn of_axes(origin: Point3, [u, v, w]: [Vec3; 3]) -> Placement {
        Placement { origin, u, v, w }
    }

    /// As [`Placement::facing`], left-handed: v points the other way.
    pub fn facing_mirrored(origin: Point3, along: Vec3, face: Vec3) -> Option<Placement> {
        Placement::facing(origin, along, face).map(|p| Placement { v: -p.v, ..p })
    }

    /// The board's origin in the world.
    pub const fn origin(&self) -> Point3 {
        self.origin
    }

    /// Along the board.
    pub const fn u(&self) -> Vec3 {
        self.u
    }

    /// Across the board.
    pub const fn v(&self) -> Vec3 {
        self.v
    }

    /// Out of the board's face side.
    pub const fn w(&self) -> Vec3 {
        self.w
    }

    /// Whether this is a mirrored copy.
    pub fn is_mirrored(&self) -> bool {
        self.u.cross(self.v).dot(self.w) < 0.0
    }

    /// A board point in the world.
    pub fn to_world(&self, p: Point3) -> Point3 {
        self.origin + self.direction_to_world(p.to_vec())
    }

    /// A world point in board axes.
    pub fn to_board(&self, p: Point3) -> Point3 {
        Point3::ORIGIN + self.direction_to_board(p - self.origin)
    }

    /// A board direction in the world.
    pub fn direction_to_world(&self, d: Vec3) -> Vec3 {
        self.u * d.x + self.v * d.y + self.w * d.z
    }

    /// A world direction in board axes.
    pub fn direction_to_board(&self, d: Vec3) -> Vec3 {
        Vec3::new(self.u.dot(d), self.v.dot(d), self.w.dot(d))
    }

    /// A world plane in board axes.
    pub fn plane_to_board(&self, plane: &Plane) -> Plane {
        Plane {
            normal: self.direction_to_board(plane.normal),
            offset: plane.offset - plane.normal.dot(self.origin.to_vec()),
        }
    }

    /// A board plane in the world.
    pub fn plane_to_world(&self, plane: &Plane) -> Plane {
        let normal = self.direction_to_world(plane.normal);
        Plane { normal, offset: plane.offset + normal.dot(self.origin.to_vec()) }
    }

    /// The placement whose origin is moved by board coordinates.
    pub fn moved(&self, by: Vec3) -> Placement {
        Placement { origin: self.origin + self.direction_to_world(by), ..*self }
    }

    /// The placement with u run the other way, about the board's line `u = about`: a board that equals its own
    /// mirror image there is the same board in the same place.
    pub fn flipped_along(&self, about: f64) -> Placement {
        Placement { origin: self.origin + self.u * (2.0 * about), u: -self.u, ..*self }
    }

    /// The placement with v run the other way.
    pub fn flipped_across(&self) -> Placement {
        Placement { v: -self.v, ..*self }
    }

    /// The placement turned about the world's plumb axis, radians, positive anticlockwise from above.
    pub fn turned(&self, angle: f64) -> Placement {
        Placement {
            origin: Point3::ORIGIN + self.origin.to_vec().turned(angle),
            u: self.u.turned(angle),
            v: self.v.turned(angle),
            w: self.w.turned(angle),
        }
    }

    /// The matrix from board axes to the world, row by row; the last row is 0 0 0 1.
    pub const fn matrix(&self) -> [[f64; 4]; 4] {
        let (u, v, w, o) = (self.u, self.v, self.w, self.origin);
        [[u.x, v.x, w.x, o.x], [u.y, v.y, w.y, o.y], [u.z, v.z, w.z, o.z], [0.0, 0.0, 0.0, 1.0]]
    }
}

#[cfg(test)]
mod tests {
    use super::{Placement, Plane, Point3, Vec3, meet};

    fn near(a: Point3, b: Point3) -> bool {
        a.distance(b) < 1e-12
    }

    #[test]
    fn three_planes_meet_in_their_common_point() {
        let p = Point3::new(1.0, -2.0, 3.5);
        let plane = |x, y, z| Plane::through(p, Vec3::new(x, y, z)).unwrap();
        assert!(near(meet(&plane(1.0, 0.2, 0.0), &plane(0.0, 1.0, 0.3), &plane(0.1, 0.0, 1.0)).unwrap(), p));
        assert_eq!(meet(&Plane::level(0.0), &Plane::level(1.0), &plane(1.0, 0.0, 0.0)), None);
    }

    #[test]
    fn a_placement_goes_there_and_back() {
        let there = Placement::facing(Point3::new(5.0, 6.0, 7.0), Vec3::X, Vec3::new(0.1, -1.0, 0.3)).unwrap();
        let p = Point3::new(10.0, 20.0, -3.0);
        assert!(near(there.to_board(there.to_world(p)), p));
        assert!(!there.is_mirrored());
        assert!(there.flipped_along(4.0).is_mirrored());
        let plane = Plane::through(Point3::new(1.0, 2.0, 3.0), Vec3::new(1.0, 2.0, 2.0)).unwrap();
        let in_board = there.plane_to_board(&plane);
        assert!((in_board.distance(p) - plane.distance(there.to_world(p))).abs() < 1e-12);
        assert!((there.plane_to_world(&in_board).offset() - plane.offset()).abs() < 1e-12);
    }

    #[test]
    fn a_flip_about_a_line_leaves_the_line_where_it_was() {
        let there = Placement::facing(Point3::new(5.0, 6.0, 7.0), Vec3::X, Vec3::Z).unwrap();
        let on_line = Point3::new(4.0, 9.0, -1.0);
        assert!(near(there.flipped_along(4.0).to_world(on_line), there.to_world(on_line)));
    }

    #[test]
    fn parallel_directions_place_nothing() {
        assert_eq!(Placement::facing(Point3::ORIGIN, Vec3::Z, Vec3::Z), None);
        assert_eq!(Plane::through(Point3::ORIGIN, Vec3::default()), None);
    }
}
