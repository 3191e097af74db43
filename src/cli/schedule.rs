//! `schedule`: what is made and how the saw is set for it.

use super::args::Schedule;
use super::files::{Files, Form, Output, Product};
use super::load::{Stopped, load};
use super::output::{Target, Trouble, harmless, is_kind, pretty};
use crate::schedule::{self, json, tables, text};
use crate::write::csv;
use clap::ValueEnum;
use clap::builder::PossibleValue;
use std::io::Write;

/// A form in which a schedule is said.
#[derive(Debug, Clone, Copy)]
pub struct ScheduleFormat {
    /// Its name after `--format`.
    name: &'static str,
    /// Whom it is for, as the help says it.
    about: &'static str,
    /// How names of such files end.
    ending: &'static str,
    /// Where its signature goes.
    form: Form,
    /// How it is written.
    bytes: fn(&schedule::Schedule) -> Vec<u8>,
}

/// Every form, the usual one first: the one place to add another.
const FORMATS: &[ScheduleFormat] = &[
    ScheduleFormat {
        name: "text",
        about: "For a person",
        ending: "txt",
        form: Form::Text,
        bytes: |schedule| harmless(&text(schedule)).into_bytes(),
    },
    ScheduleFormat {
        name: "csv",
        about: "For a table",
        ending: "csv",
        form: Form::Csv,
        bytes: |schedule| csv(&tables(schedule)).into_bytes(),
    },
    ScheduleFormat {
        name: "json",
        about: "For a script",
        ending: "json",
        form: Form::Json,
        bytes: |schedule| pretty(&json(schedule)),
    },
];

impl Default for ScheduleFormat {
    fn default() -> Self {
        FORMATS[0]
    }
}

impl ValueEnum for ScheduleFormat {
    fn value_variants<'a>() -> &'a [Self] {
        FORMATS
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.name).help(self.about))
    }
}

/// Runs `schedule`.
pub fn run(asked: &Schedule, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    named_as_said(asked)?;
    let loaded = load(&asked.input, files, err)?;
    let schedule = loaded.job.schedule()?;
    loaded.say_all(loaded.job.weighed_as_sawn()?, err);
    let ScheduleFormat { form, bytes, .. } = asked.format;
    let bytes = bytes(&schedule);
    let output = Output { target: Target::named(&asked.out), product: Product::Schedule, form, bytes };
    Ok(files.write(vec![output], &asked.replace, out)?.tell("", "", out)?)
}

/// How names of spreadsheets end, which a schedule is not: it is written as a table that they open.
const SPREADSHEETS: [&str; 4] = ["xlsx", "xls", "ods", "numbers"];

/// Refuses a schedule said in one way and named as another is. Text promises nothing: it may have any other name.
fn named_as_said(asked: &Schedule) -> Result<(), Trouble> {
    if SPREADSHEETS.iter().any(|ending| is_kind(&asked.out, ending)) {
        return Err(Trouble::new(format!(
            "{} promises a spreadsheet: say --format csv -o {}, which spreadsheets open",
            asked.out.display(),
            asked.out.with_extension("csv").display()
        )));
    }
    let other = |format: &&ScheduleFormat| {
        format.name != asked.format.name && format.form != Form::Text && is_kind(&asked.out, format.ending)
    };
    let Some(other) = FORMATS.iter().find(other) else { return Ok(()) };
    let (out, right) = (asked.out.display(), asked.out.with_extension(asked.format.ending));
    Err(Trouble::new(format!(
        "{out} promises {}: say --format {}, or name it {}",
        other.ending.to_uppercase(),
        other.name,
        right.display()
    )))
}
