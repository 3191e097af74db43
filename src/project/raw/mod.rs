//! The project as written: the table of every field.

mod aid;
mod fixing;
mod made;
mod outline;
mod piece;
mod profile;
mod round_leg;
mod routing;
mod wood;

pub use aid::AidText;
pub use fixing::FastenersText;
pub use made::MadeText;
pub use outline::{Bulge, CornerText, CurvedEdge, EdgeText, OpeningText, OutlineText, RunsOn, SvgShape, WholeShape};
pub use piece::{
    BaseText, BoardText, CurveText, CurvedLine, CutText, EdgeBevelsText, FramesText, LeaningFramesText, OverhangText,
    SetText, SlopeText, SplayedLegsText, TopText,
};
pub use profile::{ArrisProfileText, ChamferText, ProfileText, RoundOverText, ThumbnailText, TopProfileText};
pub use round_leg::RoundLegText;
pub use routing::{
    BlankTemplateText, CutterChoice, GrainRunsText, PartRoutingText, RequestText, TemplateText, TemplatesText,
};
pub use wood::{ClimateText, MoistureAtText, SpeciesText};

use super::as_built::AsBuiltText;
use super::field::{Field, Read, Reader, choice, forms, record};
use super::field_problem::{Expected, FieldProblem};
use super::joint::JointText;
use super::json::{Node, Value};
use super::shop::ShopText;
use super::value::{Named, NamedSizes, Pair, Wanted, Written};
use crate::finding::{Amount, Unit};
use crate::geometry::MirrorLine;
use crate::model::{HalfShow, HalfUse};
use crate::units::Units;
use serde_json::{Map, Value as Json, json};

record! {
    /// A project: its named sizes, the base and the top of the piece, the joints, angled aids, flat parts drawn directly, the shop that they are made by, and variants. This version reads all of these sections; "stock" it does not read yet, and refuses.
    ProjectText {
        _schema as "$schema": Option<String> = "Schema", "Where an editor finds this schema.", "\"fullsize.schema.json\"";
        _format as "fullsize": Wanted<FormatNumber> = "Format", "the number of the file format, which is 1.", "1";
        title: Wanted<String> = "Title", "what the piece is called.", "\"Garden bench\"";
        units: Wanted<Units> = "Units", "the units of bare numbers and of everything that is shown: \"mm\" or \"in\".", "\"mm\"";
        sizes: Option<NamedSizes> = "Sizes", "Named lengths and angles, for use in sums.",
            Size -100000.0..=100000.0, "{ \"height\": 745, \"rail\": \"height / 10\" }";
        base: Option<BaseText> = "Base", "The base of the piece: \"leaning_frames\", \"splayed_legs\", \"splayed_box\" or \"boards\".",
            "{ \"kind\": \"splayed_box\", \"sides\": 4, \"side\": 300, \"slope\": 15, \"depth\": 150, \"thickness\": 18 }";
        top: Option<TopText> = "Top", "The top of the piece.", "{ \"length\": 1800, \"width\": 900, \"thickness\": 24 }";
        routing: Option<Named<PartRoutingText>> = "Routing", "What is routed on parts of the piece, by their ids in the schedule: leg, apron, top and the like.",
            "{ \"leg\": { \"template\": { \"kind\": \"blank\", \"edge\": \"outside edge\" } } }";
        joints: Option<Named<JointText>> = "Joints", "The joints by name.",
            "{ \"apron to leg\": { \"from\": \"apron\", \"into\": \"leg\", \"thickness\": 8, \"width\": 30, \"length\": 50 } }";
        aids: Option<Named<AidText>> = "Aids", "Angled aids for clamping, sawing and drilling, by name, each drawn at full size.",
            "{ \"leg caul\": { \"kind\": \"caul\", \"from\": \"apron\", \"into\": \"leg\" } }";
        as_built: Option<AsBuiltText> = "As built", "What rule and bevel gauge read on the dry assembly of leaning frames: the parts that are still to be made are solved for the piece as it stands.",
            "{ \"distances\": { \"A-C\": 1879.5 }, \"leans\": { \"left\": 7.6 } }";
        _stock as "stock": Option<NotYet> = "Stock", "The boards at hand by name; this version does not read them yet.", "{}";
        patterns: Option<Named<PatternText>> = "Patterns", "Flat parts drawn directly, by name.",
            "{ \"shelf\": { \"thickness\": 18, \"outline\": [{ \"to\": [0, 0] }, { \"to\": [600, 0] }, { \"to\": [600, 200] }] } }";
        made: Option<Named<MadeText>> = "Made", "Parts that exist already, by their ids: as drawn at a code, or with what was measured on them. fullsize made writes it.",
            "{ \"top_rail\": { \"code\": \"4F2A9C\", \"lengths\": { \"lower edge\": 482.5 } } }";
        undecided: Option<Vec<String>> = "Undecided", "Numbers that are not decided yet, by their names joined by dots (a name with a dot in it between single quotes), and parts that the file draws; a name of what holds several means them all. Parts that hang on them are held back.",
            "[\"base.height\", \"patterns.shelf\"]";
        fixed: Option<Vec<String>> = "Fixed", "Numbers that no offer of fullsize made FILE --offers changes, by their names joined by dots; a name of what holds several fixes them all.",
            "[\"base.height\", \"base.leg\"]";
        shop: Option<ShopText> = "Shop", "What the shop prints and cuts with.", "{ \"paper\": \"A4\" }";
        variants: Option<Named<PatchText>> = "Variants",
            "Changes to the project by name. Each is written like the project, with only what differs: a field that stands here takes the place of the project's own, null takes a field away, everything else stays; a list is given whole.",
            "{ \"tall\": { \"sizes\": { \"height\": 900 } } }";
    }
}

record! {
    /// A flat part, cut from a board by an outline.
    PatternText {
        thickness: Written = "Thickness", "how thick the board is.", Length 0.1..=500.0, "18";
        make: Option<u32> = "Make", "How many are made; 1 unless given.", Number 1.0..=1000.0, "2";
        material: Option<String> = "Material", "What it is made of.", "\"oak\"";
        sheet_goods: Option<bool> = "Sheet goods", "Whether it is cut from a sheet that is never planed, such as plywood: its rough blank is no thicker than the part; false unless given.", "true";
        grain: Option<Written> = "Grain", "Direction of the grain, from x anticlockwise.", Angle -360.0..=360.0, "0";
        outline: OutlineText = "Outline", "the edge of the part, corner by corner, or an ellipse, a circle or the paths of an SVG file.",
            Length -20000.0..=20000.0, "[{ \"to\": [0, 0] }, { \"to\": [600, 0] }, { \"to\": [600, 200] }]";
        openings: Option<Vec<OpeningText>> = "Openings", "Openings cut in it, each drawn as an outline is; an SVG file's path is laid by \"at\", \"width\", \"turn\" and \"mirror\". In a half, one that is drawn from the mirror line round to it is mirrored into one opening.",
            Length -20000.0..=20000.0, "[[{ \"to\": [100, 40] }, { \"to\": [200, 40] }, { \"to\": [150, 90] }]]";
        half: Option<HalfText> = "Half", "Mirrors the outline, of which half is given, with all that lies in that half: openings, holes, slots and marks. What is its own mirror image stays one, and \"once\" keeps one out.", "{ \"about\": \"y\" }";
        holes: Option<Vec<HoleText>> = "Holes", "Round holes.", "[{ \"at\": [100, 50], \"diameter\": 8 }]";
        slots: Option<Vec<SlotText>> = "Slots", "Slots with round ends.",
            "[{ \"from\": [100, 50], \"to\": [140, 50], \"width\": 8 }]";
        marks: Option<Vec<MarkText>> = "Marks", "Lines, crosses and words drawn on the part.",
            "[{ \"cross\": [100, 50], \"label\": \"centre\" }]";
        template: Option<TemplatesText> = "Template", "What leads the router: one template or a list of them, each drawn beside the part.",
            "{ \"kind\": \"collar\", \"work\": \"outside\", \"collar\": \"large\", \"cutter\": \"trimmer\" }";
        check_cutter: Option<CutterChoice> = "Check with a cutter", "The cutter, by its name in the shop, that is to follow the outline; true for the shop's first. What it cannot reach is told and drawn.", "\"trimmer\"";
        edge_profile: Option<ProfileText> = "Edge profile", "What is worked along all its edges.", "{ \"round_over\": 6 }";
        edge_profiles: Option<Named<ProfileText>> = "Edge profiles", "What is worked along single edges, by their names or by the number of the corner they arrive at.", "{ \"2\": { \"chamfer\": [3, 3] } }";
        comb: Option<bool> = "Comb", "Whether a comb along its curves shows how they bend; false unless given.", "true";
        gauges: Option<bool> = "Gauges", "Whether a gauge is drawn for every corner radius; false unless given.", "true";
        grain_runs: Option<GrainRunsText> = "Grain runs", "Whether the runs that the usual feed cuts against the grain are marked: true, or an object with thresholds; false unless given.", "true";
    }
}

record! {
    /// How an outline of which half is given is mirrored.
    HalfText {
        about: MirrorLine = "About", "the axis that is the mirror line: \"x\" or \"y\".", "\"y\"";
        show: Option<HalfShow> = "Show", "Whether the \"whole\" part is drawn or the \"half\"; whole unless given.", "\"half\"";
        use_ as "for": Option<HalfUse> = "For", "What a half template is for: \"tracing\" (unless given) or \"router\".", "\"router\"";
        run_on: Option<Written> = "Run on", "How far a half template for the router runs on past the mirror line; 80 mm unless given.", Length 0.0..=1000.0, "80";
    }
}

record! {
    /// A round hole.
    HoleText {
        at: Pair = "Centre", "its centre, [x, y].", Length -20000.0..=20000.0, "[100, 50]";
        diameter: Written = "Diameter", "its diameter.", Length 0.5..=5000.0, "8";
        once: Option<bool> = "Once", "Whether it stands where it is written and nowhere else, on a part that is mirrored; false unless given.", "true";
        label: Option<String> = "Label", "What is written beside it.", "\"dowel\"";
    }
}

record! {
    /// A slot with round ends.
    SlotText {
        from: Pair = "From", "the centre of its first end, [x, y].", Length -20000.0..=20000.0, "[100, 50]";
        to: Pair = "To", "the centre of its second end, [x, y].", Length -20000.0..=20000.0, "[140, 50]";
        width: Written = "Width", "its width.", Length 0.5..=2000.0, "8";
        once: Option<bool> = "Once", "Whether it stands where it is written and nowhere else, on a part that is mirrored; false unless given.", "true";
        label: Option<String> = "Label", "What is written beside it.", "\"button slot\"";
    }
}

forms! {
    /// Something drawn on a part that is not cut.
    MarkText {
        "line" => LineMark,
        "cross" => CrossMark,
        "text" => TextMark,
    }
}

impl MarkText {
    /// Whether it is kept from being mirrored, where that is said.
    pub fn once(&self) -> Option<bool> {
        match self {
            MarkText::LineMark(mark) => mark.once,
            MarkText::CrossMark(mark) => mark.once,
            MarkText::TextMark(mark) => mark.once,
        }
    }
}

record! {
    /// A line.
    LineMark {
        line: Vec<Pair> = "Line", "the points that it joins, at least two.", Length -20000.0..=20000.0, "[[0, 0], [100, 0]]";
        once: Option<bool> = "Once", "Whether it stands where it is written and nowhere else, on a part that is mirrored; false unless given.", "true";
        label: Option<String> = "Label", "What is written beside it.", "\"apron\"";
    }
}

record! {
    /// A cross.
    CrossMark {
        cross: Pair = "Cross", "its centre, [x, y].", Length -20000.0..=20000.0, "[100, 50]";
        once: Option<bool> = "Once", "Whether it stands where it is written and nowhere else, on a part that is mirrored; false unless given.", "true";
        label: Option<String> = "Label", "What is written beside it.", "\"centre\"";
    }
}

record! {
    /// Words.
    TextMark {
        text: String = "Text", "the words.", "\"this side up\"";
        at: Pair = "At", "where they begin, [x, y].", Length -20000.0..=20000.0, "[100, 50]";
        height: Option<Written> = "Height", "Height of the capitals; 5 mm unless given.", Length 1.0..=200.0, "10";
        angle: Option<Written> = "Angle", "Direction of writing, from x anticlockwise.", Angle -360.0..=360.0, "90";
        once: Option<bool> = "Once", "Whether it stands where it is written and nowhere else, on a part that is mirrored; false unless given.", "true";
    }
}

choice!(Units { "mm" => Units::Mm, "in" => Units::Inch });
choice!(HalfShow { "whole" => HalfShow::Whole, "half" => HalfShow::Half });
choice!(HalfUse { "tracing" => HalfUse::Tracing, "router" => HalfUse::Router });
/// The number of the file format.
#[derive(Debug, Clone, Copy)]
pub struct FormatNumber;

impl Read for FormatNumber {
    fn read(node: &Node, _: &'static Field, reader: &mut Reader) -> Option<Self> {
        match node.value {
            Value::Number(1.0) => Some(FormatNumber),
            Value::Number(number) if number > 1.0 => {
                let newer = Some(Amount(number, Unit::Plain));
                reader.refuse(FieldProblem::UnknownFormat { newer }, node.span)
            }
            Value::Number(_) => reader.refuse(FieldProblem::UnknownFormat { newer: None }, node.span),
            _ => reader.wrong_kind(node, Expected::Format),
        }
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "const": 1 })
    }
}

/// A section that this version cannot read.
#[derive(Debug, Clone, Copy)]
pub struct NotYet;

impl Read for NotYet {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        reader.refuse(FieldProblem::NotYet { field: field.name }, node.span)
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "not": {} })
    }
}

/// A merge patch, which is applied to the tree and so not looked into here.
#[derive(Debug, Clone, Copy)]
pub struct PatchText;

impl Read for PatchText {
    fn read(node: &Node, _: &'static Field, reader: &mut Reader) -> Option<Self> {
        let Some(object) = node.object() else {
            return reader.wrong_kind(node, Expected::Changes);
        };
        if let Some(member) = object.get("variants") {
            return reader.inside("variants", |r| r.refuse(FieldProblem::VariantInVariant {}, member.name_span));
        }
        Some(PatchText)
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "type": "object" })
    }
}
