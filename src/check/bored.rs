//! The wood that stays beside the slots and screw holes of a top.
//!
//! They are drawn plumb, as screws stand in a level top: in a part that leans they draw near to one of its faces on their way down, and
//! may come out of it. What is too thin at the top already is told by another rule.

use super::falls_short;
use super::fixing::{asks_slots, leaves_wall};
use super::heads::{has_pocket, screwed};
use super::problem::TopProblem;
use crate::finding::{Finding, Place};
use crate::model::top::Top;
use crate::piece::{Landing, Piece};
use crate::units::Length;

/// The holes that leave too little wood beside them, the worst of each board, with the board.
pub(super) fn check(piece: &Piece, top: Option<&Top>) -> Vec<(Finding, usize)> {
    let Some((top, screw)) = top.and_then(|top| Some((top, screwed(top)?))) else { return Vec::new() };
    let boards = piece.boards.iter().enumerate();
    let found = boards.filter_map(|(index, board)| {
        let mut own = piece.held.landings.iter().filter(|landing| landing.board == index);
        if asks_slots(top) && own.any(|landing| !leaves_wall(landing, screw)) {
            return None;
        }
        let wall = board.hole_wall(None)?;
        if !falls_short(wall.thickness, Landing::WALL) {
            return None;
        }
        let problem = TopProblem::HoleWall {
            part: board.label.clone(),
            surface: board.board.name_of(wall.surface).into_owned(),
            is_widened: wall.is_widened,
            wall: Length::from_mm(wall.thickness),
            wanted: Length::from_mm(Landing::WALL),
            pocket: has_pocket(piece, top, index),
        };
        Some((Finding::of(problem, Place::pointer("/top/fasteners")), index))
    });
    found.collect()
}

/// Whether in the part with these numbers every hole leaves enough wood.
pub(super) fn is_walled(piece: &Piece, pointer: &str) -> bool {
    let own = piece.boards.iter().filter(|board| board.pointer == pointer);
    own.filter_map(|board| board.hole_wall(None)).all(|wall| !falls_short(wall.thickness, Landing::WALL))
}
