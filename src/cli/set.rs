//! `set`: changes numbers of a file and nothing else.

use super::args::{Input, Set};
use super::files::{Files, ReadAs, is_dash};
use super::load::{Stopped, reading};
use super::output::say;
use crate::finding::Severity;
use crate::job::Job;
use crate::project::{Reading, edit, read_with};
use std::io::Write;
use std::path::Path;

/// Runs `set`.
pub fn run(asked: &Set, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let file = &asked.file;
    if is_dash(file) {
        let text = changed(asked, &files.bytes(file, ReadAs::Project)?, err)?;
        say(out, &text)?;
        let drawings = |name: &str| files.drawing(Path::new(""), name);
        tell_what_it_stops(read_with(&file.to_string_lossy(), &text, None, None, &drawings), err);
        return Ok(());
    }
    files.change(file, |text| changed(asked, text, err))?;
    let name = file.display();
    let words = format!("Changed in {name}: {}\n", asked.changes.join(", "));
    let told = say(out, words.as_bytes()).map_err(|trouble| trouble.although(&format!("{name} was changed")));
    tell_what_it_stops(
        reading(&Input { file: file.clone(), variant: None, shop: None, font: Vec::new() }, files)?,
        err,
    );
    Ok(told?)
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
/// is not refused.
fn tell_what_it_stops(mut now: Reading, err: &mut dyn Write) {
    now.findings.retain(|finding| finding.severity == Severity::Stop);
    if let Some(project) = now.project {
        now.findings.extend(Job::new(project).cured_stops().into_iter().cloned());
    }
    if !now.findings.is_empty() {
        // Where not even standard error can be written there is no one left to tell.
        let _ = writeln!(err, "With it nothing can be made yet:\n");
        super::load::say(&now.findings, &now.sources, err);
    }
}
