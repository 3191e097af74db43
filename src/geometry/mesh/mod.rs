//! Closed surfaces of triangles, and the solids that they are made from: prisms cut by planes.
//!
//! A solid's faces share their corners, and a cut makes one new corner on each edge that it passes, so that the surface stays
//! closed whatever the cuts.

mod facet;
mod prism;
mod ring;

pub use prism::Prism;
pub use ring::polygon;

use super::{Placement, Point3};

/// A closed surface: each edge is shared by two triangles that run along it in opposite directions.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mesh {
    /// Corners, mm.
    pub vertices: Vec<Point3>,
    /// Three corners each, anticlockwise as seen from outside.
    pub triangles: Vec<[u32; 3]>,
}

impl Mesh {
    /// The enclosed volume, mm³.
    pub fn volume(&self) -> f64 {
        let Some(origin) = self.vertices.first() else { return 0.0 };
        let corner = |i: u32| self.vertices[i as usize] - *origin;
        let sixths = self.triangles.iter().map(|[a, b, c]| corner(*a).dot(corner(*b).cross(corner(*c))));
        sixths.sum::<f64>() / 6.0
    }
}

/// A mesh and the places where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct ScenePart {
    /// Its name.
    pub name: String,
    /// Its surface in its own axes.
    pub mesh: Mesh,
    /// Whether that is the surface of the part as sawn, because with its joints it does not close.
    pub as_sawn: bool,
    /// Which copies of the part it shows, from 0, and where each stands.
    pub places: Vec<(usize, Placement)>,
}

/// A model of meshes in space; z is up.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scene {
    /// Title of the whole.
    pub title: String,
    /// Its parts.
    pub parts: Vec<ScenePart>,
}
