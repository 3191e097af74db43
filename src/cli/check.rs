//! `check`: everything that is wrong, in one go.

use super::args::{Check, Format};
use super::load::{Stopped, colour, reading};
use super::output::say;
use super::piece::{all_patterns, findings_of, solved};
use super::print::{counted, pretty};
use super::report;
use crate::finding::stops;
use crate::model::Project;
use std::io::Write;

/// Runs `check`.
pub fn run(asked: &Check, out: &mut dyn Write) -> Result<(), Stopped> {
    let mut reading = reading(&asked.input)?;
    if let Some(project) = &reading.project {
        reading.findings.extend(findings_of(project));
    }
    let bytes = match asked.format {
        Format::Json => pretty(&report::json(&reading.findings, &reading.sources)),
        Format::Text => {
            let mut text = report::text(&reading.findings, &reading.sources, colour(std::io::stdout()));
            if let (true, Some(project)) = (reading.findings.is_empty(), &reading.project) {
                text = format!("No problems: {} ready to print.\n", counted(ready(project), "pattern"));
            }
            text.into_bytes()
        }
    };
    say(out, &bytes)?;
    if stops(&reading.findings) { Err(Stopped::ByFinding) } else { Ok(()) }
}

/// How many patterns there are to print.
fn ready(project: &Project) -> usize {
    let piece = solved(project).ok().flatten();
    all_patterns(project, piece.as_ref()).len()
}
