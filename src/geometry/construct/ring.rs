//! All edges of a part in a ring, the mirrored ones of a half outline among them.

use super::{Edge, Node};
use crate::geometry::{MirrorLine, Path};
use kurbo::Point;

/// An edge of the ring and the corner at its end.
#[derive(Debug, Clone)]
pub(super) struct RingEdge {
    /// The node at which the edge arrives, as drawn.
    pub(super) node: usize,
    pub(super) path: Path,
    /// The node of the corner at the edge's end.
    pub(super) corner: usize,
    /// Radius that rounds that corner.
    pub(super) radius: Option<f64>,
}

/// The edges of the whole part, each ending where the next begins.
#[derive(Debug, Clone)]
pub(super) struct Ring {
    pub(super) edges: Vec<RingEdge>,
    /// How many of them, from the first, were drawn.
    pub(super) drawn: usize,
}

impl Ring {
    /// The drawn edges and, for a half, their mirror images.
    pub(super) fn new(nodes: &[Node], drawn: &[Edge], mirror: Option<MirrorLine>) -> Self {
        let edge = |node: usize, path: Path, corner: usize| RingEdge {
            node,
            path,
            corner,
            radius: nodes.get(corner).and_then(|n| n.corner_radius),
        };
        let mut edges: Vec<RingEdge> = drawn.iter().map(|e| edge(e.node, e.path.clone(), e.node)).collect();
        if let Some(line) = mirror {
            let mirrored = drawn.iter().rev();
            // A half's first edge arrives at node 1, so every edge has a node before its own.
            edges.extend(
                mirrored.map(|e| edge(e.node, e.path.transformed(line.map()).reversed(), e.node.saturating_sub(1))),
            );
        }
        Ring { edges, drawn: drawn.len() }
    }

    /// A ring of finished edges, each with the radius of the corner at its end.
    pub(super) fn joined(edges: &[(Path, Option<f64>)]) -> Self {
        let edge = |(node, (path, radius)): (usize, &(Path, Option<f64>))| RingEdge {
            path: path.clone(),
            node,
            corner: node,
            radius: *radius,
        };
        Ring { edges: edges.iter().enumerate().map(edge).collect(), drawn: edges.len() }
    }

    /// The corners, each at the end of its edge.
    pub(super) fn corners(&self) -> Vec<Point> {
        self.edges.iter().filter_map(|e| e.path.end()).collect()
    }

    /// The index of the edge after another.
    pub(super) fn after(&self, index: usize) -> usize {
        (index + 1) % self.edges.len()
    }

    /// The index of the edge before another.
    pub(super) fn before(&self, index: usize) -> usize {
        (index + self.edges.len() - 1) % self.edges.len()
    }
}
