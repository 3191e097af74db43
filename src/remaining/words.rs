//! How the piece stands and what is still to be made for it, in a maker's words.

use super::solved::{Remaining, RemainingPart, RemainingSize};
use crate::as_built::{Found, Number, Reading, Residual};
use crate::effects::SizeOf;
use crate::tolerance::{SAW_SQUARE, SHOWN};
use crate::units::{Angle, Length, Notation};

/// So many standard deviations to either side hold 19 of 20.
pub(super) const OFTEN: f64 = 1.96;

/// What is said where a reading is a slip.
const DISAGREE: &str =
    "Readings disagree by more than they can be misread: cut nothing by what follows before they are read again.";

/// How the frames stand, how the readings agree, what to read next, and the parts.
pub fn words(remaining: &Remaining, heading: &str, say: &Notation) -> String {
    let found = remaining.found;
    let mut lines = vec![
        format!(
            "{heading}, as it stands by {} readings. What stands behind ± holds 19 times of 20.",
            found.readings.len()
        ),
        String::new(),
    ];
    lines.extend(Number::ALL.iter().zip(found.fitted.pose).zip(found.stance.drawn).map(|((number, is), drawn)| {
        let known = found.fitted.is_known(*number);
        let off = OFTEN * found.fitted.deviation(*number);
        match known {
            true => format!(
                "{}: {} ± {} (drawn {})",
                number.words(),
                value(is, number.is_angle(), say),
                value(off, number.is_angle(), say),
                value(drawn, number.is_angle(), say)
            ),
            false => {
                format!("{}: not known (drawn {})", number.words(), value(drawn, number.is_angle(), say))
            }
        }
    }));
    lines.extend(weak(found));
    lines.push(String::new());
    lines.extend(
        found.readings.iter().zip(&found.fitted.residuals).map(|(reading, residual)| agrees(reading, residual, say)),
    );
    if !found.fitted.suspects().is_empty() {
        lines.push(DISAGREE.to_owned());
    }
    lines.extend(next(found, say));
    for part in &remaining.parts {
        lines.push(String::new());
        lines.extend(part_lines(part, say));
    }
    lines.push(String::new());
    lines.push(level(found, say));
    lines.push(String::new());
    lines.join("\n")
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

fn agrees(reading: &Reading, residual: &Residual, say: &Notation) -> String {
    let is_angle = reading.what.is_angle();
    let off = value(residual.off.abs(), is_angle, say);
    let way = if residual.off > 0.0 { "more" } else { "less" };
    let unit = if is_angle { 1f64.to_radians() } else { 1.0 };
    let agrees = match residual.off.abs() < SHOWN * unit {
        true => "agrees with all others".to_owned(),
        false => format!("{off} {way} than all say together"),
    };
    let slip = match residual.least_slip {
        Some(least) => format!("a slip of {} would show", value(least, is_angle, say)),
        None => "no other reading would show a slip: read it twice".to_owned(),
    };
    format!("{} reads {}: {agrees}; {slip}", reading.name, value(reading.reads, is_angle, say))
}

fn next(found: &Found, say: &Notation) -> Option<String> {
    let (next, stretcher) = found.next.as_ref()?;
    let would = match next.what {
        what if what.is_angle() => String::new(),
        what => format!(" (it should read {})", value(what.of(&found.stance, &found.fitted.pose), false, say)),
    };
    let gains = stretcher.filter(|[now, then]| now - then > SHOWN).map(|[now, then]| {
        let [now, then] = [now, then].map(|sd| value(OFTEN * sd, false, say));
        format!(": then the stretcher's length is known to ± {then}, now ± {now}")
    });
    Some(format!("Measure next: {}{would}{}.", next.name, gains.unwrap_or_default()))
}

fn part_lines(part: &RemainingPart, say: &Notation) -> Vec<String> {
    let mut lines = vec![format!("{}, for the piece as it stands", part.label)];
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
    let over = (!lengths.is_empty()).then(|| "cut over by what stands behind ± and pare".to_owned());
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
    (!all.is_empty()).then(|| format!("  {}{against}: {}", first.place, all.join("; ")))
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
            let [off, deviation] = [*off, OFTEN * deviation].map(|mm| say.measured(Length::from_mm(mm)));
            format!("{foot} {off} ± {deviation}")
        }
    });
    format!("Saw off the feet, level with the heads: {}.", feet.collect::<Vec<_>>().join(", "))
}
