//! One table of fields drives the reader, its messages and the JSON Schema, so that they cannot drift apart.

pub use crate::model::field::{Choice, Field, Unit};

use super::example::example;
use super::field_problem::{Expected, FieldProblem, Missing};
use super::json::{MAX_PROBLEMS, Node, Object, Value, place};
use super::value::word;
use crate::finding::{Finding, Names, Offered, Place, Problem, Span, nearest};
use serde_json::{Map, Value as Json, json};

/// The field that is a whole file.
pub const ROOT: Field = Field::new("", "", "", "{}");

/// The member that every object may have, and that is not looked into.
pub const NOTE: &str = "note";

/// The most entries that a list or an object of named things may have.
pub const MOST_ENTRIES: usize = 1000;

/// Something that can be read from a place in the file.
pub trait Read: Sized {
    /// Whether the field must be there.
    const REQUIRED: bool = true;

    /// Reads the value; what is wrong with it is told to the reader, and then there is none.
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self>;

    /// The schema of what `read` accepts; objects are put among the definitions.
    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json;

    /// The value of a field that is not there.
    fn absent() -> Option<Self> {
        None
    }
}

/// Where the reading stands, and what was found wrong so far.
pub struct Reader<'a> {
    /// The texts by source, for places inside a quoted quantity.
    pub texts: &'a [&'a str],
    /// Whether bare numbers are inches.
    pub inches: bool,
    /// Names and indices down to the value at hand.
    pub steps: Vec<String>,
    /// What was found.
    pub findings: Vec<Finding>,
}

impl Reader<'_> {
    /// The field's example as it may be written into this file.
    pub fn example(&self, field: &Field) -> Offered<String> {
        Offered(example(field, self.inches))
    }

    /// The place at hand, marked by `span`.
    pub fn place(&self, span: Span) -> Place {
        place(&self.steps, span)
    }

    /// Tells what is wrong at the place at hand, and that there is no value.
    pub fn refuse<T>(&mut self, problem: impl Problem, span: Span) -> Option<T> {
        if !self.is_full() {
            let finding = Finding::of(problem, self.place(span));
            self.findings.push(finding);
        }
        None
    }

    /// Whether more was found than anybody is told at once.
    fn is_full(&self) -> bool {
        self.findings.len() > MAX_PROBLEMS
    }

    /// Tells that something of another kind stands where `wanted` belongs.
    pub fn wrong_kind<T>(&mut self, node: &Node, wanted: Expected) -> Option<T> {
        match node.value {
            Value::Unreadable => None,
            Value::Null => self.refuse(FieldProblem::Null { wanted: Some(wanted) }, node.span),
            _ => self.refuse(FieldProblem::WrongKind { wanted, found: node.kind() }, node.span),
        }
    }

    /// Reads something inside the place at hand.
    pub fn inside<T>(&mut self, step: &str, read: impl FnOnce(&mut Self) -> T) -> T {
        self.steps.push(step.to_owned());
        let result = read(self);
        self.steps.pop();
        result
    }
}

/// An object whose fields are about to be read.
pub struct Opened<'a> {
    object: &'a Object,
    span: Span,
    /// Fields that stand there under a misspelt name, and were reported as such.
    misspelt: Vec<&'static str>,
}

/// Opens an object with the given fields; a member that is none of them is told, with the nearest name.
pub fn open<'a>(
    node: &'a Node,
    fields: impl Iterator<Item = &'static Field> + Clone,
    reader: &mut Reader,
) -> Option<Opened<'a>> {
    let Some(object) = node.object() else {
        let wanted = if reader.steps.is_empty() { Expected::Project } else { Expected::Object };
        return reader.wrong_kind(node, wanted);
    };
    let missing: Vec<&'static str> =
        fields.clone().map(|field| field.name).filter(|name| object.get(name).is_none()).collect();
    let mut misspelt = Vec::new();
    for member in &object.members {
        if reader.is_full() {
            break;
        }
        if member.name == NOTE {
            reader.inside(NOTE, |reader| check_note(&member.node, reader));
        } else if !fields.clone().any(|field| field.name == member.name) {
            let near = nearest(&member.name, missing.iter().copied());
            misspelt.extend(near);
            let all = fields.clone().map(|field| field.name).chain([NOTE]).map(str::to_owned).collect();
            let fields = Offered(Names { near: near.map(str::to_owned), all });
            let problem = FieldProblem::UnknownField { name: member.name.clone(), fields };
            reader.inside(&member.name, |r| r.refuse::<()>(problem, member.name_span));
        }
    }
    let brace = Span { end: (node.span.start + 1).min(node.span.end), ..node.span };
    Some(Opened { object, span: brace, misspelt })
}

impl Opened<'_> {
    /// Reads one field.
    pub fn field<T: Read>(&self, field: &'static Field, reader: &mut Reader) -> Option<T> {
        if let Some(member) = self.object.get(field.name) {
            return reader.inside(field.name, |reader| T::read(&member.node, field, reader));
        }
        if !T::REQUIRED || self.misspelt.contains(&field.name) {
            return T::absent();
        }
        let (name, example, meaning) = (field.name, reader.example(field), field.meaning.trim_end_matches('.'));
        let patch = self.object.removed.iter().find(|(removed, _)| removed == name).map(|(_, patch)| *patch);
        let what = Missing::Field { name, meaning, example, taken_away: patch.is_some() };
        reader.refuse::<()>(FieldProblem::Missing { what }, patch.unwrap_or(self.span));
        if patch.is_some() { None } else { T::absent() }
    }
}

/// A remark may be any text.
pub fn check_note(node: &Node, reader: &mut Reader) {
    if !matches!(node.value, Value::Text(_)) {
        reader.wrong_kind::<()>(node, Expected::Note);
    }
}

/// The schema of an object with these properties.
pub fn object_schema(meaning: &str, properties: Map<String, Json>, required: &[&str]) -> Json {
    let mut properties = properties;
    properties.insert(
        NOTE.to_owned(),
        json!({ "type": "string", "description": "A remark of yours; it is not looked into." }),
    );
    json!({
        "type": "object",
        "description": meaning.trim(),
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    })
}

/// A field's schema with its words.
pub fn described(schema: Json, field: &Field) -> Json {
    let Json::Object(mut members) = schema else { return schema };
    let (low, high) = field.range;
    let (unit, range) = match field.unit {
        Unit::None => (None, String::new()),
        Unit::Length => (Some("length"), format!(" From {low} mm to {high} mm.")),
        Unit::Size => (Some("length or angle"), format!(" A length from {low} mm to {high} mm, or an angle.")),
        Unit::Angle => (Some("angle"), format!(" From {low}° to {high}°.")),
        Unit::Number => (Some("number"), format!(" From {low} to {high}.")),
    };
    members.insert("title".to_owned(), json!(field.title));
    members.insert("description".to_owned(), json!(format!("{}{range}", field.meaning)));
    if let Some(unit) = unit {
        members.insert("x-unit".to_owned(), json!(unit));
    }
    if let Ok(example) = serde_json::from_str::<Json>(field.example) {
        members.insert("examples".to_owned(), json!([example]));
    }
    Json::Object(members)
}

impl<T: Choice> Read for T {
    fn read(node: &Node, _: &'static Field, reader: &mut Reader) -> Option<Self> {
        let words: Vec<&'static str> = T::WORDS.iter().map(|(word, _)| *word).collect();
        let word = word(node, &words, reader)?;
        T::WORDS.iter().find(|(known, _)| *known == word).map(|(_, value)| *value)
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "enum": T::WORDS.iter().map(|(word, _)| *word).collect::<Vec<_>>() })
    }
}

/// Declares an object of the file as written: its fields with their types, titles, meanings, ranges and examples.
macro_rules! record {
    ($(#[doc = $doc:literal])* $Record:ident { $(
        $name:ident $(as $key:literal)?: $type:ty = $title:literal, $meaning:literal,
        $($unit:ident $low:literal..=$high:literal,)? $example:literal;
    )* }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone)]
        pub struct $Record { $(#[doc = $meaning] pub $name: $type),* }

        impl $Record {
            /// The table of the fields.
            pub const FIELDS: &'static [$crate::project::field::Field] = &[$($crate::model::field::field!(
                $crate::model::field::key!($name $($key)?), $title, $meaning,
                $($unit $low..=$high,)? $example
            )),*];
        }

        impl $crate::project::field::Read for $Record {
            fn read(
                node: &$crate::project::json::Node,
                _: &'static $crate::project::field::Field,
                reader: &mut $crate::project::field::Reader,
            ) -> Option<Self> {
                let opened = $crate::project::field::open(node, Self::FIELDS.iter(), reader)?;
                let mut fields = Self::FIELDS.iter();
                // Every field is read before the first missing one ends the reading.
                $(let $name = opened.field::<$type>(fields.next()?, reader);)*
                Some($Record { $($name: $name?),* })
            }

            fn schema(
                _: &'static $crate::project::field::Field,
                definitions: &mut serde_json::Map<String, serde_json::Value>,
            ) -> serde_json::Value {
                use $crate::project::field::{Read, described, object_schema};
                let name = stringify!($Record).trim_end_matches("Text");
                if !definitions.contains_key(name) {
                    // Stands in its place at once, so that an object inside itself ends.
                    definitions.insert(name.to_owned(), serde_json::Value::Null);
                    let mut properties = serde_json::Map::new();
                    let mut required = Vec::new();
                    let mut fields = Self::FIELDS.iter();
                    $(if let Some(field) = fields.next() {
                        let schema = <$type as Read>::schema(field, definitions);
                        properties.insert(field.name.to_owned(), described(schema, field));
                        if <$type as Read>::REQUIRED { required.push(field.name); }
                    })*
                    let schema = object_schema(concat!($($doc),*), properties, &required);
                    definitions.insert(name.to_owned(), schema);
                }
                serde_json::json!({ "$ref": format!("#/$defs/{name}") })
            }
        }
    };
}

/// Declares an object that comes in several forms, told apart by the field that only one of them has.
macro_rules! forms {
    ($(#[doc = $doc:literal])* $Forms:ident { $($key:literal => $Form:ident),* $(,)? }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone)]
        #[allow(missing_docs, reason = "each form's own table says what it is")]
        #[allow(clippy::large_enum_variant, reason = "it is read once and soon let go")]
        #[allow(clippy::enum_variant_names, reason = "a form is named by its own table, within this module")]
        pub enum $Forms { $($Form($Form)),* }

        impl $crate::project::field::Read for $Forms {
            fn read(
                node: &$crate::project::json::Node,
                field: &'static $crate::project::field::Field,
                reader: &mut $crate::project::field::Reader,
            ) -> Option<Self> {
                match $crate::project::value::form(node, &[$($key),*], reader)? {
                    $($key => $Form::read(node, field, reader).map($Forms::$Form),)*
                    _ => None,
                }
            }

            fn schema(
                field: &'static $crate::project::field::Field,
                definitions: &mut serde_json::Map<String, serde_json::Value>,
            ) -> serde_json::Value {
                serde_json::json!({ "oneOf": [$(<$Form as $crate::project::field::Read>::schema(field, definitions)),*] })
            }
        }
    };
}

pub(crate) use crate::model::field::choice;
pub(crate) use {forms, record};
