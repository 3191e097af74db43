//! How long it takes to set an outline off on both sides.

#[allow(dead_code, reason = "the tests use the rest")]
#[path = "../common"]
mod common {
    pub mod draws;
}
#[path = "../geometry/shapes.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod shapes;

use common::draws::draws;
use divan::Bencher;
use fullsize::geometry::{Join, Path, Point, Segment, Vec2, offset};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use shapes::{arc, ring};
use std::f64::consts::TAU;
use std::sync::Mutex;

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
    let runner = Mutex::new(TestRunner::deterministic());
    bencher
        .with_inputs(|| {
            let tree = draws().new_tree(&mut runner.lock().expect("one thread")).expect("numbers");
            let mut draws = tree.current();
            let outline = ring(&mut draws, Point::ORIGIN, 60.0, 220.0);
            ([outline], draws.between(-60.0, 60.0))
        })
        .bench_refs(|(outline, distance)| offset(&*outline, *distance, Join::Round));
}
