//! From the patterns of both parts back into the world.

use crate::common::draws::Draws;
use crate::common::stock::plain_stock;
use crate::common::words::InWords;
use crate::pieces::random::{example, for_all_pieces, leaning, made, splayed, top};
use fullsize::board::{Fitting, Mortise, Source};
use fullsize::finding::{Place, stops};
use fullsize::geometry::{Path, Point, Point3, Vec3};
use fullsize::joinery::{far_mouth, join, mouth};
use fullsize::model::base::Base;
use fullsize::model::joint::{Axis, Ends, Joint, Kind, Mortise as Depth, Spread, StandsWith};
use fullsize::model::top::Top;
use fullsize::page::Shape;
use fullsize::pattern::{Pattern, draw_board, ends, revision};
use fullsize::piece::{Piece, SolvedBoard};
use fullsize::units::{Length, Notation};

/// What the two parts' patterns may differ by, mm.
const AGREE: f64 = 0.001;

pub fn joint(from: &str, into: &str, thickness: f64, width: f64) -> Joint {
    Joint {
        name: format!("{from} to {into}"),
        place: Place::pointer("/joints/x"),
        stands_with: StandsWith::Joints,
        from: from.to_owned(),
        into: into.to_owned(),
        kind: Kind::Loose,
        mortise: Depth::Blind,
        thickness: Length::from_mm(thickness),
        width: Length::from_mm(width),
        depths: [Length::from_mm(11.0); 2],
        clearance: Length::from_mm(2.0),
        spread: Spread::Even { count: Some(1), spacing: None, margin: None },
        from_face: None,
        axis: Axis::Square,
        ends: Ends::Round,
    }
}

/// A point of a pattern in the world: the surface's axes as the design gives them, worked out here anew.
fn lifted(board: &SolvedBoard, copy: usize, on: Source, p: Point) -> Point3 {
    let own = match on {
        Source::Face => Point3::new(p.x, p.y, 0.0),
        Source::Far => Point3::new(p.x, p.y, -board.board.thickness),
        Source::Cut(i) => board.solid.ends[i].lift(p),
        Source::Edge(i) => {
            let edge = &board.board.edges[i].segments[0];
            let along = (edge.end() - edge.start()).normalize();
            let at = edge.start() + along * p.x;
            Point3::new(at.x, at.y, -p.y)
        }
    };
    board.copies[copy].placement.to_world(own)
}

/// The nodes of a mouth in the world.
fn nodes(board: &SolvedBoard, copy: usize, on: Source, mouth: &Path) -> Vec<Point3> {
    mouth.nodes().into_iter().map(|p| lifted(board, copy, on, p)).collect()
}

/// The farthest that a point of the one lies from all of the other.
fn apart(a: &[Point3], b: &[Point3]) -> f64 {
    let away = |p: &Point3| b.iter().map(|q| q.distance(*p)).fold(f64::MAX, f64::min);
    a.iter().map(away).fold(0.0, f64::max)
}

/// Whether a pattern shows a path.
fn shows(pattern: &Pattern, wanted: &Path) -> bool {
    let nodes = wanted.nodes();
    pattern.items.iter().any(|item| match &item.shape {
        Shape::Stroke { path, .. } => {
            let own = path.nodes();
            own.len() == nodes.len() && nodes.iter().all(|p| own.iter().any(|q| p.distance(*q) < 1e-9))
        }
        _ => false,
    })
}

/// Every tenon of the joint is one box in the world by the patterns of both parts; how many there were.
fn same_box(piece: &Piece, joint: &Joint) -> usize {
    let mut checked = 0;
    let all = |board: &SolvedBoard| -> Vec<(Mortise, usize)> {
        let own = board.mortises.iter().filter(|m| m.joint == joint.name);
        own.flat_map(|m| m.copies.iter().map(move |copy| (m.clone(), *copy))).collect()
    };
    let is_end = |m: &Mortise| matches!(m.on, Some(Source::Cut(_)));
    let board_mouth = |board: &SolvedBoard, m: &Mortise, copy: usize| {
        let path = mouth(&board.board, &board.solid, m).expect("a mouth");
        nodes(board, copy, m.on.expect("a surface"), &path)
    };
    let ways = |board: &SolvedBoard, m: &Mortise, copy: usize| -> (Vec3, Point3) {
        let at = &board.copies[copy].placement;
        let bottom = m.frame.to_world(Point3::new(0.0, 0.0, m.depth));
        (at.direction_to_world(m.frame.w()), at.to_world(bottom))
    };
    for from in piece.boards.iter().filter(|b| b.id.as_str().contains(&joint.from)) {
        for (own, copy) in all(from).into_iter().filter(|(m, _)| is_end(m)) {
            let corners = board_mouth(from, &own, copy);
            let others = piece.boards.iter().filter(|b| !b.id.as_str().contains(&joint.from));
            let others = others.flat_map(|b| all(b).into_iter().map(move |(m, copy)| (b, m, copy)));
            let (other, their, their_copy) = others
                .min_by(|a, b| {
                    let of = |x: &(&SolvedBoard, Mortise, usize)| apart(&corners, &board_mouth(x.0, &x.1, x.2));
                    of(a).total_cmp(&of(b))
                })
                .expect("the other part has a mortise");
            let there = board_mouth(other, &their, their_copy);
            let off = apart(&corners, &there).max(apart(&there, &corners));
            assert!(off < AGREE, "{}: mouths {off} apart", joint.name);
            let ((a, a_end), (b, b_end)) = (ways(from, &own, copy), ways(other, &their, their_copy));
            let turned = if own.fitting == Fitting::Standing { (a - b).length() } else { (a + b).length() };
            assert!(turned < 1e-9, "{}: centre lines turned {turned}", joint.name);
            let room = if own.fitting == Fitting::Standing { 0.0 } else { own.depth } + their.depth;
            if their.fitting == Fitting::Through {
                comes_through(other, &their);
            } else {
                assert!((room - own.tenon[2] - joint.clearance.mm()).abs() < AGREE, "{room} {own:?}");
            }
            if own.fitting != Fitting::Standing {
                assert!((a_end.distance(b_end) - room).abs() < AGREE);
            }
            inside(other, &their);
            if own.fitting != Fitting::Standing {
                inside(from, &own);
            }
            checked += 1;
        }
    }
    checked
}

/// The tenon of a through mortise is as long as its last corner needs to leave the board, and no longer: a hundredth beyond its
/// end no corner is in the wood, and just before it one is.
fn comes_through(board: &SolvedBoard, mortise: &Mortise) {
    let outline = board.board.outline();
    let [thickness, width, length] = mortise.tenon;
    let in_wood = |along: f64| {
        let corners = [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)];
        corners.iter().any(|(x, y)| {
            let p = mortise.frame.to_world(Point3::new(x * width, y * thickness, along));
            let deep = -board.board.thickness < p.z && p.z < 0.0;
            deep && board.board.cuts.iter().all(|cut| cut.plane.distance(p) < 0.0)
                && outline.encloses(Point::new(p.x, p.y))
        })
    };
    // A fixed tenon has no mortise in its own part, so that all of its length counts from the mouth's middle.
    assert!(!in_wood(length + 0.01), "{} {mortise:?}", board.id);
    assert!(in_wood(length - 0.01), "{} {mortise:?}", board.id);
}

/// Points all through a mortise lie in the board, by its outline and planes.
fn inside(board: &SolvedBoard, mortise: &Mortise) {
    let outline = board.board.outline();
    let [thickness, width, _] = mortise.tenon;
    let surface = fullsize::joinery::surface_plane(&board.board, mortise).expect("a flat surface");
    let steps = [-0.5, 0.0, 0.5];
    for x in steps {
        for y in steps {
            let section = Point::new(x * width, y * thickness);
            let top = mortise.carried(section, &surface).expect("it crosses");
            let bottom = mortise.frame.to_world(Point3::new(section.x, section.y, mortise.depth));
            for t in [0.01, 0.5, 0.99] {
                let p = top + (bottom - top) * t;
                let deep = -board.board.thickness - 1e-3 < p.z && p.z < 1e-3;
                let sawn = board.board.cuts.iter().all(|cut| cut.plane.distance(p) < 1e-3);
                let through = mortise.fitting == Fitting::Through;
                assert!(through || deep && sawn && outline.encloses(Point::new(p.x, p.y)), "{} {p:?}", board.id);
            }
        }
    }
}

/// The joints that make sense for a kind of base, each in several ways.
fn tried(names: &[(&str, &str)], draws: &mut Draws) -> Vec<Joint> {
    let mut all = Vec::new();
    for (from, into) in names {
        for way in 0..4 {
            let thickness = draws.between(4.0, 8.0);
            let mut joint = joint(from, into, thickness, draws.between(thickness, 22.0));
            joint.axis = if way % 2 == 0 { Axis::Square } else { Axis::Along };
            joint.depths = [draws.length(5.0, 12.0), draws.length(5.0, 12.0)];
            match way {
                1 => joint.spread = Spread::Even { count: Some(2), spacing: None, margin: None },
                2 => joint.from_face = Some(draws.length(2.0, 6.0)),
                3 => {
                    (joint.kind, joint.ends, joint.depths[0]) = (Kind::Fixed, Ends::Square, Length::ZERO);
                    if draws.chance(0.5) {
                        (joint.mortise, joint.clearance) = (Depth::Through, Length::ZERO);
                    }
                }
                _ => {}
            }
            all.push(joint);
        }
    }
    all
}

fn checked(kind: impl Fn(&mut Draws) -> (Base, Option<Top>), names: &[(&str, &str)]) -> (usize, usize) {
    let (mut done, mut refused) = (0, 0);
    for_all_pieces(25, kind, |piece, draws| {
        for joint in tried(names, draws) {
            let mut piece = piece.clone();
            let joined = join(&mut piece, std::slice::from_ref(&joint), None, &Notation::default());
            let findings = joined.cured(&piece, &Notation::default());
            for finding in &findings {
                assert!(!finding.words().message.is_empty() && !finding.words().remedy.is_empty(), "{finding:?}");
            }
            if stops(&findings) {
                refused += 1;
                continue;
            }
            done += same_box(&piece, &joint);
        }
    });
    (done, refused)
}

#[test]
fn both_parts_patterns_are_one_box_in_the_world() {
    let names = [("apron", "leg"), ("top_rail", "leg"), ("bottom_rail", "leg"), ("stretcher", "bottom_rail")];
    let straight = checked(|draws| (Base::LeaningFrames(Box::new(leaning(draws, false))), Some(top(draws))), &names);
    let curved = checked(|draws| (Base::LeaningFrames(Box::new(leaning(draws, true))), None), &names);
    let names = [("apron", "leg"), ("end_apron", "leg"), ("stretcher", "leg")];
    let legs = checked(|draws| (Base::SplayedLegs(Box::new(splayed(draws))), None), &names);
    println!("joints and refusals: {straight:?} {curved:?} {legs:?}");
    for (done, refused) in [straight, curved, legs] {
        assert!(done > 300 && refused < done, "{done} done, {refused} refused");
    }
}

#[test]
fn patterns_show_the_mouths() {
    let mut piece = made(Base::SplayedLegs(Box::new(splayed(&mut Draws::middle()))));
    let mut through = joint("apron", "leg", 6.0, 20.0);
    (through.kind, through.mortise, through.clearance) = (Kind::Fixed, Depth::Through, Length::ZERO);
    through.depths = [Length::ZERO; 2];
    let before = piece.clone();
    let findings = join(&mut piece, &[joint("apron", "leg", 6.0, 20.0)], None, &Notation::default()).findings;
    assert!(findings.is_empty(), "{findings:?}");
    let (mut on_ends, mut on_faces) = (0, 0);
    for (board, bare) in piece.boards.iter().zip(&before.boards).filter(|(b, _)| !b.mortises.is_empty()) {
        let face = draw_board(board, None, &plain_stock(board), "", "x", &Notation::default());
        let [joined, bare] = [board, bare].map(|board| revision::board(board, None, None));
        assert_ne!(joined, bare, "a mortise makes old patterns void");
        let end_patterns = ends(board, board, &Notation::default());
        for mortise in &board.mortises {
            let wanted = mouth(&board.board, &board.solid, mortise).expect("a mouth");
            match mortise.on {
                Some(Source::Cut(_)) => {
                    assert!(end_patterns.iter().any(|p| shows(p, &wanted)), "an end of the {} lacks it", board.id);
                    on_ends += 1;
                }
                Some(Source::Face | Source::Far) => {
                    assert!(mortise.on == Some(Source::Far) || shows(&face, &wanted));
                    on_faces += 1;
                }
                _ => {}
            }
        }
    }
    assert!(on_ends > 0 || on_faces > 0);
    through.from_face = Some(Length::from_mm(1.0));
    let mut piece = made(Base::LeaningFrames(Box::new(example())));
    let findings = join(&mut piece, &[through], None, &Notation::default()).findings;
    assert!(findings.is_empty(), "{findings:?}");
    let leg = piece.boards.iter().find(|b| b.id.as_str() == "leg").expect("legs");
    let mortise = leg.mortises.first().expect("a through mortise");
    let (on, path) = far_mouth(&leg.board, &leg.solid, mortise).expect("a far mouth");
    assert!(mortise.exit == Some(on) && path.signed_area() > 0.0);
}

/// Every corner of a box is one box in the world by the patterns of both sides, and of any boards that are cut against each
/// other.
#[test]
fn mitred_boxes_and_placed_boards_join_in_one_box() {
    let mut done = 0;
    let kind = |draws: &mut Draws| (Base::SplayedBox(random_box(draws)), None);
    for_all_pieces(30, kind, |mut piece, _| {
        let mut loose = joint("side", "side", 4.0, 14.0);
        loose.depths = [Length::from_mm(6.0); 2];
        loose.spread = Spread::Even { count: Some(2), spacing: None, margin: None };
        if stops(&join(&mut piece, std::slice::from_ref(&loose), None, &Notation::default()).findings) {
            return;
        }
        done += paired(&piece);
    });
    assert!(done > 100, "{done} tenons");
    let text = include_str!("../../fixtures/good/braced_post.json");
    let project = fullsize::project::read("boards.json", text.as_bytes(), None, None).project.expect("a good file");
    let piece = fullsize::piece::solve(project.base.as_ref(), None, &project.notation).expect("boards");
    let mut names: Vec<(String, String)> = Vec::new();
    for board in &piece.boards {
        let ends = board.meets.iter().filter(|meet| matches!(meet.on, Source::Cut(_)));
        names.extend(ends.map(|meet| (board.id.to_string(), meet.board.to_string())));
    }
    assert!(!names.is_empty(), "no board is cut against another");
    for (from, into) in names {
        let mut piece = piece.clone();
        let mut small = joint(&from, &into, 3.0, 6.0);
        small.depths = [Length::from_mm(5.0); 2];
        let findings = join(&mut piece, &[small], None, &Notation::default()).findings;
        assert!(findings.is_empty(), "{from} {into}: {findings:?}");
        assert!(paired(&piece) > 0, "{from} {into}");
    }
}

/// Mitred corners only: butted ones are joined as any end on a face is.
fn random_box(draws: &mut Draws) -> fullsize::model::base::SplayedBox {
    let mut given = crate::pieces::random::boxes(draws);
    given.corner = fullsize::model::base::Corner::Mitred;
    given
}

/// Every mortise of the piece has one partner in the world, whose mouth is the same ring and whose centre line is the other way;
/// how many tenons there are.
fn paired(piece: &Piece) -> usize {
    let all: Vec<(Vec<Point3>, Vec3)> = piece
        .boards
        .iter()
        .flat_map(|board| board.mortises.iter().map(move |m| (board, m)))
        .flat_map(|(board, m)| m.copies.iter().map(move |copy| (board, m, *copy)))
        .map(|(board, m, copy)| {
            let path = mouth(&board.board, &board.solid, m).expect("a mouth");
            inside(board, m);
            let way = board.copies[copy].placement.direction_to_world(m.frame.w());
            (nodes(board, copy, m.on.expect("a surface"), &path), way)
        })
        .collect();
    for (i, (ring, way)) in all.iter().enumerate() {
        let same = |(j, (other, back)): (usize, &(Vec<Point3>, Vec3))| {
            let near = apart(ring, other).max(apart(other, ring)) < AGREE;
            j != i && near && (*way + *back).length() < 1e-9
        };
        assert_eq!(all.iter().enumerate().filter(|one| same(*one)).count(), 1, "a mortise without its partner");
    }
    all.len() / 2
}

/// A tenon through a leg whose outside edge is curved: its mouth there, laid flat and wrapped round the edge again, lies on the
/// four sides of the tenon's box.
#[test]
fn a_mouth_on_a_curved_edge_lies_on_the_box() {
    let mut base = example();
    base.leg.outside_edge = fullsize::model::base::Curve::Rise(Length::from_mm(14.0));
    let mut piece = made(Base::LeaningFrames(Box::new(base)));
    let mut through = joint("bottom_rail", "leg", 10.0, 40.0);
    (through.kind, through.mortise, through.clearance) = (Kind::Fixed, Depth::Through, Length::ZERO);
    (through.axis, through.ends, through.depths) = (Axis::Along, Ends::Square, [Length::ZERO; 2]);
    let findings = join(&mut piece, &[through], None, &Notation::default()).findings;
    assert!(findings.is_empty(), "{findings:?}");
    let leg = piece.boards.iter().find(|b| b.id.as_str() == "leg").expect("legs");
    let mortise = leg.mortises.first().expect("a mortise");
    let (on, path) = far_mouth(&leg.board, &leg.solid, mortise).expect("a far mouth");
    let Source::Edge(index) = on else { panic!("{on:?}") };
    let edge = Path::open(leg.board.edges[index].segments.clone());
    assert!(!leg.board.edges[index].is_straight());
    let [thickness, width, _] = mortise.tenon;
    for node in path.nodes() {
        let at = edge.point_at(edge.place_at_length(node.x).expect("on the edge")).expect("a point");
        let p = mortise.frame.to_board(Point3::new(at.x, at.y, -node.y));
        let off = (p.x.abs() - width / 2.0).abs().min((p.y.abs() - thickness / 2.0).abs());
        assert!(off < AGREE && p.x.abs() < width / 2.0 + AGREE && p.y.abs() < thickness / 2.0 + AGREE, "{p:?}");
    }
    let strips = fullsize::pattern::strips(leg, leg, &Notation::default());
    let shown = strips.iter().any(|strip| {
        strip.items.iter().any(
            |item| matches!(&item.shape, Shape::Stroke { path: own, .. } if own.nodes().len() == path.nodes().len()),
        )
    });
    assert!(shown, "no strip shows it");
}
