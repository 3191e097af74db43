//! Base and top as written.

use super::fixing::{BreadboardText, FastenersText};
use super::outline::{OutlineText, RiseEdge};
use super::profile::TopProfileText;
use super::round_leg::RoundLegText;
use super::wood::{MoistureText, SpeciesText};
use crate::finding::quoted;
use crate::geometry::MirrorLine;
use crate::model::base::{BoxEdges, Corner, Layout, LowerEdge, Meets, Sawn, TopShape};
use crate::project::field::{Field, Read, Reader, choice, forms, record};
use crate::project::json::{Node, Value};
use crate::project::kind::{KindWord, Kinds, kind_of};
use crate::project::value::{Named, Pair, Triple, Wanted, Written};
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

record! {
    /// Two leg frames that lean towards each other.
    LeaningFramesText {
        _kind as "kind": Kind<0> = "Kind", "the kind of base.", "\"leaning_frames\"";
        height: Written = "Height", "floor to the upper face of the top (to the heads, where there is no top).", Length 20.0..=5000.0, "745";
        length_at_top: Option<Written> = "Length at the top", "Over the outside faces of the two frames, level with the heads.", Length 20.0..=10000.0, "1420";
        length_at_floor: Option<Written> = "Length at the floor", "Over the outside faces of the two frames at the floor.", Length 20.0..=10000.0, "1620";
        width_at_top: Option<Written> = "Width at the top", "Over the outside edges of a frame's two legs, level with the heads.", Length 20.0..=10000.0, "640";
        width_at_floor: Option<Written> = "Width at the floor", "Over the outside edges of a frame's two legs at the floor.", Length 20.0..=10000.0, "950";
        overhang: Option<OverhangText> = "Overhang", "How far the top's rectangle stands over the heads on each side, instead of a length or width.", Length -2000.0..=2000.0, "190";
        lean: Option<Written> = "Lean", "Each frame's tilt from plumb, heads towards the middle; 0 unless given.", Angle -75.0..=75.0, "8";
        rake: Option<Written> = "Rake", "Another word for lean.", Angle -75.0..=75.0, "8";
        leg: FrameLegText = "Legs", "the legs of both frames.", "{ \"thickness\": 40, \"head\": 95, \"foot\": 60 }";
        top_rail: Option<TopRailText> = "Top rail", "The rail between the heads of a frame.", "{ \"thickness\": 30, \"depth\": 75 }";
        bottom_rail: Option<BottomRailText> = "Bottom rail", "The rail near the floor.", "{ \"thickness\": 30, \"depth\": 70, \"height\": 140 }";
        apron: Option<ApronText> = "Aprons", "One each side between the frames.", "{ \"thickness\": 25, \"depth\": 85 }";
        stretcher: Option<StretcherText> = "Stretcher", "On the centre line between the bottom rails.", "{ \"thickness\": 25, \"depth\": 45, \"height\": 148 }";
        frames: Option<FramesText> = "Frames", "What tells the two frames apart.", "{ \"left\": { \"lean\": 6 } }";
    }
}

record! {
    /// A leg of a leaning frame.
    FrameLegText {
        splay: Option<Written> = "Splay", "In the frame's outside face, feet outward, from its centre line to the outside edge; 0 unless given.", Angle -75.0..=75.0, "12";
        thickness: Written = "Thickness", "how thick the legs are.", Length 1.0..=1000.0, "40";
        head: Written = "Head", "width along the sawn head line.", Length 1.0..=2000.0, "95";
        foot: Written = "Foot", "width along the sawn foot line.", Length 1.0..=2000.0, "60";
        outside_edge: Option<CurveText> = "Outside edge", "The edge towards the end of the frame; straight unless given. A batten's points run along the chord from the head.", "{ \"rise\": 12 }";
        inside_edge: Option<CurveText> = "Inside edge", "The edge towards the other leg; straight unless given.", "{ \"rise\": -8 }";
    }
}

record! {
    /// The rail between the heads of a leaning frame.
    TopRailText {
        thickness: Written = "Thickness", "how thick the rail is.", Length 1.0..=1000.0, "30";
        depth: Written = "Depth", "square across the rail's face side.", Length 1.0..=2000.0, "75";
        set_back: Option<Written> = "Set back", "Its face below the leg's outside face; centred in the leg unless given.", Length 0.0..=1000.0, "5";
        lower_edge: Option<CurveText> = "Lower edge", "The lower edge; straight unless given.", "{ \"rise\": -20 }";
        meets: Option<Meets> = "Meets", "How it meets curved legs: \"flat\" (unless given) or \"scribed\".", "\"flat\"";
    }
}

record! {
    /// The rail near the floor of a leaning frame.
    BottomRailText {
        thickness: Written = "Thickness", "how thick the rail is.", Length 1.0..=1000.0, "30";
        depth: Written = "Depth", "square across the rail's face side.", Length 1.0..=2000.0, "70";
        height: Written = "Height", "of its face side's lower arris, plumb above the floor.", Length 0.0..=5000.0, "140";
        set_back: Option<Written> = "Set back", "Its face below the leg's outside face; centred in the leg unless given.", Length 0.0..=1000.0, "5";
        lower_edge: Option<CurveText> = "Lower edge", "The lower edge; straight unless given.", "{ \"rise\": -20 }";
        upper_edge: Option<CurveText> = "Upper edge", "The upper edge; straight unless given.", "{ \"rise\": 10 }";
        meets: Option<Meets> = "Meets", "How it meets curved legs: \"flat\" (unless given) or \"scribed\".", "\"flat\"";
    }
}

record! {
    /// An apron.
    ApronText {
        thickness: Written = "Thickness", "how thick the apron is.", Length 1.0..=1000.0, "25";
        depth: Written = "Depth", "square across its outside face from its upper arris.", Length 1.0..=2000.0, "85";
        drop: Option<Written> = "Drop", "Its upper edge below the heads; 0 unless given.", Length 0.0..=2000.0, "0";
        inset: Option<Written> = "Inset", "Its outside face in from the leg; 0 unless given.", Length -500.0..=2000.0, "5";
        lower_edge: Option<LowerEdge> = "Lower edge", "\"square\" to the face (unless given) or \"level\".", "\"level\"";
    }
}

record! {
    /// A stretcher between the bottom rails of leaning frames.
    StretcherText {
        thickness: Written = "Thickness", "how thick the stretcher is.", Length 1.0..=1000.0, "25";
        depth: Written = "Depth", "across its face.", Length 1.0..=2000.0, "45";
        height: Written = "Height", "of its lower edge above the floor.", Length 0.0..=5000.0, "148";
        set: Option<SetText> = "Set", "\"upright\" (unless given) or \"flat\".", "\"upright\"";
        edge_bevels: Option<EdgeBevelsText> = "Edge bevels", "Bevels of an upright stretcher's edges.", "{ \"upper\": 8 }";
    }
}

record! {
    /// Bevels of an upright stretcher's edges; above zero the far side is wider.
    EdgeBevelsText {
        upper: Option<Written> = "Upper", "Of the upper edge; 0 unless given.", Angle -60.0..=60.0, "8";
        lower: Option<Written> = "Lower", "Of the lower edge; 0 unless given.", Angle -60.0..=60.0, "8";
    }
}

record! {
    /// What tells two leaning frames apart.
    FramesText {
        left: Option<FrameTurnText> = "Left", "The left frame.", "{ \"lean\": 6 }";
        right: Option<FrameTurnText> = "Right", "The right frame.", "{ \"twist\": 2 }";
    }
}

record! {
    /// A lean and a twist of one frame.
    FrameTurnText {
        lean: Option<Written> = "Lean", "Its own lean; the base's unless given.", Angle -75.0..=75.0, "6";
        twist: Option<Written> = "Twist", "Turn about the plumb line through the middle of its outside face at the heads, anticlockwise from above; 0 unless given.", Angle -75.0..=75.0, "2";
    }
}

record! {
    /// Four legs splayed both ways, aprons between.
    SplayedLegsText {
        _kind as "kind": Kind<1> = "Kind", "the kind of base.", "\"splayed_legs\"";
        height: Written = "Height", "floor to the upper face of the top (to the heads, where there is no top).", Length 20.0..=5000.0, "450";
        length_at_top: Option<Written> = "Length at the top", "Between outermost arrises, level with the heads.", Length 20.0..=10000.0, "500";
        length_at_floor: Option<Written> = "Length at the floor", "Between outermost arrises at the floor.", Length 20.0..=10000.0, "600";
        width_at_top: Option<Written> = "Width at the top", "Between outermost arrises, level with the heads.", Length 20.0..=10000.0, "360";
        width_at_floor: Option<Written> = "Width at the floor", "Between outermost arrises at the floor.", Length 20.0..=10000.0, "420";
        overhang: Option<OverhangText> = "Overhang", "How far the top's rectangle stands over the heads on each side, instead of a length or width.", Length -2000.0..=2000.0, "60";
        splay_front: Option<Written> = "Splay, front view", "Splay as seen in the front view; 0 unless given.", Angle -75.0..=75.0, "10";
        splay_side: Option<Written> = "Splay, side view", "Splay as seen in the side view; 0 unless given.", Angle -75.0..=75.0, "6";
        leg: SquareLegText = "Legs", "the legs.", "{ \"width\": 42, \"thickness\": 38 }";
        apron: Option<ApronText> = "Aprons", "The long aprons.", "{ \"thickness\": 20, \"depth\": 90, \"inset\": 4 }";
        end_apron: Option<ApronText> = "End aprons", "The aprons at the ends.", "{ \"thickness\": 20, \"depth\": 90, \"inset\": 6 }";
        stretchers: Option<StretchersText> = "Stretchers", "Stretchers between the legs.", "{ \"layout\": \"h\", \"thickness\": 18, \"depth\": 25, \"height\": 120 }";
    }
}

record! {
    /// A leg of rectangular section.
    SquareLegText {
        width: Option<Written> = "Width", "In the front face, square to the outermost arris; of every leg that is not round.", Length 1.0..=1000.0, "42";
        thickness: Option<Written> = "Thickness", "Square to the front face; of every leg that is not round.", Length 1.0..=1000.0, "38";
        round: Option<RoundLegText> = "Round", "Turned legs, drilled into the top, without aprons: length and width of the base are then between the legs' centre lines.", "{ \"diameter\": 38, \"tenon\": 25 }";
        taper: Option<TaperText> = "Taper", "Taper of the two inner faces.", "{ \"from\": 120, \"foot_width\": 26, \"foot_thickness\": 24 }";
    }
}

record! {
    /// A taper of a leg's two inner faces.
    TaperText {
        from: Written = "From", "where it begins, below the head point along the arris.", Length 1.0..=5000.0, "120";
        foot_width: Written = "Foot width", "width at the arris's foot point.", Length 1.0..=1000.0, "26";
        foot_thickness: Written = "Foot thickness", "thickness at the arris's foot point.", Length 1.0..=1000.0, "24";
    }
}

record! {
    /// Stretchers between splayed legs.
    StretchersText {
        layout: Layout = "Layout", "\"box\" (four, as the aprons) or \"h\" (two across and one between their middles).", "\"h\"";
        thickness: Written = "Thickness", "how thick they are.", Length 1.0..=1000.0, "18";
        depth: Written = "Depth", "across their faces.", Length 1.0..=2000.0, "25";
        height: Written = "Height", "of their lower outside arris above the floor.", Length 0.0..=5000.0, "120";
        inset: Option<Written> = "Inset", "Outside face in from the leg's face, for a box; centred unless given.", Length 0.0..=1000.0, "8";
    }
}

record! {
    /// A box of equal sides that slope.
    SplayedBoxText {
        _kind as "kind": Kind<2> = "Kind", "the kind of base.", "\"splayed_box\"";
        sides: u32 = "Sides", "how many sides.", Number 3.0..=100.0, "4";
        side: Option<Written> = "Side", "Length of a side's lower outside arris.", Length 1.0..=10000.0, "300";
        across: Option<Written> = "Across", "Between opposite lower outside arrises, of an even number of sides.", Length 1.0..=10000.0, "300";
        slope: Written = "Slope", "of the sides from plumb; positive is wider at the top.", Angle -75.0..=75.0, "15";
        depth: Written = "Depth", "up the outside face.", Length 1.0..=5000.0, "150";
        thickness: Written = "Thickness", "how thick the sides are.", Length 0.1..=1000.0, "18";
        edges: Option<BoxEdges> = "Edges", "\"level\" (unless given) or \"square\" to the face.", "\"level\"";
        corner: Option<Corner> = "Corners", "\"mitred\" (unless given) or, of four sides, \"butted\".", "\"mitred\"";
    }
}

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

record! {
    /// The top.
    TopText {
        length: Written = "Length", "of the rectangle it is cut from, along the grain.", Length 20.0..=10000.0, "1800";
        width: Written = "Width", "of the rectangle, across the grain.", Length 20.0..=10000.0, "900";
        thickness: Written = "Thickness", "how thick it is.", Length 1.0..=500.0, "24";
        species: Option<SpeciesText> = "Species", "The wood: a name, or a name with coefficients of its own.", "\"white oak\"";
        moisture: Option<MoistureText> = "Moisture", "Its moisture today, at the driest and at the dampest: how far it moves across the grain.", "{ \"today\": 8, \"driest\": 6, \"dampest\": 11 }";
        sawn as "cut": Option<Sawn> = "Cut", "How its boards are sawn: \"flat-sawn\" (unless given) or \"quarter-sawn\".", "\"flat-sawn\"";
        shape: Option<TopShape> = "Shape", "\"bowed\" (unless given), \"oval\" or \"round\".", "\"bowed\"";
        long_edges: Option<CurveText> = "Long edges", "The two edges along the length; straight unless given. A batten's points run from the edge's middle, and inward.", "{ \"rise\": 25 }";
        short_edges: Option<CurveText> = "Short edges", "The two edges across; straight unless given.", "{ \"rise\": 15 }";
        corner_radius: Option<Written> = "Corner radius", "Rounds its corners.", Length 0.0..=5000.0, "40";
        glue_up: Option<Vec<Written>> = "Glue-up", "Widths of the boards it is glued up from.", Length 1.0..=2000.0, "[150, 150, 150, 150, 150, 150]";
        edge_profile: Option<TopProfileText> = "Edge profile", "What is worked all round its edge, in words that are only noted, or as a profile that is drawn.", "{ \"round_over\": 6 }";
        fasteners: Option<FastenersText> = "Fasteners", "What holds it to the base: in words, or so that its holes are drawn and checked.", "{ \"by\": \"slots\" }";
        breadboard: Option<BreadboardText> = "Breadboard ends", "A piece across each end, inside the length.", "{ \"width\": 90 }";
        half_template: Option<MirrorLine> = "Half template", "Adds a half template of the top for the router, turned over at the line x = 0 (\"y\") or y = 0 (\"x\").", "\"y\"";
    }
}

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
        "rise" => RiseEdge,
        "batten" => BattenLine,
    }
}

record! {
    /// A thin batten sprung through the line's two ends and these points.
    BattenLine {
        batten: Vec<Pair> = "Batten", "its points: how far along, and how far out of the part.", Length -20000.0..=20000.0, "[[300, 12]]";
    }
}

impl Read for CurveText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let remedy = "write \"straight\", or for example { \"rise\": 20 }";
        match &node.value {
            Value::Text(text) if text == "straight" => Some(CurveText::Straight),
            Value::Text(text) => {
                reader.refuse("unknown-word", node.span, format!("{} does not name an edge", quoted(text)), remedy)
            }
            Value::Object(_) => CurvedLine::read(node, field, reader).map(CurveText::Curved),
            _ => reader.wrong_kind(node, "\"straight\" or a curve", remedy),
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
    Two(Box<TwoOverhangs>),
}

record! {
    /// An overhang of the ends and one of the sides.
    TwoOverhangs {
        ends: Wanted<Written> = "Ends", "over the ends, along the length.", Length -2000.0..=2000.0, "190";
        sides: Wanted<Written> = "Sides", "over the sides, across.", Length -2000.0..=2000.0, "130";
    }
}

impl Read for OverhangText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Object(_) => TwoOverhangs::read(node, field, reader).map(|two| OverhangText::Two(Box::new(two))),
            _ => Written::read(node, field, reader).map(OverhangText::Even),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [Written::schema(field, definitions), TwoOverhangs::schema(field, definitions)] })
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
choice!(Meets { "flat" => Meets::Flat, "scribed" => Meets::Scribed });
choice!(LowerEdge { "square" => LowerEdge::Square, "level" => LowerEdge::Level });
choice!(Layout { "box" => Layout::Box, "h" => Layout::H });
choice!(BoxEdges { "level" => BoxEdges::Level, "square" => BoxEdges::Square });
choice!(Corner { "mitred" => Corner::Mitred, "butted" => Corner::Butted });
choice!(Sawn { "flat-sawn" => Sawn::Flat, "quarter-sawn" => Sawn::Quarter });
choice!(TopShape { "bowed" => TopShape::Bowed, "oval" => TopShape::Oval, "round" => TopShape::Round });
