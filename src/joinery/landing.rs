//! Which ends of which boards a joint means.

use crate::board::Source;
use crate::finding::Finding;
use crate::geometry::{Path, Point, Point3};
use crate::piece::{Piece, SolvedBoard, plane_of};
use crate::project::joint::Joint;
use crate::project::nearest;

/// An end of one copy of a board on one copy of another.
#[derive(Debug, Clone)]
pub struct Landing {
    /// Index of the board whose end it is.
    pub from: usize,
    /// Which copy of it.
    pub from_copy: usize,
    /// The cut that made the end.
    pub cut: usize,
    /// Index of the board on which it lies.
    pub into: usize,
    /// Which copy of it.
    pub into_copy: usize,
    /// The surface on which it lies.
    pub on: Source,
    /// What of the end lies there, in the axes of the end face.
    pub contact: Vec<Path>,
}

/// Whether a board is one that a joint names: by its id, or by the part of it that is left when boards of one kind are told
/// apart (`leg` for `left_leg`).
fn is_named(board: &str, name: &str) -> bool {
    let bare = board.strip_suffix(name).is_some_and(|rest| rest.is_empty() || rest.ends_with('_'));
    bare || board.strip_prefix(name).is_some_and(|rest| rest.starts_with('_'))
}

/// Whether the piece has a part of the name.
fn known(piece: &Piece, joint: &Joint, name: &str, field: &str) -> Result<(), Box<Finding>> {
    if piece.boards.iter().any(|board| is_named(&board.id, name)) {
        return Ok(());
    }
    let ids = || piece.boards.iter().map(|board| board.id.as_str());
    let remedy = match nearest(name, ids()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("the parts are {}", ids().collect::<Vec<_>>().join(", ")),
    };
    let message = format!("the piece has no part \"{name}\"");
    Err(Box::new(Finding::stop("unknown-part", joint.place.child(field), message).remedy(remedy)))
}

/// Every landing that a joint means.
///
/// # Errors
/// Where no part has the name, or no end of the one lies on the other.
pub fn landings(piece: &Piece, joint: &Joint) -> Result<Vec<Landing>, Box<Finding>> {
    known(piece, joint, &joint.from, "from")?;
    known(piece, joint, &joint.into, "into")?;
    let mut found = Vec::new();
    for (from, board) in piece.boards.iter().enumerate().filter(|(_, b)| is_named(&b.id, &joint.from)) {
        for meet in &board.meets {
            let Source::Cut(cut) = meet.on else { continue };
            let into = piece.boards.iter().position(|b| b.id == meet.board && is_named(&b.id, &joint.into));
            let Some(into) = into else { continue };
            let other = &piece.boards[into];
            let on = other_side(board, cut, meet.own_copy, &meet.contact, other, meet.copy);
            found.extend(on.map(|on| Landing {
                from,
                from_copy: meet.own_copy,
                cut,
                into,
                into_copy: meet.copy,
                on,
                contact: meet.contact.clone(),
            }));
        }
    }
    if found.is_empty() {
        let message = format!("no sawn end of the {} lies on the {}", joint.from, joint.into);
        let boards = piece.boards.iter().filter(|b| is_named(&b.id, &joint.from));
        let mut others: Vec<&str> = boards.flat_map(|b| b.meets.iter().map(|m| m.board.as_str())).collect();
        others.sort_unstable();
        others.dedup();
        let remedy = match others.is_empty() {
            true => {
                format!("the {} meets nothing; exchange \"from\" and \"into\", or leave the joint out", joint.from)
            }
            false => {
                format!("the {} meets {}; the part whose end is sawn comes first", joint.from, others.join(", "))
            }
        };
        return Err(Box::new(Finding::stop("parts-do-not-meet", joint.place.clone(), message).remedy(remedy)));
    }
    Ok(found)
}

/// The surface of the other board on which a contact lies.
fn other_side(
    board: &SolvedBoard,
    cut: usize,
    own_copy: usize,
    contact: &[Path],
    other: &SolvedBoard,
    copy: usize,
) -> Option<Source> {
    let end = board.solid.ends.get(cut)?;
    let own = &board.copies.get(own_copy)?.placement;
    let at = &other.copies.get(copy)?.placement;
    let middle: Point = contact.first()?.centroid()?;
    let middle: Point3 = at.to_board(own.to_world(end.lift(middle)));
    let meets = other.meets.iter().filter(|m| m.own_copy == copy && m.board == board.id && m.copy == own_copy);
    let away = |on: Source| plane_of(&other.board, on).map_or(f64::MAX, |plane| plane.distance(middle).abs());
    meets.map(|m| m.on).min_by(|a, b| away(*a).total_cmp(&away(*b)))
}
