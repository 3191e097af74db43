use super::source::{Source, simple};
use super::{Join, Offset, OffsetFault, Path, Point, Segment, Unfinished, finished, offset, trim};
use crate::geometry::Arc;
use crate::tolerance::TRUE_TO;
use kurbo::Rect;
use proptest::collection::vec;
use proptest::test_runner::{Config, TestRunner};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

fn plain(rings: &[Path], distance: f64) -> Offset {
    offset(rings, distance, Join::Round).expect("the rings are simple")
}

fn area(offset: &Offset) -> f64 {
    offset.rings.iter().map(Path::signed_area).sum()
}

/// A rectangle from the origin with its corners rounded.
fn rounded(width: f64, height: f64, radius: f64) -> Path {
    let corner = |x: f64, y: f64, start: f64| Segment::Arc(Arc::circular(Point::new(x, y), radius, start, FRAC_PI_2));
    let (right, top) = (width - radius, height - radius);
    let corners = [
        corner(right, radius, -FRAC_PI_2),
        corner(right, top, 0.0),
        corner(radius, top, FRAC_PI_2),
        corner(radius, radius, PI),
    ];
    let mut segments = Vec::new();
    for (i, corner) in corners.iter().enumerate() {
        segments.push(*corner);
        segments.push(Segment::line(corner.end(), corners[(i + 1) % 4].start()));
    }
    Path::closed(segments)
}

#[test]
fn circles() {
    let circle = Path::circle(Point::new(20.0, 30.0), 50.0);
    for distance in [25.0, 0.5, -0.5, -49.0] {
        let found = plain(std::slice::from_ref(&circle), distance);
        assert_eq!(found.rings.len(), 1);
        assert!((area(&found) - PI * (50.0 + distance).powi(2)).abs() < 1e-6, "{distance} {}", area(&found));
        assert!(found.off_by < 1e-9);
    }
    assert!(plain(&[Path::circle(Point::ORIGIN, 5.0)], -12.0).rings.is_empty());
    assert!(plain(&[circle], -50.0).rings.is_empty());
}

#[test]
fn rectangles_sharp_and_rounded() {
    let sharp = Path::rectangle(Rect::new(0.0, 0.0, 100.0, 60.0));
    let out = plain(std::slice::from_ref(&sharp), 10.0);
    assert!((area(&out) - (6000.0 + 320.0 * 10.0 + PI * 100.0)).abs() < 1e-6);
    assert_eq!(out.rings[0].segments().len(), 8);
    let inner = plain(std::slice::from_ref(&sharp), -10.0);
    assert!((area(&inner) - 80.0 * 40.0).abs() < 1e-6);
    assert_eq!(inner.rings[0].segments().len(), 4);
    assert!(plain(&[sharp], -30.0).rings.is_empty());
    let round = rounded(100.0, 60.0, 8.0);
    for distance in [-7.0, -3.0, 20.0] {
        let (w, h, r) = (100.0 + 2.0 * distance, 60.0 + 2.0 * distance, 8.0 + distance);
        let expected = w * h - (4.0 - PI) * r * r;
        assert!((area(&plain(std::slice::from_ref(&round), distance)) - expected).abs() < 1e-6, "{distance}");
    }
    // Set in by its own radius and more, the corners are sharp.
    for distance in [-8.0_f64, -15.0] {
        let expected = (100.0 + 2.0 * distance) * (60.0 + 2.0 * distance);
        let found = plain(std::slice::from_ref(&round), distance);
        assert!((area(&found) - expected).abs() < 1e-2, "{distance}: {} {expected}", area(&found));
    }
}

#[test]
fn mitres_keep_right_angles_sharp() {
    let sharp = Path::rectangle(Rect::new(0.0, 0.0, 100.0, 60.0));
    let found = offset(&[sharp], 10.0, Join::Mitre { most: 1.5 }).expect("a rectangle has an offset");
    assert!((area(&found) - 120.0 * 80.0).abs() < 1e-9);
    // A point of 20 degrees is cut short by an arc.
    let needle = Path::polyline(&[(0.0, 0.0), (200.0, -17.6), (200.0, 17.6)].map(Point::from), true);
    let found = offset(&[needle], 10.0, Join::Mitre { most: 1.5 }).expect("a triangle has an offset");
    assert!(found.rings[0].bounding_box().is_some_and(|b| (b.x0 + 10.0).abs() < 1e-3), "{found:?}");
}

#[test]
fn a_slot_narrower_than_the_offset_closes_over() {
    // A 10 mm slot, 30 deep, in a block; set out by 6 it is gone but for the dip between two arcs at its mouth.
    let block = [
        (0.0, 0.0),
        (100.0, 0.0),
        (100.0, 50.0),
        (55.0, 50.0),
        (55.0, 20.0),
        (45.0, 20.0),
        (45.0, 50.0),
        (0.0, 50.0),
    ];
    let block = Path::polyline(&block.map(Point::from), true);
    let found = plain(std::slice::from_ref(&block), 6.0);
    assert_eq!(found.rings.len(), 1, "{found:?}");
    // Two circles of 6 about (45, 50) and (55, 50) meet at x = 50, sqrt(36 - 25) above 50.
    let (_, place) = found.rings[0].nearest(Point::new(50.0, 50.0 + 11.0_f64.sqrt())).expect("there is a ring");
    let meet = found.rings[0].point_at(place).expect("the place is on the ring");
    assert!(meet.distance(Point::new(50.0, 50.0 + 11.0_f64.sqrt())) < 1e-6);
    // Exactly as wide as twice the offset: no ring of no width is left behind.
    assert_eq!(plain(std::slice::from_ref(&block), 5.0).rings.len(), 1);
    // Inward it falls into two arms and a bar, which are one piece here.
    let inner = plain(&[block], -9.0);
    assert_eq!(inner.rings.len(), 1);
    // The block set in, less the slot set out, whose two inner corners are quarters of a circle of 9.
    let expected = 82.0 * 32.0 - (28.0 * 21.0 + 10.0 * 9.0 + PI * 81.0 / 2.0);
    assert!((area(&inner) - expected).abs() < 1e-6);
}

#[test]
fn a_neck_falls_into_two() {
    let dumbbell = [
        (0.0, 0.0),
        (40.0, 0.0),
        (40.0, 15.0),
        (80.0, 15.0),
        (80.0, 0.0),
        (120.0, 0.0),
        (120.0, 40.0),
        (80.0, 40.0),
        (80.0, 25.0),
        (40.0, 25.0),
        (40.0, 40.0),
        (0.0, 40.0),
    ];
    let dumbbell = Path::polyline(&dumbbell.map(Point::from), true);
    for distance in [-6.0, -5.0] {
        let found = plain(std::slice::from_ref(&dumbbell), distance);
        assert_eq!(found.rings.len(), 2, "{distance}: {found:?}");
    }
    assert_eq!(plain(&[dumbbell], -4.0).rings.len(), 1);
}

#[test]
fn an_opening_shrinks_as_the_part_grows() {
    let part = [Path::rectangle(Rect::new(0.0, 0.0, 100.0, 100.0)), Path::circle(Point::new(50.0, 50.0), 20.0)];
    let found = plain(&part, 5.0);
    assert_eq!(found.rings.len(), 2);
    let expected = 10000.0 + 400.0 * 5.0 + PI * 25.0 - PI * 225.0;
    assert!((area(&found) - expected).abs() < 1e-6, "{} {expected}", area(&found));
    assert_eq!(plain(&part, 21.0).rings.len(), 1);
}

#[test]
fn what_cannot_be_set_off_is_refused() {
    let open = Path::line(Point::ORIGIN, Point::new(1.0, 0.0));
    assert_eq!(offset(&[open], 1.0, Join::Round), Err(OffsetFault::Open { ring: 0 }));
    let bad = Path::circle(Point::new(f64::NAN, 0.0), 4.0);
    assert_eq!(offset(&[bad], 1.0, Join::Round), Err(OffsetFault::NotANumber { ring: 0 }));
    let circle = Path::circle(Point::ORIGIN, 4.0);
    assert!(offset(&[circle], f64::INFINITY, Join::Round).is_err());
    let stalled = Segment::Cubic(kurbo::CubicBez::new((0.0, 0.0), (0.0, 0.0), (30.0, 40.0), (60.0, 0.0)));
    let ring = Path::closed(vec![stalled, Segment::line(stalled.end(), stalled.start())]).reversed();
    assert_eq!(plain(&[ring], 5.0).rings.len(), 1);
}

/// A leaf as it comes from tracing, to a thousandth of a millimetre, with hollows far tighter than the distance.
fn traced_leaf(points: u32) -> Path {
    let radius = |angle: f64| 400.0 + 150.0 * (7.0 * angle).cos() + 30.0 * (61.0 * angle).cos();
    let round = |mm: f64| (mm * 1e3).round() / 1e3;
    let at = |i: u32| {
        let angle = 2.0 * PI * f64::from(i) / f64::from(points);
        Point::new(round(radius(angle) * angle.cos()), round(radius(angle) * angle.sin()))
    };
    Path::polyline(&(0..points).map(at).collect::<Vec<Point>>(), true)
}

/// However many points stand for it, the same is left, to what the parallel may be off all along it.
#[test]
fn a_traced_outline_with_tight_hollows_is_set_off_however_many_points_it_has() {
    let grown = |points: u32| {
        let grown = plain(&[traced_leaf(points)], 3.0);
        assert_eq!(grown.rings.len(), 1, "{points}");
        area(&grown)
    };
    let (least, most) = (grown(5000), grown(50_000));
    let most_off = traced_leaf(5000).length() * TRUE_TO;
    for points in [10_000, 20_000, 30_000] {
        let area = grown(points);
        assert!((area - most).abs() < most_off && (area - least).abs() < most_off, "{points}: {area} {least} {most}");
    }
}

/// At these distances some of its hollows are as tight as the distance, so that what is set off runs back by less than anyone
/// sees.
#[test]
fn a_traced_outline_with_hollows_as_tight_as_the_distance_is_set_off_with_sharp_corners() {
    let leaf = [traced_leaf(50_000)];
    for distance in [1.318_359_375, 1.335_937_5, 3.0] {
        let sharp = offset(&leaf, distance, Join::Mitre { most: 1.5 }).expect("a leaf has parallels");
        assert_eq!(sharp.rings.len(), 1, "{distance}");
        let off = (area(&sharp) - area(&plain(&leaf, distance))).abs();
        assert!(off < leaf[0].length() * TRUE_TO, "{distance}: {off}");
    }
}

/// A ring about the origin of corners on so many radii, its sides straight or bent by a share of their length.
fn ring_of(radii: &[f64], bend: f64) -> Path {
    let corners = radii.len();
    let at = |i: usize| {
        Point::ORIGIN + kurbo::Vec2::from_angle(TAU * (i % corners) as f64 / corners as f64) * radii[i % corners]
    };
    let side = |i: usize| {
        let (a, b) = (at(i), at(i + 1));
        let off = (b - a).turn_90() * bend;
        match bend == 0.0 {
            true => Segment::line(a, b),
            false => {
                Segment::Cubic(kurbo::CubicBez::new(a, a.lerp(b, 1.0 / 3.0) + off, a.lerp(b, 2.0 / 3.0) + off, b))
            }
        }
    };
    Path::closed((0..corners).map(side).collect())
}

/// The farthest that a place of one of some rings lies from all of the others, mm.
fn apart(rings: &[Path], others: &[Path]) -> f64 {
    let far = |p: Point| {
        others.iter().filter_map(|other| other.nearest(p)).map(|near| near.0).fold(f64::INFINITY, f64::min)
    };
    let places = rings.iter().flat_map(Path::segments).flat_map(|piece| [0.0, 0.3, 0.7].map(|t| piece.eval(t)));
    places.map(far).fold(0.0, f64::max)
}

/// What is left out before anything is cut is of no result: with it and without it the same rings are made, of combs, stars and
/// smooth outlines, set off either way by less and by more than their teeth.
#[test]
fn what_is_trimmed_is_of_no_result() {
    let radii = vec(0.35_f64..1.0, 5..40);
    let cases =
        (radii, 20.0_f64..120.0, proptest::bool::ANY, 0.3_f64..15.0, proptest::bool::ANY, proptest::bool::ANY);
    let config = Config { cases: 300, failure_persistence: None, ..Config::default() };
    let (mut made, mut left_out) = (0, 0);
    let cell = std::cell::RefCell::new((&mut made, &mut left_out));
    let outcome = TestRunner::new_with_rng(
        config,
        proptest::test_runner::TestRng::deterministic_rng(proptest::test_runner::RngAlgorithm::ChaCha),
    )
    .run(&cases, |(radii, size, bent, distance, inward, sharp)| {
        let radii: Vec<f64> = radii.iter().map(|r| r * size).collect();
        let bend = if bent { 0.08 } else { 0.0 };
        let ring = ring_of(&radii, bend);
        let distance = if inward { -distance } else { distance };
        let join = if sharp { Join::Mitre { most: 1.5 } } else { Join::Round };
        let Some(source) = simple(&[ring]).ok().and_then(|simple| Source::of(&simple, false)) else { return Ok(()) };
        let whole = Unfinished::of(&source, distance, join);
        let raw = trim::trimmed(Unfinished::of(&source, distance, join).raw, &source, whole.too_near());
        let (pieces, kept) = (whole.raw.pieces.len(), raw.pieces.len());
        let trimmed = finished(&source, distance, &Unfinished { raw, ..Unfinished::of(&source, distance, join) });
        match (finished(&source, distance, &whole), trimmed) {
            (Some(whole), Some(trimmed)) => {
                assert_eq!(whole.rings.len(), trimmed.rings.len());
                assert!((area(&whole) - area(&trimmed)).abs() < 1e-3, "{} {}", area(&whole), area(&trimmed));
                let apart = apart(&whole.rings, &trimmed.rings).max(apart(&trimmed.rings, &whole.rings));
                assert!(apart < 1e-4, "{apart}");
                let mut counts = cell.borrow_mut();
                *counts.0 += 1;
                *counts.1 += usize::from(kept < pieces);
            }
            // Where cutting less tells nothing, a distance a hair off is tried: what comes of that is the same.
            (Some(whole), None) => {
                let made = offset(&[ring_of(&radii, bend)], distance, join).map_or(0, |made| made.rings.len());
                assert_eq!(whole.rings.len(), made);
            }
            // Where cutting all of it tells nothing, cutting less may.
            (None, _) => {}
        }
        Ok(())
    });
    outcome.unwrap_or_else(|failure| panic!("{failure}"));
    assert!(made > 200 && left_out > 40, "{made} made, some left out of {left_out}");
}
