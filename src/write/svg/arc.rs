//! Arcs as SVG's arc command: from conjugate half-diameters to radii, rotation and flags.

use crate::geometry::{Arc, Point};
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

/// The last place of a written coordinate, mm.
const LAST_PLACE: f64 = 1e-4;

/// How near to half a turn an arc must not come, radians, since the command gives end points and radii only: there a
/// rounding of the ends moves the centre by ten times as much and more.
const ILL_SET: f64 = 0.1;

/// What counts as exactly half a turn, radians.
const HALF: f64 = 1e-9;

/// The commands that draw an arc (in the file's axes), the last one ending in `end`.
///
/// An arc near half or near a whole turn is drawn in parts, since rounded end points would not fix its centre. Exactly
/// half a turn is drawn as one, its radius rounded down: SVG then enlarges the radius until the arc fits its ends,
/// which puts the centre halfway between them.
pub(super) fn arc_commands(arc: &Arc, end: Point) -> Vec<ArcTo> {
    let mut commands = Vec::new();
    divide(arc, &mut commands);
    if let Some(last) = commands.last_mut() {
        last.to = end;
    }
    commands
}

fn divide(arc: &Arc, commands: &mut Vec<ArcTo>) {
    let turn = arc.sweep.abs();
    let half = (turn - PI).abs() < HALF;
    let ill_set = !half && ((turn - PI).abs() < ILL_SET || turn > TAU - 2.0 * ILL_SET);
    if ill_set {
        let sweep = arc.sweep / 2.0;
        divide(&Arc { sweep, ..*arc }, commands);
        divide(&Arc { start: arc.start + sweep, sweep, ..*arc }, commands);
    } else {
        commands.push(command(arc, half));
    }
}

fn command(arc: &Arc, half: bool) -> ArcTo {
    let (large_radius, small_radius, rotation) = principal_axes(arc);
    let written = |radius: f64| if half { (radius - LAST_PLACE).max(LAST_PLACE) } else { radius };
    ArcTo {
        radii: (written(large_radius), written(small_radius)),
        rotation,
        large: !half && arc.sweep.abs() > PI,
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
    let round = even.min(odd) < LAST_PLACE / 10.0;
    let rotation = if round { 0.0 } else { (h.atan2(e) + g.atan2(f)) / 2.0 };
    (even + odd, (even - odd).abs(), rotation)
}

#[cfg(test)]
mod tests {
    use super::*;
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
        assert_eq!([1.0, PI, -PI, 4.0].map(count), [1, 1, 1, 1]);
        assert_eq!([TAU, PI + 0.01, PI - 0.01].map(count), [2, 2, 2]);
    }
}
