//! Changes to a project file that keep every other byte.

mod limits;
mod path;
mod problem;

use super::field::NOTE;
use super::field_problem::FieldProblem;
use super::json::{self, Node, Object, Value, place};
use super::quantity_problem::QuantityProblem;
use super::sources::Source;
use super::{Reading, Sources, read};
use crate::finding::{Finding, Names, Offered, Place, RefusedChange, Severity, nearest};
pub(crate) use limits::InItsPlace;
pub use limits::offer_limits;
use path::{Accepts, accepts};
pub(crate) use problem::{ChangeProblem, Nowhere, Unclear};

/// Why a change was not made, with the texts to show it in.
#[derive(Debug, Clone)]
pub struct Refused {
    /// What is wrong; it always stops.
    pub findings: Vec<Finding>,
    /// The text as it is, or as it would be with the change.
    pub sources: Box<Sources>,
}

/// Makes changes of the form `patterns.bow.thickness=15`, in order, and gives the new text. Names are joined by dots; one with
/// a dot or `=` in it stands between double quotes, and a list's entries are counted from 0. A field that is not there yet is
/// added in the style of its neighbours. Whether the value is written as a number or a text is decided by the table of
/// fields. Every other byte stays as it is.
///
/// # Errors
/// A text that cannot be read, a change that cannot be understood or leads nowhere, or one after which the project, or a
/// variant of it, would have a new stop; a new size that nothing would use.
pub fn set(file_name: &str, text: &str, changes: &[&str]) -> Result<String, Refused> {
    let before = read(file_name, text.as_bytes(), None, None);
    let mut changed = text.to_owned();
    let mut misnamed = Vec::new();
    for change in changes {
        misnamed.extend(new_entry(text, change));
        changed = one(&changed, change).map_err(|findings| refused(file_name, text, findings))?;
    }
    let after = read(file_name, changed.as_bytes(), None, None);
    let unused: Vec<Finding> = changes.iter().filter_map(|change| new_and_unused(text, &changed, change)).collect();
    if !unused.is_empty() {
        return Err(refused(file_name, text, unused));
    }
    let names = variants(&after);
    if let Err(stopped) = refuse_new_stops(&before, after) {
        misnamed.retain(|name: &Finding| stopped.findings.iter().any(|stop| is_incomplete(stop, &name.place)));
        return Err(if misnamed.is_empty() { stopped } else { refused(file_name, text, misnamed) });
    }
    for name in names {
        let before = read(file_name, text.as_bytes(), None, Some(&name));
        refuse_new_stops(&before, read(file_name, changed.as_bytes(), None, Some(&name)))?;
    }
    Ok(changed)
}

/// What stands in a text where a change of the form of [`set`] would write, as it is written there; `None` where nothing does.
pub fn before(text: &str, change: &str) -> Option<String> {
    let (steps, _) = path::read(change).ok()?;
    let root = json::parse(text, 0, &mut Vec::new())?;
    let (found, depth) = walk(&root, &steps);
    let written = text.get(found.span.start as usize..found.span.end as usize).filter(|_| depth == steps.len())?;
    Some(written.split_whitespace().collect::<Vec<&str>>().join(" "))
}

/// The finding that a change adds a size, and nothing else in the text as changed names it: a misspelt one.
fn new_and_unused(text: &str, changed: &str, change: &str) -> Option<Finding> {
    let (steps, _) = path::read(change).ok()?;
    let [sizes, name] = steps.as_slice() else { return None };
    let root = json::parse(text, 0, &mut Vec::new())?;
    let known = root.object()?.get(sizes);
    let known: Vec<&str> = known?.node.object()?.members.iter().map(|member| member.name.as_str()).collect();
    let word = |c: char| c.is_ascii_alphanumeric() || c == '_';
    let named = changed.split(|c| !word(c)).filter(|found| found == name).count();
    if sizes != "sizes" || known.contains(&name.as_str()) || named > 1 {
        return None;
    }
    let others = Names::instead_of(name, known.into_iter());
    let problem = QuantityProblem::UnusedSize { name: name.clone(), added: true, others };
    Some(Finding::of(problem, Place::pointer("/sizes")).weighed(Severity::Stop))
}

/// The finding that a change names an entry of which there is none, and goes on to one of its fields.
fn new_entry(text: &str, change: &str) -> Option<Finding> {
    let (steps, _) = path::read(change).ok()?;
    let root = json::parse(text, 0, &mut Vec::new())?;
    let (found, depth) = walk(&root, &steps);
    let (name, object) = (steps.get(depth)?, found.object()?);
    if depth == 0 || depth + 1 == steps.len() || object.members.is_empty() {
        return None;
    }
    let names = || object.members.iter().map(|member| member.name.as_str()).filter(|name| *name != NOTE);
    let holds =
        |known: &&str| known.split(|c: char| !c.is_alphanumeric()).any(|word| word.eq_ignore_ascii_case(name));
    let near = nearest(name, names()).or_else(|| names().find(holds)).map(str::to_owned);
    let known = Offered(Names { near, all: names().map(str::to_owned).collect() });
    let place = place(steps.get(..=depth)?, found.span);
    let to = Nowhere::NoSuch(name.clone(), steps.get(depth - 1)?.clone(), known);
    Some(Finding::of(ChangeProblem::Nowhere { to }, place))
}

/// Whether a stop says that the entry at a place lacks a field.
fn is_incomplete(stop: &Finding, entry: &Place) -> bool {
    matches!(stop.problem(), Some(FieldProblem::Missing { .. })) && stop.place.pointer == entry.pointer
}

/// A refusal that leaves the text as it is.
fn refused(file_name: &str, text: &str, findings: Vec<Finding>) -> Refused {
    let findings =
        findings.into_iter().map(|finding| Finding { refused: Some(RefusedChange::Itself), ..finding }).collect();
    let mut sources = Sources::default();
    sources.files.push(Source { name: file_name.to_owned(), text: text.to_owned() });
    sources.root = json::parse(text, 0, &mut Vec::new());
    Refused { findings, sources: Box::new(sources) }
}

fn variants(reading: &Reading) -> Vec<String> {
    let root = reading.sources.root.as_ref().and_then(Node::object);
    let variants = root.and_then(|root| root.get("variants")).and_then(|member| member.node.object());
    let named = |object: &Object| -> Vec<String> {
        object.members.iter().filter(|m| m.node.object().is_some()).map(|m| m.name.clone()).collect()
    };
    variants.map(named).unwrap_or_default()
}

fn refuse_new_stops(before: &Reading, after: Reading) -> Result<(), Refused> {
    let known = |finding: &Finding| {
        let same = |old: &Finding| old.place.pointer == finding.place.pointer && old.is_like(finding, 0.0);
        before.findings.iter().any(same)
    };
    let stops = after.findings.iter().filter(|finding| finding.severity == Severity::Stop && !known(finding));
    let findings: Vec<Finding> =
        stops.cloned().map(|finding| Finding { refused: Some(RefusedChange::Outcome), ..finding }).collect();
    let mut sources = after.sources;
    if findings.is_empty() {
        return Ok(());
    }
    if let Some(file) = sources.files.first_mut() {
        file.name.push_str(" with this change");
    }
    Err(Refused { findings, sources: Box::new(sources) })
}

/// Makes one change.
fn one(text: &str, change: &str) -> Result<String, Vec<Finding>> {
    let (steps, value) = path::read(change).map_err(|why| vec![unclear(change, why)])?;
    let mut findings = Vec::new();
    let root = json::parse(text, 0, &mut findings);
    let Some(root) = root.filter(|_| findings.is_empty()) else { return Err(findings) };
    let literal = literal(value, accepts(&steps));
    let (found, depth) = walk(&root, &steps);
    let (start, end) = (found.span.start as usize, found.span.end as usize);
    let Some(missing) = steps.get(depth..).filter(|missing| !missing.is_empty()) else {
        return Ok(splice(text, start, end, &literal));
    };
    match &found.value {
        Value::Object(object) => Ok(added(text, found, object, missing, &literal)),
        _ => Err(vec![leads_nowhere(found, &steps, depth)]),
    }
}

/// The deepest thing on the way that exists, and how many steps lead there.
fn walk<'a>(root: &'a Node, steps: &[String]) -> (&'a Node, usize) {
    let mut node = root;
    for (depth, step) in steps.iter().enumerate() {
        let next = match &node.value {
            Value::Object(object) => object.get(step).map(|member| &member.node),
            Value::List(entries) => step.parse::<usize>().ok().and_then(|index| entries.get(index)),
            _ => None,
        };
        match next {
            Some(next) => node = next,
            None => return (node, depth),
        }
    }
    (node, steps.len())
}

fn leads_nowhere(found: &Node, steps: &[String], depth: usize) -> Finding {
    let step = steps.get(depth).cloned().unwrap_or_default();
    let place = place(steps.get(..depth).unwrap_or(&[]), found.span);
    let to = match &found.value {
        Value::List(entries) if entries.is_empty() => Nowhere::EmptyList(step),
        Value::List(entries) => Nowhere::NoEntry(step, entries.len()),
        _ => Nowhere::NoField(found.kind(), step),
    };
    Finding::of(ChangeProblem::Nowhere { to }, place)
}

/// The value as it is written in the file.
fn literal(value: &str, accepts: Accepts) -> String {
    let quoted = || serde_json::Value::from(value).to_string();
    let json = serde_json::from_str::<serde_json::Value>(value).ok();
    match (accepts, json) {
        (Accepts::Texts, Some(serde_json::Value::String(_))) => value.trim().to_owned(),
        (Accepts::Texts, _) | (Accepts::Anything, None) => quoted(),
        (Accepts::Anything, Some(_)) => value.trim().to_owned(),
    }
}

fn splice(text: &str, start: usize, end: usize, new: &str) -> String {
    let before = text.get(..start).unwrap_or("");
    let after = text.get(end..).unwrap_or("");
    format!("{before}{new}{after}")
}

/// The text with a new field, and the objects around it that are missing too, at the end of an object.
fn added(text: &str, node: &Node, object: &Object, missing: &[String], literal: &str) -> String {
    let name = |step: &String| serde_json::Value::from(step.as_str()).to_string();
    let inner =
        missing.iter().skip(1).rev().fold(literal.to_owned(), |inner, step| format!("{{ {}: {inner} }}", name(step)));
    let name = missing.first().map(name).unwrap_or_default();
    let Some(last) = object.members.last() else {
        let open = node.span.start as usize + 1;
        let empty = text.get(open..).is_some_and(|rest| rest.starts_with('}'));
        return splice(text, open, open, &format!(" {name}: {inner}{}", if empty { " " } else { "" }));
    };
    let name_start = last.name_span.start as usize;
    let before = text.get(..name_start).unwrap_or("");
    let lead = before.get(before.trim_end().len()..).unwrap_or(" ");
    let colon = text.get(last.name_span.end as usize..last.node.span.start as usize).unwrap_or(": ");
    let end = last.node.span.end as usize;
    splice(text, end, end, &format!(",{lead}{name}{colon}{inner}"))
}

/// A change that cannot be understood.
fn unclear(change: &str, why: Unclear) -> Finding {
    Finding::of(ChangeProblem::Unclear { change: change.to_owned(), why }, Place::default())
}

#[cfg(test)]
mod tests;
