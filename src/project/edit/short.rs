//! Short names of fields: `splay` for `base.splay`, `top rail thickness` for `base.top_rail.thickness`.

use super::kind::Kind;
use super::path::{fields_meant, is_at_the_top, may_hold};
use super::problem::{ChangeProblem, Nowhere, Paths};
use crate::finding::{Finding, Place, nearest};
use crate::model::Number;
use crate::model::path::dotted;
use crate::project::json::{Node, Value};

/// The most fields that are named where a name is not clear.
const NAMED: usize = 12;

/// Members of a file that hold changes, remarks and what exists already, not the piece itself.
const BESIDE: [&str; 5] = ["variants", "note", "made", "undecided", "fixed"];

/// What a name alone is taken of, before all else: a size, then the piece itself.
const OWN: [&str; 2] = ["sizes", "base"];

/// The way to the one field that the end of a path names: a size or a field of the piece itself before those of its parts. A path
/// that begins in the file itself is given back as it is.
///
/// # Errors
/// A finding where it names several, or nothing.
pub fn full_path(
    root: &Node,
    numbers: &[Number],
    steps: Vec<String>,
    kind: &Kind,
) -> Result<Vec<String>, Vec<Finding>> {
    let is_there = |first: &String| root.object().is_some_and(|root| root.get(first).is_some());
    if steps.first().is_none_or(|first| is_there(first) || is_at_the_top(first)) {
        return Ok(steps);
    }
    let asked = plain(&steps.join(" "));
    let mut found = fields_named(root, &asked);
    let given = numbers.iter().filter(|number| {
        ends_with(&plain(&number.place.steps().collect::<Vec<_>>().join(" ")), &asked)
            || plain(&number.words) == asked
    });
    found.extend(given.map(|number| number.place.steps().collect::<Vec<String>>()));
    if found.is_empty() {
        found = fields_to_be(root, &asked);
    }
    if found.is_empty() {
        let beside = |path: &[String]| path.first().is_some_and(|first| BESIDE.contains(&first.as_str()));
        found = fields_meant(&|path| !beside(path) && ends_with(&plain(&path.join(" ")), &asked));
    }
    found.sort();
    found.dedup();
    // The whole name of one, not the end of it: `width` is no `foot_width`.
    let is_own = |path: &[String], of: &str| matches!(path, [first, name] if first == of && plain(name) == asked);
    let own = |of: &&str| found.iter().find(|path| is_own(path, of));
    match (OWN.iter().find_map(own), found.as_slice()) {
        (Some(own), _) => Ok(own.clone()),
        (None, []) => {
            let near = meant((root, numbers), &asked, kind).or_else(|| first_meant(&steps, kind));
            let to = Nowhere::Unknown(steps.join("."), near, kind.is_shop());
            Err(vec![Finding::of(ChangeProblem::Nowhere { to }, Place::default())])
        }
        (None, [only]) => Ok(only.clone()),
        (None, several) => {
            let all = Paths(several.iter().take(NAMED).map(|path| dotted(path)).collect());
            Err(vec![Finding::of(ChangeProblem::Ambiguous { name: steps.join("."), all }, Place::default())])
        }
    }
}

/// The ways to fields that are not there yet, in what is there: `bottom rail upper edge rise`.
fn fields_to_be(root: &Node, asked: &str) -> Vec<Vec<String>> {
    let words: Vec<&str> = asked.split(' ').collect();
    let within = |at: usize| {
        let (above, below) = words.split_at(at);
        let above = fields_named(root, &above.join(" "));
        above.into_iter().filter_map(move |path| down(path, below)).collect::<Vec<_>>()
    };
    (1..words.len()).rev().map(within).find(|found| !found.is_empty()).unwrap_or_default()
}

/// The way on from a field by the words of the names of fields within it.
fn down(path: Vec<String>, words: &[&str]) -> Option<Vec<String>> {
    if words.is_empty() {
        return Some(path);
    }
    (1..=words.len()).find_map(|count| {
        let (first, rest) = words.split_at(count);
        let name = first.join("_");
        let on = may_hold(&path, &name).then(|| [path.as_slice(), &[name]].concat())?;
        down(on, rest)
    })
}

/// Names as they are compared: capitals and underlines make no difference.
fn plain(name: &str) -> String {
    name.trim().to_lowercase().replace('_', " ")
}

/// Whether words end with other words.
fn ends_with(words: &str, end: &str) -> bool {
    words.strip_suffix(end).is_some_and(|before| before.is_empty() || before.ends_with(' '))
}

/// The ways to all members of a file whose path ends so.
fn fields_named(root: &Node, asked: &str) -> Vec<Vec<String>> {
    fields(root).into_iter().filter(|path| ends_with(&plain(&path.join(" ")), asked)).collect()
}

/// The ways to all members of a file.
fn fields(root: &Node) -> Vec<Vec<String>> {
    fn look(node: &Node, here: &mut Vec<String>, found: &mut Vec<Vec<String>>) {
        let Value::Object(object) = &node.value else { return };
        let beside = |name: &str| here.is_empty() && BESIDE.contains(&name);
        let members: Vec<_> = object.members.iter().filter(|member| !beside(&member.name)).collect();
        for member in members {
            here.push(member.name.clone());
            found.push(here.clone());
            look(&member.node, here, found);
            here.pop();
        }
    }
    let mut found = Vec::new();
    look(root, &mut Vec::new(), &mut found);
    found
}

/// Of the ends of all ways that have as many words, in the file and among the fields that it could have, and of what numbers are called,
/// the one that a misspelt name is nearest to.
fn meant((root, numbers): (&Node, &[Number]), asked: &str, kind: &Kind) -> Option<String> {
    let count = asked.split(' ').count();
    let end = |path: Vec<String>| {
        let words = plain(&path.join(" "));
        let words: Vec<&str> = words.split(' ').collect();
        words[words.len().saturating_sub(count)..].join(" ")
    };
    let could_be = fields_meant(&|path| kind.may_have(path));
    let ends: Vec<String> = fields(root).into_iter().chain(could_be).map(end).collect();
    let called = numbers.iter().map(|number| number.words.as_str());
    nearest(asked, ends.iter().map(String::as_str).chain(called)).map(str::to_owned)
}

/// A path of which the first name is misspelt, with the one that is near: an entry of its own may follow it.
fn first_meant(steps: &[String], kind: &Kind) -> Option<String> {
    let fields = kind.fields();
    let near = nearest(steps.first()?, fields.iter().map(String::as_str))?;
    let mut meant = steps.to_vec();
    *meant.first_mut()? = near.to_owned();
    Some(dotted(&meant))
}
