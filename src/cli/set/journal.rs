//! The way back: a small file beside the project's that holds what each `set` replaced.
//!
//! It is kept as long as the file is what a `set` left; whoever changes the file otherwise cuts the way back off. It is written before
//! the file is, and of no step is it taken for granted that the file was written after all: the text says which of them led to it.

use crate::cli::args::Replace;
use crate::cli::files::{Files, Form, Output, Product};
use crate::cli::output::{Target, Trouble, pretty};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::io;
use std::path::{Path, PathBuf};

/// The most steps back that are kept.
const STEPS: usize = 100;

/// What one `set` did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The changes as they were made.
    pub changes: Vec<String>,
    /// The first byte that differs.
    at: usize,
    /// What stood there before, and since.
    old: String,
    new: String,
    /// The digest of the whole text since.
    after: String,
}

impl Step {
    /// The step from one text to another.
    pub fn between(before: &str, after: &str, changes: Vec<String>) -> Step {
        let is_cut = |at: &usize| before.is_char_boundary(*at) && after.is_char_boundary(*at);
        let same = before.bytes().zip(after.bytes()).take_while(|(a, b)| a == b).count();
        let at = (0..=same).rev().find(is_cut).unwrap_or(0);
        let most = before.len().min(after.len()) - at;
        let same = before.bytes().rev().zip(after.bytes().rev()).take_while(|(a, b)| a == b).count().min(most);
        let is_cut =
            |tail: &usize| before.is_char_boundary(before.len() - tail) && after.is_char_boundary(after.len() - tail);
        let tail = (0..=same).rev().find(is_cut).unwrap_or(0);
        let between = |text: &str| text.get(at..text.len() - tail).unwrap_or("").to_owned();
        Step { changes, at, old: between(before), new: between(after), after: digest(after) }
    }

    /// The text before the step; `None` where the text is not what the step left.
    pub fn taken_back(&self, text: &str) -> Option<String> {
        let (before, rest) = (text.get(..self.at)?, text.get(self.at..)?);
        let behind = rest.strip_prefix(self.new.as_str())?;
        (digest(text) == self.after).then(|| format!("{before}{}{behind}", self.old))
    }

    fn json(&self) -> Value {
        json!({ "changes": self.changes, "at": self.at, "old": self.old, "new": self.new, "after": self.after })
    }

    fn read(value: &Value) -> Option<Step> {
        let text = |name: &str| Some(value.get(name)?.as_str()?.to_owned());
        let changes = value.get("changes")?.as_array()?.iter().map(|change| Some(change.as_str()?.to_owned()));
        Some(Step {
            changes: changes.collect::<Option<Vec<String>>>()?,
            at: usize::try_from(value.get("at")?.as_u64()?).ok()?,
            old: text("old")?,
            new: text("new")?,
            after: text("after")?,
        })
    }
}

fn digest(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Where the way back of a file is kept.
pub fn path_of(file: &Path) -> PathBuf {
    let mut name = file.file_name().unwrap_or_default().to_owned();
    name.push(".undo");
    file.with_file_name(name)
}

/// The steps that lead to a text, the last one last; none where it was left by something else.
pub fn steps_to(files: &Files, file: &Path, text: &str) -> Vec<Step> {
    let value: Option<Value> =
        files.left(&path_of(file), Product::Journal).and_then(|bytes| serde_json::from_slice(&bytes).ok());
    let listed = value.as_ref().and_then(|value| value.get("steps")?.as_array());
    let steps: Option<Vec<Step>> = listed.into_iter().flatten().map(Step::read).collect();
    let mut steps = steps.unwrap_or_default();
    let now = digest(text);
    // Several may have left the same text: where the file was written as was meant, it is known how many stand.
    let meant = value.as_ref().and_then(|value| {
        let stand = usize::try_from(value.get("stand")?.as_u64()?).ok()?;
        (value.get("text")?.as_str()? == now).then_some(stand)
    });
    let left = || steps.iter().rposition(|step| step.after == now).map_or(0, |last| last + 1);
    steps.truncate(meant.unwrap_or_else(left));
    steps
}

/// The texts of a file before each step that led to one, the last before first; as many as are known.
pub fn texts_before(files: &Files, file: &Path, text: &str) -> Vec<String> {
    let steps = steps_to(files, file, text);
    let before = |text: &String, step: &Step| step.taken_back(text);
    let mut steps = steps.iter().rev();
    let first = steps.next().and_then(|step| before(&text.to_owned(), step));
    std::iter::successors(first, |text| before(text, steps.next()?)).collect()
}

/// Writes the steps down, and how many of them, the first, lead to the text as which the file is written next.
///
/// # Errors
/// Where it cannot be written, or something else stands there.
pub fn keep(files: &Files, file: &Path, steps: &[Step], (stand, text): (usize, &str)) -> Result<(), Trouble> {
    let path = path_of(file);
    let old = steps.len().saturating_sub(STEPS);
    let steps: Vec<Value> = steps.iter().skip(old).map(Step::json).collect();
    let bytes = pretty(&json!({ "steps": steps, "stand": stand.saturating_sub(old), "text": digest(text) }));
    let output = Output { target: Target::File(path), product: Product::Journal, form: Form::Json, bytes };
    files.write(vec![output], &Replace { force: false }, &mut io::sink()).map(|_| ())
}
