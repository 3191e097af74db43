//! What of a template falls out, and one that falls apart.

use super::collar::{collar_template, moved};
use super::problem::TemplateProblem;
use super::routed::TemplateShape;
use super::shortfall::shortfalls;
use super::space::Steps;
use crate::finding::Finding;
use crate::geometry::{Path, Point, Rect, nesting};
use crate::model::{Template, TemplateKind, Work};
use crate::tolerance::TOOL_STEP;
use crate::units::Length;

/// What a template needs between two of its edges, mm, so that it does not bend under a collar: the wall that is usual beside a
/// mortise too (common practice, no source).
const SOUND: f64 = 6.0;

/// Outlines of no more pieces than this are asked whether a template reaches everywhere: that sets all of them off twice more.
const SWEPT_PIECES: usize = 4096;

/// That a template does not hang together as its part does, or by less than it needs: where the part is narrower than what a
/// collar stands off on both sides nothing of it is left.
pub(super) fn falls_apart(asked: &Template, shape: &TemplateShape, part: &[Path]) -> Option<Finding> {
    let (TemplateKind::Collar { work: Work::Outside, .. }, TemplateShape::Collar(template)) = (&asked.kind, shape)
    else {
        return None;
    };
    let whole = Pieces::of(part);
    let hangs = |rings: &[Path], offset: f64| {
        let core = moved(rings, -offset - SOUND / 2.0);
        core.is_ok_and(|core| Pieces::of(&core).hang_together_as(&whole))
    };
    // An arm of the part of which no template is left breaks nothing loose: that the template reaches everywhere is asked of the part.
    let is_asked = part.iter().map(|ring| ring.segments().len()).sum::<usize>() <= SWEPT_PIECES;
    // A part that has no such core itself, a thin tip or lath, says nothing of its template.
    let is_wide = is_asked && reaches_all(part, SOUND / 2.0);
    let reaches = |offset: f64, wall: f64| !is_wide || reaches_all(part, offset + wall);
    let sound = |offset: f64| hangs(part, offset) && reaches(offset, SOUND / 2.0);
    let pieces = Pieces::of(&template.rings);
    let is_whole = pieces.hang_together_as(&whole);
    // The template is set off already: its core lies within it.
    let is_sound = || hangs(&template.rings, 0.0) && reaches(template.offset, SOUND / 2.0);
    if is_whole && (is_sound() || !sound(0.0)) {
        return None;
    }
    let most = most_apart(template.offset, sound);
    let bounds = pieces.smallest.unwrap_or_default();
    let problem = match is_whole {
        true if !reaches(template.offset, 0.0) => {
            TemplateProblem::Vanishes { across: Length::from_mm(2.0 * template.offset), most }
        }
        true => TemplateProblem::ThinTemplate { least: Length::from_mm(SOUND), most },
        false => TemplateProblem::FallsApart {
            pieces: pieces.pieces,
            size: [bounds.width(), bounds.height()].map(Length::from_mm),
            most,
        },
    };
    Some(Finding::of(problem, asked.place.clone()))
}

/// By how much the diameters of collar and cutter may differ at most, where a template that stands off so far is not as it should be.
fn most_apart(offset: f64, is_sound: impl Fn(f64) -> bool) -> Length {
    let steps = Steps::of(offset, TOOL_STEP / 2.0);
    Length::from_mm(2.0 * steps.size(steps.last(steps.count, (steps.count / 2.0).floor(), is_sound)))
}

/// That nothing is left of a template where the part, or the wood between two of its openings, is just as wide as what the collar stands
/// off on both sides.
pub(super) fn vanishes(asked: &Template, part: &[Path]) -> Option<Finding> {
    let TemplateKind::Collar { work, collar, cutter } = &asked.kind else { return None };
    let offset = (collar.collar.diameter - cutter.cutter.diameter).mm() / 2.0;
    let whole = Pieces::of(part);
    let (way, wall) = match work {
        Work::Outside => (-1.0, SOUND / 2.0),
        Work::Inside => (1.0, 0.0),
    };
    let is_left = |offset: f64, wall: f64| {
        moved(part, way * offset).is_ok_and(|rings| {
            Pieces::of(&rings).hang_together_as(&whole) && (wall == 0.0 || is_so_wide(&rings, wall))
        })
    };
    // A part that is narrower itself says nothing of it.
    let wall = if is_left(0.0, wall) { wall } else { 0.0 };
    let most = most_apart(offset, |offset| is_left(offset, wall));
    let across = Length::from_mm(2.0 * offset);
    Some(Finding::of(TemplateProblem::Vanishes { across, most }, asked.place.clone()))
}

/// Whether a shape is nowhere narrower than twice a length, mm: a disc of that radius goes along all of it but its corners.
fn is_so_wide(rings: &[Path], radius: f64) -> bool {
    let opened = moved(rings, -radius).and_then(|core| moved(&core, radius));
    opened.is_ok_and(|opened| shortfalls(rings, &opened, radius).iter().all(|left| left.cause.is_usual()))
}

/// Whether a disc of a radius, mm, goes along all of a shape but its corners and short noses: into every arm of it.
fn reaches_all(rings: &[Path], radius: f64) -> bool {
    let opened = moved(rings, -radius).and_then(|core| moved(&core, radius));
    opened.is_ok_and(|opened| {
        shortfalls(rings, &opened, radius).iter().all(|left| left.cause.is_usual() || left.depth <= radius)
    })
}

/// Outlines of no more pieces than this are tried with other cutters: each trial sets all of them off three times.
const TRIED_PIECES: usize = 256;

/// The largest cutter under a collar, mm, that goes in at a place where the one asked for does not, with a template that still hangs
/// together; `None` where there is none, or where it was not tried.
pub(super) fn largest_cutter(asked: &Template, part: &[Path], at: Point) -> Option<f64> {
    let TemplateKind::Collar { work, collar, cutter } = &asked.kind else { return None };
    if part.iter().map(|ring| ring.segments().len()).sum::<usize>() > TRIED_PIECES {
        return None;
    }
    let whole = Pieces::of(part);
    let goes_in = |diameter: f64| {
        let made = collar_template(part, *work, collar.collar.diameter, Length::from_mm(diameter));
        made.is_ok_and(|made| {
            let stays_out = made.left.iter().filter(|left| !left.cause.is_usual()).any(|left| left.holds(at));
            !stays_out && (*work == Work::Inside || Pieces::of(&made.rings).hang_together_as(&whole))
        })
    };
    let steps = Steps::of(cutter.cutter.diameter.mm(), TOOL_STEP);
    let last = steps.last(steps.count, (steps.count / 2.0).floor(), goes_in);
    (last > 0.0).then(|| steps.size(last))
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
