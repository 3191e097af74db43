//! How rings lie in each other.

use super::boxes::BoxTree;
use super::inside::encloses;
use super::{Path, Rect, Segment};
use std::collections::BTreeMap;

/// Which of the others enclose each of some rings that do not cross.
fn enclosing(rings: &[&[Segment]]) -> Vec<Vec<usize>> {
    let around = |ring: &&[Segment]| ring.iter().map(Segment::bounding_box).reduce(|a, b| a.union(b));
    let boxes = BoxTree::new(rings.iter().map(|ring| around(ring).unwrap_or_default()).collect());
    let others = |i: usize| {
        // Not a node: rings that touch do so at nodes more often than in between.
        let Some(point) = rings[i].first().map(|s| s.eval(0.37)) else { return Vec::new() };
        let others = boxes.meeting(Rect::from_points(point, point)).filter(|k| *k != i);
        others.filter(|k| encloses(rings[*k], point)).collect()
    };
    (0..rings.len()).map(others).collect()
}

/// How many of the others enclose each of some rings, given by their pieces.
pub(super) fn depths(rings: &[Vec<Segment>]) -> Vec<usize> {
    let rings: Vec<&[Segment]> = rings.iter().map(Vec::as_slice).collect();
    enclosing(&rings).iter().map(Vec::len).collect()
}

/// How many of the other rings enclose each. The rings do not cross.
pub fn nesting(rings: &[Path]) -> Vec<usize> {
    let rings: Vec<&[Segment]> = rings.iter().map(Path::segments).collect();
    enclosing(&rings).iter().map(Vec::len).collect()
}

/// An empty space of the region that rings enclose by the even-odd rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Void {
    /// Indices of the rings that bound it, rising: the edge of an opening and of the islands that stand in it, or the outermost
    /// rings.
    pub bounds: Vec<usize>,
    /// Whether it is an opening, rather than what lies around everything.
    pub is_opening: bool,
}

/// The empty spaces of the region that rings enclose: what lies around it, then the openings in the order of their edges. The
/// rings do not cross.
pub fn voids(rings: &[Path]) -> Vec<Void> {
    let pieces: Vec<&[Segment]> = rings.iter().map(Path::segments).collect();
    let enclosing = enclosing(&pieces);
    let depth = |ring: usize| enclosing[ring].len();
    // The opening in which an island stands is the innermost of what encloses it.
    let edge_of = |ring: usize| match depth(ring) {
        0 => None,
        odd if odd % 2 == 1 => Some(ring),
        _ => enclosing[ring].iter().copied().max_by_key(|around| depth(*around)),
    };
    let mut bounds: BTreeMap<Option<usize>, Vec<usize>> = BTreeMap::new();
    for ring in 0..rings.len() {
        bounds.entry(edge_of(ring)).or_default().push(ring);
    }
    bounds.into_iter().map(|(edge, bounds)| Void { bounds, is_opening: edge.is_some() }).collect()
}

#[cfg(test)]
mod tests {
    use super::{Path, nesting, voids};
    use crate::geometry::Rect;

    #[test]
    fn rings_in_rings() {
        let ring = |from: f64, to: f64| Path::rectangle(Rect::new(from, from, to, to));
        let rings = [ring(20.0, 30.0), ring(0.0, 100.0), ring(10.0, 40.0), ring(60.0, 80.0), ring(200.0, 210.0)];
        assert_eq!(nesting(&rings), [2, 0, 1, 1, 0]);
        let voids = voids(&rings).into_iter().map(|void| (void.bounds, void.is_opening));
        assert_eq!(voids.collect::<Vec<_>>(), [(vec![1, 4], false), (vec![0, 2], true), (vec![3], true)]);
    }
}
