//! Triangles of a flat polygon, by cutting off ears.

use crate::geometry::{Point, Vec2};
use crate::tolerance::ROUNDING;

/// Triangles over a simple polygon that runs anticlockwise, as indices of its corners. Corners on a straight edge are kept.
pub(super) fn triangles(corners: &[Point]) -> Vec<[usize; 3]> {
    let mut left: Vec<usize> = (0..corners.len()).collect();
    let mut found = Vec::with_capacity(corners.len().saturating_sub(2));
    let mut at = 0;
    let mut passed = 0;
    while left.len() > 3 {
        let count = left.len();
        let tip = at % count;
        let [a, b, c] = [left[(tip + count - 1) % count], left[tip], left[(tip + 1) % count]];
        // Once round without an ear, rounding hides it: cut where it does least harm.
        let forced = passed > count;
        if forced || is_ear(corners, &left, [a, b, c]) {
            found.push([a, b, c]);
            left.remove(tip);
            passed = 0;
            // Going on by one after each ear keeps the triangles from fanning out of one corner.
            at = tip;
        } else {
            at = tip + 1;
            passed += 1;
        }
    }
    if let [a, b, c] = left.as_slice() {
        found.push([*a, *b, *c]);
    }
    found
}

/// Whether the corner `b` can be cut off: it turns left and no other corner lies in or on the triangle.
fn is_ear(corners: &[Point], left: &[usize], [a, b, c]: [usize; 3]) -> bool {
    let (pa, pb, pc) = (corners[a], corners[b], corners[c]);
    let beyond = |from: Point, to: Point, p: Point| {
        let along: Vec2 = to - from;
        along.cross(p - from) / along.hypot()
    };
    if beyond(pa, pc, pb) > -ROUNDING {
        return false;
    }
    let inside =
        |p: Point| beyond(pa, pb, p) >= -ROUNDING && beyond(pb, pc, p) >= -ROUNDING && beyond(pc, pa, p) >= -ROUNDING;
    left.iter().all(|i| [a, b, c].contains(i) || !inside(corners[*i]))
}

#[cfg(test)]
mod tests {
    use super::triangles;
    use crate::geometry::{Path, Point};

    fn area(corners: &[Point]) -> (f64, f64) {
        let sum: f64 = triangles(corners)
            .iter()
            .map(|[a, b, c]| Path::polyline(&[corners[*a], corners[*b], corners[*c]], true).signed_area())
            .inspect(|area| assert!(*area > 0.0))
            .sum();
        (sum, Path::polyline(corners, true).signed_area())
    }

    #[test]
    fn hollow_polygons_and_corners_on_straight_edges() {
        let star: Vec<Point> = (0..200)
            .map(|i| {
                let (angle, radius) =
                    (f64::from(i) * 0.01 * std::f64::consts::PI, if i % 2 == 0 { 50.0 } else { 42.0 });
                Point::new(radius * angle.cos(), radius * angle.sin())
            })
            .collect();
        let notched = [
            (0.0, 0.0),
            (5.0, 0.0),
            (10.0, 0.0),
            (10.0, 10.0),
            (6.0, 10.0),
            (6.0, 3.0),
            (4.0, 3.0),
            (4.0, 10.0),
            (0.0, 10.0),
            (0.0, 4.0),
        ];
        for corners in [star, notched.map(Point::from).to_vec()] {
            let (sum, whole) = area(&corners);
            assert!((sum - whole).abs() < 1e-9);
            assert_eq!(triangles(&corners).len(), corners.len() - 2);
        }
    }
}
