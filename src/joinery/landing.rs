//! Which ends of which boards a joint means.

use super::{NoMeeting, SeatProblem};
use crate::board::{PartId, Source, spoken};
use crate::finding::{Finding, Place};
use crate::geometry::{Path, Point, Point3};
use crate::model::problem::PartFor;
use crate::piece::{Piece, SolvedBoard, plane_of, unknown_part};

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

/// Two parts of which the ends of one lie on the other, as the file names them.
#[derive(Debug, Clone, Copy)]
pub struct Pair<'a> {
    /// The part whose ends they are.
    pub from: &'a str,
    /// The part on which they lie.
    pub into: &'a str,
    /// Where the names stand: in its fields `from` and `into`.
    pub place: &'a Place,
}

/// The boards that a name means, by their index: the one whose id it is, else those of its role, which have other ids where they
/// are told apart (`leg` for `left_leg`), else the one that counts so among those of its role (`side_2` for the second kind of side: older
/// files have such ids). A name may also stand as patterns and schedules write it, "top rail".
pub fn named(piece: &Piece, name: &str) -> Vec<usize> {
    let those = |is: &dyn Fn(&SolvedBoard) -> bool| -> Vec<usize> {
        piece.boards.iter().enumerate().filter(|(_, board)| is(board)).map(|(i, _)| i).collect()
    };
    let counted = || {
        let (role, number) = name.rsplit_once(['_', ' '])?;
        let before = number.parse::<usize>().ok()?.checked_sub(1).filter(|before| *before > 0)?;
        those(&|board| board.role.is_called(role)).get(before).copied()
    };
    let ways = [those(&|board| board.id.is_called(name)), those(&|board| board.role.is_called(name))];
    ways.into_iter().find(|own| !own.is_empty()).unwrap_or_else(|| counted().into_iter().collect())
}

/// Whether the piece has a part of the name.
///
/// # Errors
/// Where it has none, with those that it has.
pub fn known(piece: &Piece, place: &Place, name: &str, field: &str) -> Result<(), Box<Finding>> {
    if !named(piece, name).is_empty() {
        return Ok(());
    }
    Err(Box::new(unknown_part(piece, name, place.child(field), PartFor::Joint)))
}

/// Every landing of the one part on the other.
///
/// # Errors
/// Where no part has the name, or no end of the one lies on the other.
pub fn landings(piece: &Piece, pair: &Pair) -> Result<Vec<Landing>, Box<Finding>> {
    known(piece, pair.place, pair.from, "from")?;
    known(piece, pair.place, pair.into, "into")?;
    let (own, into_boards) = (named(piece, pair.from), named(piece, pair.into));
    let found = on(piece, &own, &into_boards);
    if found.is_empty() {
        let boards = own.iter().map(|from| &piece.boards[*from]);
        let others = piece.once_each(boards.flat_map(|b| &b.meets).map(|meet| &meet.board));
        let why = match others.is_empty() {
            true => NoMeeting::Nothing,
            false if reversed(piece, &own, &into_boards) => NoMeeting::Reversed,
            false => NoMeeting::Others(others.into_iter().map(PartId::words).collect()),
        };
        let (from, into) = (spoken(pair.from), spoken(pair.into));
        let problem = SeatProblem::PartsDoNotMeet { from, into, why };
        return Err(Box::new(Finding::of(problem, pair.place.clone())));
    }
    Ok(found)
}

/// Every landing of the ends of some boards on others, each by its index.
pub fn on(piece: &Piece, own: &[usize], others: &[usize]) -> Vec<Landing> {
    let mut found = Vec::new();
    for from in own.iter().copied() {
        let board = &piece.boards[from];
        for meet in &board.meets {
            let Source::Cut(cut) = meet.on else { continue };
            let into = others.iter().copied().find(|into| piece.boards[*into].id == meet.board);
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
    found
}

/// The landings of fixed tenons. Where two sawn ends lie on each other, each lies on the other's landing: the tenon stands on the
/// one that is cut first, and the other has the mortise.
///
/// # Errors
/// Where the same end of a board would have both.
pub fn one_way(all: Vec<Landing>, place: &Place) -> Result<Vec<Landing>, Box<Finding>> {
    let back = |a: &Landing, b: &Landing| {
        (a.into, a.into_copy, a.on) == (b.from, b.from_copy, Source::Cut(b.cut))
            && (b.into, b.into_copy, b.on) == (a.from, a.from_copy, Source::Cut(a.cut))
    };
    let end = |landing: &Landing| (landing.from, landing.cut);
    if all.iter().any(|a| all.iter().any(|b| back(a, b) && end(a) == end(b))) {
        return Err(Box::new(Finding::of(SeatProblem::BothEnds {}, place.child("kind"))));
    }
    Ok(all.iter().filter(|a| !all.iter().any(|b| back(a, b) && end(b) < end(a))).cloned().collect())
}

/// Whether a sawn end of one of the boards named second lies on one of those named first.
fn reversed(piece: &Piece, own: &[usize], others: &[usize]) -> bool {
    let is_own = |id: &PartId| own.iter().any(|index| piece.boards[*index].id == *id);
    let meets = others.iter().flat_map(|index| &piece.boards[*index].meets);
    meets.into_iter().any(|meet| matches!(meet.on, Source::Cut(_)) && is_own(&meet.board))
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
