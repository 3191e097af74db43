//! What a change of a file brings: the patterns that move, the sheets to print again, what is doubted and what is found anew.

use super::doubt::{Texts, doubts};
use super::news::Known;
use crate::change::Kept;
use crate::cli::bench::{Bench, ToPrint};
use crate::cli::files::Files;
use crate::cli::keeping;
use crate::cli::load::{self, Mend, Stopped};
use crate::cli::output::{counted, harmless, typed};
use crate::finding::{Finding, Severity, quoted, shortened, stops};
use crate::job::{Job, Moved};
use crate::page::Part;
use crate::pattern::Pattern;
use crate::project::edit::Made;
use crate::project::{Reading, SlipProblem};
use std::io::Write;
use std::path::Path;

/// The most sheets that are counted to say how many are to be printed again.
const SHEETS_COUNTED: usize = 500;

/// So many earlier states of a file are asked for the last of which something could be made.
const STATES_ASKED: usize = 8;

/// A change that was made.
pub(super) struct Change<'a> {
    /// What was changed; nothing where a change was taken back.
    pub(super) made: &'a [Made],
    /// The text before it.
    pub(super) before: &'a str,
    /// The texts before that and earlier changes, the last first.
    pub(super) earlier: &'a [String],
    /// The file, where it has a name.
    pub(super) file: Option<&'a Path>,
    /// What looks for more cures of what stops the work with it.
    pub(super) mend: Mend<'a>,
}

impl Change<'_> {
    /// What is doubted of it.
    fn doubts(&self, before: &Told, now: &Told) -> Vec<String> {
        let Some(job) = &before.job else { return Vec::new() };
        let Some(source) = now.reading.sources.files().first() else { return Vec::new() };
        let texts = Texts { before: self.before, project: job.project(), now: &source.text, earlier: self.earlier };
        doubts(self.made, texts, self.file)
    }

    /// By its fields: `sizes.height=76`.
    fn named(&self) -> String {
        self.made.iter().map(|made| shortened(&made.written)).collect::<Vec<String>>().join(", ")
    }

    /// How it is taken back.
    fn way_back(&self) -> String {
        let is_made = |_: &&Path| !self.made.is_empty();
        let way = |file: &Path| format!("fullsize set {} --undo takes it back.\n", typed(file));
        self.file.filter(is_made).map_or_else(String::new, way)
    }
}

/// A file as read, the job on it, and what is found of both.
pub(super) struct Told {
    pub(super) reading: Reading,
    pub(super) job: Option<Job>,
    /// What becomes of the parts that exist.
    made: Vec<Finding>,
}

impl Told {
    pub(super) fn of(mut reading: Reading, kept: &Kept) -> Told {
        // What a change can hardly mean is told of it by what it took the place of.
        reading.findings.retain(|finding| finding.problem::<SlipProblem>().is_none());
        let mut job = reading.project.take().map(Job::new);
        let made = job.iter_mut().flat_map(|job| {
            job.limit_sheets(SHEETS_COUNTED);
            keeping::told(job, kept)
        });
        let made = made.collect();
        Told { reading, job, made }
    }

    pub(super) fn findings(&self) -> Vec<Finding> {
        let of_job = self.job.iter().flat_map(Job::findings);
        self.reading.findings.iter().chain(of_job).chain(&self.made).cloned().collect()
    }

    /// The entries of parts that exist: their names, what the parts are called, the copies that are meant.
    fn entries(&self) -> Vec<(String, String, Vec<String>)> {
        let Some(job) = &self.job else { return Vec::new() };
        let piece = job.piece().ok().flatten();
        let called = |key: &str| {
            let board = piece.and_then(|piece| piece.boards.iter().find(|board| board.id.as_str() == key));
            board.map_or_else(|| key.to_owned(), |board| board.label.clone())
        };
        let made = job.project().made.iter();
        made.map(|made| (made.name.clone(), called(&made.part), made.only.clone())).collect()
    }

    fn cured_findings(&self) -> Vec<Finding> {
        let of_job = self.job.iter().flat_map(Job::cured_findings);
        self.reading.findings.iter().chain(of_job).chain(&self.made).cloned().collect()
    }

    /// What paper of it lies on the bench, by the prints beside that of the whole piece.
    pub(super) fn bench(&self, whole: &Path, files: &Files) -> Option<Bench> {
        let job = self.job.as_ref()?;
        let all = job.patterns_but(&[], &[]).ok()?;
        let now: Vec<Part> = all.into_iter().map(|pattern| pattern.part).collect();
        Bench::beside(whole, (job, &now), files)
    }

    /// Which patterns change and which stay, and how many sheets are to be printed again; `None` where either cannot be made.
    pub(super) fn moved_from(&self, before: &Told, file: &Path, bench: Option<&Bench>) -> Option<String> {
        let (now, before) = (self.job.as_ref()?, before.job.as_ref()?);
        let moved = now.moved_from(before).ok()?;
        let pages = |job: &Job, patterns: &[&Pattern]| {
            job.to_pages(patterns.iter().map(|pattern| (*pattern).clone()).collect()).ok()
        };
        if moved.changed.is_empty() && moved.gone.is_empty() {
            let words = match pages(now, &moved.kept) == pages(before, &moved.kept) {
                true => "It moves nothing: every pattern stays as it was.\n",
                false => {
                    "Every pattern stays as it was, but lies on other sheets: print all of them again, and tape none of the new \
                     to the old.\n"
                }
            };
            return Some(format!("{words}{}", Told::last_parts(now, before, file)));
        }
        let names =
            |patterns: &[&Pattern]| patterns.iter().map(|p| named(&p.part.name)).collect::<Vec<_>>().join(", ");
        let line = |words: &str, names: String| match names.is_empty() {
            true => String::new(),
            false => format!("{words}: {names}.\n"),
        };
        let gone: Vec<String> = moved.gone.iter().map(|name| named(name)).collect();
        let mut words = line("Patterns that change", names(&moved.changed));
        words.push_str(&line("Patterns that stay", names(&moved.kept)));
        words.push_str(&line("Patterns that are no more", gone.join(", ")));
        words.push_str(&match bench {
            Some(bench) => by_bench(now, bench, file),
            None => by_the_change(now, &moved, file),
        });
        words.push_str(&Told::last_parts(now, before, file));
        Some(words)
    }

    /// What moved since the last earlier state of which something could be made, the latest first, where nothing could of the file just
    /// before; or that there is none.
    pub(super) fn moved_since_a_piece(
        &self,
        earlier: impl Iterator<Item = Told>,
        file: &Path,
        bench: Option<&Bench>,
    ) -> String {
        if self.job.as_ref().is_none_or(Job::stops) {
            return String::new();
        }
        let mut moved = earlier
            .take(STATES_ASKED)
            .enumerate()
            .filter_map(|(at, stood)| Some((at + 2, self.moved_from(&stood, file, bench)?)));
        match moved.next() {
            Some((ago, words)) => format!(
                "Of the file as it stood before nothing could be made. Held against it as it stood {ago} changes ago:\n{words}"
            ),
            None => "Which patterns change is not told: of the file as it stood before nothing could be made.\n"
                .to_owned(),
        }
    }

    /// That the parts which as-built makes hang on what changed, where other readings stand in the file now.
    fn last_parts(now: &Job, before: &Job, file: &Path) -> String {
        match now.project().as_built == before.project().as_built {
            true => String::new(),
            false => format!(
                "The last parts of the piece as it stands hang on what was read: fullsize as-built {} tells them anew, and sheets \
                 that it drew before are void.\n",
                typed(file)
            ),
        }
    }
}

/// How many sheets a change makes others, where nothing of the piece is known to be printed, and the command that prints it.
fn by_the_change(now: &Job, moved: &Moved, file: &Path) -> String {
    let is_changed = |part: &Part| moved.changed.iter().any(|one| one.part == *part);
    let all = now.patterns_but(&[], &[]).and_then(|all| now.some_pages(all, &|shows| shows.iter().any(is_changed)));
    let sheets: usize = all.unwrap_or_default().iter().map(|(_, sheets)| sheets).sum();
    match sheets {
        0 => String::new(),
        sheets => format!("To print again: {} (fullsize print {}).\n", counted(sheets, "sheet"), typed(file)),
    }
}

/// What is to be printed by the paper that lies there, and the command that does.
fn by_bench(now: &Job, bench: &Bench, file: &Path) -> String {
    let Ok(ToPrint { again, new }) = ToPrint::of(now, bench) else { return String::new() };
    let (prints, file) = (bench.named(), typed(file));
    let command = format!("fullsize print {file} --only-changed");
    match (again, new) {
        (0, 0) => format!("Nothing is to be printed again, by what was printed ({prints}).\n"),
        (again, 0) => {
            format!("To print again: {}, by what was printed ({prints}): {command}\n", counted(again, "sheet"))
        }
        (0, new) => format!(
            "Nothing is to be printed again, by what was printed ({prints}); {} of it never {}: {command}\n",
            counted(new, "sheet"),
            if new == 1 { "was" } else { "were" },
        ),
        (again, new) => format!(
            "To print again: {}, by what was printed ({prints}), and {} that never {}: {command}\n",
            counted(again, "sheet"),
            counted(new, "sheet"),
            if new == 1 { "was" } else { "were" },
        ),
    }
}

/// A name in a list of names.
fn named(name: &str) -> String {
    if name.contains(',') { quoted(name) } else { name.to_owned() }
}

/// After a change that leaves a piece which cannot be made, says why: the number may be one of two that go together, so that it
/// is not refused. Else says what it warns of now and did not before, and that the rest is as it was. What can hardly be meant is told
/// before all of that: it is the likeliest cause.
///
/// # Errors
/// Where something stops the work that nothing stopped before; it has been said.
pub(super) fn tell_what_it_brings(
    before: &Told,
    now: &Told,
    change: &Change,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let (known, found) = (Known::of(before.findings(), change.made, now.entries()), now.findings());
    let (stopped, was_stopped) = (stops(&found), stops(&known.findings));
    let news_of = |finding: &Finding| match stopped {
        true => (finding.severity == Severity::Stop).then(|| finding.clone()),
        false => known.news_of(finding),
    };
    let doubts = change.doubts(before, now);
    let is_told = found.iter().any(|finding| news_of(finding).is_some());
    let words = brought_words(change, &doubts, (is_told, stopped && !was_stopped, stopped));
    // Where not even standard error can be written there is no one left to tell.
    let _ = err.write_all(harmless(&words).as_bytes());
    let notation = now.reading.sources.notation();
    if is_told && stopped && !doubts.is_empty() {
        // Beside a wrong unit no other number is to blame, and none is a cure.
        let lines = found.iter().filter_map(news_of);
        let lines = lines.map(|finding| format!("  {}\n", finding.said(&notation).message));
        let _ = err.write_all(harmless(&lines.collect::<String>()).as_bytes());
    } else if is_told {
        // Cures are searched only where something is told.
        let mut news: Vec<Finding> = now.cured_findings().iter().filter_map(news_of).collect();
        (change.mend)(&mut news, &now.reading.sources);
        load::say(&news, &now.reading.sources, err);
    }
    let line = |finding: &Finding| format!("  {}: {}\n", finding.severity.name(), finding.said(&notation).message);
    let old = if stopped { String::new() } else { known.as_before(&found, line, change.file) };
    if !old.is_empty() {
        let _ = writeln!(err, "As before:\n{}", harmless(&old));
    }
    if stopped && !was_stopped { Err(Stopped::ByFinding) } else { Ok(()) }
}

/// What is said of a change before what is found: that by it nothing can be made any more, what of it can hardly be meant, and the way back.
fn brought_words(change: &Change, doubts: &[String], (is_told, by_it, stopped): (bool, bool, bool)) -> String {
    let mut words = match by_it && !change.made.is_empty() {
        true => format!("With {} nothing can be made any more.\n", change.named()),
        false => String::new(),
    };
    words.extend(doubts.iter().map(String::as_str));
    if !words.is_empty() {
        words.push_str(&change.way_back());
    }
    let heading = match (is_told, stopped) {
        (false, _) => return words,
        (true, true) if by_it && !words.is_empty() => "What stops it:",
        (true, true) => "With it nothing can be made yet:",
        (true, false) => "With it there is more to mind:",
    };
    if !words.is_empty() {
        words.push('\n');
    }
    format!("{words}{heading}\n\n")
}

/// Whether two findings tell of a part that exists what is not the same to be done to it.
fn is_verdict(one: &Finding, other: &Finding) -> bool {
    one.place.steps().next().as_deref() == Some("made") && one != other
}

/// Whether two findings tell one thing, by how much ever.
pub(super) fn is_same(one: &Finding, other: &Finding) -> bool {
    one.code == other.code && one.place.pointer == other.place.pointer && !is_verdict(one, other)
}
