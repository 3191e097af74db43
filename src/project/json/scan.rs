//! The characters of a JSON text, from left to right, going on after each mistake.

use super::{JsonProblem, MAX_DEPTH, MAX_PROBLEMS, Member, Node, Object, Value, place};
use crate::finding::{Beside, Finding, Place, Span};
use std::collections::BTreeMap;

/// Reads a JSON text. `None` where the brackets do not pair up, so that nobody looks for fields in a broken tree.
pub fn parse(text: &str, source: u16, findings: &mut Vec<Finding>) -> Option<Node> {
    let already = findings.len();
    let mut scanner = Scanner {
        text,
        at: 0,
        source,
        steps: Vec::new(),
        open: Vec::new(),
        findings,
        already,
        broken: false,
        comma_swallowed: false,
    };
    scanner.skip("\u{feff}");
    scanner.blank();
    if scanner.rest().is_empty() {
        scanner.stop(JsonProblem::Empty {}, 0, 0);
        return None;
    }
    let node = scanner.value();
    scanner.blank();
    if !scanner.broken && !scanner.rest().is_empty() {
        let (start, end) = (scanner.at, text.len());
        scanner.stop(JsonProblem::AfterEnd {}, start, end);
    }
    node.filter(|_| !scanner.broken)
}

pub(super) struct Scanner<'a> {
    pub(super) text: &'a str,
    pub(super) at: usize,
    source: u16,
    /// Names and indices down to the value at hand.
    steps: Vec<String>,
    /// The brackets open at this point: where, and the one that closes it.
    open: Vec<(usize, char)>,
    findings: &'a mut Vec<Finding>,
    already: usize,
    /// The tree cannot be trusted.
    broken: bool,
    /// A text that is not closed may have swallowed the comma after it.
    pub(super) comma_swallowed: bool,
}

impl<'a> Scanner<'a> {
    pub(super) fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or("")
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn skip(&mut self, expected: &str) -> bool {
        let found = self.rest().starts_with(expected);
        if found {
            self.at += expected.len();
        }
        found
    }

    pub(super) fn step_over(&mut self) {
        self.at += self.peek().map_or(0, char::len_utf8);
    }

    fn span(&self, start: usize, end: usize) -> Span {
        Span { source: self.source, start: start as u32, end: end as u32 }
    }

    /// Tells what is wrong with a stretch of the text.
    pub(super) fn stop(&mut self, problem: JsonProblem, start: usize, end: usize) {
        let place = self.place(start, end);
        self.report(Finding::of(problem, place));
    }

    fn place(&self, start: usize, end: usize) -> Place {
        place(&self.steps, self.span(start, end))
    }

    fn report(&mut self, finding: Finding) {
        if self.findings.len() - self.already <= MAX_PROBLEMS {
            self.findings.push(finding);
        } else {
            self.broken = true;
        }
    }

    /// Spaces and line ends; comments are reported and skipped.
    fn blank(&mut self) {
        loop {
            let rest = self.rest();
            self.at += rest.len() - rest.trim_start_matches([' ', '\t', '\r', '\n']).len();
            let (start, rest) = (self.at, self.rest());
            let length = if rest.starts_with("//") || rest.starts_with('#') {
                rest.find('\n').unwrap_or(rest.len())
            } else if rest.starts_with("/*") {
                rest.find("*/").map_or(rest.len(), |end| end + 2)
            } else if rest.starts_with(char::is_whitespace) {
                let c = self.peek().unwrap_or(' ');
                self.stop(JsonProblem::UnusualSpace { space: c }, start, start + c.len_utf8());
                self.at += c.len_utf8();
                continue;
            } else {
                return;
            };
            let marked = rest.get(..length).and_then(|comment| comment.lines().next()).map_or(2, str::len);
            self.stop(JsonProblem::Comment {}, start, start + marked);
            self.at += length;
        }
    }

    fn value(&mut self) -> Option<Node> {
        self.blank();
        let start = self.at;
        let value = match self.peek() {
            None => {
                self.broken = true;
                self.stop(JsonProblem::FileEnds {}, last_character(self.text), start);
                return None;
            }
            Some(c @ ('{' | '[')) => {
                if self.open.len() >= MAX_DEPTH {
                    self.broken = true;
                    self.stop(JsonProblem::TooDeep {}, start, start + 1);
                    return None;
                }
                self.at += 1;
                self.open.push((start, if c == '{' { '}' } else { ']' }));
                let value = if c == '{' { self.object() } else { self.list() };
                self.open.pop();
                value
            }
            Some('"') => self.string().map_or(Value::Unreadable, Value::Text),
            Some('\'' | '“' | '”' | '‘' | '’') => self.wrongly_quoted(),
            Some(_) => self.word(),
        };
        Some(Node { span: self.span(start, self.at), value })
    }

    fn list(&mut self) -> Value {
        let mut entries = Vec::new();
        let mut comma = None;
        while !self.closes(comma) {
            if self.misplaced_comma() {
                comma = None;
                continue;
            }
            self.steps.push(entries.len().to_string());
            let entry = self.value();
            self.steps.pop();
            entries.extend(entry);
            if self.broken {
                break;
            }
            comma = self.comma();
        }
        // The tree is kept as long as the file, and most lists are short.
        entries.shrink_to_fit();
        Value::List(entries)
    }

    fn object(&mut self) -> Value {
        let mut object = Object::default();
        let mut names: BTreeMap<String, Span> = BTreeMap::new();
        let mut comma = None;
        while !self.closes(comma) {
            comma = None;
            if self.misplaced_comma() {
                continue;
            }
            if self.loose_number() {
                comma = self.comma();
                continue;
            }
            let (name, name_span) = self.name();
            self.steps.push(name.clone());
            let node = if self.colon() { self.value() } else { None };
            self.add(&mut object, &mut names, name, name_span, node);
            self.steps.pop();
            if self.broken {
                break;
            }
            comma = self.comma();
        }
        object.members.shrink_to_fit();
        Value::Object(object)
    }

    fn add(
        &mut self,
        object: &mut Object,
        names: &mut BTreeMap<String, Span>,
        name: String,
        name_span: Span,
        node: Option<Node>,
    ) {
        if let Some(first) = names.get(&name) {
            let finding = Finding::of(JsonProblem::Twice { name }, place(&self.steps, name_span))
                .related(place(&self.steps, *first), Beside::FirstWritten);
            self.report(finding);
            return;
        }
        names.insert(name.clone(), name_span);
        // A name whose value is lost is still there: nobody shall be told that it is missing.
        let node = node.unwrap_or(Node { span: name_span, value: Value::Unreadable });
        object.members.push(Member { name, name_span, node });
    }

    /// The digits after a decimal comma, which look like a name; whether there were any.
    fn loose_number(&mut self) -> bool {
        let start = self.at;
        let word = self.take_word();
        if word.is_empty() || !word.chars().all(|c| c.is_ascii_digit()) || self.rest().trim_start().starts_with(':') {
            self.at = start;
            return false;
        }
        self.stop(JsonProblem::LooseNumber {}, start, self.at);
        true
    }

    fn name(&mut self) -> (String, Span) {
        let start = self.at;
        let name = match self.peek() {
            Some('"') => self.string().unwrap_or_default(),
            Some('\'' | '“' | '”' | '‘' | '’') => match self.wrongly_quoted() {
                Value::Text(text) => text,
                _ => String::new(),
            },
            _ => {
                let word = self.take_word().to_owned();
                if word.is_empty() {
                    self.step_over();
                    self.stop(JsonProblem::NoName {}, start, self.at);
                } else {
                    self.stop(JsonProblem::BareName { name: word.clone() }, start, self.at);
                }
                word
            }
        };
        (name, self.span(start, self.at))
    }

    /// The colon after a name; whether a value can follow.
    fn colon(&mut self) -> bool {
        let after_name = self.at;
        self.blank();
        if self.skip(":") {
            return true;
        }
        if self.skip("=") {
            self.stop(JsonProblem::NoColon { equals: true }, self.at - 1, self.at);
            return true;
        }
        let start = last_character(self.text.get(..after_name).unwrap_or(""));
        self.stop(JsonProblem::NoColon { equals: false }, start, after_name);
        !matches!(self.peek(), None | Some(',' | '}' | ']'))
    }

    /// A comma where an entry belongs.
    fn misplaced_comma(&mut self) -> bool {
        let found = self.skip(",");
        if found {
            self.stop(JsonProblem::StrayComma { before_bracket: false }, self.at - 1, self.at);
        }
        found
    }

    /// The comma after an entry, and where it stands; a missing one is reported.
    fn comma(&mut self) -> Option<usize> {
        let end = self.at;
        self.blank();
        if self.skip(",") {
            return Some(self.at - 1);
        }
        if self.skip(";") {
            self.stop(JsonProblem::NoComma { semicolon: true }, self.at - 1, self.at);
            return None;
        }
        let swallowed = std::mem::take(&mut self.comma_swallowed);
        if !swallowed && !matches!(self.peek(), None | Some('}' | ']')) {
            let start = last_character(self.text.get(..end).unwrap_or(""));
            self.stop(JsonProblem::NoComma { semicolon: false }, start, end);
        }
        None
    }

    /// Whether the bracket opened last closes here; `comma` is where a comma stands just before.
    fn closes(&mut self, comma: Option<usize>) -> bool {
        self.blank();
        let Some((opened, closing)) = self.open.last().copied() else { return true };
        let found = match self.peek() {
            Some(c @ ('}' | ']')) => c,
            Some(_) => return self.broken,
            None => {
                if !self.broken {
                    self.stop(JsonProblem::NotClosed { closing }, opened, opened + 1);
                }
                self.broken = true;
                return true;
            }
        };
        if let Some(comma) = comma {
            self.stop(JsonProblem::StrayComma { before_bracket: true }, comma, comma + 1);
        }
        if found == closing {
            self.at += 1;
            return true;
        }
        self.broken = true;
        let start = self.at;
        let problem = JsonProblem::NoPair { wanted: closing, found };
        let finding = Finding::of(problem, self.place(start, start + 1))
            .related(self.place(opened, opened + 1), Beside::OpenBracket);
        self.report(finding);
        // Where the bracket fits the one around, only this one's own is missing.
        let fits_outside =
            self.open.len() > 1 && self.open.iter().rev().nth(1).is_some_and(|(_, outer)| *outer == found);
        if !fits_outside {
            self.at += 1;
        }
        true
    }
}

/// Where the last character that is no blank begins.
fn last_character(text: &str) -> usize {
    text.trim_end().char_indices().next_back().map_or(0, |(at, _)| at)
}
