//! Records of prints: where one lies, and how it is read.

use super::files::{Files, Form, Output, Product};
use super::output::{Target, Trouble, is_kind};
use crate::change::{PRINTED, Record};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

/// Where the record of a print lies: beside its PDF.
pub fn beside(pdf: &Path) -> PathBuf {
    pdf.with_extension("printed.json")
}

/// Whether a record goes with what is written there: nothing lies beside standard output, a pipe or a device.
pub fn stands_beside(target: &Target) -> bool {
    match target {
        Target::Stdout => false,
        Target::File(path) => fs::metadata(path).map_or(true, |known| known.is_file()),
    }
}

/// The record of a print, to be written beside its PDF.
pub fn output(pdf: &Path, record: &Record) -> Output {
    let mut bytes = record.json().to_string().into_bytes();
    bytes.push(b'\n');
    Output { target: Target::File(beside(pdf)), product: Product::Record, form: Form::Json, bytes }
}

/// The record that a name leads to: a record itself, or the one beside the PDF that is named.
///
/// # Errors
/// Where there is none, or it is not as print writes one.
pub fn read(named: &Path, files: &Files) -> Result<Record, Trouble> {
    let path = if is_kind(named, "pdf") { beside(named) } else { named.to_owned() };
    of_bytes(&path, &files.record(&path)?)
}

/// Whether some bytes are a record and not a project: no project has its first member.
pub fn is_record(bytes: &[u8]) -> bool {
    let known: Option<Value> = serde_json::from_slice(bytes).ok();
    known.is_some_and(|value| value.get(PRINTED).is_some())
}

/// The record in the bytes of a file.
///
/// # Errors
/// Where they are none.
pub fn of_bytes(path: &Path, bytes: &[u8]) -> Result<Record, Trouble> {
    let name = path.display();
    let again = "print writes one beside every PDF; where this one is spoilt, print all sheets again";
    let value: Value = serde_json::from_slice(bytes)
        .map_err(|error| Trouble::new(format!("{name} is no record of a print ({error}); {again}")))?;
    Record::read(&value).map_err(|torn| {
        let place = if torn.at.is_empty() { String::new() } else { format!(" at {}", torn.at) };
        Trouble::new(format!("{name} is no record of a print{place}: {}; {again}", torn.why))
    })
}
