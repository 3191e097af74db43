//! The commands that are a few lines each: `set`, `show`, `proof`, `variants`, `schema`, `completions`, `man`.

use super::args::{Arguments, Completions, Input, Man, Proof, Schema, Set, Show, UnitsChoice, Variants};
use super::load::{Stopped, bytes, load, paper, reading};
use super::output::{
    Target, Trouble, keeps_promise, output_file, pdf_bytes, pretty, say, svg_bytes, told, write_all,
};
use crate::finding::{Finding, Severity};
use crate::job::Job;
use crate::layout::{Pictured, picture, proof};
use crate::model::{Project, Shop};
use crate::project::{edit, read, schema};
use crate::schedule::parts;
use crate::units::Notation;
use crate::write::SvgStyle;
use clap::CommandFactory;
use std::io::Write;

/// Runs `set`.
pub fn set(asked: &Set, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let text = bytes(&asked.file)?;
    let name = asked.file.to_string_lossy();
    let Ok(text) = std::str::from_utf8(&text) else {
        // The reader says what is wrong with the text itself.
        let reading = read(&name, &text, None, None);
        super::load::say(&reading.findings, &reading.sources, err);
        return Err(Stopped::ByFinding);
    };
    let changes: Vec<&str> = asked.changes.iter().map(String::as_str).collect();
    let changed = edit::set(&name, text, &changes).map_err(|refused| {
        super::load::say(&refused.findings, &refused.sources, err);
        Stopped::ByFinding
    })?;
    write_all(&[(Target::File(asked.file.clone()), changed.into_bytes())], out)?;
    say(out, format!("Changed in {}: {}\n", asked.file.display(), changes.join(", ")).as_bytes())?;
    tell_what_it_stops(asked, err)
}

/// After a change that leaves a piece which cannot be made, says why: the number may be one of two that go together, so that it
/// is not refused.
fn tell_what_it_stops(asked: &Set, err: &mut dyn Write) -> Result<(), Stopped> {
    let mut now = reading(&Input { file: asked.file.clone(), variant: None, shop: None })?;
    now.findings.retain(|finding| finding.severity == Severity::Stop);
    if let Some(project) = now.project {
        now.findings.extend(Job::new(project).cured_stops().into_iter().cloned());
    }
    if !now.findings.is_empty() {
        // Where not even standard error can be written there is no one left to tell.
        let _ = writeln!(err, "With it nothing can be made yet:\n");
        super::load::say(&now.findings, &now.sources, err);
    }
    Ok(())
}

/// Runs `show`.
pub fn show(asked: &Show, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let loaded = load(&asked.input, err)?;
    let (job, project) = (&loaded.job, loaded.job.project());
    let whole = (project.base.is_some() || project.top.is_some()) && asked.selection.pattern.is_empty();
    let text = if whole {
        let stops: Vec<Finding> = job.cured_stops().into_iter().cloned().collect();
        super::load::say(&stops, &loaded.sources, err);
        piece_picture(job)?
    } else {
        let plain = |pattern| Pictured { pattern, dimensions: Vec::new(), guides: Vec::new() };
        let drawn: Vec<Pictured> = loaded.patterns(&asked.selection, err)?.into_iter().map(plain).collect();
        picture_bytes(&drawn, job.heading(), project.notation)?
    };
    let target = Target::named(&output_file(&asked.input, asked.out.as_deref(), "picture.svg", &["svg"])?);
    write_all(&[(target.clone(), text)], out)?;
    told(&target, out)?;
    // Beside a picture that goes to standard output there is no room for words.
    if let (true, Target::File(_), Some(piece)) = (whole, &target, job.piece()?) {
        say(out, parts(piece, &project.notation).as_bytes())?;
        say(out, not_pictured(project).as_bytes())?;
    }
    Ok(())
}

/// One line for the parts that a file draws beside its piece, which the piece's picture does not show; empty where there are
/// none.
fn not_pictured(project: &Project) -> String {
    let names: Vec<&str> = project.patterns.iter().map(|drawn| drawn.name.as_str()).collect();
    let count = match names.len() {
        0 => return String::new(),
        1 => "1 drawn part is".to_owned(),
        more => format!("{more} drawn parts are"),
    };
    format!(
        "{count} not in the picture ({}): print or plot draws all of them at full size, show --pattern NAME one by itself\n",
        names.join(", ")
    )
}

/// The piece of a job as SVG: what `show` and `new` show of it.
///
/// # Errors
/// Where it cannot be solved or drawn.
pub fn piece_picture(job: &Job) -> Result<Vec<u8>, Stopped> {
    let document = job.picture()?;
    // What does not stand on the first sheet is not part of the picture.
    Ok(svg_bytes(&document, document.pages.get(..1).unwrap_or_default(), SvgStyle::Picture)?)
}

/// A picture of patterns as SVG.
///
/// # Errors
/// Where the picture cannot be written.
pub fn picture_bytes(drawn: &[Pictured], title: &str, notation: Notation) -> Result<Vec<u8>, Trouble> {
    let document = picture(drawn, title, notation);
    svg_bytes(&document, &document.pages, SvgStyle::Picture)
}

/// Runs `proof`.
pub fn proof_sheet(asked: &Proof, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    keeps_promise(&asked.out, &["pdf"])?;
    let (mut shop, notation) = proof_shop(asked, err)?;
    if let Some(paper) = paper(asked.paper.as_deref())? {
        shop.paper = paper;
    }
    let document = proof(&shop, notation);
    let bytes = pdf_bytes(&document)?;
    let target = Target::named(&asked.out);
    write_all(&[(target.clone(), bytes)], out)?;
    Ok(told(&target, out)?)
}

/// The shop and units of the project file, else the usual shop of the units asked for; the shop file lies over it.
fn proof_shop(asked: &Proof, err: &mut dyn Write) -> Result<(Shop, Notation), Stopped> {
    if let Some(file) = &asked.file {
        let input = Input { file: file.clone(), variant: None, shop: asked.shop.clone() };
        let loaded = load(&input, err)?;
        let project = loaded.job.project();
        return Ok((project.shop.clone(), project.notation));
    }
    let units = if asked.units == UnitsChoice::In { "in" } else { "mm" };
    let text = serde_json::json!({ "fullsize": 1, "title": "Proof sheet", "units": units }).to_string();
    let shop = asked.shop.as_deref().map(|path| bytes(path).map(|bytes| (path, bytes))).transpose()?;
    let shop = shop.as_ref().map(|(path, bytes)| (path.to_string_lossy(), bytes.as_slice()));
    let shop = shop.as_ref().map(|(name, bytes)| (name.as_ref(), *bytes));
    let reading = read("the proof sheet", text.as_bytes(), shop, None);
    match reading.project {
        Some(project) => Ok((project.shop, project.notation)),
        None => {
            super::load::say(&reading.findings, &reading.sources, err);
            Err(Stopped::ByFinding)
        }
    }
}

/// Runs `variants`.
pub fn variants(asked: &Variants, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let input = Input { file: asked.file.clone(), variant: None, shop: None };
    let loaded = load(&input, err)?;
    let names = &loaded.job.project().variants;
    let text = if names.is_empty() {
        "The file has no variants.\n".to_owned()
    } else {
        names.iter().map(|name| format!("{name}\n")).collect()
    };
    say(out, text.as_bytes())?;
    Ok(())
}

/// Runs `schema`.
pub fn schema_text(asked: &Schema, out: &mut dyn Write) -> Result<(), Stopped> {
    keeps_promise(&asked.out, &["json"])?;
    let target = Target::named(&asked.out);
    write_all(&[(target.clone(), pretty(&schema()))], out)?;
    Ok(told(&target, out)?)
}

/// Runs `completions`.
pub fn completions(asked: &Completions, out: &mut dyn Write) -> Result<(), Stopped> {
    // Into memory first: the generator panics where a pipe is closed.
    let mut text = Vec::new();
    clap_complete::generate(asked.shell, &mut Arguments::command(), "fullsize", &mut text);
    say(out, &text)?;
    Ok(())
}

/// Runs `man`.
pub fn man(asked: &Man, out: &mut dyn Write) -> Result<(), Stopped> {
    let mut text = Vec::new();
    clap_mangen::Man::new(Arguments::command())
        .render(&mut text)
        .map_err(|error| Trouble::new(format!("cannot write the manual page: {error}")))?;
    let target = Target::named(&asked.out);
    write_all(&[(target.clone(), text)], out)?;
    Ok(told(&target, out)?)
}
