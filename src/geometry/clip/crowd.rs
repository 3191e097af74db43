//! Pieces of which those near a rectangle are asked, and to which more come.

use super::rect::spans_inside;
use crate::geometry::boxes::{BoxTree, within_reach};
use crate::geometry::{Path, Point, Segment};
use crate::tolerance::{PLAINLY, SAME_POINT};
use kurbo::{Affine, Rect};

/// So many newcomers are asked one by one before a tree takes them in.
const NEWCOMERS: usize = 64;

/// Steps by which a stretch of a curve is followed to learn which way it runs.
const CURVE_STEPS: usize = 8;

/// Pieces of paths. A question costs about as much as the pieces near the rectangle; more may come at any time.
#[derive(Debug, Clone, Default)]
pub struct Crowd {
    pieces: Vec<Segment>,
    /// Trees over the first of them, each of a run of pieces shorter than the run before it.
    settled: Vec<Run>,
    /// Boxes of those that come after.
    newcomers: Vec<Rect>,
}

/// A tree over the pieces from `first`.
#[derive(Debug, Clone)]
struct Run {
    first: usize,
    tree: BoxTree,
}

impl Crowd {
    /// Takes in the pieces of one more path.
    pub fn add(&mut self, path: &Path) {
        self.pieces.extend_from_slice(path.segments());
        self.newcomers.extend(path.segments().iter().map(Segment::bounding_box));
        if self.newcomers.len() > NEWCOMERS {
            self.settle();
        }
    }

    /// Takes the newcomers into a tree, with every run before that is no longer: so each piece settles a few times only, and
    /// there are few trees.
    fn settle(&mut self) {
        let mut first = self.pieces.len() - self.newcomers.len();
        while let Some(before) = self.settled.last().filter(|run| first - run.first <= self.pieces.len() - first) {
            first = before.first;
            self.settled.pop();
        }
        let tree = BoxTree::new(self.pieces[first..].iter().map(Segment::bounding_box).collect());
        self.settled.push(Run { first, tree });
        self.newcomers.clear();
    }

    /// The pieces whose boxes come near a rectangle.
    fn near(&self, around: Rect) -> impl Iterator<Item = &Segment> {
        let first = self.pieces.len() - self.newcomers.len();
        let newcomers = self.newcomers.iter().enumerate();
        let newcomers = newcomers.filter(move |(_, bounds)| within_reach(bounds, &around, 0.0));
        let settled = self.settled.iter();
        let settled = settled.flat_map(move |run| run.tree.meeting(around).map(|index| run.first + index));
        newcomers.map(move |(index, _)| first + index).chain(settled).filter_map(|index| self.pieces.get(index))
    }

    /// Whether some piece runs along a straight line: leaning to it by less than the angle of which `lean` is the sine, it meets it, or
    /// stays within `beside` mm of it for more than `long` mm.
    pub fn runs_along(&self, (from, to): (Point, Point), lean: f64, (beside, long): (f64, f64)) -> bool {
        let turn = levelling(from, to);
        let strip = Rect::new(0.0, -beside, from.distance(to), beside);
        let around = Rect::from_points(from, to).inflate(beside, beside);
        // What starts where the other does meets it, whatever rounding adds.
        let side = |y: f64| if y.abs() < SAME_POINT { 0.0 } else { y };
        let way = (to - from).normalize();
        // Most that is near leans too much: of straight pieces that is seen before anything is cut.
        let leans = |piece: &&Segment| match piece {
            Segment::Line(line) => {
                let along = line.p1 - line.p0;
                along.cross(way).abs() <= lean * along.hypot() + PLAINLY
            }
            _ => true,
        };
        self.near(around).filter(leans).any(|piece| {
            let piece = piece.transformed(turn);
            let steps = if matches!(piece, Segment::Line(_)) { 1 } else { CURVE_STEPS };
            let spans = match &piece {
                Segment::Line(line) => stretch_inside((line.p0, line.p1), strip).into_iter().collect(),
                _ => spans_inside(&piece, strip),
            };
            let bits = spans.into_iter().flat_map(|(a, b)| {
                let at = move |k: usize| a + (b - a) * k as f64 / steps as f64;
                (0..steps).map(move |k| (at(k), at(k + 1)))
            });
            let bits = bits.map(|(a, b)| (piece.eval(a), piece.eval(b)));
            let leaning = bits.filter(|(a, b)| (b.y - a.y).abs() <= lean * a.distance(*b));
            let (mut length, mut meets) = (0.0, false);
            leaning.for_each(|(a, b)| {
                length += (b.x - a.x).abs();
                meets |= side(a.y) * side(b.y) <= 0.0 && a != b;
            });
            meets || length > long
        })
    }

    /// Whether any piece lies inside a rectangle that `turn` makes upright, or on its border.
    pub fn touches(&self, rect: Rect, turn: Affine) -> bool {
        let around = turn.inverse().transform_rect_bbox(rect);
        let inside = |index: usize| match &self.pieces[index] {
            Segment::Line(line) => stretch_inside((turn * line.p0, turn * line.p1), rect).is_some(),
            piece => {
                let piece = piece.transformed(turn);
                rect.contains(piece.start()) || !spans_inside(&piece, rect).is_empty()
            }
        };
        let first = self.pieces.len() - self.newcomers.len();
        let newcomers = self.newcomers.iter().enumerate().filter(|(_, bounds)| within_reach(bounds, &around, 0.0));
        let mut settled = self.settled.iter();
        newcomers.map(|(index, _)| first + index).any(inside)
            || settled.any(|run| run.tree.meeting(around).any(|index| inside(run.first + index)))
    }
}

/// The turn that makes a straight line level, from the origin to the right.
pub fn levelling(from: Point, to: Point) -> Affine {
    let way = (to - from).normalize();
    Affine::new([way.x, -way.y, way.y, way.x, 0.0, 0.0]) * Affine::translate(-from.to_vec2())
}

/// The stretch of a straight line within a rectangle, its border included, as shares of the line (Liang and Barsky's clipping, from
/// memory).
fn stretch_inside((a, b): (Point, Point), r: Rect) -> Option<(f64, f64)> {
    let d = b - a;
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-d.x, a.x - r.x0), (d.x, r.x1 - a.x), (-d.y, a.y - r.y0), (d.y, r.y1 - a.y)] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            low = low.max(q / p);
        } else {
            high = high.min(q / p);
        }
    }
    (low <= high).then_some((low, high))
}

#[cfg(test)]
mod tests {
    use super::{Affine, Crowd, Path, Point, Rect};
    use crate::geometry::PathIndex;

    #[test]
    fn a_line_along_another_is_told_from_one_that_crosses_it() {
        let leader = (Point::new(10.0, 10.0), Point::new(40.0, 10.0));
        let along = |path: Path| {
            let mut crowd = Crowd::default();
            crowd.add(&path);
            crowd.runs_along(leader, 0.26, (0.8, 1.5))
        };
        let line = |a: (f64, f64), b: (f64, f64)| along(Path::line(a.into(), b.into()));
        assert!(line((0.0, 10.0), (60.0, 10.0)) && line((0.0, 10.5), (60.0, 10.5)) && line((0.0, 6.0), (60.0, 14.0)));
        assert!(
            !line((25.0, 0.0), (25.0, 30.0)) && !line((10.0, 0.0), (40.0, 20.0)) && !line((0.0, 11.0), (60.0, 11.0))
        );
        assert!(!line((50.0, 10.0), (60.0, 10.0)), "beyond its end");
        assert!(along(Path::circle(Point::new(25.0, 15.0), 5.0)), "a curve that touches it");
        assert!(!along(Path::circle(Point::new(25.0, 10.0), 5.0)), "a curve that crosses it");
    }

    #[test]
    fn touches_what_each_path_alone_touches() {
        let mut crowd = Crowd::default();
        let mut paths = Vec::new();
        for k in 0..300 {
            let at = Point::new(f64::from(k % 20) * 11.0, f64::from(k / 20) * 9.0);
            let path = if k % 3 == 0 { Path::circle(at, 2.0) } else { Path::line(at, at + (5.0, 3.0)) };
            crowd.add(&path);
            paths.push(path);
            let turn = Affine::rotate(f64::from(k));
            let centre = Point::new(f64::from(k * 7 % 220), f64::from(k * 13 % 140));
            let rect = Rect::from_center_size(turn * centre, (6.0, 2.0));
            let one_by_one = paths.iter().any(|path| PathIndex::new(&path.transformed(turn)).touches(rect));
            assert_eq!(crowd.touches(rect, turn), one_by_one, "{k}");
        }
    }
}
