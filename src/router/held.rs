//! Whether screws hold a template blank, and what makes room for them.

use super::blank::{Blank, BlankSettings};
use super::problem::{ScrewRoom, TemplateProblem};
use super::routed::bare_blank;
use crate::finding::{Finding, Severity};
use crate::model::{BlankTemplate, DrawnPattern, Template};
use crate::units::Length;

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
) -> Option<Finding> {
    let held = held(blank);
    let severity = if held == 0 { Severity::Warn } else { Severity::Note };
    let told = || TemplateProblem::NoScrews { held, cures: cures(wanted, part) };
    (held < 2).then(|| Finding::of(told(), asked.place.clone()).weighed(severity))
}

/// The sizes that make room for a screw in both tongues, each by itself; where none does so, the two that do together.
fn cures(wanted: &BlankTemplate, part: &DrawnPattern) -> Vec<ScrewRoom> {
    let usual = BlankSettings::default();
    let [run_on, hold] = [wanted.run_on.unwrap_or(usual.run_on), wanted.hold.unwrap_or(usual.hold)];
    let holds = |tried: &BlankTemplate| bare_blank(part, tried).is_ok_and(|(blank, _)| held(&blank) >= 2);
    let larger = |size: Length, step: u32| Length::from_mm(((size.mm() / STEP).floor() + f64::from(step)) * STEP);
    let first = |tried: &dyn Fn(u32) -> BlankTemplate| (1..=STEPS).map(tried).find(|tried| holds(tried));
    let longer = |step| BlankTemplate { run_on: Some(larger(run_on, step)), ..wanted.clone() };
    let deeper = |step| BlankTemplate { hold: Some(larger(hold, step)), ..wanted.clone() };
    let mut cures = Vec::new();
    cures.extend(first(&longer).and_then(|tried| tried.run_on.map(ScrewRoom::RunOn)));
    // Two edges have the part between them for a back.
    let has_back = wanted.edges.len() == 1;
    if has_back {
        cures.extend(first(&deeper).and_then(|tried| tried.hold.map(ScrewRoom::Hold)));
    }
    // No nearer to the cutter than is usual.
    let nearer = BlankTemplate { clear: Some(usual.clear), ..wanted.clone() };
    if wanted.clear.is_some_and(|clear| clear > usual.clear) && holds(&nearer) {
        cures.push(ScrewRoom::Clear(usual.clear));
    }
    if cures.is_empty() && has_back {
        let both = |step| BlankTemplate { hold: deeper(step).hold, ..longer(step) };
        let found = first(&both).and_then(|tried| tried.run_on.zip(tried.hold));
        cures.extend(found.map(|(run_on, hold)| ScrewRoom::Both(run_on, hold)));
    }
    cures
}
