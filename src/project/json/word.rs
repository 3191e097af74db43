//! Numbers, strings and what is written in their stead.

use super::scan::Scanner;
use super::{BadText, JsonProblem, Meant, Value, WrongQuotes};

impl<'a> Scanner<'a> {
    /// A number, true, false, null, or something that is none of these.
    pub(super) fn word(&mut self) -> Value {
        let start = self.at;
        let word = self.take_word();
        if word.is_empty() {
            let c = self.peek().unwrap_or(' ');
            self.step_over();
            self.stop(JsonProblem::NoValue { found: c }, start, self.at);
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
        let meant = match word.to_ascii_lowercase().as_str() {
            "true" | "yes" => Meant::Bool(true),
            "false" | "no" => Meant::Bool(false),
            "nan" | "inf" | "infinity" | "-inf" | "-infinity" => Meant::SomeNumber,
            "none" | "null" | "nil" | "undefined" => Meant::Nothing,
            _ => plain_number(word).unwrap_or(Meant::Text),
        };
        self.stop(JsonProblem::NotAValue { word: word.to_owned(), meant }, start, self.at);
        Value::Unreadable
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
                    self.stop(JsonProblem::TextNotClosed {}, start, end);
                    return None;
                }
                Some(_) => self.step_over(),
            }
        }
        if self.inch_mark_follows() {
            self.at += 1;
            self.stop(JsonProblem::InchMark {}, start, self.at);
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
            self.stop(JsonProblem::BadText { what: BadText::Control }, start + at, start + at + 1);
            return;
        }
        let at = (start + fault.column()).saturating_sub(1).max(start);
        self.stop(JsonProblem::BadText { what: BadText::Backslash }, at, at + 1);
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
            self.stop(JsonProblem::WrongQuotes { what: WrongQuotes::NotClosed }, start, self.at);
            return Value::Unreadable;
        };
        let text = line.get(..length).unwrap_or("").to_owned();
        self.at += length;
        self.step_over();
        let what = WrongQuotes::Text(open, text.clone());
        self.stop(JsonProblem::WrongQuotes { what }, start, self.at);
        Value::Text(text)
    }
}

/// What `.5`, `+5`, `5.`, `05` and `3,5`'s first half mean.
fn plain_number(word: &str) -> Option<Meant> {
    if !word.chars().all(|c| c.is_ascii_digit() || matches!(c, '+' | '-' | '.' | 'e' | 'E')) {
        return None;
    }
    let number = word.parse::<f64>().ok()?;
    Some(if number.is_finite() { Meant::Number(number) } else { Meant::SmallerNumber })
}
