//! Joints as written.

use crate::model::joint::{Axis, Ends, Kind, Mortise};
use crate::project::field::{Field, Read, Reader, choice, record};
use crate::project::field_problem::Expected;
use crate::project::json::{Node, Value};
use crate::project::value::{Pair, Written};
use serde_json::{Map, Value as Json, json};

record! {
    /// How the ends of one part are joined to another: every end of the one that lies on the other gets these tenons.
    JointText {
        from: String = "From", "the part whose sawn ends are joined; \"top\" for both parts joins the glue lines of the top.", "\"apron\"";
        into: String = "Into", "the part on which those ends lie.", "\"leg\"";
        kind: Option<Kind> = "Kind", "\"loose\" (unless given): a mortise in both parts; or \"fixed\": the tenon is left standing on the first.", "\"loose\"";
        mortise: Option<Mortise> = "Mortise", "\"blind\" (unless given), or \"through\" the second part.", "\"blind\"";
        thickness: Written = "Thickness", "of the tenon.", Length 1.0..=200.0, "8";
        width: Written = "Width", "of the tenon, along the cut's line.", Length 2.0..=1000.0, "30";
        length: Option<Written> = "Length", "Of the tenon, along its axis: all of a loose one; of one that goes through the second part how deep the first is mortised; what stands out of the shoulder of a fixed one, which through a part is not needed.", Length 2.0..=1000.0, "50";
        depths: Option<Pair> = "Depths", "Of the two mortises of a loose tenon: in the first part and in the second; shared evenly unless given.", Length 1.0..=1000.0, "[26, 26]";
        clearance: Option<Written> = "Clearance", "How much longer the mortises together are than the tenon; 2 mm unless given.", Length 0.0..=50.0, "2";
        count: Option<u32> = "Count", "How many side by side; unless given 1, or as many as fit at the spacing.", Number 1.0..=100.0, "2";
        spacing: Option<Written> = "Spacing", "From centre to centre; spread evenly unless given.", Length 2.0..=5000.0, "45";
        margin: Option<Written> = "Margin", "From the edge of the landing to the first tenon.", Length 0.0..=5000.0, "12";
        at: Option<Vec<Written>> = "At", "Places by hand instead: each centre along the cut's line from the reference edge, on the arris of the face side (along a glue line from the left end).", Length 0.0..=10000.0, "[22, 63]";
        from_face: Option<Written> = "From the face side", "From the face side to the tenon's near cheek, on the sawn end; centred unless given.", Length 0.0..=1000.0, "8";
        axis: Option<Axis> = "Axis", "\"square\" to the sawn end (unless given), or \"along\" the part.", "\"square\"";
        ends: Option<Ends> = "Ends", "Of the mortises: \"round\" (unless given for a loose tenon) or \"square\".", "\"round\"";
    }
}

choice!(Kind { "loose" => Kind::Loose, "fixed" => Kind::Fixed });
choice!(Mortise { "blind" => Mortise::Blind, "through" => Mortise::Through });
choice!(Axis { "square" => Axis::Square, "along" => Axis::Along });
choice!(Ends { "round" => Ends::Round, "square" => Ends::Square });

record! {
    /// The mortising machine.
    MortiserText {
        reach: Written = "Reach", "how far from an edge its fence lets it work.", Length 1.0..=1000.0, "\"100 mm\"";
        angles: Option<AnglesText> = "Angles", "Smallest and largest angle of its fence; square only unless given.", Angle 0.0..=180.0, "[0, 90]";
        depth: Option<Written> = "Depth", "The deepest it cuts.", Length 1.0..=500.0, "\"28 mm\"";
        height: Option<Written> = "Height", "Of its cutter above its base, for work that lies flat.", Length 1.0..=500.0, "\"10 mm\"";
    }
}

/// The smallest and the largest angle.
#[derive(Debug, Clone)]
pub struct AnglesText(pub Pair);

impl Read for AnglesText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::List(_) => Pair::read(node, field, reader).map(AnglesText),
            _ => reader.wrong_kind(node, Expected::AnglePair),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        let angle = Written::schema(field, definitions);
        json!({ "type": "array", "prefixItems": [angle, angle], "items": false, "minItems": 2 })
    }
}
