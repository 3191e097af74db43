//! Mortises that a later cut would open: those along the glue lines of a top, cut before the top is shaped.
//!
//! A mortise must lie inside the final shape with the wall that any mortise wants.

use super::trial::{Behind, WallAt};
use super::walls::{walls_below, wanted};
use super::{JointProblem, MortiseName, Told, TopProblem};
use crate::board::{Mortise, Source};
use crate::finding::{Finding, Place};
use crate::geometry::{Point, Vec3};
use crate::model::top::Top;
use crate::piece::SolvedBoard;
use crate::tolerance::{JUST, SHOWN};
use crate::units::Length;

/// Halvings by which the move is found: to a thousandth of a millimetre on the longest top.
const HALVINGS: usize = 24;

/// The thinnest wall to an edge, mm, with the place; `None` where none is thinner than `wanted`.
fn edge_wall(board: &SolvedBoard, mortise: &Mortise, wanted: f64) -> Option<(f64, Source, Point)> {
    let edges = walls_below(board, mortise, wanted).into_iter().find(|wall| matches!(wall.surface, Source::Edge(_)));
    edges.map(|wall| (wall.thickness, wall.surface, wall.at))
}

/// How far along the glue line, towards the middle, a mortise is to be moved to leave the wall wanted, mm.
fn move_by(board: &SolvedBoard, mortise: &Mortise, wanted: f64) -> Option<f64> {
    let origin = mortise.frame.origin();
    let centre = board.solid.blank.center().x;
    let way = (centre - origin.x).signum();
    let fits = |by: f64| {
        let moved =
            Mortise { frame: mortise.frame.moved(in_frame(mortise, Vec3::X * (way * by))), ..mortise.clone() };
        edge_wall(board, &moved, wanted).is_none()
    };
    if fits(0.0) {
        return Some(0.0);
    }
    let (mut low, mut high) = (0.0, (centre - origin.x).abs());
    if !fits(high) {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if fits(middle) { high = middle } else { low = middle }
    }
    Some(high)
}

/// A direction of the board in the mortise's own axes.
fn in_frame(mortise: &Mortise, d: Vec3) -> Vec3 {
    mortise.frame.direction_to_board(d)
}

/// The two mortises of each tenon along a glue line.
fn tenons(board: &SolvedBoard) -> impl Iterator<Item = Vec<&Mortise>> {
    let glued = || board.mortises.iter().filter(|m| m.on.is_none());
    let both = move |first: &Mortise| {
        let at = first.frame.origin();
        let same = glued().filter(|m| m.joint == first.joint && (m.frame.origin() - at).length() < JUST);
        same.collect::<Vec<&Mortise>>()
    };
    glued()
        .filter_map(move |first| Some(both(first)).filter(|all| all.first().is_some_and(|m| std::ptr::eq(*m, first))))
}

/// Tells every tenon of a glue line whose mortises the final shape opens.
pub(super) fn check(index: usize, board: &SolvedBoard) -> Vec<Told> {
    let mut told = Vec::new();
    let (wanted, _) = wanted(board.board.thickness);
    for both in tenons(board) {
        let opened = both
            .iter()
            .filter_map(|m| edge_wall(board, m, wanted).filter(|(wall, ..)| *wall <= 0.0).map(|w| (*m, w)));
        let Some((mortise, (wall, surface, at))) = opened.min_by(|a, b| a.1.0.total_cmp(&b.1.0)) else { continue };
        let from_end = mortise.frame.origin().x - board.blank().x0;
        // The tenon is moved with both its mortises.
        let moves: Option<Vec<f64>> = both.iter().map(|m| move_by(board, m, wanted)).collect();
        let by = moves.and_then(|moves| moves.into_iter().max_by(f64::total_cmp));
        let problem = JointProblem::CutOpen {
            mortise: MortiseName::of(board, mortise),
            surface: board.board.name_of(surface).into_owned(),
            beyond: Length::from_mm(-wall),
            // What is less than is told comes out at the very edge.
            by: (-wall >= SHOWN).then(|| Length::from_mm(-wall)),
            movement: Length::from_mm(by.unwrap_or(f64::NAN).max(0.0)),
            from_end: Length::from_mm(from_end),
        };
        let finding = Finding::of(problem, Place::pointer(mortise.pointer.clone()));
        let wall = Some(WallAt::of(board, mortise, Behind::Surface(surface)));
        told.push(Told { wall, ..Told::new(index, finding).at(at, "cut open here") });
    }
    told
}

/// Tells where the boards of the glue-up do not make the width of the top.
pub(super) fn boards(top: &Top) -> Option<Finding> {
    let made: f64 = top.glue_up.iter().map(|w| w.mm()).sum();
    if top.glue_up.is_empty() || made >= top.width.mm() - JUST {
        return None;
    }
    let problem = TopProblem::GlueUpNarrow { made: Length::from_mm(made), width: top.width };
    Some(Finding::of(problem, Place::pointer("/top/glue_up")))
}

#[cfg(test)]
mod tests {
    use super::{check, edge_wall};
    use crate::board::{Board, Edge, EdgeName, Mortise};
    use crate::check::samples::{end_mortise, rail, solved};
    use crate::geometry::{Path, Placement, Point, Point3, Vec3};
    use crate::piece::SolvedBoard;

    /// A round top of 500 with a mortise 40 wide along its middle, its centre `x` from the middle.
    fn round(x: f64) -> SolvedBoard {
        let circle = Path::circle(Point::ORIGIN, 250.0);
        let edges = vec![Edge::new(EdgeName::Edge, circle.segments().to_vec())];
        let mut board =
            solved(Board { thickness: 24.0, edges, cuts: Vec::new(), keep: None, sides: ["upper", "lower"] });
        let frame = Placement::facing(Point3::new(x, 0.0, -12.0), Vec3::X, Vec3::Y).unwrap();
        let mortise = Mortise {
            frame,
            on: None,
            tenon: [8.0, 40.0, 50.0],
            depth: 26.0,
            ..end_mortise(&rail(60.0, 20.0), 8.0, 40.0, 26.0)
        };
        board.mortises.push(mortise);
        board
    }

    /// The outer bottom corner (x + 20, 26) lies on the circle where x = sqrt(250² - 26²) - 20.
    #[test]
    fn a_mortise_is_inside_touches_and_is_cut_open() {
        let touching = (250.0_f64.powi(2) - 26.0 * 26.0).sqrt() - 20.0;
        let told = |x: f64| check(0, &round(x));
        assert!(told(touching - 8.0).is_empty());
        assert!(told(touching - 0.01).is_empty());
        let open = told(touching + 10.0);
        assert_eq!(open.len(), 1);
        let moved = open[0].finding.measure("move").unwrap();
        let board = round(touching + 10.0 - moved);
        let (wall, ..) = edge_wall(&board, &board.mortises[0], f64::INFINITY).unwrap();
        assert!((wall - 6.0).abs() < 0.01, "{wall} after {moved}");
    }
}
