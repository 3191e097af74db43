//! The flat surfaces of a board as places on which other boards land.

use crate::board::{Board, EndFace, Solid, Source};
use crate::geometry::{
    Affine, Path, Placement, Plane, Point, Point3, Segment, Vec2, Vec3, clip_half_plane, intersection,
};

/// Nearer than this, mm, a node of a rim lies on the line of another of its pieces.
const ON_LINE: f64 = 1e-7;

/// The plane of a surface in board axes, its normal out of the board; `None` for a curved edge.
pub fn plane_of(board: &Board, source: Source) -> Option<Plane> {
    match source {
        Source::Face => Some(Plane::level(0.0)),
        Source::Far => Plane::through(Point3::new(0.0, 0.0, -board.thickness), -Vec3::Z),
        Source::Cut(i) => board.cuts.get(i).map(|c| c.plane),
        Source::Edge(i) => match board.edges.get(i)?.segments.as_slice() {
            [Segment::Line(line)] => {
                let along = line.p1 - line.p0;
                Plane::through(Point3::new(line.p0.x, line.p0.y, 0.0), Vec3::new(along.y, -along.x, 0.0))
            }
            _ => None,
        },
    }
}

/// In so many steps a curve of a landing is looked at.
const CURVE_STEPS: u32 = 48;

/// A flat surface of a board with axes of its own.
#[derive(Debug, Clone)]
pub struct SurfaceAxes {
    origin: Point3,
    x: Vec3,
    y: Vec3,
    /// Its rims in these axes.
    rims: Vec<Path>,
}

impl SurfaceAxes {
    /// The axes of a surface: of a face (u, v), of a cut those of its end face, of an edge along its chord and away from
    /// the face. `None` for a curved edge or a cut without a surface.
    pub fn of(board: &Board, solid: &Solid, source: Source) -> Option<SurfaceAxes> {
        let (x, y) = (Vec3::X, Vec3::Y);
        match source {
            Source::Face => Some(SurfaceAxes { origin: Point3::ORIGIN, x, y, rims: vec![solid.face.path().clone()] }),
            Source::Far => {
                let origin = Point3::new(0.0, 0.0, -board.thickness);
                Some(SurfaceAxes { origin, x, y, rims: vec![solid.far.path().clone()] })
            }
            Source::Cut(i) => {
                let end: &EndFace = solid.ends.get(i)?;
                let at = |x: f64, y: f64| end.lift(Point::new(x, y));
                let (origin, rims) = (at(0.0, 0.0), end.rings.iter().map(|r| r.path().clone()).collect());
                Some(SurfaceAxes { origin, x: at(1.0, 0.0) - origin, y: at(0.0, 1.0) - origin, rims })
            }
            Source::Edge(i) => {
                let [Segment::Line(line)] = board.edges.get(i)?.segments.as_slice() else { return None };
                let along = (line.p1 - line.p0).normalize();
                let origin = Point3::new(line.p0.x, line.p0.y, 0.0);
                let x = Vec3::new(along.x, along.y, 0.0);
                let whole = crate::geometry::Rect::new(0.0, 0.0, (line.p1 - line.p0).hypot(), board.thickness);
                let mut surface = SurfaceAxes { origin, x, y: -Vec3::Z, rims: vec![Path::rectangle(whole)] };
                for cut in &board.cuts {
                    surface.rims = surface.cut_by(&cut.plane);
                }
                Some(surface)
            }
        }
    }

    /// The rims inside a plane.
    fn cut_by(&self, plane: &Plane) -> Vec<Path> {
        let out = Vec2::new(plane.normal().dot(self.x), plane.normal().dot(self.y));
        let beyond = plane.distance(self.origin);
        clip_half_plane(&self.rims, (out * (-beyond / out.hypot2())).to_point(), -out)
    }

    /// Its rims in the face of another board.
    pub fn seen_from(&self, own: &Placement, other: &Placement) -> Vec<Path> {
        let at = |x: f64, y: f64| other.to_board(own.to_world(self.origin + self.x * x + self.y * y));
        let (o, x, y) = (at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1.0));
        let map = Affine::new([x.x - o.x, x.y - o.y, y.x - o.x, y.y - o.y, o.x, o.y]);
        self.rims.iter().map(|rim| rim.transformed(map)).collect()
    }

    /// A point in board axes, in these axes.
    pub fn drop(&self, p: Point3) -> Point {
        let from = p - self.origin;
        Point::new(from.dot(self.x), from.dot(self.y))
    }

    /// The map that takes the axes of another board's end to these.
    pub fn map_from(&self, own: &Placement, other: &Placement, end: &EndFace) -> Affine {
        let at = |x: f64, y: f64| self.drop(own.to_board(other.to_world(end.lift(Point::new(x, y)))));
        let (o, x, y) = (at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1.0));
        Affine::new([x.x - o.x, x.y - o.y, y.x - o.x, y.y - o.y, o.x, o.y])
    }

    /// The part of a landing that lies on the surface; all of it, where the two rims run so nearly together that they
    /// cannot be told apart.
    pub fn within(&self, landed: &[Path]) -> Vec<Path> {
        let pairs = landed.iter().flat_map(|path| self.rims.iter().map(move |rim| (path, rim)));
        pairs.flat_map(|(path, rim)| intersection(path, rim).unwrap_or_else(|| vec![path.clone()])).collect()
    }

    /// How far a landing reaches beyond the surface, mm: the greatest distance of one of its nodes outside the rims, or of a
    /// point of its curves. 0 where all of it lands.
    pub fn overshoot(&self, landed: &[Path]) -> f64 {
        let outside = |p: &Point| !self.rims.iter().any(|r| r.encloses(*p));
        let away = |p: Point| self.rims.iter().filter_map(|r| r.nearest(p)).map(|n| n.0).fold(f64::MAX, f64::min);
        let steps = |s: &Segment| if matches!(s, Segment::Line(_)) { 1 } else { CURVE_STEPS };
        let points = landed
            .iter()
            .flat_map(|path| path.segments())
            .flat_map(|s| (0..steps(s)).map(|i| s.eval(f64::from(i) / f64::from(steps(s)))));
        points.filter(outside).map(away).filter(|d| *d > ON_LINE).fold(0.0, f64::max)
    }
}

/// Closed paths, each run anticlockwise.
pub fn oriented(paths: impl Iterator<Item = Path>) -> Vec<Path> {
    paths.map(|p| if p.signed_area() < 0.0 { p.reversed() } else { p }).collect()
}
