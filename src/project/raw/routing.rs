//! What is routed by a pattern, as written.

use super::PatternText;
use super::profile::ProfileText;
use crate::model::{EdgeChoice, FaceWay, LiesOn, Work};
use crate::project::field::{Field, Read, Reader, choice, record};
use crate::project::field_problem::{Count, Expected, FieldProblem};
use crate::project::json::{Node, Value};
use crate::project::kind::{KindWord, Kinds, kind_of};
use crate::project::value::{Named, Pair, Written};
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
        edge: EdgesText = "Edge", "the edge to follow, or a list of two that one template carries: its name, or which corner of the outline it arrives at, the first being 1; of a part of the piece its name on the pattern.",
            Number 1.0..=1000.0, "2";
        lies_on: Option<LiesOn> = "Lies on", "The side of the part on which the template lies: \"face\" (unless given) or \"far\", for which it is drawn turned over.", "\"far\"";
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
choice!(LiesOn { "face" => LiesOn::Face, "far" => LiesOn::Far });
choice!(FaceWay { "up" => FaceWay::Up, "down" => FaceWay::Down });

record! {
    /// What is routed on a part of the piece.
    PartRoutingText {
        template: Option<TemplatesText> = "Template", "What leads the router: one template or a list of them, each drawn beside the part.",
            "{ \"kind\": \"blank\", \"edge\": \"outside edge\", \"cutter\": \"trimmer\" }";
        check_cutter: Option<CutterChoice> = "Check with a cutter", "The cutter, by its name in the shop, that is to follow the face side; true for the shop's first. What it cannot reach is told and drawn.", "\"trimmer\"";
        edge_profile: Option<ProfileText> = "Edge profile", "What is worked along all its edges.", "{ \"round_over\": 6 }";
        edge_profiles: Option<Named<ProfileText>> = "Edge profiles", "What is worked along single edges, by their names.", "{ \"outside edge\": { \"chamfer\": [3, 3] } }";
        comb: Option<bool> = "Comb", "Whether a comb along its curves shows how they bend; false unless given.", "true";
        gauges: Option<bool> = "Gauges", "Whether a gauge is drawn for every corner radius; false unless given.", "true";
        grain_runs: Option<GrainRunsText> = "Grain runs", "Whether the runs that the usual feed cuts against the grain are marked, the grain along the part: true, or an object with thresholds; false unless given.", "true";
    }
}

record! {
    /// From which angles on the grain counts, and which way up the part lies.
    GrainSettingsText {
        along: Option<Written> = "Along", "Grain that meets the edge at less than this is along it; 4° unless given.", Angle 0.0..=45.0, "4";
        end: Option<Written> = "End", "Grain that meets the edge at more than this is end grain; 60° unless given.", Angle 10.0..=90.0, "60";
        shortest: Option<Written> = "Shortest", "Shorter runs are not marked; 10 mm unless given.", Length 0.0..=1000.0, "10";
        face: Option<FaceWay> = "Face", "Which way the drawn face lies under a router in the hand: \"up\" (unless given) or \"down\"; on a table the other way.", "\"up\"";
    }
}

/// Whether the runs of the grain are marked, and from which angles on.
#[derive(Debug, Clone)]
pub enum GrainRunsText {
    /// Not.
    No,
    /// With these thresholds; the usual ones where there are none.
    Marked(Option<Box<GrainSettingsText>>),
}

impl Read for GrainRunsText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Bool(false) => Some(GrainRunsText::No),
            Value::Bool(true) => Some(GrainRunsText::Marked(None)),
            Value::Object(_) => {
                GrainSettingsText::read(node, field, reader).map(|text| GrainRunsText::Marked(Some(Box::new(text))))
            }
            _ => reader.wrong_kind(node, Expected::GrainRuns),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [bool::schema(field, definitions), GrainSettingsText::schema(field, definitions)] })
    }
}

/// What is asked of the router, by a part that is drawn directly or by one of the piece.
#[derive(Debug, Clone, Copy)]
pub struct RequestText<'a> {
    /// Templates.
    pub template: Option<&'a TemplatesText>,
    /// The cutter to check with.
    pub check_cutter: Option<&'a CutterChoice>,
    /// What is worked along all edges.
    pub edge_profile: Option<&'a ProfileText>,
    /// What is worked along single edges.
    pub edge_profiles: Option<&'a Named<ProfileText>>,
    /// Whether a comb is drawn.
    pub comb: bool,
    /// Whether gauges are drawn.
    pub gauges: bool,
    /// Whether the grain is marked.
    pub grain_runs: Option<&'a GrainRunsText>,
}

impl<'a> From<&'a PatternText> for RequestText<'a> {
    fn from(text: &'a PatternText) -> Self {
        RequestText {
            template: text.template.as_ref(),
            check_cutter: text.check_cutter.as_ref(),
            edge_profile: text.edge_profile.as_ref(),
            edge_profiles: text.edge_profiles.as_ref(),
            comb: text.comb.unwrap_or(false),
            gauges: text.gauges.unwrap_or(false),
            grain_runs: text.grain_runs.as_ref(),
        }
    }
}

impl<'a> From<&'a PartRoutingText> for RequestText<'a> {
    fn from(text: &'a PartRoutingText) -> Self {
        RequestText {
            template: text.template.as_ref(),
            check_cutter: text.check_cutter.as_ref(),
            edge_profile: text.edge_profile.as_ref(),
            edge_profiles: text.edge_profiles.as_ref(),
            comb: text.comb.unwrap_or(false),
            gauges: text.gauges.unwrap_or(false),
            grain_runs: text.grain_runs.as_ref(),
        }
    }
}

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

/// One edge, or two that one template carries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EdgesText(pub Vec<EdgeChoice>);

impl Read for EdgesText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let Value::List(entries) = &node.value else {
            return EdgeChoice::read(node, field, reader).map(|one| EdgesText(vec![one]));
        };
        if !matches!(entries.len(), 1 | 2) {
            return reader.refuse(FieldProblem::WrongCount { wanted: Count::Edges, count: entries.len() }, node.span);
        }
        Vec::read(node, field, reader).map(EdgesText)
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        let one = EdgeChoice::schema(field, definitions);
        json!({ "anyOf": [one, { "type": "array", "items": one, "minItems": 1, "maxItems": 2 }] })
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
