//! The wedges on which a part lies while a mortise is cut that goes in off square to its side.

use super::plan::Plan;
use super::step::{Reference, Side, Use, Work};
use crate::board::{Fitting, Mortise, Role, Source};
use crate::piece::{Piece, SolvedBoard};
use crate::tolerance::SHOWN_SQUARE;
use std::f64::consts::FRAC_1_SQRT_2;

/// Wedges under a part that bring a mortise upright.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wedged {
    /// The side of the blank on which the part lies, there or gone.
    pub(super) lies_on: Side,
    /// The wedges, the upper first: one, or two that lie across each other.
    pub(super) wedges: Vec<Wedge>,
}

/// One wedge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wedge {
    /// Its angle, degrees, above zero.
    pub(super) degrees: f64,
    /// Where its thick end is.
    pub(super) thick_at: ThickAt,
}

/// Where the thick end of a wedge is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ThickAt {
    /// At an end that is cut.
    End(Source),
    /// At the end on the right as the part's sheet shows it, or on the left: it is drawn with the outline.
    Drawn {
        /// Whether it is the right one.
        is_right: bool,
    },
    /// At a side of the blank.
    Side(Side),
}

impl Wedged {
    /// Under the part at a step of a plan: none where that cuts no mortise, or all go in square. What several mortises have alike stands once.
    pub(super) fn at(plan: &Plan, piece: Option<&Piece>, step: usize) -> Vec<Wedged> {
        let Some(cut) = plan.steps.get(step) else { return Vec::new() };
        let (Work::Mortise { joint, on, .. }, Some(part)) = (&cut.work, cut.part) else { return Vec::new() };
        let missed = plan.missed.iter().filter(|missed| missed.step == step).map(|missed| &missed.need);
        let bed = cut.needs.iter().chain(missed).find_map(|need| match (need.used, need.on) {
            (Use::Bed, Reference::Side(side)) => Some(side),
            _ => None,
        });
        let (Some(side), Some(board)) = (bed, piece.and_then(|piece| piece.boards.get(part))) else {
            return Vec::new();
        };
        let own = board.mortises.iter().filter(|own| own.of == *joint && own.on == Some(*on));
        let cut = own.filter(|own| own.fitting != Fitting::Standing);
        let mut all: Vec<Wedged> = Vec::new();
        for wedged in cut.filter_map(|mortise| Wedged::of(board, side, off_bed(mortise, side)?)) {
            if !all.iter().any(|other| other.is_like(&wedged)) {
                all.push(wedged);
            }
        }
        all
    }

    /// Of a board that lies on a side, for a mortise that goes in so far off square to it; `None` where that is square.
    fn of(board: &SolvedBoard, side: Side, off: [f64; 2]) -> Option<Wedged> {
        let across = match side {
            Side::Upper | Side::Lower => [Side::Far, Side::Face],
            Side::Face | Side::Far => [Side::Lower, Side::Upper],
        };
        // A wedge lifts what the mortise runs away from.
        let thick = [end(board, off[0] < 0.0), ThickAt::Side(across[usize::from(off[1] < 0.0)])];
        let is_off = |(off, _): &(f64, ThickAt)| off.abs() > SHOWN_SQUARE;
        let wedges = off.into_iter().zip(thick).filter(is_off);
        let wedges: Vec<Wedge> = wedges.map(|(off, thick_at)| Wedge { degrees: off.abs(), thick_at }).collect();
        (!wedges.is_empty()).then_some(Wedged { lies_on: side, wedges })
    }

    /// Whether the same wedges do.
    fn is_like(&self, other: &Wedged) -> bool {
        let is_same = |(one, other): (&Wedge, &Wedge)| {
            one.thick_at == other.thick_at && (one.degrees - other.degrees).abs() < SHOWN_SQUARE
        };
        let is_count = self.wedges.len() == other.wedges.len();
        self.lies_on == other.lies_on && is_count && self.wedges.iter().zip(&other.wedges).all(is_same)
    }
}

/// An end of a board, that at the greater u or the other.
fn end(board: &SolvedBoard, is_greater: bool) -> ThickAt {
    let mut cuts = board.board.cuts.iter().enumerate();
    let own = cuts.find(|(_, cut)| cut.role == Role::End && (cut.plane.normal().x > 0.0) == is_greater);
    own.map_or(ThickAt::Drawn { is_right: is_greater }, |(index, _)| ThickAt::End(Source::Cut(index)))
}

/// How far off square to the side on which a board lies a mortise goes in, degrees: along the board, above zero where it runs towards the
/// greater u on its way in; then, once that is upright, across the board, above zero where it runs towards the greater v, or towards the
/// face side of a board that lies on a long edge. `None` where the board does not lie on the side across from the mouth.
fn off_bed(mortise: &Mortise, side: Side) -> Option<[f64; 2]> {
    let axis = mortise.frame.w();
    let (down, across) = match side {
        Side::Far => (-axis.z, axis.y),
        Side::Face => (axis.z, axis.y),
        Side::Lower => (-axis.y, axis.z),
        Side::Upper => (axis.y, axis.z),
    };
    (down > FRAC_1_SQRT_2).then(|| [axis.x.atan2(down), across.clamp(-1.0, 1.0).asin()].map(f64::to_degrees))
}
