//! What of a template falls out.

use super::problem::TemplateProblem;
use super::routed::TemplateShape;
use crate::finding::Finding;
use crate::geometry::{Path, nesting};
use crate::model::{Template, TemplateKind, Work};
use crate::units::Length;

/// That a template has pieces which its own opening cuts loose.
pub(super) fn loose_islands(asked: &Template, shape: &TemplateShape) -> Option<Finding> {
    let rings = match (&asked.kind, shape) {
        (TemplateKind::Collar { work: Work::Inside, .. }, TemplateShape::Collar(template)) => &template.rings,
        (_, TemplateShape::Inlay(pair)) => &pair.template,
        _ => return None,
    };
    // Odd ones lie in an opening: the edge of a piece that nothing holds.
    let islands: Vec<&Path> =
        rings.iter().zip(nesting(rings)).filter(|(_, depth)| depth % 2 == 1).map(|(ring, _)| ring).collect();
    let largest = islands.iter().max_by(|a, b| a.signed_area().abs().total_cmp(&b.signed_area().abs()))?;
    let bounds = largest.bounding_box()?;
    let problem = TemplateProblem::LooseIsland {
        size: [bounds.width(), bounds.height()].map(Length::from_mm),
        pieces: islands.len(),
        x: Length::from_mm(bounds.center().x),
        y: Length::from_mm(bounds.center().y),
    };
    Some(Finding::of(problem, asked.place.clone()))
}
