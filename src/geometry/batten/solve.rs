//! The shape of a sprung batten by multiple shooting: unknown are the direction and curvature at every point and, for each
//! span, the curvature's rate at its start and its length; each span must end at the next point as the next begins.

use super::banded::Banded;
use super::bend::State;
use super::{Batten, BattenEnd};
use crate::tolerance::{BATTEN_LEAST_STEP, BATTEN_MET, BATTEN_NEARLY_MET, BATTEN_NUDGE};
use kurbo::Point;
use std::f64::consts::TAU;

/// Steps of Newton's method before giving up: 2 to 6 are usual, some 20 where spans turn by a quarter circle.
const MOST_STEPS: usize = 60;
/// Lengths of a span, in chords, within which a step must stay: shorter cannot be, longer is a loop.
const SPAN_LENGTHS: (f64, f64) = (0.5, 6.0);

/// The batten, or `None` where the search for its shape comes to nothing. The points are finite and apart.
pub(super) fn solve(points: &[Point], ends: [BattenEnd; 2], tension: f64) -> Option<Batten> {
    let frame = Frame::new(points, ends, tension);
    let unknowns = frame.settle(frame.small_angle_start()?)?;
    let scale = frame.scale;
    let starts = (0..frame.spans()).map(|i| {
        let s = frame.start(&unknowns, i);
        State { x: points[i].x, y: points[i].y, curvature: s.curvature / scale, rate: s.rate / (scale * scale), ..s }
    });
    Some(Batten {
        points: points.to_vec(),
        starts: starts.collect(),
        lengths: (0..frame.spans()).map(|i| unknowns[4 * i + 3] * scale).collect(),
        stiffening: tension / (scale * scale),
    })
}

/// The points in units of their mean distance, and what follows from them alone.
struct Frame {
    points: Vec<Point>,
    /// mm a unit.
    scale: f64,
    /// Length and direction of each chord; directions follow on without a jump.
    chords: Vec<(f64, f64)>,
    ends: [BattenEnd; 2],
    tension: f64,
}

impl Frame {
    fn new(points: &[Point], ends: [BattenEnd; 2], tension: f64) -> Self {
        let spans = points.len() - 1;
        let scale = points.windows(2).map(|w| w[0].distance(w[1])).sum::<f64>() / spans as f64;
        let origin = points[0];
        let scaled: Vec<Point> = points.iter().map(|p| ((*p - origin) / scale).to_point()).collect();
        let mut chords: Vec<(f64, f64)> = Vec::with_capacity(spans);
        for w in scaled.windows(2) {
            let chord = w[1] - w[0];
            let before = chords.last().map_or(chord.atan2(), |c| c.1);
            chords.push((chord.hypot(), nearest_turn(chord.atan2(), before)));
        }
        let directions = [chords[0].1, chords[spans - 1].1];
        let held = |end: BattenEnd, chord: f64| match end {
            BattenEnd::Free => BattenEnd::Free,
            BattenEnd::Along(angle) => BattenEnd::Along(nearest_turn(angle, chord)),
        };
        let ends = [held(ends[0], directions[0]), held(ends[1], directions[1])];
        Frame { points: scaled, scale, chords, ends, tension }
    }

    fn spans(&self) -> usize {
        self.chords.len()
    }

    /// The unknowns as they are for small angles, where each span is a cubic over its chord.
    ///
    /// With a and b the angles off the chord at a span's ends, the curvature there is -(4a + 2b)/L and (2a + 4b)/L and the
    /// length L (1 + (2a² - ab + 2b²)/30); curvature is continuous from span to span.
    fn small_angle_start(&self) -> Option<Vec<f64>> {
        let last = self.spans();
        let mut matrix = Banded::new(last + 1);
        let mut right = vec![0.0; last + 1];
        for (i, pair) in self.chords.windows(2).enumerate() {
            let ((l0, d0), (l1, d1)) = (pair[0], pair[1]);
            let row = i + 1;
            *matrix.at(row, row - 1) = 2.0 / l0;
            *matrix.at(row, row) = 4.0 / l0 + 4.0 / l1;
            *matrix.at(row, row + 1) = 2.0 / l1;
            right[row] = 6.0 * d0 / l0 + 6.0 * d1 / l1;
        }
        for (end, row, beside, chord) in [(self.ends[0], 0, 1, 0), (self.ends[1], last, last - 1, last - 1)] {
            let direction = self.chords[chord].1;
            let (own, other, value) = match end {
                BattenEnd::Free => (4.0, 2.0, 6.0 * direction),
                BattenEnd::Along(angle) => (1.0, 0.0, angle),
            };
            *matrix.at(row, row) = own;
            *matrix.at(row, beside) = other;
            right[row] = value;
        }
        let angles = matrix.solve(right)?;
        let mut unknowns = vec![0.0; 4 * last + 2];
        for (i, (length, direction)) in self.chords.iter().copied().enumerate() {
            let (a, b) = (angles[i] - direction, angles[i + 1] - direction);
            let (k0, k1) = (-(4.0 * a + 2.0 * b) / length, (2.0 * a + 4.0 * b) / length);
            let along = length * (1.0 + (2.0 * a * a - a * b + 2.0 * b * b) / 30.0);
            unknowns[4 * i..4 * i + 6].copy_from_slice(&[angles[i], k0, (k1 - k0) / along, along, angles[i + 1], k1]);
        }
        Some(unknowns)
    }

    /// The state at the start of a span.
    fn start(&self, unknowns: &[f64], span: usize) -> State {
        let p = self.points[span];
        let [angle, curvature, rate] = [0, 1, 2].map(|k| unknowns[4 * span + k]);
        State { x: p.x, y: p.y, angle, curvature, rate }
    }

    /// By how much the end conditions and the spans' ends are missed.
    fn misses(&self, unknowns: &[f64]) -> Vec<f64> {
        let last = self.spans();
        let end_miss = |end: BattenEnd, point: usize| match end {
            BattenEnd::Free => unknowns[4 * point + 1],
            BattenEnd::Along(angle) => unknowns[4 * point] - angle,
        };
        let mut misses = vec![end_miss(self.ends[0], 0)];
        for i in 0..last {
            let end = self.start(unknowns, i).shot(unknowns[4 * i + 3], self.tension);
            let to = self.points[i + 1];
            misses.extend([
                end.x - to.x,
                end.y - to.y,
                end.angle - unknowns[4 * i + 4],
                end.curvature - unknowns[4 * i + 5],
            ]);
        }
        misses.push(end_miss(self.ends[1], last));
        misses
    }

    /// How the misses change with the unknowns.
    fn slopes(&self, unknowns: &[f64]) -> Banded {
        let last = self.spans();
        let mut matrix = Banded::new(unknowns.len());
        for (end, row, point) in [(self.ends[0], 0, 0), (self.ends[1], unknowns.len() - 1, last)] {
            *matrix.at(row, 4 * point + usize::from(end == BattenEnd::Free)) = 1.0;
        }
        for i in 0..last {
            let (start, length) = (self.start(unknowns, i), unknowns[4 * i + 3]);
            let shot = |start: State| start.shot(length, self.tension);
            let end = shot(start);
            let by_curvature = |d: f64| shot(State { curvature: start.curvature + d, ..start });
            let by_rate = |d: f64| shot(State { rate: start.rate + d, ..start });
            let difference = |up: State, down: State| (up + down * -1.0) * (0.5 / BATTEN_NUDGE);
            let columns = [
                // Another direction at the start turns the whole span about it.
                State { x: start.y - end.y, y: end.x - start.x, angle: 1.0, curvature: 0.0, rate: 0.0 },
                difference(by_curvature(BATTEN_NUDGE), by_curvature(-BATTEN_NUDGE)),
                difference(by_rate(BATTEN_NUDGE), by_rate(-BATTEN_NUDGE)),
                end.rates(self.tension),
            ];
            let row = 1 + 4 * i;
            for (k, slope) in columns.into_iter().enumerate() {
                for (j, value) in [slope.x, slope.y, slope.angle, slope.curvature].into_iter().enumerate() {
                    *matrix.at(row + j, 4 * i + k) = value;
                }
            }
            *matrix.at(row + 2, 4 * i + 4) = -1.0;
            *matrix.at(row + 3, 4 * i + 5) = -1.0;
        }
        matrix
    }

    /// Newton's method, taking of each step as much as makes the misses smaller.
    fn settle(&self, mut unknowns: Vec<f64>) -> Option<Vec<f64>> {
        let mut misses = self.misses(&unknowns);
        for _ in 0..MOST_STEPS {
            let size = norm(&misses);
            if size <= BATTEN_MET {
                break;
            }
            let step = self.slopes(&unknowns).solve(misses.clone())?;
            let better = std::iter::successors(Some(1.0), |share| Some(share * 0.5))
                .take_while(|share| *share >= BATTEN_LEAST_STEP)
                .find_map(|share| {
                    let tried: Vec<f64> = unknowns.iter().zip(&step).map(|(x, d)| x - share * d).collect();
                    let in_bounds = self.chords.iter().enumerate().all(|(i, (chord, _))| {
                        let length = tried[4 * i + 3] / chord;
                        length > SPAN_LENGTHS.0 && length < SPAN_LENGTHS.1
                    });
                    let missed = if in_bounds { self.misses(&tried) } else { return None };
                    (norm(&missed) < size * (1.0 - 0.1 * share)).then_some((tried, missed))
                });
            match better {
                Some(next) => (unknowns, misses) = next,
                None => break,
            }
        }
        (norm(&misses) <= BATTEN_NEARLY_MET).then_some(unknowns)
    }
}

/// An angle's equal that lies within half a turn of another.
fn nearest_turn(angle: f64, to: f64) -> f64 {
    angle - TAU * ((angle - to) / TAU).round()
}

fn norm(values: &[f64]) -> f64 {
    values.iter().map(|v| v * v).sum::<f64>().sqrt()
}
