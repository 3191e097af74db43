//! Wood and its moisture as written.

use crate::project::field::{Field, Read, Reader, forms, record};
use crate::project::json::{Node, Value};
use crate::project::value::Written;
use serde_json::{Map, Value as Json, json};

/// A wood: one that is known by its name, or one with coefficients of its own.
#[derive(Debug, Clone)]
pub enum SpeciesText {
    /// By name.
    Named(String),
    /// With its coefficients.
    Given(Box<GivenSpecies>),
}

record! {
    /// A wood with coefficients of its own.
    GivenSpecies {
        name: String = "Name", "what the wood is called.", "\"elm\"";
        radial: Written = "Radial", "change for each 1 % of moisture across a quarter-sawn board, as a share.", Number 0.0002..=0.01, "0.0018";
        tangential: Written = "Tangential", "change for each 1 % of moisture across a flat-sawn board, as a share.", Number 0.0002..=0.01, "0.0036";
        density: Option<Written> = "Density", "Mass of a cubic metre at 12 % moisture, kg.", Number 50.0..=1500.0, "680";
    }
}

impl Read for SpeciesText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Object(_) => GivenSpecies::read(node, field, reader).map(|g| SpeciesText::Given(Box::new(g))),
            _ => String::read(node, field, reader).map(SpeciesText::Named),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [String::schema(field, definitions), GivenSpecies::schema(field, definitions)] })
    }
}

record! {
    /// Moisture contents between which the wood moves.
    MoistureText {
        today: MoistureAtText = "Today", "moisture of the wood today, per cent, or the air it has rested in.", Number 6.0..=14.0, "8";
        driest: MoistureAtText = "Driest", "the driest it will be, per cent, or the air of that season.", Number 6.0..=14.0, "{ \"celsius\": 21, \"humidity\": 30 }";
        dampest: MoistureAtText = "Dampest", "the dampest it will be, per cent, or the air of that season.", Number 6.0..=14.0, "{ \"celsius\": 21, \"humidity\": 65 }";
    }
}

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
