//! Files written whole or not at all.

use super::args::Input;
use crate::page::{Document, Page};
use crate::write::{PdfOptions, SvgStyle, WriteError, pdf, svg};
use serde_json::Value;
use std::fmt;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// Where bytes go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    /// A file, replaced by renaming a finished one over it.
    File(PathBuf),
    /// Standard output.
    Stdout,
}

impl Target {
    /// What `-o OUT` names: `-` is standard output.
    pub fn named(out: &Path) -> Target {
        if out.as_os_str() == "-" { Target::Stdout } else { Target::File(out.to_owned()) }
    }
}

/// A file that could not be read or written, in plain words.
#[derive(Debug)]
pub struct Trouble(String);

impl Trouble {
    /// Trouble said in words of its own.
    pub fn new(words: impl Into<String>) -> Self {
        Trouble(words.into())
    }

    /// Why a path could not be read.
    pub fn reading(path: &Path, error: &io::Error) -> Self {
        Trouble(format!("cannot read {}: {}", path.display(), reason(error)))
    }

    /// Why a path could not be written. What stood there before is still there.
    pub fn writing(path: &Path, error: &io::Error) -> Self {
        Trouble(format!("cannot write {}: {}", path.display(), reason(error)))
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl From<WriteError> for Trouble {
    fn from(error: WriteError) -> Self {
        Trouble(error.to_string())
    }
}

fn reason(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file or folder".into(),
        io::ErrorKind::PermissionDenied => "you have no permission there".into(),
        io::ErrorKind::StorageFull => "the disk is full".into(),
        io::ErrorKind::QuotaExceeded => "your share of the disk is full".into(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk is read-only".into(),
        io::ErrorKind::IsADirectory => "that is a folder, not a file".into(),
        io::ErrorKind::NotADirectory => "part of that path is a file, not a folder".into(),
        _ => error.to_string(),
    }
}

/// Whether a file's name ends as one of some kinds of file does (`pdf`), in capitals or not.
pub fn is_kind(path: &Path, kind: &str) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(kind))
}

/// Refuses a name that promises another kind of file than those that can be written; a name without an ending promises none.
///
/// # Errors
/// Says which endings there are, with the name that would do.
pub fn keeps_promise(path: &Path, kinds: &[&str]) -> Result<(), Trouble> {
    let device = fs::metadata(path).is_ok_and(|known| !known.is_file());
    if path.extension().is_none() || device || kinds.iter().any(|kind| is_kind(path, kind)) {
        return Ok(());
    }
    let names: Vec<String> = kinds.iter().map(|kind| path.with_extension(kind).display().to_string()).collect();
    let all: Vec<String> = kinds.iter().map(|kind| kind.to_uppercase()).collect();
    Err(Trouble::new(format!(
        "this is written as {}, and {} promises something else; name it {}",
        all.join(" or "),
        path.display(),
        names.join(" or ")
    )))
}

/// Writes every file, or none: all are finished beside their places before the first is renamed into its own.
///
/// # Errors
/// Says which file could not be written and why; the files that stood there before are untouched (where only the last
/// step fails for a later file, the earlier ones are new and whole).
pub fn write_all(files: &[(Target, Vec<u8>)], stdout: &mut dyn Write) -> Result<(), Trouble> {
    let mut finished = Vec::new();
    for (target, bytes) in files {
        let Target::File(path) = target else { continue };
        // A symbolic link stays one: what it names is replaced.
        let place = fs::canonicalize(path).unwrap_or_else(|_| path.clone());
        let trouble = |error: &io::Error| Trouble::writing(path, error);
        match fs::metadata(&place) {
            Ok(kind) if kind.is_dir() => return Err(trouble(&io::ErrorKind::IsADirectory.into())),
            // A device or pipe cannot be replaced by a file.
            Ok(kind) if !kind.is_file() => fs::write(&place, bytes).map_err(|e| trouble(&e))?,
            Ok(kind) if kind.permissions().readonly() => {
                return Err(Trouble::new(format!("cannot write {}: the file is marked read-only", path.display())));
            }
            known => {
                let mut file = beside(&place).map_err(|e| trouble(&e))?;
                file.write_all(bytes).and_then(|()| file.as_file().sync_all()).map_err(|e| trouble(&e))?;
                if let Ok(known) = known {
                    file.as_file().set_permissions(known.permissions()).map_err(|e| trouble(&e))?;
                }
                finished.push((path, place, file));
            }
        }
    }
    for (path, place, file) in finished {
        file.persist(&place).map_err(|e| Trouble::writing(path, &e.error))?;
    }
    files.iter().filter(|(target, _)| *target == Target::Stdout).try_for_each(|(_, bytes)| say(stdout, bytes))
}

/// Writes to standard output; a reader that has gone away has had enough, which is no error.
///
/// # Errors
/// Says what else went wrong.
pub fn say(stdout: &mut dyn Write, bytes: &[u8]) -> Result<(), Trouble> {
    match stdout.write_all(bytes).and_then(|()| stdout.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Trouble(format!("cannot write to standard output: {}", reason(&error))))
        }
        _ => Ok(()),
    }
}

/// Says which file was written.
///
/// # Errors
/// As [`say`].
pub fn told(target: &Target, out: &mut dyn Write) -> Result<(), Trouble> {
    match target {
        Target::File(path) => say(out, format!("Wrote {}\n", path.display()).as_bytes()),
        Target::Stdout => Ok(()),
    }
}

/// `1 sheet`, `12 sheets`.
pub fn counted(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// The file asked for, or one beside the project file, named after it and the variant.
///
/// # Errors
/// Where that is one of the files that are read, or its name promises none of the kinds of file that can be written.
pub fn output_file(input: &Input, asked: Option<&Path>, extension: &str, kinds: &[&str]) -> Result<PathBuf, Trouble> {
    let own = || match &input.variant {
        Some(variant) => {
            // A name may hold anything; a file's name may not.
            let plain: String = variant.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
            input.file.with_extension(format!("{plain}.{extension}"))
        }
        None => input.file.with_extension(extension),
    };
    let output = asked.map_or_else(own, Path::to_path_buf);
    let same = |read: &Path| match (read.canonicalize(), output.canonicalize()) {
        (Ok(read), Ok(output)) => read == output,
        _ => false,
    };
    if same(&input.file) || input.shop.as_deref().is_some_and(same) {
        return Err(Trouble::new(format!(
            "{} is the file that the numbers come from, and would be lost; name another with -o",
            output.display()
        )));
    }
    asked.map_or(Ok(()), |asked| keeps_promise(asked, kinds))?;
    Ok(output)
}

/// A JSON text with a last line end.
pub fn pretty(value: &Value) -> Vec<u8> {
    format!("{value:#}\n").into_bytes()
}

/// A document as PDF.
///
/// # Errors
/// Where it cannot be written.
pub fn pdf_bytes(document: &Document) -> Result<Vec<u8>, Trouble> {
    Ok(pdf(document, &PdfOptions::default())?)
}

/// Some pages of a document as SVG, one after the other.
///
/// # Errors
/// Where one cannot be written.
pub fn svg_bytes(document: &Document, pages: &[Page], style: SvgStyle) -> Result<Vec<u8>, Trouble> {
    let pages = pages.iter().map(|page| svg(document, page, style));
    Ok(pages.collect::<Result<String, _>>()?.into_bytes())
}

/// The program's name as it was typed, so that a command which is proposed can be typed as it stands.
pub fn program() -> String {
    std::env::args_os().next().map_or_else(|| "fullsize".to_owned(), |name| name.to_string_lossy().into_owned())
}

/// A file's name as it must be typed: quoted where a shell would break it.
pub fn typed(path: &Path) -> String {
    let name = path.display().to_string();
    if name.contains([' ', '\'', '(', ')', '&']) { format!("\"{name}\"") } else { name }
}

/// An unfinished file in the folder where the finished one will stand, so that renaming it never copies.
fn beside(place: &Path) -> io::Result<NamedTempFile> {
    let folder = match place.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".fullsize-").suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // As any new file: the user's mask takes away what it should.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder)
}
