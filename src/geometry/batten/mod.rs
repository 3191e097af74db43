//! A thin batten sprung through points: the curve of least bending, free to slide past each point.
//!
//! Between its points such a batten obeys `k'' = -k³/2 + λ k`, k its curvature along the length: the elastica of free length
//! for λ = 0 (R. Levien, The elastica: a mathematical history, UC Berkeley EECS-2008-103), drawn a little tighter by a
//! tension λ > 0. Position, direction and curvature are continuous at the points; a free end is straight (k = 0).

mod banded;
mod bend;
mod solve;

use crate::tolerance::{BELOW_A_RULE, TRUE_TO};
use bend::{STEPS, State};
use kurbo::{CubicBez, CurveFitSample, ParamCurveFit, Point, Vec2};
use std::ops::Range;

/// The most points that a batten may be held by.
const MOST_POINTS: usize = 500;
/// Tensions tried, in this order, where a plain batten has no shape.
const TENSIONS: [f64; 6] = [0.25, 0.5, 1.0, 2.0, 4.0, 8.0];
/// The most tension that may be asked for: the batten then bends over about a tenth of a span.
pub const MOST_TENSION: f64 = 64.0;

/// How a batten is held at an end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BattenEnd {
    /// By its point alone: it runs out straight.
    Free,
    /// Along a direction of travel, radians from the x axis.
    Along(f64),
}

/// Why a batten cannot be sprung.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BattenError {
    /// Fewer than two points, or more than 500.
    PointCount(usize),
    /// A number that is not finite, or a tension below 0 or beyond 64.
    BadNumber,
    /// The point of this index lies within 0.001 mm of the one before.
    RepeatedPoint(usize),
    /// No batten stays in these points: it would slip through without end.
    NoShape {
        /// The least of the tensions 0.25, 0.5, 1, 2, 4 and 8, above the one asked for, at which one stays.
        tension: Option<f64>,
    },
}

/// A batten sprung through points.
#[derive(Debug, Clone, PartialEq)]
pub struct Batten {
    points: Vec<Point>,
    /// State at each span's start, in mm and radians.
    starts: Vec<State>,
    /// Length of each span, mm.
    lengths: Vec<f64>,
    /// λ, 1/mm².
    stiffening: f64,
}

impl Batten {
    /// Springs a batten through `points`, in order. `tension` is λ in units of the mean distance between neighbouring
    /// points: 0 for a plain batten, at most 64.
    ///
    /// # Errors
    /// See [`BattenError`].
    pub fn spring(points: &[Point], ends: [BattenEnd; 2], tension: f64) -> Result<Batten, BattenError> {
        if !(2..=MOST_POINTS).contains(&points.len()) {
            return Err(BattenError::PointCount(points.len()));
        }
        let angles_finite = ends.iter().all(|end| match end {
            BattenEnd::Free => true,
            BattenEnd::Along(angle) => angle.is_finite(),
        });
        let reach = points.iter().map(|p| p.x.abs().max(p.y.abs())).fold(0.0, f64::max);
        let finite = points.iter().all(|p| p.is_finite()) && reach < super::FARTHEST;
        if !(finite && angles_finite && (0.0..=MOST_TENSION).contains(&tension)) {
            return Err(BattenError::BadNumber);
        }
        if let Some(i) = points.windows(2).position(|w| w[0].distance(w[1]) < BELOW_A_RULE) {
            return Err(BattenError::RepeatedPoint(i + 1));
        }
        solve::solve(points, ends, tension).ok_or_else(|| {
            let stays = |t: &f64| *t > tension && solve::solve(points, ends, *t).is_some();
            BattenError::NoShape { tension: TENSIONS.into_iter().find(|t| stays(t)) }
        })
    }

    /// Length of the batten between its end points, mm.
    pub fn length(&self) -> f64 {
        self.lengths.iter().sum()
    }

    /// Direction of travel at each point but the last, radians from the x axis, not reduced to one turn.
    pub fn angles(&self) -> Vec<f64> {
        self.starts.iter().map(|s| s.angle).collect()
    }

    /// Curvature at each point but the last, 1/mm; positive turns to the left.
    pub fn curvatures(&self) -> Vec<f64> {
        self.starts.iter().map(|s| s.curvature).collect()
    }

    /// The batten as cubics within [`TRUE_TO`] of it, smooth from each to the next and through its points to the
    /// last bit.
    pub fn to_cubics(&self) -> Vec<CubicBez> {
        let mut cubics: Vec<CubicBez> = Vec::new();
        for ((ends, start), length) in self.points.windows(2).zip(&self.starts).zip(&self.lengths) {
            let span = Span::new(*start, *length, self.stiffening);
            let path = kurbo::fit_to_bezpath(&span, TRUE_TO);
            let first = cubics.len();
            cubics.extend(path.segments().map(|s| s.to_cubic()));
            if let Some(cubic) = cubics.get_mut(first) {
                cubic.p0 = ends[0];
            }
            if let Some(cubic) = cubics.last_mut() {
                cubic.p3 = ends[1];
            }
        }
        cubics
    }
}

/// One span, laid out in steps so that a place along it costs a single step.
struct Span {
    states: Vec<State>,
    step: f64,
    stiffening: f64,
}

impl Span {
    fn new(start: State, length: f64, stiffening: f64) -> Self {
        let step = length / STEPS as f64;
        let states = std::iter::successors(Some(start), |s| Some(s.step(step, stiffening))).take(STEPS + 1).collect();
        Span { states, step, stiffening }
    }
}

impl ParamCurveFit for Span {
    fn sample_pt_tangent(&self, t: f64, _: f64) -> CurveFitSample {
        let (p, tangent) = self.sample_pt_deriv(t);
        CurveFitSample { p, tangent }
    }

    fn sample_pt_deriv(&self, t: f64) -> (Point, Vec2) {
        let steps = t * STEPS as f64;
        let before = (steps as usize).min(STEPS);
        let state = self.states[before].step((steps - before as f64) * self.step, self.stiffening);
        (Point::new(state.x, state.y), Vec2::from_angle(state.angle) * (self.step * STEPS as f64))
    }

    fn break_cusp(&self, _: Range<f64>) -> Option<f64> {
        None
    }
}

#[cfg(test)]
mod tests;
