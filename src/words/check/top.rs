//! Words for what holds a top, and for how it moves.

use crate::check::{ButtonWall, HeldBy, Seat, TopProblem};
use crate::finding::{Change, Cures, Said, Setting, Words};
use crate::units::{Length, Notation};
use crate::words::{or, piece, written};

/// What gives the screws in a part a seat and wood beside them.
fn seated(cures: &Cures, pocket: bool, notation: &Notation) -> String {
    let other = match pocket {
        true => {
            "bore slanted pockets from its inside face: the schedule gives their numbers, a sheet of the part draws them"
        }
        // A slanted screw does not follow a top that moves, and some parts have no room for one.
        false => "screw the top to a cleat on its inside face",
    };
    match cures {
        Cures::Any(all) => format!("{} does, or {other}", or(all, ", ", notation)),
        _ => other.to_owned(),
    }
}

impl Change for Seat {
    /// `an apron of 22 mm thickness`.
    fn say(&self, settings: &[Setting], notation: &Notation) -> String {
        let value = settings.first().map_or_else(String::new, |set| written(set.value, notation));
        match self {
            Seat::Screw => format!("a \"screw\" of {value}"),
            Seat::Thickness(part) => format!("a \"thickness\" of the {part} of {value}"),
            Seat::Depth(part) => format!("a \"depth\" of the {part} of {value}, through which the screws go whole,"),
            Seat::Buttons => "\"by\": \"buttons\"".to_owned(),
        }
    }
}

/// A top that is held fast, of which it is not known how it moves.
fn held_fast(by: &HeldBy) -> Said {
    let (what, cure) = match by {
        HeldBy::Screws => ("a top screwed tight cannot move", "\"by\": \"slots\", or buttons"),
        HeldBy::Glue => ("a top glued to its base cannot move", "\"by\": \"slots\", or buttons"),
        HeldBy::TongueGlue => (
            "a breadboard end glued along its whole tongue keeps the top from moving",
            "\"glue\": \"middle\", and slot the outer pins",
        ),
        HeldBy::OuterPins => (
            "a breadboard end pinned tight at both its ends keeps the top from moving",
            "\"outer_pins\": \"slotted\"",
        ),
    };
    Said::new(
        format!("{what} across its grain: solid wood splits as it dries"),
        format!("{cure}; leave it only where the top is of ply or another sheet that does not move"),
    )
}

/// A top that is held fast over a width across its grain.
fn blocked(
    by: &HeldBy,
    parts: &[String],
    [held, moves]: [Length; 2],
    outermost: Length,
    notation: &Notation,
) -> Said {
    let (parts, outermost) = (parts.join(" and the "), notation.measured(outermost));
    let (what, cure) = match by {
        HeldBy::Screws => (
            format!("a top screwed tight to the {parts}"),
            format!(
                "put the screws through slots that let the outermost move {outermost}: \"by\": \"slots\"; or use buttons"
            ),
        ),
        HeldBy::Glue => {
            (format!("a top glued to the {parts}"), "fasten it by slots or buttons: \"by\": \"slots\"".to_owned())
        }
        HeldBy::TongueGlue => (
            "a breadboard end glued along its whole tongue".to_owned(),
            "glue only the middle: \"glue\": \"middle\", and slot the outer pins".to_owned(),
        ),
        HeldBy::OuterPins => (
            "a breadboard end pinned tight at both its ends".to_owned(),
            format!("let the outermost pins move {outermost} in slots: \"outer_pins\": \"slotted\""),
        ),
    };
    let message = format!(
        "{what} holds the top fast over {} across its grain, where it moves by {} from driest to dampest",
        notation.measured(held),
        notation.measured(moves)
    );
    Said::new(message, cure)
}

impl Words for TopProblem {
    fn say(&self, notation: &Notation, cures: &Cures) -> Said {
        let say = |length: &Length| notation.measured(*length);
        match self {
            TopProblem::GlueUpNarrow { made, width } => Said::new(
                format!("the boards of the glue-up make {}, and the top is {} wide", say(made), say(width)),
                format!("add {} of width, and something for the joints", notation.at_least(*width - *made)),
            ),
            TopProblem::ShortTongue { tongue, shoulder, fits } => Said::new(
                format!(
                    "the tongue of the breadboard ends, stopped inside the final shape, is {} long at a shoulder of {}: it holds less \
                     than two thirds of it",
                    say(tongue),
                    say(shoulder)
                ),
                piece::straighter(*fits, notation),
            ),
            TopProblem::PinsNear { pins, pin, tongue, left, wanted, fits } => {
                let of = format!("{pins} pins of {} in a tongue {} long", say(pin), say(tongue));
                let message = match *left <= Length::ZERO {
                    true => format!("{of} run into each other or out of its end"),
                    false => format!("{of} leave {} of wood between their holes", say(left)),
                };
                let wanted = say(wanted);
                let remedy = match fits {
                    0 => format!("make them thinner: {wanted} of wood is wanted between them (common practice)"),
                    most => format!("{most} at most leave {wanted} (common practice), or make them thinner"),
                };
                Said::new(message, remedy)
            }
            TopProblem::MovementUnknown {} => Said::new(
                "how far the top moves is not known, so its holes are drawn round",
                "give its wood and its moisture: \"species\": \"white oak\", \"moisture\": { \"today\": 8, \"driest\": 6, \"dampest\": 11 }",
            ),
            TopProblem::Blocked { by, parts, held, moves, outermost, .. } => match held.zip(*moves) {
                Some((held, moves)) => blocked(by, parts, [held, moves], outermost.unwrap_or(Length::ZERO), notation),
                None => held_fast(by),
            },
            TopProblem::NothingUnder {} => Said::new(
                "no apron or rail lies under the top, so there is nothing to fasten it to",
                "bring an apron or a rail up to the top, or leave \"fasteners\" out",
            ),
            TopProblem::SlotWall { part, wall, wanted, thickness, screw, runs_across } => {
                let wall = if *wall > Length::ZERO { *wall } else { Length::ZERO };
                let other = match runs_across {
                    true => "fewer of them, farther from its ends, or buttons".to_owned(),
                    false => format!("make the {part} {} thick, or use buttons", notation.at_least(*thickness)),
                };
                Said::new(
                    format!(
                        "the slots in the {part} leave {} of wood beyond their ends; {} is wanted (common practice)",
                        say(&wall),
                        say(wanted)
                    ),
                    match screw {
                        Some(screw) => format!("use screws of {} at most, {other}", notation.at_most(*screw)),
                        None => other,
                    },
                )
            }
            TopProblem::HeadSeat { part, head, wall, wanted, pocket } => Said::new(
                format!(
                    "the slots in the {part} cannot be widened for the screws' heads of {}: {} of wood would stay beside them, \
                         and {} is wanted (common practice)",
                    say(head),
                    say(wall),
                    say(wanted)
                ),
                seated(cures, *pocket, notation),
            ),
            TopProblem::HoleWall { part, surface, is_widened, wall, wanted, pocket } => {
                let (holes, leave, come) = match is_widened {
                    true => ("the wide part for the screws' heads", "leaves", "comes"),
                    false => ("the screws' holes", "leave", "come"),
                };
                let left = match *wall > Length::ZERO {
                    true => format!("{leave} {} of wood to its {surface} on the way down", notation.at_most(*wall)),
                    false => format!("{come} out of its {surface} on the way down, by {}", say(&-*wall)),
                };
                Said::new(
                    format!(
                        "plumb through the {part}, {holes} {left}; {} of wood should stay there (common practice)",
                        say(wanted)
                    ),
                    seated(cures, *pocket, notation),
                )
            }
            TopProblem::ButtonWall { part, goes, wall, is, fits, way } => {
                let (way, into) = match way {
                    ButtonWall::Behind => ("thick", "deep into its inside face"),
                    ButtonWall::Below => ("deep", "down from the top"),
                };
                Said::new(
                    format!(
                        "the mortises for the buttons go {} {into}, and the {part} is {} {way}: less than {} of wood is left (common practice)",
                        say(goes),
                        say(is),
                        say(wall)
                    ),
                    format!("make it {} {way}, or screw the top through slots", notation.at_least(*fits)),
                )
            }
        }
    }
}
