use super::{Found, Prism, Screens, Sight, Splits, Stroke, add_lines, look, once, told};
use crate::geometry::{Path, Placement, Plane, Point, Point3, Vec2, Vec3};
use crate::tolerance::BELOW_A_RULE;
use crate::view::View;
use proptest::collection::vec;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::f64::consts::TAU;

/// A flat board with so many corners about its middle, some of them drawn in, so that edges run in all directions.
fn board(index: usize, corners: usize, hollow: f64, size: f64, thickness: f64, placement: Placement) -> Prism {
    let corner = |i: usize| {
        let radius = if i % 2 == 1 { size * hollow } else { size };
        Point::ORIGIN + Vec2::from_angle(TAU * (i as f64 + 0.5) / corners as f64) * radius
    };
    let outline = Path::polyline(&(0..corners).map(corner).collect::<Vec<Point>>(), true);
    let planes = vec![Plane::level(0.0), Plane::level(-thickness).flipped()];
    Prism::between_planes(index, 0, outline, planes, thickness, placement).expect("an outline")
}

/// What is seen where every line is cut by all others and each part is asked of all boards, none passed over.
fn asked_of_all(prisms: &[Prism], view: &View) -> Sight {
    let mut lines = Vec::new();
    add_lines(prisms, 0, view, &mut lines);
    let (splits, screens) = (Splits::of(&lines, prisms.len()), Screens::of(prisms, view));
    let mut sight = Sight::default();
    for (place, line) in lines.iter().enumerate() {
        let (mut found, mut parts) = (Found::default(), Vec::new());
        prisms.iter().enumerate().for_each(|prism| splits.by(place, prism, view, &mut found));
        told(line, &mut found.places, &mut parts, |t| screens.hide(line.at(t, view), view));
        for (from, to, hidden) in parts {
            let stroke = Stroke { line: line.seen.subsegment(from, to), board: line.line.prism, copy: 0 };
            if hidden { &mut sight.hidden } else { &mut sight.visible }.push(stroke);
        }
    }
    let (visible, hidden) = once(sight.visible, sight.hidden);
    Sight { visible, hidden, ..Sight::default() }
}

/// The first place of some strokes that lies on none of the others.
fn missing(strokes: &[Stroke], others: &[Stroke]) -> Option<Point> {
    let long = strokes.iter().filter(|stroke| stroke.line.length() > 0.01);
    let places = long.flat_map(|stroke| [0.1, 0.5, 0.8].map(|t| stroke.line.eval(t)));
    let on = |p: &Point| others.iter().any(|other| other.line.nearest(*p).0 < 2.0 * BELOW_A_RULE);
    places.into_iter().find(|p| !on(p))
}

/// Lines that lie on seen ones are passed over, what one board hides is asked of no other, and a board is asked only about its own
/// lines: what is drawn is the same as where everything is asked of everything. Half of the boards stand on a grid, flush and one behind
/// the other as in furniture.
#[test]
fn what_is_passed_over_is_drawn_alike() {
    let one = (3_usize..9, 0.4_f64..1.0, 1_usize..5, vec(0_usize..6, 3), vec(-1.0_f64..1.0, 6));
    let config = Config { cases: 120, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let outcome = runner.run(&vec(one, 2..12), |boards| {
        let prisms = boards.into_iter().enumerate().filter_map(|(index, (corners, hollow, size, at, turn))| {
            let level = index % 2 == 0;
            let at = Point3::new(at[0] as f64 * 20.0, at[1] as f64 * 20.0, at[2] as f64 * 30.0);
            let [along, face] = match level {
                true => [Vec3::X, [Vec3::Z, Vec3::Y][index / 2 % 2]],
                false => [Vec3::new(turn[0], turn[1], turn[2]), Vec3::new(turn[3], turn[4], turn[5])],
            };
            let size = 20.0 * size as f64;
            Some(board(index, corners, hollow, size, 10.0, Placement::facing(at, along, face)?))
        });
        let prisms: Vec<Prism> = prisms.collect();
        for view in [View::FRONT, View::RIGHT, View::ABOVE, View::isometric()] {
            let (usual, all) = (look(&prisms, &[], &view, None), asked_of_all(&prisms, &view));
            for (some, others, what) in [
                (&usual.visible, &all.visible, "is drawn as seen"),
                (&all.visible, &usual.visible, "is seen and not drawn"),
                (&usual.hidden, &all.hidden, "is drawn as hidden"),
                (&all.hidden, &usual.hidden, "is hidden and not drawn"),
            ] {
                assert_eq!(missing(some, others), None, "{what}: {view:?} {prisms:?}");
            }
        }
        Ok(())
    });
    outcome.unwrap_or_else(|failure| panic!("{failure}"));
}
