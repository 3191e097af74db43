//! From a file's name to a job, and what is said of it.

use super::args::{Input, Selection};
use super::files::{Files, ReadAs};
use super::output::Trouble;
use super::report;
use crate::finding::{Finding, stops};
use crate::job::{Job, Refusal};
use crate::model::{BadPaper, Paper};
use crate::pattern::Pattern;
use crate::project::{Reading, Sources, read_with};
use std::io::{IsTerminal, Write};
use std::path::Path;

/// Why a command did not finish.
#[derive(Debug)]
pub enum Stopped {
    /// A finding stops the work; it has been said.
    ByFinding,
    /// A file or the command line could not be used.
    ByTrouble(Trouble),
}

impl From<Trouble> for Stopped {
    fn from(trouble: Trouble) -> Self {
        Stopped::ByTrouble(trouble)
    }
}

impl From<Refusal> for Stopped {
    fn from(refusal: Refusal) -> Self {
        match refusal {
            Refusal::Stopped => Stopped::ByFinding,
            other => Stopped::ByTrouble(Trouble::new(other.to_string())),
        }
    }
}

/// A project that can be drawn, and the texts it was read from.
pub struct Loaded {
    /// The job on the project.
    pub job: Job,
    /// The texts.
    pub sources: Sources,
}

impl Loaded {
    /// Says what was found about the piece, with its cures.
    pub fn say_piece(&self, err: &mut dyn Write) {
        say(self.job.cured_piece_findings(), &self.sources, err);
    }

    /// Says findings of the file.
    pub fn say_all(&self, findings: &[Finding], err: &mut dyn Write) {
        say(findings, &self.sources, err);
    }

    /// The patterns asked for, all of them where none is named; what was found about the piece and about them is said.
    ///
    /// # Errors
    /// A finding that stops the work, a name that no pattern has, a file without patterns.
    pub fn patterns(&self, selection: &Selection, err: &mut dyn Write) -> Result<Vec<Pattern>, Stopped> {
        self.say_piece(err);
        self.job.piece()?;
        say(self.job.pattern_findings(), &self.sources, err);
        Ok(self.job.patterns_named(&selection.pattern)?)
    }
}

/// Reads the project as the command line asks.
///
/// # Errors
/// Where a file cannot be read.
pub fn reading(input: &Input, files: &Files) -> Result<Reading, Trouble> {
    let text = files.bytes(&input.file, ReadAs::Project)?;
    let shop = shop_file(input.shop.as_deref(), files)?;
    let shop = shop.as_ref().map(|(name, bytes)| (name.as_str(), bytes.as_slice()));
    let folder = input.file.parent().unwrap_or(Path::new(""));
    let drawings = |name: &str| files.drawing(folder, name);
    Ok(read_with(&input.file.to_string_lossy(), &text, shop, input.variant.as_deref(), &drawings))
}

/// The name and the bytes of the shop's file, where one is named.
///
/// # Errors
/// Where it cannot be read.
pub fn shop_file(named: Option<&Path>, files: &Files) -> Result<Option<(String, Vec<u8>)>, Trouble> {
    let read = |path: &Path| Ok((path.to_string_lossy().into_owned(), files.bytes(path, ReadAs::Shop)?));
    named.map(read).transpose()
}

/// Reads the project, says what was found, and goes on only where nothing stops the work.
///
/// # Errors
/// Where a file cannot be read or a finding stops the work.
pub fn load(input: &Input, files: &Files, err: &mut dyn Write) -> Result<Loaded, Stopped> {
    let Reading { project, findings, sources } = reading(input, files)?;
    say(&findings, &sources, err);
    match project {
        Some(project) if !stops(&findings) => Ok(Loaded { job: Job::new(project), sources }),
        _ => Err(Stopped::ByFinding),
    }
}

/// Says findings to a person.
pub fn say(findings: &[Finding], sources: &Sources, err: &mut dyn Write) {
    // Where not even standard error can be written there is no one left to tell.
    let _ = err.write_all(report::text(findings, sources, colour(std::io::stderr())).as_bytes());
}

/// Colour only for a person at a terminal, who has not asked for none (the NO_COLOR custom).
pub fn colour(stream: impl IsTerminal) -> bool {
    let wanted = std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
    stream.is_terminal() && wanted
}

/// The paper that the command line names, in place of the file's.
///
/// # Errors
/// A paper that is not known.
pub fn paper(named: Option<&str>) -> Result<Option<Paper>, Trouble> {
    let said = |name: &str, why: BadPaper| {
        let said = why.said();
        Trouble::new(format!("--paper {name}: {}; {}", said.message, said.remedy))
    };
    named.map(|name| Paper::read(name).map_err(|why| said(name, why))).transpose()
}
