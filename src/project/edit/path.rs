//! The left side of a change: which field it names, and what that field takes.
//!
//! What a field takes is asked of the schema, which is made of the table of fields.

use super::problem::Unclear;
use crate::model::path::{BadPath, dotted, leading};
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

/// The field of a project that holds its named sizes.
pub const SIZES: &str = "sizes";

/// What puts nothing in a field's place.
const NONE: &str = "none";

/// A change as it was asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// The names down to the field.
    pub steps: Vec<String>,
    /// What is to stand there.
    pub value: String,
}

impl Asked {
    /// The named size that is changed, where one is.
    pub fn size(&self) -> Option<&str> {
        match self.steps.as_slice() {
            [sizes, name] if sizes == SIZES => Some(name),
            _ => None,
        }
    }

    /// Whether what stands there is to go: the field itself has no use for the word.
    pub fn removes(&self) -> bool {
        self.value == NONE && accepts(&self.steps) != Accepts::Texts && !takes_word(&self.steps, NONE)
    }

    /// How it is written on a command line: names with a dot, a blank or `=` in them stand between quotes.
    pub fn written(&self) -> String {
        format!("{}={}", dotted(&self.steps), self.value)
    }
}

/// The names of a change's path, and its value; or why it cannot be understood.
pub fn read(change: &str) -> Result<Asked, Unclear> {
    let (steps, after) = leading(change)?;
    match after.strip_prefix('=') {
        Some(value) => Ok(Asked { steps, value: value.trim().to_owned() }),
        None => Err(Unclear::NoEquals(with_equals(change))),
    }
}

/// A change in which something else stands for the `=`, or nothing: `rise: 15`, `rise 15`.
fn with_equals(change: &str) -> Option<String> {
    let begins_number = |rest: &str| rest.trim_start().starts_with(|c: char| c.is_numeric() || c == '-' || c == '.');
    let parted = change.split_once(':').filter(|(_, value)| begins_number(value));
    let blank = || {
        let mut blanks = change.match_indices(' ').map(|(at, _)| change.split_at(at));
        blanks.find(|(_, rest)| begins_number(rest))
    };
    let (name, value) = parted.or_else(blank)?;
    (!name.trim().is_empty()).then(|| format!("{}={}", name.trim(), value.trim()))
}

impl From<BadPath> for Unclear {
    fn from(why: BadPath) -> Unclear {
        match why {
            BadPath::OpenQuote => Unclear::OpenQuote,
            BadPath::NoName => Unclear::NoName,
        }
    }
}

/// What the field at the end of the steps takes, by the table of fields.
pub fn accepts(steps: &[String]) -> Accepts {
    let root = schema();
    let found = fields(&root, steps);
    if !found.is_empty() && found.iter().all(|schema| texts_only(schema)) {
        Accepts::Texts
    } else {
        Accepts::Anything
    }
}

/// Whether the table of fields knows a name in the file itself.
pub fn is_at_the_top(name: &str) -> bool {
    !fields(&schema(), &[name.to_owned()]).is_empty()
}

/// Whether a word is one of those among which the field at the end of the steps chooses.
pub fn takes_word(steps: &[String], word: &str) -> bool {
    let chooses = |schema: &&Json| {
        let among = schema.get("enum").and_then(Json::as_array).into_iter().flatten();
        among.chain(schema.get("const")).any(|choice| choice == word)
    };
    fields(&schema(), steps).iter().any(chooses)
}

/// The words among which the field at the end of the steps chooses.
pub fn words(steps: &[String]) -> Vec<String> {
    let root = schema();
    let chosen = fields(&root, steps).into_iter().filter_map(|schema| schema.get("enum")?.as_array());
    chosen.flatten().filter_map(|word| word.as_str().map(str::to_owned)).collect()
}

/// Whether an object may stand at the end of the steps that has a field of a name.
pub fn may_hold(steps: &[String], name: &str) -> bool {
    let holds = |schema: &&Json| schema.get("properties").is_some_and(|fields| fields.get(name).is_some());
    fields(&schema(), steps).iter().any(holds)
}

/// The fields that may stand in the object at the end of the steps, in which these stand: of its forms that have them all, each with
/// its schema.
pub fn may_stand(steps: &[String], there: &[&str]) -> Vec<(String, Json)> {
    let root = schema();
    let has = |form: &&Json| {
        let fields = form.get("properties").and_then(Json::as_object);
        fields.is_some_and(|fields| there.iter().all(|name| fields.contains_key(*name)))
    };
    let forms = fields(&root, steps).into_iter().filter(has);
    let mut found: Vec<(String, Json)> = Vec::new();
    for (name, field) in forms.flat_map(|form| form.get("properties").and_then(Json::as_object).into_iter().flatten())
    {
        if !found.iter().any(|(known, _)| known == name) {
            found.push((name.clone(), field.clone()));
        }
    }
    found
}

/// The one field that what stands at the end of the steps must have, where it is an object of one form that needs one field alone.
pub fn only_needed(steps: &[String]) -> Option<String> {
    let root = schema();
    let found = fields(&root, steps);
    let [form] = found.as_slice() else { return None };
    match form.get("required")?.as_array()?.as_slice() {
        [only] => only.as_str().map(str::to_owned),
        _ => None,
    }
}

/// How many names lead to a field at most, of those that are looked for in the table of fields.
const DEEPEST: usize = 4;

/// The ways to all fields of the table that are meant, those in named entries (joints, patterns) left out.
pub fn fields_meant(is_meant: &dyn Fn(&[String]) -> bool) -> Vec<Vec<String>> {
    fn look(
        at: &Json,
        root: &Json,
        here: &mut Vec<String>,
        is_meant: &dyn Fn(&[String]) -> bool,
        found: &mut Vec<Vec<String>>,
    ) {
        for schema in alternatives(at, root) {
            let fields = schema.get("properties").and_then(Json::as_object).into_iter().flatten();
            for (name, field) in fields {
                here.push(name.clone());
                if is_meant(here) && !found.contains(here) {
                    found.push(here.clone());
                }
                if here.len() < DEEPEST {
                    look(field, root, here, is_meant, found);
                }
                here.pop();
            }
        }
    }
    let (root, mut found) = (schema(), Vec::new());
    look(&root, &root, &mut Vec::new(), is_meant, &mut found);
    found
}

/// What may stand at the end of the steps.
fn fields<'a>(root: &'a Json, steps: &[String]) -> Vec<&'a Json> {
    // A variant's changes have the fields of the project itself.
    let steps = match steps {
        [first, _, rest @ ..] if first == "variants" && !rest.is_empty() => rest,
        steps => steps,
    };
    let mut found = vec![root];
    for step in steps {
        found = found
            .iter()
            .flat_map(|schema| alternatives(schema, root))
            .filter_map(|schema| inside(schema, step))
            .collect();
    }
    found.iter().flat_map(|schema| alternatives(schema, root)).collect()
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
