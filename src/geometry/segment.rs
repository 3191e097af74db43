//! One piece of a path: a straight line, a circular or elliptical arc, or a cubic (a piece of a batten).

use kurbo::{Affine, CubicBez, Line, ParamCurve, Point, Rect, Shape, Vec2};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// An arc is never cut into more cubics than this, whatever tolerance is asked: work stays bounded on any input.
const MOST_PARTS: f64 = 1000.0;

/// An arc of a circle or ellipse: `center + p cos a + q sin a`, for `a` from `start` over `sweep`.
///
/// `p` and `q` are conjugate half-diameters, so that any affine map of an arc is again an arc, without a loss.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Centre, mm.
    pub center: Point,
    /// Half-diameter at angle 0, mm.
    pub p: Vec2,
    /// Half-diameter at a quarter turn, mm.
    pub q: Vec2,
    /// Angle of the first point, radians.
    pub start: f64,
    /// Signed angle swept, radians; positive turns from `p` towards `q`.
    pub sweep: f64,
}

impl Arc {
    /// The arc of a circle; angles in radians from the x axis, positive anticlockwise.
    pub fn circular(center: Point, radius: f64, start: f64, sweep: f64) -> Self {
        Arc { center, p: Vec2::new(radius, 0.0), q: Vec2::new(0.0, radius), start, sweep }
    }

    /// The point at angle `a` of the whole ellipse.
    pub fn at_angle(&self, a: f64) -> Point {
        self.center + self.p * a.cos() + self.q * a.sin()
    }

    /// The radius, where the arc is circular to within `tolerance` mm.
    pub fn radius(&self, tolerance: f64) -> Option<f64> {
        let round = (self.p.hypot() - self.q.hypot()).abs() <= tolerance
            && self.p.dot(self.q).abs() <= tolerance * self.p.hypot();
        round.then(|| self.p.hypot())
    }

    /// A distance, mm, than which the whole ellipse lies no nearer to `point`: 0 where nothing is known. In units of the half-diameters
    /// the ellipse is the unit circle, and no map shortens a way by more than its smaller singular value.
    pub(super) fn least_distance(&self, point: Point) -> f64 {
        let (area, off) = (self.p.cross(self.q), point - self.center);
        let (a, b, d) = (self.p.hypot2(), self.p.dot(self.q), self.q.hypot2());
        let larger = ((a + d + (a - d).hypot(2.0 * b)) / 2.0).sqrt();
        let from_centre = off.cross(self.q).hypot(self.p.cross(off)) / area.abs();
        let least = (from_centre - 1.0).abs() * area.abs() / larger;
        if least.is_finite() { least } else { 0.0 }
    }

    /// Parameters at which the arc runs square to `axis`; of an arc of more than a turn, those of its first turn.
    fn turns_along(&self, axis: Vec2) -> Vec<f64> {
        let extreme = self.q.dot(axis).atan2(self.p.dot(axis));
        let sweep = self.sweep.clamp(-TAU, TAU);
        let first = ((self.start.min(self.start + sweep) - extreme) / PI).ceil();
        // The extremes lie half a turn apart, so at most three fall within one turn.
        (0..3).map(|k| (extreme + PI * (first + f64::from(k)) - self.start) / self.sweep).collect()
    }

    /// The cubics that stay within `tolerance` mm of the arc: as many equal parts as that takes.
    pub fn to_cubics(&self, tolerance: f64) -> Vec<CubicBez> {
        // A cubic's radial error over an angle h of a unit circle is about (4/27) sin^6(h/4)/cos^2(h/4)
        // (standard result; M. Goldapp 1991, from memory); it scales with the larger half-diameter.
        let size = self.p.hypot().max(self.q.hypot());
        let error = |parts: f64| {
            let quarter = self.sweep.abs() / parts / 4.0;
            size * 4.0 / 27.0 * quarter.sin().powi(6) / quarter.cos().powi(2)
        };
        let mut parts = (self.sweep.abs() / FRAC_PI_2).ceil().clamp(1.0, MOST_PARTS);
        while error(parts) > tolerance && parts < MOST_PARTS {
            parts += 1.0;
        }
        let step = self.sweep / parts;
        let reach = 4.0 / 3.0 * (step / 4.0).tan();
        (0..parts as usize)
            .map(|i| {
                let (a, b) = (self.start + step * i as f64, self.start + step * (i + 1) as f64);
                let direction = |a: f64| self.q * a.cos() - self.p * a.sin();
                let (from, to) = (self.at_angle(a), self.at_angle(b));
                CubicBez::new(from, from + direction(a) * reach, to - direction(b) * reach, to)
            })
            .collect()
    }
}

/// One piece of a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// A straight line.
    Line(Line),
    /// A circular or elliptical arc.
    Arc(Arc),
    /// A cubic Bézier curve.
    Cubic(CubicBez),
}

impl Segment {
    /// A straight line between two points.
    pub fn line(from: Point, to: Point) -> Self {
        Segment::Line(Line::new(from, to))
    }

    /// The circular arc between two points by its rise over their chord, mm: positive bulges to the right of the way, at most
    /// half the chord. Radius (h² + rise²) / (2 rise) with h half the chord (Machinery's Handbook, 31st edition, p. 79), angle
    /// 4 atan(rise / h). The points lie apart and the rise is not 0.
    pub fn arc_by_rise(from: Point, to: Point, rise: f64) -> Self {
        let half = from.distance(to) / 2.0;
        let radius = (half * half + rise * rise) / (2.0 * rise.abs());
        let left = (to - from).turn_90() / (2.0 * half);
        let center = from.midpoint(to) + left * ((radius - rise.abs()) * rise.signum());
        let p = from - center;
        Segment::Arc(Arc { center, p, q: p.turn_90(), start: 0.0, sweep: 4.0 * (rise / half).atan() })
    }

    /// First point.
    pub fn start(&self) -> Point {
        self.eval(0.0)
    }

    /// Last point.
    pub fn end(&self) -> Point {
        self.eval(1.0)
    }

    /// The point at parameter `t`, 0 to 1 (an arc's parameter is its share of the sweep).
    pub fn eval(&self, t: f64) -> Point {
        match self {
            Segment::Line(line) => line.eval(t),
            Segment::Arc(arc) => arc.at_angle(arc.start + t * arc.sweep),
            Segment::Cubic(cubic) => cubic.eval(t),
        }
    }

    /// First derivative by the parameter.
    pub fn derivative(&self, t: f64) -> Vec2 {
        match self {
            Segment::Line(line) => line.p1 - line.p0,
            Segment::Arc(arc) => {
                let a = arc.start + t * arc.sweep;
                (arc.q * a.cos() - arc.p * a.sin()) * arc.sweep
            }
            Segment::Cubic(c) => {
                let s = 1.0 - t;
                ((c.p1 - c.p0) * (s * s) + (c.p2 - c.p1) * (2.0 * s * t) + (c.p3 - c.p2) * (t * t)) * 3.0
            }
        }
    }

    /// Second derivative by the parameter.
    pub fn second_derivative(&self, t: f64) -> Vec2 {
        match self {
            Segment::Line(_) => Vec2::ZERO,
            Segment::Arc(arc) => (arc.center - self.eval(t)) * (arc.sweep * arc.sweep),
            Segment::Cubic(c) => {
                let (a, b, d) = (c.p1 - c.p0, c.p2 - c.p1, c.p3 - c.p2);
                ((b - a) * (1.0 - t) + (d - b) * t) * 6.0
            }
        }
    }

    /// Parameters strictly between 0 and 1, rising, at which the piece runs square to `axis`: between them its distance
    /// along `axis` only grows or only shrinks.
    pub fn turns_along(&self, axis: Vec2) -> Vec<f64> {
        let mut turns = match self {
            Segment::Line(_) => Vec::new(),
            Segment::Arc(arc) => arc.turns_along(axis),
            Segment::Cubic(c) => {
                let [a, b, d] = [c.p1 - c.p0, c.p2 - c.p1, c.p3 - c.p2].map(|leg| leg.dot(axis));
                kurbo::common::solve_quadratic(a, 2.0 * (b - a), a - 2.0 * b + d).to_vec()
            }
        };
        turns.retain(|t| *t > 0.0 && *t < 1.0);
        turns.sort_by(f64::total_cmp);
        turns
    }

    /// The part between two parameters, `from < to`.
    pub fn subsegment(&self, from: f64, to: f64) -> Segment {
        match self {
            Segment::Line(line) => Segment::Line(line.subsegment(from..to)),
            Segment::Arc(arc) => {
                Segment::Arc(Arc { start: arc.start + from * arc.sweep, sweep: (to - from) * arc.sweep, ..*arc })
            }
            Segment::Cubic(cubic) => Segment::Cubic(cubic.subsegment(from..to)),
        }
    }

    /// The same piece, run the other way.
    pub fn reversed(&self) -> Segment {
        match self {
            Segment::Line(line) => Segment::Line(Line::new(line.p1, line.p0)),
            Segment::Arc(arc) => Segment::Arc(Arc { start: arc.start + arc.sweep, sweep: -arc.sweep, ..*arc }),
            Segment::Cubic(c) => Segment::Cubic(CubicBez::new(c.p3, c.p2, c.p1, c.p0)),
        }
    }

    /// The piece under an affine map.
    pub fn transformed(&self, map: Affine) -> Segment {
        match self {
            Segment::Line(line) => Segment::Line(map * *line),
            Segment::Arc(arc) => {
                let turn = |v: Vec2| (map * v.to_point()) - (map * Point::ORIGIN);
                Segment::Arc(Arc { center: map * arc.center, p: turn(arc.p), q: turn(arc.q), ..*arc })
            }
            Segment::Cubic(cubic) => Segment::Cubic(map * *cubic),
        }
    }

    /// Whether every number is finite and no coordinate is beyond `limit` mm of an axis.
    pub(super) fn is_within(&self, limit: f64) -> bool {
        let near = |p: Point| p.x.abs() <= limit && p.y.abs() <= limit;
        match self {
            Segment::Line(line) => near(line.p0) && near(line.p1),
            Segment::Cubic(c) => near(c.p0) && near(c.p1) && near(c.p2) && near(c.p3),
            Segment::Arc(arc) => {
                let bounds = self.bounding_box();
                let finite = arc.center.is_finite() && arc.p.is_finite() && arc.q.is_finite();
                // A flat arc's centre may lie far away: what counts is where the arc runs.
                finite
                    && (arc.start + arc.sweep).is_finite()
                    && near(Point::new(bounds.x0, bounds.y0))
                    && near(Point::new(bounds.x1, bounds.y1))
            }
        }
    }

    /// An upright rectangle that surely holds the piece, found without looking where it turns: for a first look.
    pub fn around(&self) -> Rect {
        let reach = |axis: Vec2| self.reach_along(axis);
        let ((x0, x1), (y0, y1)) = (reach(Vec2::new(1.0, 0.0)), reach(Vec2::new(0.0, 1.0)));
        Rect::new(x0, y0, x1, y1)
    }

    /// From where to where along a direction of unit length, mm from the origin, the piece surely lies, found without looking where it
    /// turns.
    pub fn reach_along(&self, axis: Vec2) -> (f64, f64) {
        let along = |p: Point| axis.dot(p.to_vec2());
        let between = |all: &[Point]| {
            all.iter().map(|p| along(*p)).fold((f64::MAX, f64::MIN), |(low, high), d| (low.min(d), high.max(d)))
        };
        match self {
            Segment::Line(line) => between(&[line.p0, line.p1]),
            Segment::Cubic(cubic) => between(&[cubic.p0, cubic.p1, cubic.p2, cubic.p3]),
            Segment::Arc(arc) => {
                let reach = axis.dot(arc.p).hypot(axis.dot(arc.q));
                (along(arc.center) - reach, along(arc.center) + reach)
            }
        }
    }

    /// The smallest upright rectangle around the piece.
    pub fn bounding_box(&self) -> Rect {
        match self {
            Segment::Line(line) => Rect::from_points(line.p0, line.p1),
            Segment::Arc(_) => {
                let turns = [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)].map(|axis| self.turns_along(axis));
                let ends = Rect::from_points(self.start(), self.end());
                turns.iter().flatten().fold(ends, |bounds, t| bounds.union_pt(self.eval(*t)))
            }
            Segment::Cubic(cubic) => Shape::bounding_box(cubic),
        }
    }

    /// Cubics that stay within `tolerance` mm of the piece (a line as one with evenly spaced control points).
    pub fn to_cubics(&self, tolerance: f64) -> Vec<CubicBez> {
        match self {
            Segment::Line(line) => {
                vec![CubicBez::new(line.p0, line.eval(1.0 / 3.0), line.eval(2.0 / 3.0), line.p1)]
            }
            Segment::Arc(arc) => arc.to_cubics(tolerance),
            Segment::Cubic(cubic) => vec![*cubic],
        }
    }
}
