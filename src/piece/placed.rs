//! Boards placed one by one.

use super::PieceProblem;
use super::assemble::{Landing, Single, Work};
use super::limits::{Named, base};
use super::surface::plane_of;
use crate::board::{Against, Board, Cut, Edge, EdgeName, PartRole, Role, Source};
use crate::finding::{Finding, Ratio};
use crate::geometry::{Built, Path, Placement, Plane, Point, Point3, Segment};
use crate::model::placed::{PlacedBoard, PlacedCut, Surface};
use crate::model::problem::{Direction, Problem};
use crate::tolerance::{NO_LEAN, SAME_POINT, UNSEEN};
use crate::units::{Length, Notation};
use std::borrow::Cow;

/// A board in the world before its cuts.
struct Uncut<'a> {
    given: &'a PlacedBoard,
    board: Board,
    placement: Placement,
    pointer: String,
}

/// Solves the boards; what goes wrong is left in the findings.
pub(super) fn solve(boards: &[PlacedBoard], work: &mut Work) {
    let uncut: Vec<Option<Uncut>> = boards
        .iter()
        .map(|b| {
            let made = uncut(b, work);
            work.made(made, "boards")
        })
        .collect();
    let Some(uncut) = uncut.into_iter().collect::<Option<Vec<Uncut>>>() else { return };
    let mut landings = Vec::new();
    let mut indices = Vec::new();
    for one in &uncut {
        let Some((board, against)) = cut(one, &uncut, work) else { continue };
        let pointer = one.pointer.clone();
        let index = work.add(Single {
            role: PartRole::Board,
            given: Some(one.given.id.clone()),
            which: Vec::new(),
            board,
            placement: one.placement,
            make: one.given.make,
            pointer,
            facts: Vec::new(),
            turned: None,
        });
        indices.push(index);
        landings.extend(against.into_iter().map(|(cut, other, on)| (index, cut, other, on)));
    }
    if indices.len() < uncut.len() {
        return;
    }
    for (index, cut, other, on) in landings {
        if let (Some(index), Some(to)) = (index, indices[other]) {
            work.land(Landing { from: (index, cut), to, on });
        }
    }
    let taken: Vec<(usize, &Uncut)> =
        indices.into_iter().zip(&uncut).filter_map(|(i, one)| Some((i?, one))).collect();
    contacts(&taken, work).into_iter().for_each(|landing| work.land(landing));
}

/// Where a cut by a plane, or a level one, comes to lie on a flat surface of another board: a contact as much as one that is asked
/// for. Two cuts that lie on each other are told once.
fn contacts(boards: &[(usize, &Uncut)], work: &Work) -> Vec<Landing> {
    let mut found = Vec::new();
    for (index, one) in boards {
        for (cut, given) in one.given.cuts.iter().enumerate() {
            if matches!(given, PlacedCut::Against { .. }) {
                continue;
            }
            for (to, _) in boards.iter().filter(|(to, _)| to != index) {
                let other = &work.single(*to).board;
                let edges = (0..other.edges.len()).map(Source::Edge);
                let cuts = (0..other.cuts.len()).filter(|_| index < to).map(Source::Cut);
                let surfaces = [Source::Face, Source::Far].into_iter().chain(edges).chain(cuts);
                let landings = surfaces.map(|on| Landing { from: (*index, cut), to: *to, on });
                found.extend(landings.filter(|landing| lies_on(landing, work) && work.share_landed(landing) > 0.0));
            }
        }
    }
    found
}

/// Whether the end that a cut leaves lies in the plane of a surface, facing it.
fn lies_on(landing: &Landing, work: &Work) -> bool {
    let ((from, cut), to) = (landing.from, landing.to);
    let (own, other) = (work.single(from), work.single(to));
    let (Some(plane), Some(end)) = (plane_of(&other.board, landing.on), work.solid(from).ends.get(cut)) else {
        return false;
    };
    let Some(leaving) = plane_of(&own.board, Source::Cut(cut)) else { return false };
    let seen = |direction| other.placement.direction_to_board(own.placement.direction_to_world(direction));
    let corners = end.corners();
    let near = |at: Point3| plane.distance(other.placement.to_board(own.placement.to_world(at))).abs() < UNSEEN;
    !corners.is_empty()
        && seen(leaving.normal()).dot(plane.normal()) < 0.0
        && corners.iter().all(|(at, ..)| near(*at))
}

/// A board before its cuts.
fn uncut<'a>(given: &'a PlacedBoard, work: &mut Work) -> Option<Uncut<'a>> {
    let place = base("boards").child(&given.id);
    let thickness = place.child("thickness").pointer;
    if !work.above_zero(&[Named { field: &thickness, words: "the thickness", value: given.thickness }]) {
        return None;
    }
    // Within half a degree of each other the two directions hardly tell how the board is turned.
    let (along, face) = (given.along.unit()?, given.face.unit()?);
    let sine = along.cross(face).length();
    // A board runs exactly as it is told to run, and faces as nearly as square to that allows.
    let placement = Placement::facing(given.at, along, face - along * face.dot(along))
        .filter(|_| sine > 0.5_f64.to_radians().sin());
    let Some(placement) = placement else {
        let problem = PieceProblem::FaceAlongBoard { sine: Ratio(sine) };
        return work.stop(Finding::of(problem, place.child("face")));
    };
    let board = Board {
        thickness: given.thickness.mm(),
        edges: edges(&given.outline, &given.edge_names, work.notation),
        cuts: Vec::new(),
        keep: given.keep.map(|p| placement.to_board(p)),
        sides: ["face", "far side"],
    };
    Some(Uncut { given, board, placement, pointer: place.pointer })
}

/// The outline's pieces, each straight one named by the corner at which its edge arrives, each curved edge by its name in the file,
/// and what rounds a corner.
fn edges(built: &Built, names: &[Option<String>], notation: &Notation) -> Vec<Edge> {
    let corners = &built.corners;
    let before = |i: usize| corners[(i + corners.len() - 1) % corners.len()];
    let on = |i: &usize, piece: &Segment| {
        let line = Segment::line(before(*i), corners[*i]);
        let around = line.bounding_box().inflate(SAME_POINT, SAME_POINT);
        [piece.start(), piece.end()].iter().all(|p| around.contains(*p) && line.nearest(*p).0 < SAME_POINT)
    };
    let at = |p: Point, tangent: &Point| p.distance(*tangent) < SAME_POINT;
    let rounds = |piece: &Segment| {
        let mut pairs = built.tangents.chunks_exact(2);
        pairs.any(|pair| pair.iter().all(|tangent| at(piece.start(), tangent) || at(piece.end(), tangent)))
    };
    let name = |piece: &Segment| {
        if matches!(piece, Segment::Arc(_)) && rounds(piece) {
            return Some(EdgeName::Corner);
        }
        if !matches!(piece, Segment::Line(_)) {
            let drawn = built.edges.iter().zip(&built.paths);
            let own = drawn.into_iter().find(|(_, path)| Path::open(vec![*piece]).runs_along(path, SAME_POINT));
            return own.and_then(|(edge, _)| names.get(edge.node)?.clone()).map(EdgeName::Given);
        }
        let found = (0..corners.len()).find(|i| on(i, piece));
        found
            .and_then(|i| names.get(i).map(|name| edge_name(name.as_ref(), i + 1, [before(i), corners[i]], notation)))
    };
    let mut edges: Vec<Edge> = Vec::new();
    for piece in built.outline.path().segments() {
        let name = name(piece).unwrap_or(EdgeName::Edge);
        let curved = !matches!(piece, Segment::Line(_)) && matches!(name, EdgeName::Given(_));
        // A curve of several pieces is one edge.
        match edges.last_mut().filter(|last| curved && last.name == name) {
            Some(last) => last.segments.push(*piece),
            None => edges.push(Edge::new(name, vec![*piece])),
        }
    }
    edges
}

/// What an edge is called: by the name that the file gives it; one that has only its number also by the corners between which it
/// runs, which a maker finds sooner.
fn edge_name(given: Option<&String>, corner: usize, [from, to]: [Point; 2], notation: &Notation) -> EdgeName {
    let at = |p: Point| [p.x, p.y].map(|mm| notation.bare_length(Length::from_mm(mm))).join(", ");
    match given {
        Some(name) => EdgeName::Given(name.clone()),
        None => EdgeName::Numbered { corner, between: format!("from {} to {}", at(from), at(to)) },
    }
}

/// A cut of a board that lands on another: the cut, the other board, and its surface.
type Lies = (usize, usize, Source);

/// The board with its cuts, and on which others they land.
fn cut(one: &Uncut, all: &[Uncut], work: &mut Work) -> Option<(Board, Vec<Lies>)> {
    let mut board = one.board.clone();
    let middle = board.outline().centroid().unwrap_or_default();
    let keep = board.keep.unwrap_or(Point3::new(middle.x, middle.y, -board.thickness / 2.0));
    let mut landings = Vec::new();
    let mut whole = true;
    for (k, given) in one.given.cuts.iter().enumerate() {
        let pointer = format!("{}/cuts/{k}", one.pointer);
        let Some((world, against)) = plane(given, all, &pointer, work) else {
            whole = false;
            continue;
        };
        let plane = one.placement.plane_to_board(&world);
        let (n, from) = (plane.normal(), plane.distance(keep));
        let wrong = if n.x.hypot(n.y) < NO_LEAN {
            Some(PieceProblem::CutAlongFace {})
        } else if from.abs() < SAME_POINT {
            Some(PieceProblem::CutThroughMiddle {})
        } else {
            None
        };
        if let Some(problem) = wrong {
            work.findings.push(Finding::of(problem, crate::finding::Place::pointer(pointer)));
            whole = false;
            continue;
        }
        let plane = plane.keeping(keep);
        // A cut at any other height stands against nothing.
        let on_floor = matches!(given, PlacedCut::Level(z) if z.mm() == 0.0).then_some(Against::Floor);
        let (place, role) = place_of(&plane);
        landings.extend(against.map(|(other, source)| (board.cuts.len(), other, source)));
        board.cuts.push(Cut { place, against: on_floor, role, plane, nominal: None });
    }
    whole.then_some((board, landings))
}

/// The plane of a cut in the world, and the surface against which it lies.
fn plane(
    given: &PlacedCut,
    all: &[Uncut],
    pointer: &str,
    work: &mut Work,
) -> Option<(Plane, Option<(usize, Source)>)> {
    let place = crate::finding::Place::pointer(pointer);
    match given {
        PlacedCut::Level(z) => Some((Plane::level(z.mm()), None)),
        PlacedCut::Plane { through, normal } => match Plane::through(*through, *normal) {
            Some(plane) => Some((plane, None)),
            None => {
                let problem = Problem::NoDirection { of: Direction::Normal };
                work.stop(Finding::of(problem, place.child("plane/normal")))
            }
        },
        PlacedCut::Against { board, surface } => {
            let index = all.iter().position(|other| &other.given.id == board);
            let source = |other: &Uncut| match surface {
                Surface::Face => Some(Source::Face),
                Surface::Far => Some(Source::Far),
                // By its whole name before all others, so that the short name of one edge may be the whole name of another.
                Surface::Edge(name) => {
                    let is = |called: fn(&EdgeName) -> Cow<'_, str>| {
                        other.board.edges.iter().position(|edge| called(&edge.name) == name.as_str())
                    };
                    is(EdgeName::words).or_else(|| is(EdgeName::key)).map(Source::Edge)
                }
            };
            let found = index.and_then(|i| source(&all[i]).map(|s| (i, s)));
            let Some((index, source)) = found else {
                return work.stop(Finding::of(PieceProblem::AgainstNothing {}, place.child("against")));
            };
            let other = &all[index];
            match plane_of(&other.board, source) {
                Some(plane) => Some((other.placement.plane_to_world(&plane), Some((index, source)))),
                None => work.stop(Finding::of(PieceProblem::AgainstCurve {}, place.child("against"))),
            }
        }
    }
}

/// What a cut makes, by the way it looks, and its role.
fn place_of(plane: &Plane) -> (EdgeName, Role) {
    let n = plane.normal();
    match (n.x.abs() >= n.y.abs(), n.x > 0.0, n.y > 0.0) {
        (true, true, _) => (EdgeName::RightEnd, Role::End),
        (true, false, _) => (EdgeName::LeftEnd, Role::End),
        (false, _, true) => (EdgeName::UpperEdge, Role::Edge),
        (false, _, false) => (EdgeName::LowerEdge, Role::Edge),
    }
}

#[cfg(test)]
mod tests {
    use crate::geometry::{EdgeShape, Node, Point, Point3, Vec3, build};
    use crate::model::base::Base;
    use crate::model::placed::{PlacedBoard, PlacedCut, Surface};
    use crate::piece::solve;
    use crate::units::{Length, Notation};

    fn rectangle(length: f64, width: f64) -> Vec<Node> {
        let corner = |x: f64, y: f64| Node { to: Point::new(x, y), edge: EdgeShape::Straight, corner_radius: None };
        vec![corner(0.0, 0.0), corner(length, 0.0), corner(length, width), corner(0.0, width)]
    }

    fn board(id: &str, length: f64, at: Point3, along: Vec3, face: Vec3) -> PlacedBoard {
        PlacedBoard {
            id: id.into(),
            thickness: Length::from_mm(20.0),
            outline: build(&rectangle(length, 100.0), None).expect("a rectangle"),
            edge_names: ["left", "lower", "right", "upper"].map(|name| Some(name.to_owned())).to_vec(),
            at,
            along,
            face,
            make: 1,
            cuts: Vec::new(),
            keep: None,
        }
    }

    #[test]
    fn a_brace_cut_against_a_post_and_the_floor() {
        let post = board("post", 800.0, Point3::ORIGIN, Vec3::Z, -Vec3::Y);
        let slant = 30_f64.to_radians();
        let along = Vec3::new(slant.cos(), 0.0, slant.sin());
        let mut brace = board("brace", 900.0, Point3::new(-850.0, 0.0, -60.0), along, -Vec3::Y);
        brace.cuts = vec![
            PlacedCut::Level(Length::ZERO),
            PlacedCut::Against { board: "post".into(), surface: Surface::Edge("upper".into()) },
        ];
        let base = Base::Boards(vec![post, brace]);
        let piece = solve(Some(&base), None, &Notation::default()).unwrap_or_else(|f| panic!("{f:#?}"));
        let brace = piece.boards.iter().find(|b| b.id.as_str() == "brace").expect("it is made");
        let settings: Vec<(f64, f64)> = brace.cuts.iter().map(|c| (c.mitre().degrees(), c.bevel.degrees())).collect();
        // A board that slopes 30° meets the level at 60° from square and the plumb edge at 30°, both with a square blade.
        assert!((settings[0].0 - 60.0).abs() < 1e-9 && settings[0].1.abs() < 1e-9, "{settings:?}");
        assert!((settings[1].0 - 30.0).abs() < 1e-9 && settings[1].1.abs() < 1e-9, "{settings:?}");
        assert_eq!(brace.meets.len(), 1);
    }

    #[test]
    fn cuts_that_decide_nothing_are_told() {
        let mut one = board("one", 800.0, Point3::ORIGIN, Vec3::X, Vec3::Z);
        one.cuts = vec![
            PlacedCut::Level(Length::from_mm(-10.0)),
            PlacedCut::Plane { through: Point3::new(400.0, 0.0, 0.0), normal: Vec3::X },
            PlacedCut::Against { board: "two".into(), surface: Surface::Face },
        ];
        let base = Base::Boards(vec![one]);
        let findings = solve(Some(&base), None, &Notation::default()).expect_err("three faults");
        let told: Vec<(&str, &str)> = findings.iter().map(|f| (f.code, f.place.pointer.as_str())).collect();
        assert_eq!(
            told,
            [
                ("cut-along-face", "/base/boards/one/cuts/0"),
                ("cut-through-middle", "/base/boards/one/cuts/1"),
                ("against-nothing", "/base/boards/one/cuts/2/against"),
            ]
        );
    }
}
