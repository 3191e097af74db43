//! `model`: the assembled piece to turn and look at.

use super::args::Model;
use super::load::{Stopped, load};
use super::output::{Target, output_file, told, write_all};
use crate::write::gltf;
use std::io::Write;

/// Runs `model`.
pub fn run(asked: &Model, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let loaded = load(&asked.input, err)?;
    loaded.say_piece(err);
    let scene = loaded.job.scene()?;
    loaded.say_all(&loaded.job.needed_piece()?.shown_as_sawn(&scene), err);
    let bytes = gltf(&scene);
    let target = Target::named(&output_file(&asked.input, asked.out.as_deref(), "glb", &["glb"])?);
    write_all(&[(target.clone(), bytes)], out)?;
    Ok(told(&target, out)?)
}
