//! From a file's name to a job, and what is said of it.

use super::args::{Input, Selection};
use super::output::Trouble;
use super::report;
use crate::finding::{Finding, stops};
use crate::import::LARGEST_FILE;
use crate::job::{Job, Refusal};
use crate::model::{BadPaper, Paper};
use crate::pattern::Pattern;
use crate::project::{Reading, Sources, read_with};
use std::fs;
use std::io::{IsTerminal, Read, Write};
use std::path::{Component, Path};

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

/// The most bytes that are read of a file; the reader refuses far smaller ones, with its own words.
const READ_LIMIT: u64 = 64 << 20;

/// A file's bytes.
///
/// # Errors
/// Says why it cannot be read.
pub fn bytes(path: &Path) -> Result<Vec<u8>, Trouble> {
    let mut bytes = Vec::new();
    let file = fs::File::open(path).map_err(|error| Trouble::reading(path, &error))?;
    file.take(READ_LIMIT).read_to_end(&mut bytes).map_err(|error| Trouble::reading(path, &error))?;
    Ok(bytes)
}

/// Reads the project as the command line asks.
///
/// # Errors
/// Where a file cannot be read.
pub fn reading(input: &Input) -> Result<Reading, Trouble> {
    let text = bytes(&input.file)?;
    let shop = input.shop.as_deref().map(|path| bytes(path).map(|bytes| (path, bytes))).transpose()?;
    let shop = shop.as_ref().map(|(path, bytes)| (path.to_string_lossy(), bytes.as_slice()));
    let shop = shop.as_ref().map(|(name, bytes)| (name.as_ref(), *bytes));
    let folder = input.file.parent().unwrap_or(Path::new(""));
    let drawings = |name: &str| drawing(folder, name);
    Ok(read_with(&input.file.to_string_lossy(), &text, shop, input.variant.as_deref(), &drawings))
}

/// A drawing's bytes, from a file in or under the project file's folder.
///
/// # Errors
/// Says in a few words why it is not read.
fn drawing(folder: &Path, name: &str) -> Result<Vec<u8>, String> {
    let plain = Path::new(name).components().all(|step| matches!(step, Component::Normal(_) | Component::CurDir));
    if !plain || name.contains("://") {
        return Err("only files in the project file's folder are read".to_owned());
    }
    let path = folder.join(name);
    let told = |error: std::io::Error| error.to_string();
    let file = fs::File::open(&path).map_err(told)?;
    if !file.metadata().map_err(told)?.is_file() {
        return Err("it is not a file".to_owned());
    }
    let mut bytes = Vec::new();
    // One byte more than is taken shows that there is more.
    file.take(LARGEST_FILE as u64 + 1).read_to_end(&mut bytes).map_err(told)?;
    Ok(bytes)
}

/// Reads the project, says what was found, and goes on only where nothing stops the work.
///
/// # Errors
/// Where a file cannot be read or a finding stops the work.
pub fn load(input: &Input, err: &mut dyn Write) -> Result<Loaded, Stopped> {
    let Reading { project, findings, sources } = reading(input)?;
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
