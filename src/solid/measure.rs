//! Volume, centre of gravity and area of a solid, from its faces and curved walls alone.
//!
//! By the divergence of (0, 0, z), (0, 0, x z), (0, 0, y z) and (0, 0, z²/2). A flat face gives integrals of its coordinates up to
//! the second degree. A curved wall is swept along straight lines: of each of these the part that bounds the wood is known, so that the
//! wall gives one integral over its outline, halved where that part begins or ends.

use super::turned::Cone;
use super::{Body, Does, Face, Feature, Prism, Shape, Spans, Turned, apart};
use crate::geometry::{Path, Point, Point3, Rect, Segment, Vec2, Vec3};
use crate::tolerance::{ASIDE, CANCELLED, FLUSH, GAUSS_BLIND, INTEGRATED, PARALLEL_PLANES, WALL_ENDS};
use std::f64::consts::FRAC_PI_2;
use std::ops::{Add, Mul};

/// And no more often than this: a wall's end is then found to the last bits of it.
const MOST_HALVINGS: u32 = 40;

/// Volume and centre of gravity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bulk {
    /// Volume, mm³.
    pub volume: f64,
    /// Centre of gravity.
    pub centroid: Point3,
}

/// What a part of the surface gives to the integrals.
#[derive(Debug, Clone, Copy, Default)]
struct Share {
    volume: f64,
    moment: Vec3,
    area: f64,
}

impl Add for Share {
    type Output = Share;
    fn add(self, o: Share) -> Share {
        Share { volume: self.volume + o.volume, moment: self.moment + o.moment, area: self.area + o.area }
    }
}

impl Mul<f64> for Share {
    type Output = Share;
    fn mul(self, k: f64) -> Share {
        Share { volume: self.volume * k, moment: self.moment * k, area: self.area * k }
    }
}

impl Share {
    /// That of a piece of surface at a point, given by its normal times its area.
    fn at(p: Vec3, normal: Vec3) -> Share {
        let height = p.z * normal.z;
        let moment = Vec3::new(p.x * height, p.y * height, 0.5 * p.z * height);
        Share { volume: height, moment, area: normal.length() }
    }
}

impl Body {
    /// Its volume and centre of gravity. `None` where nothing is left, or where curves run so nearly together that they
    /// cannot be told apart. What stands apart from all else is measured by closed form, the rest by its surface.
    pub fn bulk(&self) -> Option<Bulk> {
        let (rest, apart) = self.parted();
        let whole = rest.bulk_by_surface()?;
        let start = (whole.volume, (whole.centroid - Point3::ORIGIN) * whole.volume);
        let add = |(volume, moment): (f64, Vec3), own: &Bulk| {
            (volume + own.volume, moment + (own.centroid - Point3::ORIGIN) * own.volume)
        };
        let (volume, moment) = apart.iter().fold(start, add);
        (volume > 0.0).then(|| Bulk { volume, centroid: Point3::ORIGIN + moment * (1.0 / volume) })
    }

    /// As [`Body::bulk`], all by its surface: much more work.
    pub fn bulk_by_surface(&self) -> Option<Bulk> {
        // Seen from the middle coordinates are small and keep their digits.
        let middle = self.middle();
        let flat = self.faces()?.iter().map(|face| of_face(face, middle)).fold(Share::default(), Add::add);
        // What is swept square to the blank's face gives nothing to them.
        let gives = |shape: &Shape| !matches!(shape, Shape::Prism(p) if p.frame.w().cross(Vec3::Z).length() < PARALLEL_PLANES);
        let all = flat + self.of_all_walls(&gives, middle);
        (all.volume > 0.0).then(|| Bulk { volume: all.volume, centroid: middle + all.moment * (1.0 / all.volume) })
    }

    /// The area of all its surfaces, mm². `None` as for [`Body::bulk`].
    pub fn area(&self) -> Option<f64> {
        let flat: f64 = self.faces()?.iter().map(Face::area).sum();
        Some(flat + self.of_all_walls(&|_| true, self.middle()).area)
    }

    /// What the curved walls give of the features that `count`.
    fn of_all_walls(&self, count: &dyn Fn(&Shape) -> bool, middle: Point3) -> Share {
        let walls = self.features.iter().enumerate().filter_map(|(k, feature)| match &feature.does {
            Does::Take(shape) if count(shape) => Some(self.of_walls(k, shape, -1.0, middle)),
            Does::Add(shape) if count(shape) => Some(self.of_walls(k, shape, 1.0, middle)),
            Does::Beyond(_) | Does::Take(_) | Does::Add(_) => None,
        });
        walls.fold(Share::default(), Add::add)
    }

    /// What the curved walls of a feature give.
    fn of_walls(&self, index: usize, shape: &Shape, out: f64, middle: Point3) -> Share {
        match shape {
            Shape::Prism(prism) => {
                let curved = prism.outline.segments().iter().filter(|s| !matches!(s, Segment::Line(_)));
                curved
                    .map(|segment| self.of_swept(index, prism, segment, out, middle))
                    .fold(Share::default(), Add::add)
            }
            Shape::Turned(turned) => {
                turned.cones().map(|cone| self.of_cone(turned, &cone, out, middle)).fold(Share::default(), Add::add)
            }
        }
    }

    /// What a wall swept by one piece of an outline gives.
    fn of_swept(&self, index: usize, prism: &Prism, segment: &Segment, out: f64, middle: Point3) -> Share {
        let way = prism.frame.w();
        let (near, index) = self.along_wall(index, prism, segment);
        let at = |t: f64| {
            let (p, along) = (prism.at(segment.eval(t)), segment.derivative(t));
            let normal = prism.lifted(-along.turn_90()) * out;
            if near.is_an_earlier_wall(index, p, way, normal) {
                return Share::default();
            }
            let found = near.bounding(p, way, normal);
            let line = |s: f64| Share::at(p + way * s - middle, normal);
            found.stretches().iter().map(|(from, to)| simpson(&line, *from, *to)).fold(Share::default(), Add::add)
        };
        let turns = match segment {
            Segment::Arc(arc) => (arc.sweep.abs() / FRAC_PI_2).ceil().clamp(1.0, 8.0),
            Segment::Line(_) | Segment::Cubic(_) => 4.0,
        };
        quarters(&at, turns)
    }

    /// The features that the lines of a wall may meet, and which of them is the wall's own: what stands aside from all of the wall, seen
    /// along it, changes nothing of any of its lines.
    fn along_wall(&self, index: usize, prism: &Prism, segment: &Segment) -> (Body, usize) {
        let wall = segment.around().inflate(ASIDE, ASIDE);
        let is_near = |feature: &Feature| match &feature.does {
            Does::Take(Shape::Prism(other)) => shadow(other, prism).is_none_or(|shadow| shadow.overlaps(wall)),
            _ => true,
        };
        let kept = self.features.iter().enumerate().filter(|(k, feature)| *k == index || is_near(feature));
        let (places, features): (Vec<usize>, Vec<Feature>) = kept.map(|(k, feature)| (k, feature.clone())).unzip();
        (Body { features }, places.iter().filter(|k| **k < index).count())
    }

    /// What the mantle of a cone gives.
    fn of_cone(&self, turned: &Turned, cone: &Cone, out: f64, middle: Point3) -> Share {
        let frame = &turned.frame;
        let rise = Vec2::new(cone.high.x - cone.low.x, cone.high.y - cone.low.y);
        let at = |t: f64| {
            let away = {
                let (sin, cos) = (t * std::f64::consts::TAU).sin_cos();
                frame.u() * cos + frame.v() * sin
            };
            let from = frame.origin() + away * cone.low.y + frame.w() * cone.low.x;
            let way = away * rise.y + frame.w() * rise.x;
            let normal = (away * rise.x - frame.w() * rise.y) * out;
            let found = self.bounding(from, way, normal).both(&Spans::one(0.0, 1.0));
            let turn = std::f64::consts::TAU;
            let line = |s: f64| Share::at(from + way * s - middle, normal * (turn * (cone.low.y + rise.y * s)));
            found.stretches().iter().map(|(from, to)| simpson(&line, *from, *to)).fold(Share::default(), Add::add)
        };
        quarters(&at, 4.0)
    }

    /// The stretches of a line in a surface along which that surface bounds the wood.
    fn bounding(&self, from: Point3, way: Vec3, out: Vec3) -> Spans {
        self.on_line(from, way, -out).less(&self.on_line(from, way, out))
    }

    /// Whether a wall is one with that of a feature before it, which has been measured.
    fn is_an_earlier_wall(&self, index: usize, p: Point3, way: Vec3, out: Vec3) -> bool {
        self.features.iter().take(index).any(|feature| {
            let (Does::Take(Shape::Prism(prism)) | Does::Add(Shape::Prism(prism))) = &feature.does else {
                return false;
            };
            let sign = if matches!(feature.does, Does::Take(_)) { -1.0 } else { 1.0 };
            if prism.frame.w().cross(way).length() > PARALLEL_PLANES {
                return false;
            }
            let own = prism.frame.to_board(p);
            prism.wall_at(Point::new(own.x, own.y), FLUSH).is_some_and(|(k, away)| {
                let curved = !matches!(prism.outline.segments().get(k), Some(Segment::Line(_)) | None);
                curved && prism.lifted(away).dot(out) * sign > 0.0
            })
        })
    }
}

/// Around a prism as it is seen along another's axis, in the plane of that one's outline; `None` where it has no end that way.
fn shadow(other: &Prism, along: &Prism) -> Option<Rect> {
    let b = other.outline.segments().iter().map(Segment::around).reduce(|a, b| a.union(b))?;
    let corners = match other.frame.w().cross(along.frame.w()).length() < PARALLEL_PLANES {
        true => [(b.x0, b.y0), (b.x1, b.y0), (b.x1, b.y1), (b.x0, b.y1)].map(|c| other.at(c.into())).to_vec(),
        false => apart::corners(other)?,
    };
    let seen = corners.iter().map(|p| along.frame.to_board(*p)).map(|p| Point::new(p.x, p.y));
    seen.map(|p| Rect::from_points(p, p)).reduce(|a, b| a.union(b))
}

/// Simpson's rule, exact for the cubics at most that stand along a straight line.
fn simpson(f: &dyn Fn(f64) -> Share, from: f64, to: f64) -> Share {
    (f(from) + f(0.5 * (from + to)) * 4.0 + f(to)) * ((to - from) / 6.0)
}

/// The integral over 0 to 1, begun in equal parts.
fn quarters(f: &dyn Fn(f64) -> Share, parts: f64) -> Share {
    let part = |k: usize| {
        let (from, to) = (k as f64 / parts, (k as f64 + 1.0) / parts);
        halved(f, (from, to), gauss(f, from, to), MOST_HALVINGS)
    };
    (0..parts as usize).map(part).fold(Share::default(), Add::add)
}

fn halved(f: &dyn Fn(f64) -> Share, (from, to): (f64, f64), whole: Share, left: u32) -> Share {
    let middle = 0.5 * (from + to);
    let (low, high) = (gauss(f, from, middle), gauss(f, middle, to));
    let sum = low + high;
    let change = (sum.volume - whole.volume).abs().max((sum.area - whole.area).abs());
    let same = || change <= INTEGRATED.max(CANCELLED * sum.volume.abs());
    let step = GAUSS_BLIND * (to - from);
    let jumps = |end: f64, step: f64| {
        let [a, b, c] = [0.0, 1.0, 2.0].map(|k| f(end + k * step).area);
        (a - 2.0 * b + c).abs() > WALL_ENDS
    };
    if left == 0 || same() && !jumps(from, step) && !jumps(to, -step) {
        return sum;
    }
    halved(f, (from, middle), low, left - 1) + halved(f, (middle, to), high, left - 1)
}

/// Gauss and Legendre's rule of 16 points.
fn gauss(f: &dyn Fn(f64) -> Share, from: f64, to: f64) -> Share {
    let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
    let values = kurbo::common::GAUSS_LEGENDRE_COEFFS_16.iter().map(|(w, x)| f(middle + half * x) * *w);
    values.fold(Share::default(), Add::add) * half
}

/// What a flat face gives.
fn of_face(face: &Face, middle: Point3) -> Share {
    let axes = &face.axes;
    let (o, x, y, up) = (axes.origin - middle, axes.x, axes.y, axes.plane.normal().z);
    let m = face.rings.iter().map(Moments::of).fold(Moments::default(), Moments::plus);
    // With p = o + x a + y b: the integral of p z, z being linear in a and b too.
    let first = o * m.one + x * m.a + y * m.b;
    let by = |k: f64, ka: f64, kb: f64| {
        first.z * k + (o.z * m.a + x.z * m.aa + y.z * m.ab) * ka + (o.z * m.b + x.z * m.ab + y.z * m.bb) * kb
    };
    Share {
        volume: first.z * up,
        moment: Vec3::new(by(o.x, x.x, y.x), by(o.y, x.y, y.y), 0.5 * by(o.z, x.z, y.z)) * up,
        area: m.one,
    }
}

/// Integrals over the inside of a ring, a and b being its two coordinates in mm.
#[derive(Debug, Clone, Copy, Default)]
pub struct Moments {
    /// Of 1: the area.
    pub one: f64,
    /// Of a.
    pub a: f64,
    /// Of b.
    pub b: f64,
    /// Of a².
    pub aa: f64,
    /// Of a b.
    pub ab: f64,
    /// Of b².
    pub bb: f64,
}

impl Moments {
    fn plus(self, o: Moments) -> Moments {
        Moments {
            one: self.one + o.one,
            a: self.a + o.a,
            b: self.b + o.b,
            aa: self.aa + o.aa,
            ab: self.ab + o.ab,
            bb: self.bb + o.bb,
        }
    }

    /// Those of a closed ring: by triangles from the origin to each piece. A form of degree k integrates over such a triangle to its value on the piece
    /// times the cross product over k + 2. For lines and cubics the rule takes that exactly; over a quarter turn an arc to rounding.
    pub fn of(path: &Path) -> Moments {
        let mut sum = Moments::default();
        for piece in path.segments() {
            let parts = match piece {
                Segment::Arc(arc) => (arc.sweep.abs() / FRAC_PI_2).ceil().clamp(1.0, 8.0),
                Segment::Line(_) | Segment::Cubic(_) => 1.0,
            };
            for k in 0..parts as usize {
                for (weight, x) in kurbo::common::GAUSS_LEGENDRE_COEFFS_16 {
                    let t = (k as f64 + 0.5 + 0.5 * x) / parts;
                    let p = piece.eval(t).to_vec2();
                    let swept = p.cross(piece.derivative(t)) * weight / (2.0 * parts);
                    sum = sum.plus(Moments {
                        one: swept / 2.0,
                        a: p.x * swept / 3.0,
                        b: p.y * swept / 3.0,
                        aa: p.x * p.x * swept / 4.0,
                        ab: p.x * p.y * swept / 4.0,
                        bb: p.y * p.y * swept / 4.0,
                    });
                }
            }
        }
        sum
    }
}
