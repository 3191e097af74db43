//! Crossings against signs of an equation along the curve, and crossings planted on purpose.

use super::shapes::{arc, ring};
use crate::common::draws::{Draws, for_all};
use fullsize::geometry::{Affine, Arc, ContactKind, CubicBez, Path, Point, Segment, Vec2, contacts, self_crossings};
use fullsize::tolerance::CONTACT_TOLERANCE;
use std::f64::consts::TAU;

fn point(draws: &mut Draws, size: f64) -> Point {
    Point::new(draws.between(-size, size), draws.between(-size, size))
}

fn piece(draws: &mut Draws, size: f64) -> Segment {
    let (a, b) = (point(draws, size), point(draws, size));
    match draws.below(4) {
        0 => Segment::line(a, b),
        1 => arc(a, b, a.distance(b) * draws.between(-0.49, 0.49)),
        2 => {
            let p = point(draws, size).to_vec2();
            let q = p.turn_90() * draws.between(-1.0, 1.0) + p * draws.between(-1.0, 1.0);
            Segment::Arc(Arc { center: a, p, q, start: draws.between(0.0, TAU), sweep: draws.between(-TAU, TAU) })
        }
        _ => Segment::Cubic(CubicBez::new(a, point(draws, size), point(draws, size), b)),
    }
}

/// How often a function over 0 to 1 changes sign, and whether it comes so near to touching zero that samples cannot tell.
fn sign_changes(f: impl Fn(f64) -> f64, doubt: f64) -> Option<usize> {
    const SAMPLES: u32 = 5000;
    let values: Vec<f64> = (0..=SAMPLES).map(|i| f(f64::from(i) / f64::from(SAMPLES))).collect();
    let ends_clear = values[0].abs() > doubt && values[values.len() - 1].abs() > doubt;
    let touching = values.windows(3).any(|w| {
        let turns = (w[1] - w[0]).signum() != (w[2] - w[1]).signum();
        turns && w[1].abs() < doubt
    });
    (ends_clear && !touching).then(|| values.windows(2).filter(|w| (w[0] > 0.0) != (w[1] > 0.0)).count())
}

#[test]
fn as_many_crossings_with_a_line_as_changes_of_side() {
    let mut compared = 0;
    for_all(500, |draws| {
        let curve = piece(draws, 300.0);
        let (through, along) = (point(draws, 200.0), Vec2::from_angle(draws.between(0.0, TAU)));
        let line = Segment::line(through - along * 3000.0, through + along * 3000.0);
        let Some(expected) = sign_changes(|t| (curve.eval(t) - through).cross(along), 0.01) else { return };
        let found = contacts(&curve, &line, CONTACT_TOLERANCE).expect("within the work limit");
        assert_eq!(found.len(), expected, "{curve:?} {line:?} {found:?}");
        for contact in found {
            assert!((contact.point - through).cross(along).abs() < 1e-8);
        }
        compared += 1;
    });
    assert!(compared > 400);
}

#[test]
fn as_many_crossings_with_a_circle_as_changes_of_side() {
    let mut compared = 0;
    for_all(500, |draws| {
        let curve = piece(draws, 300.0);
        let (center, radius) = (point(draws, 200.0), draws.between(5.0, 300.0));
        let circle = Segment::Arc(Arc::circular(center, radius, draws.between(0.0, TAU), TAU));
        if curve.nearest(circle.start()).0 < 0.01 {
            return;
        }
        let Some(expected) = sign_changes(|t| curve.eval(t).distance(center) - radius, 0.01) else { return };
        let found = contacts(&curve, &circle, CONTACT_TOLERANCE).expect("within the work limit");
        assert_eq!(found.len(), expected, "{curve:?} {circle:?} {found:?}");
        compared += 1;
    });
    assert!(compared > 400);
}

#[test]
fn planted_crossings_are_found() {
    for_all(2000, |draws| {
        let a = piece(draws, 200.0);
        let b = piece(draws, 200.0);
        let (t, u) = (draws.between(0.05, 0.95), draws.between(0.05, 0.95));
        let b = b.transformed(Affine::translate(a.eval(t) - b.eval(u)));
        if a.tangent(t).cross(b.tangent(u)).abs() < 0.02 {
            return;
        }
        let found = contacts(&a, &b, CONTACT_TOLERANCE).expect("within the work limit");
        let place = a.eval(t);
        assert!(found.iter().any(|c| c.point.distance(place) < 1e-7), "{a:?} {b:?} {found:?}");
        for contact in &found {
            let off = b.nearest(contact.point).0;
            assert!(off <= 2.0 * CONTACT_TOLERANCE, "{off}: {a:?} {b:?} {contact:?}");
        }
    });
}

#[test]
fn a_smooth_ring_is_free_of_crossings_and_a_pushed_one_is_not() {
    for_all(200, |draws| {
        let path = ring(draws, Point::ORIGIN, 200.0, 400.0);
        assert!(self_crossings(&path, 20).found.is_empty());
        // A ring of three corners may leave the centre outside.
        let nodes: Vec<Vec2> = path.segments().iter().map(|s| s.start().to_vec2()).collect();
        if nodes.iter().zip(nodes.iter().cycle().skip(1)).any(|(a, b)| a.cross(*b) <= 0.0) {
            return;
        }
        // Push a spike from the ring's first line right through its other side.
        let mut segments = path.segments().to_vec();
        let tip = (segments[0].start().to_vec2() * -3.0).to_point();
        let (start, end) = (segments[0].start(), segments[0].end());
        segments.splice(0..1, [Segment::line(start, tip), Segment::line(tip, end)]);
        let crossings = self_crossings(&Path::closed(segments), 20);
        assert!(crossings.found.iter().filter(|c| c.kind == ContactKind::Cross).count() >= 1);
    });
}

#[test]
fn one_crossing_among_twenty_thousand_pieces() {
    let wavy = |i: u32| {
        let angle = f64::from(i) * TAU / 20_000.0;
        (Vec2::from_angle(angle) * (900.0 + 40.0 * (37.0 * angle).sin())).to_point()
    };
    let mut points: Vec<Point> = (0..20_000).map(wavy).collect();
    assert!(self_crossings(&Path::polyline(&points, true), 20).found.is_empty());
    points.swap(7_000, 7_001);
    let own = self_crossings(&Path::polyline(&points, true), 20);
    assert!(own.complete && own.found.iter().all(|c| c.point.distance(points[7_000]) < 1.0));
    assert!(!own.found.is_empty());
}
