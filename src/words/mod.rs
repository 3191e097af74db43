//! What is found, in a maker's words: the one place where findings are worded, a file for each family of problems.
//!
//! Guarantees to everything below: every problem has words, which are made of its data and the notation alone. No rule reads
//! them: they could be those of another language.

mod as_built;
mod change;
mod check;
mod drawing;
mod field;
mod joinery;
mod json;
mod made;
mod model;
mod order;
mod outline;
mod part;
mod piece;
mod quantity;
mod router;
mod wood;

use crate::finding::{Beside, Cure, Cures, Finding, Quantity, RefusedChange, Said, quoted};
use crate::project::edit::InItsPlace;
use crate::units::{Length, Notation};

impl Finding {
    /// The words with all that a finding adds to those of its problem: what was refused for it, and how many more like it there are.
    pub(crate) fn added(&self, mut said: Said, notation: &Notation) -> Said {
        said.message = match self.refused {
            None => said.message,
            Some(RefusedChange::Itself) => format!("nothing was changed: {}", said.message),
            Some(RefusedChange::Outcome) => format!("nothing was changed: with this change {}", said.message),
        };
        let sizes = self.sizes_below_zero.iter();
        let sizes: Vec<String> =
            sizes.map(|(name, value)| format!("the size \"{name}\" is {}", notation.exact(*value))).collect();
        if !sizes.is_empty() {
            said.remedy = format!("{}: give it more than 0; else {}", sizes.join(", "), said.remedy);
        }
        // A limit that is no cure: where a number may begin, and what stops the work there.
        if let Cures::Half(limit, then) = &self.cures
            && limit.change_as::<InItsPlace>().is_some()
        {
            let then = then.said(notation).message;
            said.remedy = format!("{}; with {}, {then}", said.remedy, limit.said(notation));
        }
        if self.more > 0 {
            said.message = format!("{} (and {} more like it)", said.message, self.more);
        }
        said
    }
}

impl Beside {
    /// What is written beside the other place.
    pub(crate) fn said(&self, notation: &Notation) -> String {
        match self {
            Beside::FirstWritten => "first written here".to_owned(),
            Beside::OpenBracket => "the bracket that is open here".to_owned(),
            Beside::RunsIntoHole => "the hole that it runs into".to_owned(),
            Beside::RunsIntoSlot => "the slot that it runs into".to_owned(),
            Beside::EdgeToCorner => "the edge to this corner".to_owned(),
            Beside::Outline => "this outline".to_owned(),
            Beside::OtherJoint => "the other joint".to_owned(),
            Beside::TheseToo => "these too".to_owned(),
            Beside::Second(value) => format!("{} here", written(*value, notation)),
            Beside::ComesFrom(place) => format!("it comes from {}", place.pointer),
        }
    }
}

/// A value as a maker writes it into the file.
fn written(value: Quantity, notation: &Notation) -> String {
    let one = |number: f64| match value {
        Quantity::Length(_) | Quantity::Pair(_) => notation.exact(Length::from_mm(number)),
        Quantity::Angle(_) => format!("{number}°"),
        Quantity::Number(_) => number.to_string(),
    };
    value.numbers().into_iter().map(one).collect::<Vec<_>>().join(" and ")
}

/// Changes of which each cures by itself, the last joined by `or`.
fn or(cures: &[Cure], between: &str, notation: &Notation) -> String {
    let said: Vec<String> = cures.iter().map(|cure| cure.said(notation)).collect();
    match said.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(between)),
        None => String::new(),
    }
}

/// The names in quotes, with commas between them.
fn listed(names: &[impl AsRef<str>]) -> String {
    names.iter().map(|name| quoted(name.as_ref())).collect::<Vec<_>>().join(", ")
}

/// A known name that is near to what was written.
fn did_you_mean(near: &Option<String>) -> Option<String> {
    near.as_ref().map(|near| format!("did you mean \"{near}\"?"))
}
