//! Records of prints: where one lies, and how it is read.

use super::files::{Files, Form, Output, Product};
use super::output::{Target, Trouble, is_kind};
use crate::change::{PRINTED, Record};
use serde_json::Value;
use sha2::{Digest, Sha256};
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
    /// The record.
    pub record: Record,
    /// The digest of its bytes, by which a later one names it.
    pub digest: String,
}

impl Lying {
    fn of(path: &Path, bytes: &[u8]) -> Result<Lying, Trouble> {
        let digest = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        Ok(Lying { record: of_bytes(path, bytes)?, digest })
    }
}

/// The print that tells most of what lies on the bench, of those that lie where print puts them: of the whole piece, and of what changed
/// since. Those that carry the other on go before it, and of them that which carries on most.
pub fn latest(whole: &Path, files: &Files) -> Option<PathBuf> {
    let of_whole = left(whole, files);
    let carries_on = |later: &Record| of_whole.as_ref().is_none_or(|whole| later.follows.contains(&whole.digest));
    last_changed(whole, files, carries_on).or_else(|| of_whole.is_some().then(|| whole.to_owned()))
}

/// A print that carries on the one that is named, of those that lie where print puts them.
pub fn later_than(named: &Lying, whole: &Path, files: &Files) -> Option<PathBuf> {
    let carries_on = |later: &Record| later.follows.contains(&named.digest);
    let of_whole = || left(whole, files).filter(|whole| carries_on(&whole.record)).map(|_| whole.to_owned());
    last_changed(whole, files, carries_on).or_else(of_whole)
}

/// Of the prints of what changed those that are wanted, and of them that which carries on the most prints.
fn last_changed(whole: &Path, files: &Files, is_wanted: impl Fn(&Record) -> bool) -> Option<PathBuf> {
    let all = changed(whole).enumerate().filter_map(|(nth, pdf)| {
        let record = left(&pdf, files)?.record;
        is_wanted(&record).then_some((record.follows.len(), nth, pdf))
    });
    all.max_by_key(|(follows, nth, _)| (*follows, *nth)).map(|(.., pdf)| pdf)
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
    let mut all: Vec<PathBuf> = std::iter::once(whole.clone()).chain(changed(&whole)).collect();
    let folder = file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let lying = fs::read_dir(folder).into_iter().flatten().filter_map(|entry| Some(entry.ok()?.file_name()));
    let mut named: Vec<PathBuf> = lying
        .filter_map(|name| {
            name.to_str()?.strip_suffix(".printed.json").map(|stem| file.with_file_name(format!("{stem}.pdf")))
        })
        .filter(|pdf| !all.contains(pdf))
        .collect();
    named.sort_unstable();
    let is_of_it =
        |pdf: &PathBuf| left(pdf, files).is_some_and(|lying| Some(lying.record.piece.title.as_str()) == title);
    all.extend(named.into_iter().filter(is_of_it));
    all
}

/// The record beside a PDF, where print left one there.
pub fn left(pdf: &Path, files: &Files) -> Option<Lying> {
    let path = beside(pdf);
    Lying::of(&path, &files.left(&path, Product::Record)?).ok()
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
    Lying::of(&path, &bytes)
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
