//! Half an outline that is drawn once and mirrored.

use super::{Outline, Path, Segment};
use kurbo::{Affine, Point, Vec2};
use std::f64::consts::FRAC_PI_2;

/// The axis about which a half outline is mirrored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MirrorLine {
    /// The x axis: the line y = 0.
    X,
    /// The y axis: the line x = 0.
    Y,
}

impl MirrorLine {
    /// Signed distance of a point from the line, mm: y from the x axis, x from the y axis.
    pub fn distance(self, p: Point) -> f64 {
        match self {
            MirrorLine::X => p.y,
            MirrorLine::Y => p.x,
        }
    }

    /// The point of the line square across from a point.
    pub fn foot(self, p: Point) -> Point {
        match self {
            MirrorLine::X => Point::new(p.x, 0.0),
            MirrorLine::Y => Point::new(0.0, p.y),
        }
    }

    /// The mirroring.
    pub fn map(self) -> Affine {
        match self {
            MirrorLine::X => Affine::FLIP_Y,
            MirrorLine::Y => Affine::FLIP_X,
        }
    }

    /// Unit vector square to the line, to the side of positive distances.
    pub fn normal(self) -> Vec2 {
        match self {
            MirrorLine::X => Vec2::new(0.0, 1.0),
            MirrorLine::Y => Vec2::new(1.0, 0.0),
        }
    }
}

/// The drawn half of a part, from the mirror line to the mirror line, run as the whole outline runs (anticlockwise).
#[derive(Debug, Clone, PartialEq)]
pub struct HalfOutline {
    path: Path,
    line: MirrorLine,
}

/// How a router half fares at one of its two ends on the mirror line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HalfEnd {
    /// The place on the mirror line.
    pub at: Point,
    /// Angle between the edge and the square to the mirror line, radians, 0 to a quarter turn. Where it is not 0 the two
    /// routed halves meet in a ridge or a notch.
    pub off_square: f64,
    /// Depth, mm, to which the straight run-on lies within the other half: the edge is hollow here, and a cutter that
    /// follows the run-on takes wood that the part needs. 0 where the run-on leaves wood standing for the second pass.
    pub cuts_in: f64,
}

/// A half template for the router.
#[derive(Debug, Clone, PartialEq)]
pub struct RouterHalf {
    /// The template's edge: the half, run straight on past the mirror line at both ends, and the datum edge; anticlockwise.
    pub ring: Path,
    /// The mirror line across the template.
    pub mirror: (Point, Point),
    /// The datum edge, parallel to the mirror line and so to the chord of the half's two ends.
    pub datum: (Point, Point),
    /// The two ends on the mirror line, first and last along the half.
    pub ends: [HalfEnd; 2],
}

impl HalfOutline {
    pub(super) fn new(path: Path, line: MirrorLine) -> Self {
        HalfOutline { path, line }
    }

    /// The half as an open path from the mirror line to the mirror line.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The line about which it is mirrored.
    pub fn line(&self) -> MirrorLine {
        self.line
    }

    /// The half closed along the mirror line, as a template for tracing; anticlockwise.
    pub fn tracing(&self) -> Path {
        let mut segments = self.path.segments().to_vec();
        segments.extend(self.path.end().zip(self.path.start()).map(|(end, start)| Segment::line(end, start)));
        Path::closed(segments)
    }

    /// The half as a template for the router, which runs straight on past the mirror line, square to it, by `run_on` mm.
    ///
    /// Turned over about the mirror line the template's edge goes on where it stopped, without a step; whether without a
    /// corner is told by [`HalfEnd::off_square`]. `None` for a `run_on` that is not a positive number.
    pub fn router(&self, run_on: f64) -> Option<RouterHalf> {
        let (start, end) = self.path.start().zip(self.path.end())?;
        if !(run_on > 0.0 && run_on.is_finite()) {
            return None;
        }
        let past = self.past_line() * run_on;
        let datum = (end + past, start + past);
        let mut segments = vec![Segment::line(datum.1, start)];
        segments.extend_from_slice(self.path.segments());
        segments.push(Segment::line(end, datum.0));
        segments.push(Segment::line(datum.0, datum.1));
        let ends = [self.end(&self.path.reversed(), -1.0, run_on), self.end(&self.path, 1.0, run_on)];
        Some(RouterHalf { ring: Path::closed(segments), mirror: (end, start), datum, ends })
    }

    /// Unit vector square to the mirror line, away from the half.
    fn past_line(&self) -> Vec2 {
        let distances = self.path.bounding_box().map_or((0.0, 0.0), |b| match self.line {
            MirrorLine::X => (b.y0, b.y1),
            MirrorLine::Y => (b.x0, b.x1),
        });
        let side = if distances.0 + distances.1 > 0.0 { 1.0 } else { -1.0 };
        self.line.normal() * -side
    }

    /// What is to be told of the end of a path that arrives at the mirror line; the part lies to its left for a `hand` of
    /// 1, to its right for -1.
    fn end(&self, arriving: &Path, hand: f64, run_on: f64) -> HalfEnd {
        let past = self.past_line();
        let last = arriving.segments().last();
        let at = last.map_or(Point::ORIGIN, Segment::end);
        let angle = last.map_or(0.0, |s| s.tangent(1.0).cross(past).atan2(s.tangent(1.0).dot(past)).abs());
        let off_square = angle.min(2.0 * FRAC_PI_2 - angle);
        // Seen in the mirror the run-on goes back along the half: wood lost is where the half lies outside of it.
        let out = past.turn_90() * -hand;
        let mut cuts_in: f64 = 0.0;
        let mut reached: f64 = 0.0;
        'back: for segment in arriving.segments().iter().rev() {
            for i in (0..SAMPLES).rev() {
                let offset = segment.eval(f64::from(i) / f64::from(SAMPLES)) - at;
                let back = -offset.dot(past);
                if back > run_on || back < reached {
                    break 'back;
                }
                reached = back;
                cuts_in = cuts_in.max(offset.dot(out));
            }
        }
        HalfEnd { at, off_square, cuts_in }
    }

    /// The half and its mirror image as one outline.
    ///
    /// # Errors
    /// As [`Outline::new`]; none for a half that [`super::build`] made.
    pub fn whole(&self) -> Result<Outline, super::ProblemKind> {
        let mut segments = self.path.segments().to_vec();
        segments.extend_from_slice(self.path.transformed(self.line.map()).reversed().segments());
        Outline::new(Path::closed(segments))
    }
}

/// Places along a segment at which the run-on is compared with the mirrored edge.
const SAMPLES: u32 = 64;

#[cfg(test)]
mod tests {
    use super::{HalfOutline, MirrorLine, Outline, Point, Vec2};
    use crate::geometry::{EdgeShape, Node, build};

    fn half(top: EdgeShape, height: f64) -> HalfOutline {
        let node = |x: f64, y: f64| Node { to: Point::new(x, y), edge: EdgeShape::Straight, corner_radius: None };
        let nodes = [node(0.0, 0.0), node(300.0, 0.0), node(300.0, 60.0), Node { edge: top, ..node(0.0, height) }];
        build(&nodes, Some(MirrorLine::Y)).expect("the half is sound").half.expect("a half was drawn")
    }

    fn batten(middle: f64) -> EdgeShape {
        EdgeShape::Batten { points: vec![Point::new(150.0, middle)], tension: 0.0 }
    }

    #[test]
    fn turned_over_a_router_half_leaves_no_step() {
        for (top, height) in [(batten(90.0), 100.0), (batten(75.0), 50.0)] {
            let half = half(top, height);
            let router = half.router(80.0).expect("80 mm is a run-on");
            let turned = router.ring.transformed(MirrorLine::Y.map());
            let mirrored = half.path().transformed(MirrorLine::Y.map());
            for end in router.ends {
                assert!(end.at.x == 0.0 && end.off_square.to_degrees() < 0.01, "{end:?}");
                let on_turned = turned.nearest(end.at).expect("it is not empty");
                assert!(on_turned.0 < 1e-3);
                // Just before the line the half, and the run-on of its turned copy, go the same way.
                let before = half.path().nearest(end.at).expect("it is not empty").1;
                let direction = half.path().tangent_at(before).expect("the place is on it");
                assert!(direction.cross(Vec2::new(1.0, 0.0)).abs().to_degrees() < 0.01);
                let step = mirrored.nearest(end.at).expect("it is not empty").0;
                assert!(step < 1e-3);
            }
            assert_eq!((router.datum.0.x, router.datum.1.x), (-80.0, -80.0));
            assert!(router.ring.signed_area() > 0.0 && Outline::new(router.ring.clone()).is_ok());
        }
    }

    #[test]
    fn a_hollow_edge_is_told_by_how_much_its_run_on_cuts_in() {
        let crowned = half(batten(90.0), 100.0).router(80.0).expect("80 mm is a run-on");
        assert!(crowned.ends.iter().all(|e| e.cuts_in < 1e-6), "{:?}", crowned.ends);
        let hollow = half(batten(52.0), 50.0);
        let router = hollow.router(80.0).expect("80 mm is a run-on");
        let at_80 = hollow.path().segments().iter().flat_map(|s| (0..=400).map(|i| s.eval(f64::from(i) / 400.0)));
        let lost = at_80.filter(|p| p.x <= 80.0 && p.y > 40.0).map(|p| p.y - 50.0).fold(0.0, f64::max);
        assert!(lost > 0.1 && (router.ends[1].cuts_in - lost).abs() < 0.05 * lost, "{lost} {:?}", router.ends);
    }

    #[test]
    fn an_edge_that_meets_the_line_slantwise_is_told() {
        let slanted = half(EdgeShape::Straight, 90.0).router(80.0).expect("80 mm is a run-on");
        assert!(slanted.ends[0].off_square < 1e-12);
        assert!((slanted.ends[1].off_square - (30.0_f64 / 300.0).atan()).abs() < 1e-12);
        assert!(half(EdgeShape::Straight, 90.0).router(f64::NAN).is_none());
    }
}
