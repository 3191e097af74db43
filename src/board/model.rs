//! A board as a closed surface.

use super::Board;
use crate::geometry::{Mesh, Point3, Prism, polygon};

/// Curves are followed this closely, mm: half of what two mating surfaces may stand apart.
const TOLERANCE: f64 = 0.0005;

impl Board {
    /// The surface of the board with its cuts made, in board axes.
    pub fn mesh(&self) -> Mesh {
        let outline = self.outline();
        let mut solid = Prism::new(&polygon(&outline, TOLERANCE), self.thickness);
        self.cuts.iter().for_each(|cut| solid.cut(&cut.plane));
        let middle = outline.centroid().unwrap_or_default();
        solid.keep_nearest(self.keep.unwrap_or(Point3::new(middle.x, middle.y, -self.thickness / 2.0)));
        solid.mesh()
    }
}
