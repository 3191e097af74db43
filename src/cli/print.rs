//! `print`: sheets that tape up true.

use super::args::{Format, Print, Selection};
use super::bench::{Bench, LeftOut};
use super::files::{Files, Form, Output, Product};
use super::load::{Loaded, Stopped, load, paper, printer_words};
use super::older_print::{self, Instead};
use super::output::{
    Target, Trouble, counted, harmless, held_words as held_back_words, left_out as left_out_words, output_file,
    pretty, say, sheets_bytes, sheets_told, typed,
};
use super::records::{self, Lying};
use crate::change::{Record, Since};
use crate::finding::quoted;
use crate::job::{Job, PaperCount, Sheets};
use crate::layout::Cross;
use crate::page::Part;
use crate::pattern::Pattern;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::Write;
use std::path::Path;

/// Runs `print`.
pub fn run(asked: &Print, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let mut loaded = load(&asked.input, files, err)?;
    if let Some(paper) = paper(asked.paper.as_deref(), loaded.job.project().notation.units)? {
        loaded.job.set_paper(paper);
    }
    loaded.job.limit_sheets(asked.limit.sheets);
    let job = &loaded.job;
    let chosen = Chosen::of(asked, &loaded)?;
    let (patterns, left) = to_print(&loaded, &chosen.selection)?;
    let plain: Vec<String> =
        patterns.iter().filter(|one| one.is_plain_rectangle()).map(|one| one.part.name.clone()).collect();
    let project = job.project();
    let ending = if chosen.only_changed { records::CHANGED.to_owned() } else { chosen.selection.ending("pdf") };
    let mut path = output_file((&asked.input, files), &project.variants, asked.out.as_deref(), &ending, &["pdf"])?;
    // Paper of what is made and good is as good as that; nobody cuts by paper of what waits for a number.
    let mut all = job.patterns_but(&[], &[])?;
    all.retain(|one| !left.held.contains(&one.part.name));
    let sizes: BTreeMap<String, (f64, f64)> =
        all.iter().map(|one| (one.part.name.clone(), (one.bounds.width(), one.bounds.height()))).collect();
    let now: Vec<Part> = all.into_iter().map(|pattern| pattern.part).collect();
    let whole = output_file((&asked.input, files), &project.variants, None, "pdf", &["pdf"]);
    if let (true, None, Ok(whole)) = (chosen.only_changed, &asked.out, &whole) {
        path = records::next_changed(whole)?;
    }
    let place = Place::of(&path, whole.as_deref().ok(), files);
    let held = held_words(asked, whole.as_deref().ok(), files);
    let bench = Bench::asked_for(asked, (&path, whole), (job, &now), files)?;
    let printer = [project.shop.printer.across.0, project.shop.printer.up.0];
    let size = |part: &Part| sizes.get(&part.name).copied();
    let since = bench
        .as_ref()
        .map(|bench| Since::of(&bench.record, &now).taking_as_right(&chosen.left_behind).printed_true(printer, size));
    if patterns.is_empty() {
        return Ok(say(out, harmless(&format!("Nothing is to be printed.\n{}", left.words())).as_bytes())?);
    }
    let changes = since.as_ref().filter(|_| chosen.only_changed);
    let mut sheets = laid(job, patterns, changes)?;
    let told = Told { bench: bench.as_ref(), since: since.as_ref(), left: &left, only_changed: chosen.only_changed };
    if let (true, Some(bench)) = (chosen.only_changed, &bench) {
        sheets.tell_on_first(&of_changes(bench));
    }
    let first = told.first((printer, &path), &sheets, job)?;
    let on_bench = format!("{held}{}", told.on_bench(&path, &now, &sheets));
    if sheets.patterns.is_empty() {
        let words = format!("{first}Nothing is to be printed again.\n{}{on_bench}", left.words());
        return Ok(say(out, harmless(&words).as_bytes())?);
    }
    let more = format!("{}{}{}{on_bench}", left.words(), plain_ones(&sheets, &plain), effort(&sheets));
    if asked.dry_run {
        return Ok(say(out, harmless(&format!("{first}{}\n{more}", count(&sheets))).as_bytes())?);
    }
    let list = path.with_extension("sheets.json");
    let is_older_list = asked.format != Format::Json && files.is_left(&list, Product::SheetList);
    // What of older prints stays on the bench beside some patterns printed anew is known further.
    let stays = bench.as_ref().zip(since.as_ref()).filter(|_| chosen.only_changed || !chosen.selection.is_all());
    let record = |printed: Record| {
        let printed = Record {
            whole: place.whole.clone(),
            left_out: chosen.without.clone(),
            replaces: if stays.is_none() { place.others.clone() } else { Vec::new() },
            ..printed
        };
        match stays {
            Some((bench, since)) => since.followed_by(printed, &bench.digests_but(place.own.as_deref())),
            None => printed,
        }
    };
    let written = files.write(outputs(asked, &path, &loaded, &sheets, record)?, &asked.replace, out)?;
    let words = match Target::named(&path) {
        Target::Stdout => String::new(),
        Target::File(_) => {
            let words = summary(&sheets, is_older_list.then_some(list.as_path()));
            let input = (Some(asked.input.file.as_path()), asked.input.shop.as_deref());
            let next = match chosen.only_changed && place.whole.is_none() {
                true => format!("After the next change name this print: --only-changed {}\n", typed(&path)),
                false => String::new(),
            };
            format!("{first}{words}{}{more}{next}", printer_words(project, input, files))
        }
    };
    Ok(written.tell("", &words, out)?)
}

/// What is asked for.
struct Chosen {
    only_changed: bool,
    /// Which patterns are laid: of what changed all are, as in a whole print, so that those that share a sheet share it still.
    selection: Selection,
    /// Which of them are left behind all the same.
    left_behind: Vec<String>,
    /// Patterns that nobody wants printed.
    without: Vec<String>,
}

impl Chosen {
    fn of(asked: &Print, loaded: &Loaded) -> Result<Chosen, Stopped> {
        let only_changed = asked.only_changed.is_some();
        let names = |patterns: Vec<Pattern>| patterns.into_iter().map(|one| one.part.name).collect::<Vec<String>>();
        let wanted = names(loaded.patterns(&asked.selection)?);
        let all = if asked.selection.is_all() { wanted.clone() } else { names(loaded.job.patterns_but(&[], &[])?) };
        let others: Vec<String> = all.into_iter().filter(|name| !wanted.contains(name)).collect();
        let is_named = !asked.selection.pattern.is_empty();
        Ok(Chosen {
            only_changed,
            selection: if only_changed { Selection::default() } else { asked.selection.clone() },
            left_behind: if only_changed { others.clone() } else { Vec::new() },
            without: if is_named { Vec::new() } else { others },
        })
    }
}

/// Where a record goes, among the others of its piece.
struct Place {
    /// The name of the PDF of the whole piece beside which it lies; `None` where it is looked for nowhere.
    whole: Option<String>,
    /// The digest of the record whose place it takes.
    own: Option<String>,
    /// The digests of the others.
    others: Vec<String>,
}

impl Place {
    fn of(path: &Path, whole: Option<&Path>, files: &Files) -> Place {
        let beside = whole.filter(|whole| whole.parent() == path.parent() && Target::named(path) != Target::Stdout);
        let (own, others): (Vec<Lying>, Vec<Lying>) = beside
            .map_or_else(Vec::new, |whole| records::beside_whole(whole, files))
            .into_iter()
            .partition(|lying| lying.pdf == path);
        Place {
            whole: beside.and_then(|whole| Some(whole.file_name()?.to_string_lossy().into_owned())),
            own: own.into_iter().map(|lying| lying.digest).next(),
            others: others.into_iter().map(|lying| lying.digest).collect(),
        }
    }
}

/// What is told of the paper that lies there.
struct Told<'a> {
    bench: Option<&'a Bench>,
    since: Option<&'a Since<'a>>,
    left: &'a LeftOut,
    only_changed: bool,
}

impl Told<'_> {
    /// What is to be known first: that the printer is corrected otherwise since, and that old and new sheets do not go together.
    fn first(&self, (printer, path): ([f64; 2], &Path), sheets: &Sheets, job: &Job) -> Result<String, Stopped> {
        let Some((bench, since)) = self.bench.zip(self.since) else { return Ok(String::new()) };
        Ok(match self.only_changed {
            true => older_print::otherwise_corrected(since, printer, job.project()),
            false => {
                older_print::untaped((since, &bench.called(Some(path))), &Record::of(job, sheets)?, job.project())
            }
        })
    }

    /// Which prints the changes are held against, what is void, what stays good, what is printed for the first time, what is left out.
    fn on_bench(&self, path: &Path, now: &[Part], sheets: &Sheets) -> String {
        let Some((bench, since)) = self.bench.zip(self.since) else { return String::new() };
        let left_out: Vec<String> = self.left.names().cloned().collect();
        let shown = |part: &Part| sheets.shows.iter().flatten().any(|one| one.name == part.name);
        let instead = |void: &Part| match () {
            () if left_out.contains(&void.name) => Instead::LeftOut,
            () if !shown(void) && now.iter().any(|one| one.name == void.name) => Instead::NotHere,
            () => Instead::Printed,
        };
        let before = older_print::void_before(since);
        if !self.only_changed {
            return before + &older_print::void(since, &bench.called(Some(path)), &instead);
        }
        let new: Vec<&Part> = sheets.shows.iter().flatten().filter(|part| !since.was_printed(&part.name)).collect();
        let unwanted: Vec<String> =
            now.iter().filter(|part| since.is_left_out(part)).map(|part| part.name.clone()).collect();
        format!(
            "{}{}{before}Held against {}.\n{}",
            older_print::first_time(&new),
            left_out_words("Left out of an earlier print", &unwanted),
            bench.named(),
            older_print::left(since, &bench.called(None), &instead)
        )
    }
}

/// That a later print than the one that is named tells more.
fn held_words(asked: &Print, whole: Option<&Path>, files: &Files) -> String {
    let named = asked.only_changed.as_ref().and_then(|named| named.as_deref());
    let older = named.and_then(|named| records::read(named, files).ok());
    let later = older.zip(whole).and_then(|(older, whole)| records::later_than(&older, whole, files));
    later.map_or_else(String::new, |later| older_print::told_by_later(&later))
}

impl LeftOut {
    /// Which patterns are left out, and how they are printed all the same.
    fn words(&self) -> String {
        left_out_words("Made already and good as they are", &self.kept) + &held_back_words(&self.held)
    }
}

/// The patterns that are asked for, and the names of those that are left out unless they are named.
fn to_print(loaded: &Loaded, selection: &Selection) -> Result<(Vec<Pattern>, LeftOut), Stopped> {
    let mut patterns = loaded.patterns(selection)?;
    if !selection.pattern.is_empty() {
        return Ok((patterns, LeftOut::default()));
    }
    let all = LeftOut::of(&loaded.job)?;
    let asked: Vec<String> = patterns.iter().map(|one| one.part.name.clone()).collect();
    let own = |names: Vec<String>| names.into_iter().filter(|name| asked.contains(name)).collect();
    let left = LeftOut { kept: own(all.kept), held: own(all.held) };
    patterns.retain(|one| !left.names().any(|name| *name == one.part.name));
    Ok((patterns, left))
}

/// Patterns on sheets, those alone that changed since older prints, where these are asked for.
fn laid<'job>(job: &'job Job, patterns: Vec<Pattern>, since: Option<&Since>) -> Result<Sheets<'job>, Stopped> {
    let Some(since) = since else { return Ok(job.sheets(patterns)?) };
    Ok(job.some_sheets(patterns, &|shows| !shows.iter().all(|part| since.is_done(part)))?)
}

/// What a print of changes says of itself on its first page.
fn of_changes(bench: &Bench) -> String {
    let those = if bench.prints.len() == 1 { "that print" } else { "those prints" };
    format!("Only what changed since {}: what is good of {those} goes with these sheets.", bench.named_shortly())
}

/// The PDF, its record beside it, and the list of its sheets where that is asked for.
fn outputs(
    asked: &Print,
    path: &Path,
    loaded: &Loaded,
    sheets: &Sheets,
    record: impl Fn(Record) -> Record,
) -> Result<Vec<Output>, Stopped> {
    let target = Target::named(path);
    let bytes = sheets_bytes(sheets, loaded.lettering.as_ref())?;
    let mut outputs = vec![Output { target: target.clone(), product: Product::Sheets, form: Form::Pdf, bytes }];
    if asked.format == Format::Json {
        if target == Target::Stdout {
            return Err(Trouble::new("--format json writes a second file: name the PDF with -o").into());
        }
        let target = Target::File(path.with_extension("sheets.json"));
        let bytes = pretty(&manifest_json(sheets, &loaded.job.project().title));
        outputs.push(Output { target, product: Product::SheetList, form: Form::Json, bytes });
    }
    if records::stands_beside(&target) {
        outputs.push(records::output(path, &record(Record::of(&loaded.job, sheets)?)));
    }
    Ok(outputs)
}

/// What was printed and what to do first; and that the list of an older print's sheets stands beside it.
fn summary(sheets: &Sheets, older: Option<&Path>) -> String {
    let older = older.map_or_else(String::new, |list| {
        format!("{} is the list of an older print's sheets: --format json writes it anew.\n", list.display())
    });
    let elsewhere = if sheets.pictured { "" } else { "No map page has room for the piece: show draws it.\n" };
    let count = count(sheets);
    format!(
        "{count} Print page 1 first, at 100 % (\"actual size\"), and lay a steel rule on its bars.\n{elsewhere}{older}"
    )
}

/// How many pages there are, in a sentence.
fn count(sheets: &Sheets) -> String {
    format!(
        "{} of patterns, after {} of instructions and maps.",
        sheets_told(sheets.counts()),
        counted(sheets.manifest.map_pages, "page"),
    )
}

/// What a page takes to print, and a seam to cut, lay on its crosses and tape, minutes: guesses of ours for a household printer
/// and a steady hand.
const MINUTES: (f64, f64) = (0.25, 1.5);

/// Minutes are told in steps of so many: no more is known.
const MINUTES_STEP: f64 = 5.0;

/// Seams, and a guess of what pages and seams take.
fn effort(sheets: &Sheets) -> String {
    let PaperCount { printed, seams, .. } = sheets.counts();
    let pages = sheets.manifest.map_pages + printed;
    let minutes = MINUTES.0 * pages as f64 + MINUTES.1 * seams as f64;
    let minutes = (minutes / MINUTES_STEP).ceil() * MINUTES_STEP;
    let taped = match seams {
        0 => "Nothing to tape".to_owned(),
        seams => format!("{} to cut and tape", counted(seams, "seam")),
    };
    format!(
        "{taped}; with printing some {minutes:.0} minutes, if a page takes a quarter of one and a seam one and a half: a guess.\n"
    )
}

/// A pattern of so many sheets may as well be left out where it is a plain rectangle.
const MANY_SHEETS: usize = 4;

/// Says which plain rectangles take many sheets, and how they are left out.
fn plain_ones(sheets: &Sheets, plain: &[String]) -> String {
    let laid = sheets.patterns.iter().zip(&sheets.manifest.patterns);
    let many = laid.filter_map(|(pattern, plan)| {
        let (name, count) = (&pattern.part.name, plan.as_ref()?.sheets.len());
        (count >= MANY_SHEETS && plain.contains(name)).then(|| {
            format!(
                "{} is a plain rectangle of {count} sheets: --without {} leaves it out.\n",
                quoted(name),
                quoted(name)
            )
        })
    });
    many.collect()
}

/// The list of sheets for scripts: lengths in mm, matrices as in SVG (a b c d e f: x' = a x + c y + e).
fn manifest_json(sheets: &Sheets, title: &str) -> Value {
    let patterns = sheets.patterns.iter().zip(&sheets.manifest.patterns).filter_map(|(pattern, plan)| {
        let plan = plan.as_ref()?;
        let sheets: Vec<Value> = plan
            .sheets
            .iter()
            .map(|sheet| {
                let crosses: Vec<Value> = plan
                    .seams
                    .iter()
                    .filter(|s| [s.under, s.over].contains(&(sheet.row, sheet.column)))
                    .flat_map(|seam| &seam.crosses)
                    .map(|cross| {
                        let on_page = sheet.to_page * cross.at;
                        json!({
                            "name": cross.name,
                            "pattern": [cross.at.x, cross.at.y],
                            "page": [on_page.x, on_page.y],
                        })
                    })
                    .collect();
                json!({
                    "sheet": sheet.code(),
                    "page": sheet.page + 1,
                    "size": [plan.page_size.0, plan.page_size.1],
                    "pattern_to_page": sheet.to_page.as_coeffs(),
                    "clip": [sheet.clip.x0, sheet.clip.y0, sheet.clip.x1, sheet.clip.y1],
                    "crosses": crosses,
                })
            })
            .collect();
        let end = |cross: &Cross| json!({ "name": cross.name, "pattern": [cross.at.x, cross.at.y] });
        let diagonals: Vec<Value> = plan.diagonals.iter().map(|(a, b)| json!([end(a), end(b)])).collect();
        let part = &pattern.part;
        Some(json!({
            "name": part.name,
            "revision": part.revision,
            "prints": pattern.prints,
            "sheets": sheets,
            "diagonals": diagonals,
        }))
    });
    json!({
        "title": title,
        "units_note": "lengths in millimetres; pages have their origin at the lower left; matrices [a, b, c, d, e, f] \
                       with x' = a x + c y + e, y' = b x + d y + f",
        "patterns": patterns.collect::<Vec<_>>(),
    })
}
