//! `effects`: by how much each part follows each number, and which to cut last.

use super::args::{Effects as Asked, Format};
use super::files::Files;
use super::load::{Stopped, load};
use super::output::{harmless, pretty, say};
use crate::effects::{Effects, json, words};
use std::io::Write;

/// Runs `effects`.
pub fn run(asked: &Asked, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let job = load(&asked.input, files, err)?.job;
    let effects = Effects::of(&job)?;
    let bytes = match asked.format {
        Format::Json => pretty(&json(&effects, job.heading())),
        Format::Text => harmless(&words(&effects, job.heading(), &job.project().notation)).into_bytes(),
    };
    Ok(say(out, &bytes)?)
}
