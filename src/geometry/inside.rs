//! Whether a point lies inside an outline, and how far a straight line stays from a path.

use super::boxes::BoxTree;
use super::measure::root_between;
use super::{Affine, CubicBez, Outline, Path, Point, Rect, Segment, Vec2};
use crate::tolerance::BELOW_CUTTING;
use kurbo::{BezPath, ParamCurve, ParamCurveExtrema, PathEl, Shape};

/// The direction across the ray from a point.
const UP: Vec2 = Vec2::new(0.0, 1.0);

impl Outline {
    /// Whether the point lies inside; nearer to the edge than 1e-4 mm it may be told either way.
    pub fn contains(&self, point: Point) -> bool {
        let mut bezier = BezPath::new();
        bezier.extend(self.path().start().map(PathEl::MoveTo));
        for cubic in self.path().segments().iter().flat_map(|segment| segment.to_cubics(BELOW_CUTTING)) {
            bezier.curve_to(cubic.p1, cubic.p2, cubic.p3);
        }
        bezier.close_path();
        bezier.winding(point) != 0
    }
}

/// Whether a ring encloses a point: a ray along x from the point crosses it an odd number of times. A point on the ring may be
/// told either way.
pub(super) fn encloses(ring: &[Segment], point: Point) -> bool {
    joined(ring).filter(|(segment, end)| crosses_ray(segment, *end, point)).count() % 2 == 1
}

/// The pieces of a ring, each with the beginning of the next, which its end is to the last digit.
fn joined(ring: &[Segment]) -> impl Iterator<Item = (&Segment, Point)> {
    let ends = ring.iter().cycle().skip(1).map(Segment::start);
    ring.iter().zip(ends)
}

/// Whether a piece that ends at `end` crosses the ray along x from a point an odd number of times.
fn crosses_ray(segment: &Segment, end: Point, point: Point) -> bool {
    if let Segment::Line(line) = segment {
        let (from, to) = (line.p0, end);
        return (from.y > point.y) != (to.y > point.y)
            && from.x + (to.x - from.x) * (point.y - from.y) / (to.y - from.y) > point.x;
    }
    let passes_by = |bounds: Rect| {
        let (over, under) = (bounds.y0 > point.y && end.y > point.y, bounds.y1 < point.y && end.y < point.y);
        bounds.x1 < point.x || over || under
    };
    if passes_by(segment.around()) || passes_by(segment.bounding_box()) {
        return false;
    }
    let inner = segment.turns_along(UP).into_iter().map(|t| (t, segment.eval(t).y));
    let knots: Vec<(f64, f64)> =
        std::iter::once((0.0, segment.start().y)).chain(inner).chain([(1.0, end.y)]).collect();
    let crosses = |span: &[(f64, f64)]| {
        let (low, high) = (span[0], span[1]);
        if (low.1 > point.y) == (high.1 > point.y) {
            return false;
        }
        let height = |t: f64| segment.eval(t).y - point.y;
        let t = root_between(&height, &|t| segment.derivative(t).y, low.0, high.0, high.1 > low.1);
        segment.eval(t).x > point.x
    };
    knots.windows(2).filter(|span| crosses(span)).count() % 2 == 1
}

/// What closed rings enclose by the even-odd rule, of which many points are asked. A question costs about as much as the pieces
/// level with the point, to its right.
#[derive(Debug, Clone)]
pub struct Region {
    /// Each with the beginning of the next.
    pieces: Vec<(Segment, Point)>,
    tree: BoxTree,
}

impl Region {
    /// Of these.
    pub fn of(rings: &[Path]) -> Region {
        let pieces: Vec<(Segment, Point)> =
            rings.iter().flat_map(|ring| joined(ring.segments())).map(|(segment, end)| (*segment, end)).collect();
        let around = |(segment, end): &(Segment, Point)| segment.bounding_box().union_pt(*end);
        let tree = BoxTree::new(pieces.iter().map(around).collect());
        Region { pieces, tree }
    }

    /// Whether it holds a point; a point on a ring may be told either way.
    pub fn holds(&self, point: Point) -> bool {
        let ray = Rect::new(point.x, point.y, f64::INFINITY, point.y);
        let met = self.tree.meeting(ray).map(|index| &self.pieces[index]);
        met.filter(|(segment, end)| crosses_ray(segment, *end, point)).count() % 2 == 1
    }
}

impl Path {
    /// Whether the closed path encloses a point; a point on it may be told either way.
    pub fn encloses(&self, point: Point) -> bool {
        encloses(self.segments(), point)
    }

    /// The shortest distance, mm, between the path and the straight line from one point to another, to 1e-4 mm; 0 where
    /// they cross. `None` for an empty path.
    pub fn distance_to_line(&self, from: Point, to: Point) -> Option<f64> {
        let along = to - from;
        let direction = if along.hypot() > 0.0 { along.normalize() } else { Vec2::new(1.0, 0.0) };
        // Seen with the line on the x axis, from 0 to its length.
        let place = Affine::rotate(-direction.atan2()) * Affine::translate(-from.to_vec2());
        let length = along.hypot();
        let ends = [self.nearest(from)?.0, self.nearest(to)?.0];
        let pieces = self.segments().iter().map(|segment| segment.transformed(place));
        let pieces = pieces.flat_map(|segment| segment.to_cubics(BELOW_CUTTING));
        Some(pieces.map(|piece| distance_to_base(&piece, length)).chain(ends).fold(f64::INFINITY, f64::min))
    }
}

/// The distance from a curve to the x axis between 0 and `length`, but for what is nearest to the two ends of that line:
/// it is found where the curve ends, runs along the axis, or crosses it.
fn distance_to_base(curve: &CubicBez, length: f64) -> f64 {
    let base = Segment::line(Point::ORIGIN, Point::new(length, 0.0));
    let mut turns: Vec<f64> = curve.extrema().into_iter().collect();
    turns.insert(0, 0.0);
    turns.push(1.0);
    let nearest = turns.iter().map(|t| base.nearest(curve.eval(*t)).0).fold(f64::INFINITY, f64::min);
    let crosses = turns.windows(2).any(|pair| match pair {
        [low, high] => crossing(curve, *low, *high).is_some_and(|x| (0.0..=length).contains(&x)),
        _ => false,
    });
    if crosses { 0.0 } else { nearest }
}

/// Where a stretch of the curve that does not turn crosses the x axis.
fn crossing(curve: &CubicBez, mut low: f64, mut high: f64) -> Option<f64> {
    let below = |t: f64| curve.eval(t).y < 0.0;
    let begins_below = below(low);
    if begins_below == below(high) {
        return None;
    }
    // As many halvings as a parameter has binary places.
    for _ in 0..52 {
        let middle = 0.5 * (low + high);
        if below(middle) == begins_below { low = middle } else { high = middle }
    }
    Some(curve.eval(low).x)
}

#[cfg(test)]
mod tests {
    use crate::geometry::{Path, Point, Rect, Region};

    #[test]
    fn a_region_holds_what_its_rings_enclose_an_odd_number_of_times() {
        let rings = [
            Path::circle(Point::new(0.0, 0.0), 50.0),
            Path::ellipse(Point::new(5.0, -4.0), 30.0, 20.0),
            Path::rectangle(Rect::new(-10.0, -10.0, 12.0, 9.0)),
            Path::circle(Point::new(90.0, 10.0), 25.0),
        ];
        let region = Region::of(&rings);
        for k in 0..2000 {
            let point = Point::new(f64::from(k % 50) * 3.7 - 60.3, f64::from(k / 50) * 2.9 - 57.1);
            let around = rings.iter().filter(|ring| ring.encloses(point)).count();
            assert_eq!(region.holds(point), around % 2 == 1, "{point:?}");
        }
        assert!(!Region::of(&[]).holds(Point::ORIGIN));
    }

    /// Distances worked out by hand.
    #[test]
    fn distances_to_a_line() {
        let circle = Path::circle(Point::new(10.0, 20.0), 50.0);
        let distance =
            |path: &Path, from: (f64, f64), to: (f64, f64)| path.distance_to_line(from.into(), to.into()).unwrap();
        assert!((distance(&circle, (0.0, 20.0), (20.0, 20.0)) - 40.0).abs() < 1e-4);
        assert!((distance(&circle, (-100.0, 75.0), (100.0, 75.0)) - 5.0).abs() < 1e-4, "past the crown");
        assert_eq!(distance(&circle, (10.0, 20.0), (200.0, 20.0)), 0.0);
        let square = Path::rectangle(Rect::new(0.0, 0.0, 100.0, 60.0));
        assert!((distance(&square, (20.0, 10.0), (80.0, 10.0)) - 10.0).abs() < 1e-4);
        assert!((distance(&square, (103.0, 64.0), (203.0, 164.0)) - 5.0).abs() < 1e-4, "from a corner");
        assert_eq!(distance(&square, (-10.0, 30.0), (200.0, 30.0)), 0.0);
    }
}
