//! Words for what becomes of parts that exist already.

use super::listed;
use crate::change::{
    Cost, FarReading, Lack, MadeName, MadeProblem, PLANED_SAFELY, Patch, Priced, Rescue, Setting, Slimmer, Step,
    Unfit, Wedge, rolled_words,
};
use crate::finding::{Cures, Said, Words, and, quoted};
use crate::tolerance::{NOTICEABLE, SHOWN_SQUARE};
use crate::units::{Angle, Length, MM_PER_INCH, Notation, Units};

/// What looks for other numbers, where they could spare a part.
fn other_numbers(may_be_spared: bool) -> &'static str {
    if may_be_spared { "; which other numbers would spare it says fullsize made FILE --offers" } else { "" }
}

/// What a maker does whose boards all came out thinner.
const THIN: &str = ", or give the thickness that is there as the part's own in the file and see what follows";

/// Cubic millimetres in a cubic centimetre, and in a cubic inch.
const MM3_TO_A_CM3: f64 = 1000.0;
const MM3_TO_AN_INCH3: f64 = MM_PER_INCH * MM_PER_INCH * MM_PER_INCH;

/// Less wood than this, mm³, is not told.
const TOLD: f64 = 500.0;

impl MadeName {
    /// It in a maker's words: `leg (left front leg; rev 4F2A9C)`.
    fn said(&self) -> String {
        let only = if self.only.is_empty() { String::new() } else { format!("{}; ", self.only.join(", ")) };
        let measured = if self.measured { ", as measured" } else { "" };
        format!("{} ({only}made by rev {}{measured})", self.part, self.code)
    }
}

impl Setting {
    fn said(&self, say: &Notation) -> String {
        let mitre = self.mitre.map(|mitre| format!("mitre {}", say.angle(mitre)));
        let side = if self.bevel.degrees() > 0.0 { "far side longer" } else { "far side shorter" };
        let bevel = match self.bevel.degrees().abs() > SHOWN_SQUARE {
            true => format!("bevel {}, {side}", say.angle(Angle::from_degrees(self.bevel.degrees().abs()))),
            false => "blade square to the face".to_owned(),
        };
        mitre.into_iter().chain([bevel]).collect::<Vec<String>>().join(", ")
    }
}

/// From how much to how much: `19.9 mm`, `from 1.2 mm to 3.4 mm`, `up to 0.6 mm`.
fn span([least, most]: [Length; 2], say: &Notation) -> String {
    match () {
        // What is read alike is told once.
        () if say.length(least) == say.length(most) => say.length(most),
        () if least.mm() > NOTICEABLE => format!("from {} to {}", say.length(least), say.length(most)),
        () => format!("up to {}", say.length(most)),
    }
}

impl Step {
    /// What is done in it.
    pub(crate) fn said(&self, say: &Notation) -> String {
        let set = |saw: &Option<Setting>| saw.map_or_else(String::new, |saw| format!(" ({})", saw.said(say)));
        let amount = |by: &[Length; 2], on_face: &Option<[Length; 2]>| span(on_face.unwrap_or(*by), say);
        let measured = |on_face: &Option<[Length; 2]>| match on_face {
            Some(_) => "measured on the face, square to its line",
            None => "measured square to it",
        };
        match self {
            Step::Plane { side, by } => format!("plane {} off the {side}", say.length(*by)),
            Step::Edge { edge, by, on_face, saw } => {
                format!("plane {} off the {edge}, {}{}", amount(by, on_face), measured(on_face), set(saw))
            }
            Step::Saw { end, by, on_face, saw, is_shoulder: true } => {
                format!(
                    "cut the shoulder at the {end} back by {}, {}{}",
                    amount(by, on_face),
                    measured(on_face),
                    set(saw)
                )
            }
            Step::Saw { end, by, on_face, saw, is_shoulder: false } => {
                format!("saw {} off the {end}, {}{}", amount(by, on_face), measured(on_face), set(saw))
            }
            Step::Turn { place, to } => format!("turn the {place} down to {}", say.length(*to)),
            Step::Along(words) => format!("work along it as it is now: {words}"),
            Step::Fill { what, off, turned, rolled, is_large } => {
                let off = off.iter().map(|(by, towards)| format!("{} towards the {towards}", say.length(*by)));
                let off = off.collect::<Vec<String>>().join(" and ");
                let large = if *is_large { " (it is too large)" } else { "" };
                let moved = if off.is_empty() { String::new() } else { format!(", {off} of where it is") };
                let turned = turned.map_or(String::new(), |by| format!(", its own axis turned by {}", say.angle(by)));
                let rolled = rolled.map_or(String::new(), |by| format!(", {}", rolled_words(by, say)));
                format!("fill {what}{large} and cut it again{moved}{turned}{rolled}")
            }
            Step::Cut(what) => format!("cut {what}"),
            Step::Enlarge(what) => format!("cut {what} larger, as the pattern has it"),
            Step::Deepen { what, by } => format!("cut {what} {} deeper than it then is", say.length(*by)),
            Step::Shorten { what, by, to } => format!(
                "saw {} off the end of {what}, so that it stands out {} from its shoulder",
                say.length(*by),
                say.length(*to)
            ),
            Step::SawOff(what) => format!("saw {what} off at its shoulder, which nothing needs now"),
            Step::Slim { what, by } => {
                format!("make {what} {} in all, alike on both sides of its middle", by.said(say))
            }
            Step::Pare { what, by } => format!("pare up to {} at {what}", say.length(*by)),
            Step::MarkThrough(all) => {
                let [it, is, its, screw] = match all.len() {
                    1 => ["it", "is", "its", "screw"],
                    _ => ["they", "are", "their", "screws"],
                };
                let what = and(all);
                format!(
                    "leave {what} where {it} {is}, and mark {its} {screw} in the top from there, not by the top's pattern"
                )
            }
            Step::Idle(what) => format!("leave {what}, which nothing needs now"),
        }
    }
}

impl Slimmer {
    fn said(self, say: &Notation) -> String {
        let less = |by: Option<Length>, how: &str| by.map(|by| format!("{} {how}", say.length(by)));
        match self {
            Slimmer::Round(by) => format!("{} less in diameter", say.length(by)),
            Slimmer::Square { width, thickness } => {
                let both = less(width, "narrower").into_iter().chain(less(thickness, "thinner"));
                and(&both.collect::<Vec<String>>())
            }
        }
    }
}

impl Lack {
    fn said(&self, say: &Notation) -> String {
        match self {
            Lack::At(surface, by) => format!("{} at the {surface}, square to it", say.length(*by)),
            Lack::Thickness(by) => format!("{} of thickness", say.length(*by)),
            Lack::Diameter(place, by) if by.mm() > 0.0 => format!("{} of diameter at the {place}", say.length(*by)),
            Lack::Diameter(..) => "being turned, or square".to_owned(),
            Lack::Tenon { what, stands: true } => format!("{what} as it is wanted"),
            Lack::Tenon { what, stands: false } => what.clone(),
        }
    }
}

fn steps(all: &[Step], say: &Notation) -> String {
    let said: Vec<String> = all.iter().map(|step| step.said(say)).collect();
    match said.as_slice() {
        [only] => only.clone(),
        several => format!("in this order: {}", several.join("; then ")),
    }
}

impl Wedge {
    fn said(&self, say: &Notation) -> String {
        let length = |length: Length| say.length(length);
        let [one, other] = self.heights;
        let high = match (one.mm() - other.mm()).abs() <= NOTICEABLE {
            true => length(one),
            false => format!("{} at its left end and {} at its right", length(one), length(other)),
        };
        let enough = match self.is_thick_enough() {
            true => String::new(),
            false => {
                format!(
                    "; the thinnest wall is then {}, less than the {} that is wanted",
                    length(self.wall),
                    length(self.wanted)
                )
            }
        };
        let safe = match self.is_long_enough() {
            true => "if the planer's manual allows work on a carrier".to_owned(),
            false => format!(
                "by hand, since at {} it is shorter than the {} that go through a planer safely",
                length(self.length),
                length(Length::from_mm(PLANED_SAFELY))
            ),
        };
        format!(
            "where its joints hold it as it is, plane the {side} to the new angle, {turn} off: lay the {down} down on a wedge as long as \
             the part, {high} high under the arris of its {under}, and plane until the arris opposite is just kept, {safe}; {thin} is \
             left under the {side}'s thin arris, and {left} where the {down} is then planed to it{enough}",
            side = self.side,
            down = self.down,
            under = self.under,
            turn = say.angle(self.turn),
            thin = length(self.thin),
            left = length(self.left),
        )
    }
}

impl Rescue {
    fn said(&self, say: &Notation) -> String {
        match self {
            Rescue::Rebevel { edge, lost, saw, .. } => {
                let set = saw.map_or_else(String::new, |saw| format!(" ({})", saw.said(say)));
                format!("bevel the {edge} again{set}, and have it {} less deep", say.length(*lost))
            }
            Rescue::Wedge(wedge) => wedge.said(say),
            Rescue::Patched(all) => all.iter().map(|patch| patch.said(say)).collect::<Vec<String>>().join(", and "),
        }
    }
}

impl Patch {
    fn said(&self, say: &Notation) -> String {
        match self {
            Patch::Pack { at, is_end, thickness, size: [long, wide], is_veneer, covers, .. } => {
                let what = if *is_veneer { "veneer" } else { "a piece" };
                let size = format!("{} by {}", say.length(*long), say.length(*wide));
                let grain =
                    if *is_end { "on end grain, where glue alone holds badly" } else { "grain as the part's" };
                let over = if *covers { ", over what is worked there, which is cut again" } else { "" };
                format!(
                    "glue {what} {} thick to the {at}, {size} and some over, {grain}{over}",
                    say.length(*thickness)
                )
            }
            Patch::Loose { what, stands: true } => {
                format!("saw {what} off at its shoulder and mortise both parts for a loose tenon")
            }
            Patch::Loose { what, stands: false } => {
                format!("mortise both parts for a loose tenon in place of {what}")
            }
        }
    }
}

impl Cost {
    fn said(&self, say: &Notation) -> String {
        let count = |count: u32, what: &str| match count {
            0 => None,
            1 => Some(format!("1 {what}")),
            count => Some(format!("{count} {what}s")),
        };
        let cubic = |mm: f64, what: &str| {
            let told = match say.units {
                Units::Mm => format!("{:.0} cm³", mm / MM3_TO_A_CM3),
                Units::Inch => format!("{:.1} in³", mm / MM3_TO_AN_INCH3),
            };
            (mm >= TOLD).then(|| format!("{told} {what}"))
        };
        let all = [
            count(self.set_ups, "set-up"),
            count(self.glue_ups, "glue-up"),
            cubic(self.away, "planed away"),
            cubic(self.added, "glued on"),
        ];
        all.into_iter().flatten().collect::<Vec<String>>().join(", ")
    }
}

/// What saves a part, the cheapest first, each with what is then to be done besides; empty where nothing does. `besides` is whether the
/// part is not told already what else is to be done to it.
fn rescues(all: &[Priced], besides: bool, say: &Notation) -> String {
    let said = |one: &Priced| {
        let then = match one.then.is_empty() || !besides {
            true => String::new(),
            false => format!(", and then {}", steps(&one.then, say)),
        };
        format!("{} [{}]{then}", one.rescue.said(say), one.cost.said(say))
    };
    match all {
        [] => String::new(),
        [only] => format!("; or {}", said(only)),
        several => {
            let ways: Vec<String> =
                several.iter().enumerate().map(|(at, one)| format!("({}) {}", at + 1, said(one))).collect();
            format!("; or one of these ways, the cheapest first: {}", ways.join("; "))
        }
    }
}

impl Words for MadeProblem {
    fn say(&self, say: &Notation, _cures: &Cures) -> Said {
        match self {
            MadeProblem::Keeps { parts } => {
                let names: Vec<String> = parts.iter().map(MadeName::said).collect();
                Said::new(format!("of what is made already, nothing is to be cut again of {}", names.join(", ")), "")
            }
            MadeProblem::Marked { part, steps: all } => Said::new(
                format!(
                    "{} is made already and good as it is; what holds the top stands elsewhere in it than is drawn",
                    part.said()
                ),
                steps(all, say),
            ),
            MadeProblem::Trims { part, steps: all, rescues: saved, .. } => Said::new(
                format!("{} is made already, and what is wanted now can be cut from it", part.said()),
                format!("{}{}", steps(all, say), rescues(saved, false, say)),
            ),
            MadeProblem::Rescued { part, steps: all, rescues: saved, may_be_spared, .. } => Said::new(
                format!(
                    "{} is made already: its wood holds what is wanted now, but not all that is worked in it stands where it is wanted",
                    part.said()
                ),
                format!("{}{}{}", steps(all, say), rescues(saved, false, say), other_numbers(*may_be_spared)),
            ),
            MadeProblem::Again { part, lacks, rescues: saved, may_be_spared, .. } => {
                let is_thin = lacks.iter().any(|lack| matches!(lack, Lack::Thickness(_)));
                let lacks: Vec<String> = lacks.iter().map(|lack| lack.said(say)).collect();
                Said::new(
                    format!("{} is made already, and lacks {}", part.said(), lacks.join(" and ")),
                    format!(
                        "make it again by its pattern, or take the change back{}{}{}",
                        if is_thin { THIN } else { "" },
                        rescues(saved, true, say),
                        other_numbers(*may_be_spared)
                    ),
                )
            }
            MadeProblem::Unwanted { part } => Said::new(
                format!("{} is made already, and the piece has no such part now", part.said()),
                "keep the wood for another part, and take it out of \"made\" with fullsize made FILE PART none",
            ),
            MadeProblem::InWind { part, end, off } => Said::new(
                format!(
                    "of {} the readings of the {end} lie in no one plane: one of them is {} off that of the others at least",
                    part.said(),
                    say.length(*off)
                ),
                "read them again; where they are right, the end is in wind by that",
            ),
            MadeProblem::OtherSide { part, at, read, drawn } => Said::new(
                format!(
                    "the bevel of the {at} of {} reads {}, where {} was drawn: it slants to the other side",
                    part.said(),
                    say.angle(*read),
                    say.angle(*drawn)
                ),
                "a bevel is above zero where the far side is longer, and below where it is shorter: give its sign, if that is meant",
            ),
            MadeProblem::ReadingFar { part, what, read, drawn } => Said::new(
                format!(
                    "{} of {} reads {}, where {} was drawn",
                    what.said(),
                    part.said(),
                    say.length(*read),
                    say.length(*drawn)
                ),
                "read it again, and mind the unit; where it is right, nothing",
            ),
            MadeProblem::Unknown { part, code, parts, codes } => unknown(part, code, &parts.0.near, codes),
            MadeProblem::NoCopy { part, copy, copies } => Said::new(
                format!("there is no {} of {}", quoted(copy), quoted(part)),
                format!("its copies are {}", listed(&copies.0.all)),
            ),
            MadeProblem::Unfits { part, why } => unfit(part, why),
        }
    }
}

impl FarReading {
    fn said(&self) -> String {
        match self {
            FarReading::Length(edge) => edge.clone(),
            FarReading::FarLength(edge) => format!("{edge} on the far side"),
            FarReading::Width(end) => format!("{end} width"),
            FarReading::Thickness => "thickness".to_owned(),
        }
    }
}

fn unknown(part: &str, code: &str, near: &Option<String>, codes: &[String]) -> Said {
    let message = format!("what {} was as rev {code}, by which it is made, is not known here", quoted(part));
    let kept =
        "it is kept beside the file (NAME.made.json), which fullsize made FILE PART writes: keep both together";
    match (codes, near) {
        ([], Some(near)) if near != part => Said::new(message, format!("did you mean {}? {kept}", quoted(near))),
        ([], _) => Said::new(message, format!("{kept}, or say it again")),
        (codes, _) => Said::new(message, format!("known are rev {}; {kept}", codes.join(", "))),
    }
}

fn unfit(part: &MadeName, why: &Unfit) -> Said {
    let of = part.said();
    match why {
        Unfit::NoSuch { name, known } => Said::new(
            format!("{of} has no {} that is measured so", quoted(name)),
            format!("it has {}", listed(known)),
        ),
        Unfit::NotAtEnd { edge, end } => Said::new(
            format!("the {edge} of {of} does not run to the {end}, so a reading along it says nothing of that"),
            "read along an edge that does, or name the end that is meant (short_at)",
        ),
        Unfit::SquareEnd(end) => Said::new(
            format!("the {end} of {of} is square in the face: its mitre alone does not say to which side it leans"),
            "read the lengths along both its edges instead",
        ),
        Unfit::ThicknessOnly => {
            Said::new(format!("{of} is turned: only its thickness is read"), "leave the other readings out")
        }
        Unfit::NoBoard => Said::new(
            format!("{of} is drawn directly: only its thickness is read, and what was trimmed off its edges"),
            "leave the other readings out, or draw it as it is",
        ),
        Unfit::NoEnd => Said::new(
            format!("{of} has no sawn end by which a length or a width along it would be meant"),
            "say what went off an edge: \"front edge trimmed=15\", by the edge's name",
        ),
        Unfit::TrimmedTwice(edge) => Said::new(
            format!("what went off the {edge} of {of} is told twice, along its curve and by a straight cut"),
            "say one of them, and take the other back with =none",
        ),
        Unfit::AllRound(edge) => Said::new(
            format!("the {edge} of {of} goes all round it: it has no side from which something is trimmed"),
            "draw the part as it is now instead",
        ),
        Unfit::Nothing => Said::new(
            format!("by these readings nothing is left of {of}"),
            "read again: a length runs along its edge from end to end",
        ),
    }
}
