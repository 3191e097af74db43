//! Words for what is found of readings on a dry assembly.

use super::listed;
use crate::as_built::AsBuiltProblem;
use crate::finding::{Cures, Said, Words, quoted};
use crate::units::Notation;

/// One after the other, the last joined by `and`.
fn and(names: &[String]) -> String {
    match names.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// Which others are as likely to be the slip.
fn or_others(or: &[String]) -> String {
    if or.is_empty() { String::new() } else { format!(" ({} may be the slip as well)", and(or)) }
}

impl Words for AsBuiltProblem {
    fn say(&self, say: &Notation, _: &Cures) -> Said {
        let apart =
            |lengths: &[crate::units::Length], angles: &[crate::units::Angle]| say.telling_apart(lengths, angles);
        match self {
            AsBuiltProblem::NotFrames {} => Said::new(
                "how a piece stands can be found of two leaning frames with two legs each, and this is none",
                "take \"as_built\" out",
            ),
            AsBuiltProblem::UnknownPoints { name, points } => Said::new(
                format!("{} is no distance between two points of the piece", quoted(name)),
                format!(
                    "write two different letters of the assembly sheet with - between them; the points are {}",
                    points.0.join(", ")
                ),
            ),
            AsBuiltProblem::UnknownFoot { name, feet } => Said::new(
                format!("{} is no foot of the piece", quoted(name)),
                format!("the feet are {}", listed(feet)),
            ),
            AsBuiltProblem::NoRails { rails: false } => Said::new(
                "this was read between the bottom rails, and the frames have none",
                "take it out, or give the frames bottom rails",
            ),
            AsBuiltProblem::NoRails { rails: true } => Said::new(
                "it is not told how far up the bottom rails this was read, and there is no stretcher whose place would tell",
                "add \"up\": how far up the rails' inside faces from their lower arris",
            ),
            AsBuiltProblem::LengthFarOff { name, reads, drawn, off } => {
                let say = apart(&[*reads, *drawn], &[]);
                Said::new(
                    format!(
                        "{name} reads {}, and as drawn it is {}: no dry assembly is {} off",
                        say.length(*reads),
                        say.length(*drawn),
                        say.length(*off)
                    ),
                    "measure again, look at the letters on the assembly sheet, or take it out",
                )
            }
            AsBuiltProblem::AngleFarOff { name, reads, drawn, off } => {
                let say = apart(&[], &[*reads, *drawn]);
                Said::new(
                    format!(
                        "the {name} reads {}, and as drawn it is {}: no dry assembly is {} off",
                        say.angle(*reads),
                        say.angle(*drawn),
                        say.angle(*off)
                    ),
                    "measure again from plumb, or take it out",
                )
            }
            AsBuiltProblem::LengthSlip { name, reads, others_say, off, or } => {
                let say = apart(&[*reads, *others_say], &[]);
                Said::new(
                    format!(
                        "{name} reads {}, and by all other readings it is {}: {} apart{}",
                        say.length(*reads),
                        say.length(*others_say),
                        say.length(*off),
                        or_others(or)
                    ),
                    "measure it again before anything is cut by it",
                )
            }
            AsBuiltProblem::AngleSlip { name, reads, others_say, off, or } => {
                let say = apart(&[], &[*reads, *others_say]);
                Said::new(
                    format!(
                        "the {name} reads {}, and by all other readings it is {}: {} apart{}",
                        say.angle(*reads),
                        say.angle(*others_say),
                        say.angle(*off),
                        or_others(or)
                    ),
                    "measure it again before anything is cut by it",
                )
            }
            AsBuiltProblem::TooFew { unknown, next } => Said::new(
                format!("the readings do not tell the {}", and(unknown)),
                match next {
                    Some(next) => format!("measure {next} next: of all that may be measured it tells most"),
                    None => "measure more from point to point".to_owned(),
                },
            ),
            AsBuiltProblem::GapsMissing { missing } => Said::new(
                format!("the gap under {} is not given: how a foot is sawn hangs on all of them", and(missing)),
                "add it: 0 where the foot stands on the floor",
            ),
            AsBuiltProblem::NoFootDown { least } => Said::new(
                format!(
                    "there is a gap of {} or more under every foot, and one of them stands on the floor",
                    say.measured(*least)
                ),
                "give the foot that stands on the floor 0, with the heads held level",
            ),
            AsBuiltProblem::PatternsAsDrawn {} => Said::new(
                "print, plot, draw and schedule make every part as it is drawn, not as the piece stands",
                "as-built makes the stretcher and the aprons for the piece as it stands",
            ),
        }
    }
}
