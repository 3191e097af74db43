//! Half an outline that is drawn once and mirrored.

use super::{Outline, Path, Segment, clip_half_plane};
use crate::tolerance::SAME_POINT;
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
    /// Whether a corner of the two halves there stands out of the part (a ridge) or goes into it (a dip).
    pub ridge: bool,
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

    /// The half on the side of positive distances of an outline that is its own mirror image about a line; `None` where the
    /// line does not cut it in two.
    pub fn of(outline: &Path, line: MirrorLine) -> Option<Self> {
        let rings = clip_half_plane(std::slice::from_ref(outline), Point::ORIGIN, line.normal());
        let [ring] = rings.as_slice() else { return None };
        let on_line = |p: Point| line.distance(p).abs() < SAME_POINT;
        let is_chord = |s: &Segment| matches!(s, Segment::Line(_)) && on_line(s.start()) && on_line(s.end());
        let chord = ring.segments().iter().position(is_chord)?;
        let pieces = ring.segments();
        let path = pieces.iter().cycle().skip(chord + 1).take(pieces.len() - 1).copied().collect();
        Some(HalfOutline::new(Path::open(path), line))
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
        Some(RouterHalf { ring: Path::closed(segments), mirror: (end, start), datum, ends: self.ends(run_on) })
    }

    /// The two ends on the mirror line, first and last along the half, for a run-on of so many mm (0 for none).
    pub fn ends(&self, run_on: f64) -> [HalfEnd; 2] {
        [self.end(&self.path.reversed(), -1.0, run_on), self.end(&self.path, 1.0, run_on)]
    }

    /// 1 where the half lies on the side of positive distances from the mirror line, else -1.
    pub fn side(&self) -> f64 {
        let distances = self.path.bounding_box().map_or((0.0, 0.0), |b| match self.line {
            MirrorLine::X => (b.y0, b.y1),
            MirrorLine::Y => (b.x0, b.x1),
        });
        if distances.0 + distances.1 > 0.0 { 1.0 } else { -1.0 }
    }

    /// Unit vector square to the mirror line, away from the half.
    fn past_line(&self) -> Vec2 {
        self.line.normal() * -self.side()
    }

    /// What is to be told of the end of a path that arrives at the mirror line; the part lies to its left for a `hand` of
    /// 1, to its right for -1.
    fn end(&self, arriving: &Path, hand: f64, run_on: f64) -> HalfEnd {
        let past = self.past_line();
        let last = arriving.segments().last();
        let at = last.map_or(Point::ORIGIN, Segment::end);
        let turn = last.map_or(0.0, |s| s.tangent(1.0).cross(past).atan2(s.tangent(1.0).dot(past)));
        let off_square = turn.abs().min(2.0 * FRAC_PI_2 - turn.abs());
        let cuts_in = highest(arriving, at, past, past.turn_90() * -hand, run_on);
        HalfEnd { at, off_square, ridge: turn * hand > 0.0, cuts_in }
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

/// How far a path that arrives at `at` lies beyond the line through it along `past`, on the side of `out`, within `reach` mm
/// of its end: seen in the mirror the run-on goes back along the half, and wood is lost where the half lies outside of it.
fn highest(arriving: &Path, at: Point, past: Vec2, out: Vec2, reach: f64) -> f64 {
    let mut highest: f64 = 0.0;
    let mut reached: f64 = 0.0;
    for segment in arriving.segments().iter().rev() {
        let back = |t: f64| -(segment.eval(t) - at).dot(past);
        let out_at = |t: f64| (segment.eval(t) - at).dot(out);
        for i in (0..SAMPLES).rev() {
            let (t, nearer) = (f64::from(i) / f64::from(SAMPLES), f64::from(i + 1) / f64::from(SAMPLES));
            if back(t) < reached {
                return highest;
            }
            if back(t) > reach {
                return highest.max(out_at(place_of(reach, back, t, nearer)));
            }
            reached = back(t);
            highest = highest.max(out_at(t));
        }
    }
    highest
}

/// Where between two places a growing distance comes to `reach`: it is more at `far`, not more at `near`.
fn place_of(reach: f64, distance: impl Fn(f64) -> f64, far: f64, near: f64) -> f64 {
    /// Halvings: to the last bits of a place along a segment.
    const HALVINGS: u32 = 48;
    let (mut far, mut near) = (far, near);
    for _ in 0..HALVINGS {
        let middle = (far + near) / 2.0;
        if distance(middle) > reach { far = middle } else { near = middle }
    }
    near
}

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
        assert!(slanted.ends[1].ridge && slanted.ends[1].cuts_in == 0.0);
        // 60 at the outer corner and 40 in the middle: a dip, into which a run-on of 80 cuts a 300 : 20 slope.
        let dipping = half(EdgeShape::Straight, 40.0).ends(80.0);
        assert!(!dipping[1].ridge && (dipping[1].cuts_in - 80.0 * 20.0 / 300.0).abs() < 1e-9, "{dipping:?}");
        assert!(half(EdgeShape::Straight, 90.0).router(f64::NAN).is_none());
    }
}
