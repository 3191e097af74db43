//! Lines drawn once: where boards stand flush or one behind the other, several lines are seen as one.

use super::visible::Stroke;
use crate::geometry::{Point, Segment, Vec2};
use crate::tolerance::{ALONGSIDE, BELOW_A_RULE, NO_LEAN, TRUE_TO};
use std::collections::HashMap;
use std::f64::consts::PI;

/// A straight stroke by the line it lies on: direction in a half turn, distance from the origin, and its stretch.
struct Straight<'a> {
    stroke: &'a Stroke,
    angle: f64,
    off: f64,
    from: f64,
    to: f64,
    hidden: bool,
}

/// Each line once: the first of those that lie on each other, and no hidden line on a seen one. Returns seen and hidden.
pub fn once(visible: Vec<Stroke>, hidden: Vec<Stroke>) -> (Vec<Stroke>, Vec<Stroke>) {
    let mut kept = (Vec::new(), Vec::new());
    let all = || visible.iter().map(|s| (s, false)).chain(hidden.iter().map(|s| (s, true)));
    let mut curves: Vec<&Segment> = Vec::new();
    for (stroke, is_hidden) in all().filter(|(s, _)| !matches!(s.line, Segment::Line(_))) {
        if !curves.iter().any(|other| same_curve(other, &stroke.line)) {
            curves.push(&stroke.line);
            if is_hidden { &mut kept.1 } else { &mut kept.0 }.push(stroke.clone());
        }
    }
    let mut lines: Vec<Straight> = all().filter_map(|(s, is_hidden)| Straight::new(s, is_hidden)).collect();
    lines.sort_by(|a, b| a.angle.total_cmp(&b.angle));
    for alike in lines.chunk_by_mut(|a, b| b.angle - a.angle < NO_LEAN) {
        let direction = Vec2::from_angle(alike[0].angle);
        alike.iter_mut().for_each(|line| line.lay_along(direction));
        alike.sort_by(|a, b| a.off.total_cmp(&b.off));
        for on_one in alike.chunk_by_mut(|a, b| b.off - a.off < BELOW_A_RULE) {
            // What is seen comes before what is hidden; longer before shorter, so that a line stays whole.
            on_one.sort_by(|a, b| a.hidden.cmp(&b.hidden).then((b.to - b.from).total_cmp(&(a.to - a.from))));
            let mut covered = Covered::default();
            for line in on_one.iter() {
                let pieces = left_over(line.from, line.to, covered.meeting(line.from, line.to));
                let kept = if line.hidden { &mut kept.1 } else { &mut kept.0 };
                kept.extend(pieces.iter().map(|(from, to)| line.part(direction, *from, *to)));
                pieces.into_iter().for_each(|piece| covered.add(piece));
            }
        }
    }
    kept
}

/// The direction of a line, either way along it, from 0 to less than half a turn.
fn half_turn(way: Vec2) -> f64 {
    let turn = way.atan2().rem_euclid(PI);
    // A level line may be found just below half a turn.
    if PI - turn < NO_LEAN { 0.0 } else { turn }
}

impl<'a> Straight<'a> {
    fn new(stroke: &'a Stroke, hidden: bool) -> Option<Straight<'a>> {
        let Segment::Line(line) = stroke.line else { return None };
        Some(Straight { stroke, angle: half_turn(line.p1 - line.p0), off: 0.0, from: 0.0, to: 0.0, hidden })
    }

    fn lay_along(&mut self, direction: Vec2) {
        let (a, b) = (self.stroke.line.start().to_vec2(), self.stroke.line.end().to_vec2());
        let (s, t) = (a.dot(direction), b.dot(direction));
        (self.from, self.to) = (s.min(t), s.max(t));
        self.off = 0.5 * (a + b).dot(direction.turn_90());
    }

    /// A stretch of the line; all of it as it was.
    fn part(&self, direction: Vec2, from: f64, to: f64) -> Stroke {
        if from == self.from && to == self.to {
            return self.stroke.clone();
        }
        let at = |s: f64| {
            let line = &self.stroke.line;
            let (s0, s1) = (line.start().to_vec2().dot(direction), line.end().to_vec2().dot(direction));
            line.eval((s - s0) / (s1 - s0))
        };
        Stroke { line: Segment::line(at(from), at(to)), ..self.stroke.clone() }
    }
}

/// Stretches of one line that are taken, rising and apart.
#[derive(Default)]
struct Covered(Vec<(f64, f64)>);

impl Covered {
    /// Those that a stretch may run over.
    fn meeting(&self, from: f64, to: f64) -> &[(f64, f64)] {
        let first = self.0.partition_point(|(_, high)| *high < from);
        let last = self.0.partition_point(|(low, _)| *low <= to);
        self.0.get(first..last).unwrap_or(&[])
    }

    /// Takes a stretch. One that joins others makes one of them: many short ones stay few.
    fn add(&mut self, (from, to): (f64, f64)) {
        let first = self.0.partition_point(|(_, high)| *high < from);
        let last = self.0.partition_point(|(low, _)| *low <= to);
        let (low, high) =
            self.0[first..last].iter().fold((from, to), |(a, b), (low, high)| (a.min(*low), b.max(*high)));
        self.0.splice(first..last, [(low, high)]);
    }
}

/// Straight stretches that are seen, by the line on which they lie.
#[derive(Default)]
pub struct Taken(HashMap<(i64, i64), Covered>);

impl Taken {
    /// The line on which a straight stroke lies, to what [`once`] takes as one, and its stretch there. Of two lines on either
    /// side of a rounding edge each is its own, and then both are drawn and made one.
    fn place(line: &Segment) -> Option<((i64, i64), (f64, f64))> {
        let Segment::Line(straight) = line else { return None };
        let angle = (half_turn(straight.p1 - straight.p0) / NO_LEAN).round();
        let direction = Vec2::from_angle(angle * NO_LEAN);
        let [a, b] = [straight.p0, straight.p1].map(Point::to_vec2);
        let off = (0.5 * (a + b).dot(direction.turn_90()) / BELOW_A_RULE).round();
        let (from, to) = (a.dot(direction), b.dot(direction));
        Some(((angle as i64, off as i64), (from.min(to), from.max(to))))
    }

    /// Whether all of a straight stroke lies on what is taken.
    pub fn holds(&self, line: &Segment) -> bool {
        let held = |(line, (from, to)): ((i64, i64), (f64, f64))| {
            let covered = self.0.get(&line)?.meeting(from, to);
            Some(left_over(from, to, covered).is_empty())
        };
        Self::place(line).and_then(held).unwrap_or(false)
    }

    /// Takes a straight stroke.
    pub fn add(&mut self, line: &Segment) {
        if let Some((line, stretch)) = Self::place(line) {
            self.0.entry(line).or_default().add(stretch);
        }
    }
}

/// What of a stretch none of the others covers.
pub fn left_over(from: f64, to: f64, covered: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut left = vec![(from, to)];
    for (low, high) in covered {
        let cut = |(a, b): (f64, f64)| [(a, b.min(*low)), (a.max(*high), b)];
        left = left.into_iter().flat_map(cut).filter(|(a, b)| b - a > TRUE_TO).collect();
    }
    left
}

/// Seen lines as a drawing shows them whose lines run together when nearer than `gap` mm: a straight line is left out over the
/// stretches where a longer one runs beside it so near.
pub fn thinned(strokes: &[Stroke], gap: f64) -> Vec<Stroke> {
    let mut kept: Vec<Stroke> = strokes.iter().filter(|s| !matches!(s.line, Segment::Line(_))).cloned().collect();
    let mut lines: Vec<Straight> = strokes.iter().filter_map(|s| Straight::new(s, false)).collect();
    lines.sort_by(|a, b| a.angle.total_cmp(&b.angle));
    for alike in lines.chunk_by_mut(|a, b| b.angle - a.angle < ALONGSIDE) {
        let direction = Vec2::from_angle(alike[0].angle);
        alike.iter_mut().for_each(|line| line.lay_along(direction));
        alike.sort_by(|a, b| (b.to - b.from).total_cmp(&(a.to - a.from)));
        let mut shown: Vec<(f64, f64, f64)> = Vec::new();
        for line in alike.iter() {
            let beside = shown.iter().filter(|(off, ..)| (off - line.off).abs() < gap);
            let covered: Vec<(f64, f64)> = beside.map(|(_, from, to)| (*from, *to)).collect();
            // Ends of short lines that only touch the longer one are corners, and stay.
            if line.to - line.from < gap {
                kept.push(line.stroke.clone());
                continue;
            }
            let pieces = left_over(line.from, line.to, &covered);
            let pieces = pieces.into_iter().filter(|(a, b)| covered.is_empty() || b - a > gap);
            for (from, to) in pieces {
                kept.push(line.part(direction, from, to));
                shown.push((line.off, from, to));
            }
        }
    }
    kept
}

/// Whether two curves lie on each other from end to end, either way round.
fn same_curve(a: &Segment, b: &Segment) -> bool {
    let near = |p: Point, q: Point| p.distance(q) < BELOW_A_RULE;
    let way = (near(a.start(), b.start()) && near(a.end(), b.end()))
        || (near(a.start(), b.end()) && near(a.end(), b.start()));
    way && b.nearest(a.eval(0.5)).0 < BELOW_A_RULE
}

#[cfg(test)]
mod tests {
    use super::{Stroke, once, thinned};
    use crate::geometry::{Point, Segment};

    fn stroke(from: (f64, f64), to: (f64, f64)) -> Stroke {
        Stroke { line: Segment::line(Point::from(from), Point::from(to)), board: 0, copy: 0 }
    }

    #[test]
    fn a_line_behind_a_line_is_drawn_once() {
        let seen = vec![stroke((0.0, 1.0), (10.0, 1.0)), stroke((14.0, 1.0), (4.0, 1.0))];
        let hidden = vec![stroke((-3.0, 1.0), (20.0, 1.0)), stroke((0.0, 1.1), (1.0, 1.1))];
        let (seen, hidden) = once(seen, hidden);
        let length = |strokes: &[Stroke]| strokes.iter().map(|s| s.line.length()).sum::<f64>();
        assert!((length(&seen) - 14.0).abs() < 1e-12, "{seen:?}");
        assert!((length(&hidden) - (3.0 + 6.0 + 1.0)).abs() < 1e-12, "{hidden:?}");
    }

    #[test]
    fn of_two_lines_that_would_run_together_the_longer_is_drawn() {
        let lines =
            [stroke((0.0, 0.0), (100.0, 0.0)), stroke((10.0, 2.0), (120.0, 2.0)), stroke((0.0, 9.0), (50.0, 9.0))];
        let thin = thinned(&lines, 5.0);
        let length: f64 = thin.iter().map(|s| s.line.length()).sum();
        // The second line is the longest; of the first its 10 mm beyond it stay, and the third stands off.
        assert!((length - (110.0 + 10.0 + 50.0)).abs() < 1e-9, "{thin:?}");
        let all: f64 = thinned(&lines, 1.0).iter().map(|s| s.line.length()).sum();
        assert!((all - 260.0).abs() < 1e-9);
    }
}
