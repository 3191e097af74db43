//! Bytes to text.

use super::{JsonProblem, MAX_BYTES, NotUtf8};
use crate::finding::{Finding, Place, Span};

/// As many bytes tell whether a file is a text.
const SAMPLE: usize = 4096;

/// The text of a file. Bytes that are not UTF-8 are reported and replaced, so that the rest can still be read; `None` where
/// nothing can be read.
pub fn decode(bytes: &[u8], source: u16, findings: &mut Vec<Finding>) -> Option<String> {
    let whole_file = Place { pointer: String::new(), span: Some(Span { source, start: 0, end: 0 }) };
    if bytes.len() > MAX_BYTES {
        findings.push(Finding::of(JsonProblem::FileTooLarge { bytes: bytes.len() }, whole_file));
        return None;
    }
    if is_utf16(bytes) {
        findings.push(Finding::of(JsonProblem::NotUtf8 { what: NotUtf8::Utf16 }, whole_file));
        return None;
    }
    // No text holds these, but pictures, archives and the like do.
    if bytes.iter().take(SAMPLE).any(|byte| *byte < b'\t') {
        findings.push(Finding::of(JsonProblem::NotAText {}, whole_file));
        return None;
    }
    let text = String::from_utf8_lossy(bytes).into_owned();
    if let Err(fault) = std::str::from_utf8(bytes) {
        let start = fault.valid_up_to();
        let byte = bytes.get(start).copied().unwrap_or(0);
        let mark = Span { source, start: start as u32, end: (start + char::REPLACEMENT_CHARACTER.len_utf8()) as u32 };
        let place = Place { pointer: String::new(), span: Some(mark) };
        findings.push(Finding::of(JsonProblem::NotUtf8 { what: NotUtf8::Byte(byte) }, place));
    }
    Some(text)
}

/// UTF-16 announces itself, or shows by every other byte of its first characters being zero.
fn is_utf16(bytes: &[u8]) -> bool {
    matches!(bytes, [0xff, 0xfe, ..] | [0xfe, 0xff, ..] | [0, 1..=127, 0, ..] | [1..=127, 0, 1..=127, 0, ..])
}
