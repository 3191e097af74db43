//! How the piece stands and what is still to be made for it, as data for scripts.

use super::solved::{OFTEN, Remaining, RemainingPart, RemainingSize};
use crate::as_built::{Found, Number, Reading, Residual, Side};
use serde_json::{Value as Json, json};

/// All of it as one JSON object.
pub fn json(remaining: &Remaining, heading: &str) -> Json {
    let found = remaining.found;
    let suspects = found.fitted.suspects();
    let readings = found.readings.iter().zip(&found.fitted.residuals).enumerate();
    json!({
        "title": heading,
        "units_note": "lengths in mm, angles in degrees, unrounded; deviation is a standard deviation, within which two of three are; range is what holds 19 of 20, and opens how far an end may stand open by its angle as often",
        "stands": Number::ALL.iter().enumerate().map(|(k, number)| stands(found, k, *number)).collect::<Vec<Json>>(),
        "covariance": covariance(found),
        "weak": found.weak.as_ref().map(|weak| weak.numbers.iter().map(|(number, against)| json!({ "number": number.key(), "against": against })).collect::<Vec<Json>>()),
        "readings": readings.map(|(index, (reading, residual))| agrees(reading, residual, suspects.contains(&index))).collect::<Vec<Json>>(),
        "next": found.next.as_ref().map(|(next, stretcher)| json!({
            "name": next.name,
            "should_read": shown(next.what.of(&found.stance, &found.fitted.pose), next.what.is_angle()),
            "deviation": shown(found.expected(next).1, next.what.is_angle()),
            "stretcher_deviation": stretcher.map(|[now, then]| json!({ "now": now, "then": then })),
        })),
        "parts": remaining.parts.iter().map(part).collect::<Vec<Json>>(),
        "made": remaining.made,
        "feet": found.level.iter().map(|(foot, off, deviation)| json!({ "foot": foot, "saw_off": off, "deviation": deviation })).collect::<Vec<Json>>(),
    })
}

fn shown(value: f64, is_angle: bool) -> f64 {
    if is_angle { value.to_degrees() } else { value }
}

const fn unit(is_angle: bool) -> &'static str {
    if is_angle { "degrees" } else { "mm" }
}

fn stands(found: &Found, index: usize, number: Number) -> Json {
    let (is_angle, deviation) = (number.is_angle(), found.fitted.deviation(number));
    json!({
        "number": number.key(),
        "name": number.words(),
        "unit": unit(is_angle),
        "known": found.fitted.is_known(number),
        "is": shown(found.fitted.pose[index], is_angle),
        "drawn": shown(found.stance.drawn[index], is_angle),
        "deviation": shown(deviation, is_angle),
        "range": shown(OFTEN * deviation, is_angle),
    })
}

/// The covariance of the seven numbers, in their order: mm and degrees.
fn covariance(found: &Found) -> Vec<Vec<f64>> {
    let row = |(row, one): (&[f64; Number::ALL.len()], Number)| {
        let entries = row.iter().zip(Number::ALL);
        entries.map(|(entry, other)| shown(shown(*entry, one.is_angle()), other.is_angle())).collect()
    };
    found.fitted.covariance.iter().zip(Number::ALL).map(row).collect()
}

fn agrees(reading: &Reading, residual: &Residual, is_suspect: bool) -> Json {
    let is_angle = reading.what.is_angle();
    json!({
        "name": reading.name,
        "taken_at": Some(reading.taken).filter(|taken| !taken.is_empty()),
        "path": reading.place.pointer,
        "unit": unit(is_angle),
        "reads": shown(reading.reads, is_angle),
        "accuracy": shown(reading.accuracy, is_angle),
        "off": shown(residual.off, is_angle),
        "off_the_others": residual.off_the_others.map(|off| shown(off, is_angle)),
        "normalised": residual.normalised,
        "least_slip": residual.least_slip.map(|slip| shown(slip, is_angle)),
        "suspect": is_suspect,
    })
}

fn part(of: &RemainingPart) -> Json {
    json!({ "id": of.id, "label": of.label, "undecided": of.waits_for, "sizes": of.sizes.iter().map(size).collect::<Vec<Json>>() })
}

fn size(of: &RemainingSize) -> Json {
    json!({
        "of": of.size.of.key(),
        "where": of.place,
        "against": of.against,
        "frame": of.frame.map(Side::words),
        "unit": unit(of.size.of.is_angle()),
        "is": of.size.value,
        "deviation": of.deviation,
        "range": OFTEN * of.deviation,
        "opens": Some(of.opens()).filter(|_| of.over > 0.0),
        "drawn": of.drawn,
    })
}
