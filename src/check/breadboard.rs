//! Breadboard ends on the solved shape of a top: whether their tongue has room, and its pins.

use super::say;
use crate::finding::{Finding, Place};
use crate::geometry::Point;
use crate::model::base::Top;
use crate::model::fixing::Breadboard;
use crate::piece::{EndPiece, Piece, SolvedBoard, end_piece};
use crate::units::{Length, Notation};

/// Wood left between two pins, or beyond the outermost, mm (common practice, no source).
const BETWEEN: f64 = 3.0;

/// A tongue that reaches over less of the shoulder than this holds the end piece badly (no source: it keeps two thirds).
const HELD: f64 = 2.0 / 3.0;

/// The shortest tongue that is tried as a cure, mm.
const SHORTEST: f64 = 2.0;

/// Steps in which a shorter tongue is tried, mm.
const STEP: f64 = 0.5;

/// Slack for what just does, mm: what arithmetic adds.
const JUST: f64 = 1e-6;

/// Tells a groove for which the final shape leaves too little, and pins that stand too near to each other.
pub(super) fn check(piece: &Piece, top: &Top, notation: &Notation) -> Vec<Finding> {
    let (Some(ends), Some(board)) = (&top.breadboard, piece.boards.iter().find(|board| board.id == "top")) else {
        return Vec::new();
    };
    let trial = Trial { board, top, ends, notation };
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
    notation: &'a Notation,
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

    /// What cures a groove that runs into the final shape.
    fn straighter(&self, depth: Option<f64>) -> String {
        let shape = "or straighten the top's edges over the end pieces, or round its corners less";
        match depth {
            Some(depth) => format!("a tongue {} deep does, {shape}", self.notation.at_most(Length::from_mm(depth))),
            None => format!("make the end pieces wider, {shape}"),
        }
    }

    fn no_room(&self) -> Finding {
        let depth = self.shallower(|_| true);
        let message = "the shape of the top leaves no room for a tongue in its breadboard ends".to_owned();
        let finding = Finding::stop("breadboard-does-not-fit", Place::pointer("/top/breadboard"), message);
        finding.remedy(self.straighter(depth)).measured("fits", depth.unwrap_or(0.0))
    }

    /// A tongue that is stopped far from the ends of its shoulder.
    fn short(&self, end: &EndPiece) -> Option<Finding> {
        let held = |end: &EndPiece| end.tongue.height() / (end.across[1] - end.across[0]);
        if held(end) >= HELD {
            return None;
        }
        let depth = self.shallower(|end| held(end) >= HELD);
        let message = format!(
            "the tongue of the breadboard ends, stopped inside the final shape, is {} long at a shoulder of {}: it holds less \
             than two thirds of it",
            say(end.tongue.height(), self.notation),
            say(end.across[1] - end.across[0], self.notation)
        );
        let finding = Finding::warn("breadboard-tongue-short", Place::pointer("/top/breadboard"), message);
        let finding = finding.remedy(self.straighter(depth)).measured("tongue", end.tongue.height());
        Some(finding.measured("shoulder", end.across[1] - end.across[0]))
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
        if left >= BETWEEN - JUST {
            return None;
        }
        let fits = |pins: &u32| {
            let tried = self.with(Breadboard { pins: *pins, ..self.ends.clone() });
            tried.is_some_and(|end| self.between(&end) >= BETWEEN - JUST)
        };
        let most = (1..self.ends.pins).rev().filter(|pins| !pins.is_multiple_of(2)).find(fits);
        let (pins, pin) = (self.ends.pins, say(self.ends.pin.mm(), self.notation));
        let of = format!("{pins} pins of {pin} in a tongue {} long", say(end.tongue.height(), self.notation));
        let place = Place::pointer("/top/breadboard/pins");
        let finding = match left <= 0.0 {
            true => Finding::stop("pins-too-near", place, format!("{of} run into each other or out of its end")),
            false => {
                let message = format!("{of} leave {} of wood between their holes", say(left, self.notation));
                Finding::warn("pins-too-near", place, message)
            }
        };
        let wanted = say(BETWEEN, self.notation);
        let remedy = match most {
            Some(most) => format!("{most} at most leave {wanted} (common practice), or make them thinner"),
            None => format!("make them thinner: {wanted} of wood is wanted between them (common practice)"),
        };
        Some(finding.remedy(remedy).measured("left", left).measured("fits", f64::from(most.unwrap_or(0))))
    }
}
