//! Outlines from corners, edges and radii, checked by what must hold whatever the shape.

use crate::common::draws::{Draws, for_all};
use fullsize::geometry::{
    Arc, Built, EdgeShape, MirrorLine, Node, Path, Point, Problem, ProblemKind, Segment, Vec2, build,
};
use std::f64::consts::TAU;

fn edge(draws: &mut Draws, chord: f64, from: Point, to: Point) -> EdgeShape {
    match draws.below(5) {
        0 | 1 => EdgeShape::Straight,
        2 => EdgeShape::Rise(chord * draws.between(-0.1, 0.15)),
        3 => EdgeShape::HalfEllipse(chord * draws.between(0.03, 0.1)),
        _ => {
            let out = (to - from).turn_90();
            let at = |share: f64, off: f64| from + (to - from) * share - out * off;
            let points = vec![at(0.3, draws.between(-0.05, 0.08)), at(0.7, draws.between(-0.05, 0.08))];
            EdgeShape::Batten { points, tension: 0.0 }
        }
    }
}

/// Corners round a centre, with edges of every shape and with radii.
fn nodes(draws: &mut Draws) -> Vec<Node> {
    let count = 3 + draws.below(6);
    let corners: Vec<Point> = (0..count)
        .map(|i| {
            let angle = (i as f64 + draws.between(0.0, 0.5)) * TAU / count as f64;
            Point::new(120.0, 80.0) + Vec2::from_angle(angle) * draws.between(150.0, 300.0)
        })
        .collect();
    (0..count)
        .map(|i| {
            let (from, to) = (corners[(i + count - 1) % count], corners[i]);
            let corner_radius = (draws.below(3) > 0).then(|| draws.between(2.0, 30.0));
            Node { to, edge: edge(draws, from.distance(to), from, to), corner_radius }
        })
        .collect()
}

/// The same outline with each radius that does not fit cut down to what was proposed, and the outline then built.
fn built(mut nodes: Vec<Node>) -> Option<Built> {
    for _ in 0..12 {
        let problems = match build(&nodes, None) {
            Ok(built) => return Some(built),
            Err(problems) => problems,
        };
        for Problem { node, kind } in problems {
            let ProblemKind::RadiusDoesNotFit { radius, largest } = kind else { return None };
            assert!(largest < radius && largest >= 0.0, "{largest} of {radius}");
            nodes[node].corner_radius = (largest > 0.0).then_some(largest);
        }
    }
    panic!("the proposed radii do not build: {nodes:?}");
}

fn fillet_arcs(path: &Path, tangents: &[Point]) -> Vec<(usize, Arc)> {
    let starts_or_ends = |p: Point| tangents.iter().any(|t| t.distance(p) < 1e-7);
    let arcs = path.segments().iter().enumerate().filter_map(|(i, s)| match s {
        Segment::Arc(arc) if starts_or_ends(s.start()) && starts_or_ends(s.end()) => Some((i, *arc)),
        _ => None,
    });
    arcs.filter(|(_, arc)| arc.radius(1e-6).is_some_and(|r| r < 31.0)).collect()
}

#[test]
fn random_corners_are_tangent_and_joined() {
    let (mut sound, mut rounded) = (0, 0);
    for_all(400, |draws| {
        let Some(part) = built(nodes(draws)) else { return };
        sound += 1;
        let path = part.outline.path();
        let segments = path.segments();
        for (a, b) in segments.iter().zip(segments.iter().cycle().skip(1)) {
            assert!(a.end().distance(b.start()) < 1e-8);
        }
        for (i, arc) in fillet_arcs(path, &part.tangents) {
            let (before, after) =
                (segments[(i + segments.len() - 1) % segments.len()], segments[(i + 1) % segments.len()]);
            let own = segments[i];
            assert!(before.tangent(1.0).cross(own.tangent(0.0)).abs() < 1e-6);
            assert!(after.tangent(0.0).cross(own.tangent(1.0)).abs() < 1e-6);
            // The circle touches its edges and goes through neither.
            let radius = arc.p.hypot();
            assert!(before.nearest(arc.center).0 > radius - 1e-5 && after.nearest(arc.center).0 > radius - 1e-5);
            rounded += 1;
        }
    });
    assert!(sound > 300 && rounded > 800, "{sound} {rounded}");
}

#[test]
fn either_way_round_is_the_same_part() {
    for_all(200, |draws| {
        let there: Vec<Node> = nodes(draws).into_iter().map(|n| Node { corner_radius: None, ..n }).collect();
        let count = there.len();
        // Run the other way each node takes the edge that arrived at the node before it in this order.
        let back: Vec<Node> = (0..count)
            .rev()
            .map(|i| {
                let edge = match there[(i + 1) % count].edge.clone() {
                    EdgeShape::Batten { points, tension } => {
                        EdgeShape::Batten { points: points.into_iter().rev().collect(), tension }
                    }
                    other => other,
                };
                Node { edge, ..there[i].clone() }
            })
            .collect();
        let (Ok(a), Ok(b)) = (build(&there, None), build(&back, None)) else { return };
        assert!((a.outline.area() - b.outline.area()).abs() < 1e-3);
        assert!((a.outline.path().length() - b.outline.path().length()).abs() < 1e-3);
    });
}

#[test]
fn a_half_is_half_of_its_whole() {
    let mut sound = 0;
    for_all(400, |draws| {
        let mut nodes = nodes(draws);
        // Set the part on the mirror line by its first and last corner.
        for (i, node) in nodes.iter_mut().enumerate() {
            node.corner_radius = node.corner_radius.map(|r| r.min(10.0));
            if i == 0 {
                node.edge = EdgeShape::Straight;
            }
        }
        let last = nodes.len() - 1;
        nodes[0].to = Point::new(0.0, -320.0);
        nodes[last].to = Point::new(0.0, 400.0);
        let shift = |p: &mut Point| p.x = p.x.abs() + 30.0;
        for node in &mut nodes[1..last] {
            shift(&mut node.to);
        }
        for node in &mut nodes {
            if let EdgeShape::Batten { points, .. } = &mut node.edge {
                points.clear();
            }
        }
        let Ok(part) = build(&nodes, Some(MirrorLine::Y)) else { return };
        sound += 1;
        let half = part.half.expect("a half was drawn");
        assert!((2.0 * half.tracing().signed_area() - part.outline.area()).abs() < 1e-6);
        assert!((2.0 * half.path().length() - part.outline.path().length()).abs() < 1e-6);
    });
    assert!(sound > 40, "{sound}");
}

#[test]
fn a_second_opinion_on_arcs() {
    use cavalier_contours::polyline::{PlineSource, PlineSourceMut, Polyline};
    for_all(100, |draws| {
        let only_arcs: Vec<Node> = nodes(draws)
            .into_iter()
            .map(|n| {
                let edge = match n.edge {
                    EdgeShape::Rise(rise) => EdgeShape::Rise(rise),
                    _ => EdgeShape::Straight,
                };
                Node { edge, ..n }
            })
            .collect();
        let Some(part) = built(only_arcs) else { return };
        let mut polyline = Polyline::new_closed();
        for segment in part.outline.path().segments() {
            let bulge = match segment {
                Segment::Arc(arc) => (arc.sweep / 4.0).tan() * arc.p.cross(arc.q).signum(),
                _ => 0.0,
            };
            polyline.add(segment.start().x, segment.start().y, bulge);
        }
        assert!((polyline.area() - part.outline.area()).abs() < 1e-6);
        assert!((polyline.path_length() - part.outline.path().length()).abs() < 1e-6);
    });
}

#[test]
fn wild_numbers_are_answered() {
    for_all(800, |draws| {
        let mut number = || match draws.below(12) {
            0 => [f64::NAN, f64::INFINITY, 1e300, -1e300, 1e-300, 0.0][draws.below(6)],
            1 => draws.between(-20_000.0, 20_000.0),
            2 => draws.between(-1e-3, 1e-3),
            3 => 100.0 * draws.between(-3.0, 3.0).round(),
            _ => draws.between(-300.0, 300.0),
        };
        let mut nodes = Vec::new();
        for i in 0..5 {
            let mut point = || Point::new(number(), number());
            let to = point();
            let points = vec![point(), point()];
            let edge = match i {
                0 => EdgeShape::Batten { points, tension: number().abs() / 100.0 },
                1 => EdgeShape::Rise(number() / 5.0),
                2 => EdgeShape::HalfEllipse(number()),
                3 => EdgeShape::Radius { radius: number().abs() * 3.0, bulges_out: number() > 0.0 },
                _ => EdgeShape::QuarterEllipse { leaves_along_x: number() > 0.0 },
            };
            nodes.push(Node { to, edge, corner_radius: (number() > 0.0).then(|| number().abs() / 10.0) });
        }
        let count = 1 + number().abs().min(400.0) as usize % 5;
        nodes.rotate_left(count % 5);
        let mirror = [None, Some(MirrorLine::X), Some(MirrorLine::Y)][count % 3];
        if let Ok(part) = build(&nodes[..count], mirror) {
            assert!(part.outline.area() > 0.0);
        }
    });
}
