//! Words for what is wrong with a JSON text.

use crate::finding::{Cures, Said, Words, quoted, shortened};
use crate::project::json::{BadText, JsonProblem, MAX_BYTES, MAX_DEPTH, Meant, NodeKind, NotUtf8, WrongQuotes};
use crate::units::Notation;

/// Bytes in a mebibyte.
const MEBIBYTE: f64 = 1_048_576.0;

impl NodeKind {
    /// What stands there.
    pub(super) fn said(self) -> &'static str {
        match self {
            NodeKind::Null => "null",
            NodeKind::Bool => "true or false",
            NodeKind::Number => "a number",
            NodeKind::Text => "a text",
            NodeKind::List => "a list",
            NodeKind::Object => "an object",
            NodeKind::Unreadable => "something unreadable",
        }
    }
}

impl Words for JsonProblem {
    fn say(&self, _notation: &Notation, _cures: &Cures) -> Said {
        match self {
            JsonProblem::FileTooLarge { .. }
            | JsonProblem::NotUtf8 { .. }
            | JsonProblem::NotAText {}
            | JsonProblem::Empty {}
            | JsonProblem::AfterEnd {}
            | JsonProblem::FileEnds {} => whole(self),
            JsonProblem::NoValue { .. }
            | JsonProblem::NotAValue { .. }
            | JsonProblem::TextNotClosed {}
            | JsonProblem::InchMark {}
            | JsonProblem::BadText { .. }
            | JsonProblem::WrongQuotes { .. } => value(self),
            _ => between(self),
        }
    }
}

/// About the file as a whole.
fn whole(problem: &JsonProblem) -> Said {
    match problem {
        JsonProblem::FileTooLarge { bytes } => Said::new(
            format!(
                "the file is {:.1} MiB; the largest that is read is {} MiB",
                *bytes as f64 / MEBIBYTE,
                MAX_BYTES as f64 / MEBIBYTE
            ),
            "this is not a project file, or something was pasted into it that does not belong there",
        ),
        JsonProblem::NotUtf8 { what: NotUtf8::Utf16 } => {
            Said::new("the file is saved as UTF-16", "save it again with the encoding UTF-8")
        }
        JsonProblem::NotUtf8 { what: NotUtf8::Byte(byte) } => Said::new(
            format!("the character here (byte 0x{byte:02X}) is not UTF-8"),
            "save the file again with the encoding UTF-8",
        ),
        JsonProblem::NotAText {} => {
            Said::new("this is not a text file", "name a project file, which is a text that begins with {")
        }
        JsonProblem::Empty {} => {
            Said::new("the file is empty", "write at least { \"fullsize\": 1, \"title\": \"…\" }")
        }
        JsonProblem::AfterEnd {} => Said::new(
            "something stands here after the end of the project",
            "remove it, or move the closing bracket behind it",
        ),
        _ => Said::new("the file ends where a value belongs", "the file seems to be cut short; add what is missing"),
    }
}

/// About names, colons, commas, brackets and what stands between them.
fn between(problem: &JsonProblem) -> Said {
    match problem {
        JsonProblem::UnusualSpace { space } => {
            Said::new(format!("an unusual space (U+{:04X}) stands here", *space as u32), "write an ordinary space")
        }
        JsonProblem::Comment {} => {
            Said::new("comments cannot stand in a project file", "move the remark into a \"note\" field")
        }
        JsonProblem::TooDeep {} => Said::new(
            format!("brackets are nested more than {MAX_DEPTH} deep"),
            "no project needs this; look for brackets too many",
        ),
        JsonProblem::Twice { name } => Said::new(format!("{} is written twice", quoted(name)), "keep one of the two"),
        JsonProblem::LooseNumber {} => Said::new(
            "a number stands where the name of a field belongs",
            "write a decimal with a point, for example 18.5",
        ),
        JsonProblem::NoName {} => Said::new("the name of a field belongs here", "write \"name\": value"),
        JsonProblem::BareName { name } => {
            Said::new("the name of a field stands in quotes", format!("write {}", quoted(name)))
        }
        JsonProblem::NoColon { equals: true } => {
            Said::new("`=` stands where a colon belongs", "write \"name\": value")
        }
        JsonProblem::NoColon { equals: false } => {
            Said::new("a colon is missing after this name", "write \"name\": value")
        }
        JsonProblem::StrayComma { before_bracket: true } => {
            Said::new("a comma stands before a closing bracket", "remove the comma")
        }
        JsonProblem::StrayComma { before_bracket: false } => {
            Said::new("nothing stands before this comma", "remove the comma")
        }
        JsonProblem::NoComma { semicolon: true } => {
            Said::new("a semicolon stands where a comma belongs", "write a comma")
        }
        JsonProblem::NotClosed { closing } => Said::new(
            "this bracket is never closed",
            format!("add the missing `{closing}`, perhaps at the end of the file"),
        ),
        JsonProblem::NoPair { wanted, found } => {
            Said::new(format!("`{wanted}` belongs here, not `{found}`"), "make the brackets pair up")
        }
        _ => Said::new("a comma is missing after this", "add a comma"),
    }
}

/// About one value.
fn value(problem: &JsonProblem) -> Said {
    let not_closed = "this text is not closed on its line";
    match problem {
        JsonProblem::NoValue { found } => Said::new(
            format!("a value belongs here, not `{found}`"),
            "write a number, a \"text\", true, false, a list or an object",
        ),
        JsonProblem::NotAValue { word, meant } => {
            Said::new(format!("`{}` cannot be read as it stands", shortened(word)), instead(word, *meant))
        }
        JsonProblem::InchMark {} => Said::new(
            "this text holds a double quote that ends it too early",
            "write \\\" for an inch mark inside a text, or in for inches",
        ),
        JsonProblem::BadText { what: BadText::Control } => Said::new(
            "a tab or control character stands in this text",
            "write \\t for a tab inside a text, or a space",
        ),
        JsonProblem::BadText { what: BadText::ControlMeant(c) } => Said::new(
            format!("a line end, tab or control character (U+{:04X}) stands in this text", *c as u32),
            "write it on one line",
        ),
        JsonProblem::BadText { what: BadText::Backslash } => Said::new(
            "the backslash in this text cannot be read",
            "write \\\\ for a backslash, \\\" for an inch mark",
        ),
        JsonProblem::WrongQuotes { what: WrongQuotes::NotClosed } => {
            Said::new(not_closed, "put it between straight double quotes")
        }
        JsonProblem::WrongQuotes { what: WrongQuotes::Text(open, text) } => {
            Said::new(format!("`{open}` cannot open a text"), in_quotes(text))
        }
        _ => Said::new(not_closed, "add the closing \""),
    }
}

/// What to write for a word that is no value.
fn instead(word: &str, meant: Meant) -> String {
    match meant {
        Meant::Bool(yes) => format!("write {yes}"),
        Meant::SomeNumber => "write a number".to_owned(),
        Meant::Nothing => "leave the field out".to_owned(),
        Meant::Number(number) => format!("write {number}"),
        Meant::SmallerNumber => "write a smaller number".to_owned(),
        Meant::Text => in_quotes(word),
    }
}

/// The cure of a text that stands in no quotes, or in wrong ones.
fn in_quotes(text: &str) -> String {
    if shortened(text) != text {
        "put it between straight double quotes".to_owned()
    } else {
        format!("write {}", quoted(text))
    }
}
