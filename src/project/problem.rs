//! What is wrong with an outline, in a maker's words.

use crate::finding::{Finding, Place};
use crate::geometry::{Node, Problem, ProblemKind};
use crate::units::Notation;

/// The finding that tells a problem of an outline.
pub fn told(problem: &Problem, _nodes: &[Node], outline: &Place, _notation: &Notation) -> Finding {
    let corner = outline.child(problem.node);
    match problem.kind {
        ProblemKind::EnclosesNothing => Finding::stop("encloses-nothing", corner, "this outline encloses no area")
            .remedy("give it at least three corners that do not lie on a line"),
        _ => Finding::stop("outline", corner, format!("{:?}", problem.kind)),
    }
}
