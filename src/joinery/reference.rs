//! From where the middle of a mouth is measured.

use super::run::run;
use super::surface_plane;
use crate::board::{Mortise, Source};
use crate::geometry::{Plane, Point3, Vec3};
use crate::piece::SolvedBoard;

/// Distances nearer to each other than this, mm, are one to a maker.
const ALIKE: f64 = 0.05;

/// A line along an arris is followed this far below it, mm: far less than is ever told.
const INSIDE: f64 = 1e-6;

/// A line that falls by less than this for each mm runs along the arris.
const ALONG: f64 = 1e-6;

/// A surface flatter to the face side than this, as a sine, has no arris with it to measure along.
const STEEP: f64 = 0.1;

/// The distance in the surface from where the line along the mouths leaves the board at the reference edge to the middle of
/// the mouth, mm, and the name of that edge: the edge of the greater v, or along an edge that of the lesser u. On an end or edge
/// it is measured along the arris of the face side, from which the middle is squared down, as places given by hand are; where the
/// reference edge is bevelled, so that it matters, the name says so. A glue line is measured from the blank's left end, because
/// its mortises are cut before the top is shaped.
pub fn reference(board: &SolvedBoard, mortise: &Mortise) -> Option<(f64, String)> {
    let plane = surface_plane(&board.board, mortise)?;
    if mortise.on.is_none() {
        return Some((mortise.frame.origin().x - board.blank().x0, "left end of the blank".to_owned()));
    }
    if is_all_round(board, mortise) {
        let front = if board.id == "top" { "front edge of the blank" } else { "lower edge of the blank" };
        return Some((mortise.frame.origin().y - board.solid.blank.y0, front.to_owned()));
    }
    let (normal, axis) = (plane.normal(), mortise.frame.w());
    let across = mortise.frame.u();
    let line = turned((across - axis * (across.dot(normal) / axis.dot(normal))).unit()?);
    let middle = run_to(board, mortise.frame.origin(), line)?;
    let Some(arris) = squared_up(mortise, line, normal) else { return Some(middle) };
    let Some((along, edge)) = run_to(board, arris, line).filter(|(_, edge)| *edge == middle.1) else {
        return Some(middle);
    };
    if (along - middle.0).abs() < ALIKE {
        return Some((along, edge));
    }
    Some((along, format!("{edge} along the {}", board.board.name_of(Source::Face))))
}

/// Where the middle of a mouth on an end or edge comes to the face side when it is squared up along that surface.
fn squared_up(mortise: &Mortise, line: Vec3, normal: Vec3) -> Option<Point3> {
    // A line that does not run along the arris is measured where it is.
    if matches!(mortise.on, None | Some(Source::Face | Source::Far)) || line.z.abs() > ALONG {
        return None;
    }
    let up = line.cross(normal);
    let origin = mortise.frame.origin();
    // A whisker inside, so that the line along the arris does not leave the wood at once.
    (up.z.abs() > STEEP).then(|| origin + up * ((-origin.z - INSIDE) / up.z))
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
    let ways = [usual, -usual].into_iter().filter_map(|way| run_to(board, mortise.frame.origin(), way));
    let mut ways: Vec<(f64, String)> = ways.collect();
    if ways.iter().any(|(_, edge)| Some(edge) != first.as_ref()) {
        ways.retain(|(_, edge)| Some(edge) != first.as_ref());
    }
    ways.into_iter().reduce(|a, b| if b.0 < a.0 - ALIKE { b } else { a })
}

/// The way of a line that leads towards the greater v, or else towards the lesser u.
fn turned(line: Vec3) -> Vec3 {
    let forward = if line.y.abs() >= line.x.abs() { line.y > 0.0 } else { line.x < 0.0 };
    if forward { line } else { -line }
}

/// How far a line in the surface runs in the wood from a point of it, mm, and the edge by which it leaves.
fn run_to(board: &SolvedBoard, from: Point3, way: Vec3) -> Option<(f64, String)> {
    let (length, by) = run(&board.board, from, way)?;
    Some((length, board.board.name_of(by).to_owned()))
}
