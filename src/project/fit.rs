//! Whether holes and slots lie inside the part and clear of each other.

use super::part_problem::{OpeningKind, OutsideEnd, PartProblem, WallTo};
use super::resolve::Resolver;
use crate::finding::{Beside, Finding, Place, Severity};
use crate::geometry::{Outline, Point, Segment};
use crate::model::{Hole, InHalf, Laid, Slot};
use crate::tolerance::UNSEEN;
use crate::units::Length;

/// A hole or slot as everything within `radius` of a line.
struct Opening {
    what: OpeningKind,
    place: Place,
    /// Whether it is the mirror image of another, and then lies as that does.
    is_image: bool,
    from: Point,
    to: Point,
    radius: f64,
}

/// Tells every hole and slot that does not lie wholly inside the part (then nothing may be cut), every one that leaves no wall,
/// and every two that run into each other (which may be meant). Whether the part may be cut.
pub fn check(
    outline: &Outline,
    rings: &[Laid<Outline>],
    (holes, slots): (&[Laid<Hole>], &[Laid<Slot>]),
    place: &Place,
    resolver: &mut Resolver,
) -> bool {
    let openings = openings(holes, slots, place);
    let mut fits = true;
    for opening in openings.iter().filter(|opening| !opening.is_image) {
        let into = || rings.iter().find_map(|ring| into_opening(&ring.what, opening));
        let touches = || {
            let at_edge = touches(outline, opening, WallTo::Edge);
            at_edge.or_else(|| rings.iter().find_map(|ring| touches(&ring.what, opening, WallTo::Opening)))
        };
        if let Some(finding) = outside(outline, opening).or_else(into).or_else(touches) {
            fits &= finding.severity != Severity::Stop;
            resolver.findings.push(finding);
        }
    }
    // In the mirror the same two run together once more.
    let mut told = Vec::new();
    for (index, first) in openings.iter().enumerate() {
        for second in openings.iter().skip(index + 1) {
            let overlap = first.radius + second.radius - distance(first, second);
            let pair = (&first.place, &second.place);
            if overlap > UNSEEN && !told.contains(&pair) {
                told.push(pair);
                resolver.findings.push(run_together(first, second, overlap));
            }
        }
    }
    fits
}

fn openings(holes: &[Laid<Hole>], slots: &[Laid<Slot>], place: &Place) -> Vec<Opening> {
    let holes = holes.iter().map(|Laid { what: hole, entry, half }| Opening {
        what: OpeningKind::Hole,
        place: place.child("holes").child(*entry),
        is_image: *half == InHalf::Image,
        from: hole.at,
        to: hole.at,
        radius: hole.diameter.mm() / 2.0,
    });
    let slots = slots.iter().map(|Laid { what: slot, entry, half }| Opening {
        what: OpeningKind::Slot,
        place: place.child("slots").child(*entry),
        is_image: *half == InHalf::Image,
        from: slot.from,
        to: slot.to,
        radius: slot.width.mm() / 2.0,
    });
    holes.chain(slots).collect()
}

fn outside(outline: &Outline, opening: &Opening) -> Option<Finding> {
    let what = opening.what;
    for (name, end) in [("from", opening.from), ("to", opening.to)] {
        if !outline.contains(end) {
            let off = outline.path().nearest(end).map_or(0.0, |(distance, _)| distance);
            let (slot_end, place) = match what {
                OpeningKind::Slot => (OutsideEnd::Slot(name), opening.place.child(name)),
                OpeningKind::Hole => (OutsideEnd::Hole, opening.place.child("at")),
            };
            let problem = PartProblem::Outside { end: slot_end, outside: Length::from_mm(off) };
            return Some(Finding::of(problem, place));
        }
    }
    let edge = outline.path().distance_to_line(opening.from, opening.to)?;
    let out = opening.radius - edge;
    if out <= UNSEEN {
        return None;
    }
    let [out_by, largest] = [out, edge * 2.0].map(Length::from_mm);
    let problem = PartProblem::BreaksOut { what, may_shrink: edge > UNSEEN, out_by, largest };
    Some(Finding::of(problem, opening.place.clone()))
}

/// That a hole or slot runs into an opening of the part, or lies inside it.
fn into_opening(ring: &Outline, opening: &Opening) -> Option<Finding> {
    let edge = ring.path().distance_to_line(opening.from, opening.to)?;
    let (starts_inside, meets) = (ring.contains(opening.from), opening.radius - edge > UNSEEN);
    let problem = PartProblem::IntoOpening { what: opening.what, inside: starts_inside && !meets };
    (starts_inside || meets).then(|| Finding::of(problem, opening.place.clone()))
}

/// That a hole or slot, which lies clear of a line, leaves no wood up to it.
fn touches(line: &Outline, opening: &Opening, to: WallTo) -> Option<Finding> {
    let wall = line.path().distance_to_line(opening.from, opening.to)? - opening.radius;
    let problem = PartProblem::NoWall { what: opening.what, to, wall: Length::from_mm(wall.max(0.0)) };
    (wall < UNSEEN).then(|| Finding::of(problem, opening.place.clone()))
}

fn run_together(first: &Opening, second: &Opening, overlap: f64) -> Finding {
    let (what, other, overlap) = (second.what, first.what, Length::from_mm(overlap));
    let beside = match other {
        OpeningKind::Hole => Beside::RunsIntoHole,
        OpeningKind::Slot => Beside::RunsIntoSlot,
    };
    Finding::of(PartProblem::RunTogether { what, other, overlap }, second.place.clone())
        .related(first.place.clone(), beside)
}

/// The shortest distance between the lines of two openings, mm.
fn distance(first: &Opening, second: &Opening) -> f64 {
    let (a, b) = (Segment::line(first.from, first.to), Segment::line(second.from, second.to));
    if cross(first, second) {
        return 0.0;
    }
    let from_ends = [second.from, second.to].map(|end| a.nearest(end).0).into_iter();
    from_ends.chain([first.from, first.to].map(|end| b.nearest(end).0)).fold(f64::INFINITY, f64::min)
}

/// Whether the lines of two openings cross: each has its ends on both sides of the other.
fn cross(first: &Opening, second: &Opening) -> bool {
    let side = |line: &Opening, point: Point| (line.to - line.from).cross(point - line.from);
    let apart = |line: &Opening, other: &Opening| side(line, other.from) * side(line, other.to) < 0.0;
    apart(first, second) && apart(second, first)
}
