//! One flat board: an outline swept square to its face side, cut by planes.
//!
//! Guarantees to everything below: a [`Solid`] is not empty, its two faces and its ends are exact (an arc stays an arc),
//! every piece of their rims knows which edge or cut it comes from, and angles are those of the saw, not of the room.

mod end;
mod model;
mod mortise;
mod names;
mod saw;
mod shape;
mod solid;

pub use end::EndFace;
pub use mortise::{Fitting, Mortise};
pub use names::{Against, EdgeName, PartId, PartRole, Surface, spoken};
pub use saw::{Angles, Corner, FarSide, Gap, Register, SawCut};
pub use shape::{Arris, Ring, Source};
pub use solid::{Solid, Vanished};

use crate::geometry::{Affine, Path, Plane, Point3, Segment, Vec3};
use crate::units::Angle;
use std::borrow::Cow;
use std::ops::Range;

/// A named edge of a board's outline, before cuts.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// What it is.
    pub name: EdgeName,
    /// Its pieces in order, in (u, v), mm.
    pub segments: Vec<Segment>,
}

impl Edge {
    /// An edge of the given pieces.
    pub fn new(name: EdgeName, segments: Vec<Segment>) -> Self {
        Edge { name, segments }
    }

    /// Whether the edge is one straight line.
    pub fn is_straight(&self) -> bool {
        matches!(self.segments.as_slice(), [Segment::Line(_)])
    }
}

/// Edges of an outline, one after the other, that are one to a maker.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeRun<'a> {
    /// Their indices.
    pub edges: Range<usize>,
    /// What they are together.
    pub name: &'a EdgeName,
}

/// What a cut is for: it ends the board or it rips an edge of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// It makes an end.
    End,
    /// It makes a long edge.
    Edge,
}

/// The setting that hurried practice would use for a cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nominal {
    /// Angle in the face from square.
    pub mitre: Angle,
    /// Tilt of the blade: 0 for a square blade.
    pub bevel: Angle,
    /// The number of the file it is taken from.
    pub from: &'static str,
}

/// A plane that cuts a board.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// What the cut makes.
    pub place: EdgeName,
    /// What stands against it, where anything does.
    pub against: Option<Against>,
    /// End or edge.
    pub role: Role,
    /// The plane in board axes, its normal out of the board.
    pub plane: Plane,
    /// The setting that hurried practice would use, where there is one.
    pub nominal: Option<Nominal>,
}

/// A board in its own axes: u along, v across, w out of the face side (the face lies at w = 0, the far side at -thickness).
#[derive(Debug, Clone, PartialEq)]
pub struct Board {
    /// Thickness, mm, above zero.
    pub thickness: f64,
    /// The outline before cuts: edges joined end to end into one ring that runs anticlockwise.
    pub edges: Vec<Edge>,
    /// The cuts.
    pub cuts: Vec<Cut>,
    /// A point of the part to keep, where the cuts leave several.
    pub keep: Option<Point3>,
    /// What a maker calls the face side and the far side: `outside`, `inside`.
    pub sides: [&'static str; 2],
}

impl Board {
    /// The outline before cuts.
    pub fn outline(&self) -> Path {
        Path::closed(self.edges.iter().flat_map(|e| e.segments.iter().copied()).collect())
    }

    /// The edges of the outline as a maker tells them: landings belong to the edge that they flatten, and pieces of one name that
    /// follow each other are one.
    pub fn edge_runs(&self) -> Vec<EdgeRun<'_>> {
        let mut runs: Vec<EdgeRun> = Vec::new();
        for (index, Edge { name, .. }) in self.edges.iter().enumerate() {
            match runs.last_mut() {
                Some(run) if run.name == name || name.is_landing() => run.edges.end = index + 1,
                Some(run) if run.name.is_landing() => (run.edges.end, run.name) = (index + 1, name),
                _ => runs.push(EdgeRun { edges: index..index + 1, name }),
            }
        }
        runs
    }

    /// What a maker calls the surface from which a piece of a rim comes; of several cuts that make the same, the later ones by
    /// their number.
    pub fn name_of(&self, source: Source) -> Cow<'_, str> {
        match (source, self.edge_of(source), self.nth(source)) {
            (Source::Face, ..) => Cow::Borrowed(self.sides[0]),
            (Source::Far, ..) => Cow::Borrowed(self.sides[1]),
            (_, Some(name), 1) => name.words(),
            _ => Cow::Owned(self.words_of(&self.surface(source))),
        }
    }

    /// What a maker calls a surface.
    pub fn words_of(&self, surface: &Surface) -> String {
        match surface {
            Surface::Face => self.sides[0].to_owned(),
            Surface::Far => self.sides[1].to_owned(),
            Surface::Edge { name, nth: 1 } => name.words().into_owned(),
            Surface::Edge { name, nth } => format!("{} {nth}", name.words()),
        }
    }

    /// What the edge or the cut is from which a piece of a rim comes; `None` for the two faces.
    pub fn edge_of(&self, source: Source) -> Option<&EdgeName> {
        match source {
            Source::Face | Source::Far => None,
            Source::Edge(i) => self.edges.get(i).map(|edge| &edge.name),
            Source::Cut(i) => self.cuts.get(i).map(|cut| &cut.place),
        }
    }

    /// A surface by what it is.
    pub fn surface(&self, source: Source) -> Surface {
        match (source, self.edge_of(source)) {
            (Source::Face, _) => Surface::Face,
            (Source::Far, _) => Surface::Far,
            (_, name) => Surface::Edge { name: name.cloned().unwrap_or(EdgeName::Edge), nth: self.nth(source) },
        }
    }

    /// Which of the cuts that make the same end or edge one is, from 1.
    fn nth(&self, source: Source) -> usize {
        let Source::Cut(i) = source else { return 1 };
        let before = self.cuts.iter().take(i);
        1 + before.filter(|cut| Some(&cut.place) == self.edge_of(source)).count()
    }

    /// The first cut that makes such an end or edge.
    pub fn cut(&self, place: &EdgeName) -> Option<usize> {
        self.cuts.iter().position(|c| c.place == *place)
    }

    /// The first edge of the outline that is such.
    pub fn edge(&self, name: &EdgeName) -> Option<usize> {
        self.edges.iter().position(|edge| edge.name == *name)
    }

    /// The same wood with v run the other way (`-v`).
    pub fn flipped_across(&self) -> Board {
        self.flipped(Affine::FLIP_Y, |n| Vec3::new(n.x, -n.y, n.z), Point3::ORIGIN)
    }

    /// The same wood with u run the other way (`-u`): what was its left end is its right end, and is called so.
    pub fn flipped_along(&self) -> Board {
        let mut board = self.flipped(Affine::FLIP_X, |n| Vec3::new(-n.x, n.y, n.z), Point3::ORIGIN);
        board.edges.iter_mut().for_each(|edge| edge.name = edge.name.along_flipped());
        board.cuts.iter_mut().for_each(|cut| cut.place = cut.place.along_flipped());
        let ends = [EdgeName::LeftEnd, EdgeName::RightEnd].map(|end| board.cut(&end));
        // In the order of every board.
        if let [Some(left), Some(right)] = ends {
            board.cuts.swap(left.max(right), left.min(right));
        }
        board
    }

    /// Whether it lies in its piece: it has a left or a right end, so that one of its long edges is up.
    pub fn lies(&self) -> bool {
        let names = self.edges.iter().map(|edge| &edge.name).chain(self.cuts.iter().map(|cut| &cut.place));
        names.into_iter().any(EdgeName::is_end)
    }

    /// The board under a flat reflection, given for the outline, for directions, and by where the origin goes.
    fn flipped(&self, map: Affine, turn: impl Fn(Vec3) -> Vec3, origin: Point3) -> Board {
        let point = |p: Point3| origin + turn(p.to_vec());
        let edge = |e: &Edge| Edge {
            name: e.name.clone(),
            segments: e.segments.iter().rev().map(|s| s.transformed(map).reversed()).collect(),
        };
        let cut = |c: &Cut| {
            let on_plane = Point3::ORIGIN + c.plane.normal() * c.plane.offset();
            // A reflection keeps unit normals, so the plane cannot fail to be one.
            let plane = Plane::through(point(on_plane), turn(c.plane.normal())).unwrap_or(c.plane);
            Cut { plane, ..c.clone() }
        };
        Board {
            thickness: self.thickness,
            edges: self.edges.iter().rev().map(edge).collect(),
            cuts: self.cuts.iter().map(cut).collect(),
            keep: self.keep.map(point),
            sides: self.sides,
        }
    }
}
