//! Battens against elliptic integrals (fixtures/references.json, records 4.*).

use super::{Batten, BattenEnd, BattenError};
use crate::geometry::{Path, Segment};
use kurbo::{Affine, Point, Rect, Vec2};
use std::f64::consts::FRAC_PI_2;

fn reference(id: &str) -> serde_json::Value {
    let text = std::fs::read_to_string("fixtures/references.json").expect("the fixture is there");
    let all: serde_json::Value = serde_json::from_str(&text).expect("the fixture is JSON");
    let found = all.as_array().and_then(|list| list.iter().find(|r| r["id"] == id));
    found.expect("the record is there")["values"].clone()
}

fn number(value: &serde_json::Value) -> f64 {
    value.as_f64().expect("the record holds a number")
}

fn points(list: &[(f64, f64)]) -> Vec<Point> {
    list.iter().copied().map(Point::from).collect()
}

fn path(batten: &Batten) -> Path {
    Path::open(batten.to_cubics().into_iter().map(Segment::Cubic).collect())
}

fn bounds(batten: &Batten) -> Rect {
    path(batten).bounding_box().expect("a batten is not empty")
}

#[test]
fn the_rectangular_elastica() {
    let expected = reference("4.rect_elastica");
    let span = 100.0 * number(&expected["span"]);
    // Half of it, from its foot to its top: at both feet together the ends hold the length only to second order.
    let half = points(&[(0.0, 0.0), (span / 2.0, 100.0)]);
    let batten =
        Batten::spring(&half, [BattenEnd::Along(FRAC_PI_2), BattenEnd::Along(0.0)], 0.0).expect("it has a shape");
    assert!((2.0 * batten.length() - 100.0 * number(&expected["arc"])).abs() < 1e-5, "{}", batten.length());
    // Its foot is a point of inflection.
    assert!(batten.curvatures()[0].abs() < 1e-8);
    let feet = points(&[(0.0, 0.0), (span, 0.0)]);
    let upright = [BattenEnd::Along(FRAC_PI_2), BattenEnd::Along(-FRAC_PI_2)];
    let whole = Batten::spring(&feet, upright, 0.0).expect("it has a shape");
    assert!((bounds(&whole).y1 / span - number(&expected["rise/span"])).abs() < 1e-3);
}

#[test]
fn a_batten_pushed_together_at_its_ends() {
    let table = reference("4.batten.end_push");
    for (rise, row) in table.as_object().expect("the record is a table") {
        let rise: f64 = rise.parse().expect("the keys are rises over the span");
        let slope = number(&row["end_slope"]).to_radians();
        // A push F bends by k'' = -k³/2 - F cos(slope) k, and the length is 2 K(sin(slope / 2)) / sqrt(F), with the
        // complete elliptic integral K by the arithmetic-geometric mean.
        let (mut a, mut b) = (1.0, (slope / 2.0).cos());
        for _ in 0..8 {
            (a, b) = ((a + b) / 2.0, f64::sqrt(a * b));
        }
        let push = (std::f64::consts::PI / a / number(&row["L_over_span"])).powi(2);
        let ends = points(&[(0.0, 0.0), (500.0, 0.0)]);
        let held = [BattenEnd::Along(slope), BattenEnd::Along(-slope)];
        let batten = super::solve::solve(&ends, held, -push * slope.cos()).expect("it has a shape");
        assert!((batten.length() / 500.0 - number(&row["L_over_span"])).abs() < 2e-5);
        let shape = path(&batten);
        let top = bounds(&batten).y1;
        assert!((top / 500.0 - rise).abs() < 2e-5, "{top}");
        let quarter = shape.nearest(Point::new(125.0, number(&row["quarter"]) * top)).expect("a batten is not empty");
        assert!(quarter.0 < 0.01, "{}", quarter.0);
        // Its ends, which the push leaves free to turn, carry no bending.
        assert!(batten.curvatures()[0].abs() < 1e-6, "{}", batten.curvatures()[0]);
    }
}

#[test]
fn a_batten_over_a_middle_pin_is_not_an_arc() {
    let shallow = reference("4.batten.shallow");
    let share = number(&shallow["single central push on two end pins (cubic y/h=3u-4u^3)"]);
    let over_pin = points(&[(0.0, 0.0), (500.0, 2.0), (1000.0, 0.0)]);
    let batten = Batten::spring(&over_pin, [BattenEnd::Free; 2], 0.0).expect("it has a shape");
    let quarter = path(&batten).nearest(Point::new(250.0, share * 2.0)).expect("a batten is not empty");
    assert!(quarter.0 < 1e-3, "{}", quarter.0);
}

#[test]
fn points_of_the_rectangular_elastica_give_it_back() {
    // x = the integral of sin² / sqrt(1 + sin²) up to y = sin (from y² dy / sqrt(1 - y⁴)), by the midpoint rule.
    let across = |top: f64| {
        let step = top / 20_000.0;
        (0..20_000)
            .map(|i| ((f64::from(i) + 0.5) * step).sin().powi(2))
            .map(|s| s / (1.0 + s).sqrt() * step)
            .sum::<f64>()
    };
    let heights = [0.0_f64, 0.35, 0.7, 0.95, 1.0];
    let mut through: Vec<Point> = heights.iter().map(|y| Point::new(across(y.asin()) * 100.0, *y * 100.0)).collect();
    let width = 2.0 * through[4].x;
    let right: Vec<Point> = through[..4].iter().rev().map(|p| Point::new(width - p.x, p.y)).collect();
    through.extend(right);
    let batten = Batten::spring(&through, [BattenEnd::Free; 2], 0.0).expect("it has a shape");
    assert!((batten.angles()[0] - FRAC_PI_2).abs() < 1e-6);
    assert!((batten.length() - 100.0 * number(&reference("4.lemniscate")["2A (varpi)"])).abs() < 1e-4);
    assert!((batten.curvatures()[4].abs() - 0.02).abs() < 1e-6, "curvature is twice the height, over the scale");
}

#[test]
fn cubics_go_through_the_points_and_are_smooth() {
    let through = points(&[(0.0, 0.0), (40.0, 120.0), (30.0, 300.0), (90.0, 480.0), (220.0, 600.0), (400.0, 640.0)]);
    let batten = Batten::spring(&through, [BattenEnd::Free; 2], 0.0).expect("it has a shape");
    let shape = path(&batten);
    assert!(through.iter().all(|p| shape.nodes().contains(p)));
    for pair in shape.segments().windows(2) {
        assert_eq!(pair[0].end(), pair[1].start());
        assert!(pair[0].tangent(1.0).cross(pair[1].tangent(0.0)).abs() < 1e-6);
    }
    assert!((shape.length() - batten.length()).abs() < 0.01);
}

#[test]
fn turned_and_moved_it_is_the_same() {
    let through = points(&[(0.0, 0.0), (100.0, 30.0), (220.0, 45.0), (350.0, 20.0), (500.0, 0.0)]);
    let map = Affine::translate((1234.0, -987.0)) * Affine::rotate(2.9);
    let moved: Vec<Point> = through.iter().map(|p| map * *p).collect();
    let [here, there] =
        [through, moved].map(|p| Batten::spring(&p, [BattenEnd::Free; 2], 0.5).expect("it has a shape"));
    assert!((here.length() - there.length()).abs() < 1e-8);
    for (a, b) in here.curvatures().iter().zip(there.curvatures()) {
        assert!((a - b).abs() < 1e-10);
    }
}

#[test]
fn where_a_plain_batten_slips_out_tension_is_proposed() {
    let through = points(&[(0.0, 0.0), (100.0, 0.0), (10.0, 5.0)]);
    let Err(BattenError::NoShape { tension: Some(tension) }) = Batten::spring(&through, [BattenEnd::Free; 2], 0.0)
    else {
        panic!("a plain batten does not fold back");
    };
    assert!(Batten::spring(&through, [BattenEnd::Free; 2], tension).is_ok());
}

#[test]
fn bad_input_is_refused() {
    let spring = |p: &[(f64, f64)], tension: f64| Batten::spring(&points(p), [BattenEnd::Free; 2], tension);
    assert_eq!(spring(&[(0.0, 0.0)], 0.0), Err(BattenError::PointCount(1)));
    assert_eq!(spring(&[(0.0, 0.0), (5.0, 0.0), (5.0, 0.0)], 0.0), Err(BattenError::RepeatedPoint(2)));
    assert_eq!(spring(&[(0.0, 0.0), (f64::NAN, 0.0)], 0.0), Err(BattenError::BadNumber));
    assert_eq!(spring(&[(0.0, 0.0), (1e300, 0.0)], 0.0), Err(BattenError::BadNumber));
    assert_eq!(spring(&[(0.0, 0.0), (5.0, 0.0)], -1.0), Err(BattenError::BadNumber));
    let straight = spring(&[(0.0, 0.0), (3.0, 4.0)], 0.0).expect("two points hold a straight batten");
    assert!((straight.length() - 5.0).abs() < 1e-12 && Vec2::from_angle(straight.angles()[0]).x - 0.6 < 1e-12);
}
