//! Whether holes and slots lie inside the part and clear of each other.

use super::outline::Drawn;
use super::resolve::Resolver;
use crate::finding::{Beside, Finding, Place};
use crate::geometry::{Outline, Point, Segment};
use crate::model::{Hole, Slot};
use crate::units::Length;

/// An overlap smaller than this, mm, is touching: no saw or bit works so close.
const TOUCHING: f64 = 0.01;

/// A hole or slot as everything within `radius` of a line.
struct Opening {
    what: &'static str,
    place: Place,
    from: Point,
    to: Point,
    radius: f64,
}

/// Tells every hole and slot that does not lie wholly inside the part (then nothing may be cut) and every two that run
/// into each other (which may be meant). Whether the part may be cut.
pub fn check(part: &Drawn, holes: &[Hole], slots: &[Slot], place: &Place, resolver: &mut Resolver) -> bool {
    let openings = openings(holes, slots, place);
    let mut fits = true;
    for opening in &openings {
        let into = || part.openings.iter().find_map(|ring| into_opening(ring, opening));
        if let Some(finding) = outside(&part.built.outline, opening, resolver).or_else(into) {
            resolver.findings.push(finding);
            fits = false;
        }
    }
    for (index, first) in openings.iter().enumerate() {
        for second in openings.iter().skip(index + 1) {
            let overlap = first.radius + second.radius - distance(first, second);
            if overlap > TOUCHING {
                resolver.findings.push(run_together(first, second, overlap, resolver));
            }
        }
    }
    fits
}

fn openings(holes: &[Hole], slots: &[Slot], place: &Place) -> Vec<Opening> {
    let holes = holes.iter().enumerate().map(|(index, hole)| Opening {
        what: "hole",
        place: place.child("holes").child(index),
        from: hole.at,
        to: hole.at,
        radius: hole.diameter.mm() / 2.0,
    });
    let slots = slots.iter().enumerate().map(|(index, slot)| Opening {
        what: "slot",
        place: place.child("slots").child(index),
        from: slot.from,
        to: slot.to,
        radius: slot.width.mm() / 2.0,
    });
    holes.chain(slots).collect()
}

fn outside(outline: &Outline, opening: &Opening, resolver: &Resolver) -> Option<Finding> {
    let what = opening.what;
    for (name, end) in [("from", opening.from), ("to", opening.to)] {
        if !outline.contains(end) {
            let off = outline.path().nearest(end).map_or(0.0, |(distance, _)| distance);
            let (centre, place) = match what {
                "slot" => (format!("the end \"{name}\" of this slot"), opening.place.child(name)),
                _ => ("the centre of this hole".to_owned(), opening.place.child("at")),
            };
            let message =
                format!("{centre} lies {} outside the part", resolver.notation.at_least(Length::from_mm(off)));
            let finding = Finding::stop("outside-the-part", place, message).remedy("move it inside the outline");
            return Some(finding.measured("outside", off));
        }
    }
    let edge = outline.path().distance_to_line(opening.from, opening.to)?;
    let out = opening.radius - edge;
    if out <= TOUCHING {
        return None;
    }
    let (size, limit) = match what {
        "slot" => ("width", "narrower"),
        _ => ("diameter", "smaller"),
    };
    let say = resolver.notation;
    let message = format!("this {what} breaks out of the edge by {}", say.at_least(Length::from_mm(out)));
    let remedy = if edge > TOUCHING {
        let most = say.at_most(Length::from_mm(edge * 2.0));
        format!(
            "move it in by {}, or make it {limit}: the largest {size} here is {most}",
            say.at_least(Length::from_mm(out))
        )
    } else {
        "move it inside the outline".to_owned()
    };
    let finding = Finding::stop("breaks-out", opening.place.clone(), message).remedy(remedy);
    Some(finding.measured("out_by", out).measured("largest", edge * 2.0))
}

/// That a hole or slot runs into an opening that is drawn with the outline.
fn into_opening(ring: &Outline, opening: &Opening) -> Option<Finding> {
    let edge = ring.path().distance_to_line(opening.from, opening.to)?;
    let meets = ring.contains(opening.from) || opening.radius - edge > TOUCHING;
    let message = format!("this {} runs into an opening of the drawing", opening.what);
    meets.then(|| {
        Finding::stop("breaks-out", opening.place.clone(), message).remedy("move it into the wood beside the opening")
    })
}

fn run_together(first: &Opening, second: &Opening, overlap: f64, resolver: &Resolver) -> Finding {
    let by = resolver.notation.at_least(Length::from_mm(overlap));
    let message = format!("this {} runs into a {} by {by}", second.what, first.what);
    Finding::warn("openings-run-together", second.place.clone(), message)
        .remedy("move them apart, unless one opening is meant")
        .measured("overlap", overlap)
        .related(first.place.clone(), Beside::RunsInto(first.what.to_owned()))
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
