//! Outlines as written: corners, edges and whole shapes.

use crate::geometry::MirrorLine;
use crate::model::base::{RiseEdge, rise_edge};
use crate::project::field::{Field, Read, Reader, choice, forms, record};
use crate::project::field_problem::{Expected, FieldProblem, WrongWord};
use crate::project::given::given;
use crate::project::json::{Node, Value};
use crate::project::value::{Pair, Written};
use crate::units::Length;
use serde_json::{Map, Value as Json, json};

record! {
    /// A corner of the outline and the edge that arrives there.
    CornerText {
        to: Pair = "Corner", "the corner, [x, y].", Length -20000.0..=20000.0, "[600, 0]";
        edge: Option<EdgeText> = "Edge", "How the edge arrives here from the corner before; straight unless given.", "{ \"rise\": 20 }";
        name: Option<String> = "Name", "Name of the edge that arrives here, for a board that is cut against it.", "\"back\"";
        corner_radius: Option<Written> = "Corner radius", "Rounds this corner.", Length 0.0..=5000.0, "12";
    }
}

/// How an edge runs.
#[derive(Debug, Clone)]
pub enum EdgeText {
    /// In a straight line.
    Straight,
    /// In a curve that joins both neighbours smoothly.
    Blend,
    /// In a curve.
    Curved(CurvedEdge),
}

forms! {
    /// A curved edge.
    CurvedEdge {
        "rise" => RiseEdgeText,
        "radius" => RadiusEdge,
        "batten" => BattenEdge,
        "half_ellipse" => HalfEllipseEdge,
        "quarter_ellipse" => QuarterEllipseEdge,
        "taper" => TaperEdge,
    }
}

rise_edge!(given);

record! {
    /// The shorter arc of a circle by its radius.
    RadiusEdge {
        radius: Written = "Radius", "radius of the arc.", Length 0.1..=20000.0, "900";
        bulges: Bulge = "Bulges", "which way the arc bulges: \"out\" of the part or \"in\".", "\"out\"";
    }
}

record! {
    /// A thin batten sprung through the edge's two ends and the points between.
    BattenEdge {
        batten: Vec<Pair> = "Batten", "points between the two ends, in order.", Length -20000.0..=20000.0, "[[300, 40]]";
        tension: Option<Written> = "Tension", "Pull along the batten, which flattens it between the points; 0 unless given.", Number 0.0..=64.0, "2";
    }
}

record! {
    /// Half an ellipse on the line between the two corners.
    HalfEllipseEdge {
        half_ellipse: Written = "Half ellipse", "its height over the chord; positive bulges out of the part.", Length -10000.0..=10000.0, "150";
    }
}

record! {
    /// A quarter of an ellipse with axes along x and y.
    QuarterEllipseEdge {
        quarter_ellipse: MirrorLine = "Quarter ellipse", "the axis along which it leaves the corner before: \"x\" or \"y\".", "\"x\"";
    }
}

record! {
    /// A curve that runs on smoothly from one neighbour and bends ever more.
    TaperEdge {
        taper: RunsOn = "Taper", "the neighbour that it runs on from: the edge \"before\" or \"after\" it.", "\"before\"";
    }
}

/// The neighbour that an edge runs on from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RunsOn {
    /// The edge before it.
    Before,
    /// The edge after it.
    After,
}

/// Which way an arc bulges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bulge {
    /// Out of the part.
    Out,
    /// Into the part.
    In,
}

/// An outline as written.
#[derive(Debug, Clone)]
pub enum OutlineText {
    /// Corner by corner.
    Corners(Vec<CornerText>),
    /// A shape with a name.
    Shape(Box<WholeShape>),
    /// The paths of a drawing.
    Svg(Box<SvgShape>),
}

/// An opening as written.
#[derive(Debug, Clone)]
pub enum OpeningText {
    /// Its outline alone.
    Plain(OutlineText),
    /// With what else is to be said of it.
    More(Box<OpeningForm>),
}

impl OpeningText {
    /// Its outline, and the field that holds it, where it is not the opening itself.
    pub fn outline(&self) -> (&OutlineText, Option<&'static str>) {
        match self {
            OpeningText::Plain(outline) => (outline, None),
            OpeningText::More(form) => (&form.outline, Some("outline")),
        }
    }

    /// Whether it is kept from being mirrored, where that is said.
    pub fn once(&self) -> Option<bool> {
        match self {
            OpeningText::Plain(_) => None,
            OpeningText::More(form) => form.once,
        }
    }
}

record! {
    /// An opening of which more is said than its outline.
    OpeningForm {
        outline: OutlineText = "Outline", "its edge, drawn as an outline is.", Length -20000.0..=20000.0, "{ \"circle\": 30, \"at\": [60, 40] }";
        once: Option<bool> = "Once", "Whether it stands where it is written and nowhere else, on a part that is mirrored; false unless given.", "true";
    }
}

forms! {
    /// A shape that is a whole outline.
    WholeShape {
        "ellipse" => EllipseShape,
        "circle" => CircleShape,
    }
}

record! {
    /// An ellipse.
    EllipseShape {
        ellipse: Pair = "Ellipse", "its length along x and its width along y.", Length 1.0..=20000.0, "[1200, 800]";
        at: Option<Pair> = "At", "Its middle, [x, y]; the origin unless given.", Length -20000.0..=20000.0, "[0, 0]";
    }
}

record! {
    /// A circle.
    CircleShape {
        circle: Written = "Circle", "its diameter.", Length 1.0..=20000.0, "600";
        at: Option<Pair> = "At", "Its middle, [x, y]; the origin unless given.", Length -20000.0..=20000.0, "[0, 0]";
    }
}

record! {
    /// The closed paths of an SVG drawing, in true size: the one around all others is the edge, the others are openings.
    SvgShape {
        svg: String = "SVG file", "the file, beside the project file.", "\"leaf.svg\"";
        id: Option<String> = "Id", "Takes only what has this id in the drawing.", "\"leaf\"";
        width: Option<Written> = "Width", "Scales all to this width, before turning; as drawn unless given.", Length 1.0..=20000.0, "120";
        turn: Option<Written> = "Turn", "Turns all about its middle, anticlockwise.", Angle -360.0..=360.0, "90";
        mirror: Option<bool> = "Mirror", "Whether all is mirrored, left to right, before turning; false unless given.", "true";
        at: Option<Pair> = "At", "Where its middle comes to lie, [x, y]; where it is drawn unless given.", Length -20000.0..=20000.0, "[0, 0]";
    }
}

choice!(RunsOn { "before" => RunsOn::Before, "after" => RunsOn::After });
choice!(Bulge { "out" => Bulge::Out, "in" => Bulge::In });

impl Read for EdgeText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Text(text) if text == "straight" => Some(EdgeText::Straight),
            Value::Text(text) if text == "blend" => Some(EdgeText::Blend),
            Value::Text(text) => {
                let what = WrongWord::Edge(text.clone(), true);
                reader.refuse(FieldProblem::UnknownWord { what }, node.span)
            }
            Value::Object(_) => CurvedEdge::read(node, field, reader).map(EdgeText::Curved),
            _ => reader.wrong_kind(node, Expected::Edge),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [{ "enum": ["straight", "blend"] }, CurvedEdge::schema(field, definitions)] })
    }
}

impl Read for OpeningText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Object(object) if object.get("outline").is_some() => {
                OpeningForm::read(node, field, reader).map(|form| OpeningText::More(Box::new(form)))
            }
            _ => OutlineText::read(node, field, reader).map(OpeningText::Plain),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        let form = OpeningForm::schema(field, definitions);
        json!({ "anyOf": [OutlineText::schema(field, definitions), form] })
    }
}

impl Read for OutlineText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Object(object) if object.get("svg").is_some() => {
                SvgShape::read(node, field, reader).map(|text| OutlineText::Svg(Box::new(text)))
            }
            Value::Object(_) => {
                WholeShape::read(node, field, reader).map(|shape| OutlineText::Shape(Box::new(shape)))
            }
            _ => Vec::read(node, field, reader).map(OutlineText::Corners),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        let corners = <Vec<CornerText> as Read>::schema(field, definitions);
        let svg = SvgShape::schema(field, definitions);
        json!({ "anyOf": [corners, WholeShape::schema(field, definitions), svg] })
    }
}
