//! What a saw line leaves out.

use super::collar::{moved, saw_line};
use super::diagnostics::at;
use super::routed::TemplateShape;
use super::shortfall::{Cause, Shortfall, shortfalls};
use crate::finding::Finding;
use crate::geometry::Path;
use crate::model::{DrawnPattern, Template, TemplateKind};
use crate::units::{Length, Notation};

/// Places that are left out less deep than this, mm, are curves that the line rounds a little, and cost nothing.
const LEAST: f64 = 1.0;
/// The largest distance is found to this, mm.
const STEP: f64 = 0.01;

/// That a saw line has no room in some place, and passes it over.
pub(super) fn left_out(
    asked: &Template,
    shape: &TemplateShape,
    part: &DrawnPattern,
    say: &Notation,
) -> Option<Finding> {
    let (TemplateKind::SawLine { distance }, TemplateShape::SawLine(_)) = (&asked.kind, shape) else { return None };
    let rings = part.rings();
    let lost = passed_over(&rings, *distance)?;
    let deepest = lost.iter().max_by(|a, b| a.depth.total_cmp(&b.depth))?;
    let keeps = |mm: f64| passed_over(&rings, Length::from_mm(mm)).is_some_and(|lost| lost.is_empty());
    let (mut low, mut high) = (0.0, distance.mm());
    while high - low > STEP {
        let middle = (low + high) / 2.0;
        if keeps(middle) { low = middle } else { high = middle }
    }
    let what = if deepest.between.is_none() { "the opening" } else { "the narrow place" };
    let more = match lost.len() {
        1 => String::new(),
        count => format!(" and {} more", count - 1),
    };
    let message = format!(
        "the saw line leaves out {what} at {}{more}: it has no room there {} from both sides",
        at(deepest.at, say),
        say.exact(*distance)
    );
    let remedy = match low > 0.0 {
        true => {
            format!("make \"distance\" {} or less, or cut that place by itself", say.at_most(Length::from_mm(low)))
        }
        false => "cut that place by itself".to_owned(),
    };
    let finding = Finding::note("saw-line-left-out", asked.place.clone(), message).remedy(remedy);
    Some(finding.measured("places", lost.len() as f64).measured("largest", low))
}

/// The places that a line at a distance passes over; `None` where there is no such line.
fn passed_over(rings: &[Path], distance: Length) -> Option<Vec<Shortfall>> {
    let line = saw_line(rings, distance).ok()?;
    let back = moved(&line, -distance.mm()).ok()?;
    let lost = shortfalls(rings, &back, distance.mm());
    Some(lost.into_iter().filter(|place| place.cause != Cause::SharpCorner && place.depth > LEAST).collect())
}
