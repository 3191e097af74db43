//! Shop files: the one that a command names lies over the project's shop, the person's own lies under it.

use super::field::NOTE;
use super::field_problem::{Expected, FieldProblem, OtherFile, WrongWord};
use super::json::{self, Member, Node, Object, Value, place};
use super::merge::merge;
use super::part_problem::TextProblem;
use super::{Known, Reading, Sources, finished, load, no_drawings, typed};
use crate::finding::{Finding, Place, Span};
use crate::model::{ReadingsFrom, Shop};
use crate::units::Units;

/// The field of a shop file, and of a project, that says its units.
const UNITS: &str = "units";

/// The shop files that a project is read with, each by its name and its bytes.
#[derive(Debug, Clone, Copy, Default)]
pub struct Shops<'a> {
    /// The person's own: what neither the project nor the named one says is taken of it.
    pub own: Option<(&'a str, &'a [u8])>,
    /// The one that was named: it goes before the project.
    pub named: Option<(&'a str, &'a [u8])>,
}

/// Parts of a project that no shop file has.
const PIECE: [&str; 7] = ["fullsize", "title", "sizes", "base", "top", "patterns", "joints"];

/// What of a shop is filled up entry by entry. All else is taken whole: readings of two printers make no third, nor do the sizes of two
/// cutters of one name.
const BY_ENTRY: [&str; 3] = ["cutters", "collars", "allowances"];

/// The member of a shop that holds what its printer's bars read.
const PRINTER: &str = "printer";

/// A project with shop files laid to it.
pub(super) struct Laid {
    /// The tree.
    pub root: Node,
    /// The units of bare numbers in each shop file that was read, by its source.
    units: Vec<(u16, Option<Units>)>,
    /// Whether anything of it comes from the person's own shop file.
    pub uses_own: bool,
}

impl Laid {
    /// The units of bare numbers by source, where the project's are these.
    pub fn units_by_source(&self, project: Units) -> Vec<Option<Units>> {
        let last = self.units.iter().map(|(source, _)| usize::from(*source)).max().unwrap_or(0);
        let mut all = vec![Some(project); last + 1];
        for (source, units) in &self.units {
            if let Some(of) = all.get_mut(usize::from(*source)) {
                *of = *units;
            }
        }
        all
    }
}

/// Lays shop files to a project.
pub(super) fn laid(root: Node, named: Option<Node>, own: Option<Node>, findings: &mut Vec<Finding>) -> Laid {
    let mut laid = Laid { root, units: Vec::new(), uses_own: false };
    if let Some((shop, units)) = named.and_then(|shop| of_file(shop, findings)) {
        laid.units.push((shop.span.source, units));
        laid.root = over(laid.root, &shop);
    }
    if let Some((shop, units)) = own.and_then(|shop| of_file(shop, findings)) {
        laid.units.push((shop.span.source, units));
        (laid.root, laid.uses_own) = under(laid.root, shop);
    }
    laid
}

/// The shop that a file holds, and the units of its bare numbers; what is wrong with the file as a whole is told.
fn of_file(file: Node, findings: &mut Vec<Finding>) -> Option<(Node, Option<Units>)> {
    let Value::Object(mut fields) = file.value else {
        let place = Place { pointer: "/shop".to_owned(), span: Some(file.span) };
        let problem = FieldProblem::WrongKind { wanted: Expected::ShopFile, found: file.kind() };
        findings.push(Finding::of(problem, place));
        return None;
    };
    if let Some(member) = fields.members.iter().find(|member| PIECE.contains(&member.name.as_str())) {
        let place = Place { pointer: String::new(), span: Some(member.name_span) };
        findings.push(Finding::of(FieldProblem::OtherFile { is: OtherFile::Piece(member.name.clone()) }, place));
        return None;
    }
    let units = take_units(&mut fields, findings);
    fields.members.retain(|member| member.name != "$schema");
    let shop = Node { span: file.span, value: Value::Object(fields) };
    let mut steps = vec!["shop".to_owned()];
    (!refuse_nulls(&shop, &mut steps, findings)).then_some((shop, units))
}

/// A project with a shop laid over its own, field by field; a printer's readings whole.
fn over(mut root: Node, shop: &Node) -> Node {
    if shop.object().is_some_and(|shop| shop.get(PRINTER).is_some())
        && let Some(own) = shop_of(&mut root)
    {
        own.members.retain(|member| member.name != PRINTER);
    }
    let overlay = Object {
        members: vec![Member { name: "shop".to_owned(), name_span: shop.span, node: shop.clone() }],
        removed: Vec::new(),
    };
    let mut merged = merge(Some(root), &Node { span: shop.span, value: Value::Object(overlay) });
    // Where the project has no shop of its own, the object that arose is the shop file's.
    if let Value::Object(object) = &mut merged.value
        && let Some(member) = object.members.iter_mut().find(|member| member.name == "shop")
    {
        member.name_span = first_byte(shop.span);
    }
    merged
}

/// A project whose shop is filled up from another, and whether anything was taken of that.
fn under(mut root: Node, shop: Node) -> (Node, bool) {
    let Value::Object(project) = &mut root.value else { return (root, false) };
    if project.get("shop").is_none() {
        let taken = shop.object().is_some_and(|shop| !shop.members.is_empty());
        project.members.push(Member { name: "shop".to_owned(), name_span: first_byte(shop.span), node: shop });
        return (root, taken);
    }
    let (Some(into), Value::Object(from)) = (shop_of(&mut root), shop.value) else { return (root, false) };
    let mut taken = false;
    for member in from.members {
        let Some(known) = into.members.iter_mut().find(|known| known.name == member.name) else {
            into.members.push(member);
            taken = true;
            continue;
        };
        if let (Value::Object(known), Value::Object(more)) = (&mut known.node.value, member.node.value)
            && BY_ENTRY.contains(&member.name.as_str())
        {
            let more = more.members.into_iter().filter(|entry| known.get(&entry.name).is_none());
            let more: Vec<Member> = more.collect();
            taken |= !more.is_empty();
            known.members.extend(more);
        }
    }
    (root, taken)
}

/// The shop of a project, where it is an object.
fn shop_of(root: &mut Node) -> Option<&mut Object> {
    let Value::Object(project) = &mut root.value else { return None };
    match project.members.iter_mut().find(|member| member.name == "shop") {
        Some(Member { node: Node { value: Value::Object(shop), .. }, .. }) => Some(shop),
        _ => None,
    }
}

fn first_byte(span: Span) -> Span {
    Span { end: (span.start + 1).min(span.end), ..span }
}

fn take_units(fields: &mut Object, findings: &mut Vec<Finding>) -> Option<Units> {
    let index = fields.members.iter().position(|member| member.name == UNITS)?;
    let member = fields.members.remove(index);
    match &member.node.value {
        Value::Text(text) if text == "mm" => Some(Units::Mm),
        Value::Text(text) if text == "in" => Some(Units::Inch),
        _ => {
            let place = place(&[UNITS.to_owned()], member.node.span);
            findings.push(Finding::of(FieldProblem::UnknownWord { what: WrongWord::ShopUnits }, place));
            // Read on in some units: the file is refused anyway.
            Some(Units::Mm)
        }
    }
}

/// Tells every null in a tree that is no patch; whether there were any.
fn refuse_nulls(node: &Node, steps: &mut Vec<String>, findings: &mut Vec<Finding>) -> bool {
    match &node.value {
        Value::Null => {
            findings.push(Finding::of(FieldProblem::Null { wanted: None }, place(steps, node.span)));
            true
        }
        Value::Object(object) => object.members.iter().fold(false, |found, member| {
            steps.push(member.name.clone());
            let here = refuse_nulls(&member.node, steps, findings);
            steps.pop();
            found | here
        }),
        Value::List(entries) => entries.iter().enumerate().fold(false, |found, (index, entry)| {
            steps.push(index.to_string());
            let here = refuse_nulls(entry, steps, findings);
            steps.pop();
            found | here
        }),
        _ => false,
    }
}

/// Which file the readings of the printer come from.
pub(super) fn readings_from(laid: &Laid, shops: &Shops) -> Option<ReadingsFrom> {
    let shop = laid.root.object()?.get("shop")?.node.object()?;
    let source = shop.get(PRINTER)?.node.span.source;
    // The sources are the project, the named file and the person's own, of those that there are.
    Some(match (source, shops.named) {
        (0, _) => ReadingsFrom::Piece,
        (1, Some((name, _))) => ReadingsFrom::Named(name.rsplit(['/', '\\']).next().unwrap_or(name).to_owned()),
        _ => ReadingsFrom::Own,
    })
}

/// Whether a text is a shop file: it has a field of a shop and no part of a project, or says its units and nothing else.
pub fn is_shop(bytes: &[u8]) -> bool {
    let root = json::decode(bytes, 0, &mut Vec::new()).and_then(|text| json::parse(&text, 0, &mut Vec::new()));
    root.is_some_and(|root| is_shop_node(&root))
}

fn is_shop_node(root: &Node) -> bool {
    let Some(object) = root.object() else { return false };
    let has = |name: &str| object.get(name).is_some();
    let is_begun = has(UNITS) && object.members.iter().all(|member| [UNITS, NOTE].contains(&member.name.as_str()));
    !PIECE.into_iter().any(has) && (is_begun || Shop::FIELDS.iter().copied().flatten().any(|field| has(field.name)))
}

/// The tree of a project; a shop file in its place is told as what it is.
pub(super) fn refuse_shop(root: Node, findings: &mut Vec<Finding>) -> Option<Node> {
    if !is_shop_node(&root) {
        return Some(root);
    }
    let place = Place { pointer: String::new(), span: Some(first_byte(root.span)) };
    findings.push(Finding::of(FieldProblem::OtherFile { is: OtherFile::Shop }, place));
    None
}

/// Reads a shop file by itself: the project of the reading holds its shop and nothing else.
pub fn read_shop(file_name: &str, bytes: &[u8]) -> Reading {
    let (mut sources, mut findings) = (Sources::default(), Vec::new());
    let file = load(file_name, bytes, &mut sources, &mut findings);
    let shop = file.and_then(|file| of_file(file, &mut findings));
    let project = shop.and_then(|(shop, units)| {
        let spoken = if units == Some(Units::Inch) { "in" } else { "mm" };
        let around = format!("{{ \"fullsize\": 1, \"title\": \"A shop\", \"units\": \"{spoken}\" }}");
        let around = load("", around.as_bytes(), &mut sources, &mut findings)?;
        let units = vec![(shop.span.source, units), (around.span.source, units.or(Some(Units::Mm)))];
        let laid = Laid { root: over(around, &shop), units, uses_own: false };
        let known = Known { texts: &sources.texts(), drawings: &no_drawings };
        let (project, notation) = typed(&laid, None, &known, &mut findings);
        // That it makes nothing is what a shop file is for.
        findings.retain(|finding| !matches!(finding.problem(), Some(TextProblem::Nothing {})));
        sources.notation = notation;
        sources.root = Some(laid.root);
        project
    });
    finished(project, findings, sources)
}
