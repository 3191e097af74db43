//! What lies past the ends of an edge that a template carries on: nothing, or more of the part.

use crate::geometry::{Path, Point, Vec2};
use crate::tolerance::BELOW_A_RULE;

/// So far past the end, mm, it is looked whether the part goes on: beyond any rounding of the corner.
const LOOK: f64 = 5.0;

/// The part goes on where its outline turns from the edge by less than an angle with this sine (50 degrees); what turns by more is its end,
/// square or mitred.
const GOES_ON: f64 = 0.766;

/// In so many steps along what is run on it is looked where that lies deepest in the part.
const STEPS: u32 = 64;

/// By so many halvings of the place between two steps it is found, to a thousandth of a millimetre of any run-on.
const HALVINGS: u32 = 20;

/// Past one end of an edge, as it is run on straight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Beyond {
    /// The part ends there.
    Nothing,
    /// The part goes on; what is run on passes so deep into it, mm, nothing where it stays off.
    Part {
        /// The depth.
        deep: f64,
    },
}

impl Beyond {
    /// Past the end of an edge that is run on by a vector, beside a part with this outline.
    pub(super) fn past(end: Point, by: Vec2, outline: &Path) -> Beyond {
        let length = by.hypot();
        let look = LOOK.min(length);
        let depth = |at: Point| {
            let away = outline.nearest(at).map_or(f64::INFINITY, |found| found.0);
            if outline.encloses(at) { away } else { -away }
        };
        if length < BELOW_A_RULE || depth(end + by * (look / length)) < -look * GOES_ON {
            return Beyond::Nothing;
        }
        let deep = deepest(|share| depth(end + by * share));
        Beyond::Part { deep: if deep < BELOW_A_RULE { 0.0 } else { deep } }
    }

    /// That of two edges which end side by side: the part goes on where it does past either.
    pub(super) fn or(self, other: Beyond) -> Beyond {
        match (self, other) {
            (Beyond::Part { deep }, Beyond::Part { deep: too }) => Beyond::Part { deep: deep.max(too) },
            (Beyond::Nothing, other) => other,
            (own, Beyond::Nothing) => own,
        }
    }
}

/// The most of a depth along a line, by shares of its length; below zero it is nothing.
fn deepest(depth: impl Fn(f64) -> f64) -> f64 {
    let share = |step: u32| f64::from(step) / f64::from(STEPS);
    let most = (1..=STEPS).map(|step| (share(step), depth(share(step)))).max_by(|a, b| a.1.total_cmp(&b.1));
    let Some((at, mut most)) = most else { return 0.0 };
    let (mut from, mut to) = (at - share(1), (at + share(1)).min(1.0));
    for _ in 0..HALVINGS {
        let quarter = (to - from) / 4.0;
        let [low, high] = [depth(from + quarter), depth(to - quarter)];
        most = most.max(low).max(high);
        if low > high { to -= quarter } else { from += quarter }
    }
    most.max(0.0)
}

#[cfg(test)]
mod tests {
    use super::Beyond;
    use crate::geometry::{Path, Point, Vec2};

    fn past(end: (f64, f64), by: (f64, f64), corners: &[(f64, f64)]) -> Beyond {
        let corners: Vec<Point> = corners.iter().copied().map(Point::from).collect();
        Beyond::past(end.into(), Vec2::from(by), &Path::polyline(&corners, true))
    }

    #[test]
    fn a_square_or_mitred_end_is_the_end_of_the_part() {
        let square = [(0.0, 0.0), (400.0, 0.0), (400.0, 80.0), (0.0, 80.0)];
        assert_eq!(past((400.0, 0.0), (80.0, 0.0), &square), Beyond::Nothing);
        // 15 degrees off square, either way.
        for over in [21.4, -21.4] {
            let leaning = [(0.0, 0.0), (400.0, 0.0), (400.0 + over, 80.0), (0.0, 80.0)];
            assert_eq!(past((400.0, 0.0), (80.0, 0.0), &leaning), Beyond::Nothing);
        }
    }

    #[test]
    fn where_the_part_goes_on_it_is_told_how_deep_the_run_on_lies_in_it() {
        // A flat of 80 at the end, level with the edge: the line runs on along it.
        let level = [(0.0, 0.0), (320.0, 0.0), (400.0, 0.0), (400.0, 80.0), (0.0, 80.0)];
        assert_eq!(past((320.0, 0.0), (60.0, 0.0), &level), Beyond::Part { deep: 0.0 });
        // The edge comes in at 1 in 10 and runs on up into the part: 6 mm over 60, less what it leans from square to the flat.
        let Beyond::Part { deep } = past((320.0, 0.0), (60.0, 6.0), &level) else { panic!("the part goes on") };
        assert!((deep - 6.0).abs() < 1e-9, "{deep}");
        // It runs on off the part.
        assert_eq!(past((320.0, 0.0), (60.0, -6.0), &level), Beyond::Part { deep: 0.0 });
    }
}
