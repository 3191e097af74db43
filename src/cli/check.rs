//! `check`: everything that is wrong, in one go.

use super::args::{Check, Format};
use super::load::{Stopped, colour, reading};
use super::output::say;
use super::print::{counted, pretty};
use super::report;
use crate::finding::stops;
use std::io::Write;

/// Runs `check`.
pub fn run(asked: &Check, out: &mut dyn Write) -> Result<(), Stopped> {
    let reading = reading(&asked.input)?;
    let bytes = match asked.format {
        Format::Json => pretty(&report::json(&reading.findings, &reading.sources)),
        Format::Text => {
            let mut text = report::text(&reading.findings, &reading.sources, colour(std::io::stdout()));
            if let (true, Some(project)) = (reading.findings.is_empty(), &reading.project) {
                text = format!("No problems: {} ready to print.\n", counted(project.patterns.len(), "pattern"));
            }
            text.into_bytes()
        }
    };
    say(out, &bytes)?;
    if stops(&reading.findings) { Err(Stopped::ByFinding) } else { Ok(()) }
}
