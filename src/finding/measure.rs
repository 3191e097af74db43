//! Numbers that a finding gives to scripts.

/// The unit of a measured number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Degrees.
    Degree,
    /// Hundredths.
    Percent,
    /// A share, from 0 to 1.
    Ratio,
    /// A count of things.
    Count,
    /// A number without a unit, or in the one that its field asks for.
    Plain,
}

impl Unit {
    /// The name used in `--format json`.
    pub const fn name(self) -> &'static str {
        match self {
            Unit::Mm => "mm",
            Unit::Degree => "deg",
            Unit::Percent => "%",
            Unit::Ratio => "ratio",
            Unit::Count => "count",
            Unit::Plain => "number",
        }
    }
}

/// A number that was measured, unrounded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    /// Its name, for scripts.
    pub name: &'static str,
    /// The number, in its unit.
    pub value: f64,
    /// The unit.
    pub unit: Unit,
}
