//! Flat shapes on the surface of a solid, and the side from which they are seen.
//!
//! What is stuck or laid on wood is seen from outside. Axes of a solid's surface are often those of someone in the wood: a
//! shape in them has to be turned over first, and [`Flat::turned_over`] is the one way to do it.
//!
//! All that is printed is [`Paper`], which is made of a [`Flat`] alone: a shape cannot come to it without its side. What is the same
//! from either side, a section or a gauge, says so.
//!
//! ```compile_fail
//! use fullsize::geometry::{Flat, Paper, Path, Rect};
//! // Seen from inside: no paper.
//! let shape = Flat::from_inside(Path::rectangle(Rect::new(0.0, 0.0, 30.0, 20.0)));
//! let paper: Paper<Path> = shape.paper();
//! ```
//!
//! ```compile_fail
//! use fullsize::geometry::{Paper, Path, Rect};
//! // Without a side: no paper.
//! let paper: Paper<Path> = Path::rectangle(Rect::new(0.0, 0.0, 30.0, 20.0)).into();
//! ```
//!
//! ```
//! use fullsize::geometry::{Flat, Lies, Paper, Path, Rect};
//! let shape = Flat::from_inside(Path::rectangle(Rect::new(0.0, 0.0, 30.0, 20.0)));
//! let paper: Paper<Path> = shape.turned_over().paper();
//! assert_eq!(paper.lies(), Lies::OnTheWood);
//! assert_eq!(paper.bounding_box(), Some(Rect::new(-30.0, 0.0, 0.0, 20.0)));
//! ```

use super::{Affine, Path, Point, Point3, Vec2, Vec3};
use std::marker::PhantomData;
use std::ops::Deref;

/// Seen by someone who stands before the surface, as paper on it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FromOutside {}

/// Seen by someone in the wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FromInside {}

/// The same from either side: the section of what is made by it, a gauge that is held to the work either way round, a view.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EitherWay {}

/// Axes in the plane of a surface, seen from one side of it: x to the right, y up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfaceFrame<S> {
    origin: Point3,
    x: Vec3,
    y: Vec3,
    seen: PhantomData<S>,
}

impl<S> SurfaceFrame<S> {
    /// `along` has length 1 and is square to the normal; `y` completes them.
    fn new(origin: Point3, x: Vec3, y: Vec3) -> SurfaceFrame<S> {
        SurfaceFrame { origin, x, y, seen: PhantomData }
    }

    /// A point of the plane axes, in the axes of the solid, mm.
    pub fn lift(&self, p: Point) -> Point3 {
        self.origin + self.x * p.x + self.y * p.y
    }

    /// A point of the solid, square down to the plane, in the plane axes, mm.
    pub fn drop(&self, p: Point3) -> Point {
        let from = p - self.origin;
        Point::new(from.dot(self.x), from.dot(self.y))
    }

    /// The origin.
    pub fn origin(&self) -> Point3 {
        self.origin
    }

    /// To the right, of length 1.
    pub fn x(&self) -> Vec3 {
        self.x
    }

    /// Up, of length 1.
    pub fn y(&self) -> Vec3 {
        self.y
    }

    /// What is drawn in these axes.
    pub fn flat<T>(&self, drawn: T) -> Flat<S, T> {
        Flat { drawn, seen: PhantomData }
    }
}

impl SurfaceFrame<FromOutside> {
    /// Axes seen from outside: x along a direction of length 1 in the surface, y to its left; the normal, of length 1, points
    /// out of the wood.
    pub fn outward(origin: Point3, normal: Vec3, along: Vec3) -> SurfaceFrame<FromOutside> {
        SurfaceFrame::new(origin, along, normal.cross(along))
    }
}

impl SurfaceFrame<FromInside> {
    /// Axes seen from within: x along a direction of length 1 in the surface, y to its left as seen there; the normal, of
    /// length 1, points out of the wood.
    pub fn inward(origin: Point3, normal: Vec3, along: Vec3) -> SurfaceFrame<FromInside> {
        SurfaceFrame::new(origin, along, along.cross(normal))
    }

    /// Axes of an edge square to the face side, along which the outline runs, of length 1: y away from the face.
    pub fn of_edge(origin: Point3, along: Vec3) -> SurfaceFrame<FromInside> {
        SurfaceFrame::new(origin, along, -Vec3::Z)
    }
}

/// What can be drawn flat and moved.
pub trait Drawn {
    /// Itself, moved.
    fn moved(self, map: Affine) -> Self;
}

impl Drawn for Point {
    fn moved(self, map: Affine) -> Point {
        map * self
    }
}

impl Drawn for Path {
    fn moved(self, map: Affine) -> Path {
        self.transformed(map)
    }
}

impl<T: Drawn> Drawn for Vec<T> {
    fn moved(self, map: Affine) -> Vec<T> {
        self.into_iter().map(|one| one.moved(map)).collect()
    }
}

/// A flat drawing on a surface that knows the side from which it is seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Flat<S, T> {
    drawn: T,
    seen: PhantomData<S>,
}

impl<S, T: Drawn> Flat<S, T> {
    /// Turned half round in its own plane.
    pub fn half_turned(self) -> Flat<S, T> {
        Flat { drawn: self.drawn.moved(Affine::scale(-1.0)), seen: PhantomData }
    }
}

impl<T> Flat<FromInside, T> {
    /// What is drawn as someone in the wood sees it: an edge rolled out flat, x along the outline, y away from the face side; the
    /// underside of a top in the axes of its upper side.
    pub fn from_inside(drawn: T) -> Flat<FromInside, T> {
        Flat { drawn, seen: PhantomData }
    }
}

impl<T: Drawn> Flat<FromInside, T> {
    /// As it is seen from outside: what lay to the right lies to the left.
    pub fn turned_over(self) -> Flat<FromOutside, T> {
        Flat { drawn: self.drawn.moved(Affine::FLIP_X), seen: PhantomData }
    }
}

impl<T> Flat<FromOutside, T> {
    /// What is drawn as someone before the surface sees it.
    pub fn from_outside(drawn: T) -> Flat<FromOutside, T> {
        Flat { drawn, seen: PhantomData }
    }

    /// What is drawn on paper and stuck or laid on the wood.
    pub fn paper(self) -> Paper<T> {
        Paper { drawn: self.drawn, lies: Lies::OnTheWood }
    }
}

impl<T> Flat<EitherWay, T> {
    /// What is the same from either side.
    pub fn either_way(drawn: T) -> Flat<EitherWay, T> {
        Flat { drawn, seen: PhantomData }
    }

    /// What is drawn on paper and laid on no wood, or with either side to it.
    pub fn paper(self) -> Paper<T> {
        Paper { drawn: self.drawn, lies: Lies::EitherWay }
    }
}

/// How paper lies on the wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lies {
    /// Stuck or laid on it, as someone before it sees it.
    OnTheWood,
    /// Not on it, or with either side to it.
    EitherWay,
}

/// A drawing as it is printed: it came with its side.
#[derive(Debug, Clone, PartialEq)]
pub struct Paper<T> {
    drawn: T,
    lies: Lies,
}

impl<T> Paper<T> {
    /// How it lies on the wood.
    pub fn lies(&self) -> Lies {
        self.lies
    }

    /// The same put into other terms, line by line and as it lies.
    pub fn redrawn<U>(&self, draw: impl FnOnce(&T) -> U) -> Paper<U> {
        Paper { drawn: draw(&self.drawn), lies: self.lies }
    }

    /// The drawing alone; to come back to paper it has to say its side again.
    pub fn into_drawn(self) -> T {
        self.drawn
    }
}

impl<T: Drawn> Paper<T> {
    /// As it is made for the other hand, by the reflection about one of its axes that leaves its own sense of place as it was.
    pub fn other_hand(self, flip: Affine) -> Paper<T> {
        Paper { drawn: self.drawn.moved(flip), lies: self.lies }
    }

    /// Shifted on its sheet.
    pub fn shifted(self, by: Vec2) -> Paper<T> {
        Paper { drawn: self.drawn.moved(Affine::translate(by)), lies: self.lies }
    }
}

impl<T> Paper<Vec<T>> {
    /// With more on the same sheet, which lies on the wood where either does.
    pub fn add(&mut self, more: Paper<Vec<T>>) {
        if more.lies == Lies::OnTheWood {
            self.lies = Lies::OnTheWood;
        }
        self.drawn.extend(more.drawn);
    }
}

impl<T> Deref for Paper<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.drawn
    }
}

#[cfg(test)]
mod tests {
    use super::SurfaceFrame;
    use crate::geometry::{Point, Point3, Vec3};

    /// Before an end that looks along x, with up upwards, y lies to the left: as seen from within, to the right.
    #[test]
    fn axes_are_seen_from_their_own_side() {
        let at = Point3::new(5.0, 0.0, 0.0);
        let outside = SurfaceFrame::outward(at, Vec3::X, Vec3::Y);
        assert_eq!(outside.lift(Point::new(2.0, 3.0)), Point3::new(5.0, 2.0, 3.0));
        let inside = SurfaceFrame::inward(at, Vec3::X, Vec3::Y);
        assert_eq!(inside.lift(Point::new(2.0, 3.0)), Point3::new(5.0, 2.0, -3.0));
        assert_eq!(inside.drop(Point3::new(9.0, 2.0, -3.0)), Point::new(2.0, 3.0));
    }
}
