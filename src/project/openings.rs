//! Openings drawn apart from the outline that they are cut in.

use super::laying::{Entry, Halving, laid};
use super::outline::{self, Drawn};
use super::outline_problem::Spot;
use super::part_problem::{LaidKind, Nesting, PartProblem, SeveralShapes};
use super::raw::{CornerText, OpeningText, OutlineText};
use super::resolve::Resolver;
use super::value::Pair;
use crate::finding::{Finding, Place};
use crate::geometry::{Built, MirrorLine, Outline, Point, Rect, Segment, contacts};
use crate::model::{InHalf, Laid};
use crate::tolerance::{CONTACT_TOLERANCE, UNSEEN};

/// The openings of a part: those that are drawn with its outline, then those that are drawn apart, each with its mirror image. All
/// that is wrong is told: one that leaves the part, meets another, or lies in another or round it.
pub fn all(
    written: &[OpeningText],
    part: &Drawn,
    halving: Option<&Halving>,
    place: &Place,
    resolver: &mut Resolver,
) -> Option<Vec<Laid<Outline>>> {
    let with_outline = part.openings.iter().enumerate();
    let mut all = Boxed::default();
    for (entry, what) in with_outline {
        all.push(Laid { what: what.clone(), entry, half: InHalf::Both });
    }
    let mut whole = true;
    for (index, text) in written.iter().enumerate() {
        let place = place.child(index);
        match read(text, index, halving, &place, resolver) {
            Some(opening) => whole &= add(opening, part, &mut all, &place, resolver),
            None => whole = false,
        }
    }
    whole.then_some(all.openings)
}

/// Openings with the boxes around them: only where these meet is looked closer.
#[derive(Default)]
struct Boxed {
    openings: Vec<Laid<Outline>>,
    boxes: Vec<Rect>,
}

impl Boxed {
    fn push(&mut self, opening: Laid<Outline>) {
        self.boxes.push(bounds(&opening.what));
        self.openings.push(opening);
    }

    /// Those whose boxes meet an outline's.
    fn near(&self, ring: &Outline) -> impl Iterator<Item = &Outline> {
        let around = bounds(ring);
        let all = self.openings.iter().zip(&self.boxes);
        all.filter(move |(_, known)| known.overlaps(around)).map(|(opening, _)| &opening.what)
    }
}

/// The box around an outline.
fn bounds(outline: &Outline) -> Rect {
    outline.path().bounding_box().unwrap_or_default()
}

/// An opening, with its mirror image where it has one.
fn read(
    text: &OpeningText,
    index: usize,
    halving: Option<&Halving>,
    place: &Place,
    resolver: &mut Resolver,
) -> Option<Vec<Laid<Outline>>> {
    let (outline, field) = text.outline();
    let mirror = halving.map(|halving| halving.about).filter(|about| is_half(outline, *about, resolver));
    let of_outline = field.map_or_else(|| place.clone(), |field| place.child(field));
    let opening = outline::outline(outline, mirror, &of_outline, resolver)?;
    if !opening.openings.is_empty() {
        let how = SeveralShapes::OfAnOpening;
        return resolver.refuse(Finding::of(PartProblem::SeveralShapes { how }, place.clone()));
    }
    let entry = Entry {
        kind: LaidKind::Opening,
        what: opening.built.outline,
        once: text.once(),
        index,
        place: place.clone(),
    };
    laid(halving, entry, resolver)
}

/// Whether an opening is drawn from the mirror line round to it: half of one, since an edge along the line would meet its own image.
fn is_half(outline: &OutlineText, about: MirrorLine, resolver: &Resolver) -> bool {
    let OutlineText::Corners(corners) = outline else { return false };
    // What cannot be worked out is told when the outline is.
    let on_line = |corner: Option<&CornerText>| {
        let across = corner.and_then(|CornerText { to: Pair(x, y), .. }| match about {
            MirrorLine::X => resolver.quiet_length(y),
            MirrorLine::Y => resolver.quiet_length(x),
        });
        across.is_some_and(|across| across.mm().abs() <= UNSEEN)
    };
    on_line(corners.first()) && on_line(corners.last())
}

/// Adds an opening to those that are there; false where it may not lie so, which is told.
fn add(opening: Vec<Laid<Outline>>, part: &Drawn, all: &mut Boxed, place: &Place, resolver: &mut Resolver) -> bool {
    for one in opening {
        if let Some(finding) = amiss(&one.what, &part.built.outline, all, place) {
            resolver.findings.push(finding);
            return false;
        }
        all.push(one);
    }
    true
}

/// An outline of a board, which is cut by planes and has no openings.
pub fn without(written: &OutlineText, place: &Place, resolver: &mut Resolver) -> Option<Built> {
    let drawn = outline::outline(written, None, place, resolver)?;
    if drawn.openings.is_empty() {
        return Some(drawn.built);
    }
    resolver.refuse(Finding::of(PartProblem::BoardWithOpenings {}, place.child("svg")))
}

/// What is wrong with an opening beside others.
fn amiss(ring: &Outline, outer: &Outline, others: &Boxed, place: &Place) -> Option<Finding> {
    let place = place.clone();
    let within = |outer: &Outline, inner: &Outline| inner.path().start().is_some_and(|point| outer.holds(point));
    if let Some(at) = meeting(ring, outer) {
        return Some(Finding::of(PartProblem::OpeningLeaves { at: Some(Spot::of(at)) }, place));
    }
    if !within(outer, ring) {
        return Some(Finding::of(PartProblem::OpeningLeaves { at: None }, place));
    }
    let problem = others.near(ring).find_map(|other| {
        let nested = |how| PartProblem::OpeningNested { how };
        match meeting(ring, other) {
            Some(at) => Some(PartProblem::OpeningsMeet { at: Spot::of(at) }),
            None if within(other, ring) => Some(nested(Nesting::Inside)),
            None => within(ring, other).then(|| nested(Nesting::Around)),
        }
    })?;
    Some(Finding::of(problem, place))
}

/// Where two outlines meet.
fn meeting(a: &Outline, b: &Outline) -> Option<Point> {
    let boxes: Vec<Rect> = b.path().segments().iter().map(Segment::bounding_box).collect();
    let met = |one: &Segment| {
        let around = one.bounding_box();
        let near = b.path().segments().iter().zip(&boxes).filter(|(_, known)| around.overlaps(**known));
        let mut found = near.flat_map(|(other, _)| contacts(one, other, CONTACT_TOLERANCE).unwrap_or_default());
        found.next().map(|contact| contact.point)
    };
    a.path().segments().iter().find_map(met)
}
