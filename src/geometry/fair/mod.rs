//! Fair curves: blends and tapers that begin without a jolt, the curvature comb, and what the eye would find fault with.

mod comb;
mod faults;

use crate::tolerance::{BELOW_A_RULE, TRUE_TO};
pub use comb::{Comb, comb};
pub use faults::{Unfair, UnfairKind, UnfairSettings, unfair};

use super::{Path, Point, Segment, Vec2};
use kurbo::{CubicBez, CurveFitSample, ParamCurveFit, PathEl};
use std::ops::Range;

/// How strongly a blend holds to its two edges, in chords: the range that is searched.
const HOLDS: (f64, f64) = (0.3, 3.0);

/// A curve that leaves the edge that ends at `from` in direction `leaving` and joins the one that begins at `to` in direction
/// `arriving`, smoothly: straight at both ends, so that its curvature grows from nothing and comes to nothing. Of such curves
/// the one that bends least sharply is taken. `None` where a number is not finite, a direction has no length, or the two
/// points are one.
///
/// The curve is the quintic with the given ends, directions and no second derivative there (Hermite's, standard), fitted by
/// cubics within 0.005 mm.
pub fn blend(from: Point, leaving: Vec2, to: Point, arriving: Vec2) -> Option<Path> {
    let chord = to.distance(from);
    let (leaving, arriving) = (leaving / leaving.hypot(), arriving / arriving.hypot());
    if !(from.is_finite() && chord.is_finite() && chord > BELOW_A_RULE && leaving.is_finite() && arriving.is_finite())
    {
        return None;
    }
    let with =
        |hold: f64| Quintic { from, to, leaving: leaving * (hold * chord), arriving: arriving * (hold * chord) };
    let sharpest = |hold: f64| with(hold).sharpest();
    // First roughly, because the sharpest place may jump from one spot to another; then to a thousandth.
    let rough =
        (0..=54).map(|k| HOLDS.0 + f64::from(k) * 0.05).min_by(|a, b| sharpest(*a).total_cmp(&sharpest(*b)))?;
    let (mut low, mut high) = ((rough - 0.05).max(HOLDS.0), (rough + 0.05).min(HOLDS.1));
    while high - low > BELOW_A_RULE {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if sharpest(a) < sharpest(b) { high = b } else { low = a }
    }
    let curve = with((low + high) / 2.0);
    let fitted = kurbo::fit_to_bezpath(&curve, TRUE_TO);
    let mut at = from;
    let mut pieces = Vec::new();
    for element in fitted.elements() {
        match *element {
            PathEl::CurveTo(a, b, c) => {
                pieces.push(Segment::Cubic(CubicBez::new(at, a, b, c)));
                at = c;
            }
            PathEl::LineTo(c) => {
                pieces.push(Segment::line(at, c));
                at = c;
            }
            _ => {}
        }
    }
    (!pieces.is_empty()).then(|| Path::open(pieces))
}

/// A tapering curve: it leaves `from` along `along` straight and without bending, bends ever more, and has come away by `aside`
/// mm, to the left where positive, after `length` mm along. `None` where a number is not finite or `length` not positive.
///
/// The curve is the cubic parabola y = aside (x / length)³, whose curvature grows evenly from nothing.
pub fn taper(from: Point, along: Vec2, length: f64, aside: f64) -> Option<Path> {
    let along = along / along.hypot();
    if !(from.is_finite() && along.is_finite() && length > 0.0 && length.is_finite() && aside.is_finite()) {
        return None;
    }
    let at = |share: f64| from + along * (length * share);
    let end = at(1.0) + along.turn_90() * aside;
    Some(Path::open(vec![Segment::Cubic(CubicBez::new(from, at(1.0 / 3.0), at(2.0 / 3.0), end))]))
}

/// The quintic with given ends and first derivatives, and no second derivatives, at its ends.
struct Quintic {
    from: Point,
    to: Point,
    leaving: Vec2,
    arriving: Vec2,
}

impl Quintic {
    /// Weights of chord, leaving and arriving at `t`: of the place, the first and the second derivative.
    fn weights(t: f64) -> [[f64; 3]; 3] {
        let (t2, t3, t4, t5) = (t * t, t.powi(3), t.powi(4), t.powi(5));
        [
            [10.0 * t3 - 15.0 * t4 + 6.0 * t5, t - 6.0 * t3 + 8.0 * t4 - 3.0 * t5, -4.0 * t3 + 7.0 * t4 - 3.0 * t5],
            [
                30.0 * t2 - 60.0 * t3 + 30.0 * t4,
                1.0 - 18.0 * t2 + 32.0 * t3 - 15.0 * t4,
                -12.0 * t2 + 28.0 * t3 - 15.0 * t4,
            ],
            [
                60.0 * t - 180.0 * t2 + 120.0 * t3,
                -36.0 * t + 96.0 * t2 - 60.0 * t3,
                -24.0 * t + 84.0 * t2 - 60.0 * t3,
            ],
        ]
    }

    fn weighed(&self, [chord, leaving, arriving]: [f64; 3]) -> Vec2 {
        (self.to - self.from) * chord + self.leaving * leaving + self.arriving * arriving
    }

    /// The greatest curvature on it, 1/mm.
    fn sharpest(&self) -> f64 {
        let bend = |k: i32| {
            let [_, first, second] = Quintic::weights(f64::from(k) / 64.0);
            let speed = self.weighed(first);
            // Where it comes to a stand it turns on the spot.
            let bend = speed.cross(self.weighed(second)).abs() / speed.hypot().powi(3);
            if bend.is_finite() { bend } else { f64::MAX }
        };
        (0..=64).map(bend).fold(0.0, f64::max)
    }
}

impl ParamCurveFit for Quintic {
    fn sample_pt_tangent(&self, t: f64, _sign: f64) -> CurveFitSample {
        let (p, tangent) = self.sample_pt_deriv(t);
        CurveFitSample { p, tangent }
    }

    fn sample_pt_deriv(&self, t: f64) -> (Point, Vec2) {
        let [place, first, _] = Quintic::weights(t);
        (self.from + self.weighed(place), self.weighed(first))
    }

    fn break_cusp(&self, _range: Range<f64>) -> Option<f64> {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::{Point, Segment, UnfairKind, UnfairSettings, Vec2, blend, taper, unfair};

    #[test]
    fn a_blend_joins_both_edges_straight() {
        for (to, arriving) in [
            (Point::new(100.0, 80.0), Vec2::new(0.0, 1.0)),
            (Point::new(200.0, 40.0), Vec2::new(3.0, 0.0)),
            (Point::new(150.0, -60.0), Vec2::new(1.0, -0.4)),
        ] {
            let path = blend(Point::ORIGIN, Vec2::new(2.0, 0.0), to, arriving).expect("the ends are apart");
            let (first, last) = (path.segments()[0], path.segments()[path.segments().len() - 1]);
            assert!(first.start().distance(Point::ORIGIN) < 1e-9 && last.end().distance(to) < 1e-9);
            assert!(first.tangent(0.0).cross(Vec2::new(1.0, 0.0)).abs() < 1e-6);
            assert!(last.tangent(1.0).cross(arriving / arriving.hypot()).abs() < 1e-6);
            let bends = |s: &Segment| (0..=20).map(|k| s.curvature(f64::from(k) / 20.0).abs()).fold(0.0, f64::max);
            let sharpest = path.segments().iter().map(bends).fold(0.0, f64::max);
            assert!(first.curvature(0.0).abs() < 0.1 * sharpest && last.curvature(1.0).abs() < 0.1 * sharpest);
            for pair in path.segments().windows(2) {
                assert!(pair[0].end().distance(pair[1].start()) < 1e-9);
                assert!(pair[0].tangent(1.0).cross(pair[1].tangent(0.0)).abs() < 1e-6);
            }
            assert!(unfair(&path, &UnfairSettings::default()).iter().all(|u| u.kind == UnfairKind::Inflection));
        }
        assert_eq!(blend(Point::ORIGIN, Vec2::ZERO, Point::new(9.0, 9.0), Vec2::new(1.0, 0.0)), None);
        assert_eq!(blend(Point::ORIGIN, Vec2::new(1.0, 0.0), Point::ORIGIN, Vec2::new(1.0, 0.0)), None);
    }

    #[test]
    fn a_taper_grows_evenly() {
        let path = taper(Point::new(5.0, 5.0), Vec2::new(0.0, 2.0), 300.0, -12.0).expect("numbers");
        let piece = path.segments()[0];
        assert!(piece.end().distance(Point::new(17.0, 305.0)) < 1e-9);
        // A third of the way along a third of the bend: y'' = 6 aside x / length³, the slope being small.
        assert!((piece.curvature(1.0 / 3.0) + 6.0 * 12.0 / 3.0 / 90000.0).abs() < 2e-6);
        assert_eq!(piece.curvature(0.0), 0.0);
        assert_eq!(taper(Point::ORIGIN, Vec2::new(1.0, 0.0), 0.0, 3.0), None);
    }
}
