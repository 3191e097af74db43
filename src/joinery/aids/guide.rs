//! A block that holds a cutter or drill at a tilt.

use super::figure::{Figure, Look};
use crate::geometry::Point;
use crate::units::Angle;

/// The least height of a guide block at its low side, mm: less does not hold a cutter.
const LOW_SIDE: f64 = 8.0;

/// How far a centre line is drawn beyond the block, mm.
const BEYOND: f64 = 12.0;

/// A guide block in the plane of its tilt: its foot on the wood, its top square to the cutter.
#[derive(Debug, Clone, Copy)]
pub(super) struct Guide {
    /// Between the cutter and square to the wood; the cutter leans towards +x as it comes out.
    pub(super) tilt: Angle,
    /// From where to where the foot reaches along the tilt, from the centre of the mouth, mm.
    pub(super) foot: [f64; 2],
    /// Half of what the cutter or mortise takes square to the centre line, mm.
    pub(super) half: f64,
    /// Wanted from the wood to the top along the centre line, mm.
    pub(super) height: f64,
}

impl Guide {
    /// From the wood to the top along the centre line, mm: what was wanted, or what leaves the low side enough.
    pub(super) fn reach(&self) -> f64 {
        let sin = self.tilt.radians().sin();
        self.height.max(self.foot[1] * sin + LOW_SIDE * self.tilt.radians().cos())
    }

    /// The section.
    pub(super) fn figure(&self, name: impl Into<String>) -> Figure {
        let (sin, cos) = self.tilt.radians().sin_cos();
        let reach = self.reach();
        let top = |x: f64| Point::new(x, (reach - x * sin) / cos);
        let [a, b] = self.foot;
        let mut figure = Figure::new(name);
        figure.polygon(Look::Cut, &[Point::new(a, 0.0), Point::new(b, 0.0), top(b), top(a)]);
        let along = |s: f64, out: f64| Point::new(s * sin + out * cos, s * cos - out * sin);
        figure.straight(Look::Centre, along(-BEYOND, 0.0), along(reach + BEYOND, 0.0));
        for out in [-self.half, self.half] {
            // Along the cutter's side to the foot, where y is 0.
            figure.straight(Look::Hidden, along(out * sin / cos, out), along(reach, out));
        }
        figure
    }
}
