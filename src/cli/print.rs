//! `print`: sheets that tape up true.

use super::args::{Format, Input, Print};
use super::load::{Stopped, load, paper, patterns};
use super::output::{Target, Trouble, keeps_promise, say, write_all};
use super::piece::solved;
use crate::layout::elevation::stamp;
use crate::layout::{Manifest, Setup, shared, sheet_window, tile};
use crate::model::{Project, Shop};
use crate::pattern::Pattern;
use crate::write::{PdfOptions, pdf};
use serde_json::{Value, json};
use std::io::Write;
use std::path::{Path, PathBuf};

/// A finished print.
pub struct Printed {
    /// The patterns on it.
    pub patterns: Vec<Pattern>,
    /// Where everything went.
    pub manifest: Manifest,
    /// The PDF.
    pub bytes: Vec<u8>,
    /// Whether a map page shows the piece, where there is one.
    pub pictured: bool,
}

/// Runs `print`.
pub fn run(asked: &Print, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let mut loaded = load(&asked.input, err)?;
    if let Some(paper) = paper(asked.paper.as_deref())? {
        loaded.project.shop.paper = paper;
    }
    let patterns = patterns(&loaded, &asked.selection, err)?;
    let printed = printed(&loaded.project, patterns)?;
    let target = Target::named(&output_file(&asked.input, asked.out.as_deref(), "pdf", &["pdf"])?);
    let mut files = vec![(target.clone(), printed.bytes.clone())];
    if asked.format == Format::Json {
        let beside = match &target {
            Target::File(pdf) => Target::File(pdf.with_extension("sheets.json")),
            Target::Stdout => {
                return Err(Trouble::new("--format json writes a second file: name the PDF with -o").into());
            }
        };
        files.push((beside, pretty(&manifest_json(&printed, &loaded.project))));
    }
    write_all(&files, out)?;
    for (target, _) in &files {
        if let Target::File(path) = target {
            say(out, format!("Wrote {}\n", path.display()).as_bytes())?;
        }
    }
    if target != Target::Stdout {
        say(out, summary(&printed).as_bytes())?;
    }
    Ok(())
}

/// Lays the patterns on sheets and writes them.
///
/// # Errors
/// Where the paper leaves no room for a pattern.
pub fn printed(project: &Project, patterns: Vec<Pattern>) -> Result<Printed, Stopped> {
    let title = project.heading();
    let setup = Setup { shop: &project.shop, notation: project.notation, title: &title };
    let patterns = shared(patterns, sheet_window(&project.shop));
    let (mut document, manifest) = tile(&patterns, &setup);
    if manifest.patterns.iter().any(Option::is_none) {
        return Err(Trouble::new(no_room(&project.shop)).into());
    }
    let mut pictured = true;
    // What the patterns are for, on the first map page that has room for it.
    if let (Ok(Some(piece)), Some(maps)) = (solved(project), document.pages.get_mut(..manifest.map_pages)) {
        pictured = stamp(maps, &piece, project.shop.margin.mm());
    }
    let bytes = pdf(&document, &PdfOptions::default()).map_err(|error| Trouble::new(error.to_string()))?;
    Ok(Printed { patterns, manifest, bytes, pictured })
}

fn no_room(shop: &Shop) -> String {
    format!(
        "the paper is too small: margins of {:.1} mm, the rule bars and an overlap of {:.1} mm leave no room for the \
         pattern; take larger paper or a smaller overlap",
        shop.margin.mm(),
        shop.overlap.mm()
    )
}

/// What was printed and what to do first.
fn summary(printed: &Printed) -> String {
    let elsewhere = if printed.pictured { "" } else { "No map page has room for the piece: show draws it.\n" };
    let sheets: usize = printed.manifest.patterns.iter().flatten().map(|plan| plan.sheets.len()).sum();
    format!(
        "{} of patterns, after {} of instructions and maps. Print page 1 first, at 100 % (\"actual size\"), and lay a \
         steel rule on its bars.\n{elsewhere}",
        counted(sheets, "sheet"),
        counted(printed.manifest.map_pages, "page"),
    )
}

/// `1 sheet`, `12 sheets`.
pub fn counted(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// The file asked for, or one beside the project file, named after it and the variant.
///
/// # Errors
/// Where that is one of the files that are read, or its name promises none of the kinds of file that can be written.
pub fn output_file(input: &Input, asked: Option<&Path>, extension: &str, kinds: &[&str]) -> Result<PathBuf, Trouble> {
    let own = || match &input.variant {
        Some(variant) => {
            // A name may hold anything; a file's name may not.
            let plain: String = variant.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
            input.file.with_extension(format!("{plain}.{extension}"))
        }
        None => input.file.with_extension(extension),
    };
    let output = asked.map_or_else(own, Path::to_path_buf);
    let same = |read: &Path| match (read.canonicalize(), output.canonicalize()) {
        (Ok(read), Ok(output)) => read == output,
        _ => false,
    };
    if same(&input.file) || input.shop.as_deref().is_some_and(same) {
        return Err(Trouble::new(format!(
            "{} is the file that the numbers come from, and would be lost; name another with -o",
            output.display()
        )));
    }
    asked.map_or(Ok(()), |asked| keeps_promise(asked, kinds))?;
    Ok(output)
}

/// A JSON text with a last line end.
pub fn pretty(value: &Value) -> Vec<u8> {
    format!("{value:#}\n").into_bytes()
}

/// The list of sheets for scripts: lengths in mm, matrices as in SVG (a b c d e f: x' = a x + c y + e).
fn manifest_json(printed: &Printed, project: &Project) -> Value {
    let patterns = printed.patterns.iter().zip(&printed.manifest.patterns).filter_map(|(pattern, plan)| {
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
        Some(json!({ "name": pattern.part.name, "revision": pattern.part.revision, "sheets": sheets }))
    });
    json!({
        "title": project.title,
        "units_note": "lengths in millimetres; pages have their origin at the lower left; matrices [a, b, c, d, e, f] \
                       with x' = a x + c y + e, y' = b x + d y + f",
        "patterns": patterns.collect::<Vec<_>>(),
    })
}
