//! From a file's name to a job, and what is said of it.

use super::args::{Input, Selection};
use super::files::{Files, ReadAs};
use super::keeping;
use super::new::brought;
use super::output::{Trouble, harmless};
use super::report;
use crate::change::Kept;
use crate::finding::{Finding, Severity, stops};
use crate::job::{Job, Refusal};
use crate::layout::printer_corrected;
use crate::model::{BadPaper, Paper, Project, ReadingsFrom};
use crate::page::{Lettering, NoFont};
use crate::pattern::Pattern;
use crate::project::edit::{offer_limits, offer_sizes};
use crate::project::{Reading, Shops, Sources, read_in};
use crate::units::Units;
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
    /// The fonts for letters that the embedded face lacks, where any are named.
    pub lettering: Option<Lettering>,
}

impl Loaded {
    /// Says everything that `check` says of a read file, in its words, and goes on only where nothing stops the work. Whatever a
    /// command makes of a file comes through here. `kept` is the wood of the parts that the file says exist; `mend` looks for more cures.
    ///
    /// # Errors
    /// Where a finding stops the work.
    pub fn cleared(reading: Reading, kept: &Kept, mend: Mend, err: &mut dyn Write) -> Result<Loaded, Stopped> {
        let Reading { project, mut findings, sources } = reading;
        let mut job = project.map(Job::new);
        findings.extend(job.iter().flat_map(Job::cured_findings).cloned());
        findings.extend(job.iter_mut().flat_map(|job| keeping::told(job, kept)));
        mend(&mut findings, &sources);
        say(&findings, &sources, err);
        match job {
            Some(job) if !stops(&findings) => Ok(Loaded { job, sources, lettering: None }),
            _ => Err(Stopped::ByFinding),
        }
    }

    /// Says findings of the file.
    pub fn say_all(&self, findings: &[Finding], err: &mut dyn Write) {
        say(findings, &self.sources, err);
    }

    /// The patterns asked for, all of them where none is named.
    ///
    /// # Errors
    /// A name that no pattern has, a file without patterns.
    pub fn patterns(&self, selection: &Selection) -> Result<Vec<Pattern>, Stopped> {
        Ok(self.job.patterns_but(&selection.pattern, &selection.without)?)
    }
}

/// Reads the project as the command line asks.
///
/// # Errors
/// Where a file cannot be read.
pub fn reading(input: &Input, files: &Files) -> Result<Reading, Trouble> {
    Ok(lettered_reading(input, files)?.0)
}

/// As [`reading`], with the fonts that are named.
fn lettered_reading(input: &Input, files: &Files) -> Result<(Reading, Option<Lettering>), Trouble> {
    let text = files.bytes(&input.file, ReadAs::Project)?;
    let shops = ShopFiles::of(input.shop.as_deref(), files)?;
    let shops = shops.shops();
    let folder = input.file.parent().unwrap_or(Path::new(""));
    let drawings = |name: &str| files.drawing(folder, name);
    let fonts = input.font.iter().map(|path| lettering(path, files)).collect::<Result<Vec<_>, _>>()?;
    let lettering = fonts.into_iter().reduce(Lettering::and);
    let mut reading = read_in(&input.file.to_string_lossy(), &text, shops, input.variant.as_deref(), &drawings);
    if shops.named.is_none() && input.variant.is_none() {
        let stops = |text: &str| {
            let project = read_in("", text.as_bytes(), shops, None, &drawings).project?;
            Job::new(project).findings().find(|found| found.severity == Severity::Stop).cloned()
        };
        offer_limits(&mut reading.findings, &reading.sources, shops, &stops);
    }
    let slips = reading.project.as_ref().map(|project| brought::slips(&String::from_utf8_lossy(&text), project));
    reading.findings.extend(slips.into_iter().flatten());
    reading.tell_letters(input.variant.as_deref(), lettering.as_ref());
    Ok((reading, lettering))
}

/// The font of a file.
fn lettering(path: &Path, files: &Files) -> Result<Lettering, Trouble> {
    let no_font = |_: NoFont| {
        Trouble::new(format!("{} is no font with outlines: name a TrueType or OpenType file", path.display()))
    };
    Lettering::read(files.bytes(path, ReadAs::Font)?).map_err(no_font)
}

/// The shop files of a run, each with its name and its bytes.
#[derive(Debug, Default)]
pub struct ShopFiles {
    named: Option<(String, Vec<u8>)>,
    own: Option<(String, Vec<u8>)>,
}

impl ShopFiles {
    /// The one that is named, and the person's own where there is one.
    ///
    /// # Errors
    /// Where one of them cannot be read.
    pub fn of(named: Option<&Path>, files: &Files) -> Result<ShopFiles, Trouble> {
        let name = |path: &Path| path.to_string_lossy().into_owned();
        let read = |path: &Path| files.bytes(path, ReadAs::Shop).map(|bytes| (name(path), bytes));
        let named = named.map(read).transpose()?;
        let own = files.own_shop_bytes()?.and_then(|bytes| Some((name(files.own_shop()?), bytes)));
        Ok(ShopFiles { named, own })
    }

    /// As a project is read with them.
    pub fn shops(&self) -> Shops<'_> {
        let [named, own] =
            [&self.named, &self.own].map(|file| file.as_ref().map(|(name, bytes)| (name.as_str(), bytes.as_slice())));
        Shops { own, named }
    }
}

/// The units of the person's own shop file; `None` where there is none, or it does not say them.
///
/// # Errors
/// Where it cannot be read.
pub fn own_units(files: &Files) -> Result<Option<Units>, Trouble> {
    let Some(bytes) = files.own_shop_bytes()? else { return Ok(None) };
    let shop: Option<serde_json::Value> = serde_json::from_slice(&bytes).ok();
    let said = shop.as_ref().and_then(|shop| shop.get("units")?.as_str());
    Ok(match said {
        Some("in") => Some(Units::Inch),
        Some("mm") => Some(Units::Mm),
        _ => None,
    })
}

/// Says that something comes of the person's own shop file, which no command line names; empty where nothing does.
pub fn own_shop_words(sources: &Sources, files: &Files) -> String {
    match files.own_shop().filter(|_| sources.uses_own_shop()) {
        Some(path) => harmless(&format!("With your shop file {}\n", path.display())),
        None => String::new(),
    }
}

/// Says it to a person.
fn tell_own_shop(sources: &Sources, files: &Files, err: &mut dyn Write) {
    // Where not even standard error can be written there is no one left to tell.
    let _ = err.write_all(own_shop_words(sources, files).as_bytes());
}

/// For which printer a print is corrected and by which file, in a line.
pub fn printer_words(project: &Project, input: (Option<&Path>, Option<&Path>), files: &Files) -> String {
    let (file, shop) = input;
    let named = match &project.readings_from {
        Some(ReadingsFrom::Piece) => file,
        Some(ReadingsFrom::Named(_)) => shop,
        Some(ReadingsFrom::Own) => files.own_shop(),
        None => None,
    };
    let says = named.map_or_else(String::new, |path| format!(", as {} says", path.display()));
    match printer_corrected(&project.shop) {
        Some(printer) => format!("Corrected for {printer}{says}.\n"),
        None => format!("Not corrected for a printer{says}.\n"),
    }
}

/// Reads the project and says everything that `check` says; goes on only where nothing stops the work.
///
/// # Errors
/// Where a file cannot be read or a finding stops the work.
pub fn load(input: &Input, files: &Files, err: &mut dyn Write) -> Result<Loaded, Stopped> {
    let (reading, lettering) = lettered_reading(input, files)?;
    tell_own_shop(&reading.sources, files, err);
    let kept = keeping::of(reading.project.as_ref(), &input.file, files)?;
    let mend = |findings: &mut [Finding], sources: &Sources| mend_by_sizes(findings, sources, input, files);
    Ok(Loaded { lettering, ..Loaded::cleared(reading, &kept, &mend, err)? })
}

/// What looks for cures of findings beyond those that the job knows.
pub type Mend<'m> = &'m dyn Fn(&mut [Finding], &Sources);

/// Gives a stop that no number of its own field cures the size of the file that does.
pub fn mend_by_sizes(findings: &mut [Finding], sources: &Sources, input: &Input, files: &Files) {
    // What cannot be read has been told.
    let Ok(shops) = ShopFiles::of(input.shop.as_deref(), files) else { return };
    let shops = shops.shops();
    if shops.named.is_some() || input.variant.is_some() {
        return;
    }
    let folder = input.file.parent().unwrap_or(Path::new(""));
    let drawings = |name: &str| files.drawing(folder, name);
    offer_sizes(findings, sources, shops, &|text| {
        let reading = read_in("", text.as_bytes(), shops, None, &drawings);
        let project = reading.project.filter(|_| !stops(&reading.findings));
        project.is_none_or(|project| Job::new(project).stops())
    });
}

/// Reads the project for what it says itself (its shop, its variants), and says what was found in reading. What can be made of it is
/// not asked.
///
/// # Errors
/// Where a file cannot be read or a finding stops its reading.
pub fn project(input: &Input, files: &Files, err: &mut dyn Write) -> Result<Project, Stopped> {
    let Reading { project, findings, sources } = reading(input, files)?;
    tell_own_shop(&sources, files, err);
    say(&findings, &sources, err);
    project.ok_or(Stopped::ByFinding)
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

/// The paper that the command line names, in place of the file's, whose units a bare size takes.
///
/// # Errors
/// A paper that is not known.
pub fn paper(named: Option<&str>, units: Units) -> Result<Option<Paper>, Trouble> {
    let said = |name: &str, why: BadPaper| Trouble::new(format!("--paper {name}: {}", why.said().in_one_line()));
    named.map(|name| Paper::read(name, units).map_err(|why| said(name, why))).transpose()
}
