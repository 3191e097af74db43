//! What is to be said of readings: how well they are known, and which are so far from what was drawn that another unit, another place
//! or the other side may be meant.

use super::{run, surface};
use crate::change::wood::Wood;
use crate::model::made::{Read, Readings};
use crate::units::{Angle, Length};

/// What a rule is read to, mm, and a protractor, degrees: guesses of ours for a steady hand.
const RULE: f64 = 0.2;
const PROTRACTOR: f64 = 0.1;

/// A reading that is far from what was drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Far {
    /// Which length.
    pub what: FarReading,
    /// As it was read.
    pub read: Length,
    /// As it was drawn.
    pub drawn: Length,
}

/// Which length of a part was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FarReading {
    /// Along this edge, on the face side.
    Length(String),
    /// Along this edge, on the far side.
    FarLength(String),
    /// Across the part at this end.
    Width(String),
    /// Its thickness.
    Thickness,
}

/// A reading is doubted that is off what was drawn by more than so much of that, and by more than so much, mm: guesses of ours.
const FAR: (f64, f64) = (1.0 / 3.0, 5.0);

/// A bevel below this, degrees, has no side.
const HAS_A_SIDE: f64 = 0.5;

/// The bevels that were read to the other side than they were drawn.
pub(super) fn other_side(drawn: &Wood, read: &Readings) -> Vec<(String, [Angle; 2])> {
    let of = |(name, read): &Read<Angle>| {
        let saw = drawn.saw(surface(drawn, name).ok()?)?;
        let as_drawn = saw.signed_bevel();
        let both = [*read, as_drawn];
        let has_sides = both.iter().all(|angle| angle.degrees().abs() > HAS_A_SIDE);
        (has_sides && read.degrees() * as_drawn.degrees() < 0.0).then(|| (name.clone(), both))
    };
    read.bevels.iter().filter_map(of).collect()
}

/// The readings that are far from what was drawn.
pub(super) fn far(drawn: &Wood, read: &Readings) -> Vec<Far> {
    let along = |name: &str, on_face: bool| {
        let run = run(drawn, surface(drawn, name).ok()?, on_face)?;
        Some(run.start()?.distance(run.end()?))
    };
    let of = |what: FarReading, read: Length, drawn: Option<f64>| {
        let off = (read.mm() - drawn?).abs();
        (off > FAR.1 && off > FAR.0 * drawn?).then(|| Some(Far { what, read, drawn: Length::from_mm(drawn?) }))?
    };
    let lengths =
        read.lengths.iter().map(|(name, read)| of(FarReading::Length(name.clone()), *read, along(name, true)));
    let far_lengths = read
        .far_lengths
        .iter()
        .map(|(name, read)| of(FarReading::FarLength(name.clone()), *read, along(name, false)));
    let widths = read.widths.iter().map(|(name, read)| of(FarReading::Width(name.clone()), *read, along(name, true)));
    let thickness = read.thickness.map(|read| of(FarReading::Thickness, read, Some(drawn.board.thickness)));
    lengths.chain(far_lengths).chain(widths).chain(thickness).flatten().collect()
}

/// How well what was read is known, mm.
pub(super) fn accuracy(drawn: &Wood, read: &Readings) -> f64 {
    let ruled = [&read.lengths, &read.far_lengths, &read.widths, &read.trimmed, &read.trimmed_straight];
    let rule = ruled.into_iter().any(|all| !all.is_empty());
    let long = |(name, _): &Read<Angle>| {
        let arris = surface(drawn, name).ok().and_then(|source| drawn.solid.arris(source));
        arris.map_or(0.0, |arris| arris.face.max(arris.far))
    };
    let turned = read.mitres.iter().map(long).fold(0.0, f64::max) * PROTRACTOR.to_radians().tan();
    let tilted = if read.bevels.is_empty() { 0.0 } else { drawn.board.thickness * PROTRACTOR.to_radians().tan() };
    f64::from(u8::from(rule)) * RULE + turned + tilted
}
