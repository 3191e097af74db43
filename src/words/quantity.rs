//! Words for what is wrong with quantities as written, and with the size of a paper.

use super::field::rounded;
use super::listed;
use crate::finding::{Cures, Names, Said, Words, quoted};
use crate::model::{BadPaper, BadPaperKind};
use crate::project::{QuantityProblem, SlipProblem, Unreadable};
use crate::units::{FaultKind, Length, MOST_TERMS, Notation, QuantityKind, Refusal, with_points};

/// Said where nothing readable stands.
const EXAMPLE: &str = "write a quantity, for example \"38 mm\", \"1 1/2 in\" or \"740 - 24\"";

/// The units that there are.
const UNITS: &str = "use mm, cm, m, in, ft or deg";

impl FaultKind {
    /// What is wrong in a maker's words, and what cures it.
    pub fn said(&self) -> Said {
        match self {
            FaultKind::Nothing => Said::new("no quantity is written here", EXAMPLE),
            FaultKind::Missing => Said::new("a quantity is missing here", EXAMPLE),
            FaultKind::NoQuantity(c) => Said::new(format!("`{c}` cannot be read as a quantity"), EXAMPLE),
            FaultKind::NumberBefore(word) => Said::new(format!("a number belongs before `{word}`"), EXAMPLE),
            FaultKind::UnknownSize(name) => {
                Said::new(format!("no size is named \"{name}\""), format!("add \"{name}\" to \"sizes\""))
            }
            FaultKind::NotAUnit { word, near } => not_a_unit(word, *near),
            FaultKind::Comma(number) => comma(number.as_deref()),
            FaultKind::Bracket => {
                Said::new("brackets cannot be read in a sum", "give the part in brackets a name under \"sizes\"")
            }
            FaultKind::NoOperator(word) => {
                Said::new(format!("`{word}` stands here without + - * or / before it"), EXAMPLE)
            }
            FaultKind::NoSpaces(sign) => Said::new(
                format!("`{sign}` must stand between spaces"),
                format!("write \" {sign} \"; only a fraction such as 1-1/2 is written close"),
            ),
            FaultKind::ManyTerms => Said::new(
                format!("this sum has more than {MOST_TERMS} terms"),
                "give a part of it a name under \"sizes\"",
            ),
            FaultKind::Refused(why) => why.said(),
            number => bad_number(number),
        }
    }
}

/// What a comma may stand for: a point, or nothing, between thousands.
fn comma(number: Option<&str>) -> Said {
    let Some(written) = number else { return Said::new("a comma cannot be read in a sum", EXAMPLE) };
    if let Ok(point) = with_points(written) {
        return Said::new("a comma cannot be read in a number", format!("write {point}"));
    }
    let whole = written.replace(',', "");
    let remedy = match (whole.contains('.'), written.matches(',').count()) {
        (true, _) => "write it without commas and with one point at most, such as 1200.5".to_owned(),
        (false, 1) => {
            format!("write {whole} where it parts thousands, {} where it is a point", written.replace(',', "."))
        }
        (false, _) => format!("write {whole}"),
    };
    Said::new(format!("the comma in {written} can be read in two ways"), remedy)
}

fn not_a_unit(word: &str, near: Option<&str>) -> Said {
    let remedy = match near {
        _ if word.eq_ignore_ascii_case("o") => format!("write 0 for a nought, ° or deg for degrees; {UNITS}"),
        Some(near) => format!("did you mean `{near}`? {UNITS}"),
        None => format!("{UNITS}; put + - * or / between a number and a named size"),
    };
    Said::new(format!("`{word}` is not a unit"), remedy)
}

/// What is wrong with a number that could be read.
fn bad_number(fault: &FaultKind) -> Said {
    match fault {
        FaultKind::ArchitectsDash => Said::new(
            "this can mean feet and inches, or feet less inches",
            "write 5' 6\" for five feet and six inches, or give both in inches to subtract",
        ),
        FaultKind::FlatSlope => {
            Said::new("this slope has no length along", "write for example 1:6, one across in six along")
        }
        FaultKind::NoInchMark(inches) => Said::new(
            "the number after the feet has no inch mark",
            format!("write {inches} in or {inches}\" after the feet"),
        ),
        FaultKind::ManyInches => {
            Said::new("the inches after feet must be less than 12", "write the whole length in inches, or correct it")
        }
        FaultKind::FractionByZero => Said::new("this fraction divides by zero", "write for example 1/2"),
        FaultKind::LargeFraction => Said::new(
            "after a whole number the fraction must be less than 1",
            "write for example 1 1/2; put + between two numbers that are to be added",
        ),
        _ => Refusal::TooLarge.said(),
    }
}

impl QuantityKind {
    fn said(self) -> &'static str {
        match self {
            QuantityKind::Number => "a plain number",
            QuantityKind::Ratio => "a ratio (a quantity divided by one of its own kind)",
            QuantityKind::Length => "a length",
            QuantityKind::Angle => "an angle",
        }
    }
}

impl Refusal {
    /// What is wrong in a maker's words, and what cures it.
    pub fn said(&self) -> Said {
        match self {
            Refusal::Misplaced { found, wanted } => Said::new(
                format!("{} stands where {} belongs", found.said(), wanted.said()),
                match wanted {
                    QuantityKind::Length => "write a length, for example \"38 mm\" or \"1 1/2 in\"",
                    QuantityKind::Angle => "write an angle, for example \"12 deg\" or the slope \"1:6\"",
                    QuantityKind::Number | QuantityKind::Ratio => "leave the unit out",
                },
            ),
            Refusal::NoSum(a, b) => Said::new(
                format!("{} and {} cannot be added or subtracted", a.said(), b.said()),
                "add lengths to lengths and angles to angles",
            ),
            Refusal::NoProduct(a, b) => Said::new(
                format!("{} times {} is neither a length nor an angle", a.said(), b.said()),
                "multiply by a plain number, for example \"2 * height\"",
            ),
            Refusal::NoQuotient(a, b) => Said::new(
                format!("{} divided by {} is neither a length nor an angle", a.said(), b.said()),
                "divide by a plain number, for example \"height / 2\"",
            ),
            Refusal::ByZero => Said::new("this divides by zero", "divide by something larger than 0"),
            Refusal::TooLarge => Said::new("this number is too large", "write a smaller one"),
            Refusal::NoUnit(number) => Said::new(
                "this number does not say its unit",
                format!("write \"{number} mm\" or \"{number} in\", or add \"units\": \"mm\" or \"in\" to this file"),
            ),
        }
    }
}

impl Words for SlipProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        let SlipProblem::OtherUnits { name, is, usual, written, meant } = self;
        let say = |length: &Length| notation.length(*length);
        Said::new(
            format!("the {name} is {}, where {} would be usual for such a piece", say(is), say(usual)),
            format!("do you mean {written}, which is {}? Then give it that unit; else leave it as it is", say(meant)),
        )
    }
}

impl BadPaper {
    /// What is wrong in a maker's words, and what cures it.
    pub fn said(&self) -> Said {
        let forms = "A0 to A5, B0 to B5, Letter, Legal, Tabloid, ANSI C to E, ARCH A to E1, \"300 x 420 mm\" or \"roll: 610 mm\"";
        let said = match &self.kind {
            BadPaperKind::Unknown { name, near } => Said::new(
                format!("there is no paper {} here", quoted(name)),
                match near {
                    Some(near) => format!("did you mean \"{near}\"? known are {forms}"),
                    None => format!("write {forms}"),
                },
            ),
            BadPaperKind::Unreadable(why) => Said::new(
                format!("the size of this paper cannot be read: {}", why.said().message),
                "write for example \"300 x 420 mm\", \"12 x 18 in\" or \"roll: 610 mm\"",
            ),
            BadPaperKind::EitherUnit(text) => Said::new(
                format!("{} may be in inches or in millimetres: there is paper of either size", quoted(text)),
                format!("write \"{text} in\" or \"{text} mm\""),
            ),
            BadPaperKind::NoSuchSide { side, shortest, longest } => Said::new(
                format!("no paper has a side of {} mm", (side.mm() * 1000.0).round() / 1000.0),
                format!("write sides from {} mm to {} mm", shortest.mm(), longest.mm()),
            ),
        };
        let Some(([a, b], sheet)) = &self.in_inches else { return said };
        let size = format!("\"{} x {} in\"", a.inches(), b.inches());
        let remedy = match sheet {
            Some(name) => format!("did you mean \"{name}\", or {size}? Bare numbers are millimetres here"),
            None => format!("did you mean {size}? Bare numbers are millimetres here"),
        };
        Said { remedy, ..said }
    }
}

impl Unreadable {
    fn said(&self) -> Said {
        match self {
            Unreadable::Fault(kind) => kind.said(),
            Unreadable::Long(length) => Said::new(
                format!("this text is too long for a quantity: {length} characters"),
                "write a number with its unit, or a short sum",
            ),
            Unreadable::UnknownSize(name, known) => Said::new(
                format!("no size is named \"{name}\""),
                match &known.0 {
                    Names { near: Some(near), .. } => format!("did you mean \"{near}\"?"),
                    Names { all, .. } if all.is_empty() => format!("add \"sizes\": {{ \"{name}\": … }}"),
                    Names { all, .. } => format!("add it to \"sizes\", where there are {}", listed(all)),
                },
            ),
            Unreadable::NoAngle(field, name) => Said::new(
                format!("\"{field}\" is an angle, and no size is named \"{name}\""),
                "write an angle: 0 runs along x, 90 along y",
            ),
        }
    }
}

fn unused_size(name: &str, added: bool, near: &Option<String>) -> Said {
    let meant = near.as_ref().map(|near| format!("did you mean \"{near}\"?"));
    if added {
        let remedy = "change what is to use it at the same time, or name a size that is there";
        return Said::new(
            format!("there is no size {}, and no sum would use it", quoted(name)),
            meant.unwrap_or_else(|| remedy.to_owned()),
        );
    }
    Said::new(
        format!("no sum uses the size \"{name}\": to change it changes nothing"),
        match meant {
            Some(meant) => format!("{meant} Else use it in a sum, or remove it"),
            None => "use it in a sum, or remove it".to_owned(),
        },
    )
}

impl Words for QuantityProblem {
    fn say(&self, _notation: &Notation, _cures: &Cures) -> Said {
        match self {
            QuantityProblem::Unreadable { why } => why.said(),
            QuantityProblem::Wrong { why, size } => {
                let said = why.said();
                let Some(name) = &size.0 else { return said };
                let remedy = format!(
                    "a bare number in \"sizes\" is a length; make \"{name}\" there an angle, for example \"12 deg\" or \"1:6\""
                );
                Said { remedy, ..said }
            }
            QuantityProblem::Ring { sizes } => {
                let needs: Vec<String> =
                    sizes.windows(2).map(|pair| format!("\"{}\" needs \"{}\"", pair[0], pair[1])).collect();
                Said::new(
                    format!("these sizes go round in a ring: {}", needs.join(", ")),
                    "give one of them a value that needs none of the others",
                )
            }
            QuantityProblem::BareFraction { text, size } => {
                let mm = rounded(size.mm());
                Said::new(
                    format!("{text} has no unit, and bare numbers are millimetres here: it would be {mm} mm"),
                    format!("write {text} in where inches are meant, or {mm} mm"),
                )
            }
            QuantityProblem::UnusedSize { name, added, others } => unused_size(name, *added, &others.0.near),
        }
    }
}
