//! What of an older print lies on the bench: what of it is void, what stays good, and what does not tape to new sheets.

use super::output::typed;
use crate::change::{LaidPattern, Record, Since};
use crate::finding::{and, quoted};
use crate::model::Project;
use crate::page::Part;
use crate::tolerance::SAME_CORRECTION;
use crate::units::Length;
use std::path::Path;

/// That a later print tells more than the one that changes are held against.
pub fn told_by_later(later: &Path) -> String {
    format!(
        "{later} was printed since and tells what lies on your bench now: --only-changed {typed} holds the piece against that.\n",
        later = later.display(),
        typed = typed(later)
    )
}

/// What takes the place of a pattern that is void.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Instead {
    /// A new print of it, or the pattern is no more.
    Printed,
    /// Nothing: it is left out, as was said.
    LeftOut,
    /// Nothing in this print, which is of others.
    NotHere,
}

impl Instead {
    /// What is said of patterns in whose place nothing is printed, behind what is void.
    fn said(self, void: &[&Part], instead: &dyn Fn(&Part) -> Instead) -> String {
        let names: Vec<String> =
            void.iter().filter(|part| instead(part) == self).map(|part| named(&part.name)).collect();
        let (is, are) = match self {
            Instead::Printed => return String::new(),
            Instead::LeftOut => ("is left out as said above", "are left out as said above"),
            Instead::NotHere => ("is not in this print", "are not in this print"),
        };
        let is = if names.len() == 1 { is } else { are };
        match names.is_empty() {
            true => String::new(),
            false => format!("; nothing takes the place of {}, which {is}", and(&names)),
        }
    }
}

/// What of a print, or of several, is void, by the codes on its sheets.
pub fn void(since: &Since, print: &str, instead: &dyn Fn(&Part) -> Instead) -> String {
    let void = since.void().map(|(laid, void)| {
        let sheets = laid.sheets.join(", ");
        let names: Vec<String> =
            void.iter().map(|part| format!("{} rev {}", named(&part.name), part.revision)).collect();
        let names = names.join("; ");
        let left = [Instead::LeftOut, Instead::NotHere].map(|none| none.said(&void, instead)).concat();
        match void.len() == laid.shows.len() {
            true => format!("  {sheets} ({names}){left}\n"),
            false => format!("  of {sheets} no more than what is named {names}; all else on it stays good{left}\n"),
        }
    });
    let void: String = void.collect();
    if void.is_empty() { void } else { format!("Throw away of {print}:\n{void}") }
}

/// Of which patterns sheets were told void by an earlier print that printed nothing in their place: some may lie there still.
pub fn void_before(since: &Since) -> String {
    let names: Vec<String> = since.record().void.iter().map(|name| named(name)).collect();
    match names.is_empty() {
        true => String::new(),
        false => format!(
            "Void since an earlier print, so throw away what is left of its older sheets: {}.\n",
            names.join(", ")
        ),
    }
}

/// What of older prints is void, and what stays good.
pub fn left(since: &Since, print: &str, instead: &dyn Fn(&Part) -> Instead) -> String {
    let mut good: Vec<String> = Vec::new();
    for part in since.good() {
        let name = named(&part.name);
        if !good.contains(&name) {
            good.push(name);
        }
    }
    let mut words = void(since, print, instead);
    if !good.is_empty() {
        words.push_str(&format!("Of {print} stay good: {}.\n", good.join(", ")));
    }
    words
}

/// Which patterns are printed of which no older paper lies there.
pub fn first_time(new: &[&Part]) -> String {
    let names: Vec<String> = new.iter().map(|part| named(&part.name)).collect();
    match names.is_empty() {
        true => String::new(),
        false => format!("Of no older print, so for the first time: {}.\n", names.join(", ")),
    }
}

/// A name in a list of names.
fn named(name: &str) -> String {
    if name.contains(',') { quoted(name) } else { name.to_owned() }
}

/// So many patterns are told by how much they are off.
const OFF_TOLD: usize = 4;

/// Which patterns come out too long or too short on the sheets of an older print, those that do most first; `None` where none does.
fn come_out(since: &Since, project: &Project) -> Option<String> {
    let mut off = since.off().to_vec();
    off.sort_by(|(_, a), (_, b)| b.abs().total_cmp(&a.abs()));
    let told: Vec<String> = off
        .iter()
        .take(OFF_TOLD)
        .map(|(part, by)| {
            let way = if *by > 0.0 { "long" } else { "short" };
            format!("{} {} too {way}", quoted(&part.name), project.notation.length(Length::from_mm(by.abs())))
        })
        .collect();
    let more = match off.len().saturating_sub(OFF_TOLD) {
        0 => String::new(),
        more => format!(" and {more} more by less"),
    };
    (!off.is_empty()).then(|| format!("{}{more}", told.join(", ")))
}

/// What comes of it that the printer is corrected otherwise since the print that changes are counted from.
pub fn otherwise_corrected(since: &Since, printer: [f64; 2], project: &Project) -> String {
    if let Some(come_out) = come_out(since, project) {
        return format!(
            "The printer is corrected otherwise since that print, on whose sheets come out: {come_out}. They are printed again whole: old sheets \
             and new ones do not tape together. Where the bars of the old sheets read true all the same, those are good, and --without NAME \
             leaves a pattern out.\n"
        );
    }
    let moved = |laid: &LaidPattern| {
        laid.shows.iter().any(|part| since.stays(part))
            && laid.correction.iter().zip(printer).any(|(was, is)| (was - is).abs() > SAME_CORRECTION)
    };
    if since.record().laid.iter().any(moved) {
        return "The printer is corrected otherwise since that print, by less than shows on these sheets: lay a steel rule on the bars of those \
                that stay, before you use them.\n"
            .to_owned();
    }
    String::new()
}

/// That sheets of older prints, beside which another is laid, do not tape to the new ones.
pub fn untaped((replaced, print): (&Since, &str), now: &Record, project: &Project) -> String {
    if let Some(come_out) = come_out(replaced, project) {
        return format!(
            "The printer is corrected otherwise since {print}, on whose sheets come out: {come_out}. Old sheets and new \
             ones do not tape together.\n"
        );
    }
    let laid = now.laid.iter().filter(|laid| {
        let was = replaced.record().laid.iter().find(|was| was.shows == laid.shows);
        was.is_some_and(|was| (was.sheets.len() > 1 || laid.sheets.len() > 1) && !was.joins(laid))
    });
    let names: Vec<String> = laid.map(|laid| quoted(&laid.part.name)).collect();
    if names.is_empty() {
        return String::new();
    }
    format!(
        "On other sheets than in {print} lie, though nothing else of them changed: {}. Of each tape either old sheets or \
         new ones, never both.\n",
        names.join(", ")
    )
}
