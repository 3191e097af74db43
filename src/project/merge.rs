//! Merge patches on trees that keep their places (RFC 7396).

use super::json::{Member, Node, Object, Value};

/// The target with the patch applied. Every value keeps the place where it was written; what the patch takes away is
/// remembered with the place that says so.
pub fn merge(target: Option<Node>, patch: &Node) -> Node {
    let Value::Object(changes) = &patch.value else { return patch.clone() };
    let (span, mut object) = match target {
        Some(Node { span, value: Value::Object(object) }) => (span, object),
        _ => (patch.span, Object::default()),
    };
    for change in &changes.members {
        let index = object.members.iter().position(|member| member.name == change.name);
        if change.node.value == Value::Null {
            if let Some(index) = index {
                object.members.remove(index);
            }
            object.removed.push((change.name.clone(), change.name_span));
            continue;
        }
        match index.and_then(|index| object.members.get_mut(index)) {
            Some(member) => {
                // An object that is changed inside is still where it was; anything else is where the patch puts it.
                let changed_inside = member.node.object().is_some() && change.node.object().is_some();
                let name_span = if changed_inside { member.name_span } else { change.name_span };
                let old = std::mem::replace(&mut member.node, Node { span, value: Value::Unreadable });
                *member = Member { node: merge(Some(old), &change.node), name: change.name.clone(), name_span };
            }
            None => object.members.push(Member { node: merge(None, &change.node), ..change.clone() }),
        }
    }
    Node { span, value: Value::Object(object) }
}

#[cfg(test)]
mod tests {
    use super::merge;
    use crate::project::json::{Node, parse};
    use serde_json::{Value as Json, json};

    fn node(json: &Json) -> Node {
        parse(&json.to_string(), 0, &mut Vec::new()).unwrap()
    }

    /// The test cases of RFC 7396, appendix A (from memory).
    #[test]
    fn merges_as_the_standard_says() {
        let cases = [
            (json!({"a": "b"}), json!({"a": "c"}), json!({"a": "c"})),
            (json!({"a": "b"}), json!({"b": "c"}), json!({"a": "b", "b": "c"})),
            (json!({"a": "b"}), json!({"a": null}), json!({})),
            (json!({"a": "b", "b": "c"}), json!({"a": null}), json!({"b": "c"})),
            (json!({"a": ["b"]}), json!({"a": "c"}), json!({"a": "c"})),
            (json!({"a": "c"}), json!({"a": ["b"]}), json!({"a": ["b"]})),
            (json!({"a": {"b": "c"}}), json!({"a": {"b": "d", "c": null}}), json!({"a": {"b": "d"}})),
            (json!({"a": [{"b": "c"}]}), json!({"a": [1.0]}), json!({"a": [1.0]})),
            (json!(["a", "b"]), json!(["c", "d"]), json!(["c", "d"])),
            (json!({"a": "b"}), json!(["c"]), json!(["c"])),
            (json!({"a": "foo"}), json!(null), json!(null)),
            (json!({"a": "foo"}), json!("bar"), json!("bar")),
            (json!({"e": null}), json!({"a": 1.0}), json!({"e": null, "a": 1.0})),
            (json!([1.0, 2.0]), json!({"a": "b", "c": null}), json!({"a": "b"})),
            (json!({}), json!({"a": {"bb": {"ccc": null}}}), json!({"a": {"bb": {}}})),
        ];
        for (target, patch, expected) in cases {
            assert_eq!(merge(Some(node(&target)), &node(&patch)).to_json(), expected, "{target} with {patch}");
        }
    }
}
