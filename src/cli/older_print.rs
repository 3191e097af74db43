//! What of an older print lies on the bench: what of it is void, what stays good, and what does not tape to new sheets.

use super::files::Files;
use super::output::typed;
use super::records::{self, Lying};
use crate::change::{LaidPattern, Record, Since};
use crate::finding::{and, quoted};
use crate::model::Project;
use crate::tolerance::SAME_CORRECTION;
use crate::units::Length;
use std::path::Path;

/// Which print is held against, and a later one that carries it on.
pub fn held_against(since: &Path, older: &Lying, whole: Option<&Path>, files: &Files) -> String {
    let later = whole.and_then(|whole| records::later_than(older, whole, files));
    let later = later.map_or_else(String::new, |later| {
        format!(
            "{later} was printed since and tells what lies on your bench now: --only-changed {typed} holds the piece against that.\n",
            later = later.display(),
            typed = typed(&later)
        )
    });
    format!("Held against {}.\n{later}", since.display())
}

/// What of a print is void, by the codes on its sheets; `left_out` are the patterns of which nothing new is printed all the same.
pub fn void(since: &Since, print: &str, left_out: &[String]) -> String {
    let void = since.void().map(|(laid, void)| {
        let sheets = laid.sheets.join(", ");
        let names: Vec<String> =
            void.iter().map(|part| format!("{} rev {}", named(&part.name), part.revision)).collect();
        let names = names.join("; ");
        let left: Vec<String> =
            void.iter().filter(|part| left_out.contains(&part.name)).map(|part| named(&part.name)).collect();
        let left = match left.as_slice() {
            [] => String::new(),
            left => format!("; nothing takes the place of {}, which is left out as said above", and(left)),
        };
        match void.len() == laid.shows.len() {
            true => format!("  {sheets} ({names}){left}\n"),
            false => format!("  of {sheets} no more than what is named {names}; all else on it stays good{left}\n"),
        }
    });
    let void: String = void.collect();
    if void.is_empty() { void } else { format!("Throw away of {print}:\n{void}") }
}

/// What of an older print is void, and what stays good.
pub fn left(since: &Since, left_out: &[String]) -> String {
    let good: Vec<String> = since.good().map(|part| named(&part.name)).collect();
    let mut words = void(since, "the older print", left_out);
    if !good.is_empty() {
        words.push_str(&format!("Of the older print stay good: {}.\n", good.join(", ")));
    }
    words
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

/// That sheets of the print whose place another takes do not tape to the new ones.
pub fn untaped(replaced: &Since, now: &Record, project: &Project) -> String {
    if let Some(come_out) = come_out(replaced, project) {
        return format!(
            "The printer is corrected otherwise since the print whose place this takes, on whose sheets come out: {come_out}. Old sheets and new \
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
        "On other sheets than in the print whose place this takes lie, though nothing else of them changed: {}. Of each tape either old sheets or \
         new ones, never both.\n",
        names.join(", ")
    )
}
