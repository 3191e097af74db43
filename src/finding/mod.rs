//! What the program tells a person about their file or their piece.
//!
//! A finding is said in full: what is wrong, where, how much, and the change that cures it. Findings are collected, never
//! thrown one at a time, so that one run says everything there is to say.

mod name;

pub use name::{nearest, quoted, shortened};

use std::fmt;

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Nothing may be cut by this file: no pattern is made.
    Stop,
    /// The patterns are right, and the maker should think again.
    Warn,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The name used in `--format json`.
    pub const fn name(self) -> &'static str {
        match self {
            Severity::Stop => "stop",
            Severity::Warn => "warn",
            Severity::Note => "note",
        }
    }
}

/// A stretch of bytes in one of the texts that were read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub struct Span {
    /// Which text: an index into the list of files read (0 is the project file).
    pub source: u16,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

/// Where a finding points.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Place {
    /// JSON pointer into the project as merged (RFC 6901); empty for the whole file.
    pub pointer: String,
    /// The bytes to mark, where they are known; else whoever holds the text finds them by the pointer.
    pub span: Option<Span>,
}

impl Place {
    /// The place that a JSON pointer names.
    pub fn pointer(pointer: impl Into<String>) -> Self {
        Place { pointer: pointer.into(), span: None }
    }

    /// The place `name` inside this one.
    pub fn child(&self, name: impl fmt::Display) -> Self {
        let name = name.to_string().replace('~', "~0").replace('/', "~1");
        Place { pointer: format!("{}/{name}", self.pointer), span: None }
    }
}

/// One thing to tell the maker.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// How much it matters.
    pub severity: Severity,
    /// A stable short name in kebab case, for scripts.
    pub code: &'static str,
    /// Where in the file.
    pub place: Place,
    /// What is wrong and how much, in the file's units.
    pub message: String,
    /// The change that cures it.
    pub remedy: String,
    /// What was measured, unrounded: millimetres and degrees, by name.
    pub measured: Vec<(&'static str, f64)>,
    /// Other places that belong to it, each with a word.
    pub related: Vec<(Place, String)>,
}

impl Finding {
    /// A finding of the given severity; see [`Finding::remedy`] and [`Finding::measured`] for the rest.
    pub fn new(severity: Severity, code: &'static str, place: Place, message: impl Into<String>) -> Self {
        Finding {
            severity,
            code,
            place,
            message: message.into(),
            remedy: String::new(),
            measured: Vec::new(),
            related: Vec::new(),
        }
    }

    /// A finding that stops the work.
    pub fn stop(code: &'static str, place: Place, message: impl Into<String>) -> Self {
        Finding::new(Severity::Stop, code, place, message)
    }

    /// A finding that warns.
    pub fn warn(code: &'static str, place: Place, message: impl Into<String>) -> Self {
        Finding::new(Severity::Warn, code, place, message)
    }

    /// A finding that is merely worth knowing.
    pub fn note(code: &'static str, place: Place, message: impl Into<String>) -> Self {
        Finding::new(Severity::Note, code, place, message)
    }

    /// Adds the change that cures it.
    pub fn remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = remedy.into();
        self
    }

    /// Adds one measured number (millimetres or degrees).
    pub fn measured(mut self, name: &'static str, value: f64) -> Self {
        self.measured.push((name, value));
        self
    }

    /// Says that there are so many more like it.
    pub fn and_more(mut self, more: usize) -> Self {
        self.message = format!("{} (and {more} more like it)", self.message);
        self
    }

    /// Adds another place that belongs to it.
    pub fn related(mut self, place: Place, words: impl Into<String>) -> Self {
        self.related.push((place, words.into()));
        self
    }
}

/// Whether any of the findings stops the work.
pub fn stops(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.severity == Severity::Stop)
}
