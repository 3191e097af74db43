//! From where the middle of a mouth is measured.

use super::run::run;
use super::surface_plane;
use crate::board::{Mortise, PartRole, Source, Surface};
use crate::geometry::{Plane, Point3, Vec3};
use crate::piece::SolvedBoard;
use crate::tolerance::{NO_LEAN, SAME_POINT, SHOWN};

/// A surface flatter to the face side than this, as a sine, has no arris with it to measure along.
const STEEP: f64 = 0.1;

/// From where the middle of a mouth is measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reference {
    /// The left end of the blank.
    BlankLeft,
    /// The edge of the blank at the lesser v.
    BlankLower,
    /// A surface of the board.
    Surface(Surface),
    /// A surface of the board, along the arris that another surface has with the face side.
    AlongArris(Surface),
}

impl Reference {
    /// In a maker's words: `lower edge`.
    pub fn words(&self, board: &SolvedBoard) -> String {
        match self {
            Reference::BlankLeft => "left end of the blank".to_owned(),
            Reference::BlankLower if board.role == PartRole::Top => "front edge of the blank".to_owned(),
            Reference::BlankLower => "lower edge of the blank".to_owned(),
            Reference::Surface(surface) => board.board.words_of(surface),
            Reference::AlongArris(surface) => {
                format!("{} along the {}", board.board.words_of(surface), board.board.words_of(&Surface::Face))
            }
        }
    }
}

/// The distance in the surface from where the line along the mouths leaves the board at the reference edge to the middle of
/// the mouth, mm, and that edge: the edge of the greater v, or along an edge that of the lesser u. On an end or edge
/// it is measured along the arris of the face side, from which the middle is squared down, as places given by hand are; where the
/// reference edge is bevelled, so that it matters, the name says so. A glue line is measured from the blank's left end, because
/// its mortises are cut before the top is shaped.
pub fn reference(board: &SolvedBoard, mortise: &Mortise) -> Option<(f64, Reference)> {
    let plane = surface_plane(&board.board, mortise)?;
    if mortise.on.is_none() {
        return Some((mortise.frame.origin().x - board.blank().x0, Reference::BlankLeft));
    }
    if is_all_round(board, mortise) {
        return Some((mortise.frame.origin().y - board.solid.blank.y0, Reference::BlankLower));
    }
    let (normal, axis) = (plane.normal(), mortise.frame.w());
    let across = mortise.frame.u();
    let line = turned((across - axis * (across.dot(normal) / axis.dot(normal))).unit()?);
    let run_to = |from: Point3| run(&board.board, from, line).map(|(mm, by)| (mm, board.board.surface(by)));
    let (middle, edge) = run_to(mortise.frame.origin())?;
    let arris = squared_up(mortise, line, normal).and_then(run_to).filter(|(_, by)| *by == edge);
    match arris {
        None => Some((middle, Reference::Surface(edge))),
        Some((along, edge)) if (along - middle).abs() < SHOWN => Some((along, Reference::Surface(edge))),
        Some((along, edge)) => Some((along, Reference::AlongArris(edge))),
    }
}

/// Where the middle of a mouth on an end or edge comes to the face side when it is squared up along that surface.
fn squared_up(mortise: &Mortise, line: Vec3, normal: Vec3) -> Option<Point3> {
    // A line that does not run along the arris is measured where it is.
    if matches!(mortise.on, None | Some(Source::Face | Source::Far)) || line.z.abs() > NO_LEAN {
        return None;
    }
    let up = line.cross(normal);
    let origin = mortise.frame.origin();
    // A whisker inside, so that the line along the arris does not leave the wood at once.
    (up.z.abs() > STEEP).then(|| origin + up * ((-origin.z - SAME_POINT) / up.z))
}

/// Whether a mortise stands on a face whose outline is one edge all round, from which nothing is measured twice: the blank is then.
fn is_all_round(board: &SolvedBoard, mortise: &Mortise) -> bool {
    matches!(mortise.on, Some(Source::Face | Source::Far)) && board.board.edges.len() == 1
}

/// The distance to the middle of the mouth square to [`reference`], mm, and from where: the face side; on a face an edge.
pub fn second_reference(board: &SolvedBoard, mortise: &Mortise) -> Option<(f64, Reference)> {
    if !matches!(mortise.on, Some(Source::Face | Source::Far)) {
        return Some((-mortise.frame.origin().z, Reference::Surface(Surface::Face)));
    }
    if is_all_round(board, mortise) {
        return Some((mortise.frame.origin().x - board.solid.blank.x0, Reference::BlankLeft));
    }
    let plane: Plane = surface_plane(&board.board, mortise)?;
    let (normal, axis) = (plane.normal(), mortise.frame.w());
    let across = mortise.frame.u();
    let along = (across - axis * (across.dot(normal) / axis.dot(normal))).cross(normal);
    let first = reference(board, mortise).map(|(_, edge)| edge);
    // Not from the first reference again, as it may be in a corner; else from the nearer side, the usual one where both are alike.
    let usual = turned(along.unit()?);
    let ways = [usual, -usual].into_iter().filter_map(|way| run(&board.board, mortise.frame.origin(), way));
    let mut ways: Vec<(f64, Reference)> =
        ways.map(|(mm, by)| (mm, Reference::Surface(board.board.surface(by)))).collect();
    if ways.iter().any(|(_, edge)| Some(edge) != first.as_ref()) {
        ways.retain(|(_, edge)| Some(edge) != first.as_ref());
    }
    ways.into_iter().reduce(|a, b| if b.0 < a.0 - SHOWN { b } else { a })
}

/// The way of a line that leads towards the greater v, or else towards the lesser u.
fn turned(line: Vec3) -> Vec3 {
    let forward = if line.y.abs() >= line.x.abs() { line.y > 0.0 } else { line.x < 0.0 };
    if forward { line } else { -line }
}
