//! Curves as chains of straight steps.

use crate::geometry::{Path, Point, Segment};
use crate::tolerance::{ON_A_STEP, ROUNDING};

/// More steps than this to a piece and something is wrong with the tolerance.
const MOST_STEPS: f64 = 20_000.0;

/// The corners of a closed path with its curves in straight steps that stay within `tolerance` mm of them.
///
/// An arc is cut at fixed angles of its own circle, so that two boards which share a part of it, each turned its own way, share
/// those corners too.
pub fn polygon(path: &Path, tolerance: f64) -> Vec<Point> {
    let mut points: Vec<Point> = path.segments().iter().flat_map(|segment| corners(segment, tolerance)).collect();
    points.dedup_by(|a, b| a.distance(*b) < ROUNDING);
    while points.len() > 1 && points[0].distance(points[points.len() - 1]) < ROUNDING {
        points.pop();
    }
    points
}

/// The corners of a piece but for its last.
fn corners(segment: &Segment, tolerance: f64) -> Vec<Point> {
    let mut points = vec![segment.start()];
    match segment {
        Segment::Line(_) => {}
        Segment::Arc(arc) => {
            let size = arc.p.hypot().max(arc.q.hypot());
            // A step of angle a lies size (1 - cos a/2) inside the arc.
            let step = 2.0 * (1.0 - (tolerance / size).min(1.0)).acos();
            let (low, high) = (arc.start.min(arc.start + arc.sweep), arc.start.max(arc.start + arc.sweep));
            let (first, last) = ((low / step + ON_A_STEP).ceil(), (high / step - ON_A_STEP).floor());
            if (last - first) < MOST_STEPS {
                let mut angles: Vec<f64> = (0..=(last - first) as i64).map(|k| (first + k as f64) * step).collect();
                angles.retain(|_| last >= first);
                if arc.sweep < 0.0 {
                    angles.reverse();
                }
                points.extend(angles.into_iter().map(|a| arc.at_angle(a)));
            }
        }
        Segment::Cubic(c) => {
            // The greatest distance from n equal steps is at most the second difference over 8 n² (standard result; from memory).
            let bend = (c.p0 - c.p1 + (c.p2 - c.p1)).hypot().max((c.p1 - c.p2 + (c.p3 - c.p2)).hypot()) * 6.0;
            let steps = (bend / (8.0 * tolerance)).sqrt().ceil().clamp(1.0, MOST_STEPS) as usize;
            points.extend((1..steps).map(|k| segment.eval(k as f64 / steps as f64)));
        }
    }
    points
}

#[cfg(test)]
mod tests {
    use super::polygon;
    use crate::geometry::{Affine, Arc, Path, Point, Segment};

    #[test]
    fn a_circle_keeps_its_area_within_the_tolerance() {
        let corners = polygon(&Path::circle(Point::ORIGIN, 100.0), 0.001);
        let area = Path::polyline(&corners, true).signed_area();
        assert!((area - std::f64::consts::PI * 1e4).abs() < 0.001 * std::f64::consts::TAU * 100.0);
    }

    #[test]
    fn two_parts_of_one_arc_share_corners_however_they_are_turned() {
        let whole = Segment::Arc(Arc::circular(Point::new(5.0, 7.0), 900.0, 0.3, 0.5));
        let turn = Affine::rotate(1.0) * Affine::FLIP_X;
        let part = whole.subsegment(0.21, 0.77).transformed(turn).reversed();
        let all = polygon(&Path::open(vec![whole]), 0.001);
        let inner = polygon(&Path::open(vec![part]), 0.001);
        let back = turn.inverse();
        assert!(inner.len() > 50);
        assert!(inner.iter().skip(1).all(|p| all.iter().any(|q| (back * *p).distance(*q) < 1e-9)));
    }
}
