//! The commands that are a few lines each: `proof`, `variants`, `schema`, `completions`, `man`.

use super::args::{Arguments, Completions, Input, Man, Proof, Schema, UnitsChoice, Variants};
use super::files::{Files, Form, Output, Product};
use super::load::{ShopFiles, Stopped, own_shop_words, own_units, paper, printer_words, project};
use super::output::{Target, Trouble, harmless, keeps_promise, pdf_bytes, pretty, say};
use crate::layout::{Setup, proof};
use crate::model::Project;
use crate::project::{no_drawings, read_in, schema};
use crate::units::Units;
use clap::CommandFactory;
use std::io::Write;

/// Runs `proof`.
pub fn proof_sheet(asked: &Proof, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    keeps_promise(&asked.out, &["pdf"])?;
    let mut project = proof_project(asked, files, err)?;
    if let Some(paper) = paper(asked.paper.as_deref(), project.notation.units)? {
        project.shop.paper = paper;
    }
    let from = project.readings_from.as_ref();
    let document =
        proof(&Setup { shop: &project.shop, notation: project.notation.clone(), title: "", readings_from: from });
    let bytes = pdf_bytes(&document)?;
    let target = Target::named(&asked.out);
    let words = match target {
        Target::Stdout => String::new(),
        Target::File(_) => printer_words(&project, (asked.file.as_deref(), asked.shop.as_deref()), files),
    };
    let output = Output { target, product: Product::Proof, form: Form::Pdf, bytes };
    Ok(files.write(vec![output], &asked.replace, out)?.tell("", &words, out)?)
}

/// The project file, else one that says nothing but the units asked for; shop files lie to it.
fn proof_project(asked: &Proof, files: &Files, err: &mut dyn Write) -> Result<Project, Stopped> {
    if let Some(file) = &asked.file {
        let input = Input { file: file.clone(), variant: None, shop: asked.shop.clone(), font: Vec::new() };
        return project(&input, files, err);
    }
    let units = asked.units.map_or(own_units(files)?.unwrap_or(Units::Mm), UnitsChoice::units);
    let units = if units == Units::Inch { "in" } else { "mm" };
    let text = serde_json::json!({ "fullsize": 1, "title": "Proof sheet", "units": units }).to_string();
    let shops = ShopFiles::of(asked.shop.as_deref(), files)?;
    let reading = read_in("the proof sheet", text.as_bytes(), shops.shops(), None, &no_drawings);
    let _ = err.write_all(own_shop_words(&reading.sources, files).as_bytes());
    reading.project.ok_or_else(|| {
        super::load::say(&reading.findings, &reading.sources, err);
        Stopped::ByFinding
    })
}

/// Runs `variants`.
pub fn variants(asked: &Variants, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let input = Input { file: asked.file.clone(), variant: None, shop: None, font: Vec::new() };
    let names = project(&input, files, err)?.variants;
    let text = if names.is_empty() {
        "The file has no variants.\n".to_owned()
    } else {
        names.iter().map(|name| format!("{}\n", harmless(name))).collect()
    };
    say(out, text.as_bytes())?;
    Ok(())
}

/// Runs `schema`.
pub fn schema_text(asked: &Schema, files: &Files, out: &mut dyn Write) -> Result<(), Stopped> {
    keeps_promise(&asked.out, &["json"])?;
    let (target, bytes) = (Target::named(&asked.out), pretty(&schema()));
    let output = Output { target, product: Product::Schema, form: Form::JsonSchema, bytes };
    Ok(files.write(vec![output], &asked.replace, out)?.tell("", "", out)?)
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
pub fn man(asked: &Man, files: &Files, out: &mut dyn Write) -> Result<(), Stopped> {
    let mut bytes = Vec::new();
    clap_mangen::Man::new(Arguments::command())
        .render(&mut bytes)
        .map_err(|error| Trouble::new(format!("cannot write the manual page: {error}")))?;
    let output = Output { target: Target::named(&asked.out), product: Product::Manual, form: Form::Roff, bytes };
    Ok(files.write(vec![output], &asked.replace, out)?.tell("", "", out)?)
}
