//! What a saw line leaves out.

use super::collar::{moved, saw_line};
use super::problem::TemplateProblem;
use super::routed::TemplateShape;
use super::shortfall::{Shortfall, deep_shortfalls, falls_short};
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
    let rings = part.rings();
    let lost = passed_over(&rings, *distance)?;
    let deepest = lost.iter().max_by(|a, b| a.depth.total_cmp(&b.depth))?;
    let keeps = |mm: f64| {
        followed_back(&rings, Length::from_mm(mm)).is_some_and(|back| !falls_short(&rings, &back, mm, LEAST))
    };
    let (mut low, mut high) = (0.0, distance.mm());
    while high - low > UNSEEN {
        let middle = (low + high) / 2.0;
        if keeps(middle) { low = middle } else { high = middle }
    }
    let problem = TemplateProblem::SawLineLeftOut {
        is_opening: deepest.between.is_none(),
        at: [deepest.told_at().x, deepest.told_at().y].map(Length::from_mm),
        drawn: part.drawing.as_ref().map(|drawing| drawing.place(deepest.told_at())),
        distance: *distance,
        places: lost.len(),
        largest: Length::from_mm(low),
    };
    Some(Finding::of(problem, asked.place.clone()))
}

/// The places that a line at a distance passes over; `None` where there is no such line.
fn passed_over(rings: &[Path], distance: Length) -> Option<Vec<Shortfall>> {
    Some(deep_shortfalls(rings, &followed_back(rings, distance)?, distance.mm(), LEAST))
}

/// The edge that a line at a distance leaves when it is followed back to the part; `None` where there is no such line.
fn followed_back(rings: &[Path], distance: Length) -> Option<Vec<Path>> {
    moved(&saw_line(rings, distance).ok()?, -distance.mm()).ok()
}
