//! `order`: in which order parts are worked, and from what each step is set out.

use super::args::{Format, Order as Asked};
use super::files::Files;
use super::load::{Stopped, load};
use super::output::{harmless, pretty, say};
use crate::order::{Plan, json, words};
use std::io::Write;

/// Runs `order`.
pub fn run(asked: &Asked, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let loaded = load(&asked.input, files, err)?;
    let job = &loaded.job;
    let plan = Plan::of(job)?;
    loaded.say_all(&plan.findings(), err);
    let (piece, notation) = (job.piece()?, &job.project().notation);
    let bytes = match asked.format {
        Format::Json => pretty(&json(&plan, piece, job.heading(), notation)),
        Format::Text => harmless(&words(&plan, piece, job.heading(), notation)).into_bytes(),
    };
    Ok(say(out, &bytes)?)
}
