//! Lengths and angles, and the shop notation in which people write and read them.
//!
//! Guarantees to everything below: inside the program a length is millimetres and an angle is radians, never rounded.
//! Units exist only here, where text is read and written.

mod apart;
mod given;
mod limits;
mod read;
mod settle;
mod write;

pub use given::Given;
pub use read::{
    Fault, FaultKind, MOST_TERMS, Quantity, QuantityKind, Refusal, Sum, is_unit_name, may_name_a_size, with_points,
};
pub(crate) use write::USUAL_STEP;
pub use write::{Notation, slope_in_100, slope_words};

use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// Millimetres in one inch (exact since the international yard of 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// A length in millimetres.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Length(f64);

/// An angle in radians.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Angle(f64);

/// The units in which a project file's bare numbers stand and in which a person is answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches.
    Inch,
}

impl Length {
    /// No length at all.
    pub const ZERO: Length = Length(0.0);

    /// A length given in millimetres.
    pub const fn from_mm(mm: f64) -> Self {
        Length(mm)
    }

    /// A length given in inches.
    pub const fn from_inches(inches: f64) -> Self {
        Length(inches * MM_PER_INCH)
    }

    /// The length in millimetres.
    pub const fn mm(self) -> f64 {
        self.0
    }

    /// The length in inches.
    pub const fn inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// The length without its sign.
    pub const fn abs(self) -> Self {
        Length(self.0.abs())
    }
}

impl Angle {
    /// No turn at all.
    pub const ZERO: Angle = Angle(0.0);
    /// A quarter of a turn.
    pub const RIGHT: Angle = Angle(std::f64::consts::FRAC_PI_2);
    /// Half a turn.
    pub const HALF_TURN: Angle = Angle(std::f64::consts::PI);

    /// An angle given in radians.
    pub const fn from_radians(radians: f64) -> Self {
        Angle(radians)
    }

    /// An angle given in degrees.
    pub const fn from_degrees(degrees: f64) -> Self {
        Angle(degrees.to_radians())
    }

    /// The angle in radians.
    pub const fn radians(self) -> f64 {
        self.0
    }

    /// The angle in degrees.
    pub const fn degrees(self) -> f64 {
        self.0.to_degrees()
    }

    /// The angle without its sign.
    pub const fn abs(self) -> Self {
        Angle(self.0.abs())
    }
}

macro_rules! arithmetic {
    ($($quantity:ident),*) => {$(
        impl Add for $quantity {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl Sub for $quantity {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl AddAssign for $quantity {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }
        impl SubAssign for $quantity {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }
        impl Neg for $quantity {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $quantity {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl Div<f64> for $quantity {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
    )*};
}

arithmetic!(Length, Angle);
