//! Variants and the shop file: trees laid over the project's own.

use super::field_problem::{Expected, FieldProblem, WrongWord};
use super::json::{Member, Node, Object, Value, place};
use super::merge::merge;
use crate::finding::{Finding, Names, Place, Span};
use crate::units::Units;

/// The project with the named variant applied; one that does not exist is told, and leaves the project as it is.
pub fn apply(root: Node, variant: &str, findings: &mut Vec<Finding>) -> Node {
    let variants = root.object().and_then(|object| object.get("variants")).and_then(|member| member.node.object());
    match variants.and_then(|variants| variants.get(variant)) {
        Some(patch) if patch.node.object().is_some() => {
            let patch = patch.node.clone();
            merge(Some(root), &patch)
        }
        // Not an object: told when the table is read.
        Some(_) => root,
        None => {
            findings.push(unknown(variant, variants));
            root
        }
    }
}

fn unknown(variant: &str, variants: Option<&Object>) -> Finding {
    let names: Vec<&str> = variants.into_iter().flat_map(|o| &o.members).map(|m| m.name.as_str()).collect();
    let variants = Names::instead_of(variant, names.into_iter());
    let problem = FieldProblem::UnknownVariant { name: variant.to_owned(), variants };
    Finding::of(problem, Place::pointer("/variants"))
}

/// Lays a shop file over the project's shop, field by field, and gives the units of the shop file's bare numbers.
pub fn lay_shop(root: Node, shop: Node, findings: &mut Vec<Finding>) -> (Node, Option<Units>) {
    let Value::Object(mut fields) = shop.value else {
        let place = Place { pointer: "/shop".to_owned(), span: Some(shop.span) };
        let problem = FieldProblem::WrongKind { wanted: Expected::ShopFile, found: shop.kind() };
        findings.push(Finding::of(problem, place));
        return (root, None);
    };
    let units = take_units(&mut fields, findings);
    fields.members.retain(|member| member.name != "$schema");
    let shop = Node { span: shop.span, value: Value::Object(fields) };
    let mut steps = vec!["shop".to_owned()];
    if refuse_nulls(&shop, &mut steps, findings) {
        return (root, units);
    }
    let overlay = Object {
        members: vec![Member { name: "shop".to_owned(), name_span: shop.span, node: shop.clone() }],
        removed: Vec::new(),
    };
    let overlay = Node { span: shop.span, value: Value::Object(overlay) };
    let mut merged = merge(Some(root), &overlay);
    keep_place(&mut merged, shop.span);
    (merged, units)
}

/// Where the project has no shop of its own, the object that arose is the shop file's.
fn keep_place(merged: &mut Node, span: Span) {
    if let Value::Object(object) = &mut merged.value
        && let Some(member) = object.members.iter_mut().find(|member| member.name == "shop")
    {
        member.name_span = Span { end: (span.start + 1).min(span.end), ..span };
    }
}

fn take_units(fields: &mut Object, findings: &mut Vec<Finding>) -> Option<Units> {
    let index = fields.members.iter().position(|member| member.name == "units")?;
    let member = fields.members.remove(index);
    match &member.node.value {
        Value::Text(text) if text == "mm" => Some(Units::Mm),
        Value::Text(text) if text == "in" => Some(Units::Inch),
        _ => {
            let place = place(&["units".to_owned()], member.node.span);
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
