//! `schedule`: what is made and how the saw is set for it.

use super::args::{Schedule, ScheduleFormat};
use super::load::{Stopped, load};
use super::output::{Target, Trouble, is_kind, pretty, told, write_all};
use crate::schedule::{json, tables, text};
use crate::write::csv;
use std::io::Write;

/// Runs `schedule`.
pub fn run(asked: &Schedule, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    named_as_said(asked)?;
    let loaded = load(&asked.input, err)?;
    loaded.say_piece(err);
    let schedule = loaded.job.schedule()?;
    loaded.say_all(&schedule.piece.weighed_as_sawn(), err);
    let bytes = match asked.format {
        ScheduleFormat::Text => text(&schedule).into_bytes(),
        ScheduleFormat::Csv => csv(&tables(&schedule)).into_bytes(),
        ScheduleFormat::Json => pretty(&json(&schedule)),
    };
    let target = Target::named(&asked.out);
    write_all(&[(target.clone(), bytes)], out)?;
    Ok(told(&target, out)?)
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
