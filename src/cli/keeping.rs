//! The wood of parts that exist, which `made` keeps beside a piece's file, and what becomes of these parts.

use super::files::{Files, Form, Output, Product, is_dash};
use super::output::{Target, Trouble, pretty};
use crate::change::{Kept, Snapshot, Verdicts};
use crate::finding::Finding;
use crate::job::Job;
use crate::model::Project;
use serde_json::Value;
use std::path::{Path, PathBuf};

/// Where the wood of a file's made parts is kept: beside it.
pub fn beside(file: &Path) -> PathBuf {
    file.with_extension("made.json")
}

/// What is kept beside a file; nothing where there is no such file.
///
/// # Errors
/// Where what lies there cannot be read, or is not as `made` writes it.
pub fn read(file: &Path, files: &Files) -> Result<Kept, Trouble> {
    let path = beside(file);
    if is_dash(file) || !path.exists() {
        return Ok(Kept::default());
    }
    let bytes = files.record(&path)?;
    let (name, again) = (
        path.display(),
        "fullsize made FILE PART writes one; where this one is spoilt, put it aside and say again what is made",
    );
    let value: Value = serde_json::from_slice(&bytes)
        .map_err(|error| Trouble::new(format!("{name} does not hold what made keeps ({error}); {again}")))?;
    Kept::read(&value).map_err(|torn| {
        let place = if torn.at.is_empty() { String::new() } else { format!(" at {}", torn.at) };
        Trouble::new(format!("{name} does not hold what made keeps{place}: {}; {again}", torn.why))
    })
}

/// As [`read`], for a project; nothing is looked for where it says of no part that it exists.
///
/// # Errors
/// As [`read`].
pub fn of(project: Option<&Project>, file: &Path, files: &Files) -> Result<Kept, Trouble> {
    match project.is_some_and(|project| !project.made.is_empty()) {
        true => read(file, files),
        false => Ok(Kept::default()),
    }
}

/// What is kept, to be written beside a file.
pub fn output(file: &Path, kept: &Kept) -> Output {
    Output {
        target: Target::File(beside(file)),
        product: Product::Kept,
        form: Form::Json,
        bytes: pretty(&kept.json()),
    }
}

/// What becomes of the parts that exist, as findings; their patterns say so from now on.
pub fn told(job: &mut Job, kept: &Kept) -> Vec<Finding> {
    let verdicts = verdicts(job, kept);
    let notation = job.project().notation.clone();
    job.mark_made(verdicts.marks(&notation));
    verdicts.findings
}

/// What becomes of the parts that exist; nothing where the piece cannot be made.
pub fn verdicts(job: &Job, kept: &Kept) -> Verdicts {
    let project = job.project();
    if project.made.is_empty() {
        return Verdicts::default();
    }
    match Snapshot::of(job) {
        Ok(now) => Verdicts::of(&project.made, kept, &now, &project.notation),
        Err(_) => Verdicts::default(),
    }
}
