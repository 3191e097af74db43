//! The commands that are a few lines each: `proof`, `variants`, `schema`, `completions`, `man`.

use super::args::{Arguments, Completions, Input, Man, Proof, Schema, UnitsChoice, Variants};
use super::files::{Files, Form, Output, Product};
use super::load::{Stopped, paper, project, shop_file};
use super::output::{Target, Trouble, harmless, keeps_promise, pdf_bytes, pretty, say};
use crate::layout::proof;
use crate::model::Shop;
use crate::project::{read, schema};
use crate::units::Notation;
use clap::CommandFactory;
use std::io::Write;

/// Runs `proof`.
pub fn proof_sheet(asked: &Proof, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    keeps_promise(&asked.out, &["pdf"])?;
    let (mut shop, notation) = proof_shop(asked, files, err)?;
    if let Some(paper) = paper(asked.paper.as_deref())? {
        shop.paper = paper;
    }
    let document = proof(&shop, notation);
    let bytes = pdf_bytes(&document)?;
    let output = Output { target: Target::named(&asked.out), product: Product::Proof, form: Form::Pdf, bytes };
    Ok(files.write(vec![output], &asked.replace, out)?.tell("", "", out)?)
}

/// The shop and units of the project file, else the usual shop of the units asked for; the shop file lies over it.
fn proof_shop(asked: &Proof, files: &Files, err: &mut dyn Write) -> Result<(Shop, Notation), Stopped> {
    if let Some(file) = &asked.file {
        let input = Input { file: file.clone(), variant: None, shop: asked.shop.clone(), font: Vec::new() };
        let project = project(&input, files, err)?;
        return Ok((project.shop, project.notation));
    }
    let units = if asked.units == UnitsChoice::In { "in" } else { "mm" };
    let text = serde_json::json!({ "fullsize": 1, "title": "Proof sheet", "units": units }).to_string();
    let shop = shop_file(asked.shop.as_deref(), files)?;
    let shop = shop.as_ref().map(|(name, bytes)| (name.as_str(), bytes.as_slice()));
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
