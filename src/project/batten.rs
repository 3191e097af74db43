//! Battens whose points run backwards.

use super::outline_problem::{OutlineProblem, Spot, TurningPoint};
use crate::finding::{Finding, Place};
use crate::geometry::{EdgeShape, Node, Point};
use crate::tolerance::UNSEEN;
use crate::units::Length;

/// A point at which a batten has to run backwards.
pub struct TurnsBack {
    /// Index of the point among those between the edge's ends.
    index: usize,
    at: Point,
    /// How far it lies past the corner where the edge begins, or past the one where it ends, mm.
    past: Option<(&'static str, f64)>,
}

/// The point at which the batten that arrives at a node turns back by more than a quarter turn; with `any_past` also one
/// that merely lies past an end of its edge, as seen along the line between the ends.
pub fn turns_back(nodes: &[Node], node: usize, any_past: bool) -> Option<TurnsBack> {
    let (this, before) = (nodes.get(node)?, nodes.get(node.checked_sub(1).unwrap_or(nodes.len() - 1))?);
    let EdgeShape::Batten { points: between, .. } = &this.edge else { return None };
    let (from, to) = (before.to, this.to);
    let length = from.distance(to);
    let past = |point: Point| {
        let along = (point - from).dot(to - from) / length;
        let begins = Some(("begins", -along)).filter(|_| along < -UNSEEN);
        begins.or_else(|| Some(("ends", along - length)).filter(|_| along > length + UNSEEN))
    };
    let all: Vec<Point> = [from].into_iter().chain(between.iter().copied()).chain([to]).collect();
    let sharp = all.windows(3).position(|w| matches!(w, [a, b, c] if (*b - *a).dot(*c - *b) < 0.0));
    let outside = || between.iter().position(|point| past(*point).is_some()).filter(|_| any_past);
    let index = sharp.or_else(outside)?;
    let at = *between.get(index)?;
    Some(TurnsBack { index, at, past: past(at) })
}

impl TurnsBack {
    /// Where the point stands in the file, `edge` being its edge.
    pub fn place(&self, edge: &Place) -> Place {
        edge.child("batten").child(self.index)
    }

    /// The point as a problem names it.
    pub fn point(&self) -> TurningPoint {
        let past = self.past.map(|(end, by)| (end, Length::from_mm(by)));
        TurningPoint { number: self.index + 1, at: Spot::of(self.at), past }
    }

    /// The warning about a batten that turns back and yet can be sprung.
    pub fn warning(&self, edge: &Place) -> Finding {
        Finding::of(OutlineProblem::TurnsBack { point: self.point() }, self.place(edge))
    }
}
