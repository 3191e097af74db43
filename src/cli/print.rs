//! `print`: sheets that tape up true.

use super::args::{Format, Print, Selection};
use super::files::{Files, Form, Output, Product};
use super::load::{Loaded, Stopped, load, paper, printer_words};
use super::older_print;
use super::output::{
    Target, Trouble, counted, harmless, held_words, left_out, output_file, pretty, say, sheets_bytes, typed,
};
use super::records::{self, Lying};
use crate::change::{Record, Since};
use crate::finding::quoted;
use crate::job::{Job, Sheets};
use crate::layout::Cross;
use crate::page::Part;
use crate::pattern::Pattern;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Runs `print`.
pub fn run(asked: &Print, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let mut loaded = load(&asked.input, files, err)?;
    if let Some(paper) = paper(asked.paper.as_deref())? {
        loaded.job.set_paper(paper);
    }
    loaded.job.limit_sheets(asked.limit.sheets);
    let (selection, left_behind) = selected(asked, &loaded)?;
    let (patterns, left) = to_print(&loaded, &selection)?;
    let plain: Vec<String> =
        patterns.iter().filter(|one| one.is_plain_rectangle()).map(|one| one.part.name.clone()).collect();
    let project = loaded.job.project();
    let ending = if asked.only_changed.is_some() { records::CHANGED.to_owned() } else { selection.ending("pdf") };
    let mut path = output_file((&asked.input, files), &project.variants, asked.out.as_deref(), &ending, &["pdf"])?;
    let all = if selection.is_all() { patterns.clone() } else { loaded.job.patterns_but(&[], &[])? };
    let sizes: BTreeMap<String, (f64, f64)> =
        all.iter().map(|one| (one.part.name.clone(), (one.bounds.width(), one.bounds.height()))).collect();
    let now: Vec<Part> = all.into_iter().map(|pattern| pattern.part).collect();
    let whole = output_file((&asked.input, files), &project.variants, None, "pdf", &["pdf"]);
    if let (Some(_), None, Ok(whole)) = (&asked.only_changed, &asked.out, &whole) {
        path = records::next_changed(whole)?;
    }
    let named = asked.only_changed.as_ref().map(|named| since(named.as_deref(), whole, files)).transpose()?;
    let older = named.as_ref().map(|(since, _)| record_of(since, (&loaded.job, &now), files)).transpose()?;
    let replaced = if older.is_none() { replaced(&path, asked, (&loaded.job, &now), files)? } else { None };
    let digest = older.as_ref().or(replaced.as_ref()).map(|lying| lying.digest.clone()).unwrap_or_default();
    let held = older
        .as_ref()
        .zip(named.as_ref())
        .map(|(older, (since, whole))| older_print::held_against(since, older, whole.as_deref(), files));
    let printer = [project.shop.printer.across.0, project.shop.printer.up.0];
    let size = |part: &Part| sizes.get(&part.name).copied();
    let [older, replaced] = [&older, &replaced].map(|lying| {
        let since = Since::of(&lying.as_ref()?.record, &now).taking_as_right(&left_behind);
        Some(since.printed_true(printer, size))
    });
    if patterns.is_empty() {
        return Ok(say(out, harmless(&format!("Nothing is to be printed.\n{}", left.words())).as_bytes())?);
    }
    let left_out = [left.kept.as_slice(), &left.held].concat();
    let (mut sheets, mut on_bench) = laid(&loaded.job, patterns, (older.as_ref(), &left_out))?;
    if let Some((since, _)) = &named {
        sheets.tell_on_first(&of_changes(since));
    }
    let first = match (&older, &replaced) {
        (Some(older), _) => older_print::otherwise_corrected(older, printer, project),
        (None, Some(replaced)) => older_print::untaped(replaced, &Record::of(&loaded.job, &sheets)?, project),
        (None, None) => String::new(),
    };
    on_bench.extend(
        replaced.iter().map(|replaced| older_print::void(replaced, "the print whose place this takes", &left_out)),
    );
    let held = held.unwrap_or_default();
    if sheets.patterns.is_empty() {
        return Ok(say(
            out,
            harmless(&format!("{first}Nothing is to be printed again.\n{held}{on_bench}")).as_bytes(),
        )?);
    }
    on_bench.insert_str(0, &held);
    let more = format!("{}{}{}{on_bench}", left.words(), plain_ones(&sheets, &plain), effort(&sheets));
    if asked.dry_run {
        return Ok(say(out, harmless(&format!("{first}{}\n{more}", count(&sheets))).as_bytes())?);
    }
    let list = path.with_extension("sheets.json");
    let is_older_list = asked.format != Format::Json && files.is_left(&list, Product::SheetList);
    // What of a print stays on the bench beside some patterns printed anew is known further.
    let stays = older.as_ref().or_else(|| replaced.as_ref().filter(|_| !selection.is_all()));
    let written = files.write(
        outputs(asked, &path, &loaded, &sheets, stays.map(|stays| (stays, digest.as_str())))?,
        &asked.replace,
        out,
    )?;
    let words = match Target::named(&path) {
        Target::Stdout => String::new(),
        Target::File(_) => {
            let words = summary(&sheets, is_older_list.then_some(list.as_path()));
            let input = (Some(asked.input.file.as_path()), asked.input.shop.as_deref());
            let next = match older {
                Some(_) if !is_found_by_itself(&path, named.as_ref()) => {
                    format!("After the next change name this print: --only-changed {}\n", typed(&path))
                }
                _ => String::new(),
            };
            format!("{first}{words}{}{more}{next}", printer_words(project, input, files))
        }
    };
    Ok(written.tell("", &words, out)?)
}

/// Which patterns are laid, and which of them are left behind all the same: of what changed all are laid as in a whole print, so that those
/// that share a sheet share it still.
fn selected(asked: &Print, loaded: &Loaded) -> Result<(Selection, Vec<String>), Stopped> {
    if asked.only_changed.is_none() {
        return Ok((asked.selection.clone(), Vec::new()));
    }
    let wanted = loaded.patterns(&asked.selection)?;
    let is_left = |one: &Pattern| !wanted.iter().any(|wanted| wanted.part.name == one.part.name);
    let all = loaded.job.patterns_but(&[], &[])?;
    let left = all.into_iter().filter(is_left).map(|one| one.part.name).collect();
    Ok((Selection::default(), left))
}

/// The names of patterns that are left out, by why.
#[derive(Default)]
struct LeftOut {
    /// Nothing is to be cut by them: their parts exist and stay as they are.
    kept: Vec<String>,
    /// Their parts hang on numbers that are not decided.
    held: Vec<String>,
}

impl LeftOut {
    /// Which patterns are left out, and how they are printed all the same.
    fn words(&self) -> String {
        left_out("Made already and good as they are", &self.kept) + &held_words(&self.held)
    }
}

/// The patterns that are asked for, and the names of those that are left out unless they are named.
fn to_print(loaded: &Loaded, selection: &Selection) -> Result<(Vec<Pattern>, LeftOut), Stopped> {
    let patterns = loaded.patterns(selection)?;
    if !selection.pattern.is_empty() {
        return Ok((patterns, LeftOut::default()));
    }
    let (mut wanted, mut left) = (Vec::new(), LeftOut::default());
    let all = loaded.job.patterns()?;
    for pattern in patterns {
        let named = all.iter().find(|one| one.pattern.part.name == pattern.part.name);
        match named {
            Some(named) if loaded.job.is_kept(named) => left.kept.push(pattern.part.name),
            Some(named) if loaded.job.is_held_back(named) => left.held.push(pattern.part.name),
            _ => wanted.push(pattern),
        }
    }
    Ok((wanted, left))
}

/// Patterns on sheets, those alone that changed since an older print, where there is one; with what becomes of that print's sheets.
fn laid<'job>(
    job: &'job Job,
    patterns: Vec<Pattern>,
    (since, left_out): (Option<&Since>, &[String]),
) -> Result<(Sheets<'job>, String), Stopped> {
    let Some(since) = since else { return Ok((job.sheets(patterns)?, String::new())) };
    let sheets = job.some_sheets(patterns, &|shows| {
        !shows.iter().all(|part| since.is_printed(part) || since.is_taken_as_right(part))
    })?;
    Ok((sheets, older_print::left(since, left_out)))
}

/// What a print of changes says of itself on its first page.
fn of_changes(since: &Path) -> String {
    let older = since.file_name().map_or_else(String::new, |name| format!(" {}", name.to_string_lossy()));
    format!("Only what changed since{older}: what is good of that print goes with these sheets.")
}

/// The PDF, its record beside it, and the list of its sheets where that is asked for.
fn outputs(
    asked: &Print,
    path: &Path,
    loaded: &Loaded,
    sheets: &Sheets,
    since: Option<(&Since, &str)>,
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
        let printed = Record::of(&loaded.job, sheets)?;
        let record = match since {
            Some((since, digest)) => since.followed_by(printed, digest),
            None => printed,
        };
        outputs.push(records::output(path, &record));
    }
    Ok(outputs)
}

/// The print since which changes count: the one that is named, or the last that lies where print puts it; and where the print of the whole
/// piece lies.
fn since(
    named: Option<&Path>,
    whole: Result<PathBuf, Trouble>,
    files: &Files,
) -> Result<(PathBuf, Option<PathBuf>), Trouble> {
    if let Some(named) = named {
        return Ok((named.to_owned(), whole.ok()));
    }
    let whole = whole?;
    match records::latest(&whole, files) {
        Some(latest) => Ok((latest, Some(whole))),
        None => Err(Trouble::new(format!(
            "no print of it lies there: {} with its {} is looked for; name the print with --only-changed PDF, or print all sheets",
            whole.display(),
            records::beside(&whole).display()
        ))),
    }
}

/// Whether a print lies where it is looked for.
fn is_found_by_itself(path: &Path, named: Option<&(PathBuf, Option<PathBuf>)>) -> bool {
    let whole = named.and_then(|(_, whole)| whole.as_ref());
    whole.is_some_and(|whole| records::changed(whole).any(|changed| path == changed))
}

/// The record of an older print of the same piece.
fn record_of(since: &Path, (job, now): (&Job, &[Part]), files: &Files) -> Result<Lying, Trouble> {
    let lying = records::read(since, files)?;
    let title = &job.project().title;
    let record = &lying.record;
    if is_of(record, title, now) {
        return Ok(lying);
    }
    Err(Trouble::new(format!(
        "{} is of another piece, {}, and this one is {}: name the print of this one, or print all its sheets",
        since.display(),
        quoted(&record.piece.title),
        quoted(title)
    )))
}

/// Whether a print is of a piece: it bears its title, or shows a pattern that the piece has still.
fn is_of(record: &Record, title: &str, now: &[Part]) -> bool {
    let since = Since::of(record, now);
    record.piece.title == title || now.iter().any(|part| since.is_printed(part))
}

/// The record of the print whose place a new one takes.
///
/// # Errors
/// Where that is a print of another piece, unless it may be replaced.
fn replaced(
    path: &Path,
    asked: &Print,
    (job, now): (&Job, &[Part]),
    files: &Files,
) -> Result<Option<Lying>, Trouble> {
    let Target::File(pdf) = Target::named(path) else { return Ok(None) };
    let Some(lying) = records::left(&pdf, files) else { return Ok(None) };
    let record = &lying.record;
    let is_same = is_of(record, &job.project().title, now);
    match is_same || asked.replace.force {
        true => Ok(is_same.then_some(lying)),
        false => Err(Trouble::new(format!(
            "{} is a print of another piece, {}: name another file with -o, or replace it with --force",
            pdf.display(),
            quoted(&record.piece.title)
        ))),
    }
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
    let count: usize = sheets.manifest.patterns.iter().flatten().map(|plan| plan.sheets.len()).sum();
    format!(
        "{} of patterns, after {} of instructions and maps.",
        counted(count, "sheet"),
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
    let plans = || sheets.manifest.patterns.iter().flatten();
    let pages: usize = sheets.manifest.map_pages + plans().map(|plan| plan.sheets.len()).sum::<usize>();
    let seams: usize = plans().map(|plan| plan.seams.len()).sum();
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
        Some(json!({ "name": part.name, "revision": part.revision, "sheets": sheets, "diagonals": diagonals }))
    });
    json!({
        "title": title,
        "units_note": "lengths in millimetres; pages have their origin at the lower left; matrices [a, b, c, d, e, f] \
                       with x' = a x + c y + e, y' = b x + d y + f",
        "patterns": patterns.collect::<Vec<_>>(),
    })
}
