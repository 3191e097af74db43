//! Fixings that keep a top from moving across its grain, and slots that leave no room for it.
//!
//! A top that is held at two places across its grain must move between them; what holds it fast makes it split. A screw gives
//! about half a millimetre in its round hole (common practice, no source); glue gives nothing that lasts. Breadboard ends
//! are held in their middle only.

use super::{breadboard, say};
use crate::finding::{Finding, Place};
use crate::geometry::{Path, Point, Rect};
use crate::model::base::Top;
use crate::model::fixing::{Fasteners, Glued, Hold, MadeFasteners, OuterPins};
use crate::piece::{Button, EndPiece, Landing, Piece, end_piece, landings, runs_across};
use crate::units::{Length, Notation};
use crate::wood::of_top;

/// What a screw or pin gives in a round hole, mm (common practice).
const GIVES: f64 = 0.5;

/// Wood left beyond a slot, mm (common practice).
const WALL: f64 = 3.0;

/// The thinnest screw that is any use here, mm.
const THINNEST: f64 = 3.0;

/// Slack for what just does, mm: what arithmetic adds.
const JUST: f64 = 1e-6;

/// Tells what blocks the movement of a top.
pub(super) fn check(piece: &Piece, top: Option<&Top>, notation: &Notation) -> Vec<Finding> {
    let Some(top) = top else { return Vec::new() };
    let mut told = breadboard::check(piece, top, notation);
    told.extend(held(piece, top, notation));
    told
}

/// Tells what holds a top fast across its grain, and slots that leave no wall.
fn held(piece: &Piece, top: &Top, notation: &Notation) -> Vec<Finding> {
    let Some(share) = of_top(top).0.and_then(|movement| movement.bracket(1.0)) else {
        return no_movement(top).into_iter().chain(held_fast(top)).collect();
    };
    let moves = Moves { each: share[0] + share[1], notation };
    let mut told = Vec::new();
    if let Some(Fasteners::Made(MadeFasteners { by, screw, .. })) = top.fasteners {
        let all = landings(piece, top);
        told.extend(if all.is_empty() { nothing_to_hold(piece) } else { None });
        told.extend(match by {
            Hold::Slots => all.iter().filter_map(|landing| slot(piece, landing, screw.mm(), notation)).collect(),
            Hold::Buttons => all.iter().filter_map(|landing| buttoned(piece, landing, notation)).collect(),
            Hold::Screws => moves.screwed(piece, &all).into_iter().collect(),
            Hold::Glue => moves.glued(piece, &all).into_iter().collect::<Vec<Finding>>(),
        });
    }
    let board = piece.boards.iter().find(|board| board.id == "top");
    if let (Some(ends), Some(end)) = (&top.breadboard, board.and_then(|board| end_piece(board, top))) {
        told.extend(match (ends.glue, ends.outer_pins) {
            (Glued::Along, _) => moves.glued_along(&end),
            (Glued::Middle, OuterPins::Tight) => moves.pinned(&end),
            (Glued::Middle, OuterPins::Slotted) => None,
        });
    }
    dedup(told)
}

/// One finding of each code and the same measures.
fn dedup(told: Vec<Finding>) -> Vec<Finding> {
    let mut kept: Vec<Finding> = Vec::new();
    for finding in told {
        if !kept.iter().any(|known| known.code == finding.code && known.message == finding.message) {
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
    let message = "how far the top moves is not known, so its holes are drawn round";
    let finding = Finding::warn("movement-unknown", Place::pointer(field), message);
    Some(finding.remedy(
        "give its wood and its moisture: \"species\": \"white oak\", \"moisture\": { \"today\": 8, \"driest\": 6, \"dampest\": 11 }",
    ))
}

/// What would hold a top of solid wood fast, told without its movement, which is not known.
fn held_fast(top: &Top) -> Vec<Finding> {
    let by = match top.fasteners {
        Some(Fasteners::Made(MadeFasteners { by, .. })) => Some(by),
        _ => None,
    };
    let ends = top.breadboard.as_ref().map(|ends| (ends.glue, ends.outer_pins));
    let told = [
        (
            by == Some(Hold::Screws),
            "/top/fasteners/by",
            "a top screwed tight cannot move",
            "\"by\": \"slots\", or buttons",
        ),
        (
            by == Some(Hold::Glue),
            "/top/fasteners/by",
            "a top glued to its base cannot move",
            "\"by\": \"slots\", or buttons",
        ),
        (
            ends.is_some_and(|(glue, _)| glue == Glued::Along),
            "/top/breadboard/glue",
            "a breadboard end glued along its whole tongue keeps the top from moving",
            "\"glue\": \"middle\", and slot the outer pins",
        ),
        (
            ends.is_some_and(|(_, pins)| pins == OuterPins::Tight),
            "/top/breadboard/outer_pins",
            "a breadboard end pinned tight at both its ends keeps the top from moving",
            "\"outer_pins\": \"slotted\"",
        ),
    ];
    let finding = |(_, field, what, cure): (bool, &str, &str, &str)| {
        let message = format!("{what} across its grain: solid wood splits as it dries");
        let remedy = format!("{cure}; leave it only where the top is of ply or another sheet that does not move");
        Finding::warn("fixing-blocks-movement", Place::pointer(field), message).remedy(remedy)
    };
    told.into_iter().filter(|(held, ..)| *held).map(finding).collect()
}

fn nothing_to_hold(piece: &Piece) -> Option<Finding> {
    let bases = piece.boards.iter().any(|board| board.id != "top");
    let message = "no apron or rail lies under the top, so there is nothing to fasten it to";
    let finding = Finding::warn("nothing-to-fasten-to", Place::pointer("/top/fasteners"), message);
    bases.then(|| finding.remedy("bring an apron or a rail up to the top, or leave \"fasteners\" out"))
}

/// A slot that leaves too little wood beyond its ends.
fn slot(piece: &Piece, landing: &Landing, screw: f64, notation: &Notation) -> Option<Finding> {
    let bounds = landing.rim.bounding_box()?;
    let part = piece.boards.get(landing.board)?;
    let room = |p: &Point| (p.y - bounds.y0).min(bounds.y1 - p.y);
    let least = landing.plays.iter().flat_map(|play| play.in_base()).map(|p| room(&p)).fold(f64::MAX, f64::min);
    let wall = least - screw / 2.0;
    if wall >= WALL - JUST {
        return None;
    }
    let message = format!(
        "the slots in the {} leave {} of wood beyond their ends; {} is wanted (common practice)",
        part.label,
        say(wall.max(0.0), notation),
        say(WALL, notation)
    );
    let thinner = 2.0 * (least - WALL);
    let thicker = part.board.thickness + 2.0 * (WALL - wall);
    let mut remedy = match runs_across(bounds) {
        true => "fewer of them, farther from its ends, or buttons".to_owned(),
        false => {
            format!("make the {} {} thick, or use buttons", part.label, notation.at_least(Length::from_mm(thicker)))
        }
    };
    if thinner >= THINNEST {
        remedy = format!("use screws of {} at most, {remedy}", notation.at_most(Length::from_mm(thinner)));
    }
    let finding = Finding::warn("slot-leaves-no-wall", Place::pointer("/top/fasteners"), message).remedy(remedy);
    Some(finding.measured("wall", wall).measured("wanted", WALL).measured("thickness", thicker))
}

/// A part too thin or too shallow for the mortises of its buttons.
fn buttoned(piece: &Piece, landing: &Landing, notation: &Notation) -> Option<Finding> {
    let (bounds, part, button) = (landing.rim.bounding_box()?, piece.boards.get(landing.board)?, landing.button?);
    let thick = bounds.width().min(bounds.height());
    let walls = [
        ("thick", thick, button.depth + WALL, "deep into its inside face", button.depth),
        (
            "deep",
            landing.deep,
            Button::UNDER + Button::HEIGHT + WALL,
            "down from the top",
            Button::UNDER + Button::HEIGHT,
        ),
    ];
    let (way, is, wanted, where_, goes) = walls.into_iter().find(|(_, is, wanted, ..)| *is < wanted - JUST)?;
    let message = format!(
        "the mortises for the buttons go {} {where_}, and the {} is {} {way}: less than {} of wood is left (common practice)",
        say(goes, notation),
        part.label,
        say(is, notation),
        say(WALL, notation)
    );
    let finding = Finding::warn("button-leaves-no-wall", Place::pointer("/top/fasteners"), message);
    let remedy =
        format!("make it {} {way}, or screw the top through slots", notation.at_least(Length::from_mm(wanted)));
    Some(finding.remedy(remedy).measured("is", is).measured("fits", wanted))
}

/// How a top moves.
struct Moves<'a> {
    /// Each mm of its width from driest to dampest, mm.
    each: f64,
    notation: &'a Notation,
}

impl Moves<'_> {
    fn say(&self, mm: f64) -> String {
        say(mm, self.notation)
    }

    /// A finding where what is held over a width across the grain moves more than the fixing gives.
    fn blocked(&self, field: &str, held: f64, gives: f64, what: &str, cure: String) -> Option<Finding> {
        let moves = held * self.each;
        if moves <= gives + JUST {
            return None;
        }
        let message = format!(
            "{what} holds the top fast over {} across its grain, where it moves by {} from driest to dampest",
            self.say(held),
            self.say(moves)
        );
        let finding = Finding::warn("fixing-blocks-movement", Place::pointer(field), message).remedy(cure);
        Some(finding.measured("held", held).measured("moves", moves).measured("gives", gives))
    }

    fn screwed(&self, piece: &Piece, all: &[Landing]) -> Option<Finding> {
        let held = across(all.iter().flat_map(|landing| landing.plays.iter().map(|play| play.at)));
        let outermost =
            all.iter().flat_map(|l| &l.plays).map(|play| play.inwards + play.outwards).fold(0.0, f64::max);
        let what = format!("a top screwed tight to the {}", parts(piece, all));
        let cure = format!(
            "put the screws through slots that let the outermost move {}: \"by\": \"slots\"; or use buttons",
            self.say(outermost)
        );
        self.blocked("/top/fasteners/by", held, GIVES, &what, cure)
    }

    fn glued(&self, piece: &Piece, all: &[Landing]) -> Option<Finding> {
        let held = across(all.iter().flat_map(|landing| landing.rim.nodes()));
        let what = format!("a top glued to the {}", parts(piece, all));
        let cure = "fasten it by slots or buttons: \"by\": \"slots\"".to_owned();
        self.blocked("/top/fasteners/by", held, 0.0, &what, cure)
    }

    fn glued_along(&self, end: &EndPiece) -> Option<Finding> {
        let cure = "glue only the middle: \"glue\": \"middle\", and slot the outer pins".to_owned();
        let what = "a breadboard end glued along its whole tongue";
        self.blocked("/top/breadboard/glue", end.tongue.height(), 0.0, what, cure)
    }

    fn pinned(&self, end: &EndPiece) -> Option<Finding> {
        let held = across(end.pins.iter().map(|pin| pin.at));
        let slot = end.pins.iter().map(|pin| pin.inwards + pin.outwards).fold(0.0, f64::max);
        let cure = format!("let the outermost pins move {} in slots: \"outer_pins\": \"slotted\"", self.say(slot));
        self.blocked(
            "/top/breadboard/outer_pins",
            held,
            GIVES,
            "a breadboard end pinned tight at both its ends",
            cure,
        )
    }
}

/// From the foremost to the hindmost of some points, mm.
fn across(points: impl Iterator<Item = Point>) -> f64 {
    let all: Vec<Point> = points.collect();
    Path::polyline(&all, false).bounding_box().map_or(0.0, |bounds: Rect| bounds.height())
}

/// The parts of the landings by their names.
fn parts(piece: &Piece, all: &[Landing]) -> String {
    let mut names: Vec<&str> = Vec::new();
    for board in all.iter().filter_map(|landing| piece.boards.get(landing.board)) {
        if !names.contains(&board.label.as_str()) {
            names.push(&board.label);
        }
    }
    names.join(" and the ")
}
