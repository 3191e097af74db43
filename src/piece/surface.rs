//! The flat surfaces of a board as places on which other boards land.

use crate::board::{Board, EndFace, Solid, Source};
use crate::geometry::{
    Affine, Drawn, Flat, FromInside, FromOutside, Path, Placement, Plane, Point, Point3, Segment, SurfaceFrame, Vec2,
    Vec3, clip_half_plane, intersection,
};
use crate::tolerance::ON_SURFACE;

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

/// Axes of a surface, and the side from which they are seen.
#[derive(Debug, Clone, Copy)]
enum Seen {
    Outside(SurfaceFrame<FromOutside>),
    Inside(SurfaceFrame<FromInside>),
}

impl Seen {
    fn lift(&self, p: Point) -> Point3 {
        match self {
            Seen::Outside(frame) => frame.lift(p),
            Seen::Inside(frame) => frame.lift(p),
        }
    }

    fn drop(&self, p: Point3) -> Point {
        match self {
            Seen::Outside(frame) => frame.drop(p),
            Seen::Inside(frame) => frame.drop(p),
        }
    }

    /// Origin, x and y.
    fn parts(&self) -> (Point3, Vec3, Vec3) {
        match self {
            Seen::Outside(frame) => (frame.origin(), frame.x(), frame.y()),
            Seen::Inside(frame) => (frame.origin(), frame.x(), frame.y()),
        }
    }
}

/// A flat surface of a board with axes of its own.
#[derive(Debug, Clone)]
pub struct SurfaceAxes {
    axes: Seen,
    /// Its rims in these axes.
    rims: Vec<Path>,
}

impl SurfaceAxes {
    /// The axes of a surface: of a face (u, v), of a cut those of its end face, of an edge along its chord and away from
    /// the face. Only those of the face side are seen from outside. `None` for a curved edge or a cut without a surface.
    pub fn of(board: &Board, solid: &Solid, source: Source) -> Option<SurfaceAxes> {
        match source {
            Source::Face => {
                let axes = Seen::Outside(SurfaceFrame::outward(Point3::ORIGIN, Vec3::Z, Vec3::X));
                Some(SurfaceAxes { axes, rims: vec![solid.face.path().clone()] })
            }
            Source::Far => {
                let origin = Point3::new(0.0, 0.0, -board.thickness);
                let axes = Seen::Inside(SurfaceFrame::inward(origin, -Vec3::Z, Vec3::X));
                Some(SurfaceAxes { axes, rims: vec![solid.far.path().clone()] })
            }
            Source::Cut(i) => {
                let end: &EndFace = solid.ends.get(i)?;
                let rims = end.rings.iter().map(|r| r.path().clone()).collect();
                Some(SurfaceAxes { axes: Seen::Inside(*end.frame()), rims })
            }
            Source::Edge(i) => {
                let [Segment::Line(line)] = board.edges.get(i)?.segments.as_slice() else { return None };
                let along = (line.p1 - line.p0).normalize();
                let origin = Point3::new(line.p0.x, line.p0.y, 0.0);
                let axes = Seen::Inside(SurfaceFrame::of_edge(origin, Vec3::new(along.x, along.y, 0.0)));
                let whole = crate::geometry::Rect::new(0.0, 0.0, (line.p1 - line.p0).hypot(), board.thickness);
                let mut surface = SurfaceAxes { axes, rims: vec![Path::rectangle(whole)] };
                for cut in &board.cuts {
                    surface.rims = surface.cut_by(&cut.plane);
                }
                Some(surface)
            }
        }
    }

    /// What is drawn in these axes, as it is seen from outside.
    pub fn from_outside<T: Drawn>(&self, drawn: T) -> Flat<FromOutside, T> {
        match &self.axes {
            Seen::Outside(frame) => frame.flat(drawn),
            Seen::Inside(frame) => frame.flat(drawn).turned_over(),
        }
    }

    /// The rims inside a plane.
    fn cut_by(&self, plane: &Plane) -> Vec<Path> {
        let (origin, x, y) = self.axes.parts();
        let out = Vec2::new(plane.normal().dot(x), plane.normal().dot(y));
        let beyond = plane.distance(origin);
        clip_half_plane(&self.rims, (out * (-beyond / out.hypot2())).to_point(), -out)
    }

    /// Its rims in the face of another board.
    pub fn seen_from(&self, own: &Placement, other: &Placement) -> Vec<Path> {
        let at = |x: f64, y: f64| other.to_board(own.to_world(self.axes.lift(Point::new(x, y))));
        let (o, x, y) = (at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1.0));
        let map = Affine::new([x.x - o.x, x.y - o.y, y.x - o.x, y.y - o.y, o.x, o.y]);
        self.rims.iter().map(|rim| rim.transformed(map)).collect()
    }

    /// Its rims, in these axes.
    pub fn rims(&self) -> &[Path] {
        &self.rims
    }

    /// A point of these axes, in board axes.
    pub fn lift(&self, p: Point) -> Point3 {
        self.axes.lift(p)
    }

    /// A point in board axes, in these axes.
    pub fn drop(&self, p: Point3) -> Point {
        self.axes.drop(p)
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
        let common = |path: &Path, rim: &Path| intersection(std::slice::from_ref(path), std::slice::from_ref(rim));
        pairs.flat_map(|(path, rim)| common(path, rim).unwrap_or_else(|| vec![path.clone()])).collect()
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
        points.filter(outside).map(away).filter(|d| *d > ON_SURFACE).fold(0.0, f64::max)
    }
}

/// Closed paths, each run anticlockwise.
pub fn oriented(paths: impl Iterator<Item = Path>) -> Vec<Path> {
    paths.map(|p| if p.signed_area() < 0.0 { p.reversed() } else { p }).collect()
}
