//! What holds a top, as written.

use crate::model::fixing::{Breadboard, Glued, Hold, MadeFasteners, OuterPins, breadboard, made_fasteners};
use crate::project::field::{Field, Read, Reader};
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
            _ => String::read(node, field, reader).map(FastenersText::Words),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [String::schema(field, definitions), MadeFastenersText::schema(field, definitions)] })
    }
}

breadboard!(given);
