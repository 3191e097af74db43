//! The kinds of value that fields hold.

use super::field::{Field, MOST_ENTRIES, NOTE, Read, Reader, Unit, check_note, listed};
use super::json::{Node, Value, raw_offset};
use crate::finding::{Place, Span, nearest, quoted};
use crate::units::{Fault, Sum, is_unit_name, may_name_a_size};
use serde_json::{Map, Value as Json, json};

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

/// The bytes that a fault in a quoted quantity concerns.
pub fn fault_span(texts: &[&str], token: Span, fault: &Fault) -> Span {
    let text = texts.get(usize::from(token.source)).and_then(|t| t.get(token.start as usize..token.end as usize));
    let Some(text) = text.filter(|text| text.starts_with('"')) else { return token };
    let start = token.start + raw_offset(text, fault.range.start) as u32;
    let end = token.start + raw_offset(text, fault.range.end) as u32;
    // An empty mark is widened to the closing quote, so that there is something to see.
    Span { start, end: end.max(start + 1).min(token.end), ..token }
}

impl Read for Written {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let sum = match &node.value {
            Value::Number(number) => Sum::number(*number),
            Value::Text(text) if text.len() > LONGEST_SUM => {
                let message = format!("this text is too long for a quantity: {} characters", text.chars().count());
                return reader.refuse(
                    "unreadable-quantity",
                    node.span,
                    message,
                    "write a number with its unit, or a short sum",
                );
            }
            Value::Text(text) => match Sum::read(text) {
                Ok(sum) => sum,
                Err(fault) => {
                    let span = fault_span(reader.texts, node.span, &fault);
                    return reader.refuse("unreadable-quantity", span, fault.message, fault.remedy);
                }
            },
            _ => {
                let (wanted, remedy) = match field.unit {
                    Unit::Angle => ("an angle", "write an angle, for example 12 or \"1:6\""),
                    Unit::Number | Unit::None => ("a number", "write a number, for example 2"),
                    Unit::Length => ("a length", "write a length, for example \"38 mm\" or \"1 1/2 in\""),
                    Unit::Size => ("a length or an angle", "write for example \"38 mm\", \"1 1/2 in\" or \"12 deg\""),
                };
                return reader.wrong_kind(node, wanted, remedy);
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
            return reader.wrong_kind(
                node,
                "a text",
                &format!("write a text in quotes, for example {}", reader.example(field)),
            );
        };
        let length = text.chars().count();
        if text.trim().is_empty() {
            return reader.refuse(
                "empty-text",
                node.span,
                "this text is empty",
                format!("write for example {}", reader.example(field)),
            );
        }
        if length > LONGEST_TEXT {
            let message = format!("this text has {length} characters; the most is {LONGEST_TEXT}");
            return reader.refuse("text-too-long", node.span, message, "shorten it, or put it into a \"note\"");
        }
        if let Some(c) = text.chars().find(|c| c.is_control()) {
            let message = format!("a line end, tab or control character (U+{:04X}) stands in this text", c as u32);
            return reader.refuse("bad-text", node.span, message, "write it on one line");
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
                let message = format!("{number} is not a whole number from {low} to {high}");
                reader.refuse(
                    "out-of-range",
                    node.span,
                    message,
                    format!("write a whole number from {low} to {high}"),
                )
            }
            _ => reader.wrong_kind(node, "a whole number", &format!("write a whole number from {low} to {high}")),
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
            _ => reader.wrong_kind(node, "true or false", "write true or false, without quotes"),
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
            return reader.wrong_kind(
                node,
                "a list",
                &format!("write a list, for example {}", reader.example(field)),
            );
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
    let message = format!("{count} entries stand here; the most is {MOST_ENTRIES}");
    reader.refuse("too-many", node.span, message, "divide the project among several files")
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
                let message = format!("two lengths belong here, not {}", entries.len());
                reader.refuse("wrong-count", node.span, message, "write two, for example [100, 50]")
            }
            _ => reader.wrong_kind(node, "a pair of lengths", "write two in a list, for example [100, 50]"),
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
            return reader.wrong_kind(
                node,
                "a list of three",
                &format!("write three, for example {}", reader.example(field)),
            );
        };
        let [x, y, z] = entries.as_slice() else {
            let message = format!("three belong here, not {}", entries.len());
            return reader.refuse(
                "wrong-count",
                node.span,
                message,
                format!("write for example {}", reader.example(field)),
            );
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
            if name.trim().is_empty()
                || length > LONGEST_NAME
                || name.trim() != name
                || name.chars().any(char::is_control)
            {
                let rule =
                    format!("write a name of 1 to {LONGEST_NAME} characters on one line, without spaces around it");
                Some((cannot_name(name), rule))
            } else {
                None
            }
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
                return Some((
                    format!("{name} is a unit here, and cannot name a size"),
                    format!("call it {}", other_name(name)),
                ));
            }
            let rule = "use letters, digits and _, a letter first, and no name of a unit";
            (!may_name_a_size(name)).then(|| (cannot_name(name), rule.to_owned()))
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

fn cannot_name(name: &str) -> String {
    format!("{} cannot be used as a name", quoted(name))
}

/// A name that a size may have in place of a unit's.
fn other_name(unit: &str) -> String {
    match unit.to_ascii_lowercase().as_str() {
        "foot" | "feet" | "ft" => "foot_width".to_owned(),
        lower => format!("{lower}_size"),
    }
}

/// Reads an object of named things; `fault` says what is wrong with a name, and the cure.
fn read_named<T: Read>(
    node: &Node,
    field: &'static Field,
    reader: &mut Reader,
    fault: impl Fn(&str) -> Option<(String, String)>,
) -> Option<Vec<(String, Option<T>)>> {
    let Some(object) = node.object() else {
        return reader.wrong_kind(
            node,
            "an object of named entries",
            &format!("write for example {}", reader.example(field)),
        );
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
            if let Some((message, remedy)) = fault(&member.name) {
                reader.refuse::<()>("bad-name", member.name_span, message, remedy);
            }
            T::read(&member.node, field, reader)
        });
        named.push((member.name.clone(), value.filter(|_| reader.findings.len() == told)));
    }
    Some(named)
}

/// One of a few words.
pub fn word(node: &Node, words: &[&'static str], reader: &mut Reader) -> Option<&'static str> {
    let all = listed(words.iter().copied());
    let Value::Text(text) = &node.value else {
        return reader.wrong_kind(node, "a word", &format!("write one of {all}"));
    };
    if let Some(word) = words.iter().find(|word| *word == text) {
        return Some(word);
    }
    let remedy = match nearest(text, words.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"? the choices are {all}"),
        None => format!("write one of {all}"),
    };
    reader.refuse("unknown-word", node.span, format!("{} is none of the choices here", quoted(text)), remedy)
}

/// Which of the forms an object has, told by the field that only one of them has.
pub fn form(node: &Node, keys: &[&'static str], reader: &mut Reader) -> Option<&'static str> {
    let all = listed(keys.iter().copied());
    let Some(object) = node.object() else {
        return reader.wrong_kind(node, "an object", &format!("write an object with one of {all}"));
    };
    let mut given =
        object.members.iter().filter_map(|m| keys.iter().find(|key| **key == m.name).map(|key| (*key, m)));
    match (given.next(), given.next()) {
        (Some((key, _)), None) => Some(key),
        (Some((first, _)), Some((second, member))) => {
            let message = format!("\"{first}\" and \"{second}\" exclude each other");
            reader.inside(second, |r| r.refuse("two-forms", member.name_span, message, "keep one of the two"))
        }
        _ => {
            let near = object.members.iter().find_map(|m| nearest(&m.name, keys.iter().copied()).map(|key| (key, m)));
            if let Some((key, member)) = near {
                let message = format!("there is no field {} here", quoted(&member.name));
                let remedy = format!("did you mean \"{key}\"?");
                return reader.inside(&member.name, |r| r.refuse("unknown-field", member.name_span, message, remedy));
            }
            let brace = Span { end: (node.span.start + 1).min(node.span.end), ..node.span };
            reader.refuse(
                "field-missing",
                brace,
                "this object does not say what it is",
                format!("give it one of {all}"),
            )
        }
    }
}
