//! The runs of a path inside an upright rectangle.

use super::Side;
use super::chords::Chords;
use crate::geometry::boxes::BoxTree;
use crate::geometry::{Path, Segment};
use crate::tolerance::AT_END;
use kurbo::{Point, Rect, Vec2};
use std::cell::OnceCell;

/// A path made ready for being cut to many rectangles: a cut costs about as much as the pieces that fall inside.
#[derive(Debug, Clone)]
pub struct PathIndex<'a> {
    path: &'a Path,
    tree: BoxTree,
    /// Length run before each segment, mm.
    offsets: Vec<f64>,
    /// For quick looks, made when one is first asked for.
    chords: OnceCell<Chords>,
}

impl<'a> PathIndex<'a> {
    /// Measures the path once.
    pub fn new(path: &'a Path) -> Self {
        let mut run = 0.0;
        let offsets = path
            .segments()
            .iter()
            .map(|s| {
                let before = run;
                run += s.length();
                before
            })
            .collect();
        let tree = BoxTree::new(path.segments().iter().map(Segment::bounding_box).collect());
        PathIndex { path, tree, offsets, chords: OnceCell::new() }
    }

    /// The runs of the path inside `rect`, in path order, each with the length run from the path's start to its own, mm
    /// (so that dashes keep their phase from one rectangle to the next). A path wholly inside is returned whole; every other
    /// run is an open path, and a run never passes the path's start. What lies on the rectangle's border is inside.
    pub fn clip_to_rect(&self, rect: Rect) -> Vec<(Path, f64)> {
        let segments = self.path.segments();
        let met = self.tree.meeting(rect);
        let inside = |r: Rect| r.x0 >= rect.x0 && r.x1 <= rect.x1 && r.y0 >= rect.y0 && r.y1 <= rect.y1;
        if self.tree.root().is_some_and(|root| inside(self.tree.rect(root))) {
            return vec![(self.path.clone(), 0.0)];
        }
        let mut runs: Vec<(Vec<Segment>, f64)> = Vec::new();
        // The segment at whose very end the last run stops.
        let mut reached: Option<usize> = None;
        for index in met {
            let segment = &segments[index];
            let spans =
                if inside(self.tree.rect((0, index))) { vec![(0.0, 1.0)] } else { spans_inside(segment, rect) };
            for (from, to) in spans {
                let part = if from == 0.0 && to == 1.0 { *segment } else { segment.subsegment(from, to) };
                let goes_on = from == 0.0 && index.checked_sub(1) == reached && reached.is_some();
                match runs.last_mut().filter(|_| goes_on) {
                    Some((run, _)) => run.push(part),
                    None => {
                        let before = if from > 0.0 { segment.subsegment(0.0, from).length() } else { 0.0 };
                        runs.push((vec![part], self.offsets[index] + before));
                    }
                }
                reached = (to == 1.0).then_some(index);
            }
        }
        runs.into_iter().map(|(run, offset)| (Path::open(run), offset)).collect()
    }

    /// Whether any of the path lies inside `rect` or on its border.
    pub fn touches(&self, rect: Rect) -> bool {
        let segments = self.path.segments();
        let exactly = |piece: usize| !spans_inside(&segments[piece], rect).is_empty();
        self.chords.get_or_init(|| Chords::of(self.path)).touch(rect, &exactly)
    }

    /// The pieces of the path whose boxes meet `rect`, in path order.
    pub fn near(&self, rect: Rect) -> impl Iterator<Item = &'a Segment> {
        let segments = self.path.segments();
        self.tree.meeting(rect).map(|index| &segments[index])
    }
}

/// The runs of a path inside one rectangle; for many rectangles see [`PathIndex::clip_to_rect`], whose terms apply.
pub fn clip_to_rect(path: &Path, rect: Rect) -> Vec<(Path, f64)> {
    PathIndex::new(path).clip_to_rect(rect)
}

/// The parameter spans of a piece inside a rectangle.
pub(super) fn spans_inside(segment: &Segment, rect: Rect) -> Vec<(f64, f64)> {
    let (low, high) = (Point::new(rect.x0, rect.y0), Point::new(rect.x1, rect.y1));
    let sides = [(low, (1.0, 0.0)), (high, (-1.0, 0.0)), (low, (0.0, 1.0)), (high, (0.0, -1.0))]
        .map(|(point, normal)| Side { point, normal: Vec2::from(normal) });
    let (start, end) = (segment.start(), segment.end());
    let mut cuts = vec![0.0, 1.0];
    for side in &sides {
        let changes = side.changes(segment, side.holds(start), side.holds(end));
        cuts.extend(changes.into_iter().filter(|t| *t > AT_END && *t < 1.0 - AT_END));
    }
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|b, a| *b - *a < AT_END);
    let mut spans: Vec<(f64, f64)> = Vec::new();
    for w in cuts.windows(2) {
        let middle = segment.eval((w[0] + w[1]) / 2.0);
        if !sides.iter().all(|side| side.holds(middle)) {
            continue;
        }
        match spans.last_mut().filter(|last| last.1 == w[0]) {
            Some(last) => last.1 = w[1],
            None => spans.push((w[0], w[1])),
        }
    }
    spans
}

#[cfg(test)]
mod tests {
    use super::{Path, PathIndex, Point, Rect, Segment, Vec2, clip_to_rect};
    use crate::geometry::Arc;
    use kurbo::CubicBez;
    use std::f64::consts::PI;

    #[test]
    fn a_line_through_a_page_keeps_its_phase() {
        let line = Path::line(Point::new(-10.0, 5.0), Point::new(30.0, 5.0));
        let runs = clip_to_rect(&line, Rect::new(0.0, 0.0, 20.0, 10.0));
        assert_eq!(runs.len(), 1);
        assert_eq!(runs[0].1, 10.0);
        assert_eq!((runs[0].0.start(), runs[0].0.end()), (Some(Point::new(0.0, 5.0)), Some(Point::new(20.0, 5.0))));
    }

    #[test]
    fn a_circle_that_pokes_out_of_the_page_stays_arcs() {
        // Half-angle of the part beyond x = 6 of a circle of radius 10: acos(0.6).
        let circle = Path::circle(Point::ORIGIN, 10.0);
        let runs = clip_to_rect(&circle, Rect::new(-20.0, -20.0, 6.0, 20.0));
        let total: f64 = runs.iter().map(|(run, _)| run.length()).sum();
        assert!((total - 10.0 * (2.0 * PI - 2.0 * 0.6_f64.acos())).abs() < 1e-12);
        assert!(runs.iter().all(|(run, _)| run.segments().iter().all(|s| matches!(s, Segment::Arc(_)))));
        assert!((runs[0].1 - 10.0 * 0.6_f64.acos()).abs() < 1e-12);
    }

    #[test]
    fn whole_path_or_nothing() {
        let circle = Path::circle(Point::ORIGIN, 10.0);
        assert_eq!(clip_to_rect(&circle, Rect::new(-11.0, -11.0, 11.0, 11.0)), vec![(circle.clone(), 0.0)]);
        assert!(clip_to_rect(&circle, Rect::new(-5.0, -5.0, 5.0, 5.0)).is_empty());
        assert!(clip_to_rect(&Path::open(Vec::new()), Rect::new(0.0, 0.0, 1.0, 1.0)).is_empty());
    }

    #[test]
    fn a_cubic_cut_by_four_sides_adds_up() {
        let cubic = Segment::Cubic(CubicBez::new((0.0, 0.0), (120.0, 150.0), (-40.0, 150.0), (80.0, 0.0)));
        let path = Path::open(vec![cubic]);
        let mut total = 0.0;
        for i in -2..6 {
            for j in -2..6 {
                let corner = Point::new(f64::from(i) * 20.0 + 0.3, f64::from(j) * 20.0 + 0.7);
                for (run, _) in clip_to_rect(&path, Rect::from_origin_size(corner, (20.0, 20.0))) {
                    total += run.length();
                }
            }
        }
        assert!((total - path.length()).abs() < 1e-8, "{total} {}", path.length());
    }

    /// A quick look tells what the exact one does, and cuts, which know nothing of chords, agree with both.
    #[test]
    fn what_touches_is_what_a_cut_leaves_something_of() {
        let bow = Segment::Cubic(CubicBez::new((0.0, 0.0), (400.0, 90.0), (900.0, -160.0), (1300.0, 30.0)));
        let arc = Segment::Arc(Arc::circular(Point::new(1300.0, 530.0), 500.0, -PI / 2.0, 1.9 * PI));
        let path = Path::open(vec![bow, arc, Segment::line(arc.end(), Point::new(0.0, 0.0))]);
        let index = PathIndex::new(&path);
        let (mut touched, mut all) = (0, 0);
        for i in 0..400_u32 {
            for size in [2.0, 0.05, 37.0] {
                let at = Point::new(f64::from(i * 7919 % 1900), f64::from(i * 104_729 % 1200) - 120.0);
                // Beside the line too, and with a corner just on it.
                let near = path.segments()[0].eval(f64::from(i) / 400.0);
                for corner in [at, near, near - Vec2::new(size, size * 0.5), near + Vec2::new(0.04, -size - 0.04)] {
                    let rect = Rect::from_origin_size(corner, (size, size));
                    assert_eq!(index.touches(rect), !index.clip_to_rect(rect).is_empty(), "{rect:?}");
                    touched += u32::from(index.touches(rect));
                    all += 1;
                }
            }
        }
        assert!(touched > all / 4 && touched < all * 9 / 10, "{touched} of {all}");
    }

    #[test]
    fn what_is_no_number_is_left_out() {
        let bad = Path::polyline(&[Point::new(f64::NAN, 0.0), Point::new(1e300, 5.0), Point::new(-1e300, 5.0)], true);
        let arc = Path::open(vec![Segment::Arc(Arc::circular(Point::new(0.0, 1e300), f64::INFINITY, 0.0, 1e300))]);
        for path in [bad, arc] {
            let _ = clip_to_rect(&path, Rect::new(0.0, 0.0, 10.0, 10.0));
            let _ = PathIndex::new(&path).touches(Rect::new(0.0, 0.0, 10.0, 10.0));
        }
    }
}
