//! Words for what is found of readings on a dry assembly.

use super::listed;
use crate::as_built::{AsBuiltProblem, Misread, Suspect};
use crate::finding::{Cures, Said, Words, and, quoted};
use crate::remaining::{Next, NotDrawn};
use crate::units::{Angle, Notation};

/// What is told of a slip.
struct Slip<'a> {
    /// The reading, as it is told.
    name: String,
    /// The other reading of the same, as it is told, and whether the two agree.
    again: Option<(String, bool)>,
    /// What both are readings of.
    of: &'static str,
    /// What was read, what all others say, and by how much that is off, told so finely that they differ.
    apart: [String; 3],
    /// By how much it is off, as a reading is told.
    off: String,
    /// What may be the slip as well.
    or: &'a [Suspect],
    /// Whether more than one reading may be off.
    several: bool,
}

impl Slip<'_> {
    fn words(&self, say: &Notation) -> Said {
        let Slip { name, again: twice, of, apart: [reads, others_say, apart], off, or, several } = self;
        let by = |suspect: &Suspect| match suspect.off {
            Misread::Length(off) => format!(", or {} by about {}", suspect.name, say.measured(off)),
            Misread::Angle(off) => format!(", or the {} by about {}", suspect.name, say.angle(off)),
        };
        let others: String = or.iter().map(by).collect();
        match twice {
            Some((other, false)) => Said::new(
                format!("{name} and {other} are the same {of} and one of them is off by about {off}"),
                before_cutting("measure it a third time", *several),
            ),
            Some((other, true)) => Said::new(
                match or.is_empty() {
                    true => format!(
                        "{name} and {other} are the same {of} and agree, but by all other readings it is {others_say} where {name} reads \
                         {reads}: {apart} apart"
                    ),
                    false => format!("{name} and {other}, which agree, are both off by about {off}{others}"),
                },
                format!(
                    "{}; where what was read twice reads the same again, another reading is off",
                    before_cutting(
                        if or.is_empty() { "measure it a third time" } else { "measure all of them again" },
                        *several
                    )
                ),
            ),
            None if or.is_empty() => Said::new(
                format!("{name} reads {reads}, and by all other readings it is {others_say}: {apart} apart"),
                again(1, *several),
            ),
            None => Said::new(format!("{name} is off by about {off}{others}"), again(1 + or.len(), *several)),
        }
    }
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
            AsBuiltProblem::LengthSlip { name, reads, others_say, off, or, again, several } => {
                let finely = apart(&[*reads, *others_say], &[]);
                let again = again.as_ref().map(|again| (again.name.clone(), again.agrees));
                let apart = [reads, others_say, off].map(|length| finely.length(*length));
                let off = say.measured(*off);
                Slip { name: name.clone(), again, of: "distance", apart, off, or, several: *several }.words(say)
            }
            AsBuiltProblem::AngleSlip { name, reads, others_say, off, or, again, several } => {
                let finely = apart(&[], &[*reads, *others_say]);
                let again = again.as_ref().map(|again| (format!("the {}", again.name), again.agrees));
                let apart = [reads, others_say, off].map(|angle| finely.angle(*angle));
                let (name, off) = (format!("the {name}"), say.angle(*off));
                Slip { name, again, of: "angle", apart, off, or, several: *several }.words(say)
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

impl Words for NotDrawn {
    fn say(&self, say: &Notation, _: &Cures) -> Said {
        match self {
            NotDrawn::NothingRead { next } => Said::new(
                "nothing was read on the piece yet, so that no part is drawn for it",
                read_next(&next.0, say),
            ),
            NotDrawn::Disagree {} => Said::new(
                "readings disagree by more than they can be misread, so that no part is drawn to cut by",
                "measure again what the warning names; what as-built tells without -o helps",
            ),
            NotDrawn::LengthLoose { part, off, most, next } => Said::new(
                format!(
                    "the {part}'s length is known to ± {} only, and what can be pared is {} at most, so that no part is drawn to cut by",
                    say.measured(*off),
                    say.measured(*most)
                ),
                read_next(&next.0, say),
            ),
            NotDrawn::EndLoose { part, end, is_mitre, off, opens, most, next } => Said::new(
                format!(
                    "the {} of the {part}'s {end} is known to ± {} only: an end sawn by it may stand open by {}, where {} is the most, so \
                     that no part is drawn to cut by",
                    if *is_mitre { "mitre" } else { "bevel" },
                    say.angle(*off),
                    say.measured(*opens),
                    say.measured(*most)
                ),
                read_next(&next.0, say),
            ),
        }
    }
}

/// What to read next, where anything is.
fn read_next(next: &Option<Next>, say: &Notation) -> String {
    match next {
        Some(next) => format!("measure next: {}", next.words(say)),
        None => "measure more from point to point".to_owned(),
    }
}
