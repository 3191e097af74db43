//! Edge profiles as written.

use crate::model::ThumbnailCurve;
use crate::project::field::{Field, Read, Reader, choice, forms, record};
use crate::project::field_problem::Expected;
use crate::project::json::{Node, Value};
use crate::project::value::{Pair, Written};
use serde_json::{Map, Value as Json, json};

forms! {
    /// What is worked along an edge.
    ProfileText {
        "round_over" => RoundOverText,
        "chamfer" => ChamferText,
        "thumbnail" => ThumbnailText,
        "underbevel" => UnderbevelText,
        "drawn" => DrawnProfileText,
        "both" => BothText,
        "face" => EachText,
    }
}

forms! {
    /// What is worked along one arris.
    ArrisProfileText {
        "round_over" => RoundOverText,
        "chamfer" => ChamferText,
        "thumbnail" => ThumbnailText,
    }
}

record! {
    /// The same at the face and at the far side.
    BothText {
        both: ArrisProfileText = "Both", "what is worked along both arrises, at the far side as at the face.", "{ \"round_over\": 3 }";
    }
}

record! {
    /// Each arris its own.
    EachText {
        face: ArrisProfileText = "Face", "what is worked along the arris of the face.", "{ \"round_over\": 6 }";
        far: ArrisProfileText = "Far", "what is worked along the arris of the far side, told from there.", "{ \"chamfer\": [2, 2] }";
    }
}

record! {
    /// A quarter circle at the face.
    RoundOverText {
        round_over: Written = "Round-over", "its radius.", Length 0.1..=200.0, "6";
    }
}

record! {
    /// A slope at the face.
    ChamferText {
        chamfer: Pair = "Chamfer", "its width on the face and its depth on the edge.", Length 0.1..=200.0, "[3, 3]";
    }
}

record! {
    /// A flat curve at the face.
    ThumbnailText {
        thumbnail: Pair = "Thumbnail", "its width on the face and its depth on the edge.", Length 0.1..=300.0, "[20, 8]";
        step: Option<Written> = "Step", "Depth of the step by which it begins below the face; none unless given.", Length 0.0..=100.0, "2";
        curve: Option<ThumbnailCurve> = "Curve", "A quarter \"ellipse\" (unless given) or an \"arc\" that leaves the face smoothly.", "\"ellipse\"";
    }
}

record! {
    /// A slope under the far side, which makes the edge look thin.
    UnderbevelText {
        underbevel: Pair = "Underbevel", "its width on the far side and its height on the edge, from the far side up.", Length 0.1..=300.0, "[40, 12]";
    }
}

record! {
    /// A profile by its points, joined straight.
    DrawnProfileText {
        drawn: Vec<Pair> = "Drawn", "points from the face to the edge or the far side: how far in from the edge, and how far up from the face, so below it less than 0.",
            Length -500.0..=500.0, "[[12, 0], [12, -3], [0, -9]]";
    }
}

choice!(ThumbnailCurve { "ellipse" => ThumbnailCurve::Ellipse, "arc" => ThumbnailCurve::Arc });

/// What is worked along a top's edge: in words, or drawn.
#[derive(Debug, Clone)]
pub enum TopProfileText {
    /// Words that are only noted.
    Words(String),
    /// A profile.
    Profile(Box<ProfileText>),
}

impl Read for TopProfileText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Text(_) => String::read(node, field, reader).map(TopProfileText::Words),
            Value::Object(_) => {
                ProfileText::read(node, field, reader).map(|text| TopProfileText::Profile(Box::new(text)))
            }
            _ => reader.wrong_kind(node, Expected::Profile),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [String::schema(field, definitions), ProfileText::schema(field, definitions)] })
    }
}
