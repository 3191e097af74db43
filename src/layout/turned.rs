//! Turned legs on the floor: what is known of them there that a maker can measure.

use crate::board::EdgeName;
use crate::geometry::{Path, Point};
use crate::piece::{Piece, level_rim};

/// Whether the legs are turned and drilled into the top.
pub fn turned(piece: &Piece) -> bool {
    piece.boards.iter().any(|board| board.turned.is_some())
}

/// The rims of turned feet on the floor, as seen from above.
pub fn turned_feet(piece: &Piece) -> Vec<Path> {
    let turned =
        piece.boards.iter().filter_map(|board| Some((board, board.turned?, board.centre_at(&EdgeName::Foot)?)));
    let rims = turned.flat_map(|(board, turned, centre)| {
        board.copies.iter().filter_map(move |copy| {
            let at = copy.placement.to_world(centre);
            level_rim(Point::new(at.x, at.y), &copy.placement, turned.foot)
        })
    });
    rims.collect()
}
