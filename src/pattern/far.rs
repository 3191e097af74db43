//! What of a board shows beyond its face side's edge or lies behind it: the rim of the far side, of what tapers to it, and every
//! arris between cuts, as seen from the face side.
//!
//! Every run of these lines ends where it meets another or the face side's edge, so that each shape is closed.

use super::lines::{EDGE_WIDTH, stroke};
use crate::board::{Board, Cut, EndFace, Solid, Source};
use crate::geometry::{Affine, Path, Point, Point3, Segment};
use crate::page::{Item, Pen, Role};
use crate::tolerance::{SAME_PLACE, UNSEEN};

/// Dash and gap of the far side's edge, mm: ISO 128 type 02.1 (proportions from memory: 12 d and 3 d).
const DASH: [f64; 2] = [3.0, 1.2];

/// A cut whose normal looks away from the face side by more than this, as a cosine, tapers to the far side and is a part of it: no blade
/// leans so far (60 degrees).
const LOOKS_AWAY: f64 = 0.866;

/// Lines that turn by less than this, as a cosine, run on without a corner.
const RUNS_ON: f64 = 0.996;

/// The lines as open paths, each from corner to corner.
pub fn far_lines(board: &Board, solid: &Solid) -> Vec<Path> {
    let mut known = vec![solid.face.path().clone()];
    let mut found = Vec::new();
    let far: Vec<Segment> = solid.far.path().segments().to_vec();
    let cuts = solid.ends.iter().zip(&board.cuts);
    let cuts = cuts.flat_map(|(end, cut)| end.rings.iter().map(move |ring| (end, cut, ring)));
    let cuts = cuts.map(|(end, cut, ring)| {
        let wanted = ring.pieces().filter(|(piece, source)| {
            let ends = [piece.start(), piece.end()].map(|p| end.lift(p));
            *source != Source::Face && (looks_away(cut) || !is_through(board, ends))
        });
        wanted.map(|(piece, _)| piece.transformed(from_above(end))).collect()
    });
    for rim in std::iter::once(far).chain(cuts) {
        let pieces: Vec<Segment> = rim.iter().flat_map(|piece| apart(piece, &known)).collect();
        let lines = from_corner_to_corner(pieces);
        known.extend(lines.iter().cloned());
        found.extend(lines);
    }
    found
}

/// They as they are drawn: dashed so that each begins and ends with a dash.
pub fn drawn(board: &Board, solid: &Solid) -> Vec<Item> {
    let dashed = |line: Path| {
        let dash = fitted(line.length());
        stroke(Role::Mark, line, Pen::dashed(EDGE_WIDTH, &dash))
    };
    far_lines(board, solid).into_iter().map(dashed).collect()
}

/// Whether what a cut leaves is a part of the far side.
fn looks_away(cut: &Cut) -> bool {
    cut.plane.normal().z < -LOOKS_AWAY
}

/// Whether an arris runs from the face side's rim through the board to the far side's: both are drawn and closed without it.
fn is_through(board: &Board, ends: [Point3; 2]) -> bool {
    let is_on_face = |p: &Point3| p.z > -SAME_PLACE;
    let is_on_far = |p: &Point3| {
        let away = board.cuts.iter().filter(|cut| looks_away(cut));
        p.z < SAME_PLACE - board.thickness || away.into_iter().any(|cut| cut.plane.distance(*p).abs() < SAME_PLACE)
    };
    let [a, b] = &ends;
    is_on_face(a) && is_on_far(b) || is_on_face(b) && is_on_far(a)
}

/// From the axes of a cut's surface to the face side's.
fn from_above(end: &EndFace) -> Affine {
    let [o, x, y] = [Point::ORIGIN, Point::new(1.0, 0.0), Point::new(0.0, 1.0)].map(|p| end.lift(p));
    Affine::new([x.x - o.x, x.y - o.y, y.x - o.x, y.y - o.y, o.x, o.y])
}

/// The stretches of a piece that do not run along any of some lines.
fn apart(piece: &Segment, lines: &[Path]) -> Vec<Segment> {
    let mut cuts = vec![0.0, 1.0];
    let nodes = lines.iter().flat_map(Path::nodes);
    cuts.extend(nodes.map(|node| piece.nearest(node)).filter(|(away, _)| *away < UNSEEN).map(|(_, t)| t));
    cuts.sort_by(f64::total_cmp);
    let mut left: Vec<(f64, f64)> = Vec::new();
    for pair in cuts.windows(2) {
        let part = piece.subsegment(pair[0], pair[1]);
        let is_seen = part.length() > UNSEEN;
        if !is_seen || lines.iter().any(|line| Path::open(vec![part]).runs_along(line, UNSEEN)) {
            continue;
        }
        match left.last_mut().filter(|last| piece.subsegment(last.1, pair[0]).length() <= UNSEEN) {
            Some(last) => last.1 = pair[1],
            None => left.push((pair[0], pair[1])),
        }
    }
    left.into_iter().map(|(from, to)| piece.subsegment(from, to)).collect()
}

/// Pieces of a rim in their order as lines, each from one corner to the next.
fn from_corner_to_corner(pieces: Vec<Segment>) -> Vec<Path> {
    let goes_on = |before: &Segment, after: &Segment| {
        let turn = before.tangent(1.0).dot(after.tangent(0.0));
        before.end().distance(after.start()) < UNSEEN && turn > RUNS_ON
    };
    let mut lines: Vec<Vec<Segment>> = Vec::new();
    for piece in pieces {
        match lines.last_mut().filter(|line| line.last().is_some_and(|before| goes_on(before, &piece))) {
            Some(line) => line.push(piece),
            None => lines.push(vec![piece]),
        }
    }
    // The rim begins anywhere: its last line may run on in its first.
    let round = lines.len() > 1
        && lines.last().and_then(|l| l.last()).zip(lines[0].first()).is_some_and(|(a, b)| goes_on(a, b));
    if round && let Some(mut last) = lines.pop() {
        last.append(&mut lines[0]);
        lines[0] = last;
    }
    lines.into_iter().map(Path::open).collect()
}

/// Dash and gap that come out even on a line of a length.
fn fitted(length: f64) -> [f64; 2] {
    let [dash, gap] = DASH;
    let gaps = ((length - dash) / (dash + gap)).round().max(0.0);
    DASH.map(|part| part * length / (gaps * (dash + gap) + dash))
}

#[cfg(test)]
mod tests {
    use super::{DASH, far_lines, fitted};
    use crate::board::{Board, Cut, Edge, EdgeName, Role};
    use crate::geometry::{Path, Plane, Point, Point3, Segment, Vec3};

    /// A plank 200 long, 60 wide and 20 thick with its right end cut by planes through points with normals.
    fn plank(cuts: &[([f64; 3], [f64; 3])]) -> Board {
        let corners = [(0.0, 0.0), (200.0, 0.0), (200.0, 60.0), (0.0, 60.0)].map(Point::from);
        let edge = |k: usize| {
            let segments = vec![Segment::line(corners[k], corners[(k + 1) % 4])];
            Edge::new(EdgeName::Edge, segments)
        };
        let cut = |([x, y, z], [u, v, w]): &([f64; 3], [f64; 3])| Cut {
            place: EdgeName::RightEnd,
            against: None,
            role: Role::End,
            plane: Plane::through(Point3::new(*x, *y, *z), Vec3::new(*u, *v, *w)).expect("a plane"),
            nominal: None,
        };
        Board {
            thickness: 20.0,
            edges: (0..4).map(edge).collect(),
            cuts: cuts.iter().map(cut).collect(),
            keep: None,
            sides: ["face", "far"],
        }
    }

    fn lines(cuts: &[([f64; 3], [f64; 3])]) -> Vec<Vec<Point>> {
        let board = plank(cuts);
        let solid = board.solid().expect("wood");
        far_lines(&board, &solid).iter().map(Path::nodes).collect()
    }

    fn has(lines: &[Vec<Point>], a: (f64, f64), b: (f64, f64)) -> bool {
        let [a, b] = [a, b].map(Point::from);
        let is = |line: &Vec<Point>| {
            let [first, last] = [line[0], line[line.len() - 1]];
            first.distance(a).min(last.distance(a)) < 1e-6 && first.distance(b).min(last.distance(b)) < 1e-6
        };
        lines.iter().any(is)
    }

    /// Bevelled by 45°, far side longer: 20 past the face side's end, closed along both edges.
    #[test]
    fn a_far_side_that_is_longer_is_closed_back_to_the_face() {
        let found = lines(&[([150.0, 0.0, 0.0], [1.0, 0.0, 1.0])]);
        assert_eq!(found.len(), 3, "{found:?}");
        assert!(has(&found, (170.0, 0.0), (170.0, 60.0)), "{found:?}");
        assert!(has(&found, (150.0, 0.0), (170.0, 0.0)) && has(&found, (150.0, 60.0), (170.0, 60.0)), "{found:?}");
    }

    #[test]
    fn a_far_side_that_is_shorter_is_one_line_from_edge_to_edge() {
        let found = lines(&[([150.0, 0.0, 0.0], [1.0, 0.0, -1.0])]);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(has(&found, (130.0, 0.0), (130.0, 60.0)), "{found:?}");
    }

    /// Tapered from x = 100 on by 10 in 100, then cut off at 45°: where the taper begins, and where it ends at the cut.
    #[test]
    fn a_tapered_far_side_ends_in_a_line_too() {
        let found = lines(&[([150.0, 0.0, 0.0], [1.0, 0.0, 1.0]), ([100.0, 0.0, -20.0], [0.1, 0.0, -1.0])]);
        // z = x - ... the cut: x + z = 150; the taper: z = -20 + (x - 100) / 10, so x = 150 + 20 - (x - 100) / 10.
        let end = 180.0 / 1.1;
        assert!(has(&found, (100.0, 0.0), (100.0, 60.0)), "{found:?}");
        assert!(has(&found, (end, 0.0), (end, 60.0)), "{found:?}");
        assert!(has(&found, (150.0, 0.0), (end, 0.0)) && has(&found, (150.0, 60.0), (end, 60.0)), "{found:?}");
        assert_eq!(found.len(), 4, "{found:?}");
    }

    /// Pointed: the arris in the middle of the thickness lies farthest out, and is closed along the edges.
    #[test]
    fn an_arris_between_the_faces_is_drawn() {
        let found = lines(&[([150.0, 0.0, 0.0], [1.0, 0.0, 1.0]), ([150.0, 0.0, -20.0], [1.0, 0.0, -1.0])]);
        assert!(has(&found, (160.0, 0.0), (160.0, 60.0)), "{found:?}");
        assert!(has(&found, (150.0, 0.0), (160.0, 0.0)) && has(&found, (150.0, 60.0), (160.0, 60.0)), "{found:?}");
        assert_eq!(found.len(), 3, "{found:?}");
    }

    #[test]
    fn dashes_begin_and_end_every_line() {
        for length in [0.5, 3.0, 4.9, 5.2, 41.0, 733.3] {
            let [dash, gap] = fitted(length);
            let gaps = (length - dash) / (dash + gap);
            assert!((gaps - gaps.round()).abs() < 1e-9, "{length}: {gaps}");
            assert!((dash / gap - DASH[0] / DASH[1]).abs() < 1e-9, "{length}");
        }
    }
}
