//! From where the middle of a mouth is measured.

use super::run::run;
use super::surface_plane;
use crate::board::{Mortise, Source};
use crate::geometry::{Plane, Vec3};
use crate::piece::SolvedBoard;

/// The distance in the surface from where the line along the mouths leaves the board at the reference edge to the middle of
/// the mouth, mm, and the name of that edge: the edge of the greater v, or along an edge that of the lesser u. A glue line is
/// measured from the blank's left end, because its mortises are cut before the top is shaped.
pub fn reference(board: &SolvedBoard, mortise: &Mortise) -> Option<(f64, String)> {
    let plane = surface_plane(&board.board, mortise)?;
    if mortise.on.is_none() {
        return Some((mortise.frame.origin().x - board.solid.blank.x0, "left end of the blank".to_owned()));
    }
    let (normal, axis) = (plane.normal(), mortise.frame.w());
    let across = mortise.frame.u();
    towards(board, mortise, across - axis * (across.dot(normal) / axis.dot(normal)))
}

/// The distance to the middle of the mouth square to [`reference`], mm, and from where: the face side; on a face an edge.
pub fn second_reference(board: &SolvedBoard, mortise: &Mortise) -> Option<(f64, String)> {
    if !matches!(mortise.on, Some(Source::Face | Source::Far)) {
        return Some((-mortise.frame.origin().z, board.board.name_of(Source::Face).to_owned()));
    }
    let plane: Plane = surface_plane(&board.board, mortise)?;
    let (normal, axis) = (plane.normal(), mortise.frame.w());
    let across = mortise.frame.u();
    let along = (across - axis * (across.dot(normal) / axis.dot(normal))).cross(normal);
    towards(board, mortise, along)
}

/// How far a line in the surface runs from the middle of the mouth towards the greater v, or else towards the lesser u.
fn towards(board: &SolvedBoard, mortise: &Mortise, line: Vec3) -> Option<(f64, String)> {
    let line = line.unit()?;
    let turned = if line.y.abs() >= line.x.abs() { line.y > 0.0 } else { line.x < 0.0 };
    let (length, by) = run(&board.board, mortise.frame.origin(), if turned { line } else { -line })?;
    Some((length, board.board.name_of(by).to_owned()))
}
