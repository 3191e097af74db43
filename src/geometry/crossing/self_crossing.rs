//! Where a path meets itself.

use super::{Contact, ContactKind, contacts_or_overlap};
use crate::geometry::boxes::{BoxTree, TreeBox, within_reach};
use crate::geometry::{Path, PathPlace, Segment};
use crate::tolerance::{AT_END, CONTACT_TOLERANCE, NO_CURVE, PARABOLA, ROUNDING, SAME_PARAMETER, WHOLE_TURN};
use kurbo::{CubicBez, Point};
use std::f64::consts::TAU;

/// Pairs of pieces looked at before giving up: an outline of 20,000 pieces has some 60,000 pairs that come near each other.
const MOST_PAIRS: usize = 1_000_000;

/// A place where a path meets itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SelfCrossing {
    /// How it meets itself.
    pub kind: ContactKind,
    /// The place along the path, the earlier segment's.
    pub first: PathPlace,
    /// The place along the path, the later segment's (the same segment's, for one that loops).
    pub second: PathPlace,
    /// Where that is.
    pub point: Point,
}

/// What a search for self-crossings found.
#[derive(Debug, Clone, PartialEq)]
pub struct SelfCrossings {
    /// The places, in path order.
    pub found: Vec<SelfCrossing>,
    /// Whether the whole path was searched: not so after as many places as were asked for, or past the work limit.
    pub complete: bool,
}

/// Where a path meets itself to within [`CONTACT_TOLERANCE`], the joints between its segments apart; the search ends after
/// `most` places. What is no number meets nothing.
pub fn self_crossings(path: &Path, most: usize) -> SelfCrossings {
    let search = Search::new(path);
    let mut found: Vec<SelfCrossing> = Vec::new();
    let mut pairs = 0;
    let mut pending: Vec<(TreeBox, TreeBox)> = search.tree.root().map(|root| (root, root)).into_iter().collect();
    while let Some((x, y)) = pending.pop() {
        if found.len() >= most || pairs > MOST_PAIRS {
            found.sort_by_key(|c| (c.first.segment, c.second.segment));
            return SelfCrossings { found, complete: false };
        }
        if x != y && !within_reach(&search.tree.rect(x), &search.tree.rect(y), CONTACT_TOLERANCE) {
            continue;
        }
        if x.0 == 0 {
            pairs += 1;
            found.extend(search.meetings(x.1, y.1));
            continue;
        }
        for part in search.tree.parts(x) {
            pending
                .extend(search.tree.parts(y).filter(|other| x != y || part.1 <= other.1).map(|other| (part, other)));
        }
    }
    found.sort_by_key(|c| (c.first.segment, c.second.segment));
    SelfCrossings { found, complete: true }
}

/// The pieces of a path that have a size, and their boxes.
struct Search<'a> {
    /// Index in the path, and the piece.
    pieces: Vec<(usize, &'a Segment)>,
    closed: bool,
    tree: BoxTree,
}

impl<'a> Search<'a> {
    fn new(path: &'a Path) -> Self {
        let boxed = path.segments().iter().enumerate().map(|(i, s)| (i, s, s.bounding_box()));
        // Written so that a box that is no number is kept.
        let sized = boxed.filter(|(_, _, b)| !(b.width() <= ROUNDING && b.height() <= ROUNDING));
        let (pieces, boxes) = sized.map(|(i, s, b)| ((i, s), b)).unzip();
        Search { pieces, closed: path.is_closed(), tree: BoxTree::new(boxes) }
    }

    /// Whether piece `j` begins where piece `i` ends.
    fn follows(&self, i: usize, j: usize) -> bool {
        i + 1 == j || self.closed && j == 0 && i + 1 == self.pieces.len()
    }

    /// Where two pieces (or one with itself) meet elsewhere than at their common joint.
    fn meetings(&self, i: usize, j: usize) -> Vec<SelfCrossing> {
        let ((first, a), (second, b)) = (self.pieces[i], self.pieces[j]);
        let crossing = |c: &Contact| SelfCrossing {
            kind: c.kind,
            first: PathPlace { segment: first, t: c.first.0 },
            second: PathPlace { segment: second, t: c.second.0 },
            point: c.point,
        };
        if i == j {
            let closes =
                |c: &Contact| self.follows(i, i) && c.first.0 < SAME_PARAMETER && c.second.0 > 1.0 - SAME_PARAMETER;
            return own_contact(a).filter(|c| !closes(c)).iter().map(crossing).collect();
        }
        let whole = Contact { kind: ContactKind::Overlap, first: (0.0, 1.0), second: (0.0, 1.0), point: a.start() };
        let met = contacts_or_overlap(a, b).unwrap_or_else(|| vec![whole]);
        let joints = [(self.follows(i, j), a.end()), (self.follows(j, i), b.end())];
        let at_joint = |c: &Contact| {
            c.kind != ContactKind::Overlap
                && joints.iter().any(|(joined, p)| *joined && c.point.distance(*p) <= 4.0 * CONTACT_TOLERANCE)
        };
        met.iter().filter(|c| !at_joint(c)).map(crossing).collect()
    }
}

/// Where a single piece meets itself: an arc of more than a turn, a cubic with a loop.
fn own_contact(piece: &Segment) -> Option<Contact> {
    let (kind, t, u) = match piece {
        Segment::Line(_) => return None,
        Segment::Arc(arc) if arc.sweep.abs() <= TAU + WHOLE_TURN => return None,
        Segment::Arc(arc) => (ContactKind::Overlap, 0.0, TAU / arc.sweep.abs()),
        Segment::Cubic(cubic) => {
            let (t, u) = double_point(cubic)?;
            (ContactKind::Cross, t, u)
        }
    };
    Some(Contact { kind, first: (t, t), second: (u, u), point: piece.eval(t) })
}

/// The two parameters at which a cubic passes through one point, if both lie on it.
///
/// With c(t) = a t³ + b t² + c t + d, c(t) = c(s) for t ≠ s gives a (S² - P) + b S + c = 0 for S = t + s and P = t s;
/// its cross products with a and b are linear in S and in P.
fn double_point(cubic: &CubicBez) -> Option<(f64, f64)> {
    let c = (cubic.p1 - cubic.p0) * 3.0;
    let b = ((cubic.p2 - cubic.p1) - (cubic.p1 - cubic.p0)) * 3.0;
    let a = (cubic.p3 - cubic.p0) - (cubic.p2 - cubic.p1) * 3.0;
    let k = a.cross(b);
    // The cubic is a parabola or a line, but for rounding, and does not loop.
    if k.abs() <= PARABOLA * (a.hypot() * b.hypot()).max(NO_CURVE) {
        return None;
    }
    let sum = -a.cross(c) / k;
    let product = sum * sum + c.cross(b) / k;
    let discriminant = sum * sum - 4.0 * product;
    let half = discriminant.max(0.0).sqrt() / 2.0;
    let (t, u) = (sum / 2.0 - half, sum / 2.0 + half);
    let on_it = t >= -AT_END && u <= 1.0 + AT_END && u - t > SAME_PARAMETER;
    on_it.then(|| (t.max(0.0), u.min(1.0)))
}
