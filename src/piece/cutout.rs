//! What is cut into a board beside the mortises of its tenons: what fasteners need, and what a joint takes away that has no tenon.

use super::parts::SolvedBoard;
use super::surface::{SurfaceAxes, oriented, plane_of};
use crate::board::Source;
use crate::geometry::{Path, Point, Point3, intersection};
use crate::solid::{Axes, Body, Does, End, Feature, Hair, Shape};

/// For what something is cut.
#[derive(Debug, Clone, PartialEq)]
pub enum CutFor {
    /// A fastener of the top, which has drawings and tables of its own.
    Fastener,
    /// A joint: patterns, schedule and codes take it from here.
    Joint {
        /// The joint's name.
        name: String,
        /// JSON pointer of its numbers.
        pointer: String,
        /// The surface from which it is cut.
        on: Source,
    },
}

/// Something that is cut into a board.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutout {
    /// For what.
    pub made_for: CutFor,
    /// What it takes of the solid.
    pub feature: Feature,
}

/// A joint's cutout on its board.
#[derive(Debug, Clone, Copy)]
pub struct JointCutout<'a> {
    /// The joint's name.
    pub joint: &'a str,
    /// The surface from which it is cut.
    pub on: Source,
    /// What it takes of the solid.
    pub feature: &'a Feature,
    solved: &'a SolvedBoard,
}

impl SolvedBoard {
    /// Takes out what the joint with these numbers made of it.
    pub fn take_out(&mut self, joint: &str) {
        self.mortises.retain(|mortise| mortise.pointer != joint);
        self.cutouts.retain(|cutout| !matches!(&cutout.made_for, CutFor::Joint { pointer, .. } if pointer == joint));
    }

    /// Takes out what all joints made of it.
    pub fn take_out_joints(&mut self) {
        self.mortises.clear();
        self.cutouts.retain(|cutout| cutout.made_for == CutFor::Fastener);
    }

    /// What joints cut into it that is no mortise of a tenon, in the order of the joints.
    pub fn joint_cutouts(&self) -> impl Iterator<Item = JointCutout<'_>> {
        self.cutouts.iter().filter_map(|cutout| match &cutout.made_for {
            CutFor::Joint { name, on, .. } => {
                Some(JointCutout { joint: name, on: *on, feature: &cutout.feature, solved: self })
            }
            CutFor::Fastener => None,
        })
    }
}

impl JointCutout<'_> {
    /// What of a flat surface it takes away, in the axes of the surface; none on a curved edge, and where it does not come to it.
    pub fn mouths(&self, surface: Source) -> Vec<Path> {
        self.mouths_in_space(surface).map(|(_, mouths)| mouths).unwrap_or_default()
    }

    fn mouths_in_space(&self, surface: Source) -> Option<(SurfaceAxes, Vec<Path>)> {
        let (board, solid) = (&self.solved.board, &self.solved.solid);
        let (own, plane) = (SurfaceAxes::of(board, solid, surface)?, plane_of(board, surface)?);
        let Does::Take(shape) = &self.feature.does else { return None };
        let [origin, x, y] = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)].map(|p| own.lift(Point::from(p)));
        let axes = Axes { plane, origin, x: x - origin, y: y - origin };
        let alone = Body { features: vec![Feature::of_all(self.feature.id, Does::Add(shape.clone()))] };
        let taken = oriented(alone.on_plane(&axes, Hair::In)?.into_iter());
        let mouths = intersection(own.rims(), &taken)?;
        Some((own, mouths))
    }

    /// Length and width of its mouth, and how deep it goes from there, mm; `None` where it has no mouth in its own surface.
    pub fn size(&self) -> Option<[f64; 3]> {
        let mouth = self.mouths(self.on).iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b))?;
        Some([mouth.width(), mouth.height(), self.depth()?])
    }

    /// The middle of its mouth, board axes.
    pub fn middle(&self) -> Option<Point3> {
        let (axes, mouths) = self.mouths_in_space(self.on)?;
        let mouth = mouths.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b))?;
        Some(axes.lift(mouth.center()))
    }

    /// From where to where its mouth runs along the blank, from the blank's left end, mm.
    pub fn along(&self) -> Option<[f64; 2]> {
        let (axes, mouths) = self.mouths_in_space(self.on)?;
        let places = mouths.iter().flat_map(Path::nodes).map(|p| axes.lift(p).x - self.solved.blank().x0);
        let (low, high) = places.fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(x), high.max(x)));
        (low < high).then_some([low, high])
    }

    /// How far its deepest place lies below its surface, mm.
    fn depth(&self) -> Option<f64> {
        let plane = plane_of(&self.solved.board, self.on)?;
        let Does::Take(Shape::Prism(prism)) = &self.feature.does else { return None };
        let outline = prism.outline.segments().iter().flat_map(|piece| [piece.start(), piece.eval(0.5)]);
        let deep = |p: Point| {
            let ends = prism.ends.iter().filter_map(move |end| match end {
                End::To(along) => Some(-plane.distance(prism.frame.to_world(Point3::new(p.x, p.y, *along)))),
                End::On(_) | End::Open => None,
            });
            ends.fold(f64::MIN, f64::max)
        };
        let deepest = outline.map(deep).fold(f64::MIN, f64::max);
        (deepest > 0.0).then_some(deepest)
    }
}
