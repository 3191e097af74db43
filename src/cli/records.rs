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
    let bytes = files.record(&path).map_err(|trouble| match path.exists() || path == named {
        true => trouble,
        false => Trouble::new(format!(
            "beside {} lies no {}, by which a print is known: keep both together; print writes both, other commands none",
            named.display(),
            path.display()
        )),
    })?;
    if is_json(&bytes) && !is_record(&bytes) && is_kind(named, "json") {
        return Err(Trouble::new(format!(
            "{} is no record of a print: name the PDF that was printed of the piece, beside which its record lies",
            named.display()
        )));
    }
    of_bytes(&path, &bytes)
}

/// The record beside a PDF that a new print takes the place of, where print left one there.
pub fn left_beside(pdf: &Path, files: &Files) -> Option<Record> {
    let path = beside(pdf);
    of_bytes(&path, &files.left(&path, Product::Record)?).ok()
}

fn is_json(bytes: &[u8]) -> bool {
    serde_json::from_slice::<Value>(bytes).is_ok_and(|value| value.is_object())
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
