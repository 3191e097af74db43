//! Fields that a file could have and has not.

use super::kind::Kind;
use super::path::{Asked, may_stand};
use super::{Node, Value, changed};
use crate::project::Shops;
use crate::project::example::with_units;
use crate::project::field::NOTE;
use crate::units::Units;
use serde_json::Value as Json;

/// A field that a file could have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToGive {
    /// The names down to it.
    pub path: Vec<String>,
    /// What it is called.
    pub title: String,
    /// A value that it takes in this file.
    pub example: String,
}

/// Parts of a project that are looked into; what stands in named entries (joints, patterns) is not.
const SECTIONS: [&str; 3] = ["base", "top", "shop"];

/// Members of a shop file that are no fields of a shop, and by which its form is not known.
const OF_A_SHOP_FILE: [&str; 2] = ["units", "$schema"];

/// The file is read again for each field: so many bytes in all.
const MOST_READ: usize = 2 << 20;

/// Fields that a project could have and has not, each with a value that `set` takes as it stands.
pub fn fields_to_give(text: &str, shops: Shops) -> Vec<ToGive> {
    found(&Kind::Project(shops), text)
}

/// The same of a shop file.
pub fn shop_fields_to_give(text: &str) -> Vec<ToGive> {
    found(&Kind::Shop, text)
}

fn found(kind: &Kind, text: &str) -> Vec<ToGive> {
    let Some(root) = kind.tree(text, &mut Vec::new()) else { return Vec::new() };
    let inches = kind.read("", text, None).sources.notation().units == Units::Inch;
    let mut all = Vec::new();
    match kind {
        Kind::Project(_) => look(&root, inches, &mut Vec::new(), &mut all),
        Kind::Shop => {
            for member in root.object().into_iter().flat_map(|root| &root.members) {
                look(&member.node, inches, &mut vec![member.name.clone()], &mut all);
            }
        }
    }
    all.truncate(MOST_READ / text.len().max(1));
    all.retain(|field| {
        let asked = Asked { steps: kind.own(&field.path).to_vec(), value: field.example.clone() };
        changed(kind, ("", text), &[&asked.written()]).is_ok()
    });
    all.into_iter().map(|field| ToGive { path: kind.own(&field.path).to_vec(), ..field }).collect()
}

/// Collects what objects of a file lack.
fn look(node: &Node, inches: bool, here: &mut Vec<String>, found: &mut Vec<ToGive>) {
    let Value::Object(object) = &node.value else { return };
    let names: Vec<&str> = object.members.iter().map(|member| member.name.as_str()).collect();
    let of_form: Vec<&str> = names.iter().copied().filter(|name| !OF_A_SHOP_FILE.contains(name)).collect();
    for (name, field) in may_stand(here, &of_form) {
        let lacks = !names.contains(&name.as_str()) && name != NOTE && !name.starts_with('$');
        let example = field.get("examples").and_then(|examples| examples.get(0));
        if let Some(example) = example.filter(|_| lacks) {
            found.push(to_give([here.as_slice(), &[name]].concat(), &field, example, inches));
        }
    }
    let is_whole = here.is_empty();
    for member in object.members.iter().filter(|member| !is_whole || SECTIONS.contains(&member.name.as_str())) {
        here.push(member.name.clone());
        look(&member.node, inches, here, found);
        here.pop();
    }
}

/// A field with its example; of an object with one number in it, that number.
fn to_give(mut path: Vec<String>, field: &Json, example: &Json, inches: bool) -> ToGive {
    let title = field.get("title").and_then(Json::as_str).unwrap_or_default().to_owned();
    let is_length = field.get("x-unit").and_then(Json::as_str).is_some_and(|unit| unit.starts_with("length"));
    let mut value = if inches && (is_length || example.is_object()) {
        serde_json::from_str(&with_units(&example.to_string())).unwrap_or_else(|_| example.clone())
    } else {
        example.clone()
    };
    let only = value.as_object().filter(|entries| entries.len() == 1).and_then(|entries| entries.iter().next());
    if let Some((name, inner)) = only.filter(|(_, inner)| inner.is_number() || inner.is_string()) {
        path.push(name.clone());
        value = inner.clone();
    }
    let example = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
    ToGive { path, title, example }
}
