//! A number without a unit that is far from what is usual, and near to it in another unit: mostly that was meant.

use super::answered::{Answered, amount, length};
use super::starters::{Question, Wanted};
use crate::units::{Length, MM_PER_INCH, Notation, Units};

/// The units that a person may have in mind, as they are written, mm.
const UNITS: [(&str, f64); 5] =
    [("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("in", MM_PER_INCH), ("ft", 12.0 * MM_PER_INCH)];

/// What is more than so many times the usual, or less than that part of it, is far from it: no usual piece of a kind is twice another.
const FAR: f64 = 2.0;

/// So many units are offered.
const OFFERED: usize = 2;

/// Which other unit may be meant by the answer to a question, said of it; `None` where it is not far from what is usual, names its own
/// unit, or would be far in any.
pub fn slip(answered: Answered, question: &Question) -> Option<String> {
    if question.wanted != Wanted::Length {
        return None;
    }
    let answer = answered.answers.get(&answered.key(question.name))?;
    let number = amount(answer, answered.units)?.to_number().ok()?;
    let usual = length(&answered.unanswered(question), answered.units)?;
    let own = if answered.units == Units::Inch { "in" } else { "mm" };
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
        .map(|(unit, mm)| format!("{answer} {unit}, which is {}", notation.length(Length::from_mm(number * mm))))
        .collect();
    (!offers.is_empty()).then(|| {
        format!(
            "{} {}, where {} would be usual: do you mean {}? Then answer it with that unit.",
            question.called,
            answered.told(question),
            notation.length(usual),
            offers.join(", or "),
        )
    })
}
