//! The edge of a flat part.

use super::construct::ProblemKind;
use super::{MirrorLine, Path, Segment, self_crossings};
use crate::tolerance::{JOINED, NO_AREA, NO_STRETCH};
use kurbo::Point;

/// Coordinates beyond this, mm, are refused: no part of a piece of furniture is 20 m long.
pub const LARGEST: f64 = 20_000.0;
/// Crossings beyond this number are not told.
const MOST_CROSSINGS: usize = 20;

/// A closed path that does not cross or touch itself, encloses an area and runs anticlockwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline(Path);

impl Outline {
    /// An outline from a closed path, which is run the other way where it goes clockwise.
    ///
    /// # Errors
    /// The first of: [`ProblemKind::OutOfReach`], [`ProblemKind::NotClosed`], [`ProblemKind::EnclosesNothing`],
    /// [`ProblemKind::CrossesItself`] (with indices of the path's segments), [`ProblemKind::TooIntricate`].
    pub fn new(path: Path) -> Result<Outline, ProblemKind> {
        Outline::checked(path).map_err(|problems| problems.into_iter().next().unwrap_or(ProblemKind::EnclosesNothing))
    }

    /// As [`Outline::new`], telling up to 20 places where the path crosses itself.
    pub(super) fn checked(path: Path) -> Result<Outline, Vec<ProblemKind>> {
        let segments = path.segments();
        if !segments.iter().all(|s| s.is_within(LARGEST)) {
            return Err(vec![ProblemKind::OutOfReach { limit: LARGEST }]);
        }
        let next = segments.iter().cycle().skip(1);
        let gap = segments.iter().zip(next).find(|(a, b)| a.end().distance(b.start()) > JOINED);
        if let Some((a, _)) = gap {
            return Err(vec![ProblemKind::NotClosed { at: a.end() }]);
        }
        let crossings = self_crossings(&path, MOST_CROSSINGS);
        if !crossings.found.is_empty() {
            let told = crossings.found.iter().map(|c| ProblemKind::CrossesItself {
                at: c.point,
                how: c.kind,
                first: c.first.segment,
                second: c.second.segment,
            });
            return Err(told.collect());
        }
        if !crossings.complete {
            return Err(vec![ProblemKind::TooIntricate]);
        }
        let area = path.signed_area();
        if area.abs() <= NO_AREA {
            return Err(vec![ProblemKind::EnclosesNothing]);
        }
        let anticlockwise = if area > 0.0 { path } else { path.reversed() };
        Ok(Outline(Path::closed(anticlockwise.segments().to_vec())))
    }

    /// The outline as a path.
    pub fn path(&self) -> &Path {
        &self.0
    }

    /// Its mirror image, anticlockwise too.
    pub fn mirrored(&self, line: MirrorLine) -> Outline {
        Outline(self.0.transformed(line.map()).reversed())
    }

    /// Enclosed area, mm².
    pub fn area(&self) -> f64 {
        self.0.signed_area()
    }

    /// Whether a point lies inside; on the edge itself, to rounding, either may be said.
    pub fn holds(&self, point: Point) -> bool {
        // The angle under which each piece's ends are seen, with the whole turns that a curve makes about the point.
        let turned: f64 = self.0.segments().iter().map(|s| angle_seen(s, point)).sum();
        turned > std::f64::consts::PI
    }
}

/// The angle through which the line from `point` to a piece turns along it, radians.
fn angle_seen(segment: &Segment, point: Point) -> f64 {
    let mut knots = vec![0.0, 1.0];
    for axis in [kurbo::Vec2::new(1.0, 0.0), kurbo::Vec2::new(0.0, 1.0)] {
        knots.extend(segment.turns_along(axis));
    }
    knots.sort_by(f64::total_cmp);
    // Between these the piece stays within the quarter turn of its two ends, unless the point lies in their box.
    let mut pending: Vec<(f64, f64)> = knots.windows(2).rev().map(|w| (w[0], w[1])).collect();
    let mut turned = 0.0;
    while let Some((from, to)) = pending.pop() {
        let (a, b) = (segment.eval(from), segment.eval(to));
        let boxed = kurbo::Rect::from_points(a, b).contains(point);
        let straight = matches!(segment, Segment::Line(_));
        if boxed && !straight && to - from > NO_STRETCH {
            let middle = (from + to) / 2.0;
            pending.extend([(middle, to), (from, middle)]);
        } else {
            let (u, v) = (a - point, b - point);
            turned += u.cross(v).atan2(u.dot(v));
        }
    }
    turned
}

#[cfg(test)]
mod tests {
    use super::{LARGEST, Outline, Path, Point, ProblemKind};
    use kurbo::{Rect, Vec2};

    #[test]
    fn a_clockwise_path_is_run_the_other_way() {
        let outline =
            Outline::new(Path::rectangle(Rect::new(0.0, 0.0, 30.0, 20.0)).reversed()).expect("it is simple");
        assert!((outline.area() - 600.0).abs() < 1e-12);
    }

    #[test]
    fn refuses_what_is_no_outline() {
        let polyline = |points: &[(f64, f64)]| {
            Path::polyline(&points.iter().copied().map(Point::from).collect::<Vec<_>>(), true)
        };
        let flat = polyline(&[(0.0, 0.0), (50.0, 0.0), (50.0, 1e-5), (0.0, 1e-5)]);
        assert_eq!(Outline::new(flat), Err(ProblemKind::EnclosesNothing));
        let eight = polyline(&[(0.0, 0.0), (50.0, 50.0), (50.0, 0.0), (0.0, 50.0)]);
        assert!(matches!(Outline::new(eight), Err(ProblemKind::CrossesItself { first: 0, second: 2, .. })));
        let far = polyline(&[(0.0, 0.0), (3e4, 0.0), (0.0, 50.0)]);
        assert_eq!(Outline::new(far), Err(ProblemKind::OutOfReach { limit: LARGEST }));
        let bad = polyline(&[(0.0, 0.0), (f64::NAN, 0.0), (0.0, 50.0)]);
        assert_eq!(Outline::new(bad), Err(ProblemKind::OutOfReach { limit: LARGEST }));
        let open = Path::line(Point::ORIGIN, Point::new(5.0, 0.0));
        assert!(matches!(Outline::new(open), Err(ProblemKind::NotClosed { .. })));
        assert_eq!(Outline::new(Path::closed(Vec::new())), Err(ProblemKind::EnclosesNothing));
    }

    #[test]
    fn holds_what_lies_inside() {
        let ellipse = Outline::new(Path::ellipse(Point::new(5.0, 5.0), 40.0, 20.0)).expect("it is simple");
        for k in 0..400 {
            let out = Vec2::new(f64::from(k % 20) * 5.0 - 47.3, f64::from(k / 20) * 2.6 - 25.2);
            let inside = (out.x / 40.0).powi(2) + (out.y / 20.0).powi(2) < 1.0;
            assert_eq!(ellipse.holds(Point::new(5.0, 5.0) + out), inside, "{out:?}");
        }
    }
}
