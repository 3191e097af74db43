//! Prisms as lines and planes meet them.

use super::face::Where;
use super::flat::{Axes, Flat, Part};
use super::line::{self, Spans};
use super::{End, Prism};
use crate::geometry::{Affine, Path, Plane, Point, Point3, Rect, Segment, Vec2, Vec3, clip_half_plane};
use crate::tolerance::{ALONG_AN_AXIS, FLUSH, PARALLEL_PLANES};

/// An open end lies this far away, mm.
const OPEN: f64 = 1e5;

impl Prism {
    /// The planes of its two ends, normals out of it; none for an open one.
    pub(super) fn caps(&self) -> [Option<Plane>; 2] {
        let (origin, w) = (self.frame.origin(), self.frame.w());
        let cap = |end: End, out: Vec3| match end {
            End::To(depth) => Plane::through(origin + w * depth, out),
            End::On(plane) => Some(plane),
            End::Open => None,
        };
        [cap(self.ends[0], -w), cap(self.ends[1], w)]
    }

    fn cap_planes(&self) -> Vec<Plane> {
        self.caps().into_iter().flatten().collect()
    }

    /// A direction out of a wall, from the direction out of its outline.
    pub(super) fn lifted(&self, out: Vec2) -> Vec3 {
        self.frame.u() * out.x + self.frame.v() * out.y
    }

    /// A point of the outline's plane in space.
    pub(super) fn at(&self, p: Point) -> Point3 {
        self.frame.to_world(Point3::new(p.x, p.y, 0.0))
    }

    pub(super) fn middle(&self) -> Point3 {
        let middle = self.outline.bounding_box().map_or(Point::ORIGIN, |b| b.center());
        let levels = self.ends.map(|end| match end {
            End::To(depth) => depth,
            End::On(_) | End::Open => 0.0,
        });
        self.at(middle) + self.frame.w() * (0.5 * (levels[0] + levels[1]))
    }

    pub(super) fn holds(&self, p: Point3) -> bool {
        let own = self.frame.to_board(p);
        self.cap_planes().iter().all(|plane| plane.distance(p) <= 0.0)
            && self.outline.encloses(Point::new(own.x, own.y))
    }

    pub(super) fn planes(&self) -> Vec<(Plane, Where)> {
        let caps = self.caps().into_iter().enumerate();
        let mut planes: Vec<(Plane, Where)> =
            caps.filter_map(|(i, plane)| Some((plane?, if i == 0 { Where::Near } else { Where::Far }))).collect();
        for (k, segment) in self.outline.segments().iter().enumerate() {
            if let Segment::Line(line) = segment {
                let out = self.lifted(-(line.p1 - line.p0).turn_90());
                planes.extend(Plane::through(self.at(line.p0), out).map(|plane| (plane, Where::Wall(k))));
            }
        }
        planes
    }

    pub(super) fn on_line(&self, from: Point3, way: Vec3, hair: Vec3) -> Spans {
        let range = line::inside(&self.cap_planes(), from, way, hair);
        if range.is_empty() {
            return range;
        }
        let own = self.frame.to_board(from);
        let flat = |d: Vec3| Vec2::new(d.dot(self.frame.u()), d.dot(self.frame.v()));
        let (start, along, hair) = (Point::new(own.x, own.y), flat(way), flat(hair));
        let pace = along.hypot();
        if pace <= PARALLEL_PLANES * way.length() {
            return if self.covers(start, hair) { range } else { Spans::default() };
        }
        let across = -along.turn_90() / pace;
        let begin = along.dot(start.to_vec2()) / pace;
        let found = line::stretches(&self.outline, across, across.dot(start.to_vec2()), hair.dot(across).signum());
        Spans::rising(found.into_iter().map(|(a, b)| ((a - begin) / pace, (b - begin) / pace)).collect()).both(&range)
    }

    /// Whether the outline holds a point; one on it is looked at a hair off.
    fn covers(&self, p: Point, hair: Vec2) -> bool {
        match self.wall_at(p, FLUSH) {
            Some((_, out)) => out.dot(hair) < 0.0,
            None => self.outline.encloses(p),
        }
    }

    /// The piece of the outline on which a point lies to within `reach` mm, with the direction out there.
    pub(super) fn wall_at(&self, p: Point, reach: f64) -> Option<(usize, Vec2)> {
        let holds = |around: Rect| around.inflate(reach, reach).contains(p);
        let near = |s: &Segment| holds(s.around()) && holds(s.bounding_box());
        let mut pieces = self.outline.segments().iter().enumerate().filter(|(_, s)| near(s));
        pieces.find_map(|(k, segment)| {
            let (away, t) = segment.nearest(p);
            (away < reach).then(|| (k, -segment.tangent(t).turn_90()))
        })
    }

    /// Its surfaces on which a point lies to within `reach` mm, with their normals.
    pub(super) fn surfaces_at(&self, p: Point3, reach: f64) -> Vec<(Where, Vec3)> {
        let own = self.frame.to_board(p);
        let flat = Point::new(own.x, own.y);
        let wall = self.wall_at(flat, reach);
        let caps = self.caps();
        let within = caps.iter().flatten().all(|plane| plane.distance(p) < reach);
        if !within || wall.is_none() && !self.outline.encloses(flat) {
            return Vec::new();
        }
        let ends = caps.into_iter().zip([Where::Near, Where::Far]);
        let ends =
            ends.filter_map(|(plane, at)| plane.filter(|p2| p2.distance(p).abs() < reach).map(|p| (at, p.normal())));
        wall.map(|(k, out)| (Where::Wall(k), self.lifted(out))).into_iter().chain(ends).collect()
    }

    pub(super) fn on_plane(&self, axes: &Axes, flat: &Flat) -> Vec<Path> {
        if flat.plane.normal().dot(self.frame.w()).abs() < ALONG_AN_AXIS {
            self.along_axis(axes, flat)
        } else {
            self.across_axis(axes, flat)
        }
    }

    /// The outline carried along the axis to a plane, as far as the ends let it.
    fn across_axis(&self, axes: &Axes, flat: &Flat) -> Vec<Path> {
        let (w, plane) = (self.frame.w(), &flat.plane);
        let steep = plane.normal().dot(w);
        let carried = |p: Point| {
            let p = self.at(p);
            p - w * (plane.distance(p) / steep)
        };
        let origin = carried(Point::ORIGIN);
        let (x, y) = (carried(Point::new(1.0, 0.0)) - origin, carried(Point::new(0.0, 1.0)) - origin);
        let own = Flat { origin, x, y, ..*flat };
        let mut rings = vec![self.outline.clone()];
        for cap in self.cap_planes() {
            match own.inside(&cap) {
                Part::Whole => {}
                Part::Nothing => return Vec::new(),
                Part::Half { point, inwards } => rings = clip_half_plane(&rings, point, inwards),
            }
        }
        let (o, x, y) = (axes.drop(origin), axes.along(x), axes.along(y));
        let map = Affine::new([x.x, x.y, y.x, y.y, o.x, o.y]);
        let turned = map.determinant() < 0.0;
        rings
            .iter()
            .map(|ring| if turned { ring.transformed(map).reversed() } else { ring.transformed(map) })
            .collect()
    }

    /// Strips along the axis, one over each stretch of the plane's line in the outline.
    fn along_axis(&self, axes: &Axes, flat: &Flat) -> Vec<Path> {
        let normal = flat.plane.normal();
        let across = Vec2::new(normal.dot(self.frame.u()), normal.dot(self.frame.v()));
        let pace = across.hypot();
        let at = -flat.plane.distance(self.frame.origin()) / pace;
        let across = across / pace;
        let level = |end: End, open: f64| match end {
            End::To(depth) => depth,
            End::On(_) | End::Open => open,
        };
        let (low, high) = (level(self.ends[0], -OPEN), level(self.ends[1], OPEN));
        let corner = |along: f64, level: f64| {
            let p = across * at + across.turn_90() * along;
            axes.drop(self.at(p.to_point()) + self.frame.w() * level)
        };
        let found = line::stretches(&self.outline, across, at, flat.step);
        let mut rings: Vec<Path> = found
            .into_iter()
            .map(|(from, to)| {
                let ring =
                    Path::polyline(&[corner(from, low), corner(to, low), corner(to, high), corner(from, high)], true);
                if ring.signed_area() < 0.0 { ring.reversed() } else { ring }
            })
            .collect();
        for end in self.ends {
            let End::On(plane) = end else { continue };
            match flat.inside(&plane) {
                Part::Whole => {}
                Part::Nothing => return Vec::new(),
                Part::Half { point, inwards } => rings = clip_half_plane(&rings, point, inwards),
            }
        }
        rings
    }
}
