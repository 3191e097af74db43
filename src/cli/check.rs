//! `check`: everything that is wrong, in one go.

use super::args::{Check, Format};
use super::files::{Files, ReadAs};
use super::keeping;
use super::load::{Stopped, colour, mend_by_sizes, own_shop_words, reading};
use super::output::{counted, pretty, say};
use super::report;
use crate::finding::{Finding, stops};
use crate::job::Job;
use crate::project::{Reading, Sources, is_shop, read_shop};
use std::io::Write;

/// Runs `check`.
pub fn run(asked: &Check, files: &Files, out: &mut dyn Write) -> Result<(), Stopped> {
    let text = files.bytes(&asked.input.file, ReadAs::Project)?;
    if is_shop(&text) {
        return shop_file(asked, &text, out);
    }
    let Reading { project, mut findings, sources } = reading(&asked.input, files)?;
    let kept = keeping::of(project.as_ref(), &asked.input.file, files)?;
    let mut job = project.map(Job::new);
    // Patterns are counted here, and no code is shown.
    job.iter_mut().for_each(Job::spare_codes);
    findings.extend(job.iter().flat_map(Job::cured_findings).cloned());
    findings.extend(job.iter_mut().flat_map(|job| keeping::told(job, &kept)));
    mend_by_sizes(&mut findings, &sources, &asked.input, files);
    let own = own_shop_words(&sources, files);
    let told = match &job {
        Some(job) if findings.is_empty() => {
            format!("{own}No problems: {} ready to print.\n", counted(job.patterns()?.len(), "pattern"))
        }
        _ => own,
    };
    tell(asked, told, &findings, &sources, out)
}

/// Checks a shop file by itself.
fn shop_file(asked: &Check, text: &[u8], out: &mut dyn Write) -> Result<(), Stopped> {
    let Reading { findings, sources, .. } = read_shop(&asked.input.file.to_string_lossy(), text);
    let told = if findings.is_empty() { "No problems: a shop file, which holds no piece.\n" } else { "" };
    tell(asked, told.to_owned(), &findings, &sources, out)
}

/// Says words and findings as they are asked for; scripts are told the findings alone.
fn tell(
    asked: &Check,
    words: String,
    findings: &[Finding],
    sources: &Sources,
    out: &mut dyn Write,
) -> Result<(), Stopped> {
    let bytes = match asked.format {
        Format::Json => pretty(&report::json(findings, sources)),
        Format::Text => format!("{words}{}", report::text(findings, sources, colour(std::io::stdout()))).into_bytes(),
    };
    say(out, &bytes)?;
    if stops(findings) { Err(Stopped::ByFinding) } else { Ok(()) }
}
