//! `model`: the assembled piece to turn and look at.

use super::args::Model;
use super::files::{Files, Form, Output, Product};
use super::load::{Stopped, load};
use super::output::{Target, output_file};
use crate::write::gltf;
use std::io::Write;

/// Runs `model`.
pub fn run(asked: &Model, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let loaded = load(&asked.input, files, err)?;
    let scene = loaded.job.scene()?;
    loaded.say_all(&loaded.job.needed_piece()?.shown_as_sawn(&scene), err);
    let bytes = gltf(&scene);
    let variants = &loaded.job.project().variants;
    let path = output_file((&asked.input, files), variants, asked.out.as_deref(), "glb", &["glb"])?;
    let output = Output { target: Target::named(&path), product: Product::Model, form: Form::Glb, bytes };
    Ok(files.write(vec![output], &asked.replace, out)?.tell("", "", out)?)
}
