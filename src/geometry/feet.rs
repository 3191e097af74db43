//! Feet of the perpendiculars from a point to a cubic, every one of them.
//!
//! At a foot the way to the point stands square to the curve: a polynomial of the fifth degree is nothing there. Written by
//! Bernstein's polynomials it is halved until each part changes its sign once at most (Descartes' rule; G. Farin, "Curves and
//! Surfaces for CAGD", from memory), so that no turn is too sharp to be seen.

use super::measure::root_between;
use kurbo::{CubicBez, Point};

/// Parameters of a cubic, 0 and 1 among them, one of which is nearest to `point`: its ends and the feet about which the curve
/// recedes on both sides.
pub(super) fn feet(cubic: &CubicBez, point: Point) -> Vec<f64> {
    // Halved so often, a part is shorter than the parameter's rounding lets two feet be told apart.
    const DEEPEST: u32 = 45;
    let mut found = vec![0.0, 1.0];
    let mut parts = vec![(Quintic::of_receding(cubic, point), 0.0, 1.0, 0)];
    while let Some((part, from, to, depth)) = parts.pop() {
        match part.changes() {
            0 => {}
            1 if part.falls() => {}
            1 => {
                let rises = part.rises();
                let at = root_between(&|t| along(part.0, t), &|t| along(rises, t), 0.0, 1.0, true);
                found.push(from + (to - from) * at);
            }
            _ if depth == DEEPEST => found.push((from + to) / 2.0),
            _ => {
                let middle = (from + to) / 2.0;
                let (left, right) = part.halves();
                // A root that falls on the cut changes no sign on either side of it.
                if right.0[0] == 0.0 {
                    found.push(middle);
                }
                parts.push((left, from, middle, depth + 1));
                parts.push((right, middle, to, depth + 1));
            }
        }
    }
    found
}

/// A polynomial of the fifth degree over 0 to 1, by Bernstein's coefficients.
#[derive(Clone, Copy)]
struct Quintic([f64; 6]);

impl Quintic {
    /// How fast the curve recedes from the point, mm² by the parameter: its way from there times its derivative, over 3.
    fn of_receding(cubic: &CubicBez, point: Point) -> Self {
        let away = [cubic.p0, cubic.p1, cubic.p2, cubic.p3].map(|corner| corner - point);
        let legs = [cubic.p1 - cubic.p0, cubic.p2 - cubic.p1, cubic.p3 - cubic.p2];
        // A product's coefficients: those of its factors, weighed by binomials of 3, 2 and 5.
        let (threes, twos, fives) = ([1.0, 3.0, 3.0, 1.0], [1.0, 2.0, 1.0], [1.0, 5.0, 10.0, 10.0, 5.0, 1.0]);
        let mut product = [0.0; 6];
        for (i, corner) in away.iter().enumerate() {
            for (j, leg) in legs.iter().enumerate() {
                product[i + j] += threes[i] * twos[j] / fives[i + j] * corner.dot(*leg);
            }
        }
        Quintic(product)
    }

    /// How often the coefficients change their sign: at least as often as the polynomial does.
    fn changes(&self) -> usize {
        let signs = self.0.iter().filter(|c| **c != 0.0).map(|c| *c > 0.0);
        signs.clone().zip(signs.skip(1)).filter(|(one, next)| one != next).count()
    }

    /// Whether a polynomial of one change goes from above to below: there the curve is farthest, not nearest.
    fn falls(&self) -> bool {
        self.0.iter().find(|c| **c != 0.0).is_some_and(|first| *first > 0.0)
    }

    /// Both halves, each over 0 to 1 again (de Casteljau).
    fn halves(&self) -> (Self, Self) {
        let (mut row, mut left, mut right) = (self.0, [0.0; 6], [0.0; 6]);
        for step in 0..6 {
            (left[step], right[5 - step]) = (row[0], row[5 - step]);
            for k in 0..5 - step {
                row[k] = (row[k] + row[k + 1]) / 2.0;
            }
        }
        (Quintic(left), Quintic(right))
    }

    /// The coefficients of its derivative.
    fn rises(&self) -> [f64; 5] {
        let [a, b, c, d, e, f] = self.0;
        [b - a, c - b, d - c, e - d, f - e].map(|rise| 5.0 * rise)
    }
}

/// De Casteljau's value at `t` of the polynomial with these coefficients.
fn along<const N: usize>(mut row: [f64; N], t: f64) -> f64 {
    for last in (1..N).rev() {
        for k in 0..last {
            row[k] += (row[k + 1] - row[k]) * t;
        }
    }
    row[0]
}

#[cfg(test)]
mod tests {
    use super::{CubicBez, Point, feet};
    use kurbo::{ParamCurve, ParamCurveNearest};

    /// A turn far sharper than a sampling in 24 steps sees: 0.001 mm off either side of it, and kurbo's own search beside it.
    #[test]
    fn a_sharp_turn_is_not_overlooked() {
        // Control points almost back on each other: the curve turns round within a thousandth of its parameter.
        let cubic = CubicBez::new((0.0, 0.0), (200.0, 0.3), (-40.0, 0.0), (120.0, 0.2));
        for k in 0..=2000 {
            let place = cubic.eval(f64::from(k) / 2000.0);
            for off in [(0.001, 0.0), (-0.001, 0.0), (0.0, 0.001), (0.0, -0.001), (0.3, 7.0)] {
                let point = Point::new(place.x + off.0, place.y + off.1);
                let nearest = |t: f64| cubic.eval(t).distance(point);
                let found = feet(&cubic, point).into_iter().map(nearest).fold(f64::MAX, f64::min);
                let by_kurbo = cubic.nearest(point, 1e-9).distance_sq.sqrt();
                assert!(
                    found <= by_kurbo + 1e-9 && found <= f64::hypot(off.0, off.1) + 1e-9,
                    "{k}: {found} {by_kurbo}"
                );
            }
        }
    }
}
