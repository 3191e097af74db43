//! `check`: everything that is wrong, in one go.

use super::args::{Check, Format};
use super::files::Files;
use super::load::{Stopped, colour, reading};
use super::output::{counted, pretty, say};
use super::report;
use crate::finding::{Cure, Cures, Finding, stops};
use crate::job::Job;
use crate::project::edit::{offer_limits, set};
use crate::project::{Reading, Sources, read};
use std::io::Write;

/// Takes out the limits with which the file can be read and something stops its piece: they are where a number may begin, and no
/// cure.
fn hold_limits(findings: &mut [Finding], sources: &Sources) {
    let (Some(file), notation) = (sources.files().first(), sources.notation()) else { return };
    for finding in findings {
        let stops = |cure: &Cure| {
            let changes: Vec<String> = cure.settings.iter().map(|setting| setting.change(&notation)).collect();
            let changes: Vec<&str> = changes.iter().map(String::as_str).collect();
            let changed = set("", &file.text, &changes).ok();
            let project = changed.and_then(|text| read("", text.as_bytes(), None, None).project);
            project.is_some_and(|project| Job::new(project).stops())
        };
        if finding.cures.all().iter().any(stops) {
            finding.cures = Cures::None;
        }
    }
}

/// Runs `check`.
pub fn run(asked: &Check, files: &Files, out: &mut dyn Write) -> Result<(), Stopped> {
    let Reading { project, mut findings, sources } = reading(&asked.input, files)?;
    if asked.format == Format::Json && asked.input.shop.is_none() && asked.input.variant.is_none() {
        offer_limits(&mut findings, &sources);
        hold_limits(&mut findings, &sources);
    }
    let job = project.map(Job::new);
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
