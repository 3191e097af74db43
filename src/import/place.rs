//! Laying imported shapes where they are wanted.

use crate::geometry::{Affine, Path, Point, Rect};
use crate::units::{Angle, Length};

/// How imported shapes are laid.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Placing {
    /// Width, across before turning, to which all shapes together are scaled; as drawn where not given.
    pub width: Option<Length>,
    /// Whether they are mirrored, left to right, before turning.
    pub mirrored: bool,
    /// Turn about their middle, anticlockwise.
    pub turn: Angle,
    /// Where the middle of their box (before turning) comes to lie; where it was, if not given.
    pub at: Option<Point>,
}

/// The map that lays the paths as asked. `None` where a width is asked for that is not a positive number, or of shapes that have none.
pub fn placed(paths: &[Path], placing: &Placing) -> Option<Affine> {
    let bounds: Rect = paths.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b))?;
    let scale = match placing.width {
        Some(width) => width.mm() / bounds.width(),
        None => 1.0,
    };
    if !(scale > 0.0 && scale.is_finite() && placing.turn.radians().is_finite()) {
        return None;
    }
    let middle = bounds.center();
    let at = placing.at.unwrap_or(middle);
    let across = if placing.mirrored { -scale } else { scale };
    Some(
        Affine::translate(at.to_vec2())
            * Affine::rotate(placing.turn.radians())
            * Affine::scale_non_uniform(across, scale)
            * Affine::translate(-middle.to_vec2()),
    )
}

#[cfg(test)]
mod tests {
    use super::{Angle, Length, Path, Placing, Point, placed};

    #[test]
    fn scaled_mirrored_turned_and_moved() {
        let ell = Path::polyline(&[(0.0, 0.0), (20.0, 0.0), (20.0, 10.0)].map(Point::from), false);
        let placing = Placing {
            width: Some(Length::from_mm(40.0)),
            mirrored: true,
            turn: Angle::from_degrees(90.0),
            at: Some(Point::new(100.0, 50.0)),
        };
        let found = ell.transformed(placed(std::slice::from_ref(&ell), &placing).expect("it has a width"));
        // (20, 10) lies (10, 5) off the middle; mirrored and doubled (-20, 10), turned (-10, -20).
        assert!(found.end().expect("an end").distance(Point::new(90.0, 30.0)) < 1e-9);
        let as_drawn = placed(std::slice::from_ref(&ell), &Placing::default());
        assert_eq!(as_drawn.map(|map| ell.transformed(map)), Some(ell));
        let upright = Path::line(Point::ORIGIN, Point::new(0.0, 5.0));
        assert_eq!(placed(&[upright], &placing), None);
        assert_eq!(placed(&[], &placing), None);
    }
}
