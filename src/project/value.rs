//! The kinds of value that fields hold.

use super::field::{Field, MOST_ENTRIES, NOTE, Read, Reader, Unit, check_note};
use super::field_problem::{Count, Expected, FieldProblem, Missing, Ranged, WhyBadName, WrongWord};
use super::json::{BadText, JsonProblem, Node, Value, raw_offset};
use super::quantity_problem::{QuantityProblem, Unreadable};
use crate::finding::{Names, Offered, Place, Span, nearest};
use crate::units::{Sum, is_unit_name, may_name_a_size};
use serde_json::{Map, Value as Json, json};
use std::ops::Range;

/// The longest text, in characters.
const LONGEST_TEXT: usize = 200;
/// The longest sum, in bytes.
const LONGEST_SUM: usize = 1000;
/// The longest name of a named thing, in characters.
const LONGEST_NAME: usize = 60;

/// A quantity or sum as written, to be worked out when the sizes are known.
#[derive(Debug, Clone)]
pub struct Written {
    /// What stands there.
    pub sum: Sum,
    /// Where.
    pub place: Place,
    /// Smallest and largest value, in the unit.
    pub range: (f64, f64),
}

/// The bytes of a file that are some bytes of a quoted quantity.
pub fn span_inside(texts: &[&str], token: Span, range: &Range<usize>) -> Span {
    let text = texts.get(usize::from(token.source)).and_then(|t| t.get(token.start as usize..token.end as usize));
    let Some(text) = text.filter(|text| text.starts_with('"')) else { return token };
    let start = token.start + raw_offset(text, range.start) as u32;
    let end = token.start + raw_offset(text, range.end) as u32;
    // An empty mark is widened to the closing quote, so that there is something to see.
    Span { start, end: end.max(start + 1).min(token.end), ..token }
}

impl Read for Written {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let sum = match &node.value {
            Value::Number(number) => Sum::number(*number),
            Value::Text(text) if text.len() > LONGEST_SUM => {
                let why = Unreadable::Long(text.chars().count());
                return reader.refuse(QuantityProblem::Unreadable { why }, node.span);
            }
            Value::Text(text) => match Sum::read(text) {
                Ok(sum) => sum,
                Err(fault) => {
                    let span = span_inside(reader.texts, node.span, &fault.range);
                    let why = Unreadable::Fault(fault.kind);
                    return reader.refuse(QuantityProblem::Unreadable { why }, span);
                }
            },
            _ => {
                let wanted = match field.unit {
                    Unit::Angle => Expected::Angle,
                    Unit::Number | Unit::None => Expected::Number,
                    Unit::Length => Expected::Length,
                    Unit::Size => Expected::LengthOrAngle,
                };
                return reader.wrong_kind(node, wanted);
            }
        };
        Some(Written { sum, place: reader.place(node.span), range: field.range })
    }

    fn schema(field: &'static Field, _: &mut Map<String, Json>) -> Json {
        // A bare number is millimetres in one file and inches in another: the schema takes the wider of the two.
        let (low, high) = field.range;
        let inches = |mm: f64| mm / crate::units::MM_PER_INCH;
        let (low, high) = match field.unit {
            Unit::Length => (low.min(inches(low)), high.max(inches(high))),
            _ => (low, high),
        };
        json!({ "anyOf": [
            { "type": "number", "minimum": low, "maximum": high },
            { "type": "string", "pattern": "^[^,()]*[\\p{L}\\p{N}][^,()]*$" },
        ] })
    }
}

impl Read for String {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let Value::Text(text) = &node.value else {
            return reader.wrong_kind(node, Expected::Text(reader.example(field)));
        };
        let length = text.chars().count();
        if text.trim().is_empty() {
            return reader.refuse(FieldProblem::EmptyText { example: reader.example(field) }, node.span);
        }
        if length > LONGEST_TEXT {
            return reader.refuse(FieldProblem::LongText { length, most: LONGEST_TEXT }, node.span);
        }
        if let Some(c) = text.chars().find(|c| c.is_control()) {
            return reader.refuse(JsonProblem::BadText { what: BadText::ControlMeant(c) }, node.span);
        }
        Some(text.clone())
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "type": "string", "minLength": 1, "maxLength": LONGEST_TEXT })
    }
}

impl Read for u32 {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let (low, high) = field.range;
        match node.value {
            Value::Number(number) if number.fract() == 0.0 && (low..=high).contains(&number) => Some(number as u32),
            Value::Number(number) => {
                let what = Ranged::Whole(number, low, high);
                reader
                    .refuse(FieldProblem::OutOfRange { what, value: None, smallest: None, largest: None }, node.span)
            }
            _ => reader.wrong_kind(node, Expected::Whole(low, high)),
        }
    }

    fn schema(field: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "type": "integer", "minimum": field.range.0, "maximum": field.range.1 })
    }
}

impl Read for bool {
    fn read(node: &Node, _: &'static Field, reader: &mut Reader) -> Option<Self> {
        match node.value {
            Value::Bool(value) => Some(value),
            _ => reader.wrong_kind(node, Expected::Bool),
        }
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "type": "boolean" })
    }
}

impl<T: Read> Read for Option<T> {
    const REQUIRED: bool = false;

    /// A field that is there and cannot be read has been told: reading goes on without it, to tell the rest as well.
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        Some(T::read(node, field, reader))
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        T::schema(field, definitions)
    }

    fn absent() -> Option<Self> {
        Some(None)
    }
}

impl<T: Read> Read for Vec<T> {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let Value::List(entries) = &node.value else {
            return reader.wrong_kind(node, Expected::List(reader.example(field)));
        };
        if entries.len() > MOST_ENTRIES {
            return too_many(node, entries.len(), reader);
        }
        // Every entry is read before the first bad one ends the reading.
        let mut read = Vec::with_capacity(entries.len());
        for (index, entry) in entries.iter().enumerate() {
            read.push(reader.inside(&index.to_string(), |reader| T::read(entry, field, reader)));
        }
        read.into_iter().collect()
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "type": "array", "items": T::schema(field, definitions), "maxItems": MOST_ENTRIES })
    }
}

fn too_many<T>(node: &Node, count: usize, reader: &mut Reader) -> Option<T> {
    reader.refuse(FieldProblem::TooMany { count, most: MOST_ENTRIES }, node.span)
}

/// A required field, without which reading goes on so that the rest is told as well.
#[derive(Debug, Clone)]
pub struct Wanted<T>(pub Option<T>);

impl<T: Read> Read for Wanted<T> {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        Some(Wanted(T::read(node, field, reader)))
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        T::schema(field, definitions)
    }

    fn absent() -> Option<Self> {
        Some(Wanted(None))
    }
}

/// A pair `[x, y]` of quantities.
#[derive(Debug, Clone)]
pub struct Pair(pub Written, pub Written);

impl Read for Pair {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::List(entries) => {
                if let [x, y] = entries.as_slice() {
                    let x = reader.inside("0", |reader| Written::read(x, field, reader));
                    let y = reader.inside("1", |reader| Written::read(y, field, reader));
                    return Some(Pair(x?, y?));
                }
                reader.refuse(FieldProblem::WrongCount { wanted: Count::Pair, count: entries.len() }, node.span)
            }
            _ => reader.wrong_kind(node, Expected::Pair),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        let entry = Written::schema(field, definitions);
        json!({ "type": "array", "prefixItems": [entry, entry], "items": false, "minItems": 2 })
    }
}

/// Three quantities `[x, y, z]`.
#[derive(Debug, Clone)]
pub struct Triple(pub [Written; 3]);

impl Read for Triple {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let Value::List(entries) = &node.value else {
            return reader.wrong_kind(node, Expected::Triple(reader.example(field)));
        };
        let [x, y, z] = entries.as_slice() else {
            let wanted = Count::Triple(reader.example(field));
            return reader.refuse(FieldProblem::WrongCount { wanted, count: entries.len() }, node.span);
        };
        let mut at = |step: &str, entry: &Node| reader.inside(step, |reader| Written::read(entry, field, reader));
        let (x, y, z) = (at("0", x), at("1", y), at("2", z));
        Some(Triple([x?, y?, z?]))
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        let entry = Written::schema(field, definitions);
        json!({ "type": "array", "prefixItems": [entry, entry, entry], "items": false, "minItems": 3 })
    }
}

/// Named things in the order written; those about which anything was told are left out.
#[derive(Debug, Clone)]
pub struct Named<T>(pub Vec<(String, T)>);

impl<T: Read> Read for Named<T> {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let fault = |name: &str| {
            let length = name.chars().count();
            let is_bad = name.trim().is_empty()
                || length > LONGEST_NAME
                || name.trim() != name
                || name.chars().any(char::is_control);
            is_bad.then_some(WhyBadName::NotPlain(LONGEST_NAME))
        };
        let named = read_named(node, field, reader, fault)?;
        Some(Named(named.into_iter().filter_map(|(name, value)| Some((name, value?))).collect()))
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({
            "type": "object",
            "propertyNames": { "minLength": 1, "maxLength": LONGEST_NAME },
            "properties": { NOTE: { "type": "string" } },
            "additionalProperties": T::schema(field, definitions),
            "maxProperties": MOST_ENTRIES,
        })
    }
}

/// The named sizes, in the order written; those about which anything was told have no value.
#[derive(Debug, Clone)]
pub struct NamedSizes(pub Vec<(String, Option<Written>)>);

impl Read for NamedSizes {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let fault = |name: &str| {
            if is_unit_name(name) {
                return Some(WhyBadName::Unit);
            }
            (!may_name_a_size(name)).then_some(WhyBadName::NotInSums)
        };
        read_named(node, field, reader, fault).map(NamedSizes)
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({
            "type": "object",
            "propertyNames": { "pattern": "^[A-Za-z][A-Za-z0-9_]*$" },
            "properties": { NOTE: { "type": "string" } },
            "additionalProperties": Written::schema(field, definitions),
            "maxProperties": MOST_ENTRIES,
        })
    }
}

/// Reads an object of named things; `fault` says what is wrong with a name.
fn read_named<T: Read>(
    node: &Node,
    field: &'static Field,
    reader: &mut Reader,
    fault: impl Fn(&str) -> Option<WhyBadName>,
) -> Option<Vec<(String, Option<T>)>> {
    let Some(object) = node.object() else {
        return reader.wrong_kind(node, Expected::Entries(reader.example(field)));
    };
    if object.members.len() > MOST_ENTRIES {
        return too_many(node, object.members.len(), reader);
    }
    let mut named = Vec::with_capacity(object.members.len());
    for member in &object.members {
        if member.name == NOTE {
            reader.inside(NOTE, |reader| check_note(&member.node, reader));
            continue;
        }
        let told = reader.findings.len();
        let value = reader.inside(&member.name, |reader| {
            if let Some(why) = fault(&member.name) {
                reader.refuse::<()>(FieldProblem::BadName { name: member.name.clone(), why }, member.name_span);
            }
            T::read(&member.node, field, reader)
        });
        named.push((member.name.clone(), value.filter(|_| reader.findings.len() == told)));
    }
    Some(named)
}

/// One of a few words.
pub fn word(node: &Node, words: &[&'static str], reader: &mut Reader) -> Option<&'static str> {
    let Value::Text(text) = &node.value else {
        return reader.wrong_kind(node, Expected::Word(words.to_vec()));
    };
    if let Some(word) = words.iter().find(|word| *word == text) {
        return Some(word);
    }
    let near =
        nearest(text, words.iter().copied()).and_then(|near| words.iter().find(|word| **word == near).copied());
    let what = WrongWord::Choice(text.clone(), words.to_vec(), Offered(near));
    reader.refuse(FieldProblem::UnknownWord { what }, node.span)
}

/// Which of the forms an object has, told by the field that only one of them has.
pub fn form(node: &Node, keys: &[&'static str], reader: &mut Reader) -> Option<&'static str> {
    let Some(object) = node.object() else {
        return reader.wrong_kind(node, Expected::ObjectWith(keys.to_vec()));
    };
    let mut given =
        object.members.iter().filter_map(|m| keys.iter().find(|key| **key == m.name).map(|key| (*key, m)));
    match (given.next(), given.next()) {
        (Some((key, _)), None) => Some(key),
        (Some((first, _)), Some((second, member))) => {
            reader.inside(second, |r| r.refuse(FieldProblem::TwoForms { first, second }, member.name_span))
        }
        _ => {
            let near = object.members.iter().find_map(|m| nearest(&m.name, keys.iter().copied()).map(|key| (key, m)));
            if let Some((key, member)) = near {
                let all = keys.iter().copied().map(str::to_owned).collect();
                let fields = Offered(Names { near: Some(key.to_owned()), all });
                let problem = FieldProblem::UnknownField { name: member.name.clone(), fields };
                return reader.inside(&member.name, |r| r.refuse(problem, member.name_span));
            }
            let brace = Span { end: (node.span.start + 1).min(node.span.end), ..node.span };
            reader.refuse(FieldProblem::Missing { what: Missing::Form(keys.to_vec()) }, brace)
        }
    }
}
