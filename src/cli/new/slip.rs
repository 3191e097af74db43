//! A number that is far from what is usual, and near to it in another unit: mostly that was meant.

use super::answered::{Answered, amount, length};
use super::starters::{Question, Wanted};
use crate::units::{Length, MM_PER_INCH, Notation, Units};

/// The units that a person may have in mind, as they are written, mm.
const UNITS: [(&str, f64); 5] =
    [("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("in", MM_PER_INCH), ("ft", 12.0 * MM_PER_INCH)];

/// What is more than so many times the usual, or less than that part of it, is far from it: no usual piece of a kind is twice another.
const FAR: f64 = 2.0;

/// What is farther off than this is doubted in whatever unit it was meant.
const VERY_FAR: f64 = 2.5;

/// So many units are offered.
const OFFERED: usize = 2;

/// Which other unit may be meant by the answer to a question, said of it; `None` where it is not far from what is usual. What is very far in
/// any unit is doubted without a guess.
pub fn slip(answered: Answered, question: &Question) -> Option<String> {
    if question.wanted != Wanted::Length {
        return None;
    }
    let answer = answered.answers.get(&answered.key(question.name))?;
    let usual = length(&answered.unanswered(question), answered.units)?;
    // A unit that was written may be the wrong one, too.
    let (digits, written) = parted(answer);
    let number = amount(digits, answered.units)?.to_number().ok()?;
    let own = match (written, answered.units) {
        (Some(unit), _) => unit,
        (None, Units::Inch) => "in",
        (None, Units::Mm) => "mm",
    };
    let off = |mm: f64| (number * mm / usual.mm()).ln().abs();
    let is_far = |mm: f64| off(mm) > FAR.ln();
    let mut meant: Vec<(&str, f64)> = UNITS.into_iter().filter(|(_, mm)| !is_far(*mm)).collect();
    if meant.iter().any(|(unit, _)| *unit == own) {
        return None;
    }
    meant.sort_by(|(_, a), (_, b)| off(*a).total_cmp(&off(*b)));
    let notation = Notation { units: answered.units, ..Notation::default() };
    let offers: Vec<String> = meant
        .iter()
        .take(OFFERED)
        .map(|(unit, mm)| format!("{digits} {unit}, which is {}", notation.length(Length::from_mm(number * mm))))
        .collect();
    let said =
        format!("{} {}, where {} would be usual", question.called, answered.told(question), notation.length(usual));
    if !offers.is_empty() {
        return Some(format!("{said}: do you mean {}? Then answer it with that unit.", offers.join(", or ")));
    }
    // In no unit is it what is usual: all that can be said is how far off it is.
    let is = length(answer, answered.units)?;
    let times = (is.mm() / usual.mm()).ln().abs();
    (times > VERY_FAR.ln()).then(|| format!("{said}: is that what you mean?"))
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
