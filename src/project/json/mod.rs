//! The JSON text as written: a tree in which everything keeps its place.
//!
//! Every token is decoded by `serde_json`, so what a string or number means is not decided here. This reader adds the places,
//! goes on after a mistake so that all of them are said at once, and sets limits.

mod decode;
mod problem;
mod scan;
mod word;

pub use decode::decode;
pub(crate) use problem::{BadText, JsonProblem, Meant, NotUtf8, WrongQuotes};
pub use scan::parse;

use crate::finding::{Place, Span, data};

/// The largest file that is read, bytes.
pub const MAX_BYTES: usize = 4 << 20;
/// The deepest that lists and objects may be nested.
pub const MAX_DEPTH: usize = 32;
/// The most problems of a file that are told at once.
pub const MAX_PROBLEMS: usize = 100;

/// A value and where it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// From its first to its last byte.
    pub span: Span,
    /// What stands there.
    pub value: Value,
}

/// A JSON value.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// `null`.
    Null,
    /// `true` or `false`.
    Bool(bool),
    /// A number; always finite.
    Number(f64),
    /// A string, decoded.
    Text(String),
    /// A list.
    List(Vec<Node>),
    /// An object.
    Object(Object),
    /// Something unreadable that has been reported.
    Unreadable,
}

/// The kinds of value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NodeKind {
    /// `null`.
    Null,
    /// `true` or `false`.
    Bool,
    /// A number.
    Number,
    /// A string.
    Text,
    /// A list.
    List,
    /// An object.
    Object,
    /// Something unreadable.
    Unreadable,
}

data!(NodeKind);

/// An object's members in the order written; no two have the same name.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Object {
    /// The members.
    pub members: Vec<Member>,
    /// Names that a merge patch took away, and where it says so.
    pub removed: Vec<(String, Span)>,
}

/// A named value in an object.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// The name, decoded.
    pub name: String,
    /// Where the name is written, quotes included.
    pub name_span: Span,
    /// The value.
    pub node: Node,
}

impl Object {
    /// The member of that name.
    pub fn get(&self, name: &str) -> Option<&Member> {
        self.members.iter().find(|member| member.name == name)
    }
}

impl Node {
    /// The kind of what stands here.
    pub fn kind(&self) -> NodeKind {
        match self.value {
            Value::Null => NodeKind::Null,
            Value::Bool(_) => NodeKind::Bool,
            Value::Number(_) => NodeKind::Number,
            Value::Text(_) => NodeKind::Text,
            Value::List(_) => NodeKind::List,
            Value::Object(_) => NodeKind::Object,
            Value::Unreadable => NodeKind::Unreadable,
        }
    }

    /// The object, where this is one.
    pub fn object(&self) -> Option<&Object> {
        match &self.value {
            Value::Object(object) => Some(object),
            _ => None,
        }
    }

    /// The place to mark for a JSON pointer: the name of a member, the whole of a list's entry. Where the pointer leads
    /// nowhere, the nearest thing around it that exists.
    pub fn locate(&self, pointer: &str) -> Span {
        let mut node = self;
        let mut span = Span { end: self.span.start.saturating_add(1).min(self.span.end), ..self.span };
        for step in pointer.split('/').skip(1) {
            let step = unescape(step);
            match &node.value {
                Value::Object(object) => match object.get(&step) {
                    Some(member) => (node, span) = (&member.node, member.name_span),
                    None => break,
                },
                Value::List(entries) => match step.parse::<usize>().ok().and_then(|index| entries.get(index)) {
                    Some(entry) => (node, span) = (entry, entry.span),
                    None => break,
                },
                _ => break,
            }
        }
        match node.value {
            // A plain value is shorter to read and nearer to the fault than its name.
            Value::Number(_) | Value::Text(_) | Value::Bool(_) | Value::Null => node.span,
            _ => span,
        }
    }

    /// The value without its places.
    pub fn to_json(&self) -> serde_json::Value {
        use serde_json::Value as Json;
        match &self.value {
            Value::Null | Value::Unreadable => Json::Null,
            Value::Bool(yes) => Json::Bool(*yes),
            Value::Number(number) => serde_json::Number::from_f64(*number).map_or(Json::Null, Json::Number),
            Value::Text(text) => Json::String(text.clone()),
            Value::List(entries) => Json::Array(entries.iter().map(Node::to_json).collect()),
            Value::Object(object) => {
                Json::Object(object.members.iter().map(|m| (m.name.clone(), m.node.to_json())).collect())
            }
        }
    }
}

/// One step of a JSON pointer as the name that it stands for (RFC 6901).
fn unescape(step: &str) -> String {
    step.replace("~1", "/").replace("~0", "~")
}

/// The place of a chain of names and indices.
pub fn place(steps: &[String], span: Span) -> Place {
    let whole = steps.iter().fold(Place::default(), |place, step| place.child(step));
    Place { span: Some(span), ..whole }
}

/// The byte in a string's token, quotes and escapes included, at which byte `decoded` of its meaning is written.
pub fn raw_offset(token: &str, decoded: usize) -> usize {
    let (mut raw, mut meant) = (1, 0);
    while meant < decoded {
        let rest = token.get(raw..).unwrap_or("");
        let (wide, bytes) = match (rest.as_bytes(), rest.chars().next()) {
            ([b'\\', b'u', ..], _) => unicode_escape(rest),
            ([b'\\', ..], _) => (2, 1),
            (_, Some(c)) => (c.len_utf8(), c.len_utf8()),
            (_, None) => break,
        };
        raw += wide;
        meant += bytes;
    }
    raw.min(token.len())
}

/// How many bytes a `\u` escape takes as written and as meant.
fn unicode_escape(rest: &str) -> (usize, usize) {
    let code = rest.get(2..6).and_then(|digits| u32::from_str_radix(digits, 16).ok()).unwrap_or(0);
    match char::from_u32(code) {
        Some(c) => (6, c.len_utf8()),
        // Two escapes make one character outside the basic plane, which is four bytes in UTF-8.
        None => (12, 4),
    }
}

#[cfg(test)]
mod tests;
