//! Bytes to text.

use super::MAX_BYTES;
use crate::finding::{Finding, Place, Span};

/// As many bytes tell whether a file is a text.
const SAMPLE: usize = 4096;

/// The text of a file. Bytes that are not UTF-8 are reported and replaced, so that the rest can still be read; `None` where
/// nothing can be read.
pub fn decode(bytes: &[u8], source: u16, findings: &mut Vec<Finding>) -> Option<String> {
    let whole_file = Place { pointer: String::new(), span: Some(Span { source, start: 0, end: 0 }) };
    if bytes.len() > MAX_BYTES {
        let size = bytes.len() as f64 / f64::from(1 << 20);
        let message = format!("the file is {size:.1} MiB; the largest that is read is {} MiB", MAX_BYTES >> 20);
        let remedy = "this is not a project file, or something was pasted into it that does not belong there";
        findings.push(Finding::stop("file-too-large", whole_file, message).remedy(remedy));
        return None;
    }
    if is_utf16(bytes) {
        let message = "the file is saved as UTF-16";
        findings.push(Finding::stop("not-utf8", whole_file, message).remedy("save it again with the encoding UTF-8"));
        return None;
    }
    // No text holds these, but pictures, archives and the like do.
    if bytes.iter().take(SAMPLE).any(|byte| *byte < b'\t') {
        let remedy = "name a project file, which is a text that begins with {";
        findings.push(Finding::stop("not-a-text", whole_file, "this is not a text file").remedy(remedy));
        return None;
    }
    let text = String::from_utf8_lossy(bytes).into_owned();
    if let Err(fault) = std::str::from_utf8(bytes) {
        let start = fault.valid_up_to();
        let byte = bytes.get(start).copied().unwrap_or(0);
        let mark = Span { source, start: start as u32, end: (start + char::REPLACEMENT_CHARACTER.len_utf8()) as u32 };
        let place = Place { pointer: String::new(), span: Some(mark) };
        let message = format!("the character here (byte 0x{byte:02X}) is not UTF-8");
        findings
            .push(Finding::stop("not-utf8", place, message).remedy("save the file again with the encoding UTF-8"));
    }
    Some(text)
}

/// UTF-16 announces itself, or shows by every other byte of its first characters being zero.
fn is_utf16(bytes: &[u8]) -> bool {
    matches!(bytes, [0xff, 0xfe, ..] | [0xfe, 0xff, ..] | [0, 1..=127, 0, ..] | [1..=127, 0, 1..=127, 0, ..])
}
