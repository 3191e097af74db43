//! The names of units, and what may not be one.

use super::{Fault, FaultKind};
use std::ops::Range;

/// A unit that may stand behind a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Foot,
    Degree,
}

/// Every unit's names, in lower case.
const UNIT_NAMES: [(&str, Unit); 15] = [
    ("mm", Unit::Millimetre),
    ("cm", Unit::Centimetre),
    ("m", Unit::Metre),
    ("in", Unit::Inch),
    ("inch", Unit::Inch),
    ("inches", Unit::Inch),
    ("ft", Unit::Foot),
    ("foot", Unit::Foot),
    ("feet", Unit::Foot),
    ("deg", Unit::Degree),
    ("degree", Unit::Degree),
    ("degrees", Unit::Degree),
    ("metre", Unit::Metre),
    ("millimetre", Unit::Millimetre),
    ("centimetre", Unit::Centimetre),
];

/// Fractions that are one character.
pub(super) const FRACTION_SIGNS: [(char, f64); 15] = [
    ('½', 1.0 / 2.0),
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
    ('¼', 1.0 / 4.0),
    ('¾', 3.0 / 4.0),
    ('⅕', 1.0 / 5.0),
    ('⅖', 2.0 / 5.0),
    ('⅗', 3.0 / 5.0),
    ('⅘', 4.0 / 5.0),
    ('⅙', 1.0 / 6.0),
    ('⅚', 5.0 / 6.0),
    ('⅛', 1.0 / 8.0),
    ('⅜', 3.0 / 8.0),
    ('⅝', 5.0 / 8.0),
    ('⅞', 7.0 / 8.0),
];

/// Whether the word is the name of a unit, and so cannot name a size.
pub fn is_unit_name(word: &str) -> bool {
    unit(word).is_some()
}

/// Whether the word can name a size: letters, digits and `_`, a letter first, and not the name of a unit.
pub fn may_name_a_size(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_alphabetic())
        && word.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
        && !is_unit_name(word)
}

/// The fault of a name that no size has; a unit's name may have lost its number.
pub(super) fn unknown_size(name: &str, range: Range<usize>) -> Fault {
    if is_unit_name(name) {
        return Fault::new(range, FaultKind::NumberBefore(name.to_owned()));
    }
    Fault::new(range, FaultKind::UnknownSize(name.to_owned()))
}

pub(super) fn unit(word: &str) -> Option<Unit> {
    UNIT_NAMES.iter().find(|(name, _)| name.eq_ignore_ascii_case(word)).map(|(_, unit)| *unit)
}

/// The nearest unit's name, where one is near.
fn nearest_unit(word: &str) -> Option<&'static str> {
    let word = word.to_lowercase();
    let distance = |name: &str| strsim::damerau_levenshtein(&word, name);
    // The first of the nearest, so in the table's order.
    let near = UNIT_NAMES.iter().map(|(name, _)| (distance(name), *name)).min_by_key(|(distance, _)| *distance);
    // A word that is one wrong letter may be anything.
    near.filter(|(distance, name)| *distance == 1 && name.len().max(word.len()) > 1).map(|(_, name)| name)
}

/// The fault of a word that is no unit.
pub(super) fn unknown_unit(word: &str, start: usize) -> Fault {
    let kind = FaultKind::NotAUnit { word: word.to_owned(), near: nearest_unit(word) };
    Fault::new(start..start + word.len(), kind)
}
