//! Where a mortise comes to the surface of its board, and how it looks from the face side.

use crate::board::{Board, Mortise, Solid, Source};
use crate::geometry::{Affine, Path, Plane, Point, Vec2};
use crate::piece::{SurfaceAxes, plane_of};

/// The plane from which a mortise goes in: that of its surface or glue line; `None` for a curved edge.
pub fn surface_plane(board: &Board, mortise: &Mortise) -> Option<Plane> {
    match mortise.on {
        Some(source) => plane_of(board, source),
        None => Plane::through(mortise.frame.origin(), -mortise.frame.w()),
    }
}

/// The mouth of a mortise in the axes of its surface: of a face (u, v), of a cut those of its end face, of an edge along its
/// chord and away from the face side. `None` on a curved edge and in a glue line.
pub fn mouth(board: &Board, solid: &Solid, mortise: &Mortise) -> Option<Path> {
    on(board, solid, mortise, mortise.on?)
}

/// The mouth by which a through mortise comes out, in the axes of that surface.
pub fn far_mouth(board: &Board, solid: &Solid, mortise: &Mortise) -> Option<(Source, Path)> {
    let exit = mortise.exit?;
    Some((exit, on(board, solid, mortise, exit)?))
}

fn on(board: &Board, solid: &Solid, mortise: &Mortise, source: Source) -> Option<Path> {
    let axes = SurfaceAxes::of(board, solid, source)?;
    let plane = plane_of(board, source)?;
    let at = |x: f64, y: f64| mortise.carried(Point::new(x, y), &plane).map(|p| axes.drop(p));
    // The section reaches the plane along straight lines, so the map is affine.
    let (o, x, y) = (at(0.0, 0.0)?, at(1.0, 0.0)?, at(0.0, 1.0)?);
    let map = Affine::new([x.x - o.x, x.y - o.y, y.x - o.x, y.y - o.y, o.x, o.y]);
    let path = mortise.section().transformed(map);
    Some(if path.signed_area() < 0.0 { path.reversed() } else { path })
}

/// The outline of a mortise or standing tenon seen from the face side: the smallest ring without hollows around its corners.
pub fn hull(board: &Board, mortise: &Mortise) -> Option<Path> {
    let plane = surface_plane(board, mortise)?;
    let mut corners: Vec<Point> = mortise.corners(&plane).iter().map(|p| Point::new(p.x, p.y)).collect();
    corners.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut ring = chain(corners.iter().copied());
    ring.extend(chain(corners.iter().rev().copied()));
    (ring.len() >= 3).then(|| Path::polyline(&ring, true))
}

/// One side of the ring around points that run one way, without its last point.
fn chain(points: impl Iterator<Item = Point>) -> Vec<Point> {
    // Corners that lie this near to a straight line, mm², are where two edges of the box fall on one another.
    const STRAIGHT: f64 = 1e-7;
    let mut ring: Vec<Point> = Vec::new();
    for p in points {
        while let [.., a, b] = ring.as_slice() {
            let turn: f64 = Vec2::cross(*b - *a, p - *b);
            if turn > STRAIGHT {
                break;
            }
            ring.pop();
        }
        ring.push(p);
    }
    ring.pop();
    ring
}
