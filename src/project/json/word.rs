//! Numbers, strings and what is written in their stead.

use super::Value;
use super::scan::Scanner;
use crate::finding::{quoted, shortened};

impl<'a> Scanner<'a> {
    /// A number, true, false, null, or something that is none of these.
    pub(super) fn word(&mut self) -> Value {
        let start = self.at;
        let word = self.take_word();
        if word.is_empty() {
            let c = self.peek().unwrap_or(' ');
            self.step_over();
            let remedy = "write a number, a \"text\", true, false, a list or an object";
            self.stop("value-missing", start, self.at, format!("a value belongs here, not `{c}`"), remedy);
            return Value::Unreadable;
        }
        match serde_json::from_str::<serde_json::Value>(word) {
            Ok(serde_json::Value::Null) => return Value::Null,
            Ok(serde_json::Value::Bool(yes)) => return Value::Bool(yes),
            Ok(serde_json::Value::Number(number)) => {
                if let Some(number) = number.as_f64() {
                    return Value::Number(number);
                }
            }
            _ => {}
        }
        let remedy = match word.to_ascii_lowercase().as_str() {
            "true" | "yes" => "write true".to_owned(),
            "false" | "no" => "write false".to_owned(),
            "nan" | "inf" | "infinity" | "-inf" | "-infinity" => "write a number".to_owned(),
            "none" | "null" | "nil" | "undefined" => "leave the field out".to_owned(),
            _ => self.plain_number(word).unwrap_or_else(|| in_quotes(word)),
        };
        self.stop(
            "not-a-value",
            start,
            self.at,
            format!("`{}` cannot be read as it stands", shortened(word)),
            remedy,
        );
        Value::Unreadable
    }

    /// What to write for `.5`, `+5`, `5.`, `05` and `3,5`'s first half.
    fn plain_number(&self, word: &str) -> Option<String> {
        if !word.chars().all(|c| c.is_ascii_digit() || matches!(c, '+' | '-' | '.' | 'e' | 'E')) {
            return None;
        }
        let number = word.parse::<f64>().ok()?;
        Some(if number.is_finite() { format!("write {number}") } else { "write a smaller number".to_owned() })
    }

    /// Everything up to the next mark that JSON uses, or the end of the line.
    pub(super) fn take_word(&mut self) -> &'a str {
        let rest = self.rest();
        let end = rest.find([',', ']', '}', ':', '"', '[', '{', '\n', '\r']).unwrap_or(rest.len());
        let word = rest.get(..end).unwrap_or("");
        let end = ["//", "/*"].into_iter().filter_map(|comment| word.find(comment)).fold(end, usize::min);
        let word = rest.get(..end).unwrap_or("").trim_end();
        self.at += word.len();
        word
    }

    /// A string between double quotes; `None` after a mistake in it.
    pub(super) fn string(&mut self) -> Option<String> {
        let start = self.at;
        self.at += 1;
        loop {
            match self.peek() {
                Some('"') => break self.at += 1,
                Some('\\') => {
                    self.at += 1;
                    if self.peek() != Some('\n') {
                        self.step_over();
                    }
                }
                None | Some('\n') => {
                    let end = start + self.text.get(start..self.at).unwrap_or("").trim_end().len();
                    self.at = self.at.max(end);
                    self.comma_swallowed = true;
                    let message = "this text is not closed on its line";
                    self.stop("text-not-closed", start, end, message, "add the closing \"");
                    return None;
                }
                Some(_) => self.step_over(),
            }
        }
        if self.inch_mark_follows() {
            self.at += 1;
            let remedy = "write \\\" for an inch mark inside a text, or in for inches";
            self.stop("inch-mark", start, self.at, "this text holds a double quote that ends it too early", remedy);
            return None;
        }
        let token = self.text.get(start..self.at).unwrap_or("");
        match serde_json::from_str(token) {
            Ok(text) => Some(text),
            Err(fault) => {
                self.bad_text(start, token, &fault);
                None
            }
        }
    }

    /// Whether a second double quote follows close, and then the end of the value: `"3/4""`.
    fn inch_mark_follows(&self) -> bool {
        let Some(rest) = self.rest().strip_prefix('"') else { return false };
        let rest = rest.trim_start_matches([' ', '\t']);
        rest.is_empty() || rest.starts_with([',', '}', ']', '\r', '\n'])
    }

    fn bad_text(&mut self, start: usize, token: &str, fault: &serde_json::Error) {
        if let Some(at) = token.find(|c: char| c < ' ') {
            let remedy = "write \\t for a tab inside a text, or a space";
            self.stop(
                "bad-text",
                start + at,
                start + at + 1,
                "a tab or control character stands in this text",
                remedy,
            );
            return;
        }
        let at = (start + fault.column()).saturating_sub(1).max(start);
        let message = "the backslash in this text cannot be read";
        self.stop("bad-text", at, at + 1, message, "write \\\\ for a backslash, \\\" for an inch mark");
    }

    /// A text between quotes of another kind: reported, and read as meant.
    pub(super) fn wrongly_quoted(&mut self) -> Value {
        let start = self.at;
        let open = self.peek().unwrap_or('\'');
        self.step_over();
        let line = self.rest().lines().next().unwrap_or("");
        let closes = |c: char| {
            if matches!(open, '“' | '”') { matches!(c, '“' | '”') } else { matches!(c, '\'' | '‘' | '’') }
        };
        let Some(length) = line.find(closes) else {
            self.at += line.trim_end().len();
            self.stop(
                "wrong-quotes",
                start,
                self.at,
                "this text is not closed on its line",
                "put it between straight double quotes",
            );
            return Value::Unreadable;
        };
        let text = line.get(..length).unwrap_or("").to_owned();
        self.at += length;
        self.step_over();
        let message = format!("`{open}` cannot open a text");
        self.stop("wrong-quotes", start, self.at, message, in_quotes(&text));
        Value::Text(text)
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
