//! How the piece stands and what is still to be made for it, in a maker's words.

use super::problem::Next;
use super::solved::{OFTEN, Remaining, RemainingPart, RemainingSize};
use crate::as_built::{Found, Number, Reading, Residual, Side};
use crate::board::{EdgeName, Surface};
use crate::effects::SizeOf;
use crate::job::not_decided;
use crate::tolerance::{SAW_SQUARE, SHOWN};
use crate::units::{Angle, Length, Notation};

/// A way is said of angles from so many degrees: below that they are shown as nothing.
const ANGLE_SHOWN: f64 = 0.005;

/// What stands on every sheet of a part before what its solid line is, the weightiest first.
pub fn sheet_words(part: &RemainingPart, say: &Notation) -> Vec<String> {
    let off = say.measured(Length::from_mm(OFTEN * part.loosest()));
    let crossed = part.sizes.iter().find(|size| size.size.at == Surface::Edge { name: EdgeName::LeftEnd, nth: 1 });
    let crossed = crossed.filter(|size| size.frame == Some(Side::Right));
    let over = format!("AS IT STANDS, length known to ± {off}: leave it that much longer, and pare");
    let crossed = crossed.map(|_| "LEFT END AT THE RIGHT FRAME".to_owned());
    let (not_decided, waits_for) = undecided(part).unzip();
    [not_decided, Some(over), crossed, waits_for].into_iter().flatten().collect()
}

/// That a part waits for a number, and for which.
fn undecided(part: &RemainingPart) -> Option<(String, String)> {
    (!part.waits_for.is_empty()).then(|| not_decided(&part.waits_for))
}

/// What is said where a reading is a slip.
const DISAGREE: &str =
    "Readings disagree by more than they can be misread: cut nothing by what follows before they are read again.";

/// How the frames stand, how the readings agree, what to read next, and the parts.
pub fn words(remaining: &Remaining, heading: &str, say: &Notation) -> String {
    let found = remaining.found;
    let count = found.readings.len();
    let readings = if count == 1 { "reading" } else { "readings" };
    let mut lines = vec![
        format!(
            "{heading}, as it stands by {count} {readings}. What stands behind ± holds 19 times of 20, if no reading holds a slip \
             smaller than is told behind it."
        ),
        String::new(),
    ];
    lines.extend(Number::ALL.iter().zip(found.fitted.pose).zip(found.stance.drawn).map(|((number, is), drawn)| {
        let known = found.fitted.is_known(*number);
        let off = OFTEN * found.fitted.deviation(*number);
        match known {
            true => format!(
                "{}: {} (± {}; drawn {})",
                number.words(),
                directed(*number, is, say),
                value(off, number.is_angle(), say),
                directed(*number, drawn, say)
            ),
            false => format!("{}: not known (drawn {})", number.words(), directed(*number, drawn, say)),
        }
    }));
    lines.extend(weak(found));
    lines.push(String::new());
    let unsure = least_sure(found);
    lines.extend(
        found
            .readings
            .iter()
            .zip(&found.fitted.residuals)
            .map(|(reading, residual)| agrees(reading, residual, (found, unsure), say)),
    );
    if !found.fitted.suspects().is_empty() {
        lines.push(DISAGREE.to_owned());
    }
    lines.extend(Next::of(found).map(|next| format!("Measure next: {}.", next.words(say))));
    for part in &remaining.parts {
        lines.push(String::new());
        lines.extend(part_lines(part, say));
    }
    if !remaining.made.is_empty() {
        lines.push(String::new());
        lines.push(format!("Made already, so not told: {}.", remaining.made.join(", ")));
    }
    lines.push(String::new());
    lines.push(level(found, say));
    lines.push(String::new());
    lines.join("\n")
}

/// A number with the way in which it goes, where that is to be said.
fn directed(number: Number, of: f64, say: &Notation) -> String {
    let size = value(of.abs(), number.is_angle(), say);
    let shows = of.abs().to_degrees() >= ANGLE_SHOWN;
    match number {
        Number::Twist(_) if shows && of > 0.0 => format!("{size} anticlockwise as seen from above"),
        Number::Twist(_) if shows => format!("{size} clockwise as seen from above"),
        Number::Lean(_) if shows && of < 0.0 => format!("{size} with the heads outwards"),
        _ if of < 0.0 && shows => format!("{size} inwards"),
        _ => size,
    }
}

/// Above this a slip is one that hardly shows: twice that of the middle one of all lengths, mm.
fn least_sure(found: &Found) -> f64 {
    let both = found.readings.iter().zip(&found.fitted.residuals);
    let mut slips: Vec<f64> = both
        .filter(|(reading, _)| !reading.what.is_angle())
        .filter_map(|(_, residual)| residual.least_slip)
        .collect();
    slips.sort_by(f64::total_cmp);
    slips.get(slips.len() / 2).map_or(f64::INFINITY, |middle| 2.0 * middle)
}

fn value(of: f64, is_angle: bool, say: &Notation) -> String {
    if is_angle { angle(of.to_degrees(), say) } else { say.measured(Length::from_mm(of)) }
}

/// Hundredths of a degree: over a rail of 100 mm a tenth is two tenths of a millimetre.
fn angle(degrees: f64, say: &Notation) -> String {
    Notation { decimals: 2, ..say.clone() }.angle(Angle::from_degrees(degrees))
}

fn weak(found: &Found) -> Option<String> {
    let numbers = &found.weak.as_ref()?.numbers;
    let (first, others) = numbers.split_first()?;
    let others = others
        .iter()
        .map(|(number, against)| format!("{} {}", if *against { "less" } else { "more" }, number.words()));
    let others: Vec<String> = others.collect();
    Some(match others.is_empty() {
        true => format!("No reading tells the {} by itself.", first.0.words()),
        false => {
            format!("No reading shows when there is more {} and with it {}.", first.0.words(), others.join(", "))
        }
    })
}

fn agrees(reading: &Reading, residual: &Residual, (found, unsure): (&Found, f64), say: &Notation) -> String {
    let is_angle = reading.what.is_angle();
    let off = value(residual.off.abs(), is_angle, say);
    let way = if residual.off > 0.0 { "more" } else { "less" };
    let unit = if is_angle { 1f64.to_radians() } else { 1.0 };
    let agrees = match residual.off.abs() < SHOWN * unit {
        _ if found.readings.len() == 1 => "the only reading".to_owned(),
        _ if residual.off_the_others.is_none() => "the others say nothing of it".to_owned(),
        true => "agrees with all others".to_owned(),
        false => format!("{off} {way} than all say together"),
    };
    let slip = match residual.least_slip {
        Some(least) => {
            let twice = if !is_angle && least > unsure { ", a smaller one not: measure it twice" } else { "" };
            format!("a slip of {} would show{twice}", value(least, is_angle, say))
        }
        None => "no other reading would show a slip: read it twice".to_owned(),
    };
    let taken = if reading.taken.is_empty() { String::new() } else { format!(" (taken {})", reading.taken) };
    format!("{}{taken} reads {}: {agrees}; {slip}", reading.name, value(reading.reads, is_angle, say))
}

impl Next {
    /// What to measure, what it should read, and what is known then.
    pub(crate) fn words(&self, say: &Notation) -> String {
        let (is, off) = self.expected;
        let [is, off] = [is, OFTEN * off].map(|of| value(of, self.is_angle, say));
        let gains = self.stretcher.filter(|[now, then]| now - then > SHOWN).map(|[now, then]| {
            let [now, then] = [now, then].map(|sd| value(OFTEN * sd, false, say));
            format!(": the stretcher's length would then be known to ± {then}; now it is to ± {now}")
        });
        format!("{} (it should read {is} ± {off}){}", self.name, gains.unwrap_or_default())
    }
}

fn part_lines(part: &RemainingPart, say: &Notation) -> Vec<String> {
    let waits =
        undecided(part).map_or_else(String::new, |(_, waits_for)| format!(": {waits_for}, cut nothing of it before"));
    let mut lines = vec![format!("{}, for the piece as it stands{waits}", part.label)];
    let mut seen: Vec<&str> = Vec::new();
    for size in part.sizes.iter().filter(|size| !size.is_thickness()) {
        if seen.contains(&size.place.as_str()) {
            continue;
        }
        seen.push(&size.place);
        let own: Vec<&RemainingSize> = part.sizes.iter().filter(|other| other.place == size.place).collect();
        lines.extend(place_line(part, &own, say));
    }
    lines
}

/// One end or edge: its angles, and of an edge its lengths.
fn place_line(part: &RemainingPart, own: &[&RemainingSize], say: &Notation) -> Option<String> {
    let first = own.first()?;
    let length = |of: SizeOf, side: &str| {
        let size = own.iter().find(|size| size.size.of == of && !size.size.is_end)?;
        let off = Length::from_mm(OFTEN * size.deviation);
        let is = Length::from_mm(size.size.value);
        Some(format!("{} ± {} {side}", say.measured(is), say.measured(off)))
    };
    let drawn =
        first.drawn.filter(|_| !first.size.is_end).map(|mm| format!("(drawn {})", say.measured(Length::from_mm(mm))));
    let lengths: Vec<String> = [length(SizeOf::OnFace, &part.sides[0]), length(SizeOf::OnFar, &part.sides[1])]
        .into_iter()
        .flatten()
        .collect();
    let over = (!lengths.is_empty()).then(|| "leave it longer by what stands behind ±, and pare".to_owned());
    let lengths = (!lengths.is_empty()).then(|| lengths.join(", "));
    let lengths = lengths.map(|lengths| format!("{lengths} {}", drawn.unwrap_or_default()).trim_end().to_owned());
    let turned = |of: SizeOf| own.iter().find(|size| size.size.of == of);
    let mitre = turned(SizeOf::Mitre).map(|size| format!("mitre {}", with_deviation(size, say)));
    let bevel = turned(SizeOf::Bevel).map(|size| {
        let degrees = size.size.value;
        let way = if first.size.is_end { ["longer", "shorter"] } else { ["wider", "narrower"] };
        let way = if degrees > 0.0 { way[0] } else { way[1] };
        let side = if degrees.abs() < SAW_SQUARE { String::new() } else { format!(", {} {way}", part.sides[1]) };
        format!("bevel {}{side}", with_deviation(size, say))
    });
    let all: Vec<String> = [lengths, mitre, bevel, over].into_iter().flatten().collect();
    let against = first.against.iter().map(|other| format!(" against {other}")).collect::<String>();
    // A part that is drawn from the back has its left end at the right frame.
    let frame = first.frame.map(|side| format!(", at the {} frame,", side.words())).unwrap_or_default();
    (!all.is_empty()).then(|| format!("  {}{frame}{against}: {}", first.place, all.join("; ")))
}

fn with_deviation(size: &RemainingSize, say: &Notation) -> String {
    format!("{} ± {}", angle(size.size.value.abs(), say), angle(OFTEN * size.deviation, say))
}

fn level(found: &Found, say: &Notation) -> String {
    if found.level.is_empty() {
        return "How much to saw off each foot is told once the gap under each is given, with the heads level (\"gaps\")."
            .to_owned();
    }
    let feet = found.level.iter().map(|(foot, off, deviation)| match *off > 0.0 {
        false => format!("{foot} nothing"),
        true => {
            let unsure = if *off < OFTEN * deviation { " (not known well enough to saw yet)" } else { "" };
            let [off, deviation] = [*off, OFTEN * deviation].map(|mm| say.measured(Length::from_mm(mm)));
            format!("{foot} {off} ± {deviation}{unsure}")
        }
    });
    format!("Saw off the feet, level with the heads: {}.", feet.collect::<Vec<_>>().join(", "))
}
