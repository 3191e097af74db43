//! Numbers into boards in space: one file a kind of base, and the top.
//!
//! Guarantees to everything below: every board of a [`Piece`] is solved in its own axes and placed in the world, boards that
//! are alike (or each other's mirror image) are one [`SolvedBoard`], each landing is known from both sides, and what the
//! numbers cannot make is a finding and no board.

mod assemble;
mod beam;
mod body;
mod bored;
mod breadboard;
mod button;
mod carrying;
mod clash;
mod cure;
mod cutout;
mod edge;
mod end_piece;
mod fact;
mod faults;
mod fixing;
mod fixing_holes;
mod group;
mod hollow;
mod leaning_frames;
mod limits;
mod middle_line;
mod model;
mod names;
mod parts;
mod placed;
mod pocket;
mod problem;
mod same;
mod splayed_box;
mod splayed_legs;
mod surface;
mod top;
mod turned;
mod worked;

pub use body::{WorkedIn, surface_plane};
pub use bored::HoleWall;
pub use button::Button;
pub(crate) use cure::NumberChange;
pub use cure::{ThenStops, search};
pub use cutout::{CutFor, Cutout, JointCutout};
pub use end_piece::{EndPiece, end_piece, tongue_of};
pub use fact::{Fact, FactName, Value};
pub use fixing::{Hole, Landing, Play, landings};
pub use fixing_holes::Entry;
pub use hollow::{Hollow, hull};
pub(crate) use leaning_frames::Frame;
pub use middle_line::MiddleLine;
pub use parts::{BoardCopy, Handed, Held, Meet, Piece, SolvedBoard, Spot};
pub use pocket::Pocket;
pub(crate) use problem::{
    BoxProblem, FrameProblem, LegSide, LegsCross, LegsProblem, NoEnd, NumberProblem, PieceProblem, SidesFault,
    TaperBeyond, TongueSize, TongueWall, TopProblem,
};
pub use surface::{SurfaceAxes, plane_of};
pub use turned::{Turned, Turning, level_rim};
pub use worked::WorkedEdge;

use crate::board::{PartRole, spoken};
use crate::finding::{Finding, Place, Severity, nearest};
use crate::model::base::Base;
use crate::model::problem::{PartFor, Problem};
use crate::model::top::Top;
use crate::units::Notation;

/// Why a piece cannot be made.
#[derive(Debug, Clone)]
pub struct Refused {
    /// Everything that was found, without cures that have to be searched.
    pub findings: Vec<Finding>,
    /// The cures that can be searched.
    asks: Vec<cure::Ask>,
}

impl Refused {
    /// Whether there is a cure to search.
    pub fn asks_for_cures(&self) -> bool {
        !self.asks.is_empty()
    }

    /// The findings of a base and its top; each that stops the work says, where one number alone can cure it, the nearest value
    /// of it that does. That takes some hundred solutions.
    pub fn cured(&self, base: Option<&Base>, top: Option<&Top>, notation: &Notation) -> Vec<Finding> {
        self.cured_whole(base, top, notation, &|_, _| None)
    }

    /// As [`Refused::cured`], with what stops the work on a base and top after their boards are made, and did not before: a value with
    /// which something does is no cure where another is to be had.
    pub fn cured_whole(
        &self,
        base: Option<&Base>,
        top: Option<&Top>,
        notation: &Notation,
        then: ThenStops,
    ) -> Vec<Finding> {
        let mut findings = self.findings.clone();
        let tried = cure::Tried::default();
        cure::find(&mut findings, &self.asks, &cure::Patient { base, top, notation, tried: &tried, then });
        findings
    }
}

/// Solves a base and its top, as [`solve`]; what cannot be made says on request what would cure it.
///
/// # Errors
/// As [`solve`].
pub fn solve_to_cure(base: Option<&Base>, top: Option<&Top>, notation: &Notation) -> Result<Piece, Refused> {
    let mut work = worked(base, top, &top::Made::default(), notation);
    work.findings = once(std::mem::take(&mut work.findings));
    let asks = std::mem::take(&mut work.asks);
    work.finish().map(|piece| with_top(piece, top)).map_err(|findings| Refused { findings, asks })
}

/// Solves a base and its top.
///
/// `notation` is how lengths are written in the findings' words.
///
/// # Errors
/// Every finding, where one of them stops the work. Without such a one they are in [`Piece::findings`].
pub fn solve(base: Option<&Base>, top: Option<&Top>, notation: &Notation) -> Result<Piece, Vec<Finding>> {
    solve_to_cure(base, top, notation).map_err(|refused| refused.findings)
}

/// Marks how long a top with breadboard ends is before they are put on, and cuts what its fasteners need into the parts below it.
fn with_top(mut piece: Piece, top: Option<&Top>) -> Piece {
    if let (Some(top), Some(board)) = (top, piece.boards.iter_mut().find(|board| board.role == PartRole::Top)) {
        board.field = end_piece::field(board, top);
        fixing_holes::cut(&mut piece, top);
    }
    piece
}

/// As [`solve`], with another value, mm or degrees, for the number at a place in the file.
///
/// # Errors
/// As [`solve`].
pub fn solve_with(
    base: Option<&Base>,
    top: Option<&Top>,
    (pointer, value): (&str, f64),
    notation: &Notation,
) -> Result<Piece, Vec<Finding>> {
    let tried = cure::Tried::default();
    let (base, top) = cure::Patient { base, top, notation, tried: &tried, then: &|_, _| None }.with(pointer, value);
    solve(base.as_ref(), top.as_ref(), notation)
}

/// That the piece has no part of a name.
pub(crate) fn unknown_part(piece: &Piece, name: &str, place: Place, wanted: PartFor) -> Finding {
    let ids = || piece.boards.iter().map(|board| board.id.as_str());
    let near = nearest(name, ids()).map(str::to_owned);
    let known = ids().map(spoken).collect();
    Finding::of(Problem::UnknownPart { name: name.to_owned(), near, known, wanted }, place)
}

/// Findings that say the same of parts that are alike (both frames have such a rail) as one that says how many more there are.
fn once(findings: Vec<Finding>) -> Vec<Finding> {
    let mut kept: Vec<(Finding, usize)> = Vec::new();
    for finding in findings {
        match kept.iter_mut().find(|(known, _)| *known == finding) {
            Some((_, more)) => *more += 1,
            None => kept.push((finding, 0)),
        }
    }
    let said = kept.into_iter().map(|(finding, more)| if more > 0 { finding.and_more(more) } else { finding });
    said.collect()
}

/// All boards of a base and its top in the world, and what was found; not yet compared with one another. `made` keeps the top for
/// the next time.
fn worked<'a>(
    base: Option<&Base>,
    top: Option<&Top>,
    made: &top::Made,
    notation: &'a Notation,
) -> assemble::Work<'a> {
    let mut work = assemble::Work::new(notation);
    let top = top.filter(|t| top::numbers(t, &mut work));
    match base {
        Some(Base::LeaningFrames(frames)) => {
            leaning_frames::solve(frames, top, &mut work);
            work.tell_below_floor();
            work.tell_clashes(Severity::Stop);
        }
        Some(Base::SplayedLegs(legs)) => {
            splayed_legs::solve(legs, top, &mut work);
            work.tell_below_floor();
            work.tell_clashes(Severity::Stop);
        }
        Some(Base::SplayedBox(sides)) => {
            splayed_box::solve(sides, &mut work);
            work.carry_top();
        }
        Some(Base::Boards(boards)) => {
            placed::solve(boards, &mut work);
            work.carry_top();
            work.tell_missed_cuts();
            // Halved joints run into each other on purpose.
            work.tell_clashes(Severity::Warn);
        }
        None => {}
    }
    if let Some(top) = top {
        work.add_top(top, made);
    }
    work
}
