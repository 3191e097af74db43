//! Intersection, union and difference by what must hold whatever the shapes, and against cavalier_contours.

use cavalier_contours::polyline::{BooleanOp, PlineSource, PlineSourceMut, Polyline};
use fullsize::geometry::{Affine, Arc, Path, Point, Rect, Segment, difference, intersection, union};
use proptest::prelude::{Just, ProptestConfig, Strategy, prop_assert, prop_oneof, proptest};
use proptest::test_runner::RngSeed;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

fn area(rings: &[Path]) -> f64 {
    rings.iter().map(Path::signed_area).sum()
}

/// A mortise with round ends, its middle at the origin.
fn slot(width: f64, thickness: f64) -> Path {
    let (r, s) = (thickness / 2.0, (width - thickness) / 2.0);
    let end = |x: f64, start: f64| Segment::Arc(Arc::circular(Point::new(x, 0.0), r, start, PI));
    let side = |x: f64, y: f64| Segment::line(Point::new(x, y), Point::new(-x, y));
    Path::closed(vec![end(s, -FRAC_PI_2), side(s, r), end(-s, FRAC_PI_2), side(-s, -r)])
}

/// A board 400 by 90 with a bowed upper edge.
fn board() -> Path {
    let (length, width, rise) = (400.0, 90.0, 18.0);
    let corner = |x: f64, y: f64| Point::new(x, y);
    Path::closed(vec![
        Segment::line(corner(0.0, 0.0), corner(length, 0.0)),
        Segment::line(corner(length, 0.0), corner(length, width)),
        Segment::arc_by_rise(corner(length, width), corner(0.0, width), rise),
        Segment::line(corner(0.0, width), corner(0.0, 0.0)),
    ])
}

/// Rings where they lie in the trade: anywhere, flush with an edge, just touching, over a curve, the same twice.
fn pair() -> impl Strategy<Value = (Path, Path)> {
    let placed =
        |path: Path, x: f64, y: f64, turn: f64| path.transformed(Affine::translate((x, y)) * Affine::rotate(turn));
    let sizes = (20.0..40.0f64, 6.0..14.0f64, 60.0..340.0f64, 0.0..100.0f64, 0.0..TAU, 0..9u8);
    let slots = sizes.prop_map(move |(w, t, x, y, turn, kind)| match kind {
        0 => (board(), placed(slot(w, t), x, y, turn)),
        1 => (board(), placed(slot(w, t), x, t / 2.0, 0.0)),
        2 => (board(), placed(slot(w, t), x, w / 2.0, FRAC_PI_2)),
        3 => (board(), placed(slot(w, t), x, 100.0, turn)),
        4 => (placed(slot(w, t), x, 40.0, turn), placed(slot(w + 5.0, t), x + 3.0, 44.0, turn + 1.0)),
        5 => (placed(slot(w, t), x, 40.0, turn), placed(slot(w, t), x, 40.0, turn)),
        6 => (placed(slot(w, t), x, 40.0, turn), placed(slot(w, t), x, 40.0, turn + PI)),
        7 => {
            let slanting = slot(w, t).transformed(Affine::scale_non_uniform(1.0 / (turn / 10.0).cos(), 1.0));
            (board(), placed(slanting, x, 100.0, turn))
        }
        _ => (board(), Path::circle(Point::new(x, y), t)),
    });
    let whole = (0..20i32, 0..20i32, 1..20i32, 1..20i32).prop_map(|(x, y, w, h)| {
        let at = |x: i32, y: i32| Point::new(f64::from(x), f64::from(y));
        (
            Path::rectangle(Rect::new(0.0, 0.0, 20.0, 10.0)),
            Path::rectangle(Rect::from_points(at(x, y), at(x + w, y + h))),
        )
    });
    // A skin that no tool leaves: from flush to ten times what counts as meeting.
    let skin = (0.0..1e-5f64, Just(10.0))
        .prop_map(|(off, depth)| (board(), Path::rectangle(Rect::new(100.0, off, 200.0, off + depth))));
    prop_oneof![6 => slots, 2 => whole, 1 => skin]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, rng_seed: RngSeed::Fixed(1), ..ProptestConfig::default() })]

    #[test]
    fn areas_add_up((a, b) in pair()) {
        let (own, other) = (a.signed_area(), b.signed_area());
        let (a, b) = ([a], [b]);
        let found = [intersection(&a, &b), union(&a, &b), difference(&a, &b), difference(&b, &a)];
        prop_assert!(found.iter().all(Option::is_some), "they are told apart");
        let [both, either, first, second] = found.map(|rings| area(&rings.unwrap_or_default()));
        let off = [both + either - own - other, both + first - own, both + second - other, first + both + second - either];
        // A contact is found to 1e-6 mm, and no edge here is longer than 400 mm.
        prop_assert!(off.iter().all(|off| off.abs() < 4e-4), "{off:?}");
        prop_assert!(both >= 0.0 && first >= -4e-4 && second >= -4e-4 && either >= own.max(other) - 4e-4);
    }

    #[test]
    fn what_is_taken_away_can_be_put_back((a, b) in pair()) {
        let (a, b) = ([a], [b]);
        let rest = difference(&a, &b).unwrap_or_default();
        let both = intersection(&a, &b).unwrap_or_default();
        let again = union(&rest, &both);
        prop_assert!(again.is_some_and(|again| (area(&again) - area(&a)).abs() < 4e-4));
        prop_assert!(intersection(&rest, &b).is_some_and(|none| area(&none).abs() < 4e-4));
    }

    #[test]
    fn lines_and_arcs_against_cavalier_contours((a, b) in pair()) {
        let (Some(first), Some(second)) = (elsewhere(&a), elsewhere(&b)) else { return Ok(()) };
        let by = |operation| {
            let found = first.boolean(&second, operation);
            let sum = |found: &[cavalier_contours::polyline::BooleanResultPline<Polyline<f64>>]| {
                found.iter().map(|p| p.pline.area().abs()).sum::<f64>()
            };
            sum(&found.pos_plines) - sum(&found.neg_plines)
        };
        let (a, b) = ([a], [b]);
        let own = [union(&a, &b), intersection(&a, &b), difference(&a, &b)].map(|rings| area(&rings.unwrap_or_default()));
        let told = [by(BooleanOp::Or), by(BooleanOp::And), by(BooleanOp::Not)];
        for (own, told) in own.iter().zip(told) {
            // It takes what lies within 1e-5 mm as one.
            prop_assert!((own - told).abs() < 0.02, "{own} {told}");
        }
    }
}

/// The ring as a foreign polyline of lines and circular arcs; `None` where it has others.
fn elsewhere(ring: &Path) -> Option<Polyline<f64>> {
    let mut outline: Polyline<f64> = Polyline::new_closed();
    for segment in ring.segments() {
        let bulge = match segment {
            Segment::Arc(arc) => arc.radius(1e-9).map(|_| (arc.sweep / 4.0).tan())?,
            Segment::Line(_) => 0.0,
            Segment::Cubic(_) => return None,
        };
        outline.add(segment.start().x, segment.start().y, bulge);
    }
    Some(outline)
}
