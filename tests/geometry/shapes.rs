//! Shapes of random numbers.

use crate::common::draws::Draws;
use fullsize::geometry::{Arc, CubicBez, Path, Point, Segment, Vec2};
use std::f64::consts::TAU;

/// How many random shapes of each kind; `FULLSIZE_MANY_OUTLINES` asks for another number.
pub fn how_many(usual: u32) -> u32 {
    std::env::var("FULLSIZE_MANY_OUTLINES").ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
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
pub fn ring(draws: &mut Draws, center: Point, near: f64, far: f64) -> Path {
    let count = 3 + draws.below(10);
    let corners: Vec<Point> = (0..count)
        .map(|i| {
            let angle = (i as f64 + draws.between(0.0, 0.6)) * TAU / count as f64;
            center + Vec2::from_angle(angle) * draws.between(near, far)
        })
        .collect();
    let segments = (0..count).map(|i| {
        let (a, b) = (corners[i], corners[(i + 1) % count]);
        let chord = b - a;
        match draws.below(3) {
            0 => Segment::line(a, b),
            1 => arc(a, b, chord.hypot() * draws.between(0.01, 0.1)),
            _ => {
                let out = chord.turn_90() * -draws.between(-0.05, 0.1);
                Segment::Cubic(CubicBez::new(a, a + chord * 0.3 + out, a + chord * 0.6 + out, b))
            }
        }
    });
    Path::closed(segments.collect())
}
