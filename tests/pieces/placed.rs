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
