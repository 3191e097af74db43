//! All corner radii of a ring.

use super::fillet::{Corner, Fillet, fillet};
use super::ring::Ring;
use super::{Problem, ProblemKind};
use crate::geometry::{Path, PathPlace, Segment};
use crate::tolerance::{BELOW_A_RULE, NOTHING_LEFT};
use kurbo::Point;
use std::cmp::Ordering;

/// The ring's pieces with its corners rounded.
pub(super) struct Rounded {
    pub(super) segments: Vec<Segment>,
    /// For each segment the node of its edge, or of the corner that it rounds.
    owners: Vec<usize>,
    pub(super) tangents: Vec<Point>,
    fillets: Vec<Option<Fillet>>,
}

/// Rounds every corner that has a radius.
pub(super) fn round(ring: &Ring) -> Result<Rounded, Vec<Problem>> {
    let mut work = Work { ring, fillets: vec![None; ring.edges.len()], problems: Vec::new() };
    let refused: Vec<usize> = (0..ring.edges.len()).filter(|i| !work.try_alone(*i)).collect();
    for corner in refused {
        work.settle_for_less(&[corner]);
    }
    for corner in 0..ring.edges.len() {
        let next = ring.after(corner);
        if !work.free_of_each_other(corner, next) {
            let radius = |i: usize| ring.edges[i].radius.unwrap_or(0.0);
            match radius(corner).total_cmp(&radius(next)) {
                Ordering::Greater => work.settle_for_less(&[corner]),
                Ordering::Less => work.settle_for_less(&[next]),
                // Of two alike neither should make way for the other.
                Ordering::Equal => work.settle_for_less(&[corner, next]),
            }
        }
    }
    if !work.problems.is_empty() {
        // A half's corners come twice; one word is enough.
        let mut told: Vec<Problem> = Vec::new();
        for problem in work.problems {
            if told.iter().all(|t| t.node != problem.node) {
                told.push(problem);
            }
        }
        told.sort_by_key(|p| p.node);
        return Err(told);
    }
    Ok(assemble(ring, work.fillets))
}

struct Work<'a> {
    ring: &'a Ring,
    /// The fillet at the end of each edge.
    fillets: Vec<Option<Fillet>>,
    problems: Vec<Problem>,
}

impl Work<'_> {
    /// What a radius makes of the corner at the end of an edge.
    fn corner(&self, index: usize, radius: f64) -> Corner {
        let next = self.ring.after(index);
        fillet(&self.ring.edges[index].path, &self.ring.edges[next].path, radius)
    }

    /// Rounds a corner as asked, its neighbours not looked at; whether that could be done.
    fn try_alone(&mut self, index: usize) -> bool {
        let Some(radius) = self.ring.edges[index].radius else { return true };
        match self.corner(index, radius) {
            Corner::Smooth => true,
            Corner::DoesNotFit => false,
            Corner::Rounded(found) => {
                self.fillets[index] = Some(found);
                true
            }
        }
    }

    /// Whether the fillets at the ends of two edges, one after the other, leave each other room on the second.
    fn free_of_each_other(&self, corner: usize, next: usize) -> bool {
        match (&self.fillets[corner], &self.fillets[next]) {
            (Some(first), Some(second)) => leaves_room(&self.ring.edges[next].path, first.to, second.from),
            _ => true,
        }
    }

    /// Tells that the radius of these corners, the same for all, does not fit, and puts in the largest common one that does
    /// beside their neighbours as they are.
    fn settle_for_less(&mut self, corners: &[usize]) {
        let Some(radius) = corners.first().and_then(|i| self.ring.edges[*i].radius) else { return };
        for index in corners {
            self.fillets[*index] = None;
        }
        let (mut low, mut high) = (0.0, radius);
        while high - low > BELOW_A_RULE {
            let middle = (low + high) / 2.0;
            let before: Vec<Option<Fillet>> = corners.iter().map(|i| self.fillets[*i]).collect();
            if corners.iter().all(|i| self.try_beside_neighbours(*i, middle)) {
                low = middle;
            } else {
                high = middle;
                for (index, fillet) in corners.iter().zip(before) {
                    self.fillets[*index] = fillet;
                }
            }
        }
        let largest = if low < BELOW_A_RULE { 0.0 } else { low };
        let kind = ProblemKind::RadiusDoesNotFit { radius, largest };
        self.problems
            .extend(corners.iter().map(|i| Problem { node: self.ring.edges[*i].corner, kind: kind.clone() }));
    }

    /// Rounds a corner by a radius; whether that could be done without getting in its neighbours' way.
    fn try_beside_neighbours(&mut self, index: usize, radius: f64) -> bool {
        match self.corner(index, radius) {
            Corner::Smooth => true,
            Corner::DoesNotFit => false,
            Corner::Rounded(found) => {
                self.fillets[index] = Some(found);
                self.free_of_each_other(self.ring.before(index), index)
                    && self.free_of_each_other(index, self.ring.after(index))
            }
        }
    }
}

/// Whether the first place on an edge comes before the second, or near enough.
fn leaves_room(edge: &Path, first: PathPlace, second: PathPlace) -> bool {
    let apart = edge.point_at(first).zip(edge.point_at(second)).map_or(0.0, |(a, b)| a.distance(b));
    (first.segment, first.t) <= (second.segment, second.t) || apart < NOTHING_LEFT
}

/// The pieces that are left of the edges, and the fillets between them.
fn assemble(ring: &Ring, fillets: Vec<Option<Fillet>>) -> Rounded {
    let mut rounded = Rounded { segments: Vec::new(), owners: Vec::new(), tangents: Vec::new(), fillets: Vec::new() };
    for (index, edge) in ring.edges.iter().enumerate() {
        rounded.push(remaining(ring, &fillets, index), edge.node);
        if let Some(found) = &fillets[index] {
            rounded.push(vec![found.arc], edge.corner);
            rounded.tangents.extend([found.arc.start(), found.arc.end()]);
        }
    }
    rounded.fillets = fillets;
    rounded
}

/// The pieces that the fillets at its two ends leave of an edge.
fn remaining(ring: &Ring, fillets: &[Option<Fillet>], index: usize) -> Vec<Segment> {
    let path = &ring.edges[index].path;
    let from = fillets[ring.before(index)].map_or(PathPlace { segment: 0, t: 0.0 }, |f| f.to);
    let end = PathPlace { segment: path.segments().len().saturating_sub(1), t: 1.0 };
    let to = fillets[index].map_or(end, |f| f.from);
    let part = path.part(from, to);
    part.segments().iter().copied().filter(|s| s.length() > NOTHING_LEFT).collect()
}

impl Rounded {
    fn push(&mut self, segments: Vec<Segment>, owner: usize) {
        self.owners.extend(std::iter::repeat_n(owner, segments.len()));
        self.segments.extend(segments);
    }

    /// Problems of the whole outline, told by node instead of by segment; one for each pair of nodes.
    pub(super) fn located(&self, kinds: Vec<ProblemKind>) -> Vec<Problem> {
        let owner = |segment: usize| self.owners.get(segment).copied().unwrap_or(0);
        let mut problems: Vec<Problem> = Vec::new();
        for kind in kinds {
            let (node, kind) = match kind {
                ProblemKind::CrossesItself { at, how, first, second } => {
                    let (a, b) = (owner(first), owner(second));
                    let (first, second) = (a.min(b), a.max(b));
                    (first, ProblemKind::CrossesItself { at, how, first, second })
                }
                other => (0, other),
            };
            let same = |p: &Problem| match (&p.kind, &kind) {
                (
                    ProblemKind::CrossesItself { first: a, second: b, .. },
                    ProblemKind::CrossesItself { first: c, second: d, .. },
                ) => (a, b) == (c, d),
                _ => false,
            };
            if !problems.iter().any(same) {
                problems.push(Problem { node, kind });
            }
        }
        problems
    }

    /// The drawn half of a ring with a mirror line, from the line to the line, run anticlockwise round the part. A corner
    /// on the line that is rounded is cut in two by it.
    pub(super) fn half(&self, ring: &Ring, anticlockwise: bool) -> Path {
        let mut segments = Vec::new();
        if let Some(Some(across)) = self.fillets.last() {
            segments.push(across.arc.subsegment(0.5, 1.0));
        }
        for index in 0..ring.drawn {
            segments.extend(remaining(ring, &self.fillets, index));
            if let Some(found) = &self.fillets[index] {
                let on_line = index + 1 == ring.drawn;
                segments.push(if on_line { found.arc.subsegment(0.0, 0.5) } else { found.arc });
            }
        }
        let half = Path::open(segments);
        if anticlockwise { half } else { half.reversed() }
    }
}
