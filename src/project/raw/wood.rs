//! Wood and its moisture as written.

use crate::model::wood::{GivenSpecies, Moisture, MoistureAt, given_species, moisture};
use crate::project::field::{Field, Read, Reader, forms, record};
use crate::project::given::given;
use crate::project::json::{Node, Value};
use crate::project::value::Written;
use crate::wood::{named, not_known};
use serde_json::{Map, Value as Json, json};

/// A wood: one that is known by its name, or one with coefficients of its own.
#[derive(Debug, Clone)]
pub enum SpeciesText {
    /// By name.
    Named(String),
    /// With its coefficients.
    Given(Box<GivenSpeciesText>),
}

given_species!(given);

impl Read for SpeciesText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Object(_) => GivenSpeciesText::read(node, field, reader).map(|g| SpeciesText::Given(Box::new(g))),
            _ => match String::read(node, field, reader)? {
                name if named(&name).is_some() => Some(SpeciesText::Named(name)),
                name => reader.refuse(not_known(&name), node.span),
            },
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [String::schema(field, definitions), GivenSpeciesText::schema(field, definitions)] })
    }
}

moisture!(given);

/// A moisture content, or the air to which it belongs.
#[derive(Debug, Clone)]
pub enum MoistureAtText {
    /// Per cent.
    Percent(Written),
    /// The air of a room.
    Climate(ClimateText),
}

forms! {
    /// The air of a room.
    ClimateText {
        "celsius" => CelsiusClimate,
        "fahrenheit" => FahrenheitClimate,
    }
}

record! {
    /// Air by its temperature in degrees Celsius.
    CelsiusClimate {
        celsius: Written = "Celsius", "its temperature.", Number -10.0..=50.0, "21";
        humidity: Written = "Humidity", "its relative humidity, per cent.", Number 1.0..=95.0, "45";
    }
}

record! {
    /// Air by its temperature in degrees Fahrenheit.
    FahrenheitClimate {
        fahrenheit: Written = "Fahrenheit", "its temperature.", Number 14.0..=122.0, "70";
        humidity: Written = "Humidity", "its relative humidity, per cent.", Number 1.0..=95.0, "45";
    }
}

impl Read for MoistureAtText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Object(_) => ClimateText::read(node, field, reader).map(MoistureAtText::Climate),
            _ => Written::read(node, field, reader).map(MoistureAtText::Percent),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [Written::schema(field, definitions), ClimateText::schema(field, definitions)] })
    }
}
