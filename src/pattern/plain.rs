//! Patterns that nobody needs to print: a rule draws them as well.

use super::Pattern;
use crate::geometry::{Path, Point, Rect, Segment};
use crate::page::{Role, Shape};
use crate::tolerance::SAME_POINT;

impl Pattern {
    /// Whether what is cut of it is one rectangle, upright as drawn, with nothing to bore or to cut within.
    pub fn is_plain_rectangle(&self) -> bool {
        let cut = self.items.iter().filter(|item| matches!(item.role, Role::Outline | Role::Opening | Role::Drill));
        let paths: Vec<&Path> = cut
            .filter_map(|item| match &item.shape {
                Shape::Stroke { path, .. } => Some(path),
                Shape::Fill { .. } | Shape::Text(_) => None,
            })
            .collect();
        matches!(paths.as_slice(), [ring] if is_rectangle(ring))
    }
}

fn is_rectangle(ring: &Path) -> bool {
    let bounds = ring.bounding_box().unwrap_or(Rect::ZERO);
    let lines = ring.segments().iter().filter(|segment| matches!(segment, Segment::Line(_)));
    let starts: Vec<Point> = lines.map(Segment::start).collect();
    let corners = [(bounds.x0, bounds.y0), (bounds.x1, bounds.y0), (bounds.x1, bounds.y1), (bounds.x0, bounds.y1)];
    let is_met = |corner: &(f64, f64)| starts.iter().any(|start| start.distance((*corner).into()) < SAME_POINT);
    ring.is_closed() && ring.segments().len() == 4 && starts.len() == 4 && corners.iter().all(is_met)
}

#[cfg(test)]
mod tests {
    use super::is_rectangle;
    use crate::geometry::{Path, Point, Rect};

    #[test]
    fn only_upright_rectangles_are_plain() {
        let corners = |all: [(f64, f64); 4]| Path::polyline(&all.map(Point::from), true);
        assert!(is_rectangle(&Path::rectangle(Rect::new(3.0, 4.0, 500.0, 90.0))));
        assert!(is_rectangle(&corners([(0.0, 9.0), (7.0, 9.0), (7.0, 0.0), (0.0, 0.0)])));
        assert!(!is_rectangle(&corners([(0.0, 0.0), (7.0, 0.0), (7.5, 9.0), (0.0, 9.0)])));
        assert!(!is_rectangle(&Path::circle(Point::ORIGIN, 5.0)));
        assert!(!is_rectangle(&Path::polyline(
            &[(0.0, 0.0), (7.0, 0.0), (7.0, 9.0), (0.0, 9.0)].map(Point::from),
            false
        )));
    }
}
