//! Records of prints: where one lies, and how it is read.

use super::files::{Files, Form, Output, Product};
use super::output::{Target, Trouble, is_kind};
use crate::change::{PRINTED, Record};
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::ffi::OsStr;
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

/// A record as it lies on the disk.
pub struct Lying {
    /// The PDF of the print.
    pub pdf: PathBuf,
    /// The record.
    pub record: Record,
    /// The digest of its bytes, by which a later one names it.
    pub digest: String,
}

impl Lying {
    fn of(pdf: &Path, path: &Path, bytes: &[u8]) -> Result<Lying, Trouble> {
        let digest = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        Ok(Lying { pdf: pdf.to_owned(), record: of_bytes(path, bytes)?, digest })
    }

    /// Whether this print says nothing any more beside another.
    pub fn is_told_by(&self, later: &Lying) -> bool {
        let record = &later.record;
        [&record.follows, &record.replaces].into_iter().flatten().any(|digest| *digest == self.digest)
    }
}

/// What the PDF of what changed ends with.
pub const CHANGED: &str = "changed.pdf";

/// So many prints of what changed may lie beside each other.
const MOST: usize = 99;

/// Where prints of what changed since that of the whole piece lie, one after the other: `table.changed.pdf`, `table.changed-2.pdf` and so on.
pub fn changed(whole: &Path) -> impl Iterator<Item = PathBuf> + '_ {
    let numbered = (2..=MOST).map(|nth| format!("changed-{nth}.pdf"));
    [CHANGED.to_owned()].into_iter().chain(numbered).map(|ending| whole.with_extension(ending))
}

/// Where the next print of what changed is put: never over one that may still have to go through the printer.
///
/// # Errors
/// Where there are as many as there may be.
pub fn next_changed(whole: &Path) -> Result<PathBuf, Trouble> {
    let is_free = |pdf: &PathBuf| fs::symlink_metadata(pdf).is_err() && fs::symlink_metadata(beside(pdf)).is_err();
    changed(whole).find(is_free).ok_or_else(|| {
        Trouble::new(format!(
            "{MOST} prints of what changed lie beside {}: clear away those that you printed, or name another file with -o",
            whole.display()
        ))
    })
}

/// Where prints of a piece lie beside its file, whatever they were named: those at their usual names first, then others that bear its title,
/// in the order of their names.
pub fn of_piece(file: &Path, title: Option<&str>, files: &Files) -> Vec<PathBuf> {
    let whole = file.with_extension("pdf");
    let usual: Vec<PathBuf> = std::iter::once(whole.clone()).chain(changed(&whole)).collect();
    let is_of_it = |lying: &Lying| Some(lying.record.piece.title.as_str()) == title;
    let named = otherwise_named(&whole, &usual, files).into_iter().filter(is_of_it).map(|lying| lying.pdf);
    usual.iter().cloned().chain(named).collect()
}

/// The prints of a piece that lie beside that of the whole piece, whatever they show and were named, in the order in which they were found:
/// those at their usual names, then others that say that they are of it, by their names.
pub fn beside_whole(whole: &Path, files: &Files) -> Vec<Lying> {
    let name = whole.file_name().and_then(OsStr::to_str);
    let usual: Vec<PathBuf> = std::iter::once(whole.to_owned()).chain(changed(whole)).collect();
    // Records of older programs do not say of what they are.
    let is_of_it = |lying: &Lying| lying.record.whole.as_deref().is_none_or(|of| Some(of) == name);
    let at_usual = usual.iter().filter_map(|pdf| left(pdf, files)).filter(is_of_it);
    let says_so = |lying: &Lying| lying.record.whole.is_some() && is_of_it(lying);
    at_usual.chain(otherwise_named(whole, &usual, files).into_iter().filter(says_so)).collect()
}

/// The last print of a piece, of those that lie beside that of the whole piece: what no other carries on.
pub fn last(whole: &Path, files: &Files) -> Option<Lying> {
    let all = beside_whole(whole, files);
    let at = (0..all.len())
        .rev()
        .find(|at| all.get(*at).is_some_and(|one| !all.iter().any(|other| one.is_told_by(other))));
    all.into_iter().nth(at?)
}

/// The last print that tells more than one that is named, of those that lie beside that of the whole piece.
pub fn later_than(named: &Lying, whole: &Path, files: &Files) -> Option<PathBuf> {
    let later = beside_whole(whole, files).into_iter().filter(|other| named.is_told_by(other));
    later.max_by_key(|other| other.record.follows.len()).map(|other| other.pdf)
}

/// The prints that lie beside that of a whole piece and not at its usual names, in the order of their names.
fn otherwise_named(whole: &Path, usual: &[PathBuf], files: &Files) -> Vec<Lying> {
    let folder = whole.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let lying = fs::read_dir(folder).into_iter().flatten().filter_map(|entry| Some(entry.ok()?.file_name()));
    let stem = |name: &OsStr| Some(name.to_str()?.strip_suffix(".printed.json")?.to_owned());
    let mut pdfs: Vec<PathBuf> = lying
        .filter_map(|name| stem(&name).map(|stem| whole.with_file_name(format!("{stem}.pdf"))))
        .filter(|pdf| !usual.contains(pdf))
        .collect();
    pdfs.sort_unstable();
    pdfs.iter().filter_map(|pdf| left(pdf, files)).collect()
}

/// The record beside a PDF, where print left one there.
pub fn left(pdf: &Path, files: &Files) -> Option<Lying> {
    let path = beside(pdf);
    Lying::of(pdf, &path, &files.left(&path, Product::Record)?).ok()
}

/// The record that a name leads to: a record itself, or the one beside the PDF that is named.
///
/// # Errors
/// Where there is none, or it is not as print writes one.
pub fn read(named: &Path, files: &Files) -> Result<Lying, Trouble> {
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
    Lying::of(named, &path, &bytes)
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
