//! Variants and the shop file: trees laid over the project's own.

use super::field::listed;
use super::json::{Member, Node, Object, Value, place};
use super::merge::merge;
use crate::finding::{Finding, Place, Span, nearest, quoted};
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
    let finding = Finding::stop(
        "unknown-variant",
        Place::pointer("/variants"),
        format!("there is no variant {}", quoted(variant)),
    );
    match nearest(variant, names.iter().copied()) {
        _ if names.is_empty() => finding.remedy("the file has no variants; leave the variant out"),
        Some(near) => {
            finding.remedy(format!("did you mean \"{near}\"? the variants are {}", listed(names.into_iter())))
        }
        None => finding.remedy(format!("the variants are {}", listed(names.into_iter()))),
    }
}

/// Lays a shop file over the project's shop, field by field, and gives the units of the shop file's bare numbers.
pub fn lay_shop(root: Node, shop: Node, findings: &mut Vec<Finding>) -> (Node, Option<Units>) {
    let Value::Object(mut fields) = shop.value else {
        let message = format!("a shop file holds one object, not {}", shop.what());
        let place = Place { pointer: "/shop".to_owned(), span: Some(shop.span) };
        findings.push(Finding::stop("wrong-kind", place, message).remedy("write for example { \"paper\": \"A4\" }"));
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
            let message = "the units of a shop file are \"mm\" or \"in\"";
            findings.push(Finding::stop("unknown-word", place, message).remedy("write \"mm\" or \"in\""));
            // Read on in some units: the file is refused anyway.
            Some(Units::Mm)
        }
    }
}

/// Tells every null in a tree that is no patch; whether there were any.
fn refuse_nulls(node: &Node, steps: &mut Vec<String>, findings: &mut Vec<Finding>) -> bool {
    match &node.value {
        Value::Null => {
            let remedy = "leave the field out; null takes a field away only inside \"variants\"";
            findings.push(Finding::stop("null-value", place(steps, node.span), "null stands here").remedy(remedy));
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
