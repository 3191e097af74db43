//! What a problem holds: numbers with their units, and names.

use super::measure::Unit;
use super::name::nearest;
use crate::units::{Angle, Length};
use std::any::Any;

/// One thing that a problem holds.
pub trait Datum: Any {
    /// The number and its unit, where it is one.
    fn number(&self) -> Option<(f64, Unit)> {
        None
    }

    /// Whether another is the same thing; numbers may differ by `within`, in their own unit.
    fn is_like(&self, other: &dyn Datum, within: f64) -> bool;
}

/// A share in hundredths, or a moisture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Percent(pub f64);

/// A share, from 0 to 1, or a sine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ratio(pub f64);

/// An angle stated in degrees: as an [`Angle`] it might lose its last bit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Degrees(pub f64);

impl Degrees {
    /// The angle.
    pub const fn angle(self) -> Angle {
        Angle::from_degrees(self.0)
    }
}

/// A number in the unit of the field where it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount(pub f64, pub Unit);

/// What is only offered with a problem, such as the names of which one may be meant: another does not make another problem of it.
#[derive(Debug, Clone)]
pub struct Offered<T>(pub T);

impl<T> PartialEq for Offered<T> {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl<T: Any> Datum for Offered<T> {
    fn is_like(&self, other: &dyn Datum, _within: f64) -> bool {
        same(self, other)
    }
}

/// The names that there are, and that which is near to what was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Names {
    /// The one that may be meant.
    pub near: Option<String>,
    /// All of them.
    pub all: Vec<String>,
}

impl Names {
    /// Offers names in place of one that was written.
    pub fn instead_of<'n>(written: &str, names: impl Iterator<Item = &'n str> + Clone) -> Offered<Names> {
        let near = nearest(written, names.clone()).map(str::to_owned);
        Offered(Names { near, all: names.map(str::to_owned).collect() })
    }
}

/// Whether another thing is the same, of the same type.
pub(crate) fn same<T: Any + PartialEq>(one: &T, other: &dyn Datum) -> bool {
    (other as &dyn Any).downcast_ref::<T>() == Some(one)
}

fn near(one: &dyn Datum, other: &dyn Datum, within: f64) -> bool {
    match (one.number(), other.number()) {
        (Some((a, unit)), Some((b, other))) => unit == other && (a == b || (a - b).abs() <= within),
        _ => false,
    }
}

macro_rules! numbers {
    ($($type:ty: $unit:ident, $number:expr;)*) => {$(
        impl Datum for $type {
            fn number(&self) -> Option<(f64, Unit)> {
                let number: fn(&$type) -> f64 = $number;
                Some((number(self), Unit::$unit))
            }

            fn is_like(&self, other: &dyn Datum, within: f64) -> bool {
                near(self, other, within)
            }
        }
    )*};
}

numbers! {
    Length: Mm, |length| length.mm();
    Angle: Degree, |angle| angle.degrees();
    Degrees: Degree, |degrees| degrees.0;
    Percent: Percent, |percent| percent.0;
    Ratio: Ratio, |ratio| ratio.0;
    u32: Count, |count| f64::from(*count);
    usize: Count, |count| *count as f64;
}

impl Datum for Amount {
    fn number(&self) -> Option<(f64, Unit)> {
        Some((self.0, self.1))
    }

    fn is_like(&self, other: &dyn Datum, within: f64) -> bool {
        near(self, other, within)
    }
}

impl<T: Datum> Datum for Option<T> {
    fn number(&self) -> Option<(f64, Unit)> {
        self.as_ref().and_then(Datum::number)
    }

    fn is_like(&self, other: &dyn Datum, within: f64) -> bool {
        match ((other as &dyn Any).downcast_ref::<Option<T>>(), self) {
            (Some(Some(other)), Some(own)) => own.is_like(other, within),
            (Some(None), None) => true,
            _ => false,
        }
    }
}

impl<T: Datum> Datum for Vec<T> {
    fn is_like(&self, other: &dyn Datum, within: f64) -> bool {
        let other = (other as &dyn Any).downcast_ref::<Vec<T>>();
        other.is_some_and(|other| {
            other.len() == self.len() && self.iter().zip(other).all(|(own, other)| own.is_like(other, within))
        })
    }
}

impl<T: Datum, const N: usize> Datum for [T; N] {
    fn is_like(&self, other: &dyn Datum, within: f64) -> bool {
        let other = (other as &dyn Any).downcast_ref::<[T; N]>();
        other.is_some_and(|other| self.iter().zip(other).all(|(own, other)| own.is_like(other, within)))
    }
}

/// Makes types that hold no number of their own things that a problem may hold.
macro_rules! data {
    ($($type:ty),* $(,)?) => {$(
        impl $crate::finding::Datum for $type {
            fn is_like(&self, other: &dyn $crate::finding::Datum, _within: f64) -> bool {
                $crate::finding::same(self, other)
            }
        }
    )*};
}
pub(crate) use data;

data!(String, &'static str, bool, char);
