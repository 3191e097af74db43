//! What a written quantity amounts to, and how two of them join.

use super::{QuantityKind, Refusal};
use crate::units::{Angle, Length, Units};

/// The value of a written quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// A number without a unit, which takes the units of the place it stands in.
    Number(f64),
    /// One length in another, or one angle in another: never a length or an angle by itself.
    Ratio(f64),
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
}

impl Quantity {
    /// As a length; a bare number takes `units`.
    ///
    /// # Errors
    /// An angle or a ratio, or a bare number where there are no `units`.
    pub fn to_length(self, units: Option<Units>) -> Result<Length, Refusal> {
        match self {
            Quantity::Number(number) => in_units(number, units),
            Quantity::Length(length) => Ok(length),
            other => Err(other.misplaced(QuantityKind::Length)),
        }
    }

    /// As an angle; a bare number is degrees.
    ///
    /// # Errors
    /// A length or a ratio.
    pub fn to_angle(self) -> Result<Angle, Refusal> {
        match self {
            Quantity::Number(number) => Ok(Angle::from_degrees(number)),
            Quantity::Angle(angle) => Ok(angle),
            other => Err(other.misplaced(QuantityKind::Angle)),
        }
    }

    /// As a plain number.
    ///
    /// # Errors
    /// A length or an angle.
    pub fn to_number(self) -> Result<f64, Refusal> {
        match self {
            Quantity::Number(number) | Quantity::Ratio(number) => Ok(number),
            other => Err(other.misplaced(QuantityKind::Number)),
        }
    }

    fn misplaced(self, wanted: QuantityKind) -> Refusal {
        Refusal::Misplaced { found: self.kind(), wanted }
    }

    pub(super) fn negated(self) -> Quantity {
        match self {
            Quantity::Number(number) => Quantity::Number(-number),
            Quantity::Ratio(number) => Quantity::Ratio(-number),
            Quantity::Length(length) => Quantity::Length(-length),
            Quantity::Angle(angle) => Quantity::Angle(-angle),
        }
    }

    pub(super) fn plus(self, other: Quantity, units: Option<Units>) -> Result<Quantity, Refusal> {
        use Quantity::{Angle as A, Length as L, Number as N, Ratio as R};
        let sum = match (self, other) {
            (N(a), N(b)) => N(a + b),
            (R(a), R(b) | N(b)) | (N(a), R(b)) => R(a + b),
            (L(a), L(b)) => L(a + b),
            (L(length), N(number)) | (N(number), L(length)) => L(length + in_units(number, units)?),
            (A(a), A(b)) => A(a + b),
            (A(angle), N(number)) | (N(number), A(angle)) => A(angle + Angle::from_degrees(number)),
            (a, b) => return Err(Refusal::NoSum(a.kind(), b.kind())),
        };
        sum.checked()
    }

    pub(super) fn times(self, other: Quantity) -> Result<Quantity, Refusal> {
        use Quantity::{Angle as A, Length as L, Number as N, Ratio as R};
        let product = match (self, other) {
            (N(a), N(b)) => N(a * b),
            (R(a), R(b) | N(b)) | (N(a), R(b)) => R(a * b),
            (L(length), N(factor) | R(factor)) | (N(factor) | R(factor), L(length)) => L(length * factor),
            (A(angle), N(factor) | R(factor)) | (N(factor) | R(factor), A(angle)) => A(angle * factor),
            (a, b) => return Err(Refusal::NoProduct(a.kind(), b.kind())),
        };
        product.checked()
    }

    pub(super) fn over(self, other: Quantity) -> Result<Quantity, Refusal> {
        use Quantity::{Angle as A, Length as L, Number as N, Ratio as R};
        if matches!(other, N(0.0) | R(0.0)) || other == L(Length::ZERO) || other == A(Angle::ZERO) {
            return Err(Refusal::ByZero);
        }
        let quotient = match (self, other) {
            (N(a), N(b)) => N(a / b),
            (R(a), R(b) | N(b)) | (N(a), R(b)) => R(a / b),
            (L(a), L(b)) => R(a.mm() / b.mm()),
            (A(a), A(b)) => R(a.radians() / b.radians()),
            (L(length), N(divisor) | R(divisor)) => L(length / divisor),
            (A(angle), N(divisor) | R(divisor)) => A(angle / divisor),
            (a, b) => return Err(Refusal::NoQuotient(a.kind(), b.kind())),
        };
        quotient.checked()
    }

    /// The quantity, where it is finite.
    pub(super) fn checked(self) -> Result<Quantity, Refusal> {
        let number = match self {
            Quantity::Number(number) | Quantity::Ratio(number) => number,
            Quantity::Length(length) => length.mm(),
            Quantity::Angle(angle) => angle.radians(),
        };
        if number.is_finite() { Ok(self) } else { Err(Refusal::TooLarge) }
    }
}

fn in_units(number: f64, units: Option<Units>) -> Result<Length, Refusal> {
    match units {
        Some(Units::Mm) => Ok(Length::from_mm(number)),
        Some(Units::Inch) => Ok(Length::from_inches(number)),
        None => Err(Refusal::NoUnit(number)),
    }
}
