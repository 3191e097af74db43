//! Corners and edges as a maker gives them, turned into an outline.

use super::Outline;
use kurbo::Point;

/// How the edge arrives at a corner.
#[derive(Debug, Clone, PartialEq)]
pub enum EdgeShape {
    /// A straight line.
    Straight,
    /// A circular arc by its rise over the chord, mm: positive bulges out of the part. At most half the chord.
    Rise(f64),
    /// The minor arc of a radius, mm.
    Radius {
        /// Radius, mm; at least half the chord.
        radius: f64,
        /// Whether the arc bulges out of the part.
        bulges_out: bool,
    },
    /// Half an ellipse on the chord, by its rise, mm: positive bulges out of the part.
    HalfEllipse(f64),
    /// A quarter of an ellipse with axes along x and y, leaving the corner before along x (`true`) or along y.
    QuarterEllipse {
        /// Whether the edge leaves the corner before it along x.
        leaves_along_x: bool,
    },
    /// A thin batten sprung through the edge's two ends and the points between.
    Batten {
        /// Points between the two ends, in order.
        points: Vec<Point>,
        /// Tension drawn into the batten, as a multiple of its plain bending over the mean span; 0 for a plain batten.
        tension: f64,
    },
}

/// The axis that is the mirror line of a half outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MirrorLine {
    /// The line y = 0.
    X,
    /// The line x = 0.
    Y,
}

/// A corner of an outline and the edge that arrives at it.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// The corner, mm.
    pub to: Point,
    /// The edge from the corner before (the last corner's, for the first).
    pub edge: EdgeShape,
    /// Radius that rounds this corner, mm, tangent to both edges.
    pub corner_radius: Option<f64>,
}

/// What is wrong with an outline, at which node.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Index of the node.
    pub node: usize,
    /// What is wrong.
    pub kind: ProblemKind,
}

/// What can be wrong with an outline.
#[derive(Debug, Clone, PartialEq)]
pub enum ProblemKind {
    /// Fewer than two nodes, or two straight edges only.
    EnclosesNothing,
}

/// A built outline and what became of each node.
#[derive(Debug, Clone, PartialEq)]
pub struct Built {
    /// The outline.
    pub outline: Outline,
}

/// Builds the outline of the nodes, in order; either way round.
///
/// # Errors
/// Every problem found, each with its node.
pub fn build(_nodes: &[Node], _mirror: Option<MirrorLine>) -> Result<Built, Vec<Problem>> {
    Err(vec![Problem { node: 0, kind: ProblemKind::EnclosesNothing }])
}
