//! `set`: changes numbers of a file and nothing else.

use super::args::{Input, Set};
use super::files::{Files, ReadAs, is_dash};
use super::load::{Stopped, reading};
use super::output::say;
use crate::finding::{Finding, Severity, shortened, stops};
use crate::job::Job;
use crate::project::{Reading, edit, read_with};
use std::io::Write;
use std::path::Path;

/// Runs `set`.
pub fn run(asked: &Set, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let file = &asked.file;
    if is_dash(file) {
        let before = files.bytes(file, ReadAs::Project)?;
        let text = changed(asked, &before, err)?;
        say(out, &text)?;
        let read = |text: &[u8]| {
            let drawings = |name: &str| files.drawing(Path::new(""), name);
            read_with(&file.to_string_lossy(), text, None, None, &drawings)
        };
        return tell_what_it_brings(read(&before), read(&text), err);
    }
    let mut before = Vec::new();
    files.change(file, |text| {
        before = text.to_vec();
        changed(asked, text, err)
    })?;
    let name = file.display();
    let old = String::from_utf8_lossy(&before);
    let done: Vec<String> = asked.changes.iter().map(|change| format!("{change} ({})", was(&old, change))).collect();
    let words = format!("Changed in {name}: {}\n", done.join(", "));
    let told = say(out, words.as_bytes()).map_err(|trouble| trouble.although(&format!("{name} was changed")));
    let folder = file.parent().unwrap_or(Path::new(""));
    let drawings = |name: &str| files.drawing(folder, name);
    let before = read_with(&file.to_string_lossy(), &before, None, None, &drawings);
    let now = reading(&Input { file: file.clone(), variant: None, shop: None, font: Vec::new() }, files)?;
    let brought = tell_what_it_brings(before, now, err);
    told?;
    brought
}

/// What a change takes the place of.
fn was(old: &str, change: &str) -> String {
    edit::before(old, change).map_or_else(|| "new".to_owned(), |old| format!("was {}", shortened(&old)))
}

/// A text with the changes that are asked for.
fn changed(asked: &Set, text: &[u8], err: &mut dyn Write) -> Result<Vec<u8>, Stopped> {
    let name = asked.file.to_string_lossy();
    let Ok(text) = std::str::from_utf8(text) else {
        // The reader says what is wrong with the text itself.
        let reading = read_with(&name, text, None, None, &crate::project::no_drawings);
        super::load::say(&reading.findings, &reading.sources, err);
        return Err(Stopped::ByFinding);
    };
    let changes: Vec<&str> = asked.changes.iter().map(String::as_str).collect();
    let changed = edit::set(&name, text, &changes).map_err(|refused| {
        super::load::say(&refused.findings, &refused.sources, err);
        Stopped::ByFinding
    })?;
    Ok(changed.into_bytes())
}

/// After a change that leaves a piece which cannot be made, says why: the number may be one of two that go together, so that it
/// is not refused. Else says what it warns of now and did not before.
///
/// # Errors
/// Where something stops the work that nothing stopped before; it has been said.
fn tell_what_it_brings(before: Reading, now: Reading, err: &mut dyn Write) -> Result<(), Stopped> {
    let known = told(&before.findings, before.project.map(Job::new).iter().flat_map(Job::findings));
    let job = now.project.map(Job::new);
    let found = told(&now.findings, job.iter().flat_map(Job::findings));
    let stopped = stops(&found);
    let is_news = |finding: &Finding| match stopped {
        true => finding.severity == Severity::Stop,
        false => finding.severity == Severity::Warn && !known.iter().any(|old| is_same(old, finding)),
    };
    // Cures are searched only where something is told.
    if !found.iter().any(is_news) {
        return Ok(());
    }
    let mut news = told(&now.findings, job.iter().flat_map(Job::cured_findings));
    news.retain(is_news);
    let words = if stopped { "With it nothing can be made yet:" } else { "With it there is more to mind:" };
    // Where not even standard error can be written there is no one left to tell.
    let _ = writeln!(err, "{words}\n");
    super::load::say(&news, &now.sources, err);
    if stopped && !stops(&known) { Err(Stopped::ByFinding) } else { Ok(()) }
}

/// What is found in reading a file and in making the piece.
fn told<'a>(read: &'a [Finding], made: impl Iterator<Item = &'a Finding>) -> Vec<Finding> {
    read.iter().chain(made).cloned().collect()
}

/// Whether two findings tell one thing, by how much ever.
fn is_same(one: &Finding, other: &Finding) -> bool {
    one.code == other.code && one.place.pointer == other.place.pointer
}
