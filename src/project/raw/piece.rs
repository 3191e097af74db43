//! Base and top as written.

use super::outline::{OutlineText, RiseEdgeText};
use crate::geometry::MirrorLine;
use crate::model::base::{
    Apron, BattenLine, BottomRail, BoxEdges, BoxSize, Corner, Curve, EdgeBevels, FrameLeg, FrameTurn, Frames, Layout,
    Lean, LeaningFrames, LowerEdge, Meets, Overhang, Section, Set, Slope, Span, SplayedBox, SplayedLegs, SquareLeg,
    Stretcher, Stretchers, Taper, TopRail, TwoOverhangs,
};
use crate::model::base::{
    apron, batten_line, bottom_rail, edge_bevels, frame_leg, frame_turn, frames, leaning_frames, splayed_box,
    splayed_legs, square_leg, stretcher, stretchers, taper, top_rail, two_overhangs,
};
use crate::model::fixing::{Breadboard, Fasteners};
use crate::model::top::{Sawn, Top, TopEdge, TopShape, top};
use crate::model::wood::{Moisture, Wood};
use crate::project::field::{Field, Read, Reader, choice, forms, record};
use crate::project::field_problem::{Expected, FieldProblem, WrongWord};
use crate::project::given::given;
use crate::project::json::{Node, Value};
use crate::project::kind::{KindWord, Kinds, kind_of};
use crate::project::value::{Named, Triple, Written};
use crate::units::{Angle, Length};
use serde_json::{Map, Value as Json, json};

/// The kinds of base.
#[derive(Debug, Clone, Copy)]
pub struct BaseKinds;

impl Kinds for BaseKinds {
    const ALL: &'static [&'static str] = &["leaning_frames", "splayed_legs", "splayed_box", "boards"];
    const WHAT: &'static str = "base";
}

type Kind<const N: usize> = KindWord<BaseKinds, N>;

/// A base as written.
#[derive(Debug, Clone)]
pub enum BaseText {
    /// `leaning_frames`.
    LeaningFrames(Box<LeaningFramesText>),
    /// `splayed_legs`.
    SplayedLegs(Box<SplayedLegsText>),
    /// `splayed_box`.
    SplayedBox(Box<SplayedBoxText>),
    /// `boards`.
    Boards(BoardsText),
}

impl Read for BaseText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match kind_of::<BaseKinds>(node, reader)? {
            "leaning_frames" => Read::read(node, field, reader).map(|t| BaseText::LeaningFrames(Box::new(t))),
            "splayed_legs" => Read::read(node, field, reader).map(|t| BaseText::SplayedLegs(Box::new(t))),
            "splayed_box" => Read::read(node, field, reader).map(|t| BaseText::SplayedBox(Box::new(t))),
            _ => Read::read(node, field, reader).map(BaseText::Boards),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "oneOf": [
            LeaningFramesText::schema(field, definitions),
            SplayedLegsText::schema(field, definitions),
            SplayedBoxText::schema(field, definitions),
            BoardsText::schema(field, definitions),
        ] })
    }
}

leaning_frames!(given [BaseKinds 0 "the kind of base." "\"leaning_frames\""]);

frame_leg!(given);

top_rail!(given);

bottom_rail!(given);

apron!(given);

stretcher!(given);

edge_bevels!(given);

frames!(given);

frame_turn!(given);

splayed_legs!(given [BaseKinds 1 "the kind of base." "\"splayed_legs\""]);

square_leg!(given);

taper!(given);

stretchers!(given);

splayed_box!(given [BaseKinds 2 "the kind of base." "\"splayed_box\""]);

record! {
    /// Boards placed one by one.
    BoardsText {
        _kind as "kind": Kind<3> = "Kind", "the kind of base.", "\"boards\"";
        boards: Named<BoardText> = "Boards", "the boards by name.", "{ \"brace\": { \"thickness\": 20, \"outline\": [{ \"to\": [0, 0] }, { \"to\": [600, 0] }, { \"to\": [600, 80] }, { \"to\": [0, 80] }], \"at\": [0, 0, 0], \"along\": [1, 0, 0], \"face\": [0, -1, 0] } }";
    }
}

record! {
    /// A board in its place.
    BoardText {
        thickness: Written = "Thickness", "how thick it is.", Length 0.1..=1000.0, "20";
        outline: OutlineText = "Outline", "its edge before cuts, x along it and y across.", Length -20000.0..=20000.0, "[{ \"to\": [0, 0] }, { \"to\": [600, 0] }, { \"to\": [600, 80] }, { \"to\": [0, 80] }]";
        at: Triple = "At", "where the outline's origin stands on its face side, [x, y, z].", Length -20000.0..=20000.0, "[0, 0, 0]";
        along: Triple = "Along", "the direction of the outline's x, [x, y, z]; the board runs exactly so.", Number -1e6..=1e6, "[1, 0, 0]";
        face: Triple = "Face", "the direction out of its face side, [x, y, z]; made square to \"along\".", Number -1e6..=1e6, "[0, -1, 0]";
        make: Option<u32> = "Make", "How many are made; 1 unless given.", Number 1.0..=1000.0, "2";
        cuts: Option<Vec<CutText>> = "Cuts", "The planes that cut it.", "[{ \"level\": 0 }]";
        keep: Option<Triple> = "Keep", "A point of the part that stays; the middle of the outline unless given.", Length -20000.0..=20000.0, "[300, 0, 40]";
    }
}

forms! {
    /// A cut of a board.
    CutText {
        "level" => LevelCut,
        "plane" => PlaneCut,
        "against" => AgainstCut,
    }
}

record! {
    /// A level cut.
    LevelCut {
        level: Written = "Level", "its height above the floor.", Length -20000.0..=20000.0, "0";
    }
}

record! {
    /// A cut along a plane.
    PlaneCut {
        plane: PlaneText = "Plane", "the plane.", "{ \"through\": [0, 0, 0], \"normal\": [1, 0, 1] }";
    }
}

record! {
    /// A plane.
    PlaneText {
        through: Triple = "Through", "a point of it, [x, y, z].", Length -20000.0..=20000.0, "[0, 0, 0]";
        normal: Triple = "Normal", "a direction square to it, [x, y, z].", Number -1e6..=1e6, "[1, 0, 1]";
    }
}

record! {
    /// A cut along a plane of another board before its cuts.
    AgainstCut {
        against: String = "Against", "\"ID.face\", \"ID.far\" or \"ID.edge.NAME\" of another board.", "\"post.face\"";
    }
}

top!(given);

/// A line from corner to corner.
#[derive(Debug, Clone)]
pub enum CurveText {
    /// Straight.
    Straight,
    /// In a curve.
    Curved(CurvedLine),
}

forms! {
    /// A curved line.
    CurvedLine {
        "rise" => RiseEdgeText,
        "batten" => BattenLineText,
    }
}

batten_line!(given);

impl Read for CurveText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Text(text) if text == "straight" => Some(CurveText::Straight),
            Value::Text(text) => {
                let what = WrongWord::Edge(text.clone(), false);
                reader.refuse(FieldProblem::UnknownWord { what }, node.span)
            }
            Value::Object(_) => CurvedLine::read(node, field, reader).map(CurveText::Curved),
            _ => reader.wrong_kind(node, Expected::Edge),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [{ "const": "straight" }, CurvedLine::schema(field, definitions)] })
    }
}

/// An overhang: one length, or one for the ends and one for the sides.
#[derive(Debug, Clone)]
pub enum OverhangText {
    /// The same all round.
    Even(Written),
    /// Of their own.
    Two(Box<TwoOverhangsText>),
}

two_overhangs!(given);

impl Read for OverhangText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Object(_) => {
                TwoOverhangsText::read(node, field, reader).map(|two| OverhangText::Two(Box::new(two)))
            }
            _ => Written::read(node, field, reader).map(OverhangText::Even),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [Written::schema(field, definitions), TwoOverhangsText::schema(field, definitions)] })
    }
}

/// Along what an apron's face lies, as written.
#[derive(Debug, Clone)]
pub enum SlopeText {
    /// `"chord"`.
    Chord,
    /// `"splay"`.
    Splay,
    /// An angle.
    At(Written),
}

impl Read for SlopeText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Text(word) if word == "chord" => Some(SlopeText::Chord),
            Value::Text(word) if word == "splay" => Some(SlopeText::Splay),
            _ => Written::read(node, field, reader).map(SlopeText::At),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [{ "enum": ["chord", "splay"] }, Written::schema(field, definitions)] })
    }
}

/// How a stretcher is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SetText {
    /// Faces plumb.
    Upright,
    /// Faces level.
    Flat,
}

choice!(SetText { "upright" => SetText::Upright, "flat" => SetText::Flat });
