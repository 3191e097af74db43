//! Where a mortise comes to the surface of its board.

use super::run::run;
use crate::board::{Board, Mortise, Solid, Source};
use crate::geometry::{Affine, Path, Point, Point3};
use crate::piece::{SurfaceAxes, plane_of};

/// Points of each piece of a section that are carried to a curved edge: round a tenon's end of 10 mm the ring is then true to
/// 0.006 mm.
const STEPS: usize = 32;

/// The mouth of a mortise in the axes of its surface: of a face (u, v), of a cut those of its end face, of an edge along its
/// chord and away from the face side. `None` on a curved edge and in a glue line.
pub fn mouth(board: &Board, solid: &Solid, mortise: &Mortise) -> Option<Path> {
    on(board, solid, mortise, mortise.on?)
}

/// The mouth by which a through mortise comes out, in the axes of that surface; on a curved edge laid flat: along the edge from
/// its start before cuts, and away from the face side.
pub fn far_mouth(board: &Board, solid: &Solid, mortise: &Mortise) -> Option<(Source, Path)> {
    let exit = mortise.exit?;
    let flat = on(board, solid, mortise, exit);
    Some((exit, flat.or_else(|| round_an_edge(board, mortise, exit))?))
}

/// The mouth on a curved edge laid flat, through [`STEPS`] points of each piece of the section.
fn round_an_edge(board: &Board, mortise: &Mortise, exit: Source) -> Option<Path> {
    let Source::Edge(index) = exit else { return None };
    let edge = Path::open(board.edges.get(index)?.segments.clone());
    let laid = |p: Point| {
        let start = mortise.frame.to_world(Point3::new(p.x, p.y, mortise.depth / 2.0));
        let (length, by) = run(board, start, mortise.frame.w())?;
        let out = start + mortise.frame.w() * length;
        let along = edge_length(&edge, Point::new(out.x, out.y))?;
        (by == exit).then_some(Point::new(along, -out.z))
    };
    let section = mortise.section();
    let steps = section.segments().iter().flat_map(|s| (0..STEPS).map(move |i| s.eval(i as f64 / STEPS as f64)));
    let ring: Option<Vec<Point>> = steps.map(laid).collect();
    let path = Path::polyline(&ring?, true);
    Some(if path.signed_area() < 0.0 { path.reversed() } else { path })
}

/// How much of an edge runs before the point of it that is nearest to a given one, mm.
pub fn edge_length(edge: &Path, point: Point) -> Option<f64> {
    let (_, place) = edge.nearest(point)?;
    let start = edge.place_at_length(0.0)?;
    Some(edge.part(start, place).length())
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
