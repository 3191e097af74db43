//! Boards placed one by one: how they are turned, and what of them lies under a top.

use fullsize::geometry::Vec3;
use fullsize::piece::{Piece, solve};
use fullsize::units::Notation;

/// A plank 30 thick and 300 wide that leans 10 degrees (176.327 in 1000), cut level at the floor and at `head`.
fn plank(side: f64, head: f64) -> String {
    let (x, y) = (side * 581.12, side * 150.0);
    let outline = "[{ \"to\": [0, 0] }, { \"to\": [520, 0] }, { \"to\": [520, 300] }, { \"to\": [0, 300] }]";
    format!(
        "{{ \"thickness\": 30, \"outline\": {outline}, \"at\": [{x}, {y}, -40], \"along\": [{}, 0, 1000], \"face\": [{side}, 0, 0], \
         \"cuts\": [{{ \"level\": 0 }}, {{ \"level\": {head} }}] }}",
        -176.327 * side
    )
}

fn bench(left: f64, right: f64) -> Piece {
    let text = format!(
        "{{ \"fullsize\": 1, \"title\": \"Bench\", \"units\": \"mm\", \"base\": {{ \"kind\": \"boards\", \"boards\": {{ \"left\": {}, \
         \"right\": {} }} }}, \"top\": {{ \"length\": 1200, \"width\": 330, \"thickness\": 32 }} }}",
        plank(-1.0, left),
        plank(1.0, right)
    );
    let project = fullsize::project::read("bench.json", text.as_bytes(), None, None).project.expect("a good file");
    solve(project.base.as_ref(), project.top.as_ref(), &Notation::default()).expect("a bench")
}

/// A board runs as it is told to run; the way it faces is only as near to what is given as square to that allows.
#[test]
fn a_board_runs_along_and_faces_square_to_it() {
    let piece = bench(420.0, 420.0);
    let at = piece.boards[0].copies[0].placement;
    let along = Vec3::new(176.327, 0.0, 1000.0).unit().expect("a direction");
    assert!((at.u() - along).length() < 1e-12, "{:?}", at.u());
    assert!((at.w() - Vec3::new(-along.z, 0.0, along.x)).length() < 1e-12, "{:?}", at.w());
    // So its ends, which are level, carry the lean as a bevel.
    for cut in &piece.boards[0].cuts {
        assert!(
            (cut.bevel.abs().degrees() - 10.0).abs() < 1e-4 && cut.mitre().degrees() < 1e-9,
            "{}",
            cut.bevel.degrees()
        );
    }
}

/// The top lies on the highest board; what is cut level there carries it, what is cut lower does not.
#[test]
fn boards_cut_level_under_the_top_carry_it() {
    let carried = |left: f64, right: f64| {
        let piece = bench(left, right);
        let top = piece.boards.iter().find(|board| board.id.as_str() == "top").expect("a top");
        let mut names: Vec<(String, f64)> = Vec::new();
        for meet in &top.meets {
            let area: f64 = meet.contact.iter().map(|ring| ring.signed_area().abs()).sum();
            names.push((meet.board.to_string(), area));
        }
        names
    };
    let both = carried(420.0, 420.0);
    assert_eq!(both.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>(), ["left", "right"]);
    // 30 thick at 10 degrees: 30 / cos 10 wide on the level.
    for (name, area) in both {
        let level = 300.0 * 30.0 / 10_f64.to_radians().cos();
        assert!((area - level).abs() < 0.01, "{name}: {area} {level}");
    }
    let one = carried(419.0, 420.0);
    assert_eq!(one.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>(), ["right"]);
}

/// A rail 40 thick and 90 deep that a plane cuts off where the post's side lies: it meets the post, as if it were cut against it.
#[test]
fn a_cut_by_a_plane_that_lies_on_a_part_is_a_contact() {
    let file = |x: f64, joint: bool| {
        let mut file = serde_json::json!({
            "fullsize": 1, "title": "Rail on a post", "units": "mm",
            "base": { "kind": "boards", "boards": {
                "post": { "thickness": 60, "at": [0, 0, 0], "along": [0, 0, 1], "face": [0, -1, 0], "outline": [
                    { "to": [0, 0], "name": "foot" }, { "to": [400, 0], "name": "right side" },
                    { "to": [400, 80], "name": "head" }, { "to": [0, 80], "name": "left side" } ] },
                "rail": { "thickness": 40, "at": [-320, 10, 150], "along": [1, 0, 0], "face": [0, -1, 0], "outline": [
                    { "to": [0, 0] }, { "to": [300, 0] }, { "to": [300, 90] }, { "to": [0, 90] } ],
                    "cuts": [{ "plane": { "through": [x, 0, 0], "normal": [1, 0, 0] } }] }
            } }
        });
        if joint {
            file["joints"] = serde_json::json!({ "t": { "from": "rail", "into": "post", "thickness": 8, "width": 30, "length": 40 } });
        }
        let read = fullsize::project::read("rail.json", file.to_string().as_bytes(), None, None);
        fullsize::job::Job::new(read.project.expect("a good file"))
    };
    let met = |job: &fullsize::job::Job| -> f64 {
        let piece = job.needed_piece().expect("a piece");
        let post = piece.boards.iter().find(|board| board.id.as_str() == "post").expect("a post");
        post.meets.iter().flat_map(|meet| &meet.contact).map(|ring| ring.signed_area().abs()).sum()
    };
    assert!((met(&file(-80.0, false)) - 40.0 * 90.0).abs() < 1e-6);
    assert_eq!(met(&file(-80.1, false)), 0.0, "a tenth of a millimetre off, it stands apart");
    let job = file(-80.0, true);
    let mortises = job.needed_piece().expect("a piece").boards.iter().map(|board| board.mortises.len());
    assert_eq!(mortises.collect::<Vec<_>>(), [1, 1]);
}

/// A stretcher along a piece is drawn as it stands in it: its upper edge up.
#[test]
fn stretchers_along_a_piece_are_drawn_the_right_way_up() {
    let files = [
        include_str!("../../templates-demo/reading_table.json").to_owned(),
        include_str!("../../templates-demo/saddle_stool.json").to_owned(),
    ];
    let stool = |layout: &str| {
        let apron = serde_json::json!({ "thickness": 20, "depth": 60, "inset": 4 });
        let file = serde_json::json!({
            "fullsize": 1, "title": "Stool", "units": "mm",
            "base": {
                "kind": "splayed_legs", "height": 450, "length_at_top": 360, "width_at_top": 300, "splay_front": 8,
                "splay_side": 6, "leg": { "width": 40, "thickness": 40 }, "apron": apron, "end_apron": apron,
                "stretchers": { "layout": layout, "thickness": 18, "depth": 30, "height": 140 }
            }
        });
        file.to_string()
    };
    let mut seen = 0;
    for file in files.into_iter().chain([stool("box"), stool("h")]) {
        let project =
            fullsize::project::read("piece.json", file.as_bytes(), None, None).project.expect("a good file");
        let piece = crate::common::solved::piece(&project);
        let ends = [fullsize::board::PartRole::Stretcher, fullsize::board::PartRole::EndStretcher];
        for board in ends.into_iter().flat_map(|role| piece.of_role(role)) {
            let v = board.copies[0].placement.v();
            assert!(v.z > 0.5, "{} of {}: {v:?}", board.id, project.title);
            seen += 1;
        }
    }
    assert!(seen > 5, "{seen}");
}

/// A curved edge is called what the file calls it, be it of one piece or, as a batten is, of several; nothing is cut against it, and
/// that is what is told.
#[test]
fn a_curved_edge_keeps_the_name_that_the_file_gives_it() {
    let solved = |edge: &str, cuts: &str| {
        let corners = format!(
            "[{{ \"to\": [0, 0], \"name\": \"end\" }}, {{ \"to\": [800, 0], \"name\": \"belly\", \"edge\": {edge} }}, \
             {{ \"to\": [800, 90], \"name\": \"tip\" }}, {{ \"to\": [0, 90], \"name\": \"back\" }}]"
        );
        let brace = "[{ \"to\": [0, 0] }, { \"to\": [520, 0] }, { \"to\": [520, 60] }, { \"to\": [0, 60] }]";
        let text = format!(
            "{{ \"fullsize\": 1, \"title\": \"Post\", \"units\": \"mm\", \"base\": {{ \"kind\": \"boards\", \"boards\": {{ \
             \"post\": {{ \"thickness\": 30, \"outline\": {corners}, \"at\": [0, 0, 0], \"along\": [0, 0, 1], \"face\": [0, -1, 0] }}, \
             \"brace\": {{ \"thickness\": 20, \"outline\": {brace}, \"at\": [200, 0, 300], \"along\": [1, 0, 0], \"face\": [0, -1, 0], \
             \"cuts\": {cuts} }} }} }} }}"
        );
        let project = fullsize::project::read("post.json", text.as_bytes(), None, None).project.expect("a good file");
        solve(project.base.as_ref(), None, &Notation::default())
    };
    for edge in ["{ \"rise\": 12 }", "{ \"batten\": [[200, -8], [500, -14]] }"] {
        let piece = solved(edge, "[]").unwrap_or_else(|told| panic!("{told:#?}"));
        let post = piece.boards.iter().find(|board| board.id.as_str() == "post").expect("a post");
        let names: Vec<String> = post.board.edges.iter().map(|edge| edge.name.words().into_owned()).collect();
        assert_eq!(names, ["end", "belly", "tip", "back"], "{edge}");
        let told = solved(edge, "[{ \"against\": \"post.edge.belly\" }]").expect_err("a curve");
        assert!(told.iter().any(|finding| finding.code == "against-curve"), "{told:#?}");
    }
}
