//! Fixings that keep a top from moving across its grain, and slots that leave no room for it.
//!
//! A top that is held at two places across its grain must move between them; what holds it fast makes it split. A screw gives
//! about half a millimetre in its round hole (common practice, no source); glue gives nothing that lasts. Breadboard ends
//! are held in their middle only.

use super::{ButtonWall, HeldBy, TopProblem, breadboard, falls_short};
use crate::board::PartRole;
use crate::finding::{Finding, Place};
use crate::geometry::{Path, Point, Rect};
use crate::model::fixing::{Fasteners, Glued, Hold, MadeFasteners, OuterPins};
use crate::model::top::Top;
use crate::piece::{Button, EndPiece, Landing, Piece, end_piece, landings};
use crate::tolerance::{JUST, SHOWN};
use crate::units::Length;
use crate::wood::of_top;

/// What a screw or pin gives in a round hole, mm (common practice).
const GIVES: f64 = 0.5;

/// Wood left beyond a slot, mm (common practice).
const WALL: f64 = 3.0;

/// The thinnest screw that is any use here, mm.
pub(super) const THINNEST: f64 = 3.0;

/// Tells what blocks the movement of a top.
pub(super) fn check(piece: &Piece, top: Option<&Top>) -> Vec<Finding> {
    let Some(top) = top else { return Vec::new() };
    let mut told = breadboard::check(piece, top);
    told.extend(held(piece, top));
    told
}

/// Tells what holds a top fast across its grain, and slots that leave no wall.
fn held(piece: &Piece, top: &Top) -> Vec<Finding> {
    let Some(share) = of_top(top).0.and_then(|movement| movement.bracket(1.0)) else {
        return no_movement(top).into_iter().chain(held_fast(top)).collect();
    };
    let moves = Moves { each: share[0] + share[1] };
    let mut told = Vec::new();
    if let Some(Fasteners::Made(MadeFasteners { by, screw, .. })) = top.fasteners {
        let all = landings(piece, top);
        told.extend(if all.is_empty() { nothing_to_hold(piece) } else { None });
        told.extend(match by {
            Hold::Slots => all.iter().filter_map(|landing| slot(piece, landing, screw.mm())).collect(),
            Hold::Buttons => all.iter().filter_map(|landing| buttoned(piece, landing)).collect(),
            Hold::Screws => moves.screwed(piece, &all).into_iter().collect(),
            Hold::Glue => moves.glued(piece, &all).into_iter().collect::<Vec<Finding>>(),
        });
    }
    let board = piece.top();
    if let (Some(ends), Some(end)) = (&top.breadboard, board.and_then(|board| end_piece(board, top))) {
        told.extend(match (ends.glue, ends.outer_pins) {
            (Glued::Along, _) => moves.glued_along(&end),
            (Glued::Middle, OuterPins::Tight) => moves.pinned(&end),
            (Glued::Middle, OuterPins::Slotted) => None,
        });
    }
    dedup(told)
}

/// One finding of each kind and the same measures.
fn dedup(told: Vec<Finding>) -> Vec<Finding> {
    let mut kept: Vec<Finding> = Vec::new();
    for finding in told {
        if !kept.iter().any(|known| known.is_like(&finding, SHOWN)) {
            kept.push(finding);
        }
    }
    kept
}

/// Fixings that are drawn, of a top of which it is not known how it moves.
fn no_movement(top: &Top) -> Option<Finding> {
    let field = match (&top.fasteners, &top.breadboard) {
        (Some(Fasteners::Made(_)), _) => "/top/fasteners",
        (_, Some(_)) => "/top/breadboard",
        _ => return None,
    };
    Some(Finding::of(TopProblem::MovementUnknown {}, Place::pointer(field)))
}

/// What would hold a top of solid wood fast, told without its movement, which is not known.
fn held_fast(top: &Top) -> Vec<Finding> {
    let by = match top.fasteners {
        Some(Fasteners::Made(MadeFasteners { by, .. })) => Some(by),
        _ => None,
    };
    let ends = top.breadboard.as_ref().map(|ends| (ends.glue, ends.outer_pins));
    let told = [
        (by == Some(Hold::Screws), HeldBy::Screws),
        (by == Some(Hold::Glue), HeldBy::Glue),
        (ends.is_some_and(|(glue, _)| glue == Glued::Along), HeldBy::TongueGlue),
        (ends.is_some_and(|(_, pins)| pins == OuterPins::Tight), HeldBy::OuterPins),
    ];
    let finding = |(_, by): (bool, HeldBy)| {
        let (parts, place) = (Vec::new(), by.place());
        let problem = TopProblem::Blocked { by, parts, held: None, moves: None, gives: None, outermost: None };
        Finding::of(problem, place)
    };
    told.into_iter().filter(|(held, _)| *held).map(finding).collect()
}

impl HeldBy {
    /// Where the file says so.
    fn place(&self) -> Place {
        Place::pointer(match self {
            HeldBy::Screws | HeldBy::Glue => "/top/fasteners/by",
            HeldBy::TongueGlue => "/top/breadboard/glue",
            HeldBy::OuterPins => "/top/breadboard/outer_pins",
        })
    }
}

fn nothing_to_hold(piece: &Piece) -> Option<Finding> {
    let bases = piece.boards.iter().any(|board| board.role != PartRole::Top);
    bases.then(|| Finding::of(TopProblem::NothingUnder {}, Place::pointer("/top/fasteners")))
}

/// Whether a top is held by slots whose length is known, so that their ends are asked for what they leave.
pub(super) fn asks_slots(top: &Top) -> bool {
    let by = matches!(top.fasteners, Some(Fasteners::Made(MadeFasteners { by: Hold::Slots, .. })));
    by && of_top(top).0.and_then(|movement| movement.bracket(1.0)).is_some()
}

/// Whether the slots of a landing leave enough wood beyond their ends where they lie under the top.
pub(super) fn leaves_wall(landing: &Landing, screw: f64) -> bool {
    !falls_short(landing.room_beyond() - screw / 2.0, WALL)
}

/// A slot that leaves too little wood beyond its ends.
fn slot(piece: &Piece, landing: &Landing, screw: f64) -> Option<Finding> {
    let part = piece.boards.get(landing.board)?;
    let least = landing.room_beyond();
    let wall = least - screw / 2.0;
    if leaves_wall(landing, screw) {
        return None;
    }
    let thinner = 2.0 * (least - WALL);
    let problem = TopProblem::SlotWall {
        part: part.label.clone(),
        wall: Length::from_mm(wall),
        wanted: Length::from_mm(WALL),
        thickness: Length::from_mm(part.board.thickness + 2.0 * (WALL - wall)),
        screw: (thinner >= THINNEST).then(|| Length::from_mm(thinner)),
        runs_across: landing.line.runs_across(),
    };
    Some(Finding::of(problem, Place::pointer("/top/fasteners")))
}

/// A part too thin or too shallow for the mortises of its buttons.
fn buttoned(piece: &Piece, landing: &Landing) -> Option<Finding> {
    let (part, button) = (piece.boards.get(landing.board)?, landing.button?);
    let thick = landing.thick();
    let below = Button::UNDER + Button::HEIGHT;
    let walls = [(ButtonWall::Behind, thick, button.depth), (ButtonWall::Below, landing.deep, below)];
    let (way, is, goes) = walls.into_iter().find(|(_, is, goes)| falls_short(*is, goes + WALL))?;
    let [goes, is, fits, wall] = [goes, is, goes + WALL, WALL].map(Length::from_mm);
    let problem = TopProblem::ButtonWall { part: part.label.clone(), goes, wall, is, fits, way };
    Some(Finding::of(problem, Place::pointer("/top/fasteners")))
}

/// Whether buttons hold a top in place of what does: every part under it has wood for their mortises.
pub(super) fn is_buttoned(piece: &Piece, top: &Top) -> bool {
    let Some(Fasteners::Made(made)) = top.fasteners else { return false };
    let by_buttons = Some(Fasteners::Made(MadeFasteners { by: Hold::Buttons, ..made }));
    let all = landings(piece, &Top { fasteners: by_buttons, ..top.clone() });
    !all.is_empty() && all.iter().all(|landing| buttoned(piece, landing).is_none())
}

/// How a top moves.
struct Moves {
    /// Each mm of its width from driest to dampest, mm.
    each: f64,
}

impl Moves {
    /// A finding where what is held over a width across the grain moves more than the fixing gives; `outermost` is how far the
    /// outermost fixing would have to move.
    fn blocked(&self, by: HeldBy, parts: Vec<String>, [held, gives, outermost]: [f64; 3]) -> Option<Finding> {
        let moves = held * self.each;
        if moves <= gives + JUST {
            return None;
        }
        let place = by.place();
        let [held, moves, gives, outermost] = [held, moves, gives, outermost].map(|mm| Some(Length::from_mm(mm)));
        Some(Finding::of(TopProblem::Blocked { by, parts, held, moves, gives, outermost }, place))
    }

    fn screwed(&self, piece: &Piece, all: &[Landing]) -> Option<Finding> {
        let held = across(all.iter().flat_map(|landing| landing.plays.iter().map(|play| play.at)));
        let outermost =
            all.iter().flat_map(|l| &l.plays).map(|play| play.inwards + play.outwards).fold(0.0, f64::max);
        self.blocked(HeldBy::Screws, parts(piece, all), [held, GIVES, outermost])
    }

    fn glued(&self, piece: &Piece, all: &[Landing]) -> Option<Finding> {
        let held = across(all.iter().flat_map(|landing| landing.rim.nodes()));
        self.blocked(HeldBy::Glue, parts(piece, all), [held, 0.0, 0.0])
    }

    fn glued_along(&self, end: &EndPiece) -> Option<Finding> {
        self.blocked(HeldBy::TongueGlue, Vec::new(), [end.tongue.height(), 0.0, 0.0])
    }

    fn pinned(&self, end: &EndPiece) -> Option<Finding> {
        let held = across(end.pins.iter().map(|pin| pin.at));
        let slot = end.pins.iter().map(|pin| pin.inwards + pin.outwards).fold(0.0, f64::max);
        self.blocked(HeldBy::OuterPins, Vec::new(), [held, GIVES, slot])
    }
}

/// From the foremost to the hindmost of some points, mm.
fn across(points: impl Iterator<Item = Point>) -> f64 {
    let all: Vec<Point> = points.collect();
    Path::polyline(&all, false).bounding_box().map_or(0.0, |bounds: Rect| bounds.height())
}

/// The parts of the landings by their names.
fn parts(piece: &Piece, all: &[Landing]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for board in all.iter().filter_map(|landing| piece.boards.get(landing.board)) {
        if !names.contains(&board.label) {
            names.push(board.label.clone());
        }
    }
    names
}
