//! `compare`: what a change of numbers did to each part.

use super::args::{Compare, Format, Input};
use super::files::{Files, Form, Output, Product, ReadAs, is_dash};
use super::load::{Loaded, Stopped, load};
use super::output::{
    Target, Trouble, harmless, is_kind, keeps_promise, pdf_bytes, pretty, say, sheets_bytes, svg_bytes, typed,
};
use super::records;
use crate::change::{Compared, Overlaid, Snapshot, json, words};
use crate::layout::{Pictured, legend, picture, plot};
use crate::page::Document;
use crate::pattern::Pattern;
use crate::units::Notation;
use crate::write::{PlotText, SvgStyle};
use std::io::Write;
use std::path::Path;

/// What stands on every sheet of a comparison at full size.
const NO_PATTERN: &str = "COMPARISON, NOT A PATTERN";

/// One of the two pieces: read from a file, or as a print left it.
struct Side {
    piece: Snapshot,
    loaded: Option<Box<Loaded>>,
}

/// Runs `compare`.
pub fn run(asked: &Compare, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let other = asked.other.as_deref().unwrap_or(&asked.file);
    if other == asked.file && asked.variant == asked.to && asked.other.is_none() {
        let pdf = asked.file.with_extension("pdf");
        let printed = files.is_left(&records::beside(&pdf), Product::Record);
        let printed = if printed && pdf != asked.file {
            format!(", or its print: fullsize compare {} {}", typed(&pdf), typed(other))
        } else {
            String::new()
        };
        return Err(Trouble::new(format!(
            "there is nothing to hold it against: name a second file, or a variant of this one with --to{printed}"
        ))
        .into());
    }
    if let Some(out) = &asked.out {
        files.was_not_read(out)?;
        keeps_promise(out, &["pdf", "svg"])?;
    }
    let [old, new] = sides(asked, other, files, err)?;
    let compared = Compared::of(&old.piece, &new.piece);
    let notation = [&new, &old].into_iter().find_map(|side| side.loaded.as_ref());
    let notation = notation.map_or(Notation::of(new.piece.units), |loaded| loaded.job.project().notation.clone());
    let bytes = match asked.format {
        Format::Json => pretty(&json(&compared, &notation)),
        Format::Text => {
            let from = [&*asked.file.to_string_lossy(), &*other.to_string_lossy()];
            harmless(&words(&compared, from, &notation)).into_bytes()
        }
    };
    let drawn = asked.out.as_ref().map(|path| (path, compared.overlaid(&notation)));
    let Some((path, drawn)) = drawn.filter(|(_, drawn)| !drawn.is_empty()) else {
        return Ok(say(out, &bytes)?);
    };
    let loaded = [new, old].into_iter().find_map(|side| side.loaded);
    let bytes_drawn = drawing(asked, path, &drawn, loaded.map(|loaded| *loaded), &notation)?;
    let form = if is_kind(path, "svg") { Form::Svg } else { Form::Pdf };
    let output = Output { target: Target::named(path), product: Product::Comparison, form, bytes: bytes_drawn };
    let written = files.write(vec![output], &asked.replace, out)?;
    if is_dash(path) { Ok(()) } else { Ok(written.tell("", &String::from_utf8_lossy(&bytes), out)?) }
}

/// Reads both; what is told of both in the same words is told once.
fn sides(asked: &Compare, other: &Path, files: &Files, err: &mut dyn Write) -> Result<[Side; 2], Stopped> {
    let mut told = [Vec::new(), Vec::new()];
    let old = side(&asked.file, asked.variant.as_ref(), asked, files, &mut told[0]);
    // Where not even standard error can be written there is no one left to tell.
    let _ = err.write_all(&told[0]);
    let old = old?;
    let new = side(other, asked.to.as_ref(), asked, files, &mut told[1]);
    if told[0] != told[1] {
        let _ = err.write_all(&told[1]);
    }
    Ok([old, new?])
}

/// Reads one side.
fn side(
    file: &Path,
    variant: Option<&String>,
    asked: &Compare,
    files: &Files,
    err: &mut dyn Write,
) -> Result<Side, Stopped> {
    if is_kind(file, "pdf") {
        return of_record(file, variant, || records::read(file, files).map(|lying| lying.record.piece));
    }
    let bytes = files.bytes(file, ReadAs::Project)?;
    if records::is_record(&bytes) {
        return of_record(file, variant, || records::of_bytes(file, &bytes).map(|record| record.piece));
    }
    let input =
        Input { file: file.to_owned(), variant: variant.cloned(), shop: asked.shop.clone(), font: Vec::new() };
    let loaded = load(&input, files, err)?;
    Ok(Side { piece: Snapshot::of(&loaded.job)?.as_recorded(), loaded: Some(Box::new(loaded)) })
}

/// What a print left: it is of one variant already.
fn of_record(
    file: &Path,
    variant: Option<&String>,
    read: impl FnOnce() -> Result<Snapshot, Trouble>,
) -> Result<Side, Stopped> {
    match variant {
        Some(name) => Err(Trouble::new(format!(
            "{} is the record of a print, which is of one variant: leave \"{name}\" out, or name the project file",
            file.display()
        ))
        .into()),
        None => Ok(Side { piece: read()?, loaded: None }),
    }
}

/// Each part that changed, over what it was, to scale or at full size.
fn drawing(
    asked: &Compare,
    path: &Path,
    drawn: &[Overlaid],
    loaded: Option<Loaded>,
    notation: &Notation,
) -> Result<Vec<u8>, Stopped> {
    let is_svg = is_kind(path, "svg");
    let title = loaded.as_ref().map_or(String::new(), |loaded| loaded.job.heading().to_owned());
    if !asked.full_size {
        let document = pictured(drawn, &title, notation);
        return Ok(match is_svg {
            true => svg_bytes(&document, &document.pages, SvgStyle::Picture)?,
            false => pdf_bytes(&document)?,
        });
    }
    let told = |part: &Overlaid| {
        part.both().instead([NO_PATTERN.to_owned()].into_iter().chain(part.words.first().cloned()).collect())
    };
    let patterns: Vec<Pattern> = drawn.iter().map(told).collect();
    if is_svg {
        let (document, _) = plot(&patterns, None, &title);
        return Ok(svg_bytes(&document, &document.pages, SvgStyle::Plot(PlotText::Strokes))?);
    }
    let Some(Loaded { mut job, .. }) = loaded else {
        return Err(Trouble::new(
            "sheets are laid on the paper of a project file, and both are records of prints: name an SVG",
        )
        .into());
    };
    job.limit_sheets(asked.limit.sheets);
    let sheets = job.sheets(patterns)?;
    Ok(sheets_bytes(&sheets, None)?)
}

/// One picture a part, one below the other, with what its lines are.
fn pictured(drawn: &[Overlaid], title: &str, notation: &Notation) -> Document {
    let one = |part: &Overlaid| Pictured {
        pattern: part.as_it_is(),
        dimensions: Vec::new(),
        guides: Vec::new(),
        was: part.was.clone(),
    };
    let pictured: Vec<Pictured> = drawn.iter().map(one).collect();
    let mut document = picture(&pictured, title, notation.clone());
    let told = drawn.iter().flat_map(|part| part.words.iter().map(|words| format!("{}: {words}", part.part.name)));
    let lines: Vec<String> = told.collect();
    document.pages = document.pages.into_iter().map(|page| legend(page, &lines)).collect();
    document
}
