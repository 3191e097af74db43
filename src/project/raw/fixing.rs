//! What holds a top, as written.

use crate::model::fixing::{Glued, Hold, OuterPins};
use crate::project::field::{Field, Read, Reader, choice, record};
use crate::project::json::{Node, Value};
use crate::project::value::Written;
use serde_json::{Map, Value as Json, json};

/// What holds the top to the base: in words, or so that it can be drawn and checked.
#[derive(Debug, Clone)]
pub enum FastenersText {
    /// In words only.
    Words(String),
    /// What it is.
    Made(Box<MadeFasteners>),
}

record! {
    /// What holds the top to the base.
    MadeFasteners {
        by: Hold = "By", "\"slots\" (screws in elongated holes), \"buttons\", \"screws\" in round holes, or \"glue\".", "\"slots\"";
        screw: Option<Written> = "Screw", "Diameter of the hole that a screw passes through; 5 mm unless given.", Length 1.0..=20.0, "\"5 mm\"";
        spacing: Option<Written> = "Spacing", "How far apart they stand at most; 300 mm unless given.", Length 30.0..=2000.0, "\"300 mm\"";
    }
}

impl Read for FastenersText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Object(_) => {
                MadeFasteners::read(node, field, reader).map(|made| FastenersText::Made(Box::new(made)))
            }
            _ => String::read(node, field, reader).map(FastenersText::Words),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [String::schema(field, definitions), MadeFasteners::schema(field, definitions)] })
    }
}

record! {
    /// Breadboard ends: a piece across each end of the top, on a tongue, held by pins.
    BreadboardText {
        width: Written = "Width", "of each end piece, along the length of the top.", Length 10.0..=1000.0, "90";
        tongue: Option<Written> = "Tongue", "Its thickness; a third of the top's unless given.", Length 1.0..=200.0, "8";
        depth: Option<Written> = "Depth", "How far the tongue goes into the end piece; a third of its width unless given.", Length 2.0..=500.0, "25";
        pin: Option<Written> = "Pin", "Diameter of the pins; 6 mm unless given.", Length 2.0..=30.0, "6";
        pins: Option<u32> = "Pins", "How many in each end, an odd number; 3 unless given.", Number 1.0..=51.0, "3";
        glue: Option<Glued> = "Glue", "\"middle\" (unless given): round the middle pin only; or \"along\" the whole tongue.", "\"middle\"";
        outer_pins: Option<OuterPins> = "Outer pins", "\"slotted\" (unless given): in elongated holes in the tongue; or \"tight\".", "\"slotted\"";
    }
}

choice!(Hold { "slots" => Hold::Slots, "buttons" => Hold::Buttons, "screws" => Hold::Screws, "glue" => Hold::Glue });
choice!(Glued { "middle" => Glued::Middle, "along" => Glued::Along });
choice!(OuterPins { "slotted" => OuterPins::Slotted, "tight" => OuterPins::Tight });
