//! Variants: trees laid over the project's own.

use super::field_problem::FieldProblem;
use super::json::{Node, Object};
use super::merge::merge;
use crate::finding::{Finding, Names, Place};

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
