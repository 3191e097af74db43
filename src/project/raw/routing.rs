//! What is routed by a pattern, as written.

use crate::project::field::{Field, Read, Reader, choice, record};
use crate::project::json::{Node, Value};
use crate::project::kind::{KindWord, Kinds, kind_of};
use crate::project::routing::Work;
use crate::project::value::{Pair, Written};
use serde_json::{Map, Value as Json, json};

/// The kinds of template.
#[derive(Debug, Clone, Copy)]
pub struct TemplateKinds;

impl Kinds for TemplateKinds {
    const ALL: &'static [&'static str] = &["collar", "inlay", "saw_line", "blank"];
    const WHAT: &'static str = "template";
}

type Kind<const N: usize> = KindWord<TemplateKinds, N>;

/// A template as written.
#[derive(Debug, Clone)]
pub enum TemplateText {
    /// `collar`.
    Collar(CollarTemplateText),
    /// `inlay`.
    Inlay(InlayTemplateText),
    /// `saw_line`.
    SawLine(SawLineText),
    /// `blank`.
    Blank(Box<BlankTemplateText>),
}

impl Read for TemplateText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match kind_of::<TemplateKinds>(node, reader)? {
            "collar" => Read::read(node, field, reader).map(TemplateText::Collar),
            "inlay" => Read::read(node, field, reader).map(TemplateText::Inlay),
            "saw_line" => Read::read(node, field, reader).map(TemplateText::SawLine),
            _ => Read::read(node, field, reader).map(|text| TemplateText::Blank(Box::new(text))),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "oneOf": [
            CollarTemplateText::schema(field, definitions),
            InlayTemplateText::schema(field, definitions),
            SawLineText::schema(field, definitions),
            BlankTemplateText::schema(field, definitions),
        ] })
    }
}

record! {
    /// A template along which a guide collar leads the cutter to the finished line.
    CollarTemplateText {
        _kind as "kind": Kind<0> = "Kind", "the kind of template.", "\"collar\"";
        work: Work = "Work", "whether the part is cut round its \"outside\" or an opening of its shape is cut \"inside\".", "\"outside\"";
        collar: String = "Collar", "the guide collar, by its name in the shop.", "\"large\"";
        cutter: String = "Cutter", "the cutter, by its name in the shop.", "\"trimmer\"";
        thickness: Option<Written> = "Thickness", "How thick the template's own board is.", Length 1.0..=100.0, "12";
    }
}

record! {
    /// A template for recess and plug of an inlay of the part's shape, with a sleeve over the collar for the recess.
    InlayTemplateText {
        _kind as "kind": Kind<1> = "Kind", "the kind of template.", "\"inlay\"";
        large: String = "Large collar", "the collar with the sleeve on, for the recess, by its name in the shop.", "\"large\"";
        small: String = "Small collar", "the bare collar, for the plug, by its name in the shop.", "\"small\"";
        cutter: String = "Cutter", "the cutter, by its name in the shop.", "\"spiral\"";
        thickness: Option<Written> = "Thickness", "How thick the template's own board is.", Length 1.0..=100.0, "12";
    }
}

record! {
    /// A line to saw along, outside the finished line.
    SawLineText {
        _kind as "kind": Kind<2> = "Kind", "the kind of template.", "\"saw_line\"";
        distance: Written = "Distance", "how far outside the finished line it lies.", Length 0.1..=50.0, "3";
    }
}

record! {
    /// A blank for a template of one edge, which runs on past both ends of the part.
    BlankTemplateText {
        _kind as "kind": Kind<3> = "Kind", "the kind of template.", "\"blank\"";
        edge: EdgeChoice = "Edge", "the edge to follow: its name, or which corner of the outline it arrives at, the first being 1.",
            Number 1.0..=1000.0, "2";
        run_on: Option<Written> = "Run on", "How far the edge runs on past each end of the part; 80 mm unless given.", Length 1.0..=1000.0, "80";
        hold: Option<Written> = "Hold", "Room behind the edge for tape and hold-downs; 60 mm unless given.", Length 5.0..=1000.0, "60";
        clear: Option<Written> = "Clear", "The least distance from a screw's middle to the edge; 20 mm unless given.", Length 0.0..=500.0, "20";
        head: Option<Written> = "Head", "Diameter of a screw's head, with room around it; 12 mm unless given.", Length 2.0..=50.0, "12";
        hidden: Option<Vec<Vec<Pair>>> = "Hidden", "Areas that a joint will hide, where a screw may go, each by its corners.",
            Length -20000.0..=20000.0, "[[[10, 10], [50, 10], [50, 40], [10, 40]]]";
        cutter: Option<String> = "Cutter", "The cutter, by its name in the shop.", "\"trimmer\"";
        thickness: Option<Written> = "Thickness", "How thick the template's own board is.", Length 1.0..=100.0, "12";
    }
}

choice!(Work { "outside" => Work::Outside, "inside" => Work::Inside });

/// One or several templates.
#[derive(Debug, Clone)]
pub struct TemplatesText(pub Vec<TemplateText>);

impl Read for TemplatesText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::List(_) => Vec::read(node, field, reader).map(TemplatesText),
            _ => TemplateText::read(node, field, reader).map(|one| TemplatesText(vec![one])),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        let one = TemplateText::schema(field, definitions);
        json!({ "anyOf": [one, <Vec<TemplateText> as Read>::schema(field, definitions)] })
    }
}

/// An edge of the outline, named or counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EdgeChoice {
    /// By the number of the corner at which it arrives, from 1.
    Corner(u32),
    /// By its name.
    Name(String),
}

impl Read for EdgeChoice {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Text(_) => String::read(node, field, reader).map(EdgeChoice::Name),
            _ => u32::read(node, field, reader).map(EdgeChoice::Corner),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [u32::schema(field, definitions), String::schema(field, definitions)] })
    }
}

/// Which cutter an outline is checked with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CutterChoice {
    /// None.
    No,
    /// The first of the shop.
    First,
    /// This one.
    Name(String),
}

impl Read for CutterChoice {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match node.value {
            Value::Bool(true) => Some(CutterChoice::First),
            Value::Bool(false) => Some(CutterChoice::No),
            _ => String::read(node, field, reader).map(CutterChoice::Name),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [bool::schema(field, definitions), String::schema(field, definitions)] })
    }
}
