//! `schedule`: what is made and how the saw is set for it.

use super::args::{Schedule, ScheduleFormat};
use super::files::{Files, Form, Output, Product};
use super::load::{Stopped, load};
use super::output::{Target, Trouble, harmless, is_kind, pretty};
use crate::schedule::{json, tables, text};
use crate::write::csv;
use std::io::Write;

/// Runs `schedule`.
pub fn run(asked: &Schedule, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    named_as_said(asked)?;
    let loaded = load(&asked.input, files, err)?;
    let schedule = loaded.job.schedule()?;
    loaded.say_all(&schedule.piece.weighed_as_sawn(), err);
    let (form, bytes) = match asked.format {
        ScheduleFormat::Text => (Form::Text, harmless(&text(&schedule)).into_bytes()),
        ScheduleFormat::Csv => (Form::Csv, csv(&tables(&schedule)).into_bytes()),
        ScheduleFormat::Json => (Form::Json, pretty(&json(&schedule))),
    };
    let output = Output { target: Target::named(&asked.out), product: Product::Schedule, form, bytes };
    Ok(files.write(vec![output], &asked.replace, out)?.tell("", "", out)?)
}

/// Refuses a schedule said in one way and named as another is.
fn named_as_said(asked: &Schedule) -> Result<(), Trouble> {
    let own = match asked.format {
        ScheduleFormat::Text => "txt",
        ScheduleFormat::Csv => "csv",
        ScheduleFormat::Json => "json",
    };
    let other = ["csv", "json"].into_iter().find(|kind| *kind != own && is_kind(&asked.out, kind));
    let Some(other) = other else { return Ok(()) };
    let (out, right) = (asked.out.display(), asked.out.with_extension(own));
    Err(Trouble::new(format!(
        "{out} promises {}: say --format {other}, or name it {}",
        other.to_uppercase(),
        right.display()
    )))
}
