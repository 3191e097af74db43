//! `print`: sheets that tape up true.

use super::args::{Format, Print};
use super::files::{Files, Form, Output, Product};
use super::load::{Stopped, load, paper, printer_words};
use super::output::{Target, Trouble, counted, harmless, output_file, pretty, say, sheets_bytes};
use crate::finding::quoted;
use crate::job::Sheets;
use crate::layout::Cross;
use serde_json::{Value, json};
use std::io::Write;
use std::path::Path;

/// Runs `print`.
pub fn run(asked: &Print, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let mut loaded = load(&asked.input, files, err)?;
    if let Some(paper) = paper(asked.paper.as_deref())? {
        loaded.job.set_paper(paper);
    }
    loaded.job.limit_sheets(asked.limit.sheets);
    let patterns = loaded.patterns(&asked.selection)?;
    let plain: Vec<String> =
        patterns.iter().filter(|one| one.is_plain_rectangle()).map(|one| one.part.name.clone()).collect();
    let sheets = loaded.job.sheets(patterns)?;
    if asked.dry_run {
        let words = format!("{}\n{}{}", count(&sheets), left_out(&sheets, &plain), effort(&sheets));
        return Ok(say(out, harmless(&words).as_bytes())?);
    }
    let bytes = sheets_bytes(&sheets, loaded.lettering.as_ref())?;
    let project = loaded.job.project();
    let ending = asked.selection.ending("pdf");
    let path = output_file((&asked.input, files), &project.variants, asked.out.as_deref(), &ending, &["pdf"])?;
    let target = Target::named(&path);
    let list = path.with_extension("sheets.json");
    let mut outputs = vec![Output { target: target.clone(), product: Product::Sheets, form: Form::Pdf, bytes }];
    if asked.format == Format::Json {
        if target == Target::Stdout {
            return Err(Trouble::new("--format json writes a second file: name the PDF with -o").into());
        }
        let target = Target::File(list.clone());
        let bytes = pretty(&manifest_json(&sheets, &project.title));
        outputs.push(Output { target, product: Product::SheetList, form: Form::Json, bytes });
    }
    let older = asked.format != Format::Json && files.is_left(&list, Product::SheetList);
    let written = files.write(outputs, &asked.replace, out)?;
    let words = match target {
        Target::Stdout => String::new(),
        Target::File(_) => {
            let words = summary(&sheets, older.then_some(list.as_path()));
            let input = (Some(asked.input.file.as_path()), asked.input.shop.as_deref());
            let printer = printer_words(project, input, files);
            format!("{words}{printer}{}{}", left_out(&sheets, &plain), effort(&sheets))
        }
    };
    Ok(written.tell("", &words, out)?)
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
fn left_out(sheets: &Sheets, plain: &[String]) -> String {
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
