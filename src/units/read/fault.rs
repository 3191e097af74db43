//! What is wrong with a written quantity, as data; worded elsewhere.

use super::Quantity;
use std::ops::Range;

/// What is wrong with a written quantity, and where.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// The bytes of the text that it concerns.
    pub range: Range<usize>,
    /// What is wrong.
    pub kind: FaultKind,
}

impl Fault {
    pub(super) fn new(range: Range<usize>, kind: FaultKind) -> Self {
        Fault { range, kind }
    }
}

/// What can be wrong with a written quantity.
#[derive(Debug, Clone, PartialEq)]
pub enum FaultKind {
    /// A sum has no terms.
    Nothing,
    /// A quantity is missing.
    Missing,
    /// This character begins no quantity.
    NoQuantity(char),
    /// A word stands where a number belongs: the name of a unit, or nothing that could name a size.
    NumberBefore(String),
    /// No size has this name.
    UnknownSize(String),
    /// This word is no unit; the name of the unit that may be meant.
    NotAUnit {
        /// The word.
        word: String,
        /// A name that is near.
        near: Option<&'static str>,
    },
    /// A comma stands in a sum; the number in which it does, as it is written.
    Comma(Option<String>),
    /// A bracket stands in a sum.
    Bracket,
    /// This word follows without an operator.
    NoOperator(String),
    /// This operator has no spaces around it.
    NoSpaces(char),
    /// Feet, a dash and inches can be a length or a difference.
    ArchitectsDash,
    /// A slope has no length along.
    FlatSlope,
    /// So many inches follow feet without their mark.
    NoInchMark(f64),
    /// A foot or more follows feet as inches.
    ManyInches,
    /// A fraction divides by zero.
    FractionByZero,
    /// The fraction of a mixed number is 1 or more.
    LargeFraction,
    /// A number is too large.
    TooLarge,
    /// A sum has more terms than [`super::MOST_TERMS`].
    ManyTerms,
    /// Two quantities do not go together.
    Refused(Refusal),
}

/// A kind of quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum QuantityKind {
    /// A number without a unit.
    Number,
    /// A quantity divided by one of its own kind.
    Ratio,
    /// A length.
    Length,
    /// An angle.
    Angle,
}

impl Quantity {
    /// Its kind.
    pub fn kind(self) -> QuantityKind {
        match self {
            Quantity::Number(_) => QuantityKind::Number,
            Quantity::Ratio(_) => QuantityKind::Ratio,
            Quantity::Length(_) => QuantityKind::Length,
            Quantity::Angle(_) => QuantityKind::Angle,
        }
    }
}

/// Why a quantity cannot be used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Refusal {
    /// One kind stands where another belongs.
    Misplaced {
        /// What stands there.
        found: QuantityKind,
        /// What belongs there: a plain number, a length or an angle.
        wanted: QuantityKind,
    },
    /// The two cannot be added or subtracted.
    NoSum(QuantityKind, QuantityKind),
    /// The product of the two is nothing.
    NoProduct(QuantityKind, QuantityKind),
    /// The quotient of the two is nothing.
    NoQuotient(QuantityKind, QuantityKind),
    /// Something is divided by zero.
    ByZero,
    /// A number is too large.
    TooLarge,
    /// This number has no unit, nor has its place.
    NoUnit(f64),
}
