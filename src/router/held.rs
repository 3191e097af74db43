//! Whether screws hold a template blank, and what makes room for them.

use super::blank::{Blank, BlankSettings};
use super::routed::bare_blank;
use crate::finding::Finding;
use crate::model::{BlankTemplate, DrawnPattern, Template};
use crate::units::{Length, Notation};

/// Sizes are tried in steps of this, mm.
const STEP: f64 = 10.0;
/// So many steps are tried: 300 mm make a template that is no longer handy.
const STEPS: u32 = 30;

/// How many tongues have a screw.
fn held(blank: &Blank) -> usize {
    blank.screws.iter().filter(|screw| screw.in_tongue).count()
}

/// A tongue that nothing but tape holds.
pub(super) fn screws(
    asked: &Template,
    wanted: &BlankTemplate,
    blank: &Blank,
    part: &DrawnPattern,
    say: &Notation,
) -> Option<Finding> {
    let (finding, message): (fn(_, _, _) -> Finding, _) = match held(blank) {
        0 => (
            |code, place, message| Finding::warn(code, place, message),
            "no tongue of this template has room for a screw clear of the cutter: nothing but tape holds it",
        ),
        1 => (
            |code, place, message| Finding::note(code, place, message),
            "a tongue of this template has no room for a screw clear of the cutter",
        ),
        _ => return None,
    };
    let remedy = match cures(wanted, part, say) {
        cures if cures.is_empty() => "hold the template with tape, or take one of another edge".to_owned(),
        cures => format!("make {}, or hold the template with tape", cures.join(", or ")),
    };
    Some(finding("no-room-for-screws", asked.place.clone(), message.to_owned()).remedy(remedy))
}

/// The sizes that make room for a screw in both tongues, each by itself; where none does so, the two that do together.
fn cures(wanted: &BlankTemplate, part: &DrawnPattern, say: &Notation) -> Vec<String> {
    let usual = BlankSettings::default();
    let [run_on, hold] = [wanted.run_on.unwrap_or(usual.run_on), wanted.hold.unwrap_or(usual.hold)];
    let holds = |tried: &BlankTemplate| bare_blank(part, tried).is_ok_and(|(blank, _)| held(&blank) >= 2);
    let larger = |size: Length, step: u32| Length::from_mm(((size.mm() / STEP).floor() + f64::from(step)) * STEP);
    let first = |tried: &dyn Fn(u32) -> BlankTemplate| (1..=STEPS).map(tried).find(|tried| holds(tried));
    let longer = |step| BlankTemplate { run_on: Some(larger(run_on, step)), ..wanted.clone() };
    let deeper = |step| BlankTemplate { hold: Some(larger(hold, step)), ..wanted.clone() };
    let size = |name: &str, size: Option<Length>| size.map(|size| format!("\"{name}\" {}", say.at_least(size)));
    let mut cures = Vec::new();
    cures.extend(first(&longer).and_then(|tried| size("run_on", tried.run_on)));
    // Two edges have the part between them for a back.
    let has_back = wanted.edges.len() == 1;
    if has_back {
        cures.extend(first(&deeper).and_then(|tried| size("hold", tried.hold)));
    }
    // No nearer to the cutter than is usual.
    let nearer = BlankTemplate { clear: Some(usual.clear), ..wanted.clone() };
    if wanted.clear.is_some_and(|clear| clear > usual.clear) && holds(&nearer) {
        cures.extend(size("clear", Some(usual.clear)));
    }
    if cures.is_empty() && has_back {
        let both = |step| BlankTemplate { hold: deeper(step).hold, ..longer(step) };
        let found = first(&both).and_then(|tried| size("run_on", tried.run_on).zip(size("hold", tried.hold)));
        cures.extend(found.map(|(run_on, hold)| format!("{run_on} and {hold}")));
    }
    cures
}
