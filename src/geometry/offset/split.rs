//! The unfinished offset cut wherever it meets itself.

use super::SHARE;
use super::raw::{Piece, Raw};
use crate::geometry::boxes::BoxTree;
use crate::geometry::crossing::contacts_or_overlap;
use crate::geometry::{Segment, in_shares};
use crate::tolerance::{CONTACT_TOLERANCE, ROUNDING, SAME_CUT};
use kurbo::Vec2;
use std::f64::consts::PI;

/// Where two pieces meet: which one comes later, and the parameters of both.
type Meeting = (usize, [f64; 2], [f64; 2]);

/// The pieces, cut at every place where two of them meet. `None` where two run so nearly together that there is no telling.
pub(super) fn split(raw: &Raw) -> Option<Vec<Piece>> {
    let pieces = &raw.pieces;
    let tree = BoxTree::new(pieces.iter().map(|p| p.segment.bounding_box()).collect());
    let meetings = in_shares(pieces.len(), SHARE, |run| run.map(|i| meets_later(pieces, &tree, i)).collect());
    let mut cuts: Vec<Vec<f64>> = vec![Vec::new(); pieces.len()];
    for (i, later) in meetings.into_iter().enumerate() {
        for (j, own, other) in later? {
            cuts[i].extend(own);
            cuts[j].extend(other);
        }
    }
    let parts = in_shares(pieces.len(), SHARE, |run| run.map(|i| cut(&pieces[i], &cuts[i])).collect());
    Some(parts.into_iter().flatten().collect())
}

/// Where a piece meets those that come later; `None` where there is no telling.
fn meets_later(pieces: &[Piece], tree: &BoxTree, i: usize) -> Option<Vec<Meeting>> {
    let a = &pieces[i];
    let mut found = Vec::new();
    for j in tree.meeting(tree.piece(i).inflate(CONTACT_TOLERANCE, CONTACT_TOLERANCE)).filter(|j| *j > i) {
        let b = &pieces[j];
        if j == i + 1 && (b.follows && run_on(&a.segment, &b.segment) || is_corner(&a.segment, &b.segment)) {
            continue;
        }
        let contacts = contacts_or_overlap(&a.segment, &b.segment)?;
        found.extend(contacts.iter().map(|c| (j, [c.first.0, c.first.1], [c.second.0, c.second.1])));
    }
    Some(found)
}

/// A piece cut at parameters.
fn cut(piece: &Piece, cuts: &[f64]) -> Vec<Piece> {
    if cuts.is_empty() {
        return vec![*piece];
    }
    let mut cuts = [cuts, &[0.0, 1.0]].concat();
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
