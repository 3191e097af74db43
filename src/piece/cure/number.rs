//! Between which values a number is tried.

use crate::model::{Kind, Leeway, Number};

/// No part of a piece of furniture is larger, mm.
const FARTHEST_SIZE: f64 = 3000.0;

/// Nor is an angle, degrees.
const FARTHEST_ANGLE: f64 = 45.0;

/// Between which values, mm or degrees, a cure is looked for: no farther than a maker would go unless `far`.
pub(super) fn range(number: &Number, far: bool) -> (f64, f64) {
    let (low, high) = near(number);
    match (number.kind, number.leeway) {
        _ if !far => (low, high),
        (Kind::Angle, _) if number.value < 0.0 => (low.min(-FARTHEST_ANGLE), high),
        (Kind::Angle, _) => (low, high.max(FARTHEST_ANGLE)),
        (Kind::Length, Leeway::Size | Leeway::Section) => (low, high.max(FARTHEST_SIZE)),
        _ => (low, high),
    }
}

/// As [`range`], no farther than a maker would go.
fn near(number: &Number) -> (f64, f64) {
    let given = number.value;
    match (number.kind, number.leeway) {
        // A count and a share are no sizes that a maker changes to make parts meet.
        (Kind::Count | Kind::Share, _) => (given, given),
        (Kind::Angle, _) | (_, Leeway::Rise) => (given.min(0.0), given.max(0.0)),
        (_, Leeway::Inset) => (given.clamp(-500.0, 0.0), (given.abs() * 4.0).clamp(300.0, 2000.0)),
        (_, Leeway::Overhang) => (-2000.0, given),
        (_, Leeway::Less) => (0.0, given),
        (_, Leeway::Section) => (1.0, (given * 4.0).min(1000.0)),
        (_, Leeway::Size) => (1.0, (given * 4.0).clamp(300.0, 5000.0)),
    }
}
