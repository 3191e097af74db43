//! `check`: everything that is wrong, in one go.

use super::args::{Check, Format};
use super::files::Files;
use super::load::{Stopped, colour, reading};
use super::output::{counted, pretty, say};
use super::report;
use crate::finding::stops;
use crate::job::Job;
use crate::project::Reading;
use std::io::Write;

/// Runs `check`.
pub fn run(asked: &Check, files: &Files, out: &mut dyn Write) -> Result<(), Stopped> {
    let Reading { project, mut findings, sources } = reading(&asked.input, files)?;
    let mut job = project.map(Job::new);
    // Patterns are counted here, and no code is shown.
    job.iter_mut().for_each(Job::spare_codes);
    findings.extend(job.iter().flat_map(Job::cured_findings).cloned());
    let bytes = match (asked.format, &job) {
        (Format::Json, _) => pretty(&report::json(&findings, &sources)),
        (Format::Text, Some(job)) if findings.is_empty() => {
            format!("No problems: {} ready to print.\n", counted(job.patterns()?.len(), "pattern")).into_bytes()
        }
        (Format::Text, _) => report::text(&findings, &sources, colour(std::io::stdout())).into_bytes(),
    };
    say(out, &bytes)?;
    if stops(&findings) { Err(Stopped::ByFinding) } else { Ok(()) }
}
