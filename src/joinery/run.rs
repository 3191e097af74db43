//! How far a straight line runs in the wood of a board.

use crate::board::{Board, Source};
use crate::geometry::{ContactKind, Plane, Point, Point3, Segment, Vec2, Vec3, contacts};
use crate::tolerance::{BELOW_CUTTING, CONTACT_TOLERANCE, PARALLEL};

/// How far a line runs in the wood of a board from a point in or on it, mm, and the surface by which it comes out; `None`
/// where it never does.
pub fn run(board: &Board, from: Point3, direction: Vec3) -> Option<(f64, Source)> {
    let far = Plane::level(-board.thickness).flipped();
    let faces = [(Plane::level(0.0), Source::Face), (far, Source::Far)];
    let cuts = board.cuts.iter().enumerate().map(|(i, cut)| (cut.plane, Source::Cut(i)));
    let through = |(plane, source): (Plane, Source)| {
        let nears = plane.normal().dot(direction);
        (nears > PARALLEL).then(|| ((-plane.distance(from) / nears).max(0.0), source))
    };
    let planes = faces.into_iter().chain(cuts).filter_map(through);
    planes.chain(through_edge(board, from, direction)).min_by(|a, b| a.0.total_cmp(&b.0))
}

/// The first of the outline's edges that a line passes.
fn through_edge(board: &Board, from: Point3, direction: Vec3) -> Option<(f64, Source)> {
    let flat = Vec2::new(direction.x, direction.y);
    if flat.hypot() < PARALLEL {
        return None;
    }
    let start = Point::new(from.x, from.y);
    let size = board.outline().bounding_box()?;
    // Long enough to leave the outline from anywhere in it.
    let reach = size.width() + size.height() + 1.0 + start.distance(size.center());
    let line = Segment::line(start, start + flat / flat.hypot() * reach);
    let mut nearest: Option<(f64, Source)> = None;
    for (index, edge) in board.edges.iter().enumerate() {
        for segment in &edge.segments {
            for contact in contacts(&line, segment, CONTACT_TOLERANCE).unwrap_or_default() {
                let away = contact.point.distance(start);
                // A line along an edge leaves it where the next surface comes.
                let passes = contact.kind != ContactKind::Overlap && away > BELOW_CUTTING;
                if passes && nearest.is_none_or(|(least, _)| away / flat.hypot() < least) {
                    nearest = Some((away / flat.hypot(), Source::Edge(index)));
                }
            }
        }
    }
    nearest
}

#[cfg(test)]
mod tests {
    use super::run;
    use crate::board::{Board, Cut, Edge, EdgeName, Role, Source};
    use crate::geometry::{Plane, Point, Point3, Segment, Vec3};

    /// A board 200 x 60 x 20 sawn at its right end through (180, 0, 0), leaning 45 degrees.
    fn board() -> Board {
        let corners = [(0.0, 0.0), (200.0, 0.0), (200.0, 60.0), (0.0, 60.0)].map(Point::from);
        let edges = (0..4).map(|i| {
            Edge::new(EdgeName::Given(format!("{i}")), vec![Segment::line(corners[i], corners[(i + 1) % 4])])
        });
        let plane = Plane::through(Point3::new(180.0, 0.0, 0.0), Vec3::new(1.0, 0.0, 1.0)).unwrap();
        let cut = Cut { place: EdgeName::RightEnd, against: None, role: Role::End, plane, nominal: None };
        Board { thickness: 20.0, edges: edges.collect(), cuts: vec![cut], keep: None, sides: ["face", "far"] }
    }

    #[test]
    fn a_line_leaves_by_the_surface_that_it_meets_first() {
        let (length, by) = run(&board(), Point3::new(100.0, 30.0, -10.0), Vec3::X).unwrap();
        assert!((length - 90.0).abs() < 1e-9 && by == Source::Cut(0));
        let (length, by) = run(&board(), Point3::new(100.0, 0.0, -10.0), Vec3::Y).unwrap();
        assert!((length - 60.0).abs() < 1e-6 && by == Source::Edge(2));
        let (length, by) = run(&board(), Point3::new(100.0, 0.0, -10.0), Vec3::X).unwrap();
        assert!((length - 90.0).abs() < 1e-9 && by == Source::Cut(0), "along the edge");
        let (length, by) = run(&board(), Point3::new(100.0, 30.0, 0.0), -Vec3::Z).unwrap();
        assert!((length - 20.0).abs() < 1e-9 && by == Source::Far);
    }
}
