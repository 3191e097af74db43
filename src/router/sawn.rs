//! What a saw line leaves out.

use super::collar::{SAW_JOIN, TemplateFault};
use super::problem::TemplateProblem;
use super::routed::TemplateShape;
use super::shortfall::{Shortfall, deep_shortfalls, falls_short};
use super::space::{Space, Wanted, spaces};
use crate::finding::Finding;
use crate::geometry::Path;
use crate::model::{DrawnPattern, Template, TemplateKind};
use crate::tolerance::UNSEEN;
use crate::units::Length;

/// Places that are left out less deep than this, mm, are curves that the line rounds a little, and cost nothing.
const LEAST: f64 = 1.0;

/// That a saw line has no room in some place, and passes it over.
pub(super) fn left_out(asked: &Template, shape: &TemplateShape, part: &DrawnPattern) -> Option<Finding> {
    let (TemplateKind::SawLine { distance }, TemplateShape::SawLine(_)) = (&asked.kind, shape) else { return None };
    let mut lost = Vec::new();
    let mut most = distance.mm();
    for space in spaces(&part.rings()) {
        let (places, keeps) = passed_over(&space, distance.mm(), most)?;
        lost.extend(places);
        most = keeps;
    }
    let deepest = lost.iter().max_by(|a, b| a.depth.total_cmp(&b.depth))?;
    let problem = TemplateProblem::SawLineLeftOut {
        is_opening: deepest.is_whole_ring(),
        at: [deepest.told_at().x, deepest.told_at().y].map(Length::from_mm),
        drawn: part.drawing.as_ref().map(|drawing| drawing.place(deepest.told_at())),
        distance: *distance,
        places: lost.len(),
        largest: Length::from_mm(most),
    };
    Some(Finding::of(problem, asked.place.clone()))
}

/// The places beside a space that a line at a distance passes over, and the largest distance up to `most` that passes over
/// none; `None` where there is no such line.
fn passed_over(space: &Space, distance: f64, most: f64) -> Option<(Vec<Shortfall>, f64)> {
    let left = followed_back(space, distance).ok()?;
    let places = deep_shortfalls(&space.rings, &left, distance, LEAST);
    if places.is_empty() || (most < distance && keeps(space, most)) {
        return Some((places, most));
    }
    let wanted = Wanted { most, apart: UNSEEN, short: LEAST, join: SAW_JOIN };
    let keeps = space.largest((&left, &places), wanted, keeps);
    Some((places, keeps))
}

/// The edge that a line at a distance leaves when it is followed back to the part.
fn followed_back(space: &Space, distance: f64) -> Result<Vec<Path>, TemplateFault> {
    space.filled(distance, SAW_JOIN)
}

/// Whether a line at a distance passes over nothing.
fn keeps(space: &Space, distance: f64) -> bool {
    followed_back(space, distance).is_ok_and(|left| !falls_short(&space.rings, &left, distance, LEAST))
}
