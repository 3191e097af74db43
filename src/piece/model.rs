//! The piece as a model in space.

use super::PieceProblem;
use super::parts::{Piece, SolvedBoard};
use crate::finding::{Finding, Place};
use crate::geometry::{Scene, ScenePart};

impl Piece {
    /// One closed surface a board, with the places of its copies; several where joints make copies differ.
    pub fn scene(&self, title: &str) -> Scene {
        Scene { title: title.to_owned(), parts: self.boards.iter().flat_map(parts).collect() }
    }

    /// What is to be told of a scene of this piece: the boards that it shows as sawn.
    pub fn shown_as_sawn(&self, scene: &Scene) -> Vec<Finding> {
        let shown =
            |board: &&SolvedBoard| scene.parts.iter().any(|part| part.as_sawn && part.name == board.id.as_str());
        let told = |board: &SolvedBoard| {
            let problem = PieceProblem::ShownAsSawn { part: board.label.clone() };
            Finding::of(problem, Place::pointer(board.pointer.clone()))
        };
        self.boards.iter().filter(shown).map(told).collect()
    }
}

/// The surfaces of a board, each with the copies that have it.
fn parts(board: &SolvedBoard) -> Vec<ScenePart> {
    let body = board.body();
    let part = |copies: Vec<usize>| {
        // Where a joint's surface does not close, which no board is known to do, the board is shown as it was sawn, and that is told.
        let own = copies.first().and_then(|copy| board.board.mesh_of(&body.of_copy(*copy)));
        ScenePart {
            name: board.id.to_string(),
            as_sawn: own.is_none(),
            mesh: own.unwrap_or_else(|| board.board.mesh()),
            places: copies.into_iter().map(|i| (i, board.copies[i].placement)).collect(),
        }
    };
    board.alike().into_iter().map(part).collect()
}
