//! Openings drawn apart from the outline that they are cut in.

use super::outline::{self, Drawn};
use super::raw::OutlineText;
use super::resolve::Resolver;
use crate::finding::{Finding, Place};
use crate::geometry::{Built, CONTACT_TOLERANCE, Outline, Point, Segment, contacts};
use crate::units::Length;

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
        if let Some(finding) = amiss(&opening, part, &place, resolver) {
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
    let message = "a board of the piece has no openings, and this drawing has";
    let finding = Finding::stop("board-with-openings", place.child("svg"), message);
    resolver.refuse(finding.remedy("choose its edge alone by its \"id\", or draw the part under \"patterns\""))
}

/// What is wrong with an opening.
fn amiss(opening: &Drawn, part: &Drawn, place: &Place, resolver: &Resolver) -> Option<Finding> {
    let place = place.clone();
    if !opening.openings.is_empty() {
        let finding = Finding::stop("several-shapes", place, "this opening has openings of its own");
        return Some(finding.remedy("choose one path of the drawing by its \"id\""));
    }
    let (ring, outer) = (&opening.built.outline, &part.built.outline);
    let said = |at: Point| {
        let [x, y] = [at.x, at.y].map(|mm| resolver.notation.length(Length::from_mm(mm)));
        format!("x {x}, y {y}")
    };
    let within = |outer: &Outline, inner: &Outline| inner.path().start().is_some_and(|point| outer.holds(point));
    if let Some(at) = meeting(ring, outer) {
        let message = format!("this opening meets the edge of the part at {}", said(at));
        return Some(
            Finding::stop("opening-leaves-part", place, message).remedy("move it inside, or make it smaller"),
        );
    }
    if !within(outer, ring) {
        let message = "this opening lies outside the part";
        return Some(Finding::stop("opening-leaves-part", place, message).remedy("move it inside, with \"at\""));
    }
    let other = part.openings.iter().find_map(|other| {
        let nested = within(other, ring) || within(ring, other);
        meeting(ring, other).or_else(|| nested.then(|| other.path().start()).flatten())
    })?;
    let message = format!("this opening runs into another at {}", said(other));
    Some(Finding::stop("openings-meet", place, message).remedy("move one of them, or draw both as one"))
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
