//! What a file of ours says of itself: which command wrote it, and a digest of its bytes, so that a file that somebody has
//! changed since is theirs.
//!
//! Each format carries it where its readers pay it no heed: a PDF as a comment before `startxref`, SVG as a comment behind the
//! drawing, JSON as a first member, glTF in the `extras` that the standard leaves to writers, a manual page as a comment, text and
//! CSV as a last line behind an empty one.

use sha2::{Digest, Sha256};
use std::fs;
use std::io::{self, Read, Seek, SeekFrom};
use std::path::Path;

/// What stands before and behind the digest.
const BEFORE: &str = " (sha256 ";
const BEHIND: &str = ")";
/// What stands before the command.
const PROGRAM: &str = "fullsize ";
/// Digits of a digest.
const DIGITS: usize = 64;
/// What stands in a digest's place while it is taken.
const BLANK: u8 = b'0';
/// How far from the beginning or the end of a file a signature lies at most, bytes.
const REACH: usize = 512;

/// What a command writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Product {
    /// The sheet to try a printer with.
    Proof,
    /// Sheets that tape up true.
    Sheets,
    /// Their list.
    SheetList,
    /// What they showed.
    Record,
    /// The wood of parts that exist.
    Kept,
    /// What differs between two pieces.
    Comparison,
    /// Parts for a piece as it stands.
    AsBuilt,
    /// The strip of a pinch rod.
    PinchRod,
    /// What would save parts that exist.
    Shims,
    /// Patterns for a plotter.
    Plot,
    /// Views, or the rod.
    Drawing,
    /// One sheet of a drawing as a file of its own, counted from 1.
    DrawnSheet(usize),
    /// One picture of a piece or its parts.
    Picture,
    /// What the sizes of a new file mean.
    Sizes,
    /// What `set` replaced, to be taken back.
    Journal,
    /// The schedule.
    Schedule,
    /// The piece in space.
    Model,
    /// The description of the file.
    Schema,
    /// The manual page.
    Manual,
    /// A project file, which is its maker's from the first: it carries no signature.
    Project,
    /// A shop file, likewise.
    Shop,
}

impl Product {
    /// The command that makes it, as it stands in a signature; `None` for what carries none.
    fn command(self) -> Option<String> {
        let command = match self {
            Product::Proof => "proof",
            Product::Sheets => "print",
            Product::SheetList => "print --format json",
            Product::Record => "print record",
            Product::Kept => "made",
            Product::Comparison => "compare",
            Product::AsBuilt => "as-built",
            Product::PinchRod => "as-built --rod",
            Product::Shims => "made --shims",
            Product::Plot => "plot",
            Product::Drawing => "draw",
            Product::DrawnSheet(number) => return Some(format!("draw sheet {number}")),
            Product::Picture => "show",
            Product::Sizes => "new",
            Product::Journal => "set",
            Product::Schedule => "schedule",
            Product::Model => "model",
            Product::Schema => "schema",
            Product::Manual => "man",
            Product::Project | Product::Shop => return None,
        };
        Some(command.to_owned())
    }
}

/// How a file is written, which says where its signature goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// PDF.
    Pdf,
    /// SVG.
    Svg,
    /// Comma-separated values.
    Csv,
    /// JSON.
    Json,
    /// JSON Schema, which has a keyword for comments.
    JsonSchema,
    /// Binary glTF.
    Glb,
    /// Text for a person.
    Text,
    /// A manual page.
    Roff,
}

/// What the signature of a file tells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Signed {
    /// It is as the command wrote it that is asked about.
    Ours,
    /// It is as another command wrote it.
    By(String),
    /// It was changed since this command wrote it.
    Changed(String),
    /// It has none.
    No,
}

/// The bytes with the signature of what they are; a project file as it is.
pub fn signed(mut bytes: Vec<u8>, product: Product, form: Form) -> Vec<u8> {
    let Some(command) = product.command() else { return bytes };
    let digest = String::from_utf8_lossy(&[BLANK; DIGITS]).into_owned();
    let words = format!("{PROGRAM}{command}{BEFORE}{digest}{BEHIND}");
    let at = match form {
        Form::Pdf => {
            let at = find_last(&bytes, b"startxref").unwrap_or(bytes.len());
            insert(&mut bytes, at, format!("% made by {words}\n").as_bytes())
        }
        Form::Svg => append(&mut bytes, &format!("<!-- made by {words} -->\n")),
        Form::Csv => append(&mut bytes, &format!("\r\nmade by {words}\r\n")),
        Form::Text => append(&mut bytes, &format!("\nmade by {words}\n")),
        Form::Roff => append(&mut bytes, &format!(".\\\" made by {words}\n")),
        Form::Json => insert(&mut bytes, 1, format!("\n  \"made_by\": \"{words}\",").as_bytes()),
        Form::JsonSchema => insert(&mut bytes, 1, format!("\n  \"$comment\": \"made by {words}\",").as_bytes()),
        Form::Glb => in_glb(&mut bytes, &words),
    };
    let signature = at.and_then(|start| {
        let start = start + find(bytes.get(start..)?, BEFORE.as_bytes())? + BEFORE.len();
        Some((start, start + DIGITS))
    });
    if let Some((start, end)) = signature {
        let digest = hex(Sha256::new_with_prefix(&bytes));
        bytes.splice(start..end, digest.bytes());
    }
    bytes
}

fn append(bytes: &mut Vec<u8>, words: &str) -> Option<usize> {
    let at = bytes.len();
    bytes.extend_from_slice(words.as_bytes());
    Some(at)
}

fn insert(bytes: &mut Vec<u8>, at: usize, words: &[u8]) -> Option<usize> {
    bytes.get(at..)?;
    bytes.splice(at..at, words.iter().copied());
    Some(at)
}

/// Puts the signature into the first chunk of a GLB file, which is JSON filled up with blanks to whole words of four bytes, and
/// mends the lengths before it.
fn in_glb(bytes: &mut Vec<u8>, words: &str) -> Option<usize> {
    /// Where the lengths of the file and of the first chunk stand, and where that chunk begins.
    const FILE: usize = 8;
    const CHUNK: usize = 12;
    const JSON: usize = 20;
    let mut member = format!("\"extras\":{{\"made_by\":\"{words}\"}},").into_bytes();
    while member.len() % 4 != 0 {
        member.push(b' ');
    }
    let at = insert(bytes, JSON + 1, &member)?;
    for place in [FILE, CHUNK] {
        let word: [u8; 4] = bytes.get(place..place + 4)?.try_into().ok()?;
        let length = u32::from_le_bytes(word) + u32::try_from(member.len()).ok()?;
        bytes.splice(place..place + 4, length.to_le_bytes());
    }
    Some(at)
}

/// What the signature of a file tells of it.
///
/// # Errors
/// Where it cannot be read.
pub fn of_file(path: &Path, product: Product) -> io::Result<Signed> {
    let known = fs::metadata(path)?;
    if !known.is_file() {
        // Opening a pipe waits until somebody writes into it.
        return Ok(Signed::No);
    }
    // The length of what was opened: another run may have put a longer or shorter file in its place just before.
    let mut file = fs::File::open(path)?;
    let length = file.metadata()?.len();
    let tail = length.saturating_sub(REACH as u64);
    let mut found = None;
    for start in [0, tail] {
        file.seek(SeekFrom::Start(start))?;
        let mut part = Vec::new();
        (&mut file).take(REACH as u64).read_to_end(&mut part)?;
        found = found.or(signature(&part).map(|(command, at, digest)| (command, start + at as u64, digest)));
    }
    let Some((command, at, digest)) = found else { return Ok(Signed::No) };
    file.seek(SeekFrom::Start(0))?;
    if hex(blanked(file, at)?) != digest {
        return Ok(Signed::Changed(command));
    }
    Ok(if product.command().as_ref() == Some(&command) { Signed::Ours } else { Signed::By(command) })
}

/// The last signature in some bytes: the command, where the digest begins, and the digest.
fn signature(bytes: &[u8]) -> Option<(String, usize, String)> {
    let before = find_last(bytes, BEFORE.as_bytes())?;
    let start = before + BEFORE.len();
    let digest = std::str::from_utf8(bytes.get(start..start + DIGITS)?).ok()?;
    let head = bytes.get(..before)?;
    let command = find_last(head, PROGRAM.as_bytes())? + PROGRAM.len();
    let command = std::str::from_utf8(head.get(command..)?).ok()?;
    let closed = bytes.get(start + DIGITS..)?.starts_with(BEHIND.as_bytes());
    (closed && digest.bytes().all(|c| c.is_ascii_hexdigit())).then(|| (command.to_owned(), start, digest.to_owned()))
}

/// The digest of a file with blanks where its digest stands.
fn blanked(mut file: fs::File, at: u64) -> io::Result<Sha256> {
    let mut digest = Sha256::new();
    let mut part = vec![0; 1 << 16];
    let (mut start, digits) = (0, at..at + DIGITS as u64);
    loop {
        let count = file.read(&mut part)?;
        let Some(read) = part.get_mut(..count).filter(|read| !read.is_empty()) else { return Ok(digest) };
        for (byte, place) in read.iter_mut().zip(start..) {
            if digits.contains(&place) {
                *byte = BLANK;
            }
        }
        digest.update(&*read);
        start += count as u64;
    }
}

fn hex(digest: Sha256) -> String {
    digest.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

fn find(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).position(|window| window == wanted)
}

fn find_last(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).rposition(|window| window == wanted)
}
