//! Mortises with what fills them, in space: solids of their own between planes, as the boards are.

use super::direction::View;
use super::prism::Prism;
use crate::board::{Fitting, Mortise};
use crate::geometry::{Placement, Plane, Point, Point3};
use crate::joinery::surface_plane;
use crate::piece::{Piece, SolvedBoard, plane_of};

/// A centre line of which less than this share is seen points at the eye, and is shown as a cross.
const STEEP: f64 = 0.5;

/// Ends nearer than this, mm, are one end.
const ONE_END: f64 = 1e-3;

/// The mortises of the boards that pass, a prism for each copy that has it. Standing tenons are the wood of their
/// board's neighbour's mortise, and are there already.
pub fn fittings(piece: &Piece, wanted: impl Fn(&SolvedBoard) -> bool) -> Vec<Prism> {
    let boards = piece.boards.iter().enumerate().filter(|(_, board)| wanted(board));
    boards
        .flat_map(|(index, board)| cut_out(board).filter_map(move |(m, copy)| fitting(index, board, m, copy)))
        .collect()
}

/// Each mortise of a board with each copy that has it.
pub fn cut_out(board: &SolvedBoard) -> impl Iterator<Item = (&Mortise, usize)> {
    let cut = board.mortises.iter().filter(|m| m.fitting != Fitting::Standing);
    cut.flat_map(|m| m.copies.iter().map(move |copy| (m, *copy)))
}

/// A mortise in the world. Its outline is the section, swept from the plane of its mouth to its bottom or its exit.
fn fitting(index: usize, board: &SolvedBoard, mortise: &Mortise, copy: usize) -> Option<Prism> {
    let place = board.copies.get(copy)?.placement;
    let surface = surface_plane(&board.board, mortise)?;
    let exit = mortise.exit.and_then(|source| plane_of(&board.board, source));
    let corners = mortise.section_corners();
    let depth = |plane: &Plane| {
        let reached = corners.iter().filter_map(|p| mortise.carried(*p, plane));
        reached.map(|p| mortise.frame.to_board(p).z).fold((f64::MAX, f64::MIN), |(a, b), z| (a.min(z), b.max(z)))
    };
    let bottom = exit.as_ref().map_or(mortise.depth, |plane| depth(plane).1);
    let mouth = depth(&surface).0;
    let middle = mortise.frame.origin() + mortise.frame.w() * bottom;
    let to_world = |d| place.direction_to_world(d);
    let placement =
        Placement::facing(place.to_world(middle), to_world(mortise.frame.u()), to_world(mortise.frame.w()))?;
    let own = |plane: &Plane| placement.plane_to_board(&place.plane_to_world(plane));
    let planes = vec![exit.as_ref().map_or(Plane::level(0.0), own), own(&surface)];
    Prism::between_planes(index, copy, mortise.section(), planes, bottom - mouth, placement)
}

/// The centre lines of mortises as seen, true to size; two that cross at the middle where one points at the eye.
pub fn centre_lines(fittings: &[Prism], view: &View) -> Vec<(Point, Point)> {
    let mut lines: Vec<(Point, Point)> = Vec::new();
    for fitting in fittings {
        let Some(b) = fitting.outline.bounding_box() else { continue };
        let at = |x: f64, y: f64, z: f64| view.project(fitting.placement.to_world(Point3::new(x, y, z)));
        let deep = (at(0.0, 0.0, 0.0), at(0.0, 0.0, -fitting.thickness));
        let own = if deep.0.distance(deep.1) > STEEP * fitting.thickness {
            vec![deep]
        } else {
            vec![(at(b.x0, 0.0, 0.0), at(b.x1, 0.0, 0.0)), (at(0.0, b.y0, 0.0), at(0.0, b.y1, 0.0))]
        };
        for line in own {
            if line.0.distance(line.1) > ONE_END && !lines.iter().any(|known| same(*known, line)) {
                lines.push(line);
            }
        }
    }
    lines
}

/// Whether two lines lie on each other, either way round: mortises one behind the other.
fn same((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    a.distance(c).max(b.distance(d)) < ONE_END || a.distance(d).max(b.distance(c)) < ONE_END
}
