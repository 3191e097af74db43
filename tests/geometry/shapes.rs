//! Random shapes, the same on every run.

use fullsize::geometry::{Arc, CubicBez, Path, Point, Segment, Vec2};
use std::f64::consts::TAU;

/// Marsaglia's xorshift of 64 bits.
pub struct Random(u64);

impl Random {
    pub fn new(seed: u64) -> Self {
        Random(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// A number between `low` and `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        low + (high - low) * ((self.0 >> 11) as f64 / (1u64 << 53) as f64)
    }

    /// A whole number from 0 up to but not including `end`.
    pub fn below(&mut self, end: usize) -> usize {
        (self.between(0.0, end as f64) as usize).min(end - 1)
    }
}

/// The circular arc from `a` to `b` that bulges to the right of the chord by `rise` (less than half the chord).
pub fn arc(a: Point, b: Point, rise: f64) -> Segment {
    let half = a.distance(b) / 2.0;
    let radius = (half * half + rise * rise) / (2.0 * rise);
    let left = (b - a).normalize().turn_90();
    let center = a.midpoint(b) + left * (radius - rise);
    let (from, to) = ((a - center).atan2(), (b - center).atan2());
    let sweep = (to - from + TAU / 2.0).rem_euclid(TAU) - TAU / 2.0;
    Segment::Arc(Arc::circular(center, radius.abs(), from, sweep))
}

/// A ring around `center` that runs anticlockwise through corners at distances of `near` to `far`, of lines, arcs and cubics,
/// which does not cross itself.
pub fn ring(random: &mut Random, center: Point, near: f64, far: f64) -> Path {
    let count = 3 + random.below(10);
    let corners: Vec<Point> = (0..count)
        .map(|i| {
            let angle = (i as f64 + random.between(0.0, 0.6)) * TAU / count as f64;
            center + Vec2::from_angle(angle) * random.between(near, far)
        })
        .collect();
    let segments = (0..count).map(|i| {
        let (a, b) = (corners[i], corners[(i + 1) % count]);
        let chord = b - a;
        match random.below(3) {
            0 => Segment::line(a, b),
            1 => arc(a, b, chord.hypot() * random.between(0.01, 0.1)),
            _ => {
                let out = chord.turn_90() * -random.between(-0.05, 0.1);
                Segment::Cubic(CubicBez::new(a, a + chord * 0.3 + out, a + chord * 0.6 + out, b))
            }
        }
    });
    Path::closed(segments.collect())
}
