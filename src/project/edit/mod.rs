//! Changes to a project file, or to a shop file, that keep every other byte.

mod give;
mod kind;
mod limits;
mod path;
mod problem;
mod short;
mod sizes;

use super::field::NOTE;
use super::field_problem::FieldProblem;
use super::json::{self, Node, Object, Value, place};
use super::quantity_problem::QuantityProblem;
use super::shops::Shops;
use super::sources::Source;
use super::{Reading, Sources};
use crate::finding::{Finding, Names, Offered, Place, RefusedChange, Severity, nearest};
use crate::model::path::dotted;
use crate::model::{Number, Project};
use crate::units::{Quantity, Sum, with_points};
pub use give::{ToGive, fields_to_give, shop_fields_to_give};
use kind::Kind;
pub(crate) use limits::InItsPlace;
pub use limits::offer_limits;
pub use path::SIZES;
use path::{Accepts, Asked, accepts, may_hold, may_stand, only_needed, takes_word, words};
pub(crate) use problem::{ChangeProblem, Nowhere, Unclear};
use short::full_path;
pub use sizes::offer_sizes;

/// The member that says which format a file has.
const FORMAT: &str = "fullsize";

/// Why a change was not made, with the texts to show it in.
#[derive(Debug, Clone)]
pub struct Refused {
    /// What is wrong; it always stops.
    pub findings: Vec<Finding>,
    /// The text as it is, or as it would be with the change.
    pub sources: Box<Sources>,
}

/// A text with its changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed {
    /// The new text.
    pub text: String,
    /// What was changed, in order.
    pub made: Vec<Made>,
}

/// A change as it was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Made {
    /// The change with the whole path of its field: `base.height=29`.
    pub written: String,
    /// The way to its field, names joined by dots.
    pub path: String,
    /// What stood there before, as it was written; `None` where nothing did.
    pub before: Option<String>,
    /// Whether nothing stands there now.
    pub removes: bool,
    /// The named sizes that its field followed before and follows no more: their names and the ways to them.
    pub unlinked: Vec<(String, String)>,
}

/// Makes changes of the form `patterns.bow.thickness=15`, in order, and gives the new text. Names are joined by dots; one with
/// a dot or `=` in it stands between double quotes, and a list's entries are counted from 0. The end of a path stands for the
/// whole where it names one field (`splay=8`, `top rail thickness=22`). A field that is not there yet is
/// added in the style of its neighbours; `none` takes one away. Whether the value is written as a number or a text is decided by the table of
/// fields. Every other byte stays as it is.
///
/// # Errors
/// A text that cannot be read, a change that cannot be understood or leads nowhere, or one after which the project, or a
/// variant of it, would have a new stop; a new size that nothing would use.
pub fn set(file_name: &str, text: &str, changes: &[&str]) -> Result<Changed, Refused> {
    set_in(file_name, text, changes, Shops::default())
}

/// As [`set`], of a project that is read with shop files.
///
/// # Errors
/// As [`set`].
pub fn set_in(file_name: &str, text: &str, changes: &[&str], shops: Shops) -> Result<Changed, Refused> {
    changed(&Kind::Project(shops), (file_name, text), changes)
}

/// As [`set`], of a shop file: names are those of its own fields (`paper=a3`, `bar across=149.1 mm`).
///
/// # Errors
/// As [`set`].
pub fn set_shop(file_name: &str, text: &str, changes: &[&str]) -> Result<Changed, Refused> {
    changed(&Kind::Shop, (file_name, text), changes)
}

/// As [`set_shop`], and whatever then is wrong with the file: its text alone, to be looked at.
///
/// # Errors
/// A text that cannot be read, a change that cannot be understood or leads nowhere.
pub fn shop_as_asked(text: &str, changes: &[&str]) -> Result<String, Refused> {
    Ok(written(&Kind::Shop, ("", text), changes, &[])?.text)
}

/// A text with changes of which nobody has asked yet whether it stands with them.
struct Written {
    text: String,
    asked: Vec<Asked>,
    made: Vec<Made>,
    /// That changes name entries of which there are none.
    misnamed: Vec<Finding>,
}

/// A text with its changes.
fn written(
    kind: &Kind,
    (file_name, text): (&str, &str),
    changes: &[&str],
    numbers: &[Number],
) -> Result<Written, Refused> {
    let mut done = Written { text: text.to_owned(), asked: Vec::new(), made: Vec::new(), misnamed: Vec::new() };
    for change in changes {
        let refuse = |findings| refused(kind, (file_name, text), findings);
        let whole = in_full(kind, &done.text, change, numbers).map_err(refuse)?;
        let whole = as_an_angle(&done.text, as_none_of_it(kind, &done.text, whole));
        done.misnamed.extend(new_entry(kind, text, &whole));
        let own = Asked { steps: kind.own(&whole.steps).to_vec(), value: whole.value.clone() };
        let before = standing(&done.text, &own.steps);
        done.made.push(Made {
            written: in_one_line(&own.written()),
            path: dotted(&own.steps),
            removes: whole.removes(),
            unlinked: before.iter().flat_map(|before| unlinked(&done.text, before, &whole)).collect(),
            before,
        });
        done.text = one(kind, &done.text, &whole).map_err(refuse)?;
        done.asked.push(whole);
    }
    Ok(done)
}

/// A file with its changes, which stands with them.
fn changed(kind: &Kind, (file_name, text): (&str, &str), changes: &[&str]) -> Result<Changed, Refused> {
    let before = kind.read(file_name, text, None);
    let numbers = before.project.as_ref().map(Project::numbers).unwrap_or_default();
    let Written { text: changed, asked, made, mut misnamed } = written(kind, (file_name, text), changes, &numbers)?;
    let after = kind.read(file_name, &changed, None);
    let unused: Vec<Finding> = asked.iter().filter_map(|change| new_and_unused(text, &changed, change)).collect();
    if !unused.is_empty() {
        return Err(refused(kind, (file_name, text), unused));
    }
    let names = variants(&after);
    if let Err(stopped) = refuse_new_stops(&before, after) {
        misnamed.retain(|name: &Finding| stopped.findings.iter().any(|stop| is_incomplete(stop, &name.place)));
        return Err(if misnamed.is_empty() { stopped } else { refused(kind, (file_name, text), misnamed) });
    }
    for name in names {
        let before = kind.read(file_name, text, Some(&name));
        refuse_new_stops(&before, kind.read(file_name, &changed, Some(&name)))?;
    }
    Ok(Changed { text: changed, made })
}

/// A change with the whole path of its field.
fn in_full(kind: &Kind, text: &str, change: &str, numbers: &[Number]) -> Result<Asked, Vec<Finding>> {
    let asked = path::read(change).map_err(|why| vec![unclear(change, why)])?;
    let mut findings = Vec::new();
    let root = kind.tree(text, &mut findings);
    let Some(root) = root.filter(|_| findings.is_empty()) else { return Err(findings) };
    let steps = kind.within(full_path(&root, numbers, kind.whole(&root, asked.steps), kind)?);
    Ok(with_a_point(in_its_field(&root, Asked { steps, ..asked })))
}

/// A change whose value is a number with a comma that can only be a point, with the point: no other value is read so.
fn with_a_point(asked: Asked) -> Asked {
    match with_points(&asked.value) {
        Ok(value) if accepts(&asked.steps) != Accepts::Texts && Sum::read(&value).is_ok() => Asked { value, ..asked },
        _ => asked,
    }
}

/// A word for what has fields of its own is that of the one field which takes it: `fasteners=slots` says what they hold by. A number is
/// that of the one field which it must have: `cutters.trimmer=19` is how wide it cuts.
fn in_its_field(root: &Node, asked: Asked) -> Asked {
    let (found, depth) = walk(root, &asked.steps);
    let names: Vec<&str> = match (&found.value, asked.steps.len() - depth) {
        (Value::Object(object), 0) => object.members.iter().map(|member| member.name.as_str()).collect(),
        (Value::Object(_), _) => Vec::new(),
        _ => return asked,
    };
    let path = |name: &str| [asked.steps.as_slice(), &[name.to_owned()]].concat();
    let fields = may_stand(&asked.steps, &names).into_iter().map(|(name, _)| path(&name));
    let mut takers = fields.filter(|steps| takes_word(steps, &asked.value));
    match (takers.next(), takers.next()) {
        (Some(steps), None) if !takes_word(&asked.steps, &asked.value) => Asked { steps, value: asked.value.clone() },
        // A word that is near to one of them is misspelt: the field that takes that one refuses it.
        (None, _) if let Some(steps) = near_taker(&asked, &names) => Asked { steps, value: asked.value.clone() },
        (None, _) if asked.value.starts_with(|c: char| c.is_numeric()) => match only_needed(&asked.steps) {
            Some(needed) => Asked { steps: path(&needed), value: asked.value.clone() },
            None => asked,
        },
        _ => asked,
    }
}

/// The way to the one field within a change's own that takes a word near to its value.
fn near_taker(asked: &Asked, names: &[&str]) -> Option<Vec<String>> {
    let path = |name: &str| [asked.steps.as_slice(), &[name.to_owned()]].concat();
    let is_near = |steps: &Vec<String>| nearest(&asked.value, words(steps).iter().map(String::as_str)).is_some();
    let mut near = may_stand(&asked.steps, names).into_iter().map(|(name, _)| path(&name)).filter(is_near);
    near.next().filter(|_| near.next().is_none())
}

/// The named sizes of a text that a value in it, as it is written there, is worked out of, and a change's value is not.
fn unlinked(text: &str, before: &str, change: &Asked) -> Vec<(String, String)> {
    let names = |words: &str| -> Vec<String> {
        Sum::read(words).iter().flat_map(Sum::names).map(|(name, _)| name.to_owned()).collect()
    };
    let (Ok(before), now) = (serde_json::from_str::<String>(before), names(&change.value)) else { return Vec::new() };
    // Of a removed field nothing stands in for what it followed, and a size is not told of itself.
    if change.removes() || change.size().is_some() {
        return Vec::new();
    }
    let mut left: Vec<String> = names(&before).into_iter().filter(|name| !now.contains(name)).collect();
    left.sort_unstable();
    left.dedup();
    // A word among which a field chooses is no size.
    let way = |name: String| [SIZES.to_owned(), name];
    let left = left.into_iter().map(way).filter(|way| standing(text, way).is_some());
    left.map(|way| (way[1].clone(), dotted(&way))).collect()
}

/// How a value in a text is given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum GivenAs {
    /// By itself, or not at all.
    Itself,
    /// As a named size, whose name it is.
    Size(String),
    /// Worked out of named sizes: these.
    WorkedOut(Vec<String>),
}

impl GivenAs {
    /// The named size as which it is given.
    pub fn size(&self) -> Option<&str> {
        match self {
            GivenAs::Size(size) => Some(size),
            GivenAs::Itself | GivenAs::WorkedOut(_) => None,
        }
    }
}

/// How the value at the end of a path is given.
pub fn given_as(text: &str, steps: &[String]) -> GivenAs {
    let is_size = |name: &str| standing(text, &[SIZES.to_owned(), name.to_owned()]).is_some();
    let words = standing(text, steps).and_then(|value| serde_json::from_str::<String>(&value).ok());
    let Some(words) = words else { return GivenAs::Itself };
    let sum = Sum::read(&words);
    let names = sum.iter().flat_map(Sum::names).map(|(name, _)| name.to_owned());
    let of_sizes: Vec<String> = names.filter(|name| is_size(name)).collect();
    match words.trim() {
        name if is_size(name) => GivenAs::Size(name.to_owned()),
        _ if !of_sizes.is_empty() => GivenAs::WorkedOut(of_sizes),
        _ => GivenAs::Itself,
    }
}

/// A size that something uses is none of it where it is 0: taken away it would leave what uses it without a number.
fn as_none_of_it(kind: &Kind, text: &str, asked: Asked) -> Asked {
    if asked.size().is_none() || !asked.removes() {
        return asked;
    }
    let stops = |text: &str| {
        let found = kind.read("", text, None).findings;
        found.iter().filter(|finding| finding.severity == Severity::Stop).count()
    };
    let reads = |asked: &Asked| one(kind, text, asked).is_ok_and(|changed| stops(&changed) <= stops(text));
    let none = as_an_angle(text, Asked { value: "0".to_owned(), ..asked.clone() });
    if reads(&asked) || !reads(&none) { asked } else { none }
}

/// A change of which the bare number is an angle where that of the size is: in a list of sizes it would be a length.
fn as_an_angle(text: &str, asked: Asked) -> Asked {
    let amounts = |words: &str| Sum::read(words).ok()?.value(None, |_| None).ok();
    let before = standing(text, &asked.steps).and_then(|before| serde_json::from_str::<String>(&before).ok());
    match (before.as_deref().and_then(amounts), amounts(&asked.value)) {
        (Some(Quantity::Angle(_)), Some(Quantity::Number(_))) if asked.size().is_some() => {
            Asked { value: format!("{} deg", asked.value.trim()), ..asked }
        }
        _ => asked,
    }
}

/// What stands in a text at the end of a path, as it is written there, in one line; `None` where nothing does.
pub fn standing(text: &str, steps: &[String]) -> Option<String> {
    as_written(text, steps).map(in_one_line)
}

/// The same byte for byte.
pub fn as_written<'t>(text: &'t str, steps: &[String]) -> Option<&'t str> {
    let root = json::parse(text, 0, &mut Vec::new())?;
    let (found, depth) = walk(&root, steps);
    text.get(found.span.start as usize..found.span.end as usize).filter(|_| depth == steps.len())
}

fn in_one_line(written: &str) -> String {
    written.split_whitespace().collect::<Vec<&str>>().join(" ")
}

/// What of a text `set` can change: the way to each number, word or list, and what stands there, in one line. Remarks are left
/// out, and the format's own number.
pub fn entries(text: &str) -> Vec<(Vec<String>, String)> {
    fn look(node: &Node, text: &str, here: &mut Vec<String>, found: &mut Vec<(Vec<String>, String)>) {
        let Value::Object(object) = &node.value else {
            let written = text.get(node.span.start as usize..node.span.end as usize).unwrap_or("");
            found.push((here.clone(), written.split_whitespace().collect::<Vec<&str>>().join(" ")));
            return;
        };
        for member in object.members.iter().filter(|member| member.name != NOTE) {
            here.push(member.name.clone());
            look(&member.node, text, here, found);
            here.pop();
        }
    }
    let mut found = Vec::new();
    if let Some(root) = json::parse(text, 0, &mut Vec::new()) {
        look(&root, text, &mut Vec::new(), &mut found);
    }
    found.retain(|(steps, _)| steps != &[FORMAT]);
    found
}

/// The finding that a change adds a size, and nothing else in the text as changed names it: a misspelt one.
fn new_and_unused(text: &str, changed: &str, change: &Asked) -> Option<Finding> {
    let name = change.size()?;
    let root = json::parse(text, 0, &mut Vec::new())?;
    let known = root.object()?.get(SIZES);
    let known: Vec<&str> = known?.node.object()?.members.iter().map(|member| member.name.as_str()).collect();
    let word = |c: char| c.is_ascii_alphanumeric() || c == '_';
    let named = changed.split(|c| !word(c)).filter(|found| *found == name).count();
    if known.contains(&name) || named > 1 {
        return None;
    }
    let others = Names::instead_of(name, known.into_iter());
    let problem = QuantityProblem::UnusedSize { name: name.to_owned(), added: true, others };
    Some(Finding::of(problem, Place::pointer("/sizes")).weighed(Severity::Stop))
}

/// The finding that a change names an entry of which there is none, and goes on to one of its fields.
fn new_entry(kind: &Kind, text: &str, Asked { steps, .. }: &Asked) -> Option<Finding> {
    let root = kind.tree(text, &mut Vec::new())?;
    let (found, depth) = walk(&root, steps);
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
fn refused(kind: &Kind, (file_name, text): (&str, &str), findings: Vec<Finding>) -> Refused {
    let findings =
        findings.into_iter().map(|finding| Finding { refused: Some(RefusedChange::Itself), ..finding }).collect();
    let mut sources = Sources::default();
    sources.files.push(Source { name: file_name.to_owned(), text: text.to_owned() });
    sources.root = kind.tree(text, &mut Vec::new());
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
fn one(kind: &Kind, text: &str, change: &Asked) -> Result<String, Vec<Finding>> {
    let Asked { steps, value } = change;
    let mut findings = Vec::new();
    let root = kind.tree(text, &mut findings);
    let Some(root) = root.filter(|_| findings.is_empty()) else { return Err(findings) };
    if change.removes() {
        let not_there = || Finding::of(ChangeProblem::NotThere { path: dotted(steps) }, Place::default());
        return without(text, &root, steps).ok_or_else(|| vec![not_there()]);
    }
    let literal = literal(value, accepts(steps));
    let (found, depth) = walk(&root, steps);
    let (start, end) = (found.span.start as usize, found.span.end as usize);
    let (there, missing) = steps.split_at(depth);
    let Some(first) = missing.first() else { return Ok(splice(text, start, end, &literal)) };
    match &found.value {
        Value::Object(object) => Ok(added(text, found, object, missing, &literal)),
        // A word that says the usual shape gives way to an object that says another: `straight` to a rise.
        Value::Text(word) if takes_word(there, word) && may_hold(there, first) => {
            Ok(splice(text, start, end, &nested(missing, &literal)))
        }
        _ => Err(vec![leads_nowhere(found, steps, depth)]),
    }
}

/// The text without what stands at the end of a path, and without the comma that parted it from its neighbours; `None` where
/// nothing stands there.
fn without(text: &str, root: &Node, steps: &[String]) -> Option<String> {
    let (last, above) = steps.split_last()?;
    let (parent, depth) = walk(root, above);
    let spans: Vec<(u32, u32)> = match &parent.value {
        Value::Object(object) => object.members.iter().map(|m| (m.name_span.start, m.node.span.end)).collect(),
        Value::List(entries) => entries.iter().map(|entry| (entry.span.start, entry.span.end)).collect(),
        _ => return None,
    };
    let at = match &parent.value {
        Value::Object(object) => object.members.iter().position(|member| member.name == *last)?,
        _ => last.parse().ok().filter(|at| *at < spans.len())?,
    };
    let (own, next) = (spans.get(at)?, spans.get(at + 1));
    let before = at.checked_sub(1).and_then(|before| spans.get(before));
    let (start, end) = match (before, next) {
        (Some(before), _) => (before.1, own.1),
        (None, Some(next)) => (own.0, next.0),
        (None, None) => (parent.span.start + 1, parent.span.end - 1),
    };
    (depth == above.len()).then(|| splice(text, start as usize, end as usize, ""))
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
    let inner = nested(missing.get(1..).unwrap_or(&[]), literal);
    let name = missing.first().map(|step| in_quotes(step)).unwrap_or_default();
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

/// A value inside the objects that lead to it.
fn nested(steps: &[String], literal: &str) -> String {
    steps.iter().rev().fold(literal.to_owned(), |inner, step| format!("{{ {}: {inner} }}", in_quotes(step)))
}

fn in_quotes(name: &str) -> String {
    serde_json::Value::from(name).to_string()
}

/// A change that cannot be understood.
fn unclear(change: &str, why: Unclear) -> Finding {
    Finding::of(ChangeProblem::Unclear { change: change.to_owned(), why }, Place::default())
}

#[cfg(test)]
mod tests;
