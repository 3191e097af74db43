//! What is cut into a board beside the mortises of its tenons: what fasteners need, and what a joint takes away that has no tenon.

use super::parts::SolvedBoard;
use super::surface::{SurfaceAxes, oriented, plane_of};
use crate::board::Source;
use crate::geometry::{Path, Point, Point3, Segment, Vec3, intersection};
use crate::solid::{Axes, Body, Does, End, Feature, Hair, Shape};
use crate::tolerance::BELOW_CUTTING;

/// Points of each round piece of a rim that are looked at.
const ROUND_STEPS: u32 = 32;

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
    /// JSON pointer of its numbers.
    pub pointer: &'a str,
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
            CutFor::Joint { name, pointer, on } => {
                Some(JointCutout { joint: name, pointer, on: *on, feature: &cutout.feature, solved: self })
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

    /// The corners of its mouth, board axes; `None` where it has no mouth in its own surface.
    pub fn corners(&self) -> Option<Vec<Point3>> {
        let (axes, mouths) = self.mouths_in_space(self.on)?;
        let all: Vec<Point3> = mouths.iter().flat_map(Path::nodes).map(|p| axes.lift(p)).collect();
        (!all.is_empty()).then_some(all)
    }

    /// The direction of its mouth's greater length in its surface, board axes.
    pub fn run(&self) -> Option<Vec3> {
        let (axes, mouths) = self.mouths_in_space(self.on)?;
        let mouth = mouths.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b))?;
        let way = if mouth.width() >= mouth.height() { Point::new(1.0, 0.0) } else { Point::new(0.0, 1.0) };
        (axes.lift(way) - axes.lift(Point::ORIGIN)).unit()
    }

    /// From where to where its mouth runs along the blank, from the blank's left end, mm.
    pub fn along(&self) -> Option<[f64; 2]> {
        let (axes, mouths) = self.mouths_in_space(self.on)?;
        let places = mouths.iter().flat_map(Path::nodes).map(|p| axes.lift(p).x - self.solved.blank().x0);
        let (low, high) = places.fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(x), high.max(x)));
        (low < high).then_some([low, high])
    }

    /// The flat surfaces of its board.
    fn surfaces(&self) -> impl Iterator<Item = Source> + use<> {
        let board = &self.solved.board;
        let cuts = (0..board.cuts.len()).map(Source::Cut);
        [Source::Face, Source::Far].into_iter().chain(cuts).chain((0..board.edges.len()).map(Source::Edge))
    }

    /// Corners and points of the rims of its mouths, and of its own faces in the wood, board axes.
    pub(super) fn points(&self) -> Vec<Point3> {
        let rim = |path: &Path| -> Vec<Point> {
            let steps = |piece: &Segment| if matches!(piece, Segment::Line(_)) { 1 } else { ROUND_STEPS };
            let along = |piece: &Segment| {
                let (piece, steps) = (*piece, steps(piece));
                (0..steps).map(move |step| piece.eval(f64::from(step) / f64::from(steps)))
            };
            path.segments().iter().flat_map(along).collect()
        };
        let mouths = self.surfaces().filter_map(|surface| self.mouths_in_space(surface));
        let mouths = mouths
            .flat_map(|(axes, mouths)| mouths.iter().flat_map(rim).map(|p| axes.lift(p)).collect::<Vec<Point3>>());
        let mut alone = self.solved.board.body();
        alone.features.push(self.feature.clone());
        let faces = alone.faces().unwrap_or_default();
        let own = faces
            .iter()
            .filter(|face| face.surface.feature == self.feature.id)
            .flat_map(|face| face.rings.iter().flat_map(rim).map(|p| face.axes.lift(p)).collect::<Vec<Point3>>());
        mouths.chain(own).collect()
    }

    /// Every surface of its board that it opens, told by its points.
    pub(super) fn opens(&self, points: &[Point3]) -> Vec<Source> {
        let board = &self.solved.board;
        let is_opened = |surface: &Source| match *surface {
            // A curved edge runs square to the face side: what of it lies on the edge as seen from there opens it.
            Source::Edge(index) if plane_of(board, *surface).is_none() => {
                let edge = board.edges.get(index).map(|edge| Path::open(edge.segments.clone()));
                let is_on = |p: &Point3| {
                    let near = edge.as_ref().and_then(|edge| edge.nearest(Point::new(p.x, p.y)));
                    near.is_some_and(|near| near.0 < BELOW_CUTTING)
                };
                points.iter().any(is_on)
            }
            flat => !self.mouths(flat).is_empty(),
        };
        self.surfaces().filter(is_opened).collect()
    }

    /// The directions of its frame, its axis the last.
    pub(super) fn sides(&self) -> Option<[Vec3; 3]> {
        let Does::Take(shape) = &self.feature.does else { return None };
        let frame = match shape {
            Shape::Prism(prism) => prism.frame,
            Shape::Turned(turned) => turned.frame,
        };
        Some([frame.u(), frame.v(), frame.w()])
    }

    /// The way out of it, square to its surface; of a curved edge where that lies nearest to a point of it.
    pub(super) fn out(&self, of: Point3) -> Option<Vec3> {
        let board = &self.solved.board;
        if let Some(plane) = plane_of(board, self.on) {
            return Some(plane.normal());
        }
        let Source::Edge(index) = self.on else { return None };
        let edge = Path::open(board.edges.get(index)?.segments.clone());
        let along = edge.tangent_at(edge.nearest(Point::new(of.x, of.y))?.1)?;
        // The outline runs anticlockwise.
        Vec3::new(along.y, -along.x, 0.0).unit()
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
