//! The unfinished offset cut wherever it meets itself.

use super::raw::{Piece, Raw};
use crate::geometry::Segment;
use crate::geometry::boxes::BoxTree;
use crate::geometry::crossing::contacts_or_overlap;
use crate::tolerance::{CONTACT_TOLERANCE, ROUNDING, SAME_CUT};
use kurbo::Vec2;
use std::f64::consts::PI;

/// The pieces, cut at every place where two of them meet. `None` where two run so nearly together that there is no telling.
pub(super) fn split(raw: &Raw) -> Option<Vec<Piece>> {
    let pieces = &raw.pieces;
    let mut cuts: Vec<Vec<f64>> = vec![Vec::new(); pieces.len()];
    let boxes: Vec<_> = pieces.iter().map(|p| p.segment.bounding_box()).collect();
    let tree = BoxTree::new(boxes.clone());
    for (i, bounds) in boxes.iter().enumerate() {
        let reach = bounds.inflate(CONTACT_TOLERANCE, CONTACT_TOLERANCE);
        for j in tree.meeting(reach).filter(|j| *j > i) {
            let (a, b) = (&pieces[i], &pieces[j]);
            if j == i + 1 && (b.follows && run_on(&a.segment, &b.segment) || is_corner(&a.segment, &b.segment)) {
                continue;
            }
            for contact in contacts_or_overlap(&a.segment, &b.segment)? {
                cuts[i].extend([contact.first.0, contact.first.1]);
                cuts[j].extend([contact.second.0, contact.second.1]);
            }
        }
    }
    Some(pieces.iter().zip(cuts).flat_map(|(piece, cuts)| cut(piece, cuts)).collect())
}

/// A piece cut at parameters.
fn cut(piece: &Piece, mut cuts: Vec<f64>) -> Vec<Piece> {
    if cuts.is_empty() {
        return vec![*piece];
    }
    cuts.extend([0.0, 1.0]);
    cuts.sort_by(f64::total_cmp);
    let mut knots: Vec<f64> = Vec::new();
    for t in cuts {
        let new = knots.last().is_none_or(|last| {
            let there = piece.segment.eval(*last);
            // Half way too: a closed piece's ends are not one place.
            there.distance(piece.segment.eval(t)) > SAME_CUT
                || there.distance(piece.segment.eval((last + t) / 2.0)) > SAME_CUT
        });
        if new {
            knots.push(t);
        } else if t == 1.0 && knots.len() > 1 {
            // The end itself, not a cut beside it.
            knots.pop();
            knots.push(t);
        }
    }
    let parts = knots.windows(2).map(|w| Piece { segment: piece.segment.subsegment(w[0], w[1]), ..*piece });
    parts.collect()
}

/// Whether two pieces, the second going on smoothly from the first, turn so little together that they cannot meet again:
/// a curve whose directions all lie within half a turn only moves forward.
fn run_on(before: &Segment, after: &Segment) -> bool {
    let (a, b) = (directions(before), directions(after));
    let low = (a.0 - a.2).min(b.0);
    let high = (a.1 - a.2).max(b.1);
    high - low < PI - 0.01
}

/// Whether two lines make a corner, so that they meet nowhere else; they do not fold back on each other.
fn is_corner(before: &Segment, after: &Segment) -> bool {
    let (Segment::Line(before), Segment::Line(after)) = (before, after) else { return false };
    let (arriving, leaving) = (before.p1 - before.p0, after.p1 - after.p0);
    before.p1.distance(after.p0) < ROUNDING && arriving.dot(leaving) > -0.9 * arriving.hypot() * leaving.hypot()
}

/// The least, the greatest and the last angle of a piece's directions, from its first, radians.
fn directions(piece: &Segment) -> (f64, f64, f64) {
    let turn = |from: Vec2, to: Vec2| from.cross(to).atan2(from.dot(to));
    match piece {
        Segment::Line(_) => (0.0, 0.0, 0.0),
        Segment::Arc(arc) => (arc.sweep.min(0.0), arc.sweep.max(0.0), arc.sweep),
        Segment::Cubic(c) => {
            let start = piece.tangent(0.0);
            let legs = [c.p2 - c.p1, c.p3 - c.p2];
            let mut at = 0.0;
            let mut range = (0.0_f64, 0.0_f64);
            let mut last = start;
            for leg in legs.into_iter().filter(|leg| leg.hypot() > 0.0) {
                at += turn(last, leg);
                range = (range.0.min(at), range.1.max(at));
                last = leg;
            }
            (range.0, range.1, at)
        }
    }
}
