//! Flat parts worked out.

use super::fit;
use super::halves;
use super::laying::{Entry, Halving, laid};
use super::openings;
use super::outline;
use super::raw::{HalfText, HoleText, MarkText, PatternText, SlotText};
use super::request::{self, Request};
use super::resolve::Resolver;
use crate::model::{DrawnPattern, Half, HalfShow, HalfUse, Hole, Laid, Mark, Mirrored, Shop, Slot};
use crate::tolerance::UNSEEN;

use super::part_problem::{LaidKind, PartProblem};
use crate::finding::{Finding, Place};
use crate::geometry::Point;
use crate::units::{Angle, Length};

/// How far a half template for the router runs on unless the file says otherwise.
const USUAL_RUN_ON: Length = Length::from_mm(80.0);
/// Height of written words unless the file says otherwise.
const USUAL_TEXT_HEIGHT: Length = Length::from_mm(5.0);

/// Works a pattern out. Everything wrong with it is told before the first fault ends the work.
pub fn pattern(
    name: &str,
    written: &PatternText,
    shop: Option<&Shop>,
    resolver: &mut Resolver,
) -> Option<DrawnPattern> {
    let place = Place::pointer("/patterns").child(name);
    let thickness = resolver.length(&written.thickness);
    let grain = resolver.optional_angle(written.grain.as_ref());
    let half = half(written.half.as_ref(), resolver);
    let mirror = written.half.as_ref().map(|half| half.about);
    let outline = outline::outline(&written.outline, mirror, &place.child("outline"), resolver);
    let halving = half.as_ref().zip(outline.as_ref()).map(|(half, part)| Halving::of(half.as_ref(), &part.built));
    let openings = outline.as_ref().zip(halving.as_ref()).and_then(|(part, halving)| {
        let texts = written.openings.as_deref().unwrap_or_default();
        openings::all(texts, part, halving.as_ref(), &place.child("openings"), resolver)
    });
    let carried = carried(written, &place, halving.as_ref(), resolver);
    // Where the shop itself is wrong, that is told, and what is routed with it is not looked at.
    let routing = shop.zip(outline.as_ref()).zip(openings.as_ref()).map(|((shop, outline), _)| {
        let edges = request::edges(written, outline);
        let asked = Request { edges: Some(edges), grain: written.grain.is_some(), shop, place: place.clone() };
        asked.routing(written.into(), resolver)
    });
    let (outline, openings, half) = (outline?, openings?, half?);
    let meets = half.as_ref().is_none_or(|half| halves::check(half, &outline, &place, resolver));
    let Carried { holes, slots, marks } = carried?;
    let fits = fit::check(&outline.built.outline, &openings, (&holes, &slots), &place, resolver);
    let pattern = DrawnPattern {
        name: name.to_owned(),
        thickness: thickness?,
        make: written.make.unwrap_or(1),
        material: written.material.clone(),
        sheet_goods: written.sheet_goods.unwrap_or(false),
        grain: grain?,
        built: outline.built,
        openings,
        half,
        holes,
        slots,
        marks,
        routing: routing??,
        board: None,
        drawing: outline.drawing,
        place,
    };
    (meets && fits).then_some(pattern)
}

/// Holes, slots and marks of a part, mirror images among them.
struct Carried {
    holes: Vec<Laid<Hole>>,
    slots: Vec<Laid<Slot>>,
    marks: Vec<Laid<Mark>>,
}

/// Reads holes, slots and marks, and lays them where it is known how the part is mirrored. All that is wrong is told.
fn carried(
    written: &PatternText,
    place: &Place,
    halving: Option<&Option<Halving>>,
    resolver: &mut Resolver,
) -> Option<Carried> {
    let holes = every(written.holes.as_deref(), |hole| read_hole(hole, resolver));
    let slots = every(written.slots.as_deref(), |slot| read_slot(slot, resolver));
    let marks = marks(written.marks.as_deref(), &place.child("marks"), resolver);
    let halving = halving?.as_ref();
    let list = |kind: LaidKind, field: &str| List { kind, place: place.child(field), halving };
    let once = |index: usize| written.holes.as_deref()?.get(index)?.once;
    let holes = holes.and_then(|all| list(LaidKind::Hole, "holes").laid(all, once, resolver));
    let once = |index: usize| written.slots.as_deref()?.get(index)?.once;
    let slots = slots.and_then(|all| list(LaidKind::Slot, "slots").laid(all, once, resolver));
    let once = |index: usize| written.marks.as_deref()?.get(index)?.once();
    let marks = marks.and_then(|all| list(LaidKind::Mark, "marks").laid(all, once, resolver));
    Some(Carried { holes: holes?, slots: slots?, marks: marks? })
}

/// A list of what is laid on a part.
struct List<'a> {
    kind: LaidKind,
    place: Place,
    halving: Option<&'a Halving>,
}

impl List<'_> {
    /// Lays every one, with its mirror image where it has one. All that lies wrong is told.
    fn laid<T: Mirrored>(
        &self,
        all: Vec<T>,
        once: impl Fn(usize) -> Option<bool>,
        resolver: &mut Resolver,
    ) -> Option<Vec<Laid<T>>> {
        let entries = all.into_iter().enumerate().map(|(index, what)| {
            let place = self.place.child(index);
            Entry { kind: self.kind, what, once: once(index), index, place }
        });
        let all: Vec<Option<Vec<Laid<T>>>> = entries.map(|entry| laid(self.halving, entry, resolver)).collect();
        Some(all.into_iter().collect::<Option<Vec<Vec<Laid<T>>>>>()?.into_iter().flatten().collect())
    }
}

/// Reads every entry, so that all that is wrong is told.
fn every<W, T>(written: Option<&[W]>, read: impl FnMut(&W) -> Option<T>) -> Option<Vec<T>> {
    let all: Vec<Option<T>> = written.unwrap_or(&[]).iter().map(read).collect();
    all.into_iter().collect()
}

fn half(written: Option<&HalfText>, resolver: &mut Resolver) -> Option<Option<Half>> {
    let Some(written) = written else { return Some(None) };
    let run_on = resolver.optional_length(written.run_on.as_ref())?;
    Some(Some(Half {
        about: written.about,
        show: written.show.unwrap_or(HalfShow::Whole),
        use_: written.use_.unwrap_or(HalfUse::Tracing),
        run_on: run_on.unwrap_or(USUAL_RUN_ON),
    }))
}

fn read_hole(written: &HoleText, resolver: &mut Resolver) -> Option<Hole> {
    let (at, diameter) = (resolver.point(&written.at), resolver.length(&written.diameter));
    Some(Hole { at: at?, diameter: diameter?, label: written.label.clone() })
}

fn read_slot(written: &SlotText, resolver: &mut Resolver) -> Option<Slot> {
    let (from, to) = (resolver.point(&written.from), resolver.point(&written.to));
    let width = resolver.length(&written.width);
    Some(Slot { from: from?, to: to?, width: width?, label: written.label.clone() })
}

fn marks(written: Option<&[MarkText]>, place: &Place, resolver: &mut Resolver) -> Option<Vec<Mark>> {
    let mut index = 0;
    every(written, |mark| {
        let place = place.child(index);
        index += 1;
        read_mark(mark, &place, resolver)
    })
}

fn read_mark(written: &MarkText, place: &Place, resolver: &mut Resolver) -> Option<Mark> {
    match written {
        MarkText::LineMark(line) => {
            let points: Vec<Point> = every(Some(&line.line), |pair| resolver.point(pair))?;
            check_line(&points, place, resolver).then(|| Mark::Line { points, label: line.label.clone() })
        }
        MarkText::CrossMark(cross) => {
            Some(Mark::Cross { at: resolver.point(&cross.cross)?, label: cross.label.clone() })
        }
        MarkText::TextMark(text) => {
            let at = resolver.point(&text.at);
            let height = resolver.optional_length(text.height.as_ref());
            let angle = resolver.optional_angle(text.angle.as_ref());
            Some(Mark::Text {
                at: at?,
                words: text.text.clone(),
                height: height?.unwrap_or(USUAL_TEXT_HEIGHT),
                angle: angle?.unwrap_or(Angle::ZERO),
            })
        }
    }
}

fn check_line(points: &[Point], place: &Place, resolver: &mut Resolver) -> bool {
    let reaches = points.windows(2).any(|pair| matches!(pair, [a, b] if a.distance(*b) > UNSEEN));
    if !reaches {
        resolver.findings.push(Finding::of(PartProblem::NoLine {}, place.child("line")));
    }
    reaches
}
