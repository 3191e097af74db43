//! Objects that say of which kind they are.

use super::field::{Field, Read, Reader};
use super::field_problem::{Expected, FieldProblem, Missing};
use super::json::Node;
use super::value::word;
use crate::finding::Span;
use serde_json::{Map, Value as Json, json};
use std::marker::PhantomData;

/// The words of which one, as `"kind"`, tells what an object is.
pub trait Kinds: Copy + std::fmt::Debug {
    /// The words, in the order of their tables.
    const ALL: &'static [&'static str];
    /// What comes in these kinds.
    const WHAT: &'static str;
}

/// The word that says of what kind an object is, known when its table is read.
#[derive(Debug, Clone, Copy)]
pub struct KindWord<K, const N: usize>(PhantomData<K>);

impl<K: Kinds, const N: usize> Read for KindWord<K, N> {
    fn read(_: &Node, _: &'static Field, _: &mut Reader) -> Option<Self> {
        Some(KindWord(PhantomData))
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "const": K::ALL.get(N) })
    }
}

/// Of what kind an object is.
pub fn kind_of<K: Kinds>(node: &Node, reader: &mut Reader) -> Option<&'static str> {
    let Some(object) = node.object() else {
        let example = K::ALL.first().copied().unwrap_or_default();
        return reader.wrong_kind(node, Expected::ObjectOfKind(example));
    };
    let Some(member) = object.get("kind") else {
        let brace = Span { end: (node.span.start + 1).min(node.span.end), ..node.span };
        let what = Missing::Kind(K::WHAT, K::ALL);
        return reader.refuse(FieldProblem::Missing { what }, brace);
    };
    reader.inside("kind", |reader| word(&member.node, K::ALL, reader))
}
