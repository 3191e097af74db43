//! Meetings with a known answer.

use super::{Contact, ContactKind, contacts, self_crossings};
use crate::geometry::{Arc, Path, Segment};
use crate::tolerance::CONTACT_TOLERANCE;
use kurbo::{CubicBez, Point, Rect, Vec2};
use std::f64::consts::{PI, TAU};

fn met(a: &Segment, b: &Segment) -> Vec<Contact> {
    contacts(a, b, CONTACT_TOLERANCE).expect("finite pieces are within the work limit")
}

fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> Segment {
    Segment::line(Point::new(x0, y0), Point::new(x1, y1))
}

fn circle(x: f64, y: f64, radius: f64) -> Segment {
    Segment::Arc(Arc::circular(Point::new(x, y), radius, 0.3, TAU))
}

#[test]
fn lines_cross_end_on_each_other_and_overlap() {
    let across = met(&line(0.0, 0.0, 10.0, 10.0), &line(0.0, 10.0, 10.0, 0.0));
    assert_eq!(across.len(), 1);
    assert_eq!((across[0].kind, across[0].first.0, across[0].second.0), (ContactKind::Cross, 0.5, 0.5));
    let tee = met(&line(0.0, 0.0, 10.0, 0.0), &line(4.0, 0.0, 4.0, 9.0));
    assert_eq!(tee.iter().map(|c| (c.kind, c.point)).collect::<Vec<_>>(), [(ContactKind::End, Point::new(4.0, 0.0))]);
    let along = met(&line(0.0, 0.0, 10.0, 0.0), &line(15.0, 0.0, 5.0, 0.0));
    assert_eq!(along.len(), 1);
    assert_eq!((along[0].kind, along[0].point), (ContactKind::Overlap, Point::new(7.5, 0.0)));
    assert!(met(&line(0.0, 0.0, 10.0, 0.0), &line(0.0, 1e-5, 10.0, 1e-5)).is_empty());
}

#[test]
fn circles_by_closed_form() {
    // Circles of 5 and 5 whose centres are 6 apart cross at (3, ±4).
    let crossing = met(&circle(0.0, 0.0, 5.0), &circle(6.0, 0.0, 5.0));
    assert_eq!(crossing.len(), 2);
    for contact in &crossing {
        assert!((contact.point.x - 3.0).abs() < 1e-9 && (contact.point.y.abs() - 4.0).abs() < 1e-9);
        assert_eq!(contact.kind, ContactKind::Cross);
    }
    let touching = met(&circle(0.0, 0.0, 5.0), &circle(8.0, 0.0, 3.0));
    assert_eq!(touching.len(), 1, "{touching:?}");
    assert_eq!(touching[0].kind, ContactKind::Touch);
    assert!(touching[0].point.distance(Point::new(5.0, 0.0)) < 1e-3);
    assert!(met(&circle(0.0, 0.0, 5.0), &circle(0.0, 0.0, 4.0)).is_empty());
    let tangent_line = met(&circle(0.0, 0.0, 5.0), &line(-20.0, 5.0, 20.0, 5.0));
    assert_eq!(tangent_line.iter().map(|c| c.kind).collect::<Vec<_>>(), [ContactKind::Touch]);
}

#[test]
fn an_ellipse_and_a_line_by_closed_form() {
    let arc = Arc { center: Point::ORIGIN, p: Vec2::new(10.0, 0.0), q: Vec2::new(0.0, 4.0), start: 0.0, sweep: TAU };
    let found = met(&Segment::Arc(arc), &line(6.0, -9.0, 6.0, 9.0));
    // y = ±4 sqrt(1 - 0.6²)
    let mut heights: Vec<f64> = found.iter().map(|c| c.point.y).collect();
    heights.sort_by(f64::total_cmp);
    assert_eq!(heights.len(), 2);
    assert!((heights[0] + 3.2).abs() < 1e-10 && (heights[1] - 3.2).abs() < 1e-10);
}

#[test]
fn closed_and_looping_cubics() {
    let closed = Segment::Cubic(CubicBez::new((0.0, 0.0), (60.0, 80.0), (-60.0, 80.0), (0.0, 0.0)));
    let found = met(&closed, &line(-50.0, 40.0, 50.0, 40.0));
    assert_eq!(found.iter().map(|c| c.kind).collect::<Vec<_>>(), [ContactKind::Cross; 2]);
    let looping =
        Path::open(vec![Segment::Cubic(CubicBez::new((0.0, 0.0), (120.0, 80.0), (-80.0, 80.0), (40.0, 0.0)))]);
    let own = self_crossings(&looping, 20);
    assert_eq!(own.found.len(), 1);
    let [first, second] = [own.found[0].first, own.found[0].second];
    let gap = looping.segments()[0].eval(first.t).distance(looping.segments()[0].eval(second.t));
    assert!(gap < 1e-9 && second.t - first.t > 0.1);
}

#[test]
fn rings_that_do_and_do_not_meet_themselves() {
    let eight = [(0.0, 0.0), (50.0, 50.0), (50.0, 0.0), (0.0, 50.0)].map(Point::from);
    let own = self_crossings(&Path::polyline(&eight, true), 20);
    assert_eq!(
        own.found.iter().map(|c| (c.kind, c.point)).collect::<Vec<_>>(),
        [(ContactKind::Cross, Point::new(25.0, 25.0))]
    );
    assert!(self_crossings(&Path::rectangle(Rect::new(0.0, 0.0, 9.0, 5.0)), 20).found.is_empty());
    assert!(self_crossings(&Path::circle(Point::ORIGIN, 700.0), 20).found.is_empty());
    let twice_round = Path::open(vec![Segment::Arc(Arc::circular(Point::ORIGIN, 5.0, 0.0, 3.0 * PI))]);
    assert_eq!(self_crossings(&twice_round, 20).found.len(), 1);
    // A spike runs out and back over itself.
    let spike = [(0.0, 0.0), (50.0, 0.0), (50.0, 20.0), (25.0, 20.0), (25.0, 60.0), (25.0, 20.0), (0.0, 20.0)];
    let own = self_crossings(&Path::polyline(&spike.map(Point::from), true), 20);
    assert!(own.found.iter().any(|c| c.kind == ContactKind::Overlap));
}

#[test]
fn what_is_no_number_is_refused() {
    for bad in [line(f64::NAN, 0.0, 1.0, 1.0), line(0.0, 0.0, 1e300, 1.0), circle(0.0, f64::INFINITY, 1.0)] {
        assert_eq!(contacts(&bad, &line(0.0, 0.0, 1.0, 1.0), CONTACT_TOLERANCE), None);
        let _ = self_crossings(&Path::closed(vec![bad, bad]), 20);
    }
}

/// What is worked out for two lines at once is what the search for any two pieces finds.
#[test]
fn lines_meet_where_the_search_finds_them() {
    let mut simple = 0;
    for k in 0..4000_u32 {
        // Points strewn evenly by turns of the golden ratio and its powers.
        let at = |i: u32, share: f64| f64::from(k * 8 + i) * share % 1.0 * 20.0;
        let points = [0, 1, 2, 3].map(|i| Point::new(at(i, 0.618_033_988_75), at(i, 0.754_877_666_25)));
        let (a, b) = (kurbo::Line::new(points[0], points[1]), kurbo::Line::new(points[2], points[3]));
        let Some(met) = super::lines(&a, &b, CONTACT_TOLERANCE) else { continue };
        simple += 1;
        let (a, b) = (Segment::Line(a), Segment::Line(b));
        let searched =
            super::Pair { a: &a, b: &b, boxes: [a.bounding_box(), b.bounding_box()], tolerance: CONTACT_TOLERANCE }
                .contacts()
                .expect("two lines");
        assert_eq!(met.is_some(), !searched.is_empty(), "{a:?} {b:?}");
        for (met, searched) in met.iter().zip(&searched) {
            assert_eq!(met.kind, searched.kind);
            assert!(met.point.distance(searched.point) < 1e-9, "{met:?} {searched:?}");
            assert!((met.first.0 - searched.first.0).abs() < 1e-9 && (met.second.0 - searched.second.0).abs() < 1e-9);
        }
    }
    assert!(simple > 2500, "{simple}");
    // An end on the other line, and lines that run nearly alike, are left to the search.
    let line = |x0: f64, y0: f64, x1: f64, y1: f64| kurbo::Line::new((x0, y0), (x1, y1));
    assert!(super::lines(&line(0.0, 0.0, 9.0, 0.0), &line(4.0, 0.0, 4.0, 5.0), CONTACT_TOLERANCE).is_none());
    assert!(super::lines(&line(0.0, 0.0, 9.0, 0.0), &line(0.0, 0.01, 9.0, -0.01), CONTACT_TOLERANCE).is_none());
}
