//! Words for shapes that do not hold or tip.

use super::name;
use crate::check::{FeetOut, InProfile, ShapeProblem, Tilted};
use crate::finding::{Cures, Said, Words};
use crate::units::{Length, Notation};

/// Frames or legs that are tilted by an angle below zero.
fn other_way(what: Tilted, by: &str) -> Said {
    let apart = "stand farther apart than the feet";
    let message = match what {
        Tilted::Frames => format!("the frames lean outward by {by}: their heads {apart}"),
        Tilted::LeftFrame => {
            format!("the left frame leans outward by {by}: its head stands farther out than its feet")
        }
        Tilted::RightFrame => {
            format!("the right frame leans outward by {by}: its head stands farther out than its feet")
        }
        Tilted::LegsOfAFrame => {
            format!("the legs of a frame draw together by {by} towards the floor: their heads {apart}")
        }
        Tilted::LegsInFront => {
            format!("the legs draw together by {by} towards the floor, seen from the front: their heads {apart}")
        }
        Tilted::LegsAtTheSide => {
            format!("the legs draw together by {by} towards the floor, seen from the side: their heads {apart}")
        }
    };
    Said::new(
        message,
        format!("write {by} without the minus for the usual way; as it is, it can be made, and tips more easily"),
    )
}

/// A profile that runs into something.
fn in_profile(what: &str, of: &InProfile, [off, takes]: [Length; 2], may_reach: bool, notation: &Notation) -> Said {
    let say = |length: Length| notation.measured(length);
    let in_by = format!("stop it short there, or move the joint in by {}", say(takes - off));
    Said::new(
        format!(
            "{what} lies {} from the {} of the {}, whose profile takes {}",
            say(off),
            of.edge,
            of.board,
            say(takes)
        ),
        match may_reach {
            true => format!("make the profile reach in {} at most, {in_by}", say(off)),
            false => in_by,
        },
    )
}

impl Words for ShapeProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        let say = |length: &Length| notation.measured(*length);
        match self {
            ShapeProblem::ShortGrain { part, length, width, out, field, better } => {
                let remedy = match (better, field) {
                    (Some(better), field) => {
                        let turn = format!("turn the pattern on the board by {}", notation.angle(better.turn));
                        let angle = notation.angle(better.angle);
                        match field {
                            Some(field) => format!("{turn}: a \"{field}\" of {angle}"),
                            None => format!("{turn}, so that the grain runs at {angle} to its length"),
                        }
                    }
                    (None, _) => "make it wider or flatter there, or build it up of pieces whose grain follows it: no direction of the grain does for all of it".to_owned(),
                };
                let message = format!(
                    "the {part} has short grain: {} from edge to edge along the grain where it is {} wide, and {} stand out beyond; three times the width is wanted (rule of thumb)",
                    say(length),
                    say(width),
                    say(out)
                );
                Said::new(message, remedy)
            }
            ShapeProblem::ProfileInMortise { mortise, of, distance, takes, may_reach } => in_profile(
                &format!("the {} of {}", mortise.what.words(), name(mortise)),
                of,
                [*distance, *takes],
                *may_reach,
                notation,
            ),
            ShapeProblem::ProfileUnderJoint { neighbour, of, distance, takes, may_reach } => {
                in_profile(&format!("the landing of the {neighbour}"), of, [*distance, *takes], *may_reach, notation)
            }
            ShapeProblem::FeetStandOut { out, .. } => {
                let all: Vec<String> = out
                    .iter()
                    .map(|FeetOut { by, at }| format!("{} beyond the top's {at}", notation.length(*by)))
                    .collect();
                Said::new(
                    format!("the feet stand {}: somebody trips over them", all.join(" and ")),
                    "make the angle of the legs smaller, or the top larger",
                )
            }
            ShapeProblem::OtherWay { what, angle } => other_way(*what, &notation.angle(*angle)),
            ShapeProblem::NarrowerAbove { angle } => Said::new(
                format!(
                    "the sides slope inward by {}: the box is narrower above than at the floor",
                    notation.angle(*angle)
                ),
                format!("write {} without the minus if it is to be wider above", notation.angle(*angle)),
            ),
            ShapeProblem::ThickerThanDeep { part, thickness, depth } => Said::new(
                format!("the {part} is {} thick and {} deep: thicker than deep", say(thickness), say(depth)),
                "a thickness is measured through the board and a depth across its grain: one of them the other way round, or a digit too many?",
            ),
            ShapeProblem::ThickerThanNeighbour { part, thickness, neighbour, its } => Said::new(
                format!(
                    "the {part} is {} thick and ends against the {neighbour}, which is {}",
                    say(thickness),
                    say(its)
                ),
                "make it thinner, or what it joins thicker",
            ),
            ShapeProblem::WiderFoot { part, foot, head } => Said::new(
                format!(
                    "the {part} is {} wide at its foot and {} at its head: wider at the floor",
                    say(foot),
                    say(head)
                ),
                "head and foot the other way round, unless it is meant",
            ),
            ShapeProblem::KneeRoom { room, short, common: [from, to], asked } => Said::new(
                format!(
                    "the aprons leave {} for the knees; {} to {} is common practice, and the 2010 ADA Standards, 306.3, ask {} of a public place",
                    notation.length(*room),
                    notation.length(*from),
                    notation.length(*to),
                    notation.length(*asked)
                ),
                format!("raise the whole by {}, or make the aprons shallower", notation.at_least(*short)),
            ),
        }
    }
}
