//! Outlines with known measures, and every kind of problem.

use super::{Built, EdgeShape, Node, Problem, ProblemKind, build};
use crate::geometry::{ContactKind, MirrorLine, Segment};
use kurbo::Point;
use std::f64::consts::{FRAC_PI_4, PI};

fn node(x: f64, y: f64) -> Node {
    Node { to: Point::new(x, y), edge: EdgeShape::Straight, corner_radius: None }
}

fn with(x: f64, y: f64, edge: EdgeShape) -> Node {
    Node { edge, ..node(x, y) }
}

fn rounded(x: f64, y: f64, radius: f64) -> Node {
    Node { corner_radius: Some(radius), ..node(x, y) }
}

fn built(nodes: &[Node]) -> Built {
    build(nodes, None).expect("the outline is sound")
}

fn problems(nodes: &[Node]) -> Vec<Problem> {
    build(nodes, None).expect_err("the outline is unsound")
}

/// A 300 x 200 rectangle whose top edge has a shape, listed either way round.
fn topped(edge: EdgeShape) -> [Vec<Node>; 2] {
    let anticlockwise = vec![node(0.0, 0.0), node(300.0, 0.0), node(300.0, 200.0), with(0.0, 200.0, edge.clone())];
    let clockwise = vec![node(0.0, 0.0), node(0.0, 200.0), with(300.0, 200.0, edge), node(300.0, 0.0)];
    [anticlockwise, clockwise]
}

#[test]
fn a_rise_bulges_out_whichever_way_the_corners_are_listed() {
    for rise in [25.0, -25.0] {
        // Area of a circular segment: r² (a - sin a cos a), a half the angle at the centre.
        let radius: f64 = (150.0 * 150.0 + 25.0 * 25.0) / 50.0;
        let half = (150.0 / radius).asin();
        let bulge = radius * radius * (half - half.sin() * half.cos());
        for nodes in topped(EdgeShape::Rise(rise)) {
            let part = built(&nodes);
            assert!((part.outline.area() - (60_000.0 + bulge * f64::signum(rise))).abs() < 1e-8);
            let fact = part.edges.iter().find(|e| e.rise.is_some()).expect("one edge is an arc");
            assert!((fact.radius.unwrap_or(0.0) - radius).abs() < 1e-9 && (fact.chord - 300.0).abs() < 1e-12);
            assert!((fact.length - 2.0 * radius * half).abs() < 1e-9);
        }
    }
}

#[test]
fn arcs_against_the_handbook() {
    let text = std::fs::read_to_string("fixtures/references.json").expect("the fixture is there");
    let all: serde_json::Value = serde_json::from_str(&text).expect("the fixture is JSON");
    let record =
        |id: &str| all.as_array().and_then(|l| l.iter().find(|r| r["id"] == id)).expect("the record is there");
    let arc = |chord: f64, edge: EdgeShape| {
        built(&[node(0.0, 0.0), with(chord, 0.0, edge), node(chord / 2.0, 2.0 * chord)]).edges[1]
    };
    // 3.handbook1: chord 16 in, rise 6 in: radius 8 1/3 in.
    let first = arc(16.0, EdgeShape::Rise(6.0));
    assert!((first.radius.unwrap_or(0.0) - record("3.handbook1")["values"].as_f64().expect("a number")).abs() < 5e-6);
    // 3.handbook2: radius 60 in, rise 8 in: chord 59.86 in.
    let chord = record("3.handbook2")["values"].as_f64().expect("a number");
    let second = arc(chord, EdgeShape::Radius { radius: 60.0, bulges_out: true });
    assert!((second.rise.unwrap_or(0.0) - 8.0).abs() < 0.005);
    for row in record("3.rows")["values"].as_array().expect("a list of rows") {
        let [c, h, r, angle, length] =
            ["c", "h", "r", "angle_deg", "arc"].map(|k| row[k].as_f64().expect("a number"));
        let fact = arc(c, EdgeShape::Rise(h));
        assert!((fact.radius.unwrap_or(0.0) - r).abs() < 1e-5 && (fact.length - length).abs() < 1e-5, "{row}");
        assert!((fact.length / fact.radius.unwrap_or(1.0) - angle.to_radians()).abs() < 1e-6, "{row}");
    }
}

#[test]
fn half_and_quarter_ellipses_by_closed_form() {
    for nodes in topped(EdgeShape::HalfEllipse(80.0)) {
        assert!((built(&nodes).outline.area() - (60_000.0 + PI * 150.0 * 80.0 / 2.0)).abs() < 1e-8);
    }
    // A right angle of 300 x 200 whose far corner is a quarter ellipse leaving along x: hollow or full.
    for (leaves_along_x, area) in [(true, PI * 15_000.0), (false, 60_000.0 - PI * 15_000.0)] {
        let edge = EdgeShape::QuarterEllipse { leaves_along_x: !leaves_along_x };
        let part = built(&[node(0.0, 0.0), node(300.0, 0.0), with(0.0, 200.0, edge)]);
        assert!((part.outline.area() - area).abs() < 1e-8, "{}", part.outline.area());
    }
}

#[test]
fn rounded_corners_by_closed_form() {
    // Four corners of a rectangle lose (4 - pi) r² together.
    let part = built(&[
        rounded(0.0, 0.0, 30.0),
        rounded(300.0, 0.0, 30.0),
        rounded(300.0, 200.0, 30.0),
        rounded(0.0, 200.0, 30.0),
    ]);
    assert!((part.outline.area() - (60_000.0 - (4.0 - PI) * 900.0)).abs() < 1e-7);
    assert_eq!((part.corners.len(), part.tangents.len()), (4, 8));
    // Radii that just use up an edge are let pass: 100 on an edge of 200 from both ends.
    let stadium = built(&[
        rounded(0.0, 0.0, 100.0),
        rounded(300.0, 0.0, 100.0),
        rounded(300.0, 200.0, 100.0),
        rounded(0.0, 200.0, 100.0),
    ]);
    assert!((stadium.outline.area() - (20_000.0 + PI * 10_000.0)).abs() < 1e-5);
    // The tangent points of an angle of 60 degrees lie r / tan 30° from the corner.
    let sharp = built(&[rounded(0.0, 0.0, 10.0), node(100.0, 0.0), node(50.0, 50.0 * 3.0_f64.sqrt())]);
    let from_corner: Vec<f64> = sharp.tangents.iter().map(|t| t.distance(Point::ORIGIN)).collect();
    assert!(from_corner.iter().all(|d| (d - 10.0 * 3.0_f64.sqrt()).abs() < 1e-9), "{from_corner:?}");
}

#[test]
fn line_to_arc_corner_by_closed_form() {
    // In a quarter disc of radius 40 a circle of 6 touches the straight side and the arc from inside: its centre lies 6 off the
    // side and 34 from the disc's centre.
    let quarter = EdgeShape::QuarterEllipse { leaves_along_x: false };
    let part = built(&[node(0.0, 0.0), rounded(40.0, 0.0, 6.0), with(0.0, 40.0, quarter)]);
    let along = (34.0_f64 * 34.0 - 36.0).sqrt();
    assert!(part.tangents[0].distance(Point::new(along, 0.0)) < 1e-9, "{:?}", part.tangents);
    assert!(part.tangents[1].distance(Point::new(along, 6.0) + kurbo::Vec2::new(along, 6.0) * (6.0 / 34.0)) < 1e-9);
}

#[test]
fn the_largest_radius_that_fits_is_told_and_builds() {
    let with_radius = |r: f64| [node(0.0, 0.0), rounded(50.0, 0.0, r), node(50.0, 200.0), node(0.0, 200.0)];
    let told = problems(&with_radius(60.0));
    let [Problem { node: 1, kind: ProblemKind::RadiusDoesNotFit { radius, largest } }] = told[..] else {
        panic!("one problem at the corner: {told:?}");
    };
    assert!(radius == 60.0 && largest <= 50.0 && largest > 50.0 - 0.002, "{largest}");
    assert!(build(&with_radius(largest), None).is_ok());
    // Two radii of 30 and 40 do not fit on an edge of 50: the larger must make do with 20.
    let shared = |r: f64| [rounded(0.0, 0.0, 30.0), rounded(50.0, 0.0, r), node(50.0, 200.0), node(0.0, 200.0)];
    let told = problems(&shared(40.0));
    let [Problem { node: 1, kind: ProblemKind::RadiusDoesNotFit { largest, .. } }] = told[..] else {
        panic!("one problem at the larger radius: {told:?}");
    };
    assert!((largest - 20.0).abs() < 0.002 && build(&shared(largest), None).is_ok(), "{largest}");
    // Of two alike neither makes way: 25 each.
    let alike = |r: f64| [rounded(0.0, 0.0, r), rounded(50.0, 0.0, r), node(50.0, 200.0), node(0.0, 200.0)];
    let told = problems(&alike(30.0));
    assert_eq!(told.iter().map(|p| p.node).collect::<Vec<_>>(), [0, 1]);
    for problem in told {
        let ProblemKind::RadiusDoesNotFit { largest, .. } = problem.kind else { panic!("{problem:?}") };
        assert!((largest - 25.0).abs() < 0.002 && build(&alike(largest), None).is_ok(), "{largest}");
    }
}

#[test]
fn two_corners_and_two_arcs_make_a_lens() {
    let lens = built(&[with(0.0, 0.0, EdgeShape::Rise(50.0)), with(100.0, 0.0, EdgeShape::Rise(50.0))]);
    assert!((lens.outline.area() - PI * 2500.0).abs() < 1e-8);
}

#[test]
fn a_batten_edge_goes_through_its_points() {
    let points = vec![Point::new(220.0, 240.0), Point::new(100.0, 250.0)];
    let edge = EdgeShape::Batten { points: points.clone(), tension: 0.0 };
    for nodes in topped(edge).into_iter().take(1) {
        let part = built(&nodes);
        assert!(points.iter().all(|p| part.outline.path().nearest(*p).is_some_and(|n| n.0 < 1e-9)));
    }
}

#[test]
fn problems_of_single_nodes_and_edges() {
    let kinds = |nodes: &[Node]| problems(nodes).into_iter().map(|p| (p.node, p.kind)).collect::<Vec<_>>();
    assert_eq!(kinds(&[node(0.0, 0.0)]), [(0, ProblemKind::EnclosesNothing)]);
    assert_eq!(kinds(&[node(0.0, 0.0), node(9.0, 0.0), node(5.0, 1e-6)]), [(0, ProblemKind::EnclosesNothing)]);
    let repeated = kinds(&[node(0.0, 0.0), node(9.0, 0.0), node(9.0, 0.0), node(0.0, 5.0)]);
    assert_eq!(repeated, [(2, ProblemKind::RepeatedCorner { at: Point::new(9.0, 0.0) })]);
    let steep = kinds(&topped(EdgeShape::Rise(151.0))[0]);
    assert_eq!(steep, [(3, ProblemKind::RiseTooLarge { rise: 151.0, largest: 150.0 })]);
    let small = kinds(&topped(EdgeShape::Radius { radius: 140.0, bulges_out: false })[0]);
    assert_eq!(small, [(3, ProblemKind::RadiusTooSmall { radius: 140.0, smallest: 150.0 })]);
    let level = kinds(&topped(EdgeShape::QuarterEllipse { leaves_along_x: true })[0]);
    assert_eq!(level, [(3, ProblemKind::QuarterEllipseFlat)]);
    let tight = kinds(&topped(EdgeShape::Batten { points: Vec::new(), tension: -1.0 })[0]);
    assert!(matches!(tight[..], [(3, ProblemKind::TensionOutOfRange { .. })]));
    let twice = EdgeShape::Batten { points: vec![Point::new(9.0, 250.0); 2], tension: 0.0 };
    assert!(matches!(kinds(&topped(twice)[0])[..], [(3, ProblemKind::RepeatedBattenPoint { .. })]));
    let folded = EdgeShape::Batten { points: vec![Point::new(1.0, 205.0)], tension: 0.0 };
    let back = kinds(&[node(100.0, 0.0), node(300.0, 200.0), with(280.0, 200.0, folded)]);
    assert!(matches!(back[..], [(2, ProblemKind::BattenHasNoShape { tension: Some(_) })]), "{back:?}");
    let negative = kinds(&[rounded(0.0, 0.0, -3.0), node(9.0, 0.0), node(5.0, 5.0)]);
    assert_eq!(negative, [(0, ProblemKind::CornerRadiusNotPositive { radius: -3.0 })]);
}

#[test]
fn problems_of_the_whole() {
    let crossed = problems(&[node(0.0, 0.0), node(100.0, 100.0), node(100.0, 0.0), node(0.0, 120.0)]);
    let [Problem { kind: ProblemKind::CrossesItself { at, how: ContactKind::Cross, first, second }, .. }] =
        crossed[..]
    else {
        panic!("one crossing: {crossed:?}");
    };
    assert_eq!((first, second), (1, 3));
    assert!(at.distance(Point::new(600.0 / 11.0, 600.0 / 11.0)) < 1e-9);
    // A hollow arc that passes through the far side.
    let pierced =
        problems(&[node(0.0, 0.0), node(300.0, 0.0), node(300.0, 50.0), with(0.0, 50.0, EdgeShape::Rise(-60.0))]);
    assert!(pierced.iter().all(|p| matches!(p.kind, ProblemKind::CrossesItself { .. })), "{pierced:?}");
    // And one that passes beyond the corner opposite without meeting its edges.
    let inside_out = problems(&[with(0.0, 0.0, EdgeShape::Rise(-40.0)), node(50.0, 5.0), node(100.0, 0.0)]);
    assert_eq!(inside_out, [Problem { node: 0, kind: ProblemKind::InsideOut }]);
}

#[test]
fn numbers_out_of_reach_are_refused() {
    for bad in [f64::NAN, f64::INFINITY, -1e300, 3e4] {
        let far = problems(&[node(0.0, 0.0), node(bad, 0.0), node(5.0, 5.0)]);
        assert!(matches!(far[..], [Problem { node: 1, kind: ProblemKind::OutOfReach { .. } }]));
        let edges = [
            EdgeShape::Rise(bad),
            EdgeShape::HalfEllipse(bad),
            EdgeShape::Radius { radius: bad, bulges_out: true },
            EdgeShape::Batten { points: vec![Point::new(9.0, bad)], tension: 0.0 },
            EdgeShape::Batten { points: Vec::new(), tension: bad },
        ];
        for edge in edges {
            let _ = build(&topped(edge)[0], None);
        }
        let _ = build(&[rounded(0.0, 0.0, bad), node(9.0, 0.0), node(5.0, 5.0)], None);
    }
}

#[test]
fn a_half_is_mirrored() {
    // Half of a 300 x 200 board about the y axis, its ends a half circle.
    let half = [node(0.0, -100.0), node(150.0, -100.0), with(150.0, 100.0, EdgeShape::Rise(100.0)), node(0.0, 100.0)];
    for nodes in [half.to_vec(), half.iter().map(|n| Node { to: Point::new(-n.to.x, n.to.y), ..n.clone() }).collect()]
    {
        let part = build(&nodes, Some(MirrorLine::Y)).expect("the half is sound");
        assert!((part.outline.area() - (60_000.0 + PI * 10_000.0)).abs() < 1e-7);
        let drawn = part.half.as_ref().expect("a half was drawn");
        assert!((drawn.tracing().signed_area() - part.outline.area() / 2.0).abs() < 1e-7);
        assert!((drawn.whole().expect("it is an outline").area() - part.outline.area()).abs() < 1e-7);
        assert_eq!(part.edges.iter().map(|e| e.node).collect::<Vec<_>>(), [1, 2, 3]);
    }
}

#[test]
fn a_corner_on_the_mirror_line_is_rounded_across_it() {
    let half = [rounded(0.0, -100.0, 20.0), node(100.0, 0.0), rounded(0.0, 100.0, 20.0)];
    let part = build(&half, Some(MirrorLine::Y)).expect("the half is sound");
    // Each right angle loses (1 - pi / 4) r².
    assert!((part.outline.area() - (20_000.0 - 800.0 * (1.0 - FRAC_PI_4))).abs() < 1e-7);
    let drawn = part.half.expect("a half was drawn");
    assert!((drawn.tracing().signed_area() - part.outline.area() / 2.0).abs() < 1e-7);
    assert!(drawn.path().start().is_some_and(|p| p.x.abs() < 1e-9));
}

#[test]
fn a_batten_stands_square_to_the_mirror_line() {
    let edge = EdgeShape::Batten { points: vec![Point::new(120.0, 70.0)], tension: 0.0 };
    let half = [node(0.0, 0.0), node(200.0, 0.0), node(200.0, 20.0), with(0.0, 90.0, edge)];
    let part = build(&half, Some(MirrorLine::Y)).expect("the half is sound");
    let drawn = part.half.expect("a half was drawn");
    let last = drawn.path().segments().last().map(|s: &Segment| s.tangent(1.0)).expect("it is not empty");
    assert!(last.y.abs() < 1e-7 && last.x < 0.0, "{last:?}");
}

#[test]
fn problems_of_halves() {
    let about_y = |nodes: &[Node]| build(nodes, Some(MirrorLine::Y)).expect_err("the half is unsound");
    let off = about_y(&[node(2.0, 0.0), node(100.0, 0.0), node(0.0, 50.0)]);
    assert_eq!(off, [Problem { node: 0, kind: ProblemKind::OffMirrorLine { distance: 2.0 } }]);
    let beyond = about_y(&[node(0.0, 0.0), node(100.0, 0.0), node(-20.0, 30.0), node(0.0, 50.0)]);
    let at = Point::new(-20.0, 30.0);
    assert!(beyond.contains(&Problem { node: 2, kind: ProblemKind::CrossesMirrorLine { at, distance: 20.0 } }));
    let first = about_y(&[with(0.0, 0.0, EdgeShape::Rise(5.0)), node(100.0, 0.0), node(0.0, 50.0)]);
    assert_eq!(first, [Problem { node: 0, kind: ProblemKind::EdgeWithoutStart }]);
    let along = about_y(&[node(0.0, 0.0), node(100.0, 0.0), node(0.0, 50.0), node(0.0, 80.0)]);
    assert_eq!(along, [Problem { node: 3, kind: ProblemKind::EdgeOnMirrorLine }]);
}
