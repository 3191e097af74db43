//! What the rules measure on the worked example of the conventions, by its own figures.

use fullsize::job::Job;
use fullsize::joinery::marking;
use fullsize::model::Project;
use fullsize::piece::{Piece, Value};
use fullsize::project::read;

fn checked(text: &str) -> (Piece, Vec<&'static str>) {
    let project: Project = read("table.json", text.as_bytes(), None, None).project.expect("a good file");
    let job = Job::new(project);
    let findings = job.piece_findings();
    let piece = job.needed_piece().unwrap_or_else(|_| panic!("{findings:#?}"));
    (piece.clone(), findings.iter().map(|finding| finding.code).collect())
}

fn fact(piece: &Piece, name: &str) -> f64 {
    match piece.facts.iter().find(|f| f.name.key() == name).map(|f| f.value) {
        Some(Value::Length(length)) => length.mm(),
        Some(Value::Force(newtons)) => newtons,
        other => panic!("{name}: {other:?}"),
    }
}

/// Top 1800 x 900 over frames 1420 x 640, footprint 1622.660 long, aprons 1339.214 between the inside faces at their upper
/// outside arris: the figures of the worked example.
#[test]
fn the_room_at_a_table() {
    let (piece, codes) = checked(include_str!("../../fixtures/good/leaning_table.json"));
    assert!(codes.is_empty(), "{codes:?}");
    let near = |name: &str, wanted: f64| {
        assert!((fact(&piece, name) - wanted).abs() < 0.001, "{name}: {}", fact(&piece, name));
    };
    near("table_height", 745.0);
    near("overhang_ends", 190.0);
    near("overhang_sides", 130.0);
    near("toe_ends", 900.0 - 1622.660 / 2.0);
    // The apron's face leans 12.114 degrees from plumb and is 85 deep, flush with the heads at 721; its lower edge is square to
    // the face, so that its inside arris lies 25 sin 12.114 lower or higher.
    let lean = 12.114_f64.to_radians();
    let lowest = 721.0 - 85.0 * lean.cos() - 25.0 * lean.sin();
    assert!((fact(&piece, "knee_height") - lowest).abs() < 0.01, "{}", fact(&piece, "knee_height"));
}

/// The feet stand 811.330 out at either end; the edge's middle lies 900 out, the load 50 in from it: b is 38.670, a is 811.330.
#[test]
fn the_force_that_lifts_a_foot() {
    let (piece, _) = checked(include_str!("../../fixtures/good/leaning_table.json"));
    let volume: f64 = piece.boards.iter().map(|b| b.solid.volume * b.copies.len() as f64).sum();
    // White oak: 0.68 x 1120 kg a cubic metre.
    let weight = volume / 1e9 * 0.68 * 1120.0 * 9.80665;
    let share = fact(&piece, "tipping_force") / weight;
    assert!((share - 811.330 / 38.670).abs() < 0.01, "{share}");
}

/// Turned legs weigh as frusta, not as their square blanks: pi l (D² + D d + d²) / 12. The feet's rims reach out x = 150 + 415 tan
/// 12 + 12 sqrt(1 + tan² 12), over which the end of a top 1000 long, loaded 50 in, stands out; the tenons fill the top's holes.
#[test]
fn turned_legs_weigh_what_is_left_of_them() {
    let (piece, _) = checked(
        r#"{ "fullsize": 1, "title": "Stool", "units": "mm", "base": { "kind": "splayed_legs", "height": 460, "length_at_top": 300,
        "width_at_top": 200, "splay_front": 12, "splay_side": 8, "leg": { "round": { "diameter": 38, "foot": 24, "tenon": 25,
        "depth": 30 } } }, "top": { "length": 1000, "width": 300, "thickness": 45, "species": "white oak" } }"#,
    );
    let (a, b) = (12.0_f64.to_radians().tan(), 8.0_f64.to_radians().tan());
    let long = 415.0 * (1.0 + a * a + b * b).sqrt();
    let leg = std::f64::consts::PI * long / 12.0 * (38.0 * 38.0 + 38.0 * 24.0 + 24.0 * 24.0);
    let weight = (1000.0 * 300.0 * 45.0 + 4.0 * leg) / 1e9 * 0.68 * 1120.0 * 9.80665;
    let foot = 150.0 + 415.0 * a + 12.0 * a.hypot(1.0);
    let wanted = weight * foot / (500.0 - 50.0 - foot);
    // Rims are looked at in steps: within a thousandth.
    let found = fact(&piece, "tipping_force");
    assert!((found / wanted - 1.0).abs() < 1e-3, "{found} {wanted}");
}

#[test]
fn a_thin_wall_is_told_and_marked() {
    let file = include_str!("../../fixtures/good/leaning_table.json");
    let at = file.rfind('}').expect("an object");
    let joints = "\"joints\": { \"j\": { \"from\": \"top_rail\", \"into\": \"leg\", \"thickness\": 10, \"width\": 40, \"length\": 40, \"from_face\": 4 } }";
    let (piece, codes) = checked(&format!("{}, {joints} }}", &file[..at]));
    assert_eq!(codes, ["thin-wall"]);
    let rail = piece.boards.iter().find(|b| b.id.as_str() == "top_rail").expect("a rail");
    assert_eq!(rail.spots.len(), 2, "one at either end");
}

/// A place given by hand is the one that is listed, also beside a rim that is bevelled level: both are measured along the face
/// side, where the listing says so. Half way through a side 21 thick, sloping 16 degrees, the rim lies 10.5 tan 16 = 3 mm off.
#[test]
fn a_place_given_by_hand_is_the_one_that_is_listed() {
    let at = [60.0, 120.0];
    let text = format!(
        "{{ \"fullsize\": 1, \"title\": \"Crate\", \"units\": \"mm\", \"base\": {{ \"kind\": \"splayed_box\", \"sides\": 4, \
         \"side\": 400, \"slope\": 16, \"depth\": 180, \"thickness\": 21, \"corner\": \"butted\" }}, \"joints\": {{ \"j\": {{ \
         \"from\": \"right_and_left_side\", \"into\": \"front_and_back_side\", \"thickness\": 6, \"width\": 30, \"length\": 17, \"at\": {at:?} }} }} }}"
    );
    let (piece, _) = checked(&text);
    let side = piece.boards.iter().find(|b| b.id.as_str() == "right_and_left_side").expect("a side");
    assert_eq!(side.mortises.len(), 4, "two at either end");
    for (mortise, at) in side.mortises.iter().zip(at.iter().cycle()) {
        let told = marking(side, mortise).expect("lines to mark from");
        assert!((told.station - at).abs() < 1e-4, "{told:?}");
        assert_eq!(told.along("x", side), "x from the upper edge along the outside");
    }
}

/// A rail of 90 lands square on a post 400 high, its lower edge at 150 and its face 10 behind the post's. A tenon 26 down from
/// the upper edge stands at 214: 186 from the head, which is nearer than the foot. Its middle lies 10 + 6 + 8 / 2 down from the face.
#[test]
fn a_mortise_in_a_post_is_marked_from_the_nearer_end_and_the_face_side() {
    let (piece, _) = checked(
        r#"{ "fullsize": 1, "title": "Rail on a post", "units": "mm", "base": { "kind": "boards", "boards": {
        "post": { "thickness": 60, "outline": [ { "to": [0, 0], "name": "foot" }, { "to": [400, 0], "name": "right side" },
            { "to": [400, 80], "name": "head" }, { "to": [0, 80], "name": "left side" } ],
            "at": [0, 0, 0], "along": [0, 0, 1], "face": [0, -1, 0] },
        "rail": { "thickness": 40, "outline": [ { "to": [0, 0], "name": "left end" }, { "to": [300, 0], "name": "lower edge" },
            { "to": [300, 90], "name": "right end" }, { "to": [0, 90], "name": "upper edge" } ],
            "at": [-320, 10, 150], "along": [1, 0, 0], "face": [0, -1, 0], "cuts": [ { "against": "post.edge.left side" } ] } } },
        "joints": { "t": { "from": "rail", "into": "post", "thickness": 8, "width": 30, "length": 40, "from_face": 6, "at": [26] } } }"#,
    );
    let post = piece.boards.iter().find(|b| b.id.as_str() == "post").expect("a post");
    let told = marking(post, &post.mortises[0]).expect("lines to mark from");
    assert!((told.station - 186.0).abs() < 1e-6 && (told.offset - 20.0).abs() < 1e-6, "{told:?}");
    let off = told.off(&|_| "x".to_owned(), post, post.mortises[0].on);
    assert_eq!((told.along("x", post).as_str(), off.as_str()), ("x from the head along the face", "x from the face"));
}

/// Both edges of a leg 90 wide and 700 long are curved: nothing is told from a curve, across more than the leg is wide, or from
/// the farther end.
#[test]
fn a_leg_with_curved_edges_is_marked_from_its_centre_line() {
    let (piece, _) = checked(
        r#"{ "fullsize": 1, "title": "Desk", "units": "mm", "base": { "kind": "leaning_frames", "height": 700,
        "length_at_top": 1180, "width_at_top": 520, "lean": "6 deg", "leg": { "splay": "9 deg", "thickness": 38, "head": 90,
        "foot": 60, "outside_edge": { "rise": 8 }, "inside_edge": { "rise": -6 } }, "top_rail": { "thickness": 26, "depth": 70 },
        "bottom_rail": { "thickness": 26, "depth": 60, "height": 120 }, "apron": { "thickness": 22, "depth": 90, "inset": 6 } },
        "joints": { "top": { "from": "top rail", "into": "leg", "thickness": 10, "width": 40, "length": 50 },
            "low": { "from": "bottom rail", "into": "leg", "thickness": 10, "width": 36, "length": 50 },
            "apron": { "from": "apron", "into": "leg", "thickness": 8, "width": 26, "length": 40, "count": 2 } } }"#,
    );
    let leg = piece.boards.iter().find(|b| b.label == "leg").expect("a leg");
    for mortise in &leg.mortises {
        let told = marking(leg, mortise).expect("lines to mark from");
        let end = if mortise.joint == "low" { "foot" } else { "head" };
        assert_eq!(
            told.along("x", leg).split(" along ").next(),
            Some(format!("x from the {end}").as_str()),
            "{told:?}"
        );
        // The flat for the top rail reaches the head; all else has a curve at either end.
        assert_eq!(told.drawn_on().is_some(), mortise.joint != "top", "{told:?}");
        assert!(told.offset < 45.0 && told.station < 190.0, "{told:?}");
    }
    assert!(leg.mortises.len() >= 4, "{}", leg.mortises.len());
}
