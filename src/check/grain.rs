//! Short grain: where the grain runs out of a curved board on both sides within a short way.
//!
//! From the middle of the board the wood is followed along the grain to where it runs out. Where both ways it comes out of a
//! curved edge, and is shorter than three times the board is wide there, the part may break along it. That share is a rule of
//! thumb, no source.

use super::{Told, say};
use crate::board::Source;
use crate::finding::{Finding, Place};
use crate::geometry::{Point, Point3, Segment, Vec3};
use crate::joinery::run;
use crate::piece::SolvedBoard;
use crate::units::Notation;

/// The least length along the grain for each mm of width (rule of thumb).
const SHARE: f64 = 3.0;

/// Places along the board that are looked at.
const STEPS: usize = 200;

/// The shortest line along the grain through the middle of a board that runs out of two of its edges.
struct Shortest {
    length: f64,
    width: f64,
    at: Point,
}

fn shortest(board: &SolvedBoard) -> Option<Shortest> {
    let blank = board.solid.blank;
    let deep = -board.board.thickness / 2.0;
    let places = (1..STEPS).map(|i| blank.x0 + blank.width() * i as f64 / STEPS as f64);
    let across = |x: f64| {
        // The widest stretch of wood across the board there.
        let line = Segment::line(Point::new(x, blank.y0 - 1.0), Point::new(x, blank.y1 + 1.0));
        let pieces = board.solid.face.path().segments().iter();
        let crossed = pieces.flat_map(|s| {
            crate::geometry::contacts(&line, s, crate::geometry::CONTACT_TOLERANCE).unwrap_or_default()
        });
        let mut all: Vec<f64> = crossed.map(|contact| contact.point.y).collect();
        all.sort_by(f64::total_cmp);
        let stretches = all.windows(2).filter_map(|pair| Some((*pair.first()?, *pair.last()?)));
        stretches
            .filter(|(low, high)| board.solid.face.path().encloses(Point::new(x, (low + high) / 2.0)))
            .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
    };
    let line = |x: f64| {
        let (low, high) = across(x)?;
        let middle = Point3::new(x, (low + high) / 2.0, deep);
        let (ahead, first) = run(&board.board, middle, Vec3::X)?;
        let (behind, second) = run(&board.board, middle, -Vec3::X)?;
        let edges = [first, second].iter().all(|source| is_curved(board, *source));
        edges.then(|| Shortest { length: ahead + behind, width: high - low, at: Point::new(x, middle.y) })
    };
    places.filter_map(line).min_by(|a, b| (a.length / a.width).total_cmp(&(b.length / b.width)))
}

fn is_curved(board: &SolvedBoard, source: Source) -> bool {
    let Source::Edge(index) = source else { return false };
    board.board.edges.get(index).is_some_and(|edge| !edge.is_straight())
}

/// Tells where a board has short grain.
pub(super) fn check(index: usize, board: &SolvedBoard, notation: &Notation) -> Option<Told> {
    // A top's grain runs out of a round or oval edge as it should.
    if board.id == "top" {
        return None;
    }
    let short = shortest(board).filter(|short| short.length < SHARE * short.width)?;
    let message = format!(
        "the {} has short grain: {} from edge to edge along the grain where it is {} wide; three times the width is wanted (rule of thumb)",
        board.label,
        say(short.length, notation),
        say(short.width, notation)
    );
    let finding = Finding::warn("short-grain", Place::pointer(board.pointer.clone()), message)
        .remedy("make its curves flatter or the part wider, or lay the grain along the curve");
    let finding = finding.measured("length", short.length).measured("width", short.width);
    Some(Told::new(index, finding).at(short.at, "short grain"))
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::board::{Board, Edge};
    use crate::check::samples::{rail, solved};
    use crate::geometry::{Arc, Point, Segment};
    use crate::piece::SolvedBoard;
    use crate::units::Notation;
    use std::f64::consts::{FRAC_PI_2, PI};

    /// Half a ring between two radii: at its sides the grain runs straight across it.
    fn half_ring(outer: f64, inner: f64) -> SolvedBoard {
        let arc = |r: f64, start: f64, sweep: f64| Segment::Arc(Arc::circular(Point::ORIGIN, r, start, sweep));
        let line = |a: f64, b: f64| Segment::line(Point::new(a, 0.0), Point::new(b, 0.0));
        let edges = vec![
            Edge::new("outer edge", vec![arc(outer, 0.0, PI)]),
            Edge::new("left foot", vec![line(-outer, -inner)]),
            Edge::new("inner edge", vec![arc(inner, PI, -PI)]),
            Edge::new("right foot", vec![line(inner, outer)]),
        ];
        solved(Board { thickness: 20.0, edges, cuts: Vec::new(), keep: None, sides: ["face", "far"] })
    }

    #[test]
    fn a_straight_rail_has_none_and_a_tight_bow_has() {
        assert!(check(0, &rail(60.0, 20.0), &Notation::default()).is_none());
        let told = check(0, &half_ring(200.0, 150.0), &Notation::default()).expect("short grain");
        assert_eq!(told.finding.code, "short-grain");
    }

    /// A shallow bow is followed by its grain for most of its length.
    #[test]
    fn a_flat_bow_passes() {
        let arc = |r: f64, y: f64, turn: f64| {
            let half = (150.0_f64 / r).asin();
            Segment::Arc(Arc::circular(Point::new(0.0, y), r, FRAC_PI_2 - turn * half, 2.0 * turn * half))
        };
        let (upper, lower) = (arc(1200.0, -1200.0, 1.0), arc(1200.0, -1260.0, -1.0));
        let edges = vec![
            Edge::new("upper edge", vec![upper]),
            Edge::new("left", vec![Segment::line(upper.end(), lower.start())]),
            Edge::new("lower edge", vec![lower]),
            Edge::new("right", vec![Segment::line(lower.end(), upper.start())]),
        ];
        let board = solved(Board { thickness: 20.0, edges, cuts: Vec::new(), keep: None, sides: ["face", "far"] });
        assert!(check(0, &board, &Notation::default()).is_none());
    }
}
