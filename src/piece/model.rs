//! The piece as a model in space.

use super::parts::Piece;
use crate::geometry::{Scene, ScenePart};

impl Piece {
    /// One closed surface a board, with the places of its copies.
    pub fn scene(&self, title: &str) -> Scene {
        let part = |board: &super::SolvedBoard| ScenePart {
            name: board.id.to_string(),
            mesh: board.board.mesh(),
            places: board.copies.iter().map(|c| c.placement).collect(),
        };
        Scene { title: title.to_owned(), parts: self.boards.iter().map(part).collect() }
    }
}
