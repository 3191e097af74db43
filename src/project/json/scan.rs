//! The characters of a JSON text, from left to right, going on after each mistake.

use super::{MAX_DEPTH, MAX_PROBLEMS, Member, Node, Object, Value, place};
use crate::finding::{Beside, Finding, Place, Span, quoted};
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
        let remedy = "write at least { \"fullsize\": 1, \"title\": \"…\" }";
        scanner.stop("empty-file", 0, 0, "the file is empty", remedy);
        return None;
    }
    let node = scanner.value();
    scanner.blank();
    if !scanner.broken && !scanner.rest().is_empty() {
        let (start, end) = (scanner.at, text.len());
        let remedy = "remove it, or move the closing bracket behind it";
        scanner.stop("text-after-end", start, end, "something stands here after the end of the project", remedy);
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

    pub(super) fn stop(
        &mut self,
        code: &'static str,
        start: usize,
        end: usize,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        let place = self.place(start, end);
        self.report(Finding::stop(code, place, message).remedy(remedy));
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
                let message = format!("an unusual space (U+{:04X}) stands here", c as u32);
                self.stop("unusual-space", start, start + c.len_utf8(), message, "write an ordinary space");
                self.at += c.len_utf8();
                continue;
            } else {
                return;
            };
            let marked = rest.get(..length).and_then(|comment| comment.lines().next()).map_or(2, str::len);
            let remedy = "move the remark into a \"note\" field";
            self.stop("comment", start, start + marked, "comments cannot stand in a project file", remedy);
            self.at += length;
        }
    }

    fn value(&mut self) -> Option<Node> {
        self.blank();
        let start = self.at;
        let value = match self.peek() {
            None => {
                self.broken = true;
                let remedy = "the file seems to be cut short; add what is missing";
                self.stop(
                    "file-ends",
                    last_character(self.text),
                    start,
                    "the file ends where a value belongs",
                    remedy,
                );
                return None;
            }
            Some(c @ ('{' | '[')) => {
                if self.open.len() >= MAX_DEPTH {
                    self.broken = true;
                    let message = format!("brackets are nested more than {MAX_DEPTH} deep");
                    self.stop(
                        "too-deep",
                        start,
                        start + 1,
                        message,
                        "no project needs this; look for brackets too many",
                    );
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
            let finding = Finding::stop(
                "written-twice",
                place(&self.steps, name_span),
                format!("{} is written twice", quoted(&name)),
            )
            .remedy("keep one of the two")
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
        let message = "a number stands where the name of a field belongs";
        self.stop("loose-number", start, self.at, message, "write a decimal with a point, for example 18.5");
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
                    self.stop(
                        "name-missing",
                        start,
                        self.at,
                        "the name of a field belongs here",
                        "write \"name\": value",
                    );
                } else {
                    self.stop(
                        "name-not-quoted",
                        start,
                        self.at,
                        "the name of a field stands in quotes",
                        format!("write {}", quoted(&word)),
                    );
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
            self.stop(
                "colon-missing",
                self.at - 1,
                self.at,
                "`=` stands where a colon belongs",
                "write \"name\": value",
            );
            return true;
        }
        let start = last_character(self.text.get(..after_name).unwrap_or(""));
        self.stop("colon-missing", start, after_name, "a colon is missing after this name", "write \"name\": value");
        !matches!(self.peek(), None | Some(',' | '}' | ']'))
    }

    /// A comma where an entry belongs.
    fn misplaced_comma(&mut self) -> bool {
        let found = self.skip(",");
        if found {
            self.stop("stray-comma", self.at - 1, self.at, "nothing stands before this comma", "remove the comma");
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
            self.stop(
                "comma-missing",
                self.at - 1,
                self.at,
                "a semicolon stands where a comma belongs",
                "write a comma",
            );
            return None;
        }
        let swallowed = std::mem::take(&mut self.comma_swallowed);
        if !swallowed && !matches!(self.peek(), None | Some('}' | ']')) {
            let start = last_character(self.text.get(..end).unwrap_or(""));
            self.stop("comma-missing", start, end, "a comma is missing after this", "add a comma");
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
                    let remedy = format!("add the missing `{closing}`, perhaps at the end of the file");
                    self.stop("not-closed", opened, opened + 1, "this bracket is never closed", remedy);
                }
                self.broken = true;
                return true;
            }
        };
        if let Some(comma) = comma {
            self.stop("stray-comma", comma, comma + 1, "a comma stands before a closing bracket", "remove the comma");
        }
        if found == closing {
            self.at += 1;
            return true;
        }
        self.broken = true;
        let start = self.at;
        let finding = Finding::stop(
            "brackets-do-not-pair",
            self.place(start, start + 1),
            format!("`{closing}` belongs here, not `{found}`"),
        )
        .remedy("make the brackets pair up")
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
