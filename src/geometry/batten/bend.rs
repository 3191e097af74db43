//! How a batten goes on from a place: Runge and Kutta's rule of fourth order on its differential equation.

use std::ops::{Add, Mul};

/// Steps a span: its end is then good to about 1e-9 of the span for turns up to half a circle.
pub(super) const STEPS: usize = 48;

/// Place, direction, curvature and its rate along the length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct State {
    pub(super) x: f64,
    pub(super) y: f64,
    /// Radians from the x axis.
    pub(super) angle: f64,
    pub(super) curvature: f64,
    /// Rate of the curvature along the length.
    pub(super) rate: f64,
}

impl State {
    /// The rate of everything along the length; `stiffening` is λ.
    pub(super) fn rates(&self, stiffening: f64) -> State {
        let k = self.curvature;
        State {
            x: self.angle.cos(),
            y: self.angle.sin(),
            angle: k,
            curvature: self.rate,
            rate: (stiffening - 0.5 * k * k) * k,
        }
    }

    /// The state a length `h` further.
    pub(super) fn step(&self, h: f64, stiffening: f64) -> State {
        let first = self.rates(stiffening);
        let second = (*self + first * (h / 2.0)).rates(stiffening);
        let third = (*self + second * (h / 2.0)).rates(stiffening);
        let fourth = (*self + third * h).rates(stiffening);
        *self + (first + (second + third) * 2.0 + fourth) * (h / 6.0)
    }

    /// The state at the end of a span of the given length.
    pub(super) fn shot(&self, length: f64, stiffening: f64) -> State {
        let h = length / STEPS as f64;
        (0..STEPS).fold(*self, |state, _| state.step(h, stiffening))
    }
}

impl Add for State {
    type Output = State;
    fn add(self, o: State) -> State {
        State {
            x: self.x + o.x,
            y: self.y + o.y,
            angle: self.angle + o.angle,
            curvature: self.curvature + o.curvature,
            rate: self.rate + o.rate,
        }
    }
}

impl Mul<f64> for State {
    type Output = State;
    fn mul(self, by: f64) -> State {
        State {
            x: self.x * by,
            y: self.y * by,
            angle: self.angle * by,
            curvature: self.curvature * by,
            rate: self.rate * by,
        }
    }
}
