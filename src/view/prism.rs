//! A board in space as what it is: an outline swept square to its face, between planes.

use super::rim::Rim;
use crate::geometry::{Affine, Path, Placement, Plane, Point, Point3, Vec2, Vec3};
use crate::piece::{SolvedBoard, WorkedEdge};
use crate::solid::Turned;
use crate::tolerance::{ALONG_PLANE, NO_LEAN};

/// Beyond this, mm, no board reaches along a line of sight.
pub const FAR_AWAY: f64 = 1e6;

/// One copy of a board as it is looked at.
#[derive(Debug, Clone)]
pub struct Prism {
    /// The board: an index into the piece's boards.
    pub board: usize,
    /// Which copy of it.
    pub copy: usize,
    /// Where it stands.
    pub placement: Placement,
    /// Its outline in (u, v).
    pub outline: Path,
    /// The planes between which it lies, board axes, normals out of the wood: face side, far side, cuts, then perhaps the
    /// plane of a section.
    pub planes: Vec<Plane>,
    /// Thickness, mm.
    pub thickness: f64,
    /// What it is turned to; the outline and the thickness are then around it only.
    pub turned: Option<Turned>,
    /// The profiles worked along its edges.
    pub worked: Vec<WorkedEdge>,
    /// Of a hollow whether another part's wood fills it.
    pub filled: bool,
    /// Which of the planes is that of a section.
    pub section: Option<usize>,
    /// The corners of the outline's rectangle on both faces, in the world.
    pub corners: [Point3; 8],
    /// The corners of a box in the world around it.
    pub reach: [Point3; 2],
}

impl Prism {
    /// A copy of a board. `None` where the board has no outline.
    pub fn new(board: usize, copy: usize, solved: &SolvedBoard, placement: Placement) -> Option<Prism> {
        let (shape, turned) = (&solved.board, solved.round());
        let far = Plane::level(-shape.thickness).flipped();
        // What is turned has no faces.
        let mut planes = if turned.is_some() { Vec::new() } else { vec![Plane::level(0.0), far] };
        planes.extend(shape.cuts.iter().map(|cut| cut.plane));
        let outline = shape.kept_outline();
        let prism = Prism::between_planes(board, copy, outline, planes, shape.thickness, placement)?;
        let worked = if turned.is_some() { Vec::new() } else { solved.worked.clone() };
        Some(Prism { turned, worked, ..prism })
    }

    /// An outline swept from w = 0 down by `thickness`, between planes in its own axes with normals out of it.
    pub fn between_planes(
        board: usize,
        copy: usize,
        outline: Path,
        planes: Vec<Plane>,
        thickness: f64,
        placement: Placement,
    ) -> Option<Prism> {
        let corners = box_corners(&outline, thickness, &placement)?;
        let reach = [
            corners.iter().fold(corners[0], |a, p| Point3::new(a.x.min(p.x), a.y.min(p.y), a.z.min(p.z))),
            corners.iter().fold(corners[0], |a, p| Point3::new(a.x.max(p.x), a.y.max(p.y), a.z.max(p.z))),
        ];
        Some(Prism {
            board,
            copy,
            placement,
            outline,
            planes,
            thickness,
            turned: None,
            worked: Vec::new(),
            filled: false,
            section: None,
            corners,
            reach,
        })
    }

    /// What a section leaves: the wood behind a world plane, whose normal points to the eye. `None` where nothing of it lies behind.
    pub fn behind(&self, plane: &Plane) -> Option<Prism> {
        let mut cut = self.clone();
        let own = self.placement.plane_to_board(plane);
        let (low, high) = self.span_along(plane);
        if low >= 0.0 {
            return None;
        }
        if high > 0.0 {
            cut.section = Some(cut.planes.len());
            cut.planes.push(own);
        }
        Some(cut)
    }

    /// How far the box around the board reaches along a plane's normal, from the plane.
    fn span_along(&self, plane: &Plane) -> (f64, f64) {
        let distances = self.corners.iter().map(|p| plane.distance(*p));
        distances.fold((f64::MAX, f64::MIN), |(low, high), d| (low.min(d), high.max(d)))
    }

    /// The part of a line in board axes, `from + s along`, between the planes but for those left out, each moved in by
    /// `graze` mm; `None` where none of it is.
    pub fn between(&self, from: Point3, along: Vec3, leave: &[usize], graze: f64) -> Option<(f64, f64)> {
        let (mut low, mut high) = (-FAR_AWAY, FAR_AWAY);
        for (_, plane) in self.planes.iter().enumerate().filter(|(i, _)| !leave.contains(i)) {
            let (outside, climb) = (plane.distance(from) + graze, plane.normal().dot(along));
            if climb.abs() <= ALONG_PLANE {
                if outside > 0.0 {
                    return None;
                }
            } else if climb > 0.0 {
                high = high.min(-outside / climb);
            } else {
                low = low.max(-outside / climb);
            }
        }
        (high > low).then_some((low, high))
    }

    /// The stretches of a line in board axes, `from + s along` with s in `range`, over which the outline holds it, farther
    /// than `graze` mm from the rim at their middles.
    pub fn within_rim(&self, from: Point3, along: Vec3, range: (f64, f64), graze: f64) -> Vec<(f64, f64)> {
        let flat = Vec2::new(along.x, along.y);
        let pace = flat.hypot();
        let start = Point::new(from.x, from.y);
        if pace < NO_LEAN {
            let inside = Rim::new(&self.outline, Affine::IDENTITY).holds_well(start, graze);
            return if inside { vec![range] } else { Vec::new() };
        }
        let level = level_map(flat);
        let at = level * start;
        let rim = Rim::new(&self.outline, level);
        let found = rim.stretches(at.y, at.x + range.0 * pace, at.x + range.1 * pace, graze);
        found.into_iter().map(|(a, b)| ((a - at.x) / pace, (b - at.x) / pace)).collect()
    }
}

/// The corners of an outline's rectangle at both ends of a thickness, in the world; `None` of an empty outline.
fn box_corners(outline: &Path, thickness: f64, placement: &Placement) -> Option<[Point3; 8]> {
    let b = outline.bounding_box()?;
    let flat = [(b.x0, b.y0), (b.x1, b.y0), (b.x1, b.y1), (b.x0, b.y1)];
    let corner = |i: usize| {
        let ((u, v), w) = (flat[i % 4], if i < 4 { 0.0 } else { -thickness });
        placement.to_world(Point3::new(u, v, w))
    };
    Some(std::array::from_fn(corner))
}

/// The turn of the outline's plane that lays a direction along x.
pub fn level_map(direction: Vec2) -> Affine {
    Affine::rotate(-direction.atan2())
}
