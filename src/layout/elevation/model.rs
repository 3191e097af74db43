//! The boards of a piece as they are looked at, whole or cut by a section.

use super::prism::Prism;
use super::view::View;
use super::visible::{Sight, look};
use crate::geometry::Plane;
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

    /// The lines of the boards, seen and hidden.
    pub fn seen(&self, view: &View) -> Sight {
        look(&self.prisms, view)
    }
}
