//! Arcs as SVG's arc command: from conjugate half-diameters to radii, rotation and flags.

use crate::geometry::{Arc, Point};
use crate::tolerance::{ARC_ILL_SET, SAME_PLACE};
use std::f64::consts::{PI, TAU};

/// One arc command.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ArcTo {
    /// Larger and smaller radius, mm.
    pub radii: (f64, f64),
    /// Turn of the larger radius from x, radians.
    pub rotation: f64,
    /// Whether it takes more than half a turn.
    pub large: bool,
    /// Whether it turns from x towards y.
    pub positive: bool,
    /// Where it ends.
    pub to: Point,
}

/// The commands that draw an arc (in the file's axes), the last one ending in `end`.
///
/// An arc near half or near a whole turn is drawn in equal parts; so a circle of two half turns becomes four arcs.
pub(super) fn arc_commands(arc: &Arc, end: Point) -> Vec<ArcTo> {
    let turn = arc.sweep.abs();
    let ill_set = |turn: f64| (turn - PI).abs() < ARC_ILL_SET || turn > TAU - ARC_ILL_SET;
    let parts = (1..1000).find(|parts| !ill_set(turn / f64::from(*parts))).unwrap_or(1);
    let sweep = arc.sweep / f64::from(parts);
    let mut commands: Vec<ArcTo> =
        (0..parts).map(|part| command(&Arc { start: arc.start + sweep * f64::from(part), sweep, ..*arc })).collect();
    if let Some(last) = commands.last_mut() {
        last.to = end;
    }
    commands
}

fn command(arc: &Arc) -> ArcTo {
    let (large_radius, small_radius, rotation) = principal_axes(arc);
    ArcTo {
        radii: (large_radius, small_radius),
        rotation,
        large: arc.sweep.abs() > PI,
        positive: arc.p.cross(arc.q) * arc.sweep > 0.0,
        to: arc.at_angle(arc.start + arc.sweep),
    }
}

/// The half-axes of the ellipse with conjugate half-diameters `p` and `q`, and the turn of the larger: the singular
/// values and left rotation of the matrix (p q), in closed form (J. Blinn, Consider the lowly 2 x 2 matrix, 1996).
fn principal_axes(arc: &Arc) -> (f64, f64, f64) {
    let (p, q) = (arc.p, arc.q);
    let (e, f) = ((p.x + q.y) / 2.0, (p.x - q.y) / 2.0);
    let (g, h) = ((p.y + q.x) / 2.0, (p.y - q.x) / 2.0);
    let (even, odd) = (e.hypot(h), f.hypot(g));
    // A circle has no larger radius: one of the two terms vanishes, and any rotation will do.
    let round = even.min(odd) < SAME_PLACE;
    let rotation = if round { 0.0 } else { (h.atan2(e) + g.atan2(f)) / 2.0 };
    (even + odd, (even - odd).abs(), rotation)
}

#[cfg(test)]
mod tests {
    use super::{Arc, PI, Point, TAU, arc_commands, principal_axes};
    use kurbo::{Affine, Vec2};

    #[test]
    fn axes_of_a_turned_and_sheared_ellipse_hold_its_points() {
        for (p, q) in [
            (Vec2::new(30.0, 4.0), Vec2::new(-7.0, 12.0)),
            (Vec2::new(1.0, 20.0), Vec2::new(5.0, 3.0)),
            (Vec2::new(0.0, -9.0), Vec2::new(40.0, 0.0)),
        ] {
            let arc = Arc { center: Point::ORIGIN, p, q, start: 0.3, sweep: 1.0 };
            let (a, b, turn) = principal_axes(&arc);
            for step in 0..16 {
                let on = Affine::rotate(-turn) * arc.at_angle(f64::from(step) * 0.4);
                assert!(((on.x / a).powi(2) + (on.y / b).powi(2) - 1.0).abs() < 1e-12);
            }
            assert!(a >= b);
        }
    }

    #[test]
    fn whole_and_near_half_turns_are_drawn_in_parts() {
        let count = |sweep: f64| {
            let arc = Arc::circular(Point::ORIGIN, 500.0, 0.2, sweep);
            arc_commands(&arc, arc.at_angle(0.2 + sweep)).len()
        };
        assert_eq!([1.0, 2.8, -2.8, 4.0, -5.9].map(count), [1, 1, 1, 1, 1]);
        assert_eq!([PI, -PI, PI + 0.01, PI - 0.01].map(count), [2, 2, 2, 2]);
        // Two halves would be as ill set as the whole.
        assert_eq!(count(TAU), 3);
    }
}
