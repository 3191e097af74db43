//! A chain of segments.

use super::Segment;
use kurbo::{Affine, Point, Rect};

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
}
