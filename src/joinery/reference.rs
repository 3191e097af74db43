//! From where the middle of a mouth is measured.

use super::run::run;
use super::surface_plane;
use crate::board::{Mortise, Source};
use crate::geometry::{Plane, Vec3};
use crate::piece::SolvedBoard;

/// Distances nearer to each other than this, mm, are one to a maker.
const ALIKE: f64 = 0.05;

/// The distance in the surface from where the line along the mouths leaves the board at the reference edge to the middle of
/// the mouth, mm, and the name of that edge: the edge of the greater v, or along an edge that of the lesser u. A glue line is
/// measured from the blank's left end, because its mortises are cut before the top is shaped.
pub fn reference(board: &SolvedBoard, mortise: &Mortise) -> Option<(f64, String)> {
    let plane = surface_plane(&board.board, mortise)?;
    if mortise.on.is_none() {
        return Some((mortise.frame.origin().x - board.solid.blank.x0, "left end of the blank".to_owned()));
    }
    if is_all_round(board, mortise) {
        let front = if board.id == "top" { "front edge of the blank" } else { "lower edge of the blank" };
        return Some((mortise.frame.origin().y - board.solid.blank.y0, front.to_owned()));
    }
    let (normal, axis) = (plane.normal(), mortise.frame.w());
    let across = mortise.frame.u();
    towards(board, mortise, across - axis * (across.dot(normal) / axis.dot(normal)))
}

/// Whether a mortise stands on a face whose outline is one edge all round, from which nothing is measured twice: the blank is then.
fn is_all_round(board: &SolvedBoard, mortise: &Mortise) -> bool {
    matches!(mortise.on, Some(Source::Face | Source::Far)) && board.board.edges.len() == 1
}

/// The distance to the middle of the mouth square to [`reference`], mm, and from where: the face side; on a face an edge.
pub fn second_reference(board: &SolvedBoard, mortise: &Mortise) -> Option<(f64, String)> {
    if !matches!(mortise.on, Some(Source::Face | Source::Far)) {
        return Some((-mortise.frame.origin().z, board.board.name_of(Source::Face).to_owned()));
    }
    if is_all_round(board, mortise) {
        return Some((mortise.frame.origin().x - board.solid.blank.x0, "left end of the blank".to_owned()));
    }
    let plane: Plane = surface_plane(&board.board, mortise)?;
    let (normal, axis) = (plane.normal(), mortise.frame.w());
    let across = mortise.frame.u();
    let along = (across - axis * (across.dot(normal) / axis.dot(normal))).cross(normal);
    let first = reference(board, mortise).map(|(_, edge)| edge);
    // Not from the first reference again, as it may be in a corner; else from the nearer side, the usual one where both are alike.
    let usual = turned(along.unit()?);
    let ways = [usual, -usual].into_iter().filter_map(|way| run_to(board, mortise, way));
    let mut ways: Vec<(f64, String)> = ways.collect();
    if ways.iter().any(|(_, edge)| Some(edge) != first.as_ref()) {
        ways.retain(|(_, edge)| Some(edge) != first.as_ref());
    }
    ways.into_iter().reduce(|a, b| if b.0 < a.0 - ALIKE { b } else { a })
}

/// How far a line in the surface runs from the middle of the mouth towards the greater v, or else towards the lesser u.
fn towards(board: &SolvedBoard, mortise: &Mortise, line: Vec3) -> Option<(f64, String)> {
    run_to(board, mortise, turned(line.unit()?))
}

/// The way of a line that leads towards the greater v, or else towards the lesser u.
fn turned(line: Vec3) -> Vec3 {
    let forward = if line.y.abs() >= line.x.abs() { line.y > 0.0 } else { line.x < 0.0 };
    if forward { line } else { -line }
}

fn run_to(board: &SolvedBoard, mortise: &Mortise, way: Vec3) -> Option<(f64, String)> {
    let (length, by) = run(&board.board, mortise.frame.origin(), way)?;
    Some((length, board.board.name_of(by).to_owned()))
}
