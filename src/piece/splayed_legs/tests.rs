//! Legs splayed both ways against the closed forms of the trade.

use crate::model::base::{
    Apron, Base, Layout, LowerEdge, Section, Slope, Span, SplayedLegs, SquareLeg, Stretchers, Taper,
};
use crate::piece::{Piece, SolvedBoard, Value, solve, solve_to_cure};
use crate::units::{Angle, Length, Notation};

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn apron(inset: f64) -> Apron {
    Apron {
        thickness: mm(20.0),
        depth: mm(90.0),
        drop: Length::ZERO,
        inset: mm(inset),
        lower_edge: LowerEdge::Square,
        slope: Slope::Chord,
    }
}

fn given(a: f64, b: f64) -> SplayedLegs {
    SplayedLegs {
        height: mm(430.0),
        length: Span::AtTop(mm(500.0)),
        width: Span::AtTop(mm(360.0)),
        overhang: None,
        splay_front: Angle::from_degrees(a),
        splay_side: Angle::from_degrees(b),
        leg: SquareLeg { section: Section::Square { width: mm(42.0), thickness: mm(38.0) }, taper: None },
        apron: Some(apron(4.0)),
        end_apron: Some(apron(6.0)),
        stretchers: None,
    }
}

fn solved(legs: SplayedLegs) -> Piece {
    let base = Base::SplayedLegs(Box::new(legs));
    solve(Some(&base), None, &Notation::default()).unwrap_or_else(|f| panic!("{f:#?}"))
}

fn board<'a>(piece: &'a Piece, id: &str) -> &'a SolvedBoard {
    let ids: Vec<&str> = piece.boards.iter().map(|b| b.id.as_str()).collect();
    piece.boards.iter().find(|b| b.id.as_str() == id).unwrap_or_else(|| panic!("no {id} among {ids:?}"))
}

fn angle(board: &SolvedBoard, name: &str) -> f64 {
    match board.facts.iter().find(|f| f.name.key() == name).map(|f| f.value) {
        Some(Value::Angle(angle)) => angle.degrees(),
        other => panic!("{name}: {other:?}"),
    }
}

fn length(board: &SolvedBoard, name: &str) -> f64 {
    match board.facts.iter().find(|f| f.name.key() == name).map(|f| f.value) {
        Some(Value::Length(length)) => length.mm(),
        other => panic!("{name}: {other:?}"),
    }
}

#[test]
fn resultant_and_sightline_agree_with_the_table() {
    // 2.leg.table, derived by closed form and by numerical inversion: a, b, resultant, direction from the front view's plane,
    // true length per unit height, section out of square.
    let rows = [
        (5.0, 5.0, 7.05, 45.0, 1.00763, 0.44),
        (10.0, 5.0, 11.14, 26.39, 1.01919, 0.87),
        (10.0, 10.0, 14.0, 45.0, 1.03062, 1.73),
        (15.0, 10.0, 17.78, 33.35, 1.05018, 2.58),
        (12.0, 8.0, 14.3, 33.47, 1.03196, 1.66),
    ];
    for (a, b, resultant, direction, factor, off_square) in rows {
        let piece = solved(given(a, b));
        let leg = board(&piece, "leg");
        assert_eq!((leg.count, leg.handed.map(|h| (h.as_drawn, h.mirrored))), (4, Some((2, 2))));
        assert!((angle(leg, "resultant") - resultant).abs() < 0.00501);
        assert!((angle(leg, "sightline") - direction).abs() < 0.00501);
        assert!((length(leg, "arris") / 430.0 - factor).abs() < 5.01e-6);
        // Measured in the solid: the placed leg's axis, from plumb.
        let tilt = leg.copies[0].placement.u().z.acos().to_degrees();
        assert!((tilt - resultant).abs() < 0.00501);
        // A leg of true section is out of square with the end apron by asin(sin a sin b): the bevel of its ends.
        let end = &board(&piece, "end_apron").cuts[0];
        assert!((end.bevel.degrees() - off_square).abs() < 0.00501, "{}", end.bevel.degrees());
        assert!(board(&piece, "apron").cuts[0].bevel.degrees().abs() < 1e-9);
    }
}

#[test]
fn an_end_apron_that_would_stand_proud_is_refused_with_the_inset_that_just_fits() {
    let mut legs = given(20.0, 20.0);
    legs.end_apron = Some(apron(4.0));
    let base = Base::SplayedLegs(Box::new(legs));
    let refused = solve_to_cure(Some(&base), None, &Notation::default()).expect_err("it stands proud");
    let findings = refused.cured(Some(&base), None, &Notation::default());
    let found = findings.iter().find(|f| f.code == "end-apron-proud").expect("it is told");
    assert_eq!(found.place.pointer, "/base/end_apron/inset");
    let measured = |name: &str| found.measure(name).unwrap_or_default();
    // 38 sin² 20°
    let lost = 38.0 * 20_f64.to_radians().sin().powi(2);
    assert!((measured("lost") - lost).abs() < 1e-9);
    // What is offered is the next tenth above it.
    assert!(measured("fits") >= lost && measured("fits") < lost + 0.11, "{found:?}");
}

#[test]
fn tapered_legs_and_both_layouts_of_stretchers_are_made() {
    for layout in [Layout::Box, Layout::H] {
        let mut legs = given(8.0, 6.0);
        legs.leg.taper = Some(Taper { from: mm(120.0), foot_width: mm(26.0), foot_thickness: mm(24.0) });
        legs.stretchers =
            Some(Stretchers { layout, thickness: mm(16.0), depth: mm(22.0), height: mm(120.0), inset: None });
        let piece = solved(legs);
        assert!(piece.findings.is_empty(), "{:#?}", piece.findings);
        let counts: Vec<(&str, u32)> = piece.boards.iter().map(|b| (b.id.as_str(), b.count)).collect();
        let stretchers = if layout == Layout::Box { 2 } else { 1 };
        assert!(counts.contains(&("stretcher", stretchers)) && counts.contains(&("end_stretcher", 2)), "{counts:?}");
        let leg = board(&piece, "leg");
        let meets = if layout == Layout::Box { 16 } else { 12 };
        assert_eq!(leg.meets.len(), meets);
    }
}

#[test]
fn a_taper_that_begins_within_a_joint_is_refused() {
    let mut legs = given(8.0, 6.0);
    legs.leg.taper = Some(Taper { from: mm(80.0), foot_width: mm(26.0), foot_thickness: mm(24.0) });
    let base = Base::SplayedLegs(Box::new(legs));
    let findings = solve(Some(&base), None, &Notation::default()).expect_err("the apron is deeper");
    assert_eq!(findings.last().map(|f| f.code), Some("taper-in-joint"), "{findings:#?}");
}
