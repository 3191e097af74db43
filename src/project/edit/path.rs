//! The left side of a change: which field it names, and what that field takes.

use super::problem::Unclear;
use crate::project::schema;
use serde_json::Value as Json;

/// What a field takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Accepts {
    /// Texts only: even digits are written in quotes.
    Texts,
    /// Numbers, lists or objects, or either of those and texts; or nobody knows.
    Anything,
}

/// The names of a change's path, and its value; or why it cannot be understood.
pub fn read(change: &str) -> Result<(Vec<String>, &str), Unclear> {
    let mut steps = Vec::new();
    let mut rest = change;
    loop {
        let (step, after) = step(rest)?;
        steps.push(step);
        match after.chars().next() {
            Some('.') => rest = after.get(1..).unwrap_or(""),
            Some('=') => return Ok((steps, after.get(1..).unwrap_or(""))),
            _ => return Err(Unclear::NoEquals),
        }
    }
}

fn step(rest: &str) -> Result<(String, &str), Unclear> {
    if rest.starts_with('"') {
        let mut quoted = serde_json::Deserializer::from_str(rest).into_iter::<String>();
        let name = quoted.next().and_then(Result::ok).ok_or(Unclear::OpenQuote)?;
        return Ok((name, rest.get(quoted.byte_offset()..).unwrap_or("")));
    }
    let end = rest.find(['.', '=']).unwrap_or(rest.len());
    let name = rest.get(..end).unwrap_or("").trim();
    if name.is_empty() {
        return Err(Unclear::NoName);
    }
    Ok((name.to_owned(), rest.get(end..).unwrap_or("")))
}

/// What the field at the end of the steps takes, by the table of fields.
pub fn accepts(steps: &[String]) -> Accepts {
    let root = schema();
    // A variant's changes have the fields of the project itself.
    let steps = match steps {
        [first, _, rest @ ..] if first == "variants" && !rest.is_empty() => rest,
        steps => steps,
    };
    let mut found = vec![&root];
    for step in steps {
        found = found
            .iter()
            .flat_map(|schema| alternatives(schema, &root))
            .filter_map(|schema| inside(schema, step))
            .collect();
    }
    let found: Vec<&Json> = found.iter().flat_map(|schema| alternatives(schema, &root)).collect();
    if !found.is_empty() && found.iter().all(|schema| texts_only(schema)) {
        Accepts::Texts
    } else {
        Accepts::Anything
    }
}

/// The schema itself, or those that it refers to or chooses among.
fn alternatives<'a>(schema: &'a Json, root: &'a Json) -> Vec<&'a Json> {
    if let Some(name) = schema.get("$ref").and_then(Json::as_str).and_then(|r| r.strip_prefix("#/$defs/")) {
        return root
            .get("$defs")
            .and_then(|defs| defs.get(name))
            .map(|found| alternatives(found, root))
            .unwrap_or_default();
    }
    let choices = schema.get("anyOf").or_else(|| schema.get("oneOf")).and_then(Json::as_array);
    match choices {
        Some(choices) => choices.iter().flat_map(|choice| alternatives(choice, root)).collect(),
        None => vec![schema],
    }
}

/// The schema of what a name or index leads to.
fn inside<'a>(schema: &'a Json, step: &str) -> Option<&'a Json> {
    if let Some(property) = schema.get("properties").and_then(|properties| properties.get(step)) {
        return Some(property);
    }
    if let Some(other) = schema.get("additionalProperties").filter(|other| other.is_object()) {
        return Some(other);
    }
    let index = step.parse::<usize>().ok()?;
    schema.get("prefixItems").and_then(|items| items.get(index)).or_else(|| schema.get("items"))
}

fn texts_only(schema: &Json) -> bool {
    let words = |choices: &Json| choices.as_array().is_some_and(|choices| choices.iter().all(Json::is_string));
    schema.get("type").is_some_and(|kind| kind == "string")
        || schema.get("enum").is_some_and(words)
        || schema.get("const").is_some_and(Json::is_string)
}
