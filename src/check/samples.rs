//! A plain rail for the tests of the rules: 400 mm long, sawn square at both ends.

use crate::board::{Board, Cut, Edge, EdgeName, Fitting, Mortise, PartId, PartRole, Role, Source};
use crate::geometry::{Placement, Plane, Point, Point3, Segment, Vec3};
use crate::model::Shop;
use crate::piece::{BoardCopy, SolvedBoard};

/// A rail of a depth and a thickness, mm.
pub fn rail(depth: f64, thickness: f64) -> SolvedBoard {
    let corners = [(-10.0, 0.0), (410.0, 0.0), (410.0, depth), (-10.0, depth)].map(Point::from);
    let names = [EdgeName::LowerEdge, EdgeName::RightEnd, EdgeName::UpperEdge, EdgeName::LeftEnd];
    let edges = (0..4).map(|i| Edge::new(names[i].clone(), vec![Segment::line(corners[i], corners[(i + 1) % 4])]));
    let cut = |place: EdgeName, at: f64, out: f64| Cut {
        place,
        against: None,
        role: Role::End,
        plane: Plane::through(Point3::new(at, 0.0, 0.0), Vec3::X * out).expect("a direction"),
        nominal: None,
    };
    let cuts = vec![cut(EdgeName::LeftEnd, 0.0, -1.0), cut(EdgeName::RightEnd, 400.0, 1.0)];
    solved(Board { thickness, edges: edges.collect(), cuts, keep: None, sides: ["outside", "inside"] })
}

/// A board as a piece has it.
pub fn solved(board: Board) -> SolvedBoard {
    let solid = board.solid().expect("something is left");
    let placement = Placement::facing(Point3::ORIGIN, Vec3::X, -Vec3::Y).expect("directions");
    SolvedBoard {
        id: PartId::new("rail"),
        role: PartRole::Board,
        label: "rail".to_owned(),
        count: 1,
        handed: None,
        cuts: board.saw_cuts(&solid),
        board,
        solid,
        copies: vec![BoardCopy { label: "rail".to_owned(), placement }],
        meets: Vec::new(),
        mortises: Vec::new(),
        spots: Vec::new(),
        facts: Vec::new(),
        turned: None,
        field: None,
        cutouts: Vec::new(),
        pointer: "/base".to_owned(),
        gauge: Shop::USUAL_GAUGE,
        play: Shop::USUAL_PLAY,
        left_long: Vec::new(),
        worked: Vec::new(),
    }
}

/// A mortise in the middle of the rail's right end.
pub fn end_mortise(board: &SolvedBoard, thickness: f64, width: f64, depth: f64) -> Mortise {
    let middle = board.solid.blank.center().y;
    let centre = Point3::new(400.0, middle, -board.board.thickness / 2.0);
    Mortise {
        joint: "joint".to_owned(),
        pointer: "/joints/joint".to_owned(),
        of: 0,
        loose: true,
        number: 1,
        fitting: Fitting::Blind,
        frame: Placement::facing(centre, Vec3::Y, -Vec3::X).expect("directions"),
        tenon: [thickness, width, 2.0 * depth],
        depth,
        round: true,
        on: Some(Source::Cut(1)),
        exit: None,
        copies: vec![0],
    }
}
