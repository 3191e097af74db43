//! A number that is far from what is usual, or from what stood before, and near to it in another unit: mostly that was meant.

use super::answered::{Answered, amount, length};
use super::starters::{Question, Wanted};
use crate::finding::{Finding, Place};
use crate::project::SlipProblem;
use crate::project::edit::SIZES;
use crate::units::{Length, MM_PER_INCH, Notation, Units};

/// The units that a person may have in mind, as they are written, mm.
const UNITS: [(&str, f64); 5] =
    [("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("in", MM_PER_INCH), ("ft", 12.0 * MM_PER_INCH)];

/// What is more than so many times the usual, or less than that part of it, is far from it: no usual piece of a kind is twice another.
const FAR: f64 = 2.0;

/// What is farther off than this is doubted in whatever unit it was meant.
pub const VERY_FAR: f64 = 2.5;

/// So many units are offered.
const OFFERED: usize = 2;

/// Why a length is doubted.
#[derive(Debug, Clone, PartialEq)]
pub enum Slip {
    /// In other units it is near to what is known: as it is then written, and how long that is; the likeliest first.
    Unit(Vec<(String, Length)>),
    /// It is very far from what is known, in whatever unit.
    Far,
}

impl Slip {
    /// A length as it is written, held against what is known of it: what is usual or stood before. Of which unit may be meant the first
    /// decides; what is not far from any is not doubted.
    pub fn of(written: &str, known: &[Length], units: Units) -> Option<Slip> {
        // A unit that was written may be the wrong one, too.
        let (digits, unit) = parted(written);
        let number = amount(digits, units)?.to_number().ok().filter(|number| *number > 0.0)?;
        let own = unit.unwrap_or(if units == Units::Inch { "in" } else { "mm" });
        let own = UNITS.into_iter().find(|(unit, _)| *unit == own)?.1;
        let off = |mm: f64, from: &Length| (number * mm / from.mm()).ln().abs();
        let known: Vec<Length> = known.iter().copied().filter(|length| length.mm() > 0.0).collect();
        let usual = known.first()?;
        if known.iter().any(|known| off(own, known) <= FAR.ln()) {
            return None;
        }
        let mut meant: Vec<(&str, f64)> = UNITS.into_iter().filter(|(_, mm)| off(*mm, usual) <= FAR.ln()).collect();
        meant.sort_by(|(_, a), (_, b)| off(*a, usual).total_cmp(&off(*b, usual)));
        meant.truncate(OFFERED);
        let meant: Vec<(String, Length)> =
            meant.into_iter().map(|(unit, mm)| (format!("{digits} {unit}"), Length::from_mm(number * mm))).collect();
        if !meant.is_empty() {
            return Some(Slip::Unit(meant));
        }
        // In no unit is it what is usual: all that can be said is how far off it is.
        known.iter().all(|known| off(own, known) > VERY_FAR.ln()).then_some(Slip::Far)
    }

    /// What is asked of it, behind what is said of the length.
    pub fn asked(&self, notation: &Notation) -> String {
        let Slip::Unit(meant) = self else { return "is that what you mean?".to_owned() };
        let offers: Vec<String> = meant
            .iter()
            .map(|(written, length)| format!("{written}, which is {}", notation.length(*length)))
            .collect();
        format!("do you mean {}?", offers.join(", or "))
    }
}

/// Which other unit may be meant by the answer to a question, said of it; `None` where it is not far from what is usual. What is very far in
/// any unit is doubted without a guess.
pub fn slip(answered: Answered, question: &Question) -> Option<(Slip, String)> {
    if question.wanted != Wanted::Length {
        return None;
    }
    let answer = answered.answers.get(&answered.key(question.name))?;
    let usual = length(&answered.unanswered(question), answered.units)?;
    let slip = Slip::of(answer, &[usual], answered.units)?;
    let notation = Notation { units: answered.units, ..Notation::default() };
    let how = if slip == Slip::Far { "" } else { " Then answer it with that unit." };
    let said =
        format!("{} {}, where {} would be usual", question.called, answered.told(question), notation.length(usual));
    let words = format!("{said}: {}{how}", slip.asked(&notation));
    Some((slip, words))
}

/// The size of a question, in a file that stands, where it is far from what is usual and near to it in another unit.
pub fn in_file(answered: Answered, question: &Question) -> Option<Finding> {
    let (Slip::Unit(meant), _) = slip(answered, question)? else { return None };
    let is = length(answered.answers.get(&answered.key(question.name))?, answered.units)?;
    let usual = length(&answered.unanswered(question), answered.units)?;
    let (written, meant) = meant.into_iter().next()?;
    let place = Place::pointer(format!("/{SIZES}")).child(question.name);
    let name = question.called.to_lowercase();
    Some(Finding::of(SlipProblem::OtherUnits { name, is, usual, written, meant }, place))
}

/// The number of an answer, and the unit behind it where it is one of those.
fn parted(answer: &str) -> (&str, Option<&'static str>) {
    let answer = answer.trim();
    let ending = UNITS.into_iter().filter_map(|(unit, _)| Some((unit, answer.strip_suffix(unit)?.trim_end())));
    // Of `mm` and `m` the longer one.
    match ending.max_by_key(|(unit, _)| unit.len()) {
        Some((unit, digits)) if digits.ends_with(|c: char| c.is_ascii_digit()) => (digits, Some(unit)),
        _ => (answer, None),
    }
}

#[cfg(test)]
mod tests {
    use super::Slip;
    use crate::units::{Length, Units};

    #[test]
    fn what_was_known_once_is_not_doubted() {
        let known = [620.0, 24.5].map(Length::from_mm);
        let meant = |written: &str, known: &[Length], units| match Slip::of(written, known, units) {
            Some(Slip::Unit(meant)) => meant.into_iter().map(|(written, _)| written).collect(),
            Some(Slip::Far) => vec!["far".to_owned()],
            None => Vec::new(),
        };
        assert_eq!(meant("62", &known[..1], Units::Mm), ["62 cm"]);
        assert_eq!(meant("62 mm", &known[..1], Units::Mm), ["62 cm"]);
        // 400 and 1016 mm are either not twice off 620; 300 mm is.
        assert_eq!(meant("40", &known[..1], Units::Mm), ["40 cm", "40 in"]);
        assert_eq!(meant("30", &known[..1], Units::Mm), ["30 in"]);
        assert_eq!(meant("40", &known, Units::Mm), [""; 0]);
        assert_eq!(meant("5000", &known[..1], Units::Mm), ["far"]);
        assert_eq!(meant("620", &[Length::from_inches(24.5)], Units::Inch), ["620 mm"]);
        // None of it, and nothing to hold it against.
        assert_eq!(meant("0", &known, Units::Mm), [""; 0]);
        assert_eq!(meant("62", &[Length::from_mm(0.0)], Units::Mm), [""; 0]);
    }
}
