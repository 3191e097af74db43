//! Project files that lie at hand, for whoever named none, or one that is not there.

use super::{folder_of, here};
use crate::cli::output::Trouble;
use std::fs;
use std::path::{Path, PathBuf};

/// The most files that are named.
const NAMED: usize = 8;

/// The largest file that is looked into, bytes: larger ones are rarely written by hand.
const LOOKED_INTO: u64 = 1 << 20;

/// The project files of a folder in words to go on with; empty where there are none.
pub fn projects_in(folder: &Path) -> String {
    let names: Vec<String> = projects(folder).iter().map(|path| path.display().to_string()).collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => format!("; there is {}", in_shell(one)),
        several => {
            let named: Vec<String> = several.iter().take(NAMED).map(|name| in_shell(name)).collect();
            let more = if several.len() > NAMED { " and more" } else { "" };
            format!("; there are {}{more}", named.join(", "))
        }
    }
}

/// The paths of the project files of a folder, in the order of their names.
fn projects(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(here(folder)).into_iter().flatten().flatten();
    let mut paths: Vec<PathBuf> =
        entries.filter(|entry| is_project(&entry.path())).map(|entry| folder.join(entry.file_name())).collect();
    paths.sort();
    paths
}

/// The project file of the folder we are in, where there is just one.
///
/// # Errors
/// Which there are, in words to go on with.
pub fn only_project() -> Result<PathBuf, String> {
    match projects(Path::new("")).as_slice() {
        [only] => Ok(only.clone()),
        _ => Err(projects_in(Path::new(""))),
    }
}

/// The project files beside a file that is not there.
pub fn projects_beside(path: &Path) -> String {
    match path.parent().is_none_or(|parent| parent.as_os_str().is_empty()) {
        true => projects_in(Path::new("")),
        false => projects_in(folder_of(path)),
    }
}

/// How files begin that are made of a project, and what they are.
const MADE: [(&[u8], &str); 4] = [
    (b"%PDF", "a PDF"),
    (b"<", "a drawing (SVG)"),
    (b"glTF", "a model (glTF)"),
    (b"PK", "an archive, or a spreadsheet"),
];

/// Refuses what a project is made into, or is packed in, where the project is wanted.
///
/// # Errors
/// Says what it is, and which projects are at hand.
pub fn is_text_of_numbers(path: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    let start = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes).trim_ascii_start();
    let Some((_, what)) = MADE.iter().find(|(begins, _)| start.starts_with(begins)) else { return Ok(()) };
    Err(Trouble::new(format!(
        "{} is {what}, not the file of a piece, whose numbers are written in JSON{}",
        path.display(),
        projects_beside(path)
    )))
}

/// The file that a blank in its name has parted into two words of a command line, `second` being the later one; `None` where
/// no two words make the name of a file.
pub fn parted_by_a_blank(words: &[String], second: &str) -> Option<String> {
    let at = words.iter().rposition(|word| word == second)?;
    let named = (0..at).rev().map(|from| words.get(from..=at).unwrap_or(&[]).join(" "));
    named.map(PathBuf::from).find(|path| path.is_file()).map(|path| path.display().to_string())
}

/// Whether a file is a project of ours: JSON with the format's number and a title.
fn is_project(path: &Path) -> bool {
    let is_small = fs::metadata(path).is_ok_and(|known| known.is_file() && known.len() <= LOOKED_INTO);
    if !is_small || path.extension().is_none_or(|ending| ending != "json") {
        return false;
    }
    let text = fs::read(path).unwrap_or_default();
    let text = text.strip_prefix("\u{feff}".as_bytes()).unwrap_or(&text);
    let file: Option<serde_json::Value> = serde_json::from_slice(text).ok();
    file.is_some_and(|file| file.get("fullsize").is_some() && file.get("title").is_some())
}

/// A name as it is written on a command line.
fn in_shell(name: &str) -> String {
    if name.contains(' ') { format!("\"{name}\"") } else { name.to_owned() }
}
