//! What is routed on parts of the piece.

use super::{project, rings, words};
use crate::common::routing::{routed, templates};
use crate::common::solved::piece as solved;
use crate::common::stock::plain_stock;
use crate::common::words::InWords;
use fullsize::finding::Severity;
use fullsize::geometry::Point;
use fullsize::job::Job;
use fullsize::model::Project;
use fullsize::page::{Item, Role, Shape};
use fullsize::pattern::{Pattern, draw_board, template};
use fullsize::project::read;
use fullsize::router::{PieceRouting, TemplateShape, corner_gauges, profiled_edges};

fn routing(project: &Project) -> PieceRouting {
    Job::new(project.clone()).routing().clone()
}

/// The table with one thing written otherwise.
fn changed(from: &str, to: &str) -> Project {
    let text = std::fs::read_to_string(super::fixture("good/routed_table.json")).unwrap();
    assert!(text.contains(from), "{from}");
    let reading = read("project.json", text.replace(from, to).as_bytes(), None, None);
    reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings))
}

/// The leg's outside edge and inside edge both run on past head and foot by 80 mm, so that the template is 160 mm longer along
/// the outside edge than the leg is, which the schedule measures on the solved board; screws stand in the two tongues and where
/// the apron will hide one.
#[test]
fn a_leg_is_trimmed_to_a_template_of_both_its_edges() {
    let project = project("good/routed_table.json");
    let piece = solved(&project);
    let routing = routing(&project);
    assert!(routing.findings.is_empty(), "{:?}", routing.findings);
    let leg = &routing.parts[0].drawn;
    let made = templates(leg);
    let TemplateShape::Blank(blank) = &made[0].shape else { panic!("{:?}", made[0].shape) };
    let board = &piece.boards[routing.parts[0].board];
    let arris = board.solid.arrises.iter().find(|a| board.board.name_of(a.source) == "outside edge").unwrap();
    let outside = blank.followed[0].length() - 160.0;
    // The edge reaches from the face side's corner at one end to the far side's at the other: longer than either arris.
    assert!(outside > arris.face.max(arris.far) && outside < arris.face + 2.0 * 40.0, "{outside} {arris:?}");
    // Turned over: the far side is seen, so that x runs the other way.
    let face = board.solid.face.path().bounding_box().unwrap();
    let seen = blank.outline.bounding_box().unwrap();
    assert!(seen.x0 < -face.x1 && seen.x1 > -face.x0, "{seen:?} {face:?}");
    assert_eq!(blank.screws.iter().filter(|screw| screw.in_tongue()).count(), 2);
    let hidden: Vec<Point> = blank.screws.iter().filter(|s| !s.in_tongue()).map(|s| s.at).collect();
    let apron = board.meets.iter().find(|meet| meet.own_copy == 0 && meet.board.as_str() == "apron").unwrap();
    let landing = apron.contact[0].bounding_box().unwrap();
    assert!(hidden.len() == 1 && landing.contains(Point::new(-hidden[0].x, hidden[0].y)), "{hidden:?} {landing:?}");
    assert!(
        blank.screws.iter().all(|screw| blank.followed.iter().all(|path| path.nearest(screw.at).unwrap().0 >= 20.0))
    );
}

/// A bearing at the shank has the router on the template's side, which is fed with the template on its left; one at the tip has
/// the router beyond the work, which seen from the template is fed the other way.
#[test]
fn the_feed_turns_with_the_end_at_which_the_bearing_sits() {
    let project = project("good/routed_table.json");
    let leg = &routing(&project).parts[0].drawn;
    let made = templates(leg);
    let way = |made: &TemplateShape| {
        let TemplateShape::Blank(blank) = made else { panic!("{made:?}") };
        let arrow = &blank.feeds[0].arrow[0];
        let along = arrow.end().unwrap() - arrow.start().unwrap();
        // The template's own middle lies on the left of a router that stands on its side.
        along.cross(blank.outline.centroid().unwrap() - arrow.start().unwrap()) > 0.0
    };
    assert!(!way(&made[0].shape), "tip");
    assert!(way(&made[1].shape), "shank");
    let drawn: Vec<Pattern> = made.iter().map(|m| template(leg, m, "", "x", &project.notation)).collect();
    let says = |pattern: &Pattern, what: &str| words(&pattern.items).iter().any(|said| said.contains(what));
    assert!(says(&drawn[0], "away from the router") && says(&drawn[1], "between router and work"));
    assert!(says(&drawn[0], "lies on the far side") && !says(&drawn[1], "lies on the far side"));
    assert!(says(&drawn[0], "cut 42 mm deep; stand out 54 mm"), "{:?}", words(&drawn[0].items));
}

/// Chamfered 4 mm on the face along the outside edge only: the dashed line lies 4 mm from that edge at both its ends and no
/// nearer to the inside edge than that is.
#[test]
fn a_profile_along_one_edge_leaves_its_line_there() {
    let project = project("good/routed_table.json");
    let piece = solved(&project);
    let part = &routing(&project).parts[0];
    let edges = profiled_edges(&part.drawn);
    assert_eq!(edges.len(), 1);
    assert_eq!((edges[0].name.as_deref(), edges[0].eats_in, edges[0].on_face), (Some("outside edge"), 4.0, 4.0));
    assert_eq!(edges[0].edge_from_to, (6.0, 40.0));
    let board = draw_board(
        &piece.boards[part.board],
        Some((&part.drawn, &routed(&part.drawn).on_part)),
        &plain_stock(&piece.boards[part.board]),
        "",
        "x",
        &project.notation,
    );
    let dashed = board.items.iter().filter_map(|item| match &item.shape {
        Shape::Stroke { path, pen } if pen.dash == [3.0, 1.5] => Some(path),
        _ => None,
    });
    let lines: Vec<_> = dashed.collect();
    assert_eq!(lines.len(), 1);
    for share in [0.0, 0.3, 0.7, 1.0] {
        let place = lines[0].place_at_length(lines[0].length() * share).unwrap();
        let off = edges[0].edge.nearest(lines[0].point_at(place).unwrap()).unwrap().0;
        assert!((off - 4.0).abs() < 0.01, "{share}: {off}");
    }
    // It ends on the leg's own edge.
    let face = piece.boards[part.board].solid.face.path();
    for end in [lines[0].start(), lines[0].end()] {
        assert!(face.nearest(end.unwrap()).unwrap().0 < 0.01);
    }
}

/// An underbevel 40 wide leaves its line 40 mm in on the far side all round, and the number stands among the top's measures.
#[test]
fn a_tops_profile_is_drawn_and_measured() {
    let project = project("good/routed_table.json");
    let piece = solved(&project);
    let routing = routing(&project);
    let top = &routing.parts[1];
    assert_eq!(top.drawn.name, "top");
    let edges = profiled_edges(&top.drawn);
    assert_eq!((edges[0].eats_in, edges[0].on_face, edges[0].on_far_side), (40.0, 0.0, 40.0));
    assert_eq!(edges[0].edge_from_to, (0.0, 12.0));
    let fact = top.profile_fact().unwrap();
    assert_eq!(
        (fact.name.key(), fact.value),
        ("profile_eats_in", fullsize::piece::Value::Length(fullsize::units::Length::from_mm(40.0)))
    );
    let board = draw_board(
        &piece.boards[top.board],
        Some((&top.drawn, &routed(&top.drawn).on_part)),
        &plain_stock(&piece.boards[top.board]),
        "",
        "x",
        &project.notation,
    );
    assert!(words(&board.items).iter().any(|said| said == "profile, on the far side"));
    let ring = &rings(&board.items, Role::Outline)[0];
    let dashed: Vec<&Item> = board
        .items
        .iter()
        .filter(|i| matches!(&i.shape, Shape::Stroke { pen, .. } if pen.dash == [3.0, 1.5]))
        .collect();
    for path in dashed.iter().filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => Some(path),
        _ => None,
    }) {
        for node in path.nodes() {
            assert!((ring.nearest(node).unwrap().0 - 40.0).abs() < 0.01, "{node:?}");
        }
    }
    assert!(!dashed.is_empty());
}

/// The head is bevelled by the lean, 8°: a square cutter leaves 40 mm times its tangent.
#[test]
fn a_bevelled_edge_is_told_with_what_is_left_on_it() {
    let project =
        changed("\"edge\": \"outside edge\", \"cutter\": \"shank\"", "\"edge\": \"head\", \"cutter\": \"shank\"");
    let found = routing(&project).findings;
    let [told] = found.as_slice() else { panic!("{found:#?}") };
    assert_eq!((told.code, told.severity), ("bevelled-edge", Severity::Warn));
    assert_eq!(told.place.pointer, "/routing/leg/template/1/edge");
    let measured = |name: &str| told.number(name);
    assert!((measured("bevel") - 8.0).abs() < 1e-9, "{told:?}");
    assert!((measured("left") - 40.0 * 8.0_f64.to_radians().tan()).abs() < 1e-9);
}

/// What is wrong names the field, and what the cure says does.
#[test]
fn parts_and_edges_that_are_not_there() {
    let found = |from: &str, to: &str| {
        let project = changed(from, to);
        let found = routing(&project).findings;
        let [told] = found.as_slice() else { panic!("{found:#?}") };
        (told.code, told.place.pointer.clone(), told.words().remedy.clone())
    };
    let part = found("\"routing\": {\n    \"leg\"", "\"routing\": {\n    \"legs\"");
    assert_eq!(part, ("unknown-part", "/routing/legs".into(), "did you mean \"leg\"?".into()));
    let edge = found("\"edge\": \"front edge\"", "\"edge\": \"front\"");
    assert_eq!((edge.0, edge.1.as_str()), ("unknown-edge", "/routing/top/template/edge"));
    assert!(edge.2.starts_with("its edges are front edge, corner, right edge"), "{}", edge.2);
    let profile = found("\"edge_profiles\": { \"outside edge\"", "\"edge_profiles\": { \"outside edges\"");
    assert_eq!(profile.1, "/routing/leg/edge_profiles/outside edges");
    assert_eq!(profile.2, "did you mean \"outside edge\"?");
}

/// A cutter of 45 mm does for a leg of 40; one of 41 does not, and is told the length that would: the leg and 2 mm past it. It
/// must stand out by that and the template of 12 mm: 54.
#[test]
fn a_cutter_too_short_is_told_the_length_that_does() {
    let told = |from: &str, to: &str| {
        let project = changed(from, to);
        let leg = routing(&project).parts.remove(0).drawn;
        routed(&leg).findings
    };
    assert!(told("\"length\": 45, \"reach\": 60", "\"length\": 42, \"reach\": 54").is_empty());
    let short = told("\"length\": 45, \"reach\": 60", "\"length\": 41, \"reach\": 53");
    let codes: Vec<_> = short.iter().map(|f| (f.code, f.place.pointer.as_str())).collect();
    let place = "/routing/leg/template/0/cutter";
    assert_eq!(codes, [("cutter-too-short", place), ("cutter-does-not-reach", place)]);
    assert!(
        short[0].words().remedy.starts_with("take a cutter whose \"length\" is 42 mm or more"),
        "{}",
        short[0].words().remedy
    );
    assert!(
        short[1].words().remedy.starts_with("take a cutter whose \"reach\" is 54 mm or more"),
        "{}",
        short[1].words().remedy
    );
}

/// The top's long edge is an arc of 15 mm over 1800: radius 1800² / (8 · 15) + 15 / 2. The legs' heads reach out to x 710 and
/// y 320 under it, 430 mm from its middle line to its edge; an underbevel that reaches in farther than from the arc to there
/// runs under them, one that does not is silent.
#[test]
fn a_profile_that_runs_under_a_joint_is_told() {
    let radius = 1800.0 * 1800.0 / (8.0 * 15.0) + 7.5;
    let away = radius - 710.0_f64.hypot(radius - 110.0);
    let told = |across: f64| {
        let project = changed("\"underbevel\": [40, 12]", &format!("\"underbevel\": [{across}, 12]"));
        let found = Job::new(project).piece_findings().to_vec();
        found.into_iter().filter(|f| f.code.starts_with("profile-")).collect::<Vec<_>>()
    };
    assert!(told(away - 0.1).is_empty());
    let found = told(away + 5.0);
    let [leg] = found.as_slice() else { panic!("{found:#?}") };
    assert_eq!((leg.code, leg.place.pointer.as_str()), ("profile-under-joint", "/top/edge_profile"));
    let measured = |name: &str| leg.number(name);
    assert!((measured("distance") - away).abs() < 1e-3, "{leg:?}, {away}");
    assert!((measured("takes") - away - 5.0).abs() < 1e-9);
    assert!(leg.words().remedy.contains("move the joint in by 5 mm"), "{}", leg.words().remedy);
}

/// A mortise for the bottom rail's tenon, 20 mm wide in the leg's inside edge and in the middle of its 40 mm: a chamfer 15 deep
/// meets it from 10 mm on, one of 9 does not.
#[test]
fn a_profile_that_runs_into_a_mortise_is_told() {
    let told = |down: u32| {
        let project = changed(
            "\"edge_profiles\": { \"outside edge\": { \"chamfer\": [4, 6] } }",
            &format!("\"edge_profiles\": {{ \"inside edge\": {{ \"chamfer\": [5, {down}] }} }}"),
        );
        let mut project = project;
        let joints = r#"{ "fullsize": 1, "title": "x", "units": "mm", "base": { "kind": "splayed_box", "sides": 4, "side": 300,
            "slope": 15, "depth": 150, "thickness": 18 }, "joints": { "rail": { "from": "bottom_rail", "into": "leg",
            "thickness": 20, "width": 40, "length": 30 } } }"#;
        project.joints = read("joints.json", joints.as_bytes(), None, None).project.unwrap().joints;
        let job = Job::new(project);
        assert!(!job.stops(), "{:?}", job.findings().collect::<Vec<_>>());
        job.piece_findings().iter().filter(|f| f.code == "profile-in-mortise").cloned().collect::<Vec<_>>()
    };
    assert!(told(9).is_empty(), "{:?}", told(9));
    let found = told(15);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(found[0].place.pointer, "/routing/leg/edge_profiles/inside edge");
}

/// The corners of a top and of a placed board are rounded by the radius of the file; the board's two corners of one side alone.
#[test]
fn the_rounded_corners_of_parts_have_gauges_and_ticks() {
    let text = r#"{ "fullsize": 1, "title": "Bench", "units": "mm", "base": { "kind": "boards", "boards": { "seat": {
        "thickness": 30, "outline": [{ "to": [0, 0], "corner_radius": 25 }, { "to": [900, 0], "corner_radius": 25 },
        { "to": [900, 300] }, { "to": [0, 300] }], "at": [0, 0, 30], "along": [1, 0, 0], "face": [0, 0, 1] } } },
        "routing": { "seat": { "gauges": true }, "top": { "gauges": true } },
        "top": { "length": 1000, "width": 500, "thickness": 20, "corner_radius": 60, "long_edges": { "rise": 10 } } }"#;
    let reading = read("bench.json", text.as_bytes(), None, None);
    let project = reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings));
    let piece = solved(&project);
    let routing = routing(&project);
    let made: Vec<_> = routing.parts.iter().flat_map(|part| corner_gauges(&part.drawn)).collect();
    let found: Vec<(f64, usize)> = made.iter().map(|g| ((g.radius.mm() * 1e6).round() / 1e6, g.count)).collect();
    assert_eq!(found, [(25.0, 2), (60.0, 4)]);
    // A bowed edge of chord c and rise h meets the short edge at 90° and the slope of its end, 2 atan(2h / c).
    let bowed = made[1].corner.degrees() - 90.0;
    assert!(bowed > 0.0 && bowed < (2.0 * (2.0 * 10.0 / 1000.0_f64).atan()).to_degrees(), "{bowed}");
    for part in &routing.parts {
        let board = &piece.boards[part.board];
        let ticks = |routed| {
            let pattern = draw_board(board, routed, &plain_stock(board), "", "Bench", &project.notation);
            let short = |item: &&Item| matches!(&item.shape, Shape::Stroke { path, .. } if (path.length() - 2.5).abs() < 1e-9);
            pattern.items.iter().filter(short).count()
        };
        let corners = part.drawn.built.tangents.len();
        assert_eq!((ticks(Some((&part.drawn, &routed(&part.drawn).on_part))), ticks(None)), (corners, corners));
    }
}
