//! Words for what the rules of the trade find.

use super::{or, written};
use crate::check::{
    AssemblyProblem, ButtonWall, DeeperCut, ENOUGH, FeetOut, FenceCure, Governs, HeldBy, InProfile, JointProblem,
    Looser, LyingFlat, MachineProblem, MortiseName, Seat, ShapeProblem, SmallerTenon, TenonsAlong, Tilted,
    TopProblem, WithoutTenons,
};
use crate::finding::{Change, Cure, Cures, Said, Setting, Words};
use crate::solid::Why;
use crate::units::{Length, Notation};
use std::mem::discriminant;

/// Where no cure of a wall was found.
const NONE: &str = "take a smaller tenon or a larger part: no one change was found that is enough";

fn name(mortise: &MortiseName) -> String {
    format!("{} {} in the {}", mortise.joint, mortise.number, mortise.board)
}

/// What two of them are where they are alike: `mortises`.
fn plural(what: Why) -> String {
    match what {
        Why::Pocket => "recesses".to_owned(),
        other => format!("{}s", other.words()),
    }
}

fn governs(governs: Governs, notation: &Notation) -> String {
    match governs {
        Governs::Share => {
            let usual = notation.measured(Length::from_mm(ENOUGH));
            format!("a third of the thickness, since that is less than the usual {usual}")
        }
        Governs::Enough => "the usual wall, since a third of the thickness is more".to_owned(),
    }
}

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

/// What cures a wall, and what else does.
fn wall_cure(cures: &Cures, own: &str, notation: &Notation) -> String {
    let found = match cures {
        Cures::Any(all) => format!("{} just does", or(all, ", ", notation)),
        Cures::Untried => return own.to_owned(),
        _ if own.is_empty() => return NONE.to_owned(),
        Cures::None | Cures::Nearest(_) | Cures::Half(..) => return format!("{NONE}; or {own}"),
    };
    if own.is_empty() { found } else { format!("{found}, or {own}") }
}

fn smaller_tenon(cure: &SmallerTenon, less: Length, notation: &Notation) -> String {
    let (most, by) = (|length: &Length| notation.at_most(*length), notation.measured(less));
    match cure {
        SmallerTenon::Round(size) => format!("the largest \"tenon\" that does is {} ({by} less)", most(size)),
        SmallerTenon::Width(size) => format!("the largest \"width\" that does is {} ({by} less)", most(size)),
        SmallerTenon::Thickness(size) => format!("the largest \"thickness\" that does is {} ({by} less)", most(size)),
        SmallerTenon::Both(width, thickness) => format!(
            "a \"width\" of {} together with a \"thickness\" of {} does, each {by} less",
            most(width),
            most(thickness)
        ),
        SmallerTenon::Unknown => "make the tenon narrower and thinner, or the part larger".to_owned(),
    }
}

impl Words for JointProblem {
    fn say(&self, notation: &Notation, cures: &Cures) -> Said {
        let say = |length: &Length| notation.measured(*length);
        // As schedules tell a wall: it never reads as thicker than it is.
        let at_most = |length: &Length| notation.at_most(*length);
        let both = |first: &MortiseName, second: &MortiseName| {
            let (board, a, b) = (&first.board, &first.joint, &second.joint);
            let (one, other) = (first.number, second.number);
            match discriminant(&first.what) == discriminant(&second.what) {
                true => format!("in the {board} the {} of {a} {one} and {b} {other}", plural(first.what)),
                false => {
                    let [what, what_other] = [first, second].map(|name| name.what.words());
                    format!("in the {board} the {what} of {a} {one} and the {what_other} of {b} {other}")
                }
            }
        };
        match self {
            JointProblem::ThinWall { mortise, surface, wall, wanted, governs: by } => Said::new(
                format!(
                    "the {} of {} leaves a wall of {} to the {surface}; {} is wanted: {} (common practice)",
                    mortise.what.words(),
                    name(mortise),
                    at_most(wall),
                    say(wanted),
                    governs(*by, notation)
                ),
                wall_cure(cures, "", notation),
            ),
            JointProblem::Cross { first, second, shared, may_be_mitred } => Said::new(
                format!("{} run into each other by {}", both(first, second), say(shared)),
                wall_cure(cures, if *may_be_mitred { "mitre the ends of the two tenons" } else { "" }, notation),
            ),
            JointProblem::ThinBetween { first, second, wall, wanted, touch, governs: by } => {
                let leave = match touch {
                    true => "touch each other".to_owned(),
                    false => format!("leave a wall of {} between them", at_most(wall)),
                };
                let wanted = format!("{} is wanted: {} (common practice)", say(wanted), governs(*by, notation));
                Said::new(format!("{} {leave}; {wanted}", both(first, second)), wall_cure(cures, "", notation))
            }
            JointProblem::Thick { mortise, thickness, largest, board } => Said::new(
                format!(
                    "the tenon of {} is {} thick, more than half of the part's {} (common practice: about a third)",
                    name(mortise),
                    say(thickness),
                    say(board)
                ),
                format!("make it about {}, at most {}", notation.at_most(*board / 3.0), notation.at_most(*largest)),
            ),
            JointProblem::NarrowShoulder { mortise, shoulder, wanted, less, cure } => Said::new(
                format!(
                    "a shoulder of {} is {} wide; {} is wanted (common practice)",
                    name(mortise),
                    say(shoulder),
                    say(wanted)
                ),
                match cures {
                    Cures::Any(_) => wall_cure(cures, "", notation),
                    _ => smaller_tenon(cure, *less, notation),
                },
            ),
            JointProblem::CutOpen { mortise, surface, by, from_end, .. } => Said::new(
                format!(
                    "the mortise of {}, {} from the left end of the net blank, is cut open{} when the {surface} is shaped",
                    name(mortise),
                    say(from_end),
                    by.as_ref().map_or_else(String::new, |by| format!(" by {}", say(by)))
                ),
                wall_cure(cures, "", notation),
            ),
        }
    }
}

impl Change for TenonsAlong {
    /// `"axis": "along" for "rail tenon" and "apron tenon"`.
    fn say(&self, _settings: &[Setting], _notation: &Notation) -> String {
        let names: Vec<String> = self.joints.iter().map(|name| format!("\"{name}\"")).collect();
        format!("\"axis\": \"along\" for {}", names.join(" and "))
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

impl Change for WithoutTenons {
    /// `the cross without "rod tenon"`.
    fn say(&self, _settings: &[Setting], _notation: &Notation) -> String {
        let names: Vec<String> = self.joints.iter().map(|name| format!("\"{name}\"")).collect();
        format!("the {} without {}", self.part, names.join(" and "))
    }
}

impl Change for Looser {
    /// `mortises pared 0.4 mm wider each way ("play" 0.5 mm under "shop")`.
    fn say(&self, settings: &[Setting], notation: &Notation) -> String {
        let play = settings.first().map_or_else(String::new, |set| written(set.value, notation));
        format!("mortises pared {} wider each way (\"play\" {play} under \"shop\")", notation.at_least(self.by))
    }
}

impl Words for AssemblyProblem {
    fn say(&self, notation: &Notation, cures: &Cures) -> Said {
        match self {
            AssemblyProblem::ShutIn { part, by } => Said::new(
                format!("the {part}, which no tenon holds, can go in at no time: the {} shut it in", by.join(", ")),
                match cures {
                    Cures::Any(all) => format!("{} lets it in, or make it in two", or(all, ", ", notation)),
                    _ => "make it in two, or give it tenons too".to_owned(),
                },
            ),
            AssemblyProblem::Unjoined { part, meets } => Said::new(
                format!("no joint holds the {part}: its ends only lie against the {}", meets.join(" and the ")),
                format!("give \"joints\" one \"from\" the {part} \"into\" the {}", meets.join(" or the ")),
            ),
            AssemblyProblem::Bind { part, onto, first, second, angle, bind, over, looser } => {
                let differ = match first == second {
                    true => format!("tenons of {first} differ in direction by {}", notation.angle(*angle)),
                    false => format!(
                        "the tenons of {first} and {second} differ in direction by {}",
                        notation.angle(*angle)
                    ),
                };
                let binds = bind.map_or_else(String::new, |bind| {
                    format!(" and bind {} over {}", notation.measured(bind), notation.measured(*over))
                });
                let message = format!(
                    "the {part} does not go onto the {onto}, alone or with all joints drawn up at once, in any order tried: {differ}{binds}"
                );
                let looser =
                    looser.map(|more| format!("pare the mortises {} wider each way", notation.at_least(more)));
                let is_looser = |cure: &Cure| cure.change_as::<Looser>().is_some();
                let remedy = match (cures, looser) {
                    (Cures::Any(all), Some(looser)) if !all.iter().any(is_looser) => {
                        format!("{} just does, or {looser}", or(all, ", ", notation))
                    }
                    (Cures::Any(all), _) => format!("{} just does", or(all, ", ", notation)),
                    (_, Some(looser)) => looser,
                    (_, None) => {
                        "join one of them without tenons: no axis, depth or play was found that is enough".to_owned()
                    }
                };
                Said::new(message, remedy)
            }
        }
    }
}

fn lying_flat(flat: &LyingFlat, [face, far]: [&str; 2], notation: &Notation) -> String {
    match flat {
        LyingFlat::Not => "set the machine against a straight edge clamped across the board instead".to_owned(),
        LyingFlat::OnTheBench => format!("cut it lying flat on the bench, the {far} down, as the machine does"),
        LyingFlat::BoardRaised(spacer) => {
            format!("cut it lying flat, the {far} down, on a spacer {} thick", notation.measured(*spacer))
        }
        LyingFlat::MachineRaised(spacer) => format!(
            "cut it lying flat, the {far} down and the {face} up, the machine on a spacer {} thick",
            notation.measured(*spacer)
        ),
    }
}

impl Words for MachineProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        let say = |length: Length| notation.measured(length);
        match self {
            MachineProblem::BeyondFence { mortise, from, reach, sides, flat } => Said::new(
                format!(
                    "the mortise of {} lies {} from where the fence does, {} beyond its reach",
                    name(mortise),
                    say(*from),
                    say(*from - *reach)
                ),
                lying_flat(flat, *sides, notation),
            ),
            MachineProblem::FenceAngle { mortise, angle, beyond, far, cure } => Said::new(
                format!(
                    "the mortise of {} wants the fence at {}, {} beyond what it has",
                    name(mortise),
                    notation.angle(angle.angle()),
                    notation.angle(beyond.angle())
                ),
                match cure {
                    FenceCure::FarSide(other) => {
                        format!("lay the fence on the {far} at {} and set it off from there", notation.angle(*other))
                    }
                    FenceCure::Wedge(wedge) => {
                        let wedge = notation.angle_and_slope(*wedge);
                        format!("put a wedge of {wedge} between the fence and the face side")
                    }
                },
            ),
            MachineProblem::Leans { mortise, angle } => Said::new(
                format!(
                    "the mortise of {} leans {} along its width from square to its surface, which no fence sets",
                    name(mortise),
                    notation.angle(*angle)
                ),
                format!(
                    "make its \"axis\" \"square\", or set the machine on a wedge of {}",
                    notation.angle_and_slope(*angle)
                ),
            ),
            MachineProblem::TooDeep { mortise, depth, largest, cut } => Said::new(
                format!(
                    "the mortise of {} is {} deep, {} more than the machine cuts",
                    name(mortise),
                    say(*depth),
                    say(*depth - *largest)
                ),
                match cut {
                    DeeperCut::FromBothSides => format!("cut it from both sides, {} from each", say(*depth / 2.0)),
                    DeeperCut::ByHandBetween => {
                        "cut it from both sides as deep as the machine does, and finish it by hand".to_owned()
                    }
                    DeeperCut::LessDeep => {
                        format!("the largest depth that does is {}; or finish it by hand", notation.at_most(*largest))
                    }
                },
            ),
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
                super::piece::straighter(*fits, notation),
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
