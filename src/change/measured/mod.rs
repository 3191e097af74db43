//! A part that exists as wood: as it was drawn, with each of its surfaces that was measured where the readings have it.
//!
//! A length along an edge is one point of the plane of an end: one, with the angles as drawn or as read, fixes it, three fix it whatever
//! its angles are, and what is more is a check. A width is one point of an edge. A curved edge stays as it was drawn, moved. What is
//! worked in an end goes with it, since it was marked from there; what is worked elsewhere stays.

mod doubted;
mod edges;
mod ends;
mod trimmed;

use super::place::readiness;
use super::wood::{Kind, Wood};
use crate::board::{Role, Source};
use crate::geometry::{Path, Segment};
use crate::model::made::{MadePart, Readings};
use crate::tolerance::SAME_PLACE;
use crate::units::Angle;
pub use doubted::{Far, FarReading};
use doubted::{accuracy, far, other_side};
use edges::edges;
use ends::ends;
use trimmed::trimmed;

/// A part that exists.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// It as wood.
    pub wood: Wood,
    /// Of readings that check each other the ends, each with how far they are from one plane at most, mm.
    pub residuals: Vec<(String, f64)>,
    /// How well its surfaces are known, mm: zero as drawn.
    pub accuracy: f64,
    /// What was read so far from what was drawn that it may be another unit or another place.
    pub far: Vec<Far>,
    /// The bevels that were read to the other side than they were drawn, by the name of their end or edge: as read, and as drawn.
    pub other_side: Vec<(String, [Angle; 2])>,
}

/// Why readings make no part.
#[derive(Debug, Clone, PartialEq)]
pub enum Unfit {
    /// It has no such edge or end; those that may be meant.
    NoSuch {
        /// What was named.
        name: String,
        /// What it has, in a maker's words.
        known: Vec<String>,
    },
    /// An edge does not run to the end that is meant.
    NotAtEnd {
        /// The edge.
        edge: String,
        /// The end.
        end: String,
    },
    /// An end that is square in the face has no side to which a mitre alone would turn it.
    SquareEnd(String),
    /// It is turned: its thickness alone is read.
    ThicknessOnly,
    /// It is drawn directly: its thickness and what was trimmed off its edges are read.
    NoBoard,
    /// It has no sawn end by which a length or a width would be meant.
    NoEnd,
    /// What was trimmed off an edge is told along its curve and by a straight cut.
    TrimmedTwice(String),
    /// An edge that goes all round has no side from which something is trimmed.
    AllRound(String),
    /// Nothing would be left of it.
    Nothing,
}

/// A part that exists, of what it was drawn as.
///
/// # Errors
/// Where the readings do not go with the part.
pub fn measured(drawn: &Wood, made: &MadePart) -> Result<Measured, Unfit> {
    let mut wood = drawn.clone();
    if !made.only.is_empty() {
        wood.worked.retain(|one| one.copies.is_empty() || one.copies.iter().any(|copy| made.only.contains(copy)));
    }
    wood.worked.retain(|one| made.worked || one.stands);
    let read = &made.read;
    let (is_board, is_turned) = (matches!(wood.kind, Kind::Board(_)), wood.turned.is_some());
    let mut of_any = Readings { thickness: read.thickness, ..Readings::default() };
    if is_turned && of_any != *read {
        return Err(Unfit::ThicknessOnly);
    }
    of_any = Readings { trimmed: read.trimmed.clone(), trimmed_straight: read.trimmed_straight.clone(), ..of_any };
    if !is_board && of_any != *read {
        return Err(Unfit::NoBoard);
    }
    if let Some(thickness) = read.thickness {
        wood.board.thickness = thickness.mm();
    }
    if let Some((name, _)) =
        read.trimmed.iter().find(|(name, _)| read.trimmed_straight.iter().any(|(n, _)| n == name))
    {
        return Err(Unfit::TrimmedTwice(name.clone()));
    }
    let mut residuals = Vec::new();
    let narrow = edges(&mut wood, drawn, read)?;
    wood.solid = wood.board.solid().map_err(|_| Unfit::Nothing)?;
    let short = ends(&mut wood, drawn, read, &mut residuals)?;
    // Where a width or a length tells what is left, that is what is left, whatever was trimmed.
    trimmed(&mut wood, drawn, read, &[narrow, short])?;
    wood.solid = wood.board.solid().map_err(|_| Unfit::Nothing)?;
    Ok(Measured {
        accuracy: accuracy(drawn, read),
        far: far(drawn, read),
        other_side: other_side(drawn, read),
        wood,
        residuals,
    })
}

/// The surface of a part that is called so.
fn surface(wood: &Wood, name: &str) -> Result<Source, Unfit> {
    let all = wood.surfaces();
    let found = all.iter().find(|source| wood.name_of(**source) == name);
    found.copied().ok_or_else(|| Unfit::NoSuch {
        name: name.to_owned(),
        known: all.iter().map(|source| wood.name_of(*source)).collect(),
    })
}

/// As [`surface`], of an end.
fn end(wood: &Wood, name: &str) -> Result<usize, Unfit> {
    let is_end = |index: &usize| wood.board.cuts.get(*index).is_some_and(|cut| cut.role == Role::End);
    match surface(wood, name)? {
        Source::Cut(index) if is_end(&index) => Ok(index),
        _ => {
            let known: Vec<String> = ends_of(wood).map(|index| wood.name_of(Source::Cut(index))).collect();
            Err(if known.is_empty() { Unfit::NoEnd } else { Unfit::NoSuch { name: name.to_owned(), known } })
        }
    }
}

/// Whether something was trimmed off a surface.
fn is_trimmed(wood: &Wood, read: &Readings, source: Source) -> bool {
    let name = wood.name_of(source);
    read.trimmed.iter().chain(&read.trimmed_straight).any(|(other, _)| *other == name)
}

/// The ends of a part, the most readily sawn first.
fn ends_of(wood: &Wood) -> impl Iterator<Item = usize> {
    let sawn = wood.surfaces().into_iter().filter_map(|source| match source {
        Source::Cut(index) => Some((index, wood.board.cuts.get(index)?)),
        _ => None,
    });
    let mut all: Vec<(u8, usize)> =
        sawn.filter(|(_, cut)| cut.role == Role::End).map(|(index, cut)| (readiness(&cut.place), index)).collect();
    all.sort_unstable();
    all.into_iter().map(|(_, index)| index)
}

/// The run of a surface on one side of a part, in order: a ring may begin within it.
fn run(wood: &Wood, source: Source, on_face: bool) -> Option<Path> {
    let ring = if on_face { &wood.solid.face } else { &wood.solid.far };
    let pieces: Vec<Segment> = ring.part(source).copied().collect();
    let breaks = |index: usize| {
        let before = pieces[(index + pieces.len() - 1) % pieces.len()];
        before.end().distance(pieces[index].start()) > SAME_PLACE
    };
    let first = (0..pieces.len()).find(|index| breaks(*index)).unwrap_or(0);
    let ordered: Vec<Segment> = pieces.iter().cycle().skip(first).take(pieces.len()).copied().collect();
    (!ordered.is_empty()).then(|| Path::open(ordered))
}
