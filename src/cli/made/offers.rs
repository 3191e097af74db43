//! `made --offers`: other numbers under which what is made need not be made again.

use crate::change::{Ask, Change, Elsewhere, Offer, Offers, Outcome, Snapshot, Verdict, Where, offers, wanted};
use crate::cli::args::Input;
use crate::cli::files::{Files, ReadAs};
use crate::cli::keeping;
use crate::cli::load::{ShopFiles, Stopped, reading, say as say_findings};
use crate::cli::output::{counted, harmless, say, typed, typed_word};
use crate::finding::Place;
use crate::job::Job;
use crate::model::path::dotted;
use crate::model::{Kind, Number, Project};
use crate::project::edit::{GivenAs, SIZES, given_as, set_in};
use crate::project::{Reading, Shops, read_in};
use crate::tolerance::JUST;
use crate::units::{Length, Notation, Units};
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::io::Write;
use std::path::Path;
use std::time::{Duration, Instant};

/// After so long it is told how far the search is, and then each time as long again.
const PATIENCE: Duration = Duration::from_secs(1);

/// Runs `made FILE --offers`.
pub fn run(file: &Path, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let input = Input { file: file.to_owned(), variant: None, shop: None, font: Vec::new() };
    let Reading { project, findings, sources } = reading(&input, files)?;
    let Some(project) = project else {
        say_findings(&findings, &sources, err);
        return Err(Stopped::ByFinding);
    };
    let kept = keeping::of(Some(&project), file, files)?;
    let text = String::from_utf8_lossy(&files.bytes(file, ReadAs::Project)?).into_owned();
    let shops = ShopFiles::of(None, files)?;
    let (name, folder) = (file.to_string_lossy(), file.parent().unwrap_or(Path::new("")));
    let drawings = |name: &str| files.drawing(folder, name);
    let read = |text: &str| read_in(&name, text.as_bytes(), shops.shops(), None, &drawings).project;
    let written = Written {
        file,
        text: &text,
        project: &project,
        shops: shops.shops(),
        read: &read,
        ways: RefCell::new(BTreeMap::new()),
    };
    let as_set = |changes: &[Change]| {
        let words: Vec<String> = changes.iter().map(|change| written.assignment(change)).collect();
        written.with(&words)
    };
    let job = Job::new(project.clone());
    if job.piece().is_err() {
        say_findings(&[findings, job.cured_piece_findings().to_vec()].concat(), &sources, err);
        return Err(Stopped::ByFinding);
    }
    let now = Snapshot::of(&job)?;
    let asked = wanted(&project, &now.numbers, &kept, &text);
    let free = project.free_numbers();
    let is_asked = |number: &Number| asked.iter().any(|one| one.pointer == number.place.pointer);
    let is_free = |number: &Number| free.contains(number) && !is_asked(number);
    let (began, told, err) = (Instant::now(), Cell::new(PATIENCE), RefCell::new(err));
    let tick = |solutions: usize| {
        if began.elapsed() > told.get() {
            told.set(began.elapsed() + PATIENCE);
            // That the terminal is gone is found where the answer is written.
            let _ =
                writeln!(err.borrow_mut(), "still searching: the piece was solved {}", counted(solutions, "time"));
        }
    };
    let found = offers(&job, (&kept, &now), Ask { is_free: &is_free, as_set: &as_set, tick: &tick });
    let mut held: Vec<String> = Vec::new();
    for one in &asked {
        let path = match &one.given {
            GivenAs::Size(size) => dotted(&[SIZES.to_owned(), size.clone()]),
            GivenAs::Itself | GivenAs::WorkedOut(_) => {
                dotted(&Place::pointer(&one.pointer).steps().collect::<Vec<String>>())
            }
        };
        if !held.contains(&path) {
            held.push(path);
        }
    }
    Ok(say(out, harmless(&written.answer(&found, &held)).as_bytes())?)
}

/// A file as it is written, in which offers are set.
struct Written<'a> {
    file: &'a Path,
    text: &'a str,
    project: &'a Project,
    shops: Shops<'a>,
    read: &'a dyn Fn(&str) -> Option<Project>,
    /// What is set of the numbers that were asked for so far, by their places: decided once for each.
    ways: RefCell<BTreeMap<String, Vec<String>>>,
}

impl Written<'_> {
    /// All that is said.
    fn answer(&self, found: &Offers, held: &[String]) -> String {
        if found.now.all.is_empty() {
            return "Of no part is it known that it is made: there is nothing to keep.\n".to_owned();
        }
        let worst = found.now.all.iter().map(Verdict::outcome).max();
        if worst == Some(Outcome::Keep) {
            return "Every part that is made stays good as the numbers are.\n".to_owned();
        }
        let mut words = String::new();
        if worst == Some(Outcome::Trim) {
            words.push_str(&format!(
            "Every part that is made stays good or can be trimmed as the numbers are; fullsize made {} says how.\n",
            typed(self.file)
        ));
        }
        if !held.is_empty() {
            words.push_str(&format!(
                "Not what it was when a part was made, and therefore left as it is: {}.\n",
                held.join(", ")
            ));
        }
        if found.all.is_empty() && worst > Some(Outcome::Trim) {
            words.push_str(
            "No other numbers were found under which every part that is made stays good or is trimmed: save what is told as it is told \
             there, make it again, or take the change back.\n",
        );
        }
        for (index, offer) in found.all.iter().enumerate() {
            words.push_str(&self.told(index + 1, offer));
        }
        words.push_str(&format!("The piece was solved {} for this.\n", counted(found.solutions, "time")));
        words
    }

    /// An offer: how it is set, what becomes of what is made, what else changes.
    fn told(&self, number: usize, offer: &Offer) -> String {
        let notation = &self.project.notation;
        let set: Vec<String> = offer.changes.iter().map(|change| typed_word(&self.assignment(change))).collect();
        let mut words = format!("\n{number}. fullsize set {} {}\n", typed(self.file), set.join(" "));
        for change in &offer.changes {
            let (to, was) = (value(change, change.to, notation), value(change, change.number.value, notation));
            words.push_str(&format!("   {}: {to} (now {was})\n", change.number.words));
        }
        for finding in &offer.verdicts.findings {
            let said = finding.said(notation);
            let cure = if said.remedy.is_empty() { String::new() } else { format!(": {}", said.remedy) };
            words.push_str(&format!("   {}{cure}\n", said.message));
        }
        for one in &offer.elsewhere {
            words.push_str(&format!("   {}\n", differs(one, notation)));
        }
        for finding in &offer.brings {
            words.push_str(&format!("   check then warns: {}\n", finding.said(notation).message));
        }
        words
    }

    /// A change as `set` takes it.
    fn assignment(&self, change: &Change) -> String {
        let pointer = &change.number.place.pointer;
        let known = self.ways.borrow().get(pointer).cloned();
        let way = known.unwrap_or_else(|| {
            let way = self.way(change);
            self.ways.borrow_mut().insert(pointer.clone(), way.clone());
            way
        });
        format!("{}={}", dotted(&way), value(change, change.to, &self.project.notation))
    }

    /// What is set to change a number: the named size by which it is given, where nothing else follows that; else its field.
    fn way(&self, change: &Change) -> Vec<String> {
        let steps: Vec<String> = change.number.place.steps().collect();
        let GivenAs::Size(size) = given_as(self.text, &steps) else { return steps };
        let of_size = vec![SIZES.to_owned(), size];
        let value = value(change, change.to, &self.project.notation);
        let before = self.project.numbers();
        let Some(then) = self.with(&[format!("{}={value}", dotted(&of_size))]) else { return steps };
        let is_it = |number: &Number| number.place == change.number.place;
        let moves = |then: Vec<Number>| {
            then.len() == before.len()
                && then.iter().zip(&before).all(|(is, was)| is_it(is) || (is.value - was.value).abs() < JUST)
        };
        if moves(then.numbers()) { of_size } else { steps }
    }

    /// The project as it is read with changes; `None` where the file does not take them.
    fn with(&self, words: &[String]) -> Option<Project> {
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let changed = set_in(&self.file.to_string_lossy(), self.text, &words, self.shops).ok()?;
        (self.read)(&changed.text)
    }
}

/// Something that an offer changes beside, in words.
fn differs(one: &Elsewhere, notation: &Notation) -> String {
    let length = |mm: f64| notation.length(Length::from_mm(mm));
    let by = length((one.is - one.was).abs());
    let [more, less] = match one.what {
        Where::Level | Where::KneeRoom => ["higher", "lower"],
        Where::RevealAlong | Where::RevealAcross => ["more", "less"],
        Where::Longest { .. } => ["longer", "shorter"],
    };
    let way = if one.is > one.was { more } else { less };
    let what = match &one.what {
        Where::Level => "the highest of the piece over the floor".to_owned(),
        Where::RevealAlong => "the top beyond the heads of the base, at either end of its length".to_owned(),
        Where::RevealAcross => "the top beyond the heads of the base, at either side of its width".to_owned(),
        Where::KneeRoom => "the room under the aprons".to_owned(),
        Where::Longest { name, .. } => format!("not made yet: {name}, along its longest arris"),
    };
    format!("{what}: {by} {way} ({}, now {})", length(one.is), length(one.was))
}

/// A number as a file takes it: bare where it is of the file's own unit.
fn value(change: &Change, value: f64, notation: &Notation) -> String {
    match change.number.kind {
        Kind::Length if notation.units == Units::Inch => notation.exact(Length::from_mm(value)),
        _ => {
            let rounded = format!("{value:.3}");
            let short = rounded.trim_end_matches('0').trim_end_matches('.');
            if short == "-0" { "0".to_owned() } else { short.to_owned() }
        }
    }
}
