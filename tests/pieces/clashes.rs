//! Boards that run into each other are told, straight or curved; boards that touch are not.

use super::random::{deg, example, leaning, mm};
use crate::common::draws::for_all;
use crate::common::words::InWords;
use fullsize::finding::{Finding, Severity};
use fullsize::model::base::{Base, Curve, LeaningFrames};
use fullsize::piece::solve;
use fullsize::units::Notation;

/// How far the two boards of a file run into each other by the findings; `None` where they are not said to.
fn told(one: &str, other: &str) -> Option<f64> {
    clash(one, other)?.measure("depth")
}

/// The finding that the two boards of a file run into each other.
fn clash(one: &str, other: &str) -> Option<Finding> {
    let text = format!(
        r#"{{ "fullsize": 1, "title": "Two", "units": "mm",
            "base": {{ "kind": "boards", "boards": {{ "one": {one}, "other": {other} }} }} }}"#
    );
    let project = fullsize::project::read("two.json", text.as_bytes(), None, None);
    let project = project.project.unwrap_or_else(|| panic!("{:#?}", project.findings));
    let piece = solve(project.base.as_ref(), None, &project.notation).unwrap_or_else(|f| panic!("{f:#?}"));
    let clash = piece.findings.into_iter().find(|f| f.code == "boards-clash")?;
    assert_eq!(clash.severity, Severity::Warn);
    Some(clash)
}

/// A board on the floor plan: its face up at z = 20, 20 thick, its outline moved to (x, y).
fn flat(outline: &str, x: f64, y: f64) -> String {
    format!(
        r#"{{ "thickness": 20, "outline": {outline}, "at": [{x}, {y}, 20], "along": [1, 0, 0], "face": [0, 0, 1] }}"#
    )
}

const SQUARE: &str = r#"[{ "to": [0, 0] }, { "to": [100, 0] }, { "to": [100, 100] }, { "to": [0, 100] }]"#;

/// A square whose right side bulges by 20, or is hollow by as much.
fn bent(rise: f64) -> String {
    format!(
        r#"[{{ "to": [0, 0] }}, {{ "to": [100, 0] }}, {{ "to": [100, 100], "edge": {{ "rise": {rise} }} }}, {{ "to": [0, 100] }}]"#
    )
}

#[test]
fn a_full_edge_that_runs_into_its_neighbour_is_told_and_one_that_touches_is_not() {
    // The bulge reaches x = 120.
    assert_eq!(told(&flat(&bent(20.0), 0.0, 0.0), &flat(SQUARE, 120.0, 0.0)), None);
    let depth = told(&flat(&bent(20.0), 0.0, 0.0), &flat(SQUARE, 112.0, 0.0)).expect("8 mm of it run in");
    assert!((depth - 8.0).abs() < 0.2, "{depth}");
}

/// They share 95 to 100 by 0 to 100 by 0 to 20 of the floor plan.
#[test]
fn a_clash_names_both_boards_how_deep_it_is_and_where() {
    let clash = clash(&flat(SQUARE, 0.0, 0.0), &flat(SQUARE, 95.0, 0.0)).expect("5 mm run in");
    assert_eq!(clash.words().message, "one and other run into each other by 5 mm, about x 97.5 mm, y 50 mm, z 10 mm");
}

#[test]
fn a_board_that_lies_in_a_hollow_is_not_told_and_one_that_is_too_large_for_it_is() {
    let hollow = flat(&bent(-20.0), 0.0, 0.0);
    // At 30 from its middle a hollow of radius 72.5 (100² / (8 x 20) + 10) is 20 - (72.5 - sqrt(72.5² - 30²)) = 13.5 deep.
    let strip = r#"[{ "to": [0, 20] }, { "to": [100, 20] }, { "to": [100, 80] }, { "to": [0, 80] }]"#;
    assert_eq!(told(&hollow, &flat(strip, 87.0, 0.0)), None);
    assert!(told(&hollow, &flat(strip, 84.0, 0.0)).is_some());
}

#[test]
fn a_disc_inside_a_ring_of_inner_corners_is_not_told_until_it_touches_a_side() {
    let u = r#"[{ "to": [0, 0] }, { "to": [300, 0] }, { "to": [300, 200] }, { "to": [250, 200] }, { "to": [250, 50] },
        { "to": [50, 50] }, { "to": [50, 200] }, { "to": [0, 200] }]"#;
    let disc = r#"{ "circle": 190 }"#;
    assert_eq!(told(&flat(u, 0.0, 0.0), &flat(disc, 150.0, 146.0)), None);
    let depth = told(&flat(u, 0.0, 0.0), &flat(disc, 150.0, 135.0)).expect("its foot runs into the bottom of the U");
    assert!((depth - 10.0).abs() < 0.3, "{depth}");
}

#[test]
fn two_boards_whose_mating_curves_are_one_touch() {
    let full = flat(&bent(20.0), 0.0, 0.0);
    let hollow = r#"[{ "to": [100, 0] }, { "to": [200, 0] }, { "to": [200, 100] }, { "to": [100, 100] },
        { "to": [100, 0], "edge": { "rise": -20 } }]"#;
    let hollow = hollow.replacen("{ \"to\": [100, 0] }, ", "", 1);
    assert_eq!(told(&full, &flat(&hollow, 0.0, 0.0)), None);
    assert!(told(&full, &flat(&hollow, -3.0, 0.0)).is_some());
}

fn refused(frames: LeaningFrames) -> Vec<Finding> {
    solve(Some(&Base::LeaningFrames(Box::new(frames))), None, &Notation::default()).err().unwrap_or_default()
}

#[test]
fn a_bowed_bottom_rail_that_runs_into_the_top_rail_is_refused() {
    let mut frames = example();
    frames.stretcher = None;
    frames.bottom_rail.iter_mut().for_each(|r| {
        r.height = mm(500.0);
        r.upper_edge = Curve::Rise(mm(40.0));
    });
    assert!(refused(frames.clone()).is_empty(), "the rails stand 76 mm apart");
    frames.bottom_rail.iter_mut().for_each(|r| r.upper_edge = Curve::Rise(mm(120.0)));
    assert!(refused(frames).iter().any(|f| f.code == "boards-clash"));
}

#[test]
fn no_joint_of_a_curved_base_is_called_a_clash() {
    for_all(150, |draws| {
        let mut frames = leaning(draws, true);
        (frames.lean, frames.frames) = (deg(draws.between(0.0, 20.0)).into(), None);
        let clash = refused(frames).into_iter().find(|f| f.code == "boards-clash");
        assert!(clash.is_none(), "{clash:?}");
    });
}
