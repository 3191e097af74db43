//! Whether screws hold a template blank, and what makes room for them.
//!
//! A template is held at two places at least: round one screw alone it swings into the cutter's way.

use super::blank::{Blank, BlankSettings};
use super::part::end_edge;
use super::problem::{ScrewRoom, TemplateProblem};
use super::routed::bare_blank;
use crate::finding::{Finding, Severity};
use crate::model::{BlankTemplate, DrawnPattern, Template};
use crate::units::Length;

/// Sizes are tried in steps of this, mm.
const STEP: f64 = 10.0;
/// So many steps are tried: 300 mm make a template that is no longer handy.
const STEPS: u32 = 30;

/// What is said of a template that nothing is marked to hold.
pub const HELD_AT_TWO_PLACES: &str =
    "hold it at two places at least: tape, toggle clamps or screws in waste, clear of the router";

/// At how many places a template must be held.
pub(super) const PLACES: usize = 2;

/// What holds a template blank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// How many screws there is room for.
    pub screws: usize,
    /// The ends of the part beyond which no screw has room, by their names where they have one.
    pub bare: Vec<Option<String>>,
}

impl Held {
    /// What holds the template of a part.
    pub fn of(part: &DrawnPattern, wanted: &BlankTemplate, blank: &Blank) -> Held {
        let bare = blank.ends.iter().enumerate().filter(|(end, _)| !has_screw(blank, *end));
        let name = |across| end_edge(part, wanted, across).and_then(|edge| edge.name.clone());
        Held { screws: blank.screws.len(), bare: bare.map(|(_, across)| name(across)).collect() }
    }

    /// Whether the screws alone hold it.
    pub fn is_firm(&self) -> bool {
        self.screws >= PLACES
    }

    /// `beyond the foot`; nothing where there is a screw beyond either end.
    pub(crate) fn bare_words(&self) -> Option<String> {
        let [first, rest @ ..] = self.bare.as_slice() else { return None };
        if !rest.is_empty() {
            return Some("beyond either end".to_owned());
        }
        let name = first.as_ref().map_or_else(|| "one end of the part".to_owned(), |name| format!("the {name}"));
        Some(format!("beyond {name}"))
    }

    /// What its sheet and the schedule say of it, line by line: nothing where a screw stands beyond either end.
    pub fn words(&self) -> Vec<String> {
        let Some(bare) = self.bare_words() else { return Vec::new() };
        match self.screws {
            0 => vec![
                "no screw has room on this template: hold it at two places at least".to_owned(),
                "with tape or toggle clamps clear of the cutter".to_owned(),
            ],
            1 => vec![
                "one screw is not enough: round it this template swings".to_owned(),
                format!("{bare} no screw has room: hold it there too, with tape or a toggle clamp"),
            ],
            _ => vec![format!("{bare} no screw has room: hold it there with tape or a toggle clamp")],
        }
    }
}

fn has_screw(blank: &Blank, end: usize) -> bool {
    blank.screws.iter().any(|screw| screw.beyond == Some(end))
}

/// A tongue that no screw holds.
pub(super) fn screws(
    asked: &Template,
    wanted: &BlankTemplate,
    blank: &Blank,
    part: &DrawnPattern,
) -> Option<Finding> {
    let held = Held::of(part, wanted, blank);
    if held.bare.is_empty() {
        return None;
    }
    let severity = if held.is_firm() { Severity::Note } else { Severity::Warn };
    let told = TemplateProblem::NoScrews { held, cures: cures(wanted, part) };
    Some(Finding::of(told, asked.place.clone()).weighed(severity))
}

/// Whether a screw stands beyond either end.
fn held_at_both(blank: &Blank) -> bool {
    (0..blank.ends.len()).all(|end| has_screw(blank, end))
}

/// The sizes that make room for a screw in both tongues, each by itself; where none does so, the two that do together.
fn cures(wanted: &BlankTemplate, part: &DrawnPattern) -> Vec<ScrewRoom> {
    let usual = BlankSettings::default();
    let [run_on, hold] = [wanted.run_on.unwrap_or(usual.run_on), wanted.hold.unwrap_or(usual.hold)];
    let holds = |tried: &BlankTemplate| bare_blank(part, tried).is_ok_and(|(blank, _)| held_at_both(&blank));
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
