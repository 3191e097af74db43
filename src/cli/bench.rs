//! What paper of a piece lies on the bench, by the records of its prints: of all that lie beside its file, those of some of its patterns too.

use super::args::Print;
use super::files::Files;
use super::output::{Target, Trouble};
use super::records::{self, Lying};
use crate::change::{Record, Since};
use crate::finding::{and, quoted};
use crate::job::{Job, Refusal};
use crate::page::Part;
use crate::pattern::Pattern;
use std::path::{Path, PathBuf};

/// The prints of a piece that tell what lies on the bench.
pub struct Bench {
    /// What they say together.
    pub record: Record,
    /// The digests of the records that no other one carries on.
    pub digests: Vec<String>,
    /// Where they lie, what carries others on behind these.
    pub prints: Vec<PathBuf>,
}

impl Bench {
    /// What prints of a piece say together; `None` of none.
    pub fn of(lying: Vec<Lying>) -> Option<Bench> {
        let (told, last): (Vec<&Lying>, Vec<&Lying>) =
            lying.iter().partition(|one| lying.iter().any(|other| one.is_told_by(other)));
        let is_carried_on = |one: &&Lying| last.iter().any(|last| last.record.follows.contains(&one.digest));
        let mut carried: Vec<&Lying> = told.into_iter().filter(is_carried_on).collect();
        carried.sort_by_key(|one| one.record.follows.len());
        let digests = last.iter().map(|one| one.digest.clone()).collect();
        let prints = carried.iter().chain(&last).map(|one| one.pdf.clone()).collect();
        Some(Bench { record: Record::together(last.iter().map(|one| one.record.clone()))?, digests, prints })
    }

    /// What lies beside the print of a whole piece; `None` where nothing of it was printed.
    pub fn beside(whole: &Path, (job, now): (&Job, &[Part]), files: &Files) -> Option<Bench> {
        Bench::of(own(records::beside_whole(whole, files), (job, now)))
    }

    /// The prints against which changes are held, or beside which a new one is laid.
    ///
    /// # Errors
    /// Where changes are asked for and there is no print of the piece, and where one of another piece would be replaced.
    pub fn asked_for(
        asked: &Print,
        (path, whole): (&Path, Result<PathBuf, Trouble>),
        of: (&Job, &[Part]),
        files: &Files,
    ) -> Result<Option<Bench>, Trouble> {
        match &asked.only_changed {
            Some(Some(named)) => {
                let lying = records::read(named, files)?;
                if !is_of(&lying.record, of) {
                    return Err(of_another(named, &lying.record, of.0));
                }
                Ok(Bench::of(vec![lying]))
            }
            Some(None) => {
                let whole = whole?;
                let lying = records::beside_whole(&whole, files);
                let other = lying.last().map(|last| of_another(&last.pdf, &last.record, of.0));
                match Bench::of(own(lying, of)) {
                    Some(bench) => Ok(Some(bench)),
                    None => Err(other.unwrap_or_else(|| none_there(&whole))),
                }
            }
            None => {
                let replaced = replaced(path, asked, of, files)?;
                let mut lying =
                    whole.map_or_else(|_| Vec::new(), |whole| own(records::beside_whole(&whole, files), of));
                lying.extend(replaced.filter(|replaced| !lying.iter().any(|known| known.pdf == replaced.pdf)));
                Ok(Bench::of(lying))
            }
        }
    }

    /// The digests by which a record that is laid somewhere names those that it carries on: not that of the one whose place it takes.
    pub fn digests_but(&self, digest: Option<&str>) -> Vec<String> {
        self.digests.iter().filter(|own| Some(own.as_str()) != digest).cloned().collect()
    }

    /// By their names, in a sentence.
    pub fn named(&self) -> String {
        let names: Vec<String> = self.prints.iter().map(|pdf| pdf.display().to_string()).collect();
        and(&names)
    }

    /// What they are called beside a print that is laid in a place.
    pub fn called(&self, place: Option<&Path>) -> String {
        match self.prints.as_slice() {
            [only] if Some(only.as_path()) == place => "the print whose place this takes".to_owned(),
            [_] => "the older print".to_owned(),
            _ => "the older prints".to_owned(),
        }
    }

    /// By their names without folders, the first and how many more, for a page.
    pub fn named_shortly(&self) -> String {
        let name =
            |pdf: &PathBuf| pdf.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        match self.prints.as_slice() {
            [] => String::new(),
            [one] => name(one),
            [one, other] => format!("{} and {}", name(one), name(other)),
            [first, rest @ ..] => format!("{} and {} later prints", name(first), rest.len()),
        }
    }
}

/// Those prints that are of a piece.
fn own(lying: Vec<Lying>, of: (&Job, &[Part])) -> Vec<Lying> {
    lying.into_iter().filter(|one| is_of(&one.record, of)).collect()
}

/// Whether a print is of a piece: it bears its title, or shows a pattern that the piece has still.
fn is_of(record: &Record, (job, now): (&Job, &[Part])) -> bool {
    let since = Since::of(record, now);
    record.piece.title == job.project().title || now.iter().any(|part| since.is_printed(part))
}

fn of_another(pdf: &Path, record: &Record, job: &Job) -> Trouble {
    Trouble::new(format!(
        "{} is of another piece, {}, and this one is {}: name the print of this one, or print all its sheets",
        pdf.display(),
        quoted(&record.piece.title),
        quoted(&job.project().title)
    ))
}

fn none_there(whole: &Path) -> Trouble {
    Trouble::new(format!(
        "no print of it lies there: {} with its {} is looked for, and prints of some of its patterns; name the print with --only-changed PDF, or \
         print all sheets",
        whole.display(),
        records::beside(whole).display()
    ))
}

/// The record of the print whose place a new one takes.
///
/// # Errors
/// Where that is a print of another piece, unless it may be replaced.
fn replaced(path: &Path, asked: &Print, of: (&Job, &[Part]), files: &Files) -> Result<Option<Lying>, Trouble> {
    let Target::File(pdf) = Target::named(path) else { return Ok(None) };
    let Some(lying) = records::left(&pdf, files) else { return Ok(None) };
    let is_same = is_of(&lying.record, of);
    match is_same || asked.replace.force {
        true => Ok(is_same.then_some(lying)),
        false => Err(Trouble::new(format!(
            "{} is a print of another piece, {}: name another file with -o, or replace it with --force",
            pdf.display(),
            quoted(&lying.record.piece.title)
        ))),
    }
}

/// What of a piece is to be printed, by what lies on the bench: sheets of patterns that lie there otherwise, and of those that do not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ToPrint {
    /// Sheets that show a pattern of which older paper lies there.
    pub again: usize,
    /// All others.
    pub new: usize,
}

impl ToPrint {
    /// What `print --only-changed` prints of a piece.
    ///
    /// # Errors
    /// Where a finding stops the work, or sheets have no room.
    pub fn of(job: &Job, bench: &Bench) -> Result<ToPrint, Refusal> {
        let all: Vec<Pattern> = job.patterns_but(&[], &[])?;
        let now: Vec<Part> = all.iter().map(|pattern| pattern.part.clone()).collect();
        let size = |part: &Part| {
            let pattern = all.iter().find(|pattern| pattern.part.name == part.name)?;
            Some((pattern.bounds.width(), pattern.bounds.height()))
        };
        let printer = &job.project().shop.printer;
        let since = Since::of(&bench.record, &now).printed_true([printer.across.0, printer.up.0], size);
        let left = LeftOut::of(job)?;
        let patterns = all.iter().filter(|one| !left.names().any(|name| *name == one.part.name)).cloned().collect();
        let sheets = job.some_pages(patterns, &|shows| !shows.iter().all(|part| since.is_done(part)))?;
        let is_again =
            |shows: &[Part]| shows.iter().any(|part| !since.is_done(part) && since.was_printed(&part.name));
        let count =
            |again: bool| sheets.iter().filter(|(shows, _)| is_again(shows) == again).map(|(_, count)| count).sum();
        Ok(ToPrint { again: count(true), new: count(false) })
    }
}

/// The names of patterns that are left out unless they are named, by why.
#[derive(Default)]
pub struct LeftOut {
    /// Nothing is to be cut by them: their parts exist and stay as they are.
    pub kept: Vec<String>,
    /// Their parts hang on numbers that are not decided.
    pub held: Vec<String>,
}

impl LeftOut {
    /// Those of a piece.
    ///
    /// # Errors
    /// Where a finding stops the work.
    pub fn of(job: &Job) -> Result<LeftOut, Refusal> {
        let mut left = LeftOut::default();
        for named in job.patterns()? {
            let name = named.pattern.part.name.clone();
            match () {
                () if job.is_kept(named) => left.kept.push(name),
                () if job.is_held_back(named) => left.held.push(name),
                () => {}
            }
        }
        Ok(left)
    }

    /// All of them.
    pub fn names(&self) -> impl Iterator<Item = &String> {
        self.kept.iter().chain(&self.held)
    }
}
