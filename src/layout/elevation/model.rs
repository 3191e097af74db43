//! The boards of a piece as they are looked at, whole or cut by a section.

use super::edges::arrises;
use super::prism::Prism;
use super::view::View;
use super::visible::{Sight, look};
use crate::geometry::{Plane, Point3, Segment, Vec3};
use crate::piece::Piece;

/// The boards of a piece in space.
#[derive(Debug, Clone)]
pub struct Model {
    pub(super) prisms: Vec<Prism>,
}

impl Model {
    /// All copies of the boards whose ids pass.
    pub fn of(piece: &Piece, wanted: impl Fn(&str) -> bool) -> Model {
        let boards = piece.boards.iter().enumerate().filter(|(_, board)| wanted(&board.id));
        let copies = boards.flat_map(|(index, board)| {
            let copies = board.copies.iter().enumerate();
            copies.filter_map(move |(copy, at)| Prism::new(index, copy, &board.board, at.placement))
        });
        Model { prisms: copies.collect() }
    }

    /// What a section leaves: the wood behind a world plane whose normal points to the eye.
    pub fn behind(&self, plane: &Plane) -> Model {
        Model { prisms: self.prisms.iter().filter_map(|p| p.behind(plane)).collect() }
    }

    /// The lines of the boards that lie within `reach` mm of a level, as seen.
    pub fn lines_at_level(&self, level: f64, reach: f64, view: &View) -> Vec<Segment> {
        let own = self.prisms.iter().enumerate().flat_map(|(index, prism)| arrises(index, prism));
        let on_level = |p: Point3| (p.z - level).abs() < reach;
        let lines = own.filter(|line| [0.0, 0.5, 1.0].iter().all(|t| on_level(line.at(*t))));
        lines.flat_map(|line| line.seen(view)).map(|line| line.seen).collect()
    }

    /// How far the wood reaches along a direction of unit length, mm from the origin; `None` without boards.
    pub fn reach_along(&self, direction: Vec3) -> Option<(f64, f64)> {
        let lines = self.prisms.iter().enumerate().flat_map(|(index, prism)| arrises(index, prism));
        let along = |p: Point3| p.to_vec().dot(direction);
        let spans = lines.map(|l| (l.least(along, direction), -l.least(|p| -along(p), -direction)));
        spans.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// The lines of the boards, seen and hidden.
    pub fn seen(&self, view: &View) -> Sight {
        look(&self.prisms, view)
    }
}
