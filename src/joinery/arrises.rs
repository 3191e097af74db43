//! The straight lines of a surface from which a rule, a square and a gauge find a place.

use crate::board::{Board, Solid, Source};
use crate::geometry::{Path, Point, Point3, Segment, Vec3};
use crate::piece::{SurfaceAxes, plane_of};
use crate::tolerance::ON_SURFACE;
use std::f64::consts::FRAC_1_SQRT_2;

/// A line is told from another, and an arris is felt, where they meet at more than 30 degrees: below that a hair's breadth across
/// moves the crossing by two along. This is the sine of it.
pub const CROSSES: f64 = 0.5;

/// A straight line in a surface of a board, in board axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Straight {
    /// Its two ends.
    pub ends: [Point3; 2],
    /// For each end, the surface that stops it there, where that can be felt and crosses it.
    pub stops: [Option<Source>; 2],
    /// The surface on its other side.
    pub with: Source,
}

impl Straight {
    /// From its first end to its second, of length 1.
    pub fn direction(&self) -> Option<Vec3> {
        (self.ends[1] - self.ends[0]).unit()
    }

    /// How far along it from its first end a point lies, and how far square to it, mm.
    pub fn of(&self, point: Point3) -> Option<(f64, f64)> {
        let (along, from) = (self.direction()?, point - self.ends[0]);
        let station = from.dot(along);
        Some((station, (from - along * station).length()))
    }

    /// Its length, mm.
    pub fn length(&self) -> f64 {
        self.ends[0].distance(self.ends[1])
    }

    /// The line run so that its first end is the usual one to measure from: the one of the greater v, or along the board the one
    /// of the lesser u.
    fn in_order(self) -> Straight {
        let way = self.ends[1] - self.ends[0];
        let forward = if way.y.abs() >= way.x.abs() { way.y < 0.0 } else { way.x > 0.0 };
        if forward {
            return self;
        }
        let ([a, b], [from, to]) = (self.ends, self.stops);
        Straight { ends: [b, a], stops: [to, from], with: self.with }
    }
}

/// A piece of a surface's rim, in board axes.
struct Piece {
    start: Point3,
    end: Point3,
    /// Which way it sets out and arrives, of length 1.
    ways: Option<[Vec3; 2]>,
    is_straight: bool,
    source: Source,
}

/// The arrises of a flat surface that are straight and can be felt, the usual ones first.
pub fn arrises(board: &Board, solid: &Solid, on: Source) -> Vec<Straight> {
    let Some(normal) = plane_of(board, on).map(|plane| plane.normal()) else { return Vec::new() };
    let mut found = Vec::new();
    for rim in rims(board, solid, on) {
        let count = rim.len();
        for (i, own) in rim.iter().enumerate().filter(|(_, piece)| piece.is_straight) {
            let Some([along, _]) = own.ways else { continue };
            if !is_felt(board, normal, own.source, own.start.midway(own.end)) {
                continue;
            }
            let stop = |other: &Piece, at: Point3, way: Option<Vec3>| {
                let crosses = way.is_some_and(|way| way.cross(along).length() > CROSSES);
                (other.source != own.source && crosses && is_felt(board, normal, other.source, at))
                    .then_some(other.source)
            };
            let (before, after) = (&rim[(i + count - 1) % count], &rim[(i + 1) % count]);
            let stops = [
                stop(before, own.start, before.ways.map(|[_, arrives]| arrives)),
                stop(after, own.end, after.ways.map(|[sets_out, _]| sets_out)),
            ];
            found.push(Straight { ends: [own.start, own.end], stops, with: own.source }.in_order());
        }
    }
    // Of two alike the edge of the greater v comes first, or else the end of the lesser u.
    let place = |line: &Straight| {
        let middle = line.ends[0].midway(line.ends[1]);
        let runs_along = line.direction().is_some_and(|way| way.x.abs() > FRAC_1_SQRT_2);
        if runs_along { -middle.y } else { middle.x }
    };
    found.sort_by(|a, b| place(a).total_cmp(&place(b)));
    found
}

/// The line from the middle of one end of a face to the middle of the other, which is drawn; `None` where the face has not two
/// ends that are straight and cross it.
pub fn centre_line(board: &Board, solid: &Solid, on: Source) -> Option<Straight> {
    let is_end = |line: &&Straight| line.direction().is_some_and(|way| way.y.abs() > CROSSES);
    let middle = |line: &Straight| line.ends[0].midway(line.ends[1]);
    let all = arrises(board, solid, on);
    let ends = || all.iter().filter(is_end);
    let first = ends().min_by(|a, b| middle(a).x.total_cmp(&middle(b).x))?;
    let last = ends().max_by(|a, b| middle(a).x.total_cmp(&middle(b).x))?;
    let line = Straight { ends: [middle(first), middle(last)], stops: [Some(first.with), Some(last.with)], with: on };
    let along = line.direction()?;
    let crossed = |end: &Straight| end.direction().is_some_and(|way| way.cross(along).length() > CROSSES);
    // Between them there is nothing but the face.
    (first.with != last.with && crossed(first) && crossed(last)).then_some(line)
}

/// Whether a hand finds the arris that another surface makes with a surface of this normal at a place: not where they are nearly one.
fn is_felt(board: &Board, normal: Vec3, other: Source, at: Point3) -> bool {
    let smooth = (1.0 - CROSSES * CROSSES).sqrt();
    normal_at(board, other, at).is_some_and(|other| normal.dot(other) < smooth)
}

/// The direction out of the wood of a surface at a place of it.
fn normal_at(board: &Board, source: Source, at: Point3) -> Option<Vec3> {
    let Source::Edge(index) = source else { return plane_of(board, source).map(|plane| plane.normal()) };
    let edge = Path::open(board.edges.get(index)?.segments.clone());
    let (_, place) = edge.nearest(Point::new(at.x, at.y))?;
    let along = edge.tangent_at(place)?;
    // The outline runs anticlockwise.
    Vec3::new(along.y, -along.x, 0.0).unit()
}

/// The rims of a flat surface in board axes.
fn rims(board: &Board, solid: &Solid, on: Source) -> Vec<Vec<Piece>> {
    let Some(axes) = SurfaceAxes::of(board, solid, on) else { return Vec::new() };
    let piece = |segment: &Segment, source: Source| {
        let (start, end) = (axes.lift(segment.start()), axes.lift(segment.end()));
        let way = |t: f64| {
            let (at, along) = (segment.eval(t), segment.tangent(t));
            (axes.lift(at + along) - axes.lift(at)).unit()
        };
        Piece {
            start,
            end,
            ways: way(0.0).zip(way(1.0)).map(|(out, arrives)| [out, arrives]),
            is_straight: matches!(segment, Segment::Line(_)),
            source,
        }
    };
    let rings = match on {
        Source::Face => vec![&solid.face],
        Source::Far => vec![&solid.far],
        Source::Cut(cut) => solid.ends.get(cut).map(|end| end.rings.iter().collect()).unwrap_or_default(),
        Source::Edge(index) => {
            let of = |segment: &Segment| piece(segment, beside_edge(board, index, &axes, segment));
            let own = |rim: &Path| rim.segments().iter().filter(|s| s.length() > ON_SURFACE).map(of).collect();
            return axes.rims().iter().map(own).collect();
        }
    };
    rings.into_iter().map(|ring| ring.pieces().map(|(segment, source)| piece(segment, source)).collect()).collect()
}

/// Which surface bounds a straight edge's own along a piece of its rim.
fn beside_edge(board: &Board, index: usize, axes: &SurfaceAxes, segment: &Segment) -> Source {
    let ends = [segment.start(), segment.end()].map(|p| axes.lift(p));
    let on = |source: Source| {
        plane_of(board, source).is_some_and(|plane| ends.iter().all(|p| plane.distance(*p).abs() < ON_SURFACE))
    };
    let cuts = (0..board.cuts.len()).map(Source::Cut);
    if let Some(flat) = [Source::Face, Source::Far].into_iter().chain(cuts).find(|source| on(*source)) {
        return flat;
    }
    // The neighbour at that end of the outline's edge.
    let count = board.edges.len().max(1);
    let own = board.edges.get(index).map(|edge| Path::open(edge.segments.clone()));
    let starts = own.and_then(|own| own.start()).is_some_and(|start| {
        let at = Point::new(ends[0].x, ends[0].y);
        at.distance(start) < ON_SURFACE
    });
    Source::Edge(if starts { index + count - 1 } else { index + 1 } % count)
}
