//! Turned bodies as lines and planes meet them: cylinders and cones end to end.

use super::Turned;
use super::face::Where;
use super::flat::{Axes, Flat, Part};
use super::line::{self, Spans};
use crate::geometry::{Arc, CubicBez, Path, Plane, Point, Point3, Segment, Vec2, Vec3, clip_half_plane, union};
use crate::tolerance::{ALONG_A_TURNED_AXIS, CANCELLED, FLUSH, PARALLEL_PLANES, ROUNDING};
use std::f64::consts::PI;

/// Cubics to one side of a cut along the axis: on a leg 50 mm thick they are true to 1e-6 mm.
const STEPS: usize = 64;

/// A cone between two places of the axis.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cone {
    pub(super) low: Point,
    pub(super) high: Point,
}

impl Cone {
    fn slope(&self) -> f64 {
        (self.high.y - self.low.y) / (self.high.x - self.low.x)
    }

    /// The radius at a place along the axis.
    fn radius(&self, z: f64) -> f64 {
        self.low.y + self.slope() * (z - self.low.x)
    }
}

impl Turned {
    /// Its cones and cylinders.
    pub(super) fn cones(&self) -> impl Iterator<Item = Cone> + '_ {
        let pairs = self.profile.windows(2).map(|pair| Cone { low: pair[0], high: pair[1] });
        pairs.filter(|cone| cone.high.x > cone.low.x)
    }

    /// A plane square to its axis.
    fn level(&self, z: f64) -> Option<Plane> {
        Plane::through(self.frame.origin() + self.frame.w() * z, self.frame.w())
    }

    pub(super) fn middle(&self) -> Point3 {
        let ends = self.profile.first().zip(self.profile.last()).map_or(0.0, |(a, b)| a.x + b.x);
        self.frame.origin() + self.frame.w() * (0.5 * ends)
    }

    pub(super) fn holds(&self, p: Point3) -> bool {
        let own = self.frame.to_board(p);
        let out = own.x.hypot(own.y);
        self.cones().any(|cone| cone.low.x <= own.z && own.z <= cone.high.x && out <= cone.radius(own.z))
    }

    /// Its two ends and its shoulders.
    pub(super) fn planes(&self) -> Vec<(Plane, Where)> {
        let (Some(first), Some(last)) = (self.profile.first(), self.profile.last()) else { return Vec::new() };
        let near = self.level(first.x).map(|plane| (plane.flipped(), Where::Near));
        let far = self.level(last.x).map(|plane| (plane, Where::Far));
        let steps = self.profile.windows(2).enumerate().filter(|(_, pair)| pair[0].x == pair[1].x);
        let shoulder = |(k, pair): (usize, &[Point])| {
            let plane = self.level(pair[0].x)?;
            Some((if pair[1].y > pair[0].y { plane.flipped() } else { plane }, Where::Wall(k)))
        };
        near.into_iter().chain(far).chain(steps.filter_map(shoulder)).collect()
    }

    /// Its surfaces on which a point lies to within `reach` mm, with their normals.
    pub(super) fn surfaces_at(&self, p: Point3, reach: f64) -> Vec<(Where, Vec3)> {
        let own = self.frame.to_board(p);
        let out = own.x.hypot(own.y);
        let place = Point::new(own.z, out);
        let away = (self.frame.u() * own.x + self.frame.v() * own.y).unit().unwrap_or(self.frame.u());
        let on = |(k, pair): (usize, &[Point])| {
            let segment = Segment::line(pair[0], pair[1]);
            let along = pair[1] - pair[0];
            (segment.nearest(place).0 < reach).then(|| (Where::Wall(k), away * along.x - self.frame.w() * along.y))
        };
        let mantle = self.profile.windows(2).enumerate().filter_map(on);
        let end = |point: Option<&Point>, at: Where| {
            point.filter(|q| (q.x - own.z).abs() < reach && out < q.y + reach).map(|_| (at, self.frame.w()))
        };
        let ends = [end(self.profile.first(), Where::Near), end(self.profile.last(), Where::Far)];
        mantle.chain(ends.into_iter().flatten()).collect()
    }

    pub(super) fn on_line(&self, from: Point3, way: Vec3, hair: Vec3) -> Spans {
        let own = self.frame.to_board(from);
        let along = self.frame.direction_to_board(way);
        self.cones().fold(Spans::default(), |all, cone| {
            let ends = [self.level(cone.low.x).map(|p| p.flipped()), self.level(cone.high.x)];
            let ends: Vec<Plane> = ends.into_iter().flatten().collect();
            let range = line::inside(&ends, from, way, hair);
            all.plus(&range.both(&within(&cone, (own, along), &range, self.frame.direction_to_board(hair))))
        })
    }

    pub(super) fn on_plane(&self, axes: &Axes, flat: &Flat) -> Option<Vec<Path>> {
        self.cones().try_fold(Vec::new(), |rings: Vec<Path>, cone| {
            let own = self.cut(&cone, axes, flat);
            if rings.is_empty() { Some(own) } else { union(&rings, &own) }
        })
    }

    /// What of a plane lies in one cone.
    fn cut(&self, cone: &Cone, axes: &Axes, flat: &Flat) -> Vec<Path> {
        let normal = self.frame.direction_to_board(flat.plane.normal());
        let offset = -flat.plane.distance(self.frame.origin());
        let across = Vec2::new(normal.x, normal.y);
        let section = Section {
            axes,
            origin: self.frame.origin(),
            axis: self.frame.w(),
            // The direction out of the axis in which the plane rises.
            out: match across.hypot() > PARALLEL_PLANES {
                true => (self.frame.u() * across.x + self.frame.v() * across.y) * (1.0 / across.hypot()),
                false => self.frame.u(),
            },
            normal: [across.hypot(), normal.z],
            offset,
        };
        if across.hypot() <= PARALLEL_PLANES {
            return self.disc(cone, &section, flat);
        }
        if normal.z.abs() < ALONG_A_TURNED_AXIS
            || normal.z.abs() <= across.hypot() * cone.slope().abs() * (1.0 + ALONG_A_TURNED_AXIS)
        {
            return section.lengthwise(cone);
        }
        let Some(ring) = section.ellipse(cone) else { return Vec::new() };
        let ends = [self.level(cone.low.x).map(|p| p.flipped()), self.level(cone.high.x)];
        ends.into_iter().flatten().fold(vec![ring], |rings, end| match flat.inside(&end) {
            Part::Whole => rings,
            Part::Nothing => Vec::new(),
            Part::Half { point, inwards } => clip_half_plane(&rings, point, inwards),
        })
    }

    /// The round of a cone in a plane square to its axis.
    fn disc(&self, cone: &Cone, section: &Section, flat: &Flat) -> Vec<Path> {
        let z = section.offset / section.normal[1];
        let up = flat.step * section.normal[1].signum();
        let above = if (z - cone.low.x).abs() < FLUSH { up > 0.0 } else { z > cone.low.x };
        let below = if (z - cone.high.x).abs() < FLUSH { up < 0.0 } else { z < cone.high.x };
        let radius = cone.radius(z.clamp(cone.low.x, cone.high.x));
        if !(above && below && radius > FLUSH) {
            return Vec::new();
        }
        let centre = section.axes.drop(self.frame.origin() + self.frame.w() * z);
        vec![Path::circle(centre, radius)]
    }
}

/// The parameters between which a line runs within the cone that goes on for ever, in the cone's own axes.
fn within(cone: &Cone, (from, along): (Point3, Vec3), range: &Spans, hair: Vec3) -> Spans {
    let Some((low, high)) = range.stretches().first().copied() else { return Spans::default() };
    let off = |t: f64| {
        let p = from + along * t;
        p.x.hypot(p.y) - cone.radius(p.z)
    };
    let ends = if low > -line::FAR && high < line::FAR { [low, high] } else { [0.0, 1.0] };
    if ends.iter().chain(&[0.5 * (ends[0] + ends[1])]).all(|t| off(*t).abs() < FLUSH) {
        let p = from + along * (0.5 * (ends[0] + ends[1]));
        let out = p.x * hair.x + p.y * hair.y - cone.radius(p.z) * cone.slope() * hair.z;
        return if out > 0.0 { Spans::default() } else { Spans::all() };
    }
    // Squared: x² + y² - r(z)² along the line is a t² + 2 b t + c.
    let slope = cone.slope();
    let (start, pace) = (cone.radius(from.z), slope * along.z);
    let a = along.x * along.x + along.y * along.y - pace * pace;
    let b = from.x * along.x + from.y * along.y - start * pace;
    let c = from.x * from.x + from.y * from.y - start * start;
    let size = along.dot(along);
    if a.abs() <= CANCELLED * size {
        if b.abs() <= CANCELLED * size {
            return if c <= 0.0 { Spans::all() } else { Spans::default() };
        }
        let at = -c / (2.0 * b);
        return if b > 0.0 { Spans::one(-line::FAR, at) } else { Spans::one(at, line::FAR) };
    }
    let root = b * b - a * c;
    if root <= 0.0 {
        return if a < 0.0 { Spans::all() } else { Spans::default() };
    }
    let far = -b - root.sqrt() * if b < 0.0 { -1.0 } else { 1.0 };
    let (s, t) = (far / a, if far == 0.0 { 0.0 } else { c / far });
    let (s, t) = (s.min(t), s.max(t));
    if a > 0.0 { Spans::one(s, t) } else { Spans::all().less(&Spans::one(s, t)) }
}

/// A plane cutting a cone that does not lie square to its axis: `normal[0] x + normal[1] z = offset`, x out of the axis the way
/// the plane rises.
struct Section<'a> {
    axes: &'a Axes,
    origin: Point3,
    axis: Vec3,
    out: Vec3,
    normal: [f64; 2],
    offset: f64,
}

impl Section<'_> {
    /// A place of the plane: x out of the axis, y square to that, z along the axis.
    fn at(&self, x: f64, y: f64, z: f64) -> Point {
        self.axes.drop(self.origin + self.out * x + self.axis.cross(self.out) * y + self.axis * z)
    }

    /// The rim of a plane that cuts all lines of the cone; `None` where it cuts them beyond the tip.
    fn ellipse(&self, cone: &Cone) -> Option<Path> {
        let ([nx, nz], slope) = (self.normal, cone.slope());
        let tip = cone.radius(0.0);
        let ends = [1.0, -1.0].map(|side| {
            let z = (self.offset - side * nx * tip) / (nz + side * nx * slope);
            (side * cone.radius(z), z)
        });
        let [(x0, z0), (x1, z1)] = ends;
        if x0 <= 0.0 {
            return None;
        }
        let (x, z) = (0.5 * (x0 + x1), 0.5 * (z0 + z1));
        let half = (cone.radius(z).powi(2) - x * x).max(0.0).sqrt();
        let center = self.at(x, 0.0, z);
        let (p, q) = (self.at(x0, 0.0, z0) - center, self.at(x, half, z) - center);
        let q = if p.cross(q) < 0.0 { -q } else { q };
        let arc = |start: f64| Segment::Arc(Arc { center, p, q, start, sweep: PI });
        Some(Path::closed(vec![arc(0.0), arc(PI)]))
    }

    /// The rims of a plane that runs along the cone or nearly so.
    fn lengthwise(&self, cone: &Cone) -> Vec<Path> {
        let [nx, nz] = self.normal;
        let out = |z: f64| (self.offset - nz * z) / nx;
        // Half the width squared: r(z)² - x(z)² = a z² + 2 b z + c.
        let (slope, tip) = (cone.slope(), cone.radius(0.0));
        let (a, b) = (slope * slope - (nz / nx).powi(2), tip * slope + self.offset * nz / (nx * nx));
        let c = tip * tip - (self.offset / nx).powi(2);
        let square = |z: f64| (a * z + 2.0 * b) * z + c;
        let mut knots = vec![cone.low.x, cone.high.x];
        knots.extend(roots(a, b, c).into_iter().filter(|z| *z > cone.low.x && *z < cone.high.x));
        knots.sort_by(f64::total_cmp);
        let wide = |pair: &&[f64]| square(0.5 * (pair[0] + pair[1])) > FLUSH * FLUSH;
        knots
            .windows(2)
            .filter(wide)
            .filter_map(|pair| self.lengthwise_ring((pair[0], pair[1]), &out, (a, b, c)))
            .collect()
    }

    /// One of them, between two places along the axis: a side there, the far end, the other side back, the near end.
    fn lengthwise_ring(
        &self,
        (from, to): (f64, f64),
        out: &dyn Fn(f64) -> f64,
        (a, b, c): (f64, f64, f64),
    ) -> Option<Path> {
        let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
        let step = PI / STEPS as f64;
        // Even steps of an angle crowd where the side turns back, and it is smooth there.
        let place = |k: usize| middle - half * (k as f64 * step).cos();
        let width = |z: f64| ((a * z + 2.0 * b) * z + c).max(0.0).sqrt();
        let side = |k: usize| -> (Point, Vec2) {
            let (z, pace) = (place(k), half * (k as f64 * step).sin());
            let rise = a * z + b;
            let y = width(z);
            let climb = if y > FLUSH {
                rise * pace / y
            } else {
                (rise.abs() * half).sqrt() * if k == 0 { 1.0 } else { -1.0 }
            };
            let at = |y: f64| self.at(out(z), y, z);
            let ahead = self.at(out(z + 1.0), y, z + 1.0) - at(y);
            (at(y), ahead * pace + (at(y + 1.0) - at(y)) * climb)
        };
        let piece = |k: usize| {
            let ((p, dp), (q, dq)) = (side(k), side(k + 1));
            let middle = 0.5 * (place(k) + place(k + 1));
            let true_middle = self.at(out(middle), width(middle), middle);
            let along = q - p;
            let off = (true_middle - p).cross(along).abs() / along.hypot();
            let third = step / 3.0;
            match off < ROUNDING {
                true => Segment::line(p, q),
                false => Segment::Cubic(CubicBez::new(p, p + dp * third, q - dq * third, q)),
            }
        };
        let one: Vec<Segment> = (0..STEPS).map(piece).collect();
        // The other side is its mirror image in the plane that holds the axis.
        let mirrored = |s: &Segment| {
            let turn = |p: Point| {
                let across = self.axes.along(self.axis.cross(self.out));
                p - across * (2.0 * (p - self.at(0.0, 0.0, 0.0)).dot(across))
            };
            match s {
                Segment::Cubic(c) => Segment::Cubic(CubicBez::new(turn(c.p3), turn(c.p2), turn(c.p1), turn(c.p0))),
                _ => Segment::line(turn(s.end()), turn(s.start())),
            }
        };
        let mut ring = one.clone();
        let join = |ring: &mut Vec<Segment>, to: Point| {
            if let Some(end) = ring.last().map(Segment::end).filter(|end| end.distance(to) > FLUSH) {
                ring.push(Segment::line(end, to));
            }
        };
        let back: Vec<Segment> = one.iter().rev().map(mirrored).collect();
        join(&mut ring, back.first()?.start());
        ring.extend(back);
        let start = ring.first()?.start();
        join(&mut ring, start);
        let ring = Path::closed(ring);
        Some(if ring.signed_area() < 0.0 { ring.reversed() } else { ring })
    }
}

/// The roots of a z² + 2 b z + c.
fn roots(a: f64, b: f64, c: f64) -> Vec<f64> {
    kurbo::common::solve_quadratic(c, 2.0 * b, a).to_vec()
}
