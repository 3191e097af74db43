//! The piece as a model in space.

use super::parts::{Piece, SolvedBoard};
use crate::geometry::{Scene, ScenePart};

impl Piece {
    /// One closed surface a board, with the places of its copies; several where joints make copies differ.
    pub fn scene(&self, title: &str) -> Scene {
        Scene { title: title.to_owned(), parts: self.boards.iter().flat_map(parts).collect() }
    }
}

/// The surfaces of a board, each with the copies that have it.
fn parts(board: &SolvedBoard) -> Vec<ScenePart> {
    let body = board.body();
    let part = |copies: Vec<usize>| {
        // Where a joint's surface does not close, which no board is known to do, the board is shown as it was sawn.
        let own = copies.first().and_then(|copy| board.board.mesh_of(&body.of_copy(*copy)));
        ScenePart {
            name: board.id.to_string(),
            mesh: own.unwrap_or_else(|| board.board.mesh()),
            places: copies.into_iter().map(|i| (i, board.copies[i].placement)).collect(),
        }
    };
    board.alike().into_iter().map(part).collect()
}
