//! Which rings of a filled path are edges of what is filled.

use crate::geometry::{Outline, Path};

/// The most rings of one path that are held against each other: what has more is filled with a pattern, not a part.
const MOST_RINGS: usize = 400;

/// The rings that lie inside filled ground on both their sides, by the non-zero rule: a viewer shows no edge there. Rings that
/// cross or are open are told elsewhere and not looked at.
pub(super) fn not_cut_out(paths: &[Path]) -> Vec<usize> {
    if paths.len() < 2 || paths.len() > MOST_RINGS {
        return Vec::new();
    }
    let closed = paths.iter().enumerate().filter(|(_, path)| path.is_closed());
    let rings: Vec<(usize, i32, Outline)> = closed
        .filter_map(|(index, path)| {
            let turn = if path.signed_area() > 0.0 { 1 } else { -1 };
            Some((index, turn, Outline::new(path.clone()).ok()?))
        })
        .collect();
    let winds_outside = |(index, _, ring): &(usize, i32, Outline)| -> i32 {
        let around = |other: &Outline| ring.path().start().is_some_and(|at| other.holds(at));
        rings.iter().filter(|(of, _, other)| of != index && around(other)).map(|(_, turn, _)| turn).sum()
    };
    let both = rings.iter().filter(|ring| {
        let outside = winds_outside(ring);
        outside != 0 && outside + ring.1 != 0
    });
    both.map(|(index, _, _)| *index).collect()
}
