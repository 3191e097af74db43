//! `new`: a few plain questions, then a file that is pleasant to read.

mod answered;
pub mod brought;
pub mod picture;
pub mod slip;
mod starters;
mod talk;
mod trial;

use super::args::{New, UnitsChoice};
use super::ask::{Answers, MANNERS, converse};
use super::files::{Files, Form, Output, Preview, Product};
use super::load::{ShopFiles, Stopped, own_shop_words, own_units};
use super::output::{Target, Trouble, harmless, keeps_promise, plain, program, say, typed, typed_word};
use crate::finding::{Finding, Severity, nearest, stops};
use crate::job::Job;
use crate::project::{Reading, Sources, no_drawings, read_in};
use crate::units::Units;
use answered::{Answered, UNITS};
use picture::{picture_name, sizes_picture};
use starters::{Question, STARTERS, Starter, Wanted};
use std::io::{self, BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};
use talk::Talk;
pub use talk::papers;

/// Runs `new`.
pub fn run(asked: &New, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    match (&asked.from, io::stdin().is_terminal()) {
        (Some(kind), _) => write_starter(asked, named(kind)?, files, out, err),
        // Answers that are piped would be lost, and another piece written than was meant.
        (None, false) => Err(Trouble::new(format!(
            "new asks its questions at a terminal, and this is none: nothing was read or written. --from KIND writes a file without asking; \
             there are {}",
            kinds().collect::<Vec<_>>().join(", ")
        ))
        .into()),
        (None, true) => interview(asked, &mut io::stdin().lock(), files, out, err),
    }
}

/// Every kind by its name.
fn kinds() -> impl Iterator<Item = &'static str> {
    STARTERS.iter().map(|starter| starter.kind)
}

/// The starter of a kind.
fn named(kind: &str) -> Result<&'static Starter, Trouble> {
    STARTERS.into_iter().find(|starter| starter.kind == kind).ok_or_else(|| {
        // A word of what it is will do as well: `stool`.
        let words = || STARTERS.iter().flat_map(|one| one.title.split_whitespace().map(|word| (word, one.kind)));
        let near = nearest(kind, kinds()).or_else(|| {
            let word = nearest(kind, words().map(|(word, _)| word))?;
            let mut of = words().filter(|(other, _)| *other == word).map(|(_, kind)| kind);
            of.next().filter(|_| of.next().is_none())
        });
        let cure = match near {
            Some(name) => format!("did you mean {name}?"),
            None => format!("there are {}", kinds().collect::<Vec<_>>().join(", ")),
        };
        Trouble::new(format!("--from {kind}: no such starter; {cure}"))
    })
}

/// Writes the file and its picture without asking.
fn write_starter(
    asked: &New,
    starter: &'static Starter,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let mut answers = Answers::default();
    let own_shop = OwnShop::of(files)?;
    let units = asked.units.map_or(own_shop.units.unwrap_or(Units::Mm), UnitsChoice::units);
    answers.keep(UNITS, if units == Units::Inch { "in" } else { "mm" }.to_owned());
    let answered = Answered { starter, answers: &answers, proposed: &Answers::default(), units };
    let name = asked.file.clone().unwrap_or_else(|| PathBuf::from(starter.kind));
    let file = writable(&name, asked, files)?;
    // Nothing was answered that could be lost: what stands in the way is cleared first.
    files.may_write(&picture_name(&file), Product::Sizes, &asked.replace)?;
    let shops = ShopFiles::of(None, files)?;
    let job = checked(answered, (own_shop.paper, &shops), files, err)?.ok_or(Stopped::ByFinding)?;
    finish(answered, &file, job, (asked, files), out)
}

/// What the person's own shop file says that a piece need not be asked.
#[derive(Debug, Clone, Copy, Default)]
struct OwnShop {
    /// Whether it says which paper there is.
    paper: bool,
    /// The units of the person's rule.
    units: Option<Units>,
}

impl OwnShop {
    fn of(files: &Files) -> Result<OwnShop, Trouble> {
        let bytes = files.own_shop_bytes()?.unwrap_or_default();
        let shop: Option<serde_json::Value> = serde_json::from_slice(&bytes).ok();
        let paper = shop.is_some_and(|shop| shop.get("paper").is_some());
        Ok(OwnShop { paper, units: own_units(files)? })
    }
}

/// Asks the questions at a terminal.
fn interview(
    asked: &New,
    input: &mut dyn BufRead,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    if let Some(file) = &asked.file {
        // Told before anything is asked.
        writable(file, asked, files)?;
    }
    let (mut talk, mut answers) = (Talk::new(asked, files)?, Answers::default());
    say(out, format!("A few questions. {MANNERS}\n").as_bytes())?;
    let mut refused: Option<String> = None;
    loop {
        if !converse(&mut talk, &mut answers, input, out)? {
            return Err(Trouble::new("stopped; nothing was written").into());
        }
        let Some(starter) = talk::starter(&answers) else { continue };
        let proposed = talk.proposed.clone();
        let answered = Answered { starter, answers: &answers, proposed: &proposed, units: talk::units(&answers) };
        if let Some(job) = checked(answered, (talk.own_shop.paper, &talk.shops), files, err)? {
            let file = free_name(asked, &answered, files)?;
            finish(answered, &file, job, (asked, files), out)?;
            talk.preview.into_iter().for_each(|(_, preview): (PathBuf, Preview)| preview.keep());
            return Ok(());
        }
        let text = answered.text(talk.own_shop.paper);
        if refused.as_ref() == Some(&text) {
            // Looked at again and meant: nothing that was answered is lost, and set and check know the rest.
            let file = free_name(asked, &answered, files)?;
            return unfinished(&file, text, (asked, files), out);
        }
        refused = Some(text);
        say(
            out,
            b"That stands in the way of a piece; please look at the answers again: Enter keeps one as it is. Where all stay as they are, \
              they are written down, and no answer is lost.\n",
        )?;
    }
}

/// Writes the answers of which nothing can be made yet, and says how to go on.
fn unfinished(file: &Path, text: String, (asked, files): (&New, &Files), out: &mut dyn Write) -> Result<(), Stopped> {
    let (target, product) = (Target::File(file.to_owned()), Product::Project);
    let project = Output { target, product, form: Form::Json, bytes: text.into_bytes() };
    let written = files.write(vec![project], &asked.replace, out)?;
    let (name, program) = (typed(file), program());
    let words = format!(
        "Wrote {} as you answered, of which nothing can be made yet.\nNext:\n  {program} check {name}      what stands in the way, and what \
         would cure it\n  {program} set {name}      what can be changed\n",
        file.display(),
    );
    written.say(&harmless(&words), out)?;
    Err(Stopped::ByFinding)
}

/// A file as it would be written, and what is found in it.
struct Drafted {
    text: String,
    /// The job on it, whether or not something stops the work.
    job: Option<Job>,
    /// What is found in reading it.
    read: Vec<Finding>,
    /// What is found, cures not searched.
    findings: Vec<Finding>,
    sources: Sources,
}

impl Drafted {
    /// What is found, with what cures it.
    fn cured_findings(&self) -> Vec<Finding> {
        self.read.iter().chain(self.job.iter().flat_map(Job::cured_findings)).cloned().collect()
    }

    /// The job, where nothing stops the work.
    fn whole(&self) -> Option<&Job> {
        self.job.as_ref().filter(|_| !stops(&self.findings))
    }
}

/// The file that answers make, read.
fn drafted(answered: Answered, own_paper: bool, shops: &ShopFiles) -> Drafted {
    let text = answered.text(own_paper);
    let Reading { project, findings: read, sources } =
        read_in("the new file", text.as_bytes(), shops.shops(), None, &no_drawings);
    let job = project.map(Job::new);
    let findings = read.iter().chain(job.iter().flat_map(Job::findings)).cloned().collect();
    Drafted { text, job, read, findings, sources }
}

/// The job on the file where nothing is wrong with it; what is wrong is said.
fn checked(
    answered: Answered,
    (own_paper, shops): (bool, &ShopFiles),
    files: &Files,
    err: &mut dyn Write,
) -> Result<Option<(String, Job)>, Stopped> {
    let drafted = drafted(answered, own_paper, shops);
    let _ = err.write_all(own_shop_words(&drafted.sources, files).as_bytes());
    // The file is not written yet: its lines would tell the person nothing. Cures are searched only where something is told.
    let is_told = |finding: &Finding| finding.severity != Severity::Note;
    let told = if drafted.findings.iter().any(is_told) { drafted.cured_findings() } else { Vec::new() };
    for finding in told.iter().filter(|finding| is_told(finding)) {
        let words = format!("{}\n", finding.said(&drafted.sources.notation()).in_one_line());
        // Where not even standard error can be written there is no one left to tell.
        let _ = err.write_all(harmless(&words).as_bytes());
    }
    let is_whole = drafted.whole().is_some();
    Ok(drafted.job.filter(|_| is_whole).map(|job| (drafted.text, job)))
}

/// Writes the file and its picture and says what to do next.
fn finish(
    answered: Answered,
    file: &Path,
    (text, job): (String, Job),
    (asked, files): (&New, &Files),
    out: &mut dyn Write,
) -> Result<(), Stopped> {
    let picture = picture_name(file);
    let (target, product) = (Target::File(file.to_owned()), Product::Project);
    let picture_of_it = sizes_picture(answered.starter, (&text, &job), &ShopFiles::of(None, files)?, &picture)?;
    let project = Output { target, product, form: Form::Json, bytes: text.into_bytes() };
    // A picture can be had later; what was answered cannot.
    let in_the_way = files.may_write(&picture, Product::Sizes, &asked.replace).err();
    let outputs = match in_the_way {
        None => vec![project, picture_of_it],
        Some(_) => vec![project],
    };
    let written = files.write(outputs, &asked.replace, out)?;
    let beside = match in_the_way {
        None => format!(", and {} with what each size means.", picture.display()),
        Some(why) => format!(". No picture of its sizes was drawn: {why}"),
    };
    let value = |question: &Question| {
        let value = answered.value(question.name);
        format!("{}={}", question.name, typed_word(&value))
    };
    let first = answered.questions().find(|question| question.wanted == Wanted::Length).map(value);
    let (name, program) = (typed(file), program());
    let words = format!(
        "Wrote {}{beside}\nNext:\n  {program} check {name}      what is to be minded of it\n  \
         {program} proof {name}      one sheet to try the printer with\n  {program} print {name}      the patterns\n  {program} set {name} \
         sizes.{}      change one number\n",
        file.display(),
        first.unwrap_or_default(),
    );
    Ok(written.say(&harmless(&words), out)?)
}

/// The file of a piece: the one that is named, or one named after it that is not there yet.
fn free_name(asked: &New, answered: &Answered, files: &Files) -> Result<PathBuf, Trouble> {
    if let Some(file) = &asked.file {
        // What has come into its place since it was named is left alone, and the answers are written beside it.
        let beside = |_: &Trouble| numbered(&file.with_extension("").to_string_lossy()).find(|path| is_free(path));
        return writable(file, asked, files)
            .or_else(|trouble| writable(&beside(&trouble).ok_or(trouble)?, asked, files));
    }
    let words = plain(&answered.title().to_lowercase());
    let words: Vec<&str> = words.split('-').filter(|word| !word.is_empty()).collect();
    let name = if words.is_empty() { answered.starter.kind.to_owned() } else { words.join("-") };
    let name: String = name.chars().take(LONGEST_NAME).collect();
    let mut names = std::iter::once(PathBuf::from(format!("{name}.json"))).chain(numbered(&name));
    let free = names
        .find(|path| asked.replace.force || is_free(path))
        .unwrap_or_else(|| PathBuf::from(answered.starter.kind));
    writable(&free, asked, files)
}

/// Names that are taken in the place of one that is not free.
fn numbered(name: &str) -> impl Iterator<Item = PathBuf> + use<'_> {
    (2..).map(move |number| PathBuf::from(format!("{name}-{number}.json")))
}

fn is_free(path: &Path) -> bool {
    path.symlink_metadata().is_err()
}

/// The longest name that a file is given of its own, in characters.
const LONGEST_NAME: usize = 60;

/// A file that may be written.
fn writable(file: &Path, asked: &New, files: &Files) -> Result<PathBuf, Trouble> {
    let file = if file.extension().is_none() { file.with_extension("json") } else { file.to_path_buf() };
    keeps_promise(&file, &["json"])?;
    files.may_write(&file, Product::Project, &asked.replace)?;
    Ok(file)
}
