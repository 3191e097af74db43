//! How long it takes to set an outline off on both sides.

#[path = "../geometry/shapes.rs"]
mod shapes;

use divan::Bencher;
use fullsize::geometry::{Join, Path, Point, Segment, Vec2, offset};
use shapes::{Random, arc, ring};
use std::f64::consts::TAU;
use std::sync::atomic::{AtomicU64, Ordering};

fn main() {
    divan::main();
}

/// A wavy outline of 60 pieces: lines, arcs and cubics in turn.
fn sixty() -> Path {
    let corner = |i: usize| {
        let far = if i.is_multiple_of(2) { 260.0 } else { 225.0 };
        Point::ORIGIN + Vec2::from_angle(i as f64 / 60.0 * TAU) * far
    };
    let pieces = (0..60).map(|i| {
        let (a, b) = (corner(i), corner(i + 1));
        match i % 3 {
            0 => Segment::line(a, b),
            1 => arc(a, b, 3.0),
            _ => {
                let (chord, out) = (b - a, (b - a).turn_90() * 0.08);
                Segment::Cubic(fullsize::geometry::CubicBez::new(a, a + chord * 0.3 + out, a + chord * 0.7 - out, b))
            }
        }
    });
    Path::closed(pieces.collect())
}

/// Asked for: 5 ms at most.
#[divan::bench]
fn an_outline_of_60_pieces_both_ways(bencher: Bencher) {
    let outline = [sixty()];
    bencher.bench(|| {
        let outside = offset(&outline, 6.0, Join::Round).expect("it has one");
        (outside, offset(&outline, -6.0, Join::Round).expect("it has one"))
    });
}

/// Each sample is another outline. Asked for: none above 50 ms.
#[divan::bench(sample_count = 500, sample_size = 1)]
fn five_hundred_random_outlines(bencher: Bencher) {
    let seed = AtomicU64::new(0);
    bencher
        .with_inputs(|| {
            let mut random = Random::new(seed.fetch_add(1, Ordering::Relaxed) + 1);
            let outline = ring(&mut random, Point::ORIGIN, 60.0, 220.0);
            ([outline], random.between(-60.0, 60.0))
        })
        .bench_refs(|(outline, distance)| offset(&*outline, *distance, Join::Round));
}
