//! From where a piece is looked at.

use crate::geometry::{Affine, Plane, Point, Point3, Vec3};

/// A direction of sight, the piece seen from far away: lines that are parallel stay parallel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    right: Vec3,
    up: Vec3,
    towards: Vec3,
}

impl View {
    /// From the front (-y).
    pub const FRONT: View = View { right: Vec3::X, up: Vec3::Z, towards: Vec3::new(0.0, -1.0, 0.0) };
    /// From the right (+x).
    pub const RIGHT: View = View { right: Vec3::Y, up: Vec3::Z, towards: Vec3::X };
    /// From the left (-x).
    pub const LEFT: View = View { right: Vec3::new(0.0, -1.0, 0.0), up: Vec3::Z, towards: Vec3::new(-1.0, 0.0, 0.0) };
    /// From above, the front towards the reader.
    pub const ABOVE: View = View { right: Vec3::X, up: Vec3::Y, towards: Vec3::Z };
    /// From below, the front away from the reader.
    pub const BELOW: View =
        View { right: Vec3::X, up: Vec3::new(0.0, -1.0, 0.0), towards: Vec3::new(0.0, 0.0, -1.0) };

    /// Looking at `towards` turned about: the eye is far away in that direction, plumb lines stand upright on the page
    /// (where the eye is straight above or below, as [`View::ABOVE`] and [`View::BELOW`]). `None` for no direction.
    pub fn from_direction(towards: Vec3) -> Option<View> {
        let towards = towards.unit()?;
        let Some(right) = Vec3::Z.cross(towards).unit() else {
            return Some(if towards.z > 0.0 { View::ABOVE } else { View::BELOW });
        };
        Some(View { right, up: towards.cross(right), towards })
    }

    /// From the front, the right and above, so that the three axes are shortened alike (ISO 5456-3).
    pub fn isometric() -> View {
        let (a, b) = (0.5_f64.sqrt(), (1.0_f64 / 6.0).sqrt());
        let third = (1.0_f64 / 3.0).sqrt();
        View { right: Vec3::new(a, a, 0.0), up: Vec3::new(-b, b, 2.0 * b), towards: Vec3::new(third, -third, third) }
    }

    /// Square to a section's plane, from the side that is taken away (out of the plane's normal).
    pub fn of_section(plane: &Plane) -> Option<View> {
        View::from_direction(plane.normal())
    }

    /// The direction in space that runs to the right on the page.
    pub const fn right(&self) -> Vec3 {
        self.right
    }

    /// The direction in space that runs up the page.
    pub const fn up(&self) -> Vec3 {
        self.up
    }

    /// The direction to the eye.
    pub const fn towards(&self) -> Vec3 {
        self.towards
    }

    /// Where a point in space is seen, mm, true to size.
    pub fn project(&self, p: Point3) -> Point {
        Point::new(self.right.dot(p.to_vec()), self.up.dot(p.to_vec()))
    }

    /// How near to the eye a point lies, mm; greater is nearer.
    pub fn nearness(&self, p: Point3) -> f64 {
        self.towards.dot(p.to_vec())
    }

    /// The map from the coordinates of a plane in space, given by its origin and two directions, to the view.
    pub fn map_of(&self, origin: Point3, a: Vec3, b: Vec3) -> Affine {
        let o = self.project(origin);
        Affine::new([self.right.dot(a), self.up.dot(a), self.right.dot(b), self.up.dot(b), o.x, o.y])
    }
}

#[cfg(test)]
mod tests {
    use super::View;
    use crate::geometry::{Point3, Vec3};

    #[test]
    fn every_view_is_square_and_right_handed() {
        let section = View::from_direction(Vec3::new(1.0, 2.0, -0.5)).unwrap();
        for view in [View::FRONT, View::RIGHT, View::LEFT, View::ABOVE, View::BELOW, View::isometric(), section] {
            let turned = view.right.cross(view.up) - view.towards;
            assert!(turned.length() < 1e-12 && (view.right.length() - 1.0).abs() < 1e-12, "{view:?}");
        }
    }

    #[test]
    fn an_isometric_view_shortens_the_axes_alike() {
        let seen = [Vec3::X, Vec3::Y, Vec3::Z].map(|axis| {
            let p = View::isometric().project(Point3::ORIGIN + axis);
            p.to_vec2().hypot()
        });
        // sqrt(2/3), by hand.
        assert!(seen.iter().all(|length| (length - 0.816_496_580_927_726).abs() < 1e-12));
    }
}
