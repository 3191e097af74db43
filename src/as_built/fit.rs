//! The pose that explains readings best: least squares by damped steps, with how well each number is known.

use super::pose::{NUMBERS, Number, Pose, Stance};
use super::reading::{Reading, What};
use super::symmetric::{Matrix, dot, inverse, times};

/// The most rounds; two or three are enough from what was drawn.
const ROUNDS: usize = 40;

/// A round that moves every number by less than this share of what it may be off has settled.
const SETTLED: f64 = 1e-11;

/// A reading that is off by more than so many of its own standard deviations is a slip: of a thousand honest ones, one is.
const SLIP: f64 = 3.29;

/// A slip of so many standard deviations is noticed four times of five: [`SLIP`] and 0.84 more.
const NOTICED: f64 = SLIP + 0.84;

/// Below this share of a reading that the others check, they say nothing of it.
const UNCHECKED: f64 = 1e-3;

/// Suspects whose deviations differ by less than this are named together.
const AS_LIKELY: f64 = 0.3;

/// How the frames stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The seven numbers: radians and mm.
    pub pose: Pose,
    /// Their covariance.
    pub covariance: Matrix,
    /// How each reading agrees, in their order.
    pub residuals: Vec<Residual>,
}

/// How a reading agrees with what all say together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residual {
    /// How much more was read than all say together, mm or radians.
    pub off: f64,
    /// How much more was read than the others say, mm or radians; `None` where the others say nothing of it.
    pub off_the_others: Option<f64>,
    /// How many of its own standard deviations that is.
    pub normalised: f64,
    /// The least slip that would be noticed four times of five, mm or radians; `None` where none would.
    pub least_slip: Option<f64>,
}

/// What is added up: the squares of what readings miss, and of how far the pose is from the drawn one.
struct System {
    /// The normal matrix.
    normal: Matrix,
    /// What the steps must meet.
    right: Pose,
    /// The sum of the squares.
    misses: f64,
}

fn system(stance: &Stance, readings: &[Reading], pose: &Pose) -> System {
    let mut system = System { normal: [[0.0; NUMBERS]; NUMBERS], right: [0.0; NUMBERS], misses: 0.0 };
    for (k, number) in Number::ALL.iter().enumerate() {
        let (weight, off) = (number.prior().powi(-2), stance.drawn[k] - pose[k]);
        system.normal[k][k] += weight;
        system.right[k] += weight * off;
        system.misses += weight * off * off;
    }
    for reading in readings {
        let (slopes, weight) = (reading.what.slopes(stance, pose), reading.accuracy.powi(-2));
        let off = reading.reads - reading.what.of(stance, pose);
        for (k, slope) in slopes.iter().enumerate() {
            system.right[k] += weight * slope * off;
            for (other, entry) in slopes.iter().zip(&mut system.normal[k]) {
                *entry += weight * slope * other;
            }
        }
        system.misses += weight * off * off;
    }
    system
}

/// The numbers in units of what each may be off, so that radians and mm weigh alike.
fn scaled(normal: &Matrix) -> Matrix {
    let prior = Number::ALL.map(Number::prior);
    std::array::from_fn(|i| std::array::from_fn(|k| normal[i][k] * prior[i] * prior[k]))
}

/// The inverse of a normal matrix.
fn covariance(normal: &Matrix) -> Matrix {
    scaled(&inverse(scaled(normal)))
}

/// The pose that explains the readings best.
pub(super) fn fit(stance: &Stance, readings: &[Reading]) -> Fitted {
    let (mut pose, mut damping) = (stance.drawn, 0.0);
    let mut now = system(stance, readings, &pose);
    for _ in 0..ROUNDS {
        let mut damped = now.normal;
        (0..NUMBERS).for_each(|k| damped[k][k] *= 1.0 + damping);
        let step = times(&covariance(&damped), &now.right);
        let next: Pose = std::array::from_fn(|k| pose[k] + step[k]);
        let then = system(stance, readings, &next);
        if then.misses <= now.misses * (1.0 + f64::EPSILON) {
            (pose, now, damping) = (next, then, damping / 10.0);
        } else {
            damping = (damping * 100.0).max(1e-3);
        }
        if Number::ALL.iter().zip(step).all(|(number, by)| by.abs() < SETTLED * number.prior()) {
            break;
        }
    }
    let covariance = covariance(&now.normal);
    let residuals = readings.iter().map(|reading| residual(stance, reading, (&pose, &covariance))).collect();
    Fitted { pose, covariance, residuals }
}

fn residual(stance: &Stance, reading: &Reading, (pose, covariance): (&Pose, &Matrix)) -> Residual {
    let off = reading.reads - reading.what.of(stance, pose);
    let variance = reading.accuracy.powi(2);
    // Which share of a slip would show in this residual, and not hide in the pose.
    let shows = 1.0 - variance_of(stance, reading.what, pose, covariance) / variance;
    if shows < UNCHECKED {
        return Residual { off, off_the_others: None, normalised: 0.0, least_slip: None };
    }
    Residual {
        off,
        off_the_others: Some(off / shows),
        normalised: off / (reading.accuracy * shows.sqrt()),
        least_slip: Some(NOTICED * reading.accuracy / shows.sqrt()),
    }
}

/// The variance of what a pose gives for something that may be read.
pub(super) fn variance_of(stance: &Stance, what: What, pose: &Pose, covariance: &Matrix) -> f64 {
    let slopes = what.slopes(stance, pose);
    dot(&slopes, &times(covariance, &slopes))
}

/// The covariance with one more reading of a slope and an accuracy.
pub(super) fn with_one_more(covariance: &Matrix, slopes: &Pose, accuracy: f64) -> Matrix {
    let gain = times(covariance, slopes);
    let whole = accuracy * accuracy + dot(slopes, &gain);
    std::array::from_fn(|i| std::array::from_fn(|k| covariance[i][k] - gain[i] * gain[k] / whole))
}

impl Fitted {
    /// How well a number is known, as a standard deviation: radians or mm.
    pub fn deviation(&self, number: Number) -> f64 {
        let index = Number::ALL.iter().position(|one| *one == number);
        index.map_or(f64::INFINITY, |k| self.covariance[k][k].max(0.0).sqrt())
    }

    /// The variance of what grows so with each number of the pose.
    pub fn variance(&self, slopes: &Pose) -> f64 {
        dot(slopes, &times(&self.covariance, slopes))
    }

    /// Whether readings tell a number: it is known to a third of what it may be off.
    pub fn is_known(&self, number: Number) -> bool {
        self.deviation(number) < number.prior() / 3.0
    }

    /// The readings that may be the slip, by their indices, the likeliest first; none where all agree.
    pub fn suspects(&self) -> Vec<usize> {
        let off = |index: &usize| self.residuals[*index].normalised.abs();
        let mut all: Vec<usize> = (0..self.residuals.len()).filter(|index| off(index) > SLIP).collect();
        all.sort_by(|a, b| off(b).total_cmp(&off(a)));
        let worst = all.first().map_or(0.0, off);
        all.retain(|index| off(index) > worst - AS_LIKELY);
        all
    }
}
