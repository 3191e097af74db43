//! Straight pieces made fewer: a traced drawing has thousands that no tool and no eye tells from few.

use crate::geometry::Segment;
use crate::tolerance::BELOW_A_RULE;
use kurbo::{Point, Vec2};

/// A closed ring in which straight pieces that keep within [`BELOW_A_RULE`] of one line are that line; curves stay. Corners stay
/// where they are. A ring of which then nothing would be left stays as it is.
pub(super) fn thinned(ring: &[Segment]) -> Vec<Segment> {
    let mut thin = Thin { made: Vec::new(), run: None };
    for segment in ring {
        match segment {
            Segment::Line(line) => thin.go_on(line.p0, line.p1),
            Segment::Arc(_) | Segment::Cubic(_) => {
                thin.end_run();
                thin.made.push(*segment);
            }
        }
    }
    thin.end_run();
    let is_shape = thin.made.len() > 2 || thin.made.iter().any(|piece| !matches!(piece, Segment::Line(_)));
    if is_shape { thin.made } else { ring.to_vec() }
}

struct Thin {
    made: Vec<Segment>,
    run: Option<Run>,
}

/// Straight pieces that one line stands for so far.
struct Run {
    from: Point,
    to: Point,
    /// Farthest from the beginning that it has come, mm.
    farthest: f64,
    /// The directions that pass near enough to every point: one of them, and how far either way from it, radians.
    directions: Option<(Vec2, f64, f64)>,
}

impl Thin {
    fn go_on(&mut self, from: Point, to: Point) {
        if self.run.as_mut().is_some_and(|run| run.takes(to)) {
            return;
        }
        self.end_run();
        let mut run = Run { from, to, farthest: 0.0, directions: None };
        run.takes(to);
        self.run = Some(run);
    }

    fn end_run(&mut self) {
        self.made.extend(self.run.take().map(|run| Segment::line(run.from, run.to)));
    }
}

impl Run {
    /// Goes on to a point, where the line there passes near enough to all before it and does not run back.
    fn takes(&mut self, to: Point) -> bool {
        let along = to - self.from;
        let far = along.hypot();
        if far < self.farthest - BELOW_A_RULE {
            return false;
        }
        if far > BELOW_A_RULE {
            // The line to any point in this sector passes this one within the tolerance.
            let half = (BELOW_A_RULE / far).asin();
            let (ahead, low, high) = self.directions.unwrap_or((along, -half, half));
            let turn = ahead.cross(along).atan2(ahead.dot(along));
            if turn < low || turn > high {
                return false;
            }
            self.directions = Some((ahead, low.max(turn - half), high.min(turn + half)));
        } else if self.directions.is_some() {
            return false;
        }
        (self.to, self.farthest) = (to, self.farthest.max(far));
        true
    }
}

#[cfg(test)]
mod tests {
    use super::thinned;
    use crate::geometry::{Path, Point, Rect};
    use crate::tolerance::{BELOW_A_RULE, ROUNDING};
    use std::f64::consts::TAU;

    /// Written to a thousandth, as drawings are, so that every corner is a little off.
    #[test]
    fn a_traced_circle_keeps_within_the_tolerance() {
        let at = |i: u32| {
            let angle = TAU * f64::from(i) / 20_000.0;
            let round = |mm: f64| (mm * 1e3).round() / 1e3;
            Point::new(round(70.0 * angle.cos()), round(70.0 * angle.sin()))
        };
        let points: Vec<Point> = (0..20_000).map(at).collect();
        let thin = Path::closed(thinned(Path::polyline(&points, true).segments()));
        let few = thin.segments().len();
        assert!(few > 100 && few * 10 < points.len(), "{few}");
        for point in points {
            let (far, _) = thin.nearest(point).expect("a ring");
            assert!(far < BELOW_A_RULE + 1e-9, "{far}");
        }
        let pieces = thin.segments();
        for (before, after) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
            assert!(before.end().distance(after.start()) < ROUNDING);
        }
    }

    #[test]
    fn corners_and_what_runs_back_stay() {
        let plain = Path::rectangle(Rect::new(0.0, 0.0, 50.0, 30.0));
        assert_eq!(thinned(plain.segments()), plain.segments());
        let spike = [(0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (60.0, 9.0), (50.0, 20.0), (0.0, 20.0)].map(Point::from);
        let spike = Path::polyline(&spike, true);
        assert_eq!(thinned(spike.segments()), spike.segments());
        let tiny = Path::rectangle(Rect::new(0.0, 0.0, 5e-4, 5e-4));
        assert_eq!(thinned(tiny.segments()), tiny.segments());
        let circle = Path::circle(Point::ORIGIN, 4.0);
        assert_eq!(thinned(circle.segments()), circle.segments());
    }
}
