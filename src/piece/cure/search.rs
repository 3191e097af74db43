//! The nearest value of one number that does, found by trying, and rounded to what can be written.

use crate::tolerance::UNSEEN;
use crate::units::{Length, Notation, Units};

/// Shares of a number that are tried in its place, going away from it.
pub const LESS: [f64; 10] = [0.97, 0.94, 0.9, 0.85, 0.8, 0.7, 0.6, 0.5, 0.3, 0.1];
/// The same of more than it.
pub const MORE: [f64; 10] = [1.03, 1.06, 1.1, 1.15, 1.2, 1.3, 1.4, 1.7, 2.0, 3.0];

/// The value nearest to `given` that does, as it can be written; `None` where none does. Each ladder holds values to try, going
/// away from the given one; the first of each that does is narrowed down towards the one before it. `written` rounds a value up
/// (or down), and more finely where only a sliver does.
pub fn nearest(
    given: f64,
    ladders: &[Vec<f64>],
    does: &dyn Fn(f64) -> bool,
    written: &dyn Fn(f64, bool, bool) -> f64,
) -> Option<f64> {
    let found = ladders.iter().filter_map(|ladder| {
        let first = ladder.iter().position(|value| does(*value))?;
        let before = first.checked_sub(1).map_or(given, |before| ladder[before]);
        Some(narrowed(before, ladder[first], does))
    });
    let good = found.min_by(|a, b| (a - given).abs().total_cmp(&(b - given).abs()))?;
    // Rounded away from what does not fit; where only a sliver fits, more finely.
    [false, true].map(|finely| written(good, good > given, finely)).into_iter().find(|value| does(*value))
}

/// The limit up to which values do, going from one that does to one that does not, as it can be written; `None` where none can. The same
/// shares are gone through whatever the latter is, so that one limit is found from all that lie beyond it.
pub fn limit(
    good: f64,
    bad: f64,
    does: &dyn Fn(f64) -> bool,
    written: &dyn Fn(f64, bool, bool) -> f64,
) -> Option<f64> {
    let shares = if bad > good { MORE } else { LESS };
    let is_before = |value: &f64| if bad > good { *value < bad } else { *value > bad };
    let rungs = shares.into_iter().map(|share| share * good).filter(is_before).chain([bad]);
    let (mut last, mut first_bad) = (good, bad);
    for rung in rungs {
        if !does(rung) {
            first_bad = rung;
            break;
        }
        last = rung;
    }
    let limit = narrowed(first_bad, last, does);
    [false, true].map(|finely| written(limit, bad < good, finely)).into_iter().find(|value| does(*value))
}

/// A value between one that does not do and one that does, just on the side of the latter.
fn narrowed(mut bad: f64, mut good: f64, does: &dyn Fn(f64) -> bool) -> f64 {
    while (good - bad).abs() > UNSEEN {
        let middle = (bad + good) / 2.0;
        if does(middle) { good = middle } else { bad = middle }
    }
    good
}

/// A length, mm, rounded up or down to what can be written: tenths of a millimetre, or steps of the maker's rule; finely, to
/// 0.001 mm or inch.
pub fn length(mm: f64, up: bool, finely: bool, notation: &Notation) -> f64 {
    match notation.units {
        Units::Inch => {
            let per_inch = if finely { 1000.0 } else { f64::from(notation.denominator.max(1)) };
            Length::from_inches(whole(Length::from_mm(mm).inches() * per_inch, up) / per_inch).mm()
        }
        Units::Mm => decimal(mm, up, finely),
    }
}

/// A number rounded up or down to tenths, finely to thousandths.
pub fn decimal(value: f64, up: bool, finely: bool) -> f64 {
    let steps = if finely { 1000.0 } else { 10.0 };
    whole(value * steps, up) / steps
}

/// Rounded up or down to a whole number.
fn whole(steps: f64, up: bool) -> f64 {
    if up { steps.ceil() } else { steps.floor() }
}
