//! Boards that the file places itself.

use crate::geometry::{Built, Point3, Vec3};
use crate::units::Length;

/// A board of `kind: boards`.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedBoard {
    /// Its key in the file.
    pub id: String,
    /// Thickness.
    pub thickness: Length,
    /// The outline in (u, v), before cuts.
    pub outline: Built,
    /// Name of each edge, in the order of the outline's nodes.
    pub edge_names: Vec<Option<String>>,
    /// The outline's origin on the face side, in the world, mm.
    pub at: Point3,
    /// Direction of u.
    pub along: Vec3,
    /// Direction of w.
    pub face: Vec3,
    /// How many are made.
    pub make: u32,
    /// The cuts, in order.
    pub cuts: Vec<PlacedCut>,
    /// A world point of the part to keep, mm.
    pub keep: Option<Point3>,
}

/// A cut of a board of `kind: boards`.
#[derive(Debug, Clone, PartialEq)]
pub enum PlacedCut {
    /// At a height above the floor.
    Level(Length),
    /// Through a world point, mm, square to a direction.
    Plane {
        /// A point of the plane.
        through: Point3,
        /// Its normal, either way.
        normal: Vec3,
    },
    /// Along a plane of another board before its cuts.
    Against {
        /// The other board's key.
        board: String,
        /// Which plane of it.
        surface: Surface,
    },
}

/// A plane of an uncut board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Surface {
    /// Its face side.
    Face,
    /// Its far side.
    Far,
    /// The edge of this name.
    Edge(String),
}
