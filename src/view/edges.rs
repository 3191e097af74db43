//! The lines of a board that can be seen: its arrises, and where a curved edge turns away from the eye.

use super::direction::View;
use super::prism::Prism;
use super::round;
use super::worked::{left, profiled, turned_away};
use crate::geometry::{Placement, Point, Point3, Segment, Vec2, Vec3};
use crate::solid::Axes;
use crate::tolerance::{EXACT, FLOWING, NO_LEAN, PARALLEL, SAME_PLACE, SAME_POINT, SEEN_TO};
use kurbo::common::solve_itp;

/// A line of a board in space: a flat curve in a plane given by an origin and two directions.
#[derive(Debug, Clone)]
pub struct SpaceLine {
    /// Which prism it belongs to.
    pub prism: usize,
    /// The curve in the plane's coordinates.
    pub(super) curve: Segment,
    pub(super) origin: Point3,
    pub(super) a: Vec3,
    pub(super) b: Vec3,
}

/// How (u, v) are lifted into a plane of a board: its origin and two directions, in the board's axes.
pub(super) type Lift = (Point3, Vec3, Vec3);

/// A line as seen.
#[derive(Debug, Clone)]
pub struct SeenLine {
    /// The line.
    pub line: SpaceLine,
    /// Its picture, mm.
    pub seen: Segment,
    /// Parameters of the line between which it is seen straight because it is seen edge-on; the picture's parameter then
    /// differs from the line's.
    edge_on: Option<(f64, f64)>,
}

impl SpaceLine {
    pub(super) fn straight(prism: usize, from: Point3, to: Point3) -> SpaceLine {
        let curve = Segment::line(Point::ORIGIN, Point::new(1.0, 0.0));
        SpaceLine { prism, curve, origin: from, a: to - from, b: Vec3::default() }
    }

    /// A curve in a plane of a board's copy.
    pub(super) fn flat(prism: usize, curve: Segment, axes: &Axes, place: &Placement) -> SpaceLine {
        let [a, b] = [axes.x, axes.y].map(|d| place.direction_to_world(d));
        SpaceLine { prism, curve, origin: place.to_world(axes.origin), a, b }
    }

    /// A curve in a plane of a board's copy that is told by an origin and two directions, in the board's axes.
    pub(super) fn lifted(prism: usize, curve: Segment, (o, a, b): Lift, place: &Placement) -> SpaceLine {
        let [a, b] = [a, b].map(|d| place.direction_to_world(d));
        SpaceLine { prism, curve, origin: place.to_world(o), a, b }
    }

    /// The line between two of its parameters.
    pub(super) fn part(&self, from: f64, to: f64) -> SpaceLine {
        SpaceLine { curve: self.curve.subsegment(from, to), ..self.clone() }
    }

    /// A box in space around the line, by two of its corners; a straight one's is widened by nothing.
    pub fn reach(&self) -> [Point3; 2] {
        let b = self.curve.bounding_box();
        let corners = [(b.x0, b.y0), (b.x1, b.y0), (b.x1, b.y1), (b.x0, b.y1)].map(|c| self.lift(c.into()));
        let least = |f: fn(f64, f64) -> f64| {
            corners.iter().fold(corners[0], |a, p| Point3::new(f(a.x, p.x), f(a.y, p.y), f(a.z, p.z)))
        };
        [least(f64::min), least(f64::max)]
    }

    /// The point of the plane's coordinates in space.
    pub(super) fn lift(&self, p: Point) -> Point3 {
        self.origin + self.a * p.x + self.b * p.y
    }

    /// The point at a parameter, 0 to 1.
    pub fn at(&self, t: f64) -> Point3 {
        self.lift(self.curve.eval(t))
    }

    /// Tells how the line is seen: once, or in pieces where it is seen edge-on and runs back over itself.
    pub fn seen(&self, view: &View, mut tell: impl FnMut(SeenLine)) {
        if let Segment::Line(_) = self.curve {
            let seen = Segment::line(view.project(self.at(0.0)), view.project(self.at(1.0)));
            return tell(SeenLine { line: self.clone(), seen, edge_on: None });
        }
        let map = view.map_of(self.origin, self.a, self.b);
        if map.determinant().abs() > PARALLEL {
            return tell(SeenLine { line: self.clone(), seen: self.curve.transformed(map), edge_on: None });
        }
        // All of it lies on one line of the view: the direction in which it reaches farther.
        let [a, b, c, d, ..] = map.as_coeffs();
        let (across, up) = (Vec2::new(a, c), Vec2::new(b, d));
        let axis = if across.hypot2() > up.hypot2() { across } else { up };
        let mut turns = self.curve.turns_along(axis);
        turns.extend([0.0, 1.0]);
        turns.sort_by(f64::total_cmp);
        for pair in turns.windows(2).filter(|pair| pair[1] > pair[0]) {
            let seen = Segment::line(view.project(self.at(pair[0])), view.project(self.at(pair[1])));
            tell(SeenLine { line: self.clone(), seen, edge_on: Some((pair[0], pair[1])) });
        }
    }

    /// The least distance of the line from a plane.
    pub fn least(&self, distance: impl Fn(Point3) -> f64, normal: Vec3) -> f64 {
        let axis = Vec2::new(self.a.dot(normal), self.b.dot(normal));
        let turns = self.curve.turns_along(axis).into_iter().chain([0.0, 1.0]);
        turns.map(|t| distance(self.at(t))).fold(f64::MAX, f64::min)
    }

    /// Parameters at which the line passes through a plane in space.
    pub fn passes(&self, distance: impl Fn(Point3) -> f64, normal: Vec3) -> Vec<f64> {
        let axis = Vec2::new(self.a.dot(normal), self.b.dot(normal));
        crossings(&self.curve, axis, |p| distance(self.lift(p)))
    }
}

impl SeenLine {
    /// The point in space that is seen at a parameter of the picture.
    pub fn at(&self, t: f64, view: &View) -> Point3 {
        let Some((low, high)) = self.edge_on else { return self.line.at(t) };
        let along = self.seen.end() - self.seen.start();
        let wanted = t * along.hypot2();
        let run = |s: f64| (view.project(self.line.at(s)) - self.seen.start()).dot(along) - wanted;
        let (a, b) = (run(low), run(high));
        if a < 0.0 && b > 0.0 {
            self.line.at(solve_itp(run, low, high, SEEN_TO, 1, 0.2 / (high - low), a, b))
        } else {
            self.line.at(if t < 0.5 { low } else { high })
        }
    }

    /// The picture's parameter of a parameter of the line, where it is on this picture.
    pub fn picture_parameter(&self, s: f64, view: &View) -> Option<f64> {
        let Some((low, high)) = self.edge_on else { return Some(s) };
        let along = self.seen.end() - self.seen.start();
        let p = view.project(self.line.at(s)) - self.seen.start();
        (s > low && s < high && along.hypot2() > 0.0).then(|| p.dot(along) / along.hypot2())
    }
}

/// Parameters, 0 to 1 and rising, at which a distance that is linear in the plane, with the given gradient, changes sign.
pub(super) fn crossings(curve: &Segment, axis: Vec2, distance: impl Fn(Point) -> f64) -> Vec<f64> {
    if let Segment::Line(_) = curve {
        let (a, b) = (distance(curve.eval(0.0)), distance(curve.eval(1.0)));
        return if (a < 0.0) == (b < 0.0) { Vec::new() } else { vec![a / (a - b)] };
    }
    let mut knots = vec![0.0];
    knots.extend(curve.turns_along(axis));
    knots.push(1.0);
    let height = |t: f64| distance(curve.eval(t));
    let mut found = Vec::new();
    for pair in knots.windows(2) {
        let (a, b) = (height(pair[0]), height(pair[1]));
        if (a < 0.0) == (b < 0.0) {
            continue;
        }
        let sign = if a < b { 1.0 } else { -1.0 };
        let k1 = 0.2 / (pair[1] - pair[0]);
        found.push(solve_itp(|t| sign * height(t), pair[0], pair[1], EXACT, 1, k1, sign * a, sign * b));
    }
    found
}

/// The sharp arrises of a board, its profiles worked.
pub fn arrises(index: usize, prism: &Prism) -> Vec<SpaceLine> {
    match &prism.turned {
        Some(turned) => round::rims(index, prism, turned),
        None => profiled(index, prism, square_arrises(index, prism)),
    }
}

/// The sharp arrises of the square wood of a board.
fn square_arrises(index: usize, prism: &Prism) -> Vec<SpaceLine> {
    let mut lines = Vec::new();
    for plane in 0..prism.planes.len() {
        lines.extend(along_rim(index, prism, plane));
        for other in plane + 1..prism.planes.len() {
            lines.extend(between_planes(index, prism, plane, other));
        }
    }
    let corners = corners(&prism.outline).filter(|c| !c.is_smooth());
    lines.extend(corners.filter_map(|corner| through(index, prism, corner.at)));
    lines
}

/// Where a board's curved edges turn away from the eye: the lines square to its face that bound what is seen of them.
pub fn silhouettes(index: usize, prism: &Prism, view: &View) -> Vec<SpaceLine> {
    if let Some(turned) = &prism.turned {
        return round::silhouettes(index, prism, turned, view);
    }
    let sight = prism.placement.direction_to_board(view.towards());
    let flat = Vec2::new(sight.x, sight.y);
    if flat.hypot() <= NO_LEAN {
        return Vec::new();
    }
    let sight = flat.normalize();
    let mut points: Vec<Point> = Vec::new();
    for segment in prism.outline.segments() {
        // A hollow turns no wood to the eye.
        let bulges = |t: &f64| segment.derivative(*t).cross(segment.second_derivative(*t)) > 0.0;
        points.extend(segment.turns_along(sight.turn_90()).into_iter().filter(bulges).map(|t| segment.eval(t)));
    }
    let turns_away = |c: &Corner| {
        let (before, after) = (c.before.cross(sight), c.after.cross(sight));
        c.is_smooth() && (before * after <= 0.0 || before.abs().min(after.abs()) < NO_LEAN)
    };
    points.extend(corners(&prism.outline).filter(turns_away).map(|c| c.at));
    let plumb = left(prism, points.iter().filter_map(|p| through(index, prism, *p)).collect());
    // Seen along the edge a profile turns away with all of its section.
    let is_along = prism.placement.direction_to_board(view.towards()).z.abs() <= NO_LEAN;
    let turned = points.into_iter().filter(|_| is_along).flat_map(|p| turned_away(index, prism, p, sight));
    plumb.into_iter().chain(turned).collect()
}

/// Where two pieces of an outline meet.
struct Corner {
    at: Point,
    /// Directions of travel.
    before: Vec2,
    after: Vec2,
}

impl Corner {
    fn is_smooth(&self) -> bool {
        self.before.cross(self.after).abs() < FLOWING && self.before.dot(self.after) > 0.0
    }
}

fn corners(outline: &crate::geometry::Path) -> impl Iterator<Item = Corner> {
    let segments = outline.segments();
    let previous = segments.iter().cycle().skip(segments.len().saturating_sub(1));
    segments.iter().zip(previous).map(|(after, before)| Corner {
        at: after.start(),
        before: before.tangent(1.0),
        after: after.tangent(0.0),
    })
}

/// The line through the thickness over a point of the outline.
fn through(index: usize, prism: &Prism, p: Point) -> Option<SpaceLine> {
    let from = Point3::new(p.x, p.y, 0.0);
    let (mut low, mut high) = (-prism.thickness, 0.0_f64);
    for plane in &prism.planes {
        let (outside, climb) = (plane.distance(from), plane.normal().z);
        if climb.abs() <= NO_LEAN {
            if outside > SAME_POINT {
                return None;
            }
        } else if climb > 0.0 {
            high = high.min(-outside / climb);
        } else {
            low = low.max(-outside / climb);
        }
    }
    let at = |w: f64| prism.placement.to_world(Point3::new(p.x, p.y, w));
    (high - low > SAME_PLACE).then(|| SpaceLine::straight(index, at(low), at(high)))
}

/// The line in which two planes of a board meet, as far as it lies on the board.
fn between_planes(index: usize, prism: &Prism, first: usize, second: usize) -> Vec<SpaceLine> {
    let (p, q) = (&prism.planes[first], &prism.planes[second]);
    let Some(along) = p.normal().cross(q.normal()).unit() else { return Vec::new() };
    let middle = prism.outline.centroid().unwrap_or_default();
    let across = crate::geometry::Plane::through(Point3::new(middle.x, middle.y, 0.0), along);
    let Some(from) = across.and_then(|across| crate::geometry::meet(p, q, &across)) else { return Vec::new() };
    let others: Vec<usize> = vec![first, second];
    let Some((low, high)) = prism.between(from, along, &others, -SAME_POINT) else { return Vec::new() };
    let at = |s: f64| prism.placement.to_world(from + along * s);
    let stretches = prism.within_rim(from, along, (low, high), SAME_POINT);
    stretches
        .into_iter()
        .filter(|(a, b)| b - a > SAME_PLACE)
        .map(|(a, b)| SpaceLine::straight(index, at(a), at(b)))
        .collect()
}

/// Where a plane of a board cuts its swept edges.
fn along_rim(index: usize, prism: &Prism, plane: usize) -> Vec<SpaceLine> {
    let own = &prism.planes[plane];
    let n = own.normal();
    let mut lines = Vec::new();
    if n.z.abs() <= NO_LEAN {
        for segment in prism.outline.segments() {
            let distance = |p: Point| own.distance(Point3::new(p.x, p.y, 0.0));
            let places = crossings(segment, Vec2::new(n.x, n.y), distance).into_iter();
            // Two pieces that join on the plane may end on either side of it by rounding, and neither passes through it.
            let joint = Some(segment.start()).filter(|p| distance(*p).abs() < SAME_POINT);
            let places = places.map(|t| segment.eval(t)).chain(joint);
            lines.extend(places.filter_map(|p| through(index, prism, p)));
        }
        return lines;
    }
    let level = |u: f64, v: f64| (own.offset() - n.x * u - n.y * v) / n.z;
    let local = |u: f64, v: f64| Point3::new(u, v, level(u, v));
    let (o, a, b) = (local(0.0, 0.0), local(1.0, 0.0), local(0.0, 1.0));
    let (a, b) = (a - o, b - o);
    for segment in prism.outline.segments() {
        between_others(prism, segment, (o, a, b), Some(plane), |curve| {
            lines.push(SpaceLine::lifted(index, curve, (o, a, b), &prism.placement));
        });
    }
    lines
}

/// The lines of a curve at a level of a board between its planes.
pub(super) fn on_level(index: usize, prism: &Prism, segment: &Segment, w: f64) -> Vec<SpaceLine> {
    let lift = (Point3::new(0.0, 0.0, w), Vec3::X, Vec3::Y);
    let mut lines = Vec::new();
    between_others(prism, segment, lift, None, |curve| {
        lines.push(SpaceLine::lifted(index, curve, lift, &prism.placement));
    });
    lines
}

/// Tells the parts of a curve in a plane of a board, lifted there from (u, v), that lie between its planes but for the curve's own.
fn between_others(
    prism: &Prism,
    segment: &Segment,
    (o, a, b): Lift,
    plane: Option<usize>,
    mut tell: impl FnMut(Segment),
) {
    let lift = |p: Point| o + a * p.x + b * p.y;
    let others = || prism.planes.iter().enumerate().filter(|(i, _)| Some(*i) != plane).map(|(_, p)| p);
    let holds = |(from, to): (f64, f64)| {
        let middle = lift(segment.eval(0.5 * (from + to)));
        others().all(|other| other.distance(middle) <= SAME_POINT)
    };
    let mut part = |(from, to): (f64, f64)| {
        let curve = segment.subsegment(from, to);
        let [start, middle, end] = [curve.start(), curve.eval(0.5), curve.end()].map(lift);
        if start.distance(end) > SAME_PLACE || start.distance(middle) > SAME_PLACE {
            tell(curve);
        }
    };
    let mut cuts = Vec::new();
    for other in others() {
        let axis = Vec2::new(a.dot(other.normal()), b.dot(other.normal()));
        cuts.extend(crossings(segment, axis, |p| other.distance(lift(p))));
    }
    if cuts.is_empty() {
        return Some((0.0, 1.0)).filter(|whole| holds(*whole)).into_iter().for_each(part);
    }
    cuts.extend([0.0, 1.0]);
    cuts.sort_by(f64::total_cmp);
    let mut joined: Vec<(f64, f64)> = Vec::new();
    for pair in cuts.windows(2).map(|pair| (pair[0], pair[1])).filter(|pair| holds(*pair)) {
        match joined.last_mut() {
            Some(last) if last.1 == pair.0 => last.1 = pair.1,
            _ => joined.push(pair),
        }
    }
    joined.into_iter().filter(|(from, to)| to > from).for_each(&mut part);
}
