//! Where lines pass behind each other or through boards, as seen.

use super::direction::View;
use super::edges::{SeenLine, crossings};
use super::prism::Prism;
use super::round;
use crate::geometry::{Affine, BoxTree, Plane, Point, Point3, Rect, Segment, Vec2, contacts};
use crate::solid::Turned;
use crate::tolerance::{CONTACT_TOLERANCE, PARALLEL, SAME_POINT, UNSEEN};

/// Lines as seen, board by board, ready for being cut by each other.
pub struct Splits<'a> {
    lines: &'a [SeenLine],
    boxes: Vec<Rect>,
    /// For each board the first of its lines, which follow each other, and a tree over them.
    by_board: Vec<(usize, BoxTree)>,
}

impl<'a> Splits<'a> {
    /// Of these, in the order of their boards and hollows, of which there are so many.
    pub fn of(lines: &'a [SeenLine], boards: usize) -> Splits<'a> {
        let around = |line: &SeenLine| line.seen.bounding_box().inflate(SAME_POINT, SAME_POINT);
        let boxes: Vec<Rect> = lines.iter().map(around).collect();
        let first = |board: usize| lines.partition_point(|line| line.line.prism < board);
        let own = |board: usize| (first(board), BoxTree::new(boxes[first(board)..first(board + 1)].to_vec()));
        Splits { lines, by_board: (0..boards).map(own).collect(), boxes }
    }

    /// The box around a line's picture, a hair wider.
    pub fn around(&self, index: usize) -> Rect {
        self.boxes[index]
    }

    /// Adds the parameters of a line's picture at which whether a board hides it may change, in no order. Asked line by line: where
    /// many lines run over each other there are far more of them than lines.
    pub fn by(&self, index: usize, (board, prism): (usize, &Prism), view: &View, found: &mut Found) {
        found.places.extend(pierced(&self.lines[index], (board, prism), view));
        self.met(index, board, found);
    }

    /// Adds the parameters at which a line's picture meets any line, in no order.
    pub fn by_all(&self, index: usize, found: &mut Found) {
        (0..self.by_board.len()).for_each(|board| self.met(index, board, found));
    }

    /// Adds the parameters at which a line's picture meets those of a board or a hollow.
    fn met(&self, index: usize, board: usize, found: &mut Found) {
        let line = &self.lines[index];
        let Some((first, tree)) = self.by_board.get(board) else { return };
        let others = tree.meeting(self.boxes[index]).map(|own| own + first).filter(|other| *other != index);
        let from_left = |a: usize, b: usize| self.boxes[a].x0.total_cmp(&self.boxes[b].x0).then(a.cmp(&b)).is_lt();
        for other in others {
            found.tests += 1;
            let places = &mut found.places;
            // Either way round the same pair is asked the same question.
            if from_left(index, other) {
                meetings(&line.seen, &self.lines[other].seen, &mut |own, _| places.push(own));
            } else {
                meetings(&self.lines[other].seen, &line.seen, &mut |_, own| places.push(own));
            }
        }
    }
}

/// Places at which a line may be cut, and how many lines were held against it for them.
#[derive(Debug, Default)]
pub struct Found {
    /// Parameters of its picture.
    pub places: Vec<f64>,
    /// Tests of line against line.
    pub tests: usize,
}

/// Tells the parameter pairs at which two pieces meet: both ends of what they share where they run together.
fn meetings(a: &Segment, b: &Segment, tell: &mut impl FnMut(f64, f64)) {
    match (a, b) {
        (Segment::Line(p), Segment::Line(q)) => straight_meetings((p.p0, p.p1 - p.p0), (q.p0, q.p1 - q.p0), tell),
        (Segment::Line(line), curve) => {
            line_and_curve((line.p0, line.p1 - line.p0), curve).into_iter().for_each(|(t, u)| tell(t, u));
        }
        (curve, Segment::Line(line)) => {
            line_and_curve((line.p0, line.p1 - line.p0), curve).into_iter().for_each(|(t, u)| tell(u, t));
        }
        _ => {
            // Where the pieces run nearly together a coarser look still tells them apart or together.
            let mut tolerances = (0..4).map(|k| CONTACT_TOLERANCE * 10_f64.powi(k));
            for c in tolerances.find_map(|tolerance| contacts(a, b, tolerance)).unwrap_or_default() {
                tell(c.first.0, c.second.0);
                tell(c.first.1, c.second.1);
            }
        }
    }
}

/// A point and the way to the other end.
type Straight = (Point, Vec2);

/// Where a curve passes through a line, and where an end of one lies on the other: there a silhouette leaves its rim without passing it.
fn line_and_curve((a, along): Straight, curve: &Segment) -> Vec<(f64, f64)> {
    let length = along.hypot();
    if length < SAME_POINT {
        return Vec::new();
    }
    let across = along.turn_90() / length;
    let on_line = |p: Point| (p - a).dot(along) / (length * length);
    let off = |p: Point| (p - a).dot(across);
    let bounds = curve.bounding_box().inflate(SAME_POINT, SAME_POINT);
    // A line that leaves all of the curve's box on one side comes nowhere near it.
    let corners = [(bounds.x0, bounds.y0), (bounds.x1, bounds.y0), (bounds.x1, bounds.y1), (bounds.x0, bounds.y1)];
    let sides = corners.map(|corner| off(corner.into()));
    if sides.iter().all(|side| *side > SAME_POINT) || sides.iter().all(|side| *side < -SAME_POINT) {
        return Vec::new();
    }
    let passes = crossings(curve, across, off).into_iter().map(|t| (on_line(curve.eval(t)), t));
    let ends = [0.0, 1.0].into_iter().filter(|t| off(curve.eval(*t)).abs() < SAME_POINT);
    let mut found: Vec<(f64, f64)> = passes.chain(ends.map(|t| (on_line(curve.eval(t)), t))).collect();
    let slack = SAME_POINT / length;
    found.retain(|(u, _)| *u > -slack && *u < 1.0 + slack);
    for (u, p) in [(0.0, a), (1.0, a + along)].into_iter().filter(|(_, p)| bounds.contains(*p)) {
        // What passes there is found already.
        if found.iter().any(|(passed, _)| (passed - u).abs() < slack) {
            continue;
        }
        found.extend(curve.place_within(p, SAME_POINT).map(|t| (u, t)));
    }
    found
}

fn straight_meetings((a, da): Straight, (b, db): Straight, tell: &mut impl FnMut(f64, f64)) {
    let (la, lb) = (da.hypot(), db.hypot());
    if la < SAME_POINT || lb < SAME_POINT {
        return;
    }
    let turn = da.cross(db);
    if turn.abs() > PARALLEL * la * lb {
        let (t, u) = ((b - a).cross(db) / turn, (b - a).cross(da) / turn);
        let on = |t: f64, length: f64| t * length > -SAME_POINT && (t - 1.0) * length < SAME_POINT;
        if on(t, la) && on(u, lb) {
            tell(t, u);
        }
        return;
    }
    if (b - a).cross(da).abs() > SAME_POINT * la {
        return;
    }
    let along_a = |t: f64| (b + db * t - a).dot(da) / (la * la);
    let along_b = |t: f64| (a + da * t - b).dot(db) / (lb * lb);
    for end in [0.0, 1.0] {
        tell(along_a(end), end);
        tell(end, along_b(end));
    }
}

/// Where a line enters or leaves a board that is not its own.
fn pierced(line: &SeenLine, (board, prism): (usize, &Prism), view: &View) -> Vec<f64> {
    if board == line.line.prism || !overlap(&line.line.reach(), &prism.reach) {
        return Vec::new();
    }
    let found = match &prism.turned {
        Some(turned) => pierced_round(line, prism, turned),
        None => pierced_flat(line, prism),
    };
    found.into_iter().filter_map(|t| line.picture_parameter(t, view)).collect()
}

fn pierced_flat(line: &SeenLine, prism: &Prism) -> Vec<f64> {
    let planes: Vec<Plane> = prism.planes.iter().map(|p| prism.placement.plane_to_world(p)).collect();
    // A line that only stands against the board is nowhere inside it.
    if planes.iter().any(|plane| line.line.least(|p| plane.distance(p), plane.normal()) > -UNSEEN) {
        return Vec::new();
    }
    let mut found = Vec::new();
    for world in planes {
        found.extend(line.line.passes(|p| world.distance(p), world.normal()));
    }
    if let Some(flat) = line.line.on_board(prism) {
        for segment in prism.outline.segments() {
            meetings(&flat, segment, &mut |t, _| found.push(t));
        }
    }
    found
}

/// Where a straight line enters or leaves a turned board. A curved one that ran into a turned board would be told as a clash.
fn pierced_round(line: &SeenLine, prism: &Prism, turned: &Turned) -> Vec<f64> {
    let Segment::Line(_) = line.line.curve else { return Vec::new() };
    let (from, to) = (line.line.at(0.0), line.line.at(1.0));
    let stretches = round::inside(prism, turned, from, to - from);
    stretches.into_iter().flat_map(|(a, b)| [a, b]).filter(|t| (0.0..=1.0).contains(t)).collect()
}

fn overlap(a: &[Point3; 2], b: &[Point3; 2]) -> bool {
    let axes: [fn(Point3) -> f64; 3] = [|p| p.x, |p| p.y, |p| p.z];
    axes.iter().all(|axis| axis(a[0]) < axis(b[1]) - UNSEEN && axis(b[0]) < axis(a[1]) - UNSEEN)
}

impl super::edges::SpaceLine {
    /// The line laid flat on another board's (u, v); `None` where it runs straight through the thickness.
    fn on_board(&self, prism: &Prism) -> Option<Segment> {
        let o = prism.placement.to_board(self.lift(Point::ORIGIN));
        let [a, b] = [self.a, self.b].map(|d| prism.placement.direction_to_board(d));
        let flat = self.curve.transformed(Affine::new([a.x, a.y, b.x, b.y, o.x, o.y]));
        let bounds = flat.bounding_box();
        (bounds.width().max(bounds.height()) > UNSEEN).then_some(flat)
    }
}
