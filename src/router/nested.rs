//! What of a template falls out, and one that falls apart.

use super::collar::moved;
use super::problem::TemplateProblem;
use super::routed::TemplateShape;
use super::space::Steps;
use crate::finding::Finding;
use crate::geometry::{Path, Rect, nesting};
use crate::model::{Template, TemplateKind, Work};
use crate::tolerance::TOOL_STEP;
use crate::units::Length;

/// What a template needs between two of its edges, mm, so that it does not bend under a collar: the wall that is usual beside a
/// mortise too (common practice, no source).
const SOUND: f64 = 6.0;

/// That a template does not hang together as its part does, or by less than it needs: where the part is narrower than what a
/// collar stands off on both sides nothing of it is left.
pub(super) fn falls_apart(asked: &Template, shape: &TemplateShape, part: &[Path]) -> Option<Finding> {
    let (TemplateKind::Collar { work: Work::Outside, .. }, TemplateShape::Collar(template)) = (&asked.kind, shape)
    else {
        return None;
    };
    let whole = Pieces::of(part);
    let sound_within = |rings: &[Path], offset: f64| {
        let core = moved(rings, -offset - SOUND / 2.0);
        core.is_ok_and(|core| Pieces::of(&core).hang_together_as(&whole))
    };
    let sound = |offset: f64| sound_within(part, offset);
    let pieces = Pieces::of(&template.rings);
    let is_whole = pieces.hang_together_as(&whole);
    // A part that has no core itself, a thin tip or lath, says nothing of its template.
    // The template is set off already: its core lies within it.
    if is_whole && (sound_within(&template.rings, 0.0) || !sound(0.0)) {
        return None;
    }
    let steps = Steps::of(template.offset, TOOL_STEP / 2.0);
    let most = steps.size(steps.last(steps.count, (steps.count / 2.0).floor(), sound));
    let most = Length::from_mm(2.0 * most);
    let bounds = pieces.smallest.unwrap_or_default();
    let problem = match is_whole {
        true => TemplateProblem::ThinTemplate { least: Length::from_mm(SOUND), most },
        false => TemplateProblem::FallsApart {
            pieces: pieces.pieces,
            size: [bounds.width(), bounds.height()].map(Length::from_mm),
            most,
        },
    };
    Some(Finding::of(problem, asked.place.clone()))
}

/// How many pieces and openings rings make.
struct Pieces {
    pieces: usize,
    openings: usize,
    /// Around the smallest piece.
    smallest: Option<Rect>,
}

impl Pieces {
    fn of(rings: &[Path]) -> Pieces {
        let (pieces, openings): (Vec<_>, Vec<_>) =
            rings.iter().zip(nesting(rings)).partition(|(_, depth)| depth % 2 == 0);
        let area = |ring: &Path| ring.signed_area().abs();
        let smallest = pieces.iter().min_by(|a, b| area(a.0).total_cmp(&area(b.0)));
        let smallest = smallest.and_then(|(ring, _)| ring.bounding_box());
        Pieces { pieces: pieces.len(), openings: openings.len(), smallest }
    }

    /// Whether they are in no more pieces, and none of the openings has broken through to an edge or another.
    fn hang_together_as(&self, whole: &Pieces) -> bool {
        self.pieces <= whole.pieces && self.openings >= whole.openings
    }
}

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
