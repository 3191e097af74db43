//! A block that holds a cutter or drill at a tilt.

use super::figure::{Figure, Look};
use crate::geometry::Point;
use crate::units::Angle;

/// The least height of a guide block at its low side, mm: less does not hold a cutter.
const LOW_SIDE: f64 = 8.0;

/// How far a centre line is drawn beyond the block, mm.
const BEYOND: f64 = 12.0;

/// A guide block in the plane of its tilt: its foot on the wood, its top square to the cutter.
#[derive(Debug, Clone)]
pub(super) struct Guide {
    /// Between the cutter and square to the wood; the cutter leans towards +x as it comes out.
    pub(super) tilt: Angle,
    /// From where to where the foot reaches along the tilt, from the middle of the mouths, mm.
    pub(super) foot: [f64; 2],
    /// From where to where each mouth reaches on the wood along the tilt, from their middle, mm.
    pub(super) mouths: Vec<[f64; 2]>,
    /// Wanted from the wood to the top along the cutter over the middle, mm.
    pub(super) height: f64,
}

impl Guide {
    /// From the wood to the top along the cutter over the middle, mm: what was wanted, or what leaves the low side enough.
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
        // Along the cutter from a place of the foot, as far as wanted; its top lies where x sin + y cos = reach.
        let along = |x: f64, far: f64| Point::new(x + far * sin, far * cos);
        for [low, high] in self.seen_mouths() {
            let middle = (low + high) / 2.0;
            figure.straight(Look::Centre, along(middle, -BEYOND), along(middle, reach - middle * sin + BEYOND));
            for side in [low, high] {
                figure.straight(Look::Hidden, along(side, 0.0), along(side, reach - side * sin));
            }
        }
        figure
    }

    /// The mouths as the section sees them: those that stand behind one another are one.
    fn seen_mouths(&self) -> Vec<[f64; 2]> {
        let mut all = self.mouths.clone();
        all.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let mut seen: Vec<[f64; 2]> = Vec::new();
        for [low, high] in all {
            match seen.last_mut() {
                Some(last) if low < last[1] => last[1] = last[1].max(high),
                _ => seen.push([low, high]),
            }
        }
        seen
    }
}
