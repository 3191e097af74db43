//! Words for what is found of readings on a dry assembly.

use super::listed;
use crate::as_built::{AsBuiltProblem, Misread, Suspect};
use crate::finding::{Cures, Said, Words, quoted};
use crate::units::{Angle, Notation};

/// One after the other, the last joined by `and`.
fn and(names: &[String]) -> String {
    match names.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// That one of several readings is off, each by its own amount.
fn one_is_off(first: &Suspect, others: &[Suspect], several: bool, say: &Notation) -> Said {
    let by = |suspect: &Suspect| match suspect.off {
        Misread::Length(off) => (suspect.name.clone(), say.measured(off)),
        Misread::Angle(off) => (format!("the {}", suspect.name), say.angle(off)),
    };
    let (name, off) = by(first);
    let others = others.iter().map(by).map(|(name, off)| format!(", or {name} by about {off}"));
    let count = 1 + others.len();
    Said::new(format!("{name} is off by about {off}{}", others.collect::<String>()), again(count, several))
}

/// What is to be measured again.
fn again(count: usize, several: bool) -> String {
    let which = match count {
        1 => "measure it again",
        2 => "measure both again",
        _ => "measure all of them again",
    };
    before_cutting(which, several)
}

/// That something comes before cutting, and whether more than one reading may be off.
fn before_cutting(which: &str, several: bool) -> String {
    let more = if several { "; more than one reading may be off: mend this one first and look again" } else { "" };
    format!("{which} before anything is cut by it{more}")
}

/// An angle so large was taken from the floor where it was to be taken from plumb, degrees.
const FROM_THE_FLOOR: f64 = 60.0;

/// What to do about an angle that no dry assembly has.
fn far_off_cure(reads: Angle, plumb: bool, say: &Notation) -> String {
    let degrees = reads.degrees().abs();
    match plumb {
        true if degrees >= FROM_THE_FLOOR => {
            let from_plumb = say.angle(Angle::from_degrees(90.0 - degrees));
            format!(
                "was it measured from the floor? then write 90 − {} = {from_plumb}; else measure again",
                say.angle(reads)
            )
        }
        true => "measure again from plumb, or take it out".to_owned(),
        false => "measure again off square to the rail's face, or take it out".to_owned(),
    }
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
            AsBuiltProblem::UnknownPoints { name, points, meant } => Said::new(
                format!("{} is no distance between two points of the piece", quoted(name)),
                format!(
                    "{}write two different letters of the assembly sheet with - between them; the points are {}",
                    meant.as_ref().map(|meant| format!("did you mean {}? ", quoted(meant))).unwrap_or_default(),
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
            AsBuiltProblem::AboveRail { up, from, to } => Said::new(
                format!(
                    "{} up from the rails' lower arris there is no inside face to measure from",
                    say.measured(*up)
                ),
                format!(
                    "there the face goes from {} to {} up, along its slope: measure within it, and write where",
                    say.measured(*from),
                    say.measured(*to)
                ),
            ),
            AsBuiltProblem::BeyondRailsEnd { off_centre, from, to } => Said::new(
                format!(
                    "{} off the centre line lies beyond the end of the rails' inside faces",
                    say.measured(*off_centre)
                ),
                format!(
                    "so far up, a face goes from {} to {} off the centre line, towards the back above zero",
                    say.measured(*from),
                    say.measured(*to)
                ),
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
            AsBuiltProblem::AngleFarOff { name, reads, drawn, off, plumb } => {
                let (cure, say) = (far_off_cure(*reads, *plumb, say), apart(&[], &[*reads, *drawn]));
                Said::new(
                    format!(
                        "the {name} reads {}, and as drawn it is {}: no dry assembly is {} off",
                        say.angle(*reads),
                        say.angle(*drawn),
                        say.angle(*off)
                    ),
                    cure,
                )
            }
            AsBuiltProblem::LengthSlip { name, off, again: Some(other), several, .. } => Said::new(
                format!(
                    "{name} and {other} are the same distance and one of them is off by about {}",
                    say.measured(*off)
                ),
                before_cutting("measure it a third time", *several),
            ),
            AsBuiltProblem::LengthSlip { name, off, or, several, .. } if !or.is_empty() => {
                let first = Suspect { name: name.clone(), off: Misread::Length(*off) };
                one_is_off(&first, or, *several, say)
            }
            AsBuiltProblem::AngleSlip { name, off, or, several, .. } if !or.is_empty() => {
                let first = Suspect { name: name.clone(), off: Misread::Angle(*off) };
                one_is_off(&first, or, *several, say)
            }
            AsBuiltProblem::LengthSlip { name, reads, others_say, off, several, .. } => {
                let say = apart(&[*reads, *others_say], &[]);
                Said::new(
                    format!(
                        "{name} reads {}, and by all other readings it is {}: {} apart",
                        say.length(*reads),
                        say.length(*others_say),
                        say.length(*off)
                    ),
                    again(1, *several),
                )
            }
            AsBuiltProblem::AngleSlip { name, reads, others_say, off, several, .. } => {
                let say = apart(&[], &[*reads, *others_say]);
                Said::new(
                    format!(
                        "the {name} reads {}, and by all other readings it is {}: {} apart",
                        say.angle(*reads),
                        say.angle(*others_say),
                        say.angle(*off)
                    ),
                    again(1, *several),
                )
            }
            AsBuiltProblem::TooFew { unknown, next } => Said::new(
                format!("the readings do not tell the {}", and(unknown)),
                match next {
                    Some(next) => {
                        format!(
                            "measure next: {next}; of all that may be measured it helps the parts still to be made most"
                        )
                    }
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
