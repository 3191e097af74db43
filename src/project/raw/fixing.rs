//! What holds a top, as written.

use crate::model::field::Choice;
use crate::model::fixing::{Breadboard, Glued, Hold, MadeFasteners, OuterPins, breadboard, made_fasteners};
use crate::project::field::{Field, Read, Reader};
use crate::project::field_problem::FieldProblem;
use crate::project::given::given;
use crate::project::json::{Node, Value};
use crate::units::Length;
use serde_json::{Map, Value as Json, json};

/// What holds the top to the base: in words, or so that it can be drawn and checked.
#[derive(Debug, Clone)]
pub enum FastenersText {
    /// In words only.
    Words(String),
    /// What it is.
    Made(Box<MadeFastenersText>),
}

made_fasteners!(given);

impl Read for FastenersText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Object(_) => {
                MadeFastenersText::read(node, field, reader).map(|made| FastenersText::Made(Box::new(made)))
            }
            Value::Text(text) if let Some(word) = hold(text) => {
                reader.refuse(FieldProblem::FastenersInWords { word }, node.span)
            }
            _ => String::read(node, field, reader).map(FastenersText::Words),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [String::schema(field, definitions), MadeFastenersText::schema(field, definitions)] })
    }
}

/// A word by which it is said what holds the top: by itself it would be words only, and the top held by nothing.
fn hold(text: &str) -> Option<&'static str> {
    Hold::WORDS.iter().map(|(word, _)| *word).find(|word| *word == text.trim())
}

breadboard!(given);
