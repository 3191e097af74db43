//! How far two convex bodies stand apart.
//!
//! The bodies are apart by as much as their difference (every point of the one less every point of the other) is from the origin.
//! The point of it nearest to the origin is closed in on by the method of Gilbert, Johnson and Keerthi (from memory): of the corners
//! found so far those are kept that bound it, and the farthest point the other way is added.

use super::Vec3;
use crate::tolerance::{NO_DIRECTION, ROUNDING};

/// More rounds than bodies with round ends take to be told to [`ROUNDING`].
const ROUNDS: usize = 100;

/// How far two convex bodies are apart, mm; 0 where they touch or share something. `farthest` tells the point of their difference
/// that lies farthest in a direction.
pub fn separation(farthest: impl Fn(Vec3) -> Vec3) -> f64 {
    let mut nearest = farthest(Vec3::X);
    let mut corners = vec![nearest];
    for _ in 0..ROUNDS {
        let length = nearest.length();
        if length < ROUNDING {
            return 0.0;
        }
        let next = farthest(-nearest);
        // Nothing of the difference lies nearer than the plane through this point.
        if length - nearest.dot(next) / length < ROUNDING {
            return length;
        }
        corners.push(next);
        let Some((closer, kept)) = closest(&corners).filter(|(closer, _)| closer.length() < length) else {
            return length;
        };
        (nearest, corners) = (closer, kept);
    }
    nearest.length()
}

/// The point nearest to the origin of what up to four corners span, and the corners around it.
fn closest(corners: &[Vec3]) -> Option<(Vec3, Vec<Vec3>)> {
    let chosen = |mask: u32| -> Vec<Vec3> {
        corners.iter().enumerate().filter(|(i, _)| mask & (1 << i) != 0).map(|(_, corner)| *corner).collect()
    };
    let all = (1..1_u32 << corners.len()).map(chosen);
    let found = all.filter_map(|some| Some((foot(&some)?, some)));
    found.min_by(|a, b| a.0.length().total_cmp(&b.0.length()))
}

/// The foot of the origin on the line, plane or space through some corners, where it lies between them.
fn foot(corners: &[Vec3]) -> Option<Vec3> {
    let (first, rest) = corners.split_first()?;
    let sides: Vec<Vec3> = rest.iter().map(|corner| *corner - *first).collect();
    let shares = match sides.as_slice() {
        [] => Vec::new(),
        [a] => vec![share(-first.dot(*a), a.dot(*a), a.dot(*a))?],
        [a, b] => {
            let (aa, ab, bb) = (a.dot(*a), a.dot(*b), b.dot(*b));
            let (pa, pb) = (-first.dot(*a), -first.dot(*b));
            let whole = aa * bb - ab * ab;
            vec![share(pa * bb - pb * ab, whole, aa * bb)?, share(pb * aa - pa * ab, whole, aa * bb)?]
        }
        [a, b, c] => {
            let whole = a.dot(b.cross(*c));
            let size = a.length() * b.length() * c.length();
            let to = -*first;
            let parts = [to.dot(b.cross(*c)), to.dot(c.cross(*a)), to.dot(a.cross(*b))];
            parts.into_iter().map(|part| share(part, whole, size)).collect::<Option<Vec<f64>>>()?
        }
        _ => return None,
    };
    let between = shares.iter().all(|share| *share >= 0.0) && shares.iter().sum::<f64>() <= 1.0;
    between.then(|| sides.iter().zip(shares).fold(*first, |at, (side, share)| at + *side * share))
}

/// A part of a whole; `None` where that is next to nothing for its size.
fn share(part: f64, whole: f64, size: f64) -> Option<f64> {
    (whole.abs() > NO_DIRECTION * size).then(|| part / whole)
}

#[cfg(test)]
mod tests {
    use super::separation;
    use crate::geometry::Vec3;

    /// The farthest point of a box of half sides about a middle.
    fn of_box(middle: Vec3, half: Vec3, way: Vec3) -> Vec3 {
        middle + Vec3::new(half.x.copysign(way.x), half.y.copysign(way.y), half.z.copysign(way.z))
    }

    fn boxes(middle: Vec3) -> f64 {
        let half = Vec3::new(1.0, 2.0, 3.0);
        separation(|way| of_box(Vec3::new(0.0, 0.0, 0.0), half, way) - of_box(middle, half, -way))
    }

    /// Face to face, edge to edge and corner to corner, by hand.
    #[test]
    fn boxes_are_as_far_apart_as_their_nearest_points() {
        assert!((boxes(Vec3::new(5.0, 0.0, 0.0)) - 3.0).abs() < 1e-9);
        assert!((boxes(Vec3::new(5.0, 8.0, 0.0)) - 5.0).abs() < 1e-9);
        assert!((boxes(Vec3::new(4.0, 7.0, 12.0)) - 7.0).abs() < 1e-9);
        assert_eq!(boxes(Vec3::new(1.5, 0.5, 0.0)), 0.0, "they share something");
        assert!(boxes(Vec3::new(2.0, 0.0, 0.0)) < 1e-9, "they touch");
    }

    /// Balls of 2 and 3, their middles 7 apart, leave 2.
    #[test]
    fn round_bodies_are_measured_on_the_round() {
        let ball = |middle: Vec3, radius: f64, way: Vec3| middle + way * (radius / way.length());
        let (a, b) = (Vec3::new(0.0, 0.0, 0.0), Vec3::new(2.0, 3.0, 6.0));
        let found = separation(|way| ball(a, 2.0, way) - ball(b, 3.0, -way));
        assert!((found - 2.0).abs() < 1e-6, "{found}");
    }
}
