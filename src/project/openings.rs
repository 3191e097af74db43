//! Openings drawn apart from the outline that they are cut in.

use super::outline::{self, Drawn};
use super::outline_problem::Spot;
use super::part_problem::{PartProblem, SeveralShapes};
use super::raw::OutlineText;
use super::resolve::Resolver;
use crate::finding::{Finding, Place};
use crate::geometry::{Built, Outline, Point, Segment, contacts};
use crate::tolerance::CONTACT_TOLERANCE;

/// Adds the openings of a part to its outline. All that is wrong is told: one that leaves the part, meets another, or lies in
/// another or round it.
pub fn add(written: &[OutlineText], part: &mut Drawn, place: &Place, resolver: &mut Resolver) -> Option<()> {
    let mut whole = true;
    for (index, text) in written.iter().enumerate() {
        let place = place.child(index);
        let Some(opening) = outline::outline(text, None, &place, resolver) else {
            whole = false;
            continue;
        };
        if let Some(finding) = amiss(&opening, part, &place) {
            resolver.findings.push(finding);
            whole = false;
            continue;
        }
        part.openings.push(opening.built.outline);
    }
    whole.then_some(())
}

/// An outline of a board, which is cut by planes and has no openings.
pub fn without(written: &OutlineText, place: &Place, resolver: &mut Resolver) -> Option<Built> {
    let drawn = outline::outline(written, None, place, resolver)?;
    if drawn.openings.is_empty() {
        return Some(drawn.built);
    }
    resolver.refuse(Finding::of(PartProblem::BoardWithOpenings {}, place.child("svg")))
}

/// What is wrong with an opening.
fn amiss(opening: &Drawn, part: &Drawn, place: &Place) -> Option<Finding> {
    let place = place.clone();
    if !opening.openings.is_empty() {
        let how = SeveralShapes::OfAnOpening;
        return Some(Finding::of(PartProblem::SeveralShapes { how }, place));
    }
    let (ring, outer) = (&opening.built.outline, &part.built.outline);
    let within = |outer: &Outline, inner: &Outline| inner.path().start().is_some_and(|point| outer.holds(point));
    if let Some(at) = meeting(ring, outer) {
        return Some(Finding::of(PartProblem::OpeningLeaves { at: Some(Spot::of(at)) }, place));
    }
    if !within(outer, ring) {
        return Some(Finding::of(PartProblem::OpeningLeaves { at: None }, place));
    }
    let other = part.openings.iter().find_map(|other| {
        let nested = within(other, ring) || within(ring, other);
        meeting(ring, other).or_else(|| nested.then(|| other.path().start()).flatten())
    })?;
    Some(Finding::of(PartProblem::OpeningsMeet { at: Spot::of(other) }, place))
}

/// Where two outlines meet.
fn meeting(a: &Outline, b: &Outline) -> Option<Point> {
    let met = |one: &Segment| {
        let others = b.path().segments().iter();
        let near = others.filter(|other| one.bounding_box().overlaps(other.bounding_box()));
        let mut found = near.flat_map(|other| contacts(one, other, CONTACT_TOLERANCE).unwrap_or_default());
        found.next().map(|contact| contact.point)
    };
    a.path().segments().iter().find_map(met)
}
