//! What a written quantity amounts to, and how two of them join.

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

/// Why a quantity cannot be used, and the cure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// What is wrong.
    pub message: String,
    /// The change that cures it.
    pub remedy: String,
}

impl Refusal {
    fn new(message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Refusal { message: message.into(), remedy: remedy.into() }
    }
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
            other => Err(other.misplaced("a length", "write a length, for example \"38 mm\" or \"1 1/2 in\"")),
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
            other => Err(other.misplaced("an angle", "write an angle, for example \"12 deg\" or the slope \"1:6\"")),
        }
    }

    /// As a plain number.
    ///
    /// # Errors
    /// A length or an angle.
    pub fn to_number(self) -> Result<f64, Refusal> {
        match self {
            Quantity::Number(number) | Quantity::Ratio(number) => Ok(number),
            other => Err(other.misplaced("a plain number", "leave the unit out")),
        }
    }

    fn misplaced(self, wanted: &str, remedy: &str) -> Refusal {
        Refusal::new(format!("{} stands where {wanted} belongs", self.what()), remedy)
    }

    fn what(self) -> &'static str {
        match self {
            Quantity::Number(_) => "a plain number",
            Quantity::Ratio(_) => "a ratio (a quantity divided by one of its own kind)",
            Quantity::Length(_) => "a length",
            Quantity::Angle(_) => "an angle",
        }
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
            (a, b) => {
                let message = format!("{} and {} cannot be added or subtracted", a.what(), b.what());
                return Err(Refusal::new(message, "add lengths to lengths and angles to angles"));
            }
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
            (a, b) => {
                let message = format!("{} times {} is neither a length nor an angle", a.what(), b.what());
                return Err(Refusal::new(message, "multiply by a plain number, for example \"2 * height\""));
            }
        };
        product.checked()
    }

    pub(super) fn over(self, other: Quantity) -> Result<Quantity, Refusal> {
        use Quantity::{Angle as A, Length as L, Number as N, Ratio as R};
        if matches!(other, N(0.0) | R(0.0)) || other == L(Length::ZERO) || other == A(Angle::ZERO) {
            return Err(Refusal::new("this divides by zero", "divide by something larger than 0"));
        }
        let quotient = match (self, other) {
            (N(a), N(b)) => N(a / b),
            (R(a), R(b) | N(b)) | (N(a), R(b)) => R(a / b),
            (L(a), L(b)) => R(a.mm() / b.mm()),
            (A(a), A(b)) => R(a.radians() / b.radians()),
            (L(length), N(divisor) | R(divisor)) => L(length / divisor),
            (A(angle), N(divisor) | R(divisor)) => A(angle / divisor),
            (a, b) => {
                let message = format!("{} divided by {} is neither a length nor an angle", a.what(), b.what());
                return Err(Refusal::new(message, "divide by a plain number, for example \"height / 2\""));
            }
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
        if number.is_finite() {
            Ok(self)
        } else {
            Err(Refusal::new("this number is too large", "write a smaller one"))
        }
    }
}

fn in_units(number: f64, units: Option<Units>) -> Result<Length, Refusal> {
    match units {
        Some(Units::Mm) => Ok(Length::from_mm(number)),
        Some(Units::Inch) => Ok(Length::from_inches(number)),
        None => {
            let remedy =
                format!("write \"{number} mm\" or \"{number} in\", or add \"units\": \"mm\" or \"in\" to this file");
            Err(Refusal::new("this number does not say its unit", remedy))
        }
    }
}
