//! A board as a solid of features, and as a closed surface.

use super::Board;
use crate::geometry::{Mesh, Placement, Point3, Vec3};
use crate::solid::{Body, Does, End, Feature, FeatureId, Prism, Shape, Why};
use crate::tolerance::MATED;

impl Board {
    /// The board as sawn: its blank and its cuts, in board axes.
    pub fn body(&self) -> Body {
        let frame = Placement::of_axes(Point3::ORIGIN, [Vec3::X, Vec3::Y, Vec3::Z]);
        let ends = [End::To(-self.thickness), End::To(0.0)];
        let blank = Does::Add(Shape::Prism(Prism { outline: self.kept_outline(), frame, ends }));
        let id = |why: Why, of: usize| FeatureId { why, of, number: 0 };
        let cuts = self.cuts.iter().enumerate();
        let cuts = cuts.map(|(i, cut)| Feature::of_all(id(Why::Cut, i), Does::Beyond(cut.plane)));
        Body { features: std::iter::once(Feature::of_all(id(Why::Blank, 0), blank)).chain(cuts).collect() }
    }

    /// The surface of a solid made of the board, in board axes; `None` where a feature leaves no closed surface.
    pub fn mesh_of(&self, body: &Body) -> Option<Mesh> {
        let middle = self.outline().centroid().unwrap_or_default();
        let keep = self.keep.unwrap_or(Point3::new(middle.x, middle.y, -self.thickness / 2.0));
        body.mesh(MATED, keep)
    }

    /// The surface of the board with its cuts made, in board axes.
    pub fn mesh(&self) -> Mesh {
        self.mesh_of(&self.body()).unwrap_or_default()
    }
}
