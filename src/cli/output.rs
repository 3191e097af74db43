//! What commands write, as bytes, and under which name; the files themselves are made in [`super::files`].

use super::args::Input;
use super::files::{Files, is_dash};
use crate::finding::quoted;
use crate::job::{PaperCount, Sheets};
use crate::page::{Document, Lettering, Page, shown};
use crate::write::{PdfOptions, SvgStyle, WriteError, pdf, pdf_of_pages, svg};
use serde_json::Value;
use std::borrow::Cow;
use std::fmt;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

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
        if is_dash(out) { Target::Stdout } else { Target::File(out.to_owned()) }
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

    /// The same trouble, with words behind it.
    pub fn and(self, words: &str) -> Self {
        Trouble(format!("{}{words}", self.0))
    }

    /// The same trouble, with what was done before it came.
    pub fn although(self, done: &str) -> Self {
        Trouble(format!("{}; {done}", self.0))
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&harmless(&self.0))
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

/// `1 sheet`, `12 sheets`.
pub fn counted(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// How many sheets there are: `38 sheets`, `38 sheets (46 to print: of some several are wanted)`.
pub fn sheets_told(PaperCount { sheets, printed, .. }: PaperCount) -> String {
    match printed == sheets {
        true => counted(sheets, "sheet"),
        false => format!("{} ({printed} to print: of some several prints are wanted)", counted(sheets, "sheet")),
    }
}

/// Which patterns are left out and why, and how they are printed all the same; empty where none is.
pub fn left_out(why: &str, names: &[String]) -> String {
    let names: Vec<String> = names.iter().map(|name| quoted(name)).collect();
    match names.is_empty() {
        true => String::new(),
        false => {
            format!("{why}, so left out: {}; --pattern with a name prints one all the same.\n", names.join(", "))
        }
    }
}

/// As [`left_out`], of parts that hang on a number that is not decided.
pub fn held_words(names: &[String]) -> String {
    left_out("Held back until what they hang on is decided", names)
}

/// The file asked for, or one beside the project file, named after it and the variant.
///
/// # Errors
/// Where it is one of the files that were read, or its name promises none of the kinds of file that can be written; and where it would have no name of its own: the
/// numbers come from standard input, or another variant would be written under the same name.
pub fn output_file(
    (input, files): (&Input, &Files),
    variants: &[String],
    asked: Option<&Path>,
    extension: &str,
    kinds: &[&str],
) -> Result<PathBuf, Trouble> {
    if let Some(asked) = asked {
        files.was_not_read(asked)?;
        keeps_promise(asked, kinds)?;
        return Ok(asked.to_owned());
    }
    if is_dash(&input.file) {
        return Err(Trouble::new(
            "standard input has no name to write beside: name a file with -o (-o - is standard output)",
        ));
    }
    let own = |variant: &str| input.file.with_extension(format!("{}.{extension}", plain(variant)));
    let Some(variant) = &input.variant else { return Ok(input.file.with_extension(extension)) };
    // Small letters and capitals are one on many disks.
    let as_a_file = |name: &str| plain(name).to_lowercase();
    match variants.iter().find(|other| *other != variant && as_a_file(other) == as_a_file(variant)) {
        Some(other) => Err(Trouble::new(format!(
            "the variants \"{variant}\" and \"{other}\" would both be written as {}: name a file with -o",
            own(variant).display()
        ))),
        None => Ok(own(variant)),
    }
}

/// A name as part of a file's, which may not hold everything.
pub fn plain(name: &str) -> String {
    name.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect()
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

/// Sheets as PDF, with the words that need it set in the font that is named.
///
/// # Errors
/// Where they cannot be written.
pub fn sheets_bytes(sheets: &Sheets, lettering: Option<&Lettering>) -> Result<Vec<u8>, Trouble> {
    let set = |mut page: Cow<Page>| {
        lettering.iter().for_each(|lettering| lettering.set_page(page.to_mut()));
        page.into_owned()
    };
    let pages = sheets.pages().map(|page| Cow::Owned(set(page)));
    Ok(pdf_of_pages(sheets.title(), pages, &PdfOptions::default())?)
}

/// A document with the words that need it set in the font that is named.
pub fn lettered<'d>(document: &'d Document, lettering: Option<&Lettering>) -> Cow<'d, Document> {
    lettering.map_or(Cow::Borrowed(document), |lettering| Cow::Owned(lettering.set(document)))
}

/// Words of a file as a terminal may be given them: without characters that control it or turn the direction of what follows.
pub fn harmless(words: &str) -> String {
    words.split('\n').map(|line| shown(line).collect::<String>()).collect::<Vec<String>>().join("\n")
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

/// A file's name as it must be typed.
pub fn typed(path: &Path) -> String {
    typed_word(&path.display().to_string())
}

/// A word as it must be typed: quoted where a shell would break it, or read more in it than its letters.
pub fn typed_word(word: &str) -> String {
    // A name of a file has these on one platform, and a shell reads them on the others.
    let backslash = if cfg!(windows) { None } else { Some('\\') };
    let breaks = |c: char| c.is_whitespace() || "'()&;|<>*?[]{}#~".contains(c);
    // Within double quotes, which every shell takes, these are read still.
    let is_read = |c: char| "\"$`!".contains(c) || Some(c) == backslash;
    match () {
        () if word.contains(is_read) => format!("'{}'", word.replace('\'', r"'\''")),
        () if word.is_empty() || word.contains(breaks) => format!("\"{word}\""),
        () => word.to_owned(),
    }
}
