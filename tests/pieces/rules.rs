//! What must hold whatever the numbers: symmetry, scale, and square pieces.

use super::random::{boxes, deg, example, for_all_pieces, leaning, mm, splayed, top};
use crate::common::draws::{Draws, for_all};
use crate::common::words::InWords;
use fullsize::board::SawCut;
use fullsize::finding::Finding;
use fullsize::model::base::{Base, Curve, FrameTurn, LeaningFrames, Meets, Section, Span};
use fullsize::piece::{Piece, SolvedBoard, Value, solve, solve_to_cure};
use fullsize::units::{Angle, Length, Notation};

fn made(frames: LeaningFrames) -> Piece {
    let base = Base::LeaningFrames(Box::new(frames));
    solve(Some(&base), None, &Notation::default()).unwrap_or_else(|f| panic!("{f:#?}"))
}

fn refused(frames: LeaningFrames) -> Vec<Finding> {
    let base = Base::LeaningFrames(Box::new(frames));
    let refused = solve_to_cure(Some(&base), None, &Notation::default()).expect_err("it cannot be made");
    refused.cured(Some(&base), None, &Notation::default())
}

fn board<'a>(piece: &'a Piece, id: &str) -> &'a SolvedBoard {
    let ids: Vec<&str> = piece.boards.iter().map(|b| b.id.as_str()).collect();
    piece.boards.iter().find(|b| b.id.as_str() == id).unwrap_or_else(|| panic!("no {id} among {ids:?}"))
}

#[test]
fn without_lean_and_splay_everything_is_square() {
    let mut frames = example();
    (frames.lean, frames.leg.splay, frames.leg.foot) = (Angle::ZERO.into(), Angle::ZERO, frames.leg.head);
    let piece = made(frames);
    for saw in piece.boards.iter().flat_map(|b| &b.cuts).filter(|c| c.long_point.is_some()) {
        let SawCut { bevel, .. } = saw;
        assert!(saw.mitre().degrees().abs() < 1e-9 && bevel.degrees().abs() < 1e-9, "{saw:?}");
        assert!(saw.naive_gap.iter().all(|g| g.open.abs() < 1e-9));
    }
    assert!((board(&piece, "apron").solid.volume - 25.0 * 85.0 * (1420.0 - 80.0)).abs() < 1e-6);
    // Equal to its own mirror image, a square leg is not handed.
    assert_eq!(board(&piece, "leg").handed, None);
}

#[test]
fn a_base_of_twice_the_size_has_the_same_angles_and_eight_times_the_wood() {
    let small = example();
    let twice = |l: Length| l * 2.0;
    let mut large = small.clone();
    large.height = twice(small.height);
    (large.length, large.width) = (Span::AtTop(mm(2840.0)), Span::AtTop(mm(1280.0)));
    let leg = &mut large.leg;
    (leg.thickness, leg.head, leg.foot) = (twice(leg.thickness), twice(leg.head), twice(leg.foot));
    if let Some(rail) = &mut large.top_rail {
        (rail.thickness, rail.depth) = (twice(rail.thickness), twice(rail.depth));
    }
    if let Some(rail) = &mut large.bottom_rail {
        (rail.thickness, rail.depth, rail.height) = (twice(rail.thickness), twice(rail.depth), twice(rail.height));
    }
    if let Some(apron) = &mut large.apron {
        (apron.thickness, apron.depth, apron.inset) =
            (twice(apron.thickness), twice(apron.depth), twice(apron.inset));
    }
    if let Some(s) = &mut large.stretcher {
        (s.thickness, s.depth, s.height) = (twice(s.thickness), twice(s.depth), twice(s.height));
    }
    let (small, large) = (made(small), made(large));
    for (a, b) in small.boards.iter().zip(&large.boards) {
        assert!((b.solid.volume / a.solid.volume - 8.0).abs() < 1e-9, "{}", a.id);
        for (x, y) in a.cuts.iter().zip(&b.cuts) {
            assert!((x.mitre() - y.mitre()).abs().degrees() < 1e-9 && (x.bevel - y.bevel).abs().degrees() < 1e-9);
            let gaps = x.naive_gap.iter().zip(&y.naive_gap);
            assert!(gaps.into_iter().all(|(g, h)| (2.0 * g.open - h.open).abs() < 1e-9));
        }
    }
}

#[test]
fn equal_frames_make_a_piece_that_is_its_own_mirror_image() {
    let kind = |draws: &mut Draws| {
        let curved = draws.chance(0.5);
        let frames = LeaningFrames { frames: None, ..leaning(draws, curved) };
        (Base::LeaningFrames(Box::new(frames)), None)
    };
    for_all_pieces(40, kind, |piece, _| {
        let corners: Vec<[f64; 3]> =
            piece.boards.iter().filter(|b| b.id.as_str() != "stretcher").flat_map(corners).collect();
        for sign in [[-1.0, 1.0, 1.0], [1.0, -1.0, 1.0]] {
            let mirrored = |p: &[f64; 3]| [0, 1, 2].map(|i| p[i] * sign[i]);
            let there = |p: [f64; 3]| corners.iter().any(|q| (0..3).all(|i| (p[i] - q[i]).abs() < 1e-6));
            assert!(corners.iter().all(|p| there(mirrored(p))));
        }
    });
}

/// The corners of all copies of a board in the world.
fn corners(board: &SolvedBoard) -> Vec<[f64; 3]> {
    let faces = [(&board.solid.face, 0.0), (&board.solid.far, -board.board.thickness)];
    let own: Vec<_> = faces
        .iter()
        .flat_map(|(ring, w)| {
            ring.path().nodes().into_iter().map(move |p| fullsize::geometry::Point3::new(p.x, p.y, *w))
        })
        .collect();
    let places = board.copies.iter().flat_map(|c| own.iter().map(|p| c.placement.to_world(*p)).collect::<Vec<_>>());
    places.map(|p| [p.x, p.y, p.z]).collect()
}

#[test]
fn unequal_frames_have_boards_of_their_own_and_tell_the_error_of_the_inset() {
    let mut frames = example();
    let left = FrameTurn { lean: Some(deg(5.0)), twist: Angle::ZERO };
    frames.frames = Some([left, FrameTurn::default()]);
    let piece = made(frames.clone());
    let ids: Vec<(&str, u32)> = piece.boards.iter().map(|b| (b.id.as_str(), b.count)).collect();
    assert!(ids.contains(&("left_leg", 2)) && ids.contains(&("right_leg", 2)), "{ids:?}");
    assert_eq!(board(&piece, "apron").handed.map(|h| (h.as_drawn, h.mirrored)), Some((1, 1)));
    assert!(piece.findings.iter().any(|f| f.code == "apron-inset-off"), "{:?}", piece.findings);
    frames.frames = Some([FrameTurn { lean: None, twist: deg(3.0) }, FrameTurn { lean: None, twist: deg(-3.0) }]);
    let ids: Vec<String> = made(frames).boards.iter().map(|b| b.id.to_string()).collect();
    assert!(ids.contains(&"front_apron".to_owned()) && ids.contains(&"back_apron".to_owned()), "{ids:?}");
}

#[test]
fn an_apron_on_a_curved_leg_follows_the_chord_over_its_own_depth() {
    let mut frames = example();
    frames.leg.outside_edge = Curve::Rise(mm(25.0));
    // Below the head, so that no part of the chord lies on the edge's tangent beyond its corner.
    frames.apron.iter_mut().for_each(|a| a.drop = mm(20.0));
    let piece = made(frames);
    let gap = board(&piece, "apron").facts.iter().find(|f| f.name.key() == "chord_gap").map(|f| f.value);
    let Some(Value::Length(gap)) = gap else { panic!("the gap is told") };
    // Radius of the leg's edge: c²/(8 h) + h/2 with its chord; rise over the apron's chord of about its depth over cos 8°.
    let edge = 745.0 / 8_f64.to_radians().cos() / 12_f64.to_radians().cos();
    let radius = edge.powi(2) / 200.0 + 12.5;
    let chord = 85.0 / 8_f64.to_radians().cos();
    assert!((gap.mm() - chord * chord / (8.0 * radius)).abs() < 0.005, "{gap:?}");
    assert!(piece.findings.iter().any(|f| f.code == "apron-follows-chord"));
}

#[test]
fn bad_numbers_are_findings_that_name_the_field_and_what_would_just_fit() {
    type Change = fn(&mut LeaningFrames);
    let cases: [(Change, &str, &str); 11] = [
        (|f| f.lean = deg(90.0).into(), "too-steep", "/base/lean"),
        (|f| f.leg.thickness = Length::ZERO, "too-small", "/base/leg/thickness"),
        (|f| f.leg.head = mm(330.0), "legs-cross", "/base/leg/head"),
        (|f| f.leg.splay = deg(-25.0), "legs-cross", "/base/width_at_top"),
        (
            |f| f.top_rail.iter_mut().for_each(|r| r.thickness = mm(45.0)),
            "rail-thicker-than-leg",
            "/base/top_rail/thickness",
        ),
        (|f| f.bottom_rail.iter_mut().for_each(|r| r.depth = mm(600.0)), "rails-overlap", "/base/bottom_rail/depth"),
        (|f| f.top_rail.iter_mut().for_each(|r| r.depth = mm(900.0)), "rail-below-floor", "/base/top_rail/depth"),
        (|f| f.apron.iter_mut().for_each(|a| a.depth = mm(800.0)), "apron-deeper-than-leg", "/base/apron/depth"),
        (
            |f| f.stretcher.iter_mut().for_each(|s| s.height = mm(190.0)),
            "stretcher-off-rail",
            "/base/stretcher/height",
        ),
        (|f| f.stretcher.iter_mut().for_each(|s| s.depth = mm(90.0)), "stretcher-off-rail", "/base/stretcher/depth"),
        (|f| f.length = Span::AtTop(mm(70.0)), "frames-meet", "/base/length_at_top"),
    ];
    for (change, code, pointer) in cases {
        let mut frames = example();
        change(&mut frames);
        let findings = refused(frames);
        let found = findings.iter().find(|f| f.code == code).unwrap_or_else(|| panic!("{code}: {findings:#?}"));
        assert_eq!(found.place.pointer, pointer);
        assert!(!found.words().remedy.is_empty() && !found.measures().is_empty(), "{found:?}");
    }
}

#[test]
fn the_height_said_to_land_the_stretcher_lands_it() {
    for height in [190.0, 120.0] {
        let mut frames = example();
        frames.stretcher.iter_mut().for_each(|s| s.height = mm(height));
        let fits = refused(frames.clone())[0].number("fits");
        frames.stretcher.iter_mut().for_each(|s| s.height = mm(fits));
        made(frames);
    }
}

#[test]
fn wild_numbers_are_refused_and_never_panic() {
    let wild = [0.0, -1.0, 1e-9, 1e9, 1e300, f64::MAX, f64::MIN_POSITIVE];
    for_all(300, |draws| {
        let mut frames = leaning(draws, false);
        let pick = |draws: &mut Draws| draws.one_of(&wild);
        match draws.below(8) {
            0 => frames.height = mm(pick(draws)),
            1 => frames.length = Span::AtTop(mm(pick(draws))),
            2 => frames.width = Span::AtFloor(mm(pick(draws))),
            3 => frames.leg.head = mm(pick(draws)),
            4 => frames.lean = deg(pick(draws)).into(),
            5 => frames.leg.outside_edge = Curve::Rise(mm(pick(draws))),
            6 => frames.apron.iter_mut().for_each(|a| a.inset = mm(pick(draws))),
            _ => frames.bottom_rail.iter_mut().for_each(|r| r.set_back = Some(mm(pick(draws)))),
        }
        let base = Base::LeaningFrames(Box::new(frames));
        let _ = solve(Some(&base), None, &Notation::default());
    });
}

#[test]
fn wild_boxes_legs_and_tops_are_refused_and_never_panic() {
    let wild = [0.0, -1.0, 1e-9, 89.9, 90.0, 1e9, 1e300, f64::MIN_POSITIVE];
    for_all(300, |draws| {
        let pick = |draws: &mut Draws| draws.one_of(&wild);
        let (mut legs, mut sides, mut board) = (splayed(draws), boxes(draws), top(draws));
        match draws.below(4) {
            0 => {
                (legs.splay_front, sides.slope, board.length) = (deg(pick(draws)), deg(pick(draws)), mm(pick(draws)))
            }
            1 => {
                let (width, thickness) = (mm(pick(draws)), legs.leg.thickness());
                legs.leg.section = Section::Square { width, thickness };
                (sides.depth, board.width) = (mm(pick(draws)), mm(pick(draws)))
            }
            2 => {
                sides.sides = pick(draws) as u32;
                board.corner_radius = Some(mm(pick(draws)));
                board.long_edges = Curve::Rise(mm(pick(draws)));
            }
            _ => {
                let sprung = (0..3).map(|_| [mm(pick(draws)), mm(pick(draws))]).collect();
                board.short_edges = Curve::Batten(sprung);
                legs.height = mm(pick(draws));
            }
        }
        let notation = Notation::default();
        let _ = solve(Some(&Base::SplayedLegs(Box::new(legs))), Some(&board), &notation);
        let _ = solve(Some(&Base::SplayedBox(sides)), None, &notation);
    });
}

#[test]
fn legs_sprung_from_battens_and_scribed_rails_are_made() {
    let mut frames = example();
    frames.leg.outside_edge = Curve::Batten(vec![[mm(250.0), mm(6.0)], [mm(500.0), mm(9.0)]]);
    frames.leg.inside_edge = Curve::Batten(vec![[mm(300.0), mm(-7.0)]]);
    if let Some(rail) = &mut frames.top_rail {
        (rail.lower_edge, rail.meets) = (Curve::Rise(mm(-12.0)), Meets::Scribed);
    }
    if let Some(rail) = &mut frames.bottom_rail {
        (rail.lower_edge, rail.meets) = (Curve::Rise(mm(-12.0)), Meets::Scribed);
    }
    let piece = made(frames);
    let rail = board(&piece, "bottom_rail");
    // Scribed ends are not sawn along a plane.
    assert!(rail.cuts.iter().all(|c| c.long_point.is_none()), "{:?}", rail.cuts);
    assert!(piece.boards.iter().all(|b| (b.board.mesh().volume() - b.solid.volume).abs() < 1e-4 * b.solid.volume));
}

/// The same object with the fields of every object in it the other way round.
fn reversed(value: &serde_json::Value) -> serde_json::Value {
    match value {
        serde_json::Value::Object(fields) => {
            fields.iter().rev().map(|(name, value)| (name.clone(), reversed(value))).collect()
        }
        other => other.clone(),
    }
}

fn from_text(text: &str) -> Piece {
    let project = fullsize::project::read("piece.json", text.as_bytes(), None, None).project.expect("a good file");
    fullsize::piece::solve(project.base.as_ref(), project.top.as_ref(), &project.notation).expect("a piece")
}

#[test]
fn the_order_of_fields_changes_no_number() {
    let text = include_str!("../../templates-demo/reading_table.json");
    let value: serde_json::Value = serde_json::from_str(text).expect("JSON");
    let (first, second) = (from_text(text), from_text(&reversed(&value).to_string()));
    assert_ne!(text, reversed(&value).to_string());
    assert_eq!(first.boards, second.boards);
}

#[test]
fn swapping_left_and_right_gives_mirror_images() {
    let text = |left: &str, right: &str| {
        include_str!("../../templates-demo/reading_table.json").replace(
            "\"lean\": \"7 deg\",",
            &format!("\"lean\": \"7 deg\", \"frames\": {{ \"left\": {left}, \"right\": {right} }},"),
        )
    };
    let (one, other) = ("{ \"lean\": \"6 deg\", \"twist\": \"1 deg\" }", "{ \"lean\": \"8.5 deg\" }");
    let twisted_back = "{ \"lean\": \"6 deg\", \"twist\": \"-1 deg\" }";
    let (first, second) = (from_text(&text(one, other)), from_text(&text(other, twisted_back)));
    let facts = |piece: &Piece| {
        // A mirror image has the same wood and the same saw settings.
        let board = |b: &SolvedBoard| {
            let mut angles: Vec<f64> = b
                .cuts
                .iter()
                .flat_map(|c| [c.off_axis.mitre.degrees(), c.bevel.degrees()])
                .map(|a| (a * 1e6).round())
                .collect();
            angles.sort_by(f64::total_cmp);
            ((b.solid.volume * 1e-3).round(), angles.iter().sum::<f64>().round())
        };
        let mut all: Vec<(f64, f64)> = piece.boards.iter().map(board).collect();
        all.sort_by(|a, b| a.partial_cmp(b).expect("numbers"));
        all
    };
    assert_eq!(facts(&first), facts(&second));
}

#[test]
fn a_stool_whose_parts_run_into_each_other_or_through_the_floor_is_refused() {
    let text = include_str!("../../templates-demo/saddle_stool.json");
    let codes = |text: String| {
        let project = fullsize::project::read("stool.json", text.as_bytes(), None, None).project.expect("readable");
        let refused = fullsize::piece::solve(project.base.as_ref(), project.top.as_ref(), &project.notation);
        refused.expect_err("no such stool").iter().map(|f| f.code).collect::<Vec<_>>()
    };
    // Stretchers of a box lie in the planes of the aprons: at 19 in they stand within them.
    let high = text
        .replace("\"layout\": \"h\"", "\"layout\": \"box\", \"inset\": \"1/4\"")
        .replace("\"height\": 7 }", "\"height\": 19 }");
    assert!(codes(high).contains(&"boards-clash"));
    let deep = text.replace(
        "\"apron\": { \"thickness\": \"3/4\", \"depth\": 3",
        "\"apron\": { \"thickness\": \"3/4\", \"depth\": 26",
    );
    assert!(codes(deep).contains(&"below-floor"));
}

#[test]
fn a_box_of_a_hundred_sides_is_drawn() {
    let text = r#"{ "fullsize": 1, "title": "Drum", "units": "mm", "base": { "kind": "splayed_box", "sides": 100,
        "side": 40, "slope": "5 deg", "depth": 300, "thickness": 12 } }"#;
    let piece = from_text(text);
    let assembly = fullsize::layout::assembly::assembly(&piece);
    assert!(assembly.points.iter().any(|point| point.name == "CV"), "the hundredth corner");
}

#[test]
fn angles_from_nothing_to_sixty_degrees_make_pieces_where_the_other_numbers_allow() {
    let grid = [0.0, 1.0, 15.0, 30.0, 45.0, 59.0, 60.0];
    for lean in grid {
        for splay in grid {
            let mut frames = example();
            (frames.lean, frames.leg.splay) = (deg(lean).into(), deg(splay));
            // Feet that spread by 60° ask for a low base, and the ends of rails that lean so for slim parts.
            frames.height = mm(420.0);
            frames.bottom_rail.iter_mut().for_each(|r| (r.depth, r.height) = (mm(60.0), mm(110.0)));
            frames.top_rail.iter_mut().for_each(|r| r.depth = mm(40.0));
            frames.apron.iter_mut().for_each(|a| (a.depth, a.thickness, a.inset) = (mm(40.0), mm(15.0), mm(12.0)));
            frames.stretcher = None;
            let piece = made(frames);
            assert_eq!(piece.boards.iter().map(|b| b.count).sum::<u32>(), 4 + 2 + 2 + 2, "{lean} {splay}");
            let text = format!(
                r#"{{ "fullsize": 1, "title": "Stool", "units": "mm", "base": {{ "kind": "splayed_legs", "height": 500,
                "length_at_top": 500, "width_at_top": 500, "splay_front": {lean}, "splay_side": {splay},
                "leg": {{ "width": 40, "thickness": 40 }}, "apron": {{ "thickness": 15, "depth": 50, "inset": 4 }} }} }}"#
            );
            let count = from_text(&text).boards.iter().map(|b| b.count).sum::<u32>();
            assert_eq!(count, 4 + 2, "{lean} {splay}");
        }
        for sides in [3, 4, 5, 6, 12] {
            let text = format!(
                r#"{{ "fullsize": 1, "title": "Box", "units": "mm", "base": {{ "kind": "splayed_box", "sides": {sides},
                "side": 300, "slope": {lean}, "depth": 150, "thickness": 18 }} }}"#
            );
            assert_eq!(from_text(&text).boards.iter().map(|b| b.count).sum::<u32>(), sides);
        }
    }
}
