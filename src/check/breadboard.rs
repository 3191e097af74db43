//! Breadboard ends on the solved shape of a top: whether their tongue has room, and its pins.

use super::{TopProblem, falls_short};
use crate::finding::{Finding, Place, Severity};
use crate::geometry::Point;
use crate::model::fixing::Breadboard;
use crate::model::top::Top;
use crate::piece::{EndPiece, NoEnd, Piece, SolvedBoard, TopProblem as PieceTopProblem, end_piece};
use crate::units::Length;

/// Wood left between two pins, or beyond the outermost, mm (common practice, no source).
const BETWEEN: f64 = 3.0;

/// A tongue that reaches over less of the shoulder than this holds the end piece badly (no source: it keeps two thirds).
const HELD: f64 = 2.0 / 3.0;

/// The shortest tongue that is tried as a cure, mm.
const SHORTEST: f64 = 2.0;

/// Steps in which a shorter tongue is tried, mm.
const STEP: f64 = 0.5;

/// Tells a groove for which the final shape leaves too little, and pins that stand too near to each other.
pub(super) fn check(piece: &Piece, top: &Top) -> Vec<Finding> {
    let (Some(ends), Some(board)) = (&top.breadboard, piece.top()) else {
        return Vec::new();
    };
    let trial = Trial { board, top, ends };
    match end_piece(board, top) {
        None => vec![trial.no_room()],
        Some(end) => trial.short(&end).into_iter().chain(trial.pins(&end)).collect(),
    }
}

/// Breadboard ends with the numbers of which others are tried.
struct Trial<'a> {
    board: &'a SolvedBoard,
    top: &'a Top,
    ends: &'a Breadboard,
}

impl Trial<'_> {
    /// The same top with other ends.
    fn with(&self, ends: Breadboard) -> Option<EndPiece> {
        end_piece(self.board, &Top { breadboard: Some(ends), ..self.top.clone() })
    }

    /// The deepest tongue below the given one whose end piece does, mm.
    fn shallower(&self, does: impl Fn(&EndPiece) -> bool) -> Option<f64> {
        let given = self.ends.tongue_depth().mm();
        let count = ((given - SHORTEST) / STEP).floor().max(0.0) as u32;
        (1..=count).map(|i| given - STEP * f64::from(i)).find(|depth| {
            let tried = Breadboard { depth: Some(Length::from_mm(*depth)), ..self.ends.clone() };
            self.with(tried).is_some_and(|end| does(&end))
        })
    }

    fn no_room(&self) -> Finding {
        let depth = self.shallower(|_| true).map(Length::from_mm);
        let (how, fits) = (NoEnd::Shape(depth), depth.unwrap_or(Length::ZERO));
        let problem = PieceTopProblem::NoEnd { how, given: None, left: None, fits };
        Finding::of(problem, Place::pointer("/top/breadboard"))
    }

    /// A tongue that is stopped far from the ends of its shoulder.
    fn short(&self, end: &EndPiece) -> Option<Finding> {
        let held = |end: &EndPiece| end.tongue.height() / (end.across[1] - end.across[0]);
        if held(end) >= HELD {
            return None;
        }
        let problem = TopProblem::ShortTongue {
            tongue: Length::from_mm(end.tongue.height()),
            shoulder: Length::from_mm(end.across[1] - end.across[0]),
            fits: self.shallower(|end| held(end) >= HELD).map(Length::from_mm),
        };
        Some(Finding::of(problem, Place::pointer("/top/breadboard")))
    }

    /// The least wood between the holes of an end, and between the outermost and the end of the tongue, mm.
    fn between(&self, end: &EndPiece) -> f64 {
        let radius = self.ends.pin.mm() / 2.0;
        let reach = |[a, b]: [Point; 2]| [a.y.min(b.y) - radius, a.y.max(b.y) + radius];
        let holes: Vec<[f64; 2]> = end.holes(self.ends.outer_pins).into_iter().map(reach).collect();
        let apart = holes.windows(2).map(|pair| pair[1][0] - pair[0][1]);
        let beyond = holes.iter().flat_map(|[low, high]| [low - end.tongue.y0, end.tongue.y1 - high]);
        apart.chain(beyond).fold(f64::MAX, f64::min)
    }

    /// Pins whose holes leave too little wood between them.
    fn pins(&self, end: &EndPiece) -> Option<Finding> {
        let left = self.between(end);
        if !falls_short(left, BETWEEN) {
            return None;
        }
        let fits = |pins: &u32| {
            let tried = self.with(Breadboard { pins: *pins, ..self.ends.clone() });
            tried.is_some_and(|end| !falls_short(self.between(&end), BETWEEN))
        };
        let most = (1..self.ends.pins).rev().filter(|pins| !pins.is_multiple_of(2)).find(fits);
        let problem = TopProblem::PinsNear {
            pins: self.ends.pins,
            pin: self.ends.pin,
            tongue: Length::from_mm(end.tongue.height()),
            left: Length::from_mm(left),
            wanted: Length::from_mm(BETWEEN),
            fits: most.unwrap_or(0),
        };
        let finding = Finding::of(problem, Place::pointer("/top/breadboard/pins"));
        Some(if left <= 0.0 { finding.weighed(Severity::Stop) } else { finding })
    }
}
