//! A chain of segments.

use super::Segment;
use kurbo::{Affine, Point, Rect, Vec2};

/// Segments joined end to end; closed when the last ends where the first begins.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    segments: Vec<Segment>,
    closed: bool,
}

impl Path {
    /// An open chain. The caller joins the segments end to end.
    pub fn open(segments: Vec<Segment>) -> Self {
        Path { segments, closed: false }
    }

    /// A closed ring. The caller joins the segments end to end, and the last to the first.
    pub fn closed(segments: Vec<Segment>) -> Self {
        Path { segments, closed: true }
    }

    /// One straight line.
    pub fn line(from: Point, to: Point) -> Self {
        Path::open(vec![Segment::line(from, to)])
    }

    /// Straight lines through the points, closed or open.
    pub fn polyline(points: &[Point], closed: bool) -> Self {
        let mut segments: Vec<Segment> = points.windows(2).map(|w| Segment::line(w[0], w[1])).collect();
        if let (true, Some(first), Some(last)) = (closed, points.first(), points.last()) {
            segments.push(Segment::line(*last, *first));
        }
        Path { segments, closed }
    }

    /// An upright rectangle.
    pub fn rectangle(r: Rect) -> Self {
        let corners = [(r.x0, r.y0), (r.x1, r.y0), (r.x1, r.y1), (r.x0, r.y1)].map(Point::from);
        Path::polyline(&corners, true)
    }

    /// A full circle, as two half turns (SVG's arc command cannot close on itself).
    pub fn circle(center: Point, radius: f64) -> Self {
        let half = |start: f64| Segment::Arc(super::Arc::circular(center, radius, start, std::f64::consts::PI));
        Path::closed(vec![half(0.0), half(std::f64::consts::PI)])
    }

    /// The middle and the radius of the circle that a ring is, nowhere off it by more than so many mm; looked at in eighths of its
    /// pieces, so that curves which a drawing program put for arcs do too.
    pub fn as_circle(&self, within: f64) -> Option<(Point, f64)> {
        let bounds = self.bounding_box().filter(|_| self.closed)?;
        let (middle, radius) = (bounds.center(), (bounds.width() + bounds.height()) / 4.0);
        let looks = self.segments.iter().flat_map(|s| (0..8).map(|k| s.eval(f64::from(k) / 8.0)));
        let round = looks.into_iter().all(|p| (p.distance(middle) - radius).abs() <= within);
        (round && radius > within).then_some((middle, radius))
    }

    /// A full ellipse with axes along x and y, by its two half-diameters, as two half turns.
    pub fn ellipse(center: Point, across: f64, up: f64) -> Self {
        let (p, q) = (Vec2::new(across, 0.0), Vec2::new(0.0, up));
        let half = |start: f64| Segment::Arc(super::Arc { center, p, q, start, sweep: std::f64::consts::PI });
        Path::closed(vec![half(0.0), half(std::f64::consts::PI)])
    }

    /// Whether it runs along another everywhere, no farther off than so many mm; looked at in quarters of its pieces.
    pub fn runs_along(&self, other: &Path, within: f64) -> bool {
        let near = |p: Point| other.nearest(p).is_some_and(|(distance, _)| distance < within);
        self.segments.iter().all(|s| [0.0, 0.25, 0.5, 0.75].into_iter().all(|t| near(s.eval(t))))
    }

    /// The segments in order.
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// Whether the last segment ends where the first begins.
    pub fn is_closed(&self) -> bool {
        self.closed
    }

    /// The first point; `None` for an empty path.
    pub fn start(&self) -> Option<Point> {
        self.segments.first().map(Segment::start)
    }

    /// The last point; `None` for an empty path.
    pub fn end(&self) -> Option<Point> {
        self.segments.last().map(Segment::end)
    }

    /// The path under an affine map.
    pub fn transformed(&self, map: Affine) -> Path {
        Path { segments: self.segments.iter().map(|s| s.transformed(map)).collect(), closed: self.closed }
    }

    /// The path run the other way.
    pub fn reversed(&self) -> Path {
        Path { segments: self.segments.iter().rev().map(Segment::reversed).collect(), closed: self.closed }
    }

    /// The smallest upright rectangle around the path; `None` for an empty one.
    pub fn bounding_box(&self) -> Option<Rect> {
        self.segments.iter().map(Segment::bounding_box).reduce(|a, b| a.union(b))
    }

    /// The nodes: where each segment begins, and the end of an open path.
    pub fn nodes(&self) -> Vec<Point> {
        let end = if self.closed { None } else { self.end() };
        self.segments.iter().map(Segment::start).chain(end).collect()
    }

    /// Length along the path, mm.
    pub fn length(&self) -> f64 {
        self.segments.iter().map(Segment::length).sum()
    }

    /// The place at which the path has run `length` mm from its start; an end where `length` lies beyond; `None` for an
    /// empty path.
    pub fn place_at_length(&self, length: f64) -> Option<PathPlace> {
        let mut left = length;
        for (segment, piece) in self.segments.iter().enumerate() {
            let run = piece.length();
            if left <= run || segment + 1 == self.segments.len() {
                return Some(PathPlace { segment, t: piece.parameter_at_length(left) });
            }
            left -= run;
        }
        None
    }

    /// The point at a place; `None` where the path has no such segment.
    pub fn point_at(&self, place: PathPlace) -> Option<Point> {
        self.segments.get(place.segment).map(|s| s.eval(place.t))
    }

    /// Unit direction of travel at a place; `None` where the path has no such segment.
    pub fn tangent_at(&self, place: PathPlace) -> Option<Vec2> {
        self.segments.get(place.segment).map(|s| s.tangent(place.t))
    }

    /// The open path between two places, the second not before the first.
    pub fn part(&self, from: PathPlace, to: PathPlace) -> Path {
        let range = self.segments.iter().enumerate().take(to.segment + 1).skip(from.segment);
        let parts = range.filter_map(|(i, segment)| {
            let low = if i == from.segment { from.t } else { 0.0 };
            let high = if i == to.segment { to.t } else { 1.0 };
            let whole = low <= 0.0 && high >= 1.0;
            (high > low).then(|| if whole { *segment } else { segment.subsegment(low, high) })
        });
        Path::open(parts.collect())
    }

    /// Enclosed area, mm²: positive for a path that runs anticlockwise. An open path is closed by its chord.
    pub fn signed_area(&self) -> f64 {
        let Some(origin) = self.start() else { return 0.0 };
        self.segments.iter().map(|s| s.swept_area(origin)).sum()
    }

    /// Centroid of the enclosed area; `None` where the path encloses nothing.
    pub fn centroid(&self) -> Option<Point> {
        let origin = self.start()?;
        let moment: Vec2 = self.segments.iter().map(|s| s.swept_moment(origin)).fold(Vec2::ZERO, |a, b| a + b);
        let centroid = origin + moment / self.signed_area();
        centroid.is_finite().then_some(centroid)
    }

    /// Distance, mm, from `point` to the nearest place of the path, and that place; `None` for an empty path.
    pub fn nearest(&self, point: Point) -> Option<(f64, PathPlace)> {
        nearest_piece(&self.segments, point).map(|(distance, segment, t)| (distance, PathPlace { segment, t }))
    }
}

/// Distance, mm, from a point to the nearest of some pieces, the first of several as near, with its index and the parameter of
/// the place; `None` of none. Pieces whose boxes lie farther off are not looked at.
pub fn nearest_piece<'a>(pieces: impl IntoIterator<Item = &'a Segment>, point: Point) -> Option<(f64, usize, f64)> {
    let mut best: Option<(f64, usize, f64)> = None;
    for (index, piece) in pieces.into_iter().enumerate() {
        if best.is_none_or(|(shortest, ..)| distance_to_box(&piece.bounding_box(), point) < shortest) {
            let (distance, t) = piece.nearest(point);
            if best.is_none_or(|(shortest, ..)| distance < shortest) {
                best = Some((distance, index, t));
            }
        }
    }
    best
}

/// A place along a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PathPlace {
    /// Index of the segment.
    pub segment: usize,
    /// Parameter within the segment, 0 to 1.
    pub t: f64,
}

/// Distance from a point to an upright rectangle, mm; 0 inside.
pub(super) fn distance_to_box(bounds: &Rect, point: Point) -> f64 {
    let away = from_box(bounds, point);
    away.x.hypot(away.y)
}

/// Its square, mm², for comparing.
pub(super) fn squared_distance_to_box(bounds: Rect, point: Point) -> f64 {
    from_box(&bounds, point).hypot2()
}

/// How far a point lies beyond a rectangle's sides, mm; 0 between them.
fn from_box(bounds: &Rect, point: Point) -> Vec2 {
    let across = (bounds.x0 - point.x).max(point.x - bounds.x1).max(0.0);
    let up = (bounds.y0 - point.y).max(point.y - bounds.y1).max(0.0);
    Vec2::new(across, up)
}
