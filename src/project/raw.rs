//! The project as written: the table of every field.

use super::field::{Field, Read, Reader, choice, forms, record};
use super::json::{Node, Value};
use super::meant::{HalfShow, HalfUse, Orientation, PlotText};
use super::value::{Named, NamedSizes, Pair, Written};
use crate::geometry::MirrorLine;
use crate::units::Units;
use serde_json::{Map, Value as Json, json};

record! {
    /// A project: flat parts drawn directly, with the sizes and the shop that they are made by.
    ProjectText {
        _schema as "$schema": Option<String> = "Schema", "Where an editor finds this schema.", "\"fullsize.schema.json\"";
        _format as "fullsize": FormatNumber = "Format", "the number of the file format, which is 1.", "1";
        title: String = "Title", "what the piece is called.", "\"Garden bench\"";
        units: Units = "Units", "the units of bare numbers and of everything that is shown: \"mm\" or \"in\".", "\"mm\"";
        sizes: Option<NamedSizes> = "Sizes", "Named lengths and angles, for use in sums.",
            Size -100000.0..=100000.0, "{ \"height\": 745, \"rail\": \"height / 10\" }";
        base: Option<NotYet> = "Base", "The base of the piece.", "{}";
        top: Option<NotYet> = "Top", "The top of the piece.", "{}";
        joints: Option<NotYet> = "Joints", "The joints by name.", "{}";
        stock: Option<NotYet> = "Stock", "The boards at hand by name.", "{}";
        patterns: Option<Named<PatternText>> = "Patterns", "Flat parts drawn directly, by name.",
            "{ \"shelf\": { \"thickness\": 18, \"outline\": [{ \"to\": [0, 0] }, { \"to\": [600, 0] }, { \"to\": [600, 200] }] } }";
        shop: Option<ShopText> = "Shop", "What the shop prints and cuts with.", "{ \"paper\": \"A4\" }";
        variants: Option<Named<PatchText>> = "Variants",
            "Changes to the project by name, each a JSON merge patch: fields given replace those of the project, null takes one away.",
            "{ \"tall\": { \"sizes\": { \"height\": 900 } } }";
    }
}

record! {
    /// A flat part, cut from a board by an outline.
    PatternText {
        thickness: Written = "Thickness", "how thick the board is.", Length 0.1..=500.0, "18";
        make: Option<u32> = "Make", "How many are made; 1 unless given.", Number 1.0..=1000.0, "2";
        material: Option<String> = "Material", "What it is made of.", "\"oak\"";
        grain: Option<Written> = "Grain", "Direction of the grain, from x anticlockwise.", Angle -360.0..=360.0, "0";
        outline: OutlineText = "Outline", "the edge of the part, corner by corner, or an ellipse or circle.",
            Length -20000.0..=20000.0, "[{ \"to\": [0, 0] }, { \"to\": [600, 0] }, { \"to\": [600, 200] }]";
        half: Option<HalfText> = "Half", "Mirrors the outline, of which half is given.", "{ \"about\": \"y\" }";
        holes: Option<Vec<HoleText>> = "Holes", "Round holes.", "[{ \"at\": [100, 50], \"diameter\": 8 }]";
        slots: Option<Vec<SlotText>> = "Slots", "Slots with round ends.",
            "[{ \"from\": [100, 50], \"to\": [140, 50], \"width\": 8 }]";
        marks: Option<Vec<MarkText>> = "Marks", "Lines, crosses and words drawn on the part.",
            "[{ \"cross\": [100, 50], \"label\": \"centre\" }]";
    }
}

record! {
    /// A corner of the outline and the edge that arrives there.
    CornerText {
        to: Pair = "Corner", "the corner, [x, y].", Length -20000.0..=20000.0, "[600, 0]";
        edge: Option<EdgeText> = "Edge", "How the edge arrives here from the corner before; straight unless given.", "{ \"rise\": 20 }";
        corner_radius: Option<Written> = "Corner radius", "Rounds this corner.", Length 0.0..=5000.0, "12";
    }
}

/// How an edge runs.
#[derive(Debug, Clone)]
pub enum EdgeText {
    /// In a straight line.
    Straight,
    /// In a curve.
    Curved(CurvedEdge),
}

forms! {
    /// A curved edge.
    CurvedEdge {
        "rise" => RiseEdge,
        "radius" => RadiusEdge,
        "batten" => BattenEdge,
        "half_ellipse" => HalfEllipseEdge,
        "quarter_ellipse" => QuarterEllipseEdge,
    }
}

record! {
    /// An arc of a circle by its rise.
    RiseEdge {
        rise: Written = "Rise", "height of the arc over its chord; positive bulges out of the part.", Length -10000.0..=10000.0, "20";
    }
}

record! {
    /// The shorter arc of a circle by its radius.
    RadiusEdge {
        radius: Written = "Radius", "radius of the arc.", Length 0.1..=1000000.0, "900";
        bulges: Bulge = "Bulges", "which way the arc bulges: \"out\" of the part or \"in\".", "\"out\"";
    }
}

record! {
    /// A thin batten sprung through the edge's two ends and the points between.
    BattenEdge {
        batten: Vec<Pair> = "Batten", "points between the two ends, in order.", Length -20000.0..=20000.0, "[[300, 40]]";
        tension: Option<Written> = "Tension", "Pull along the batten, which flattens it between the points; 0 unless given.", Number 0.0..=100.0, "2";
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
    Shape(WholeShape),
}

forms! {
    /// A shape that is a whole outline, centred on the origin.
    WholeShape {
        "ellipse" => EllipseShape,
        "circle" => CircleShape,
    }
}

record! {
    /// An ellipse.
    EllipseShape {
        ellipse: Pair = "Ellipse", "its length along x and its width along y.", Length 1.0..=20000.0, "[1200, 800]";
    }
}

record! {
    /// A circle.
    CircleShape {
        circle: Written = "Circle", "its diameter.", Length 1.0..=20000.0, "600";
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
        label: Option<String> = "Label", "What is written beside it.", "\"dowel\"";
    }
}

record! {
    /// A slot with round ends.
    SlotText {
        from: Pair = "From", "the centre of its first end, [x, y].", Length -20000.0..=20000.0, "[100, 50]";
        to: Pair = "To", "the centre of its second end, [x, y].", Length -20000.0..=20000.0, "[140, 50]";
        width: Written = "Width", "its width.", Length 0.5..=2000.0, "8";
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

record! {
    /// A line.
    LineMark {
        line: Vec<Pair> = "Line", "the points that it joins, at least two.", Length -20000.0..=20000.0, "[[0, 0], [100, 0]]";
        label: Option<String> = "Label", "What is written beside it.", "\"apron\"";
    }
}

record! {
    /// A cross.
    CrossMark {
        cross: Pair = "Cross", "its centre, [x, y].", Length -20000.0..=20000.0, "[100, 50]";
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
    }
}

record! {
    /// What the shop prints and cuts with.
    ShopText {
        paper: Option<String> = "Paper", "The paper: A0 to A5, B0 to B5, Letter, Legal, Tabloid, ANSI C to E, ARCH A to E1, a size such as \"300 x 420 mm\", or \"roll: 610 mm\"; A4 unless given, Letter where the units are inches.", "\"A4\"";
        orientation: Option<Orientation> = "Orientation", "Which way round the sheets are used: \"auto\" (unless given), \"portrait\" or \"landscape\".", "\"auto\"";
        margin: Option<Written> = "Margin", "The strip at every edge on which the printer does not print; 10 mm unless given.", Length 0.0..=100.0, "10";
        overlap: Option<Written> = "Overlap", "How far neighbouring sheets overlap; 15 mm unless given.", Length 0.0..=200.0, "15";
        printer: Option<PrinterText> = "Printer", "What the printer makes of 100 mm.", "{ \"bar_across\": \"99.6 mm\", \"bar_up\": \"100.2 mm\" }";
        denominator: Option<u32> = "Denominator", "The smallest fraction of an inch that is shown: 2, 4, 8, 16, 32 (unless given), 64 or 128.", Number 2.0..=128.0, "32";
        plotter: Option<PlotterText> = "Plotter", "The pen plotter or router.", "{ \"bed\": [1200, 900] }";
        cutters: Option<Named<CutterText>> = "Cutters", "Router cutters by name.", "{ \"trimmer\": { \"diameter\": \"19 mm\" } }";
        collars: Option<Named<CollarText>> = "Collars", "Guide collars by name.", "{ \"large\": { \"diameter\": \"30 mm\" } }";
        mortiser: Option<MortiserText> = "Mortiser", "The mortising machine.", "{ \"reach\": \"100 mm\" }";
    }
}

record! {
    /// What the printer makes of the two bars that are drawn 100 mm long on every sheet.
    PrinterText {
        bar_across: Option<Written> = "Bar across", "Length of the printed bar that runs across the sheet.", Length 90.0..=110.0, "\"99.6 mm\"";
        bar_up: Option<Written> = "Bar up", "Length of the printed bar that runs up the sheet.", Length 90.0..=110.0, "\"100.2 mm\"";
    }
}

record! {
    /// A pen plotter or router.
    PlotterText {
        bed: Option<Pair> = "Bed", "Length and width of its bed.", Length 10.0..=20000.0, "[1200, 900]";
        text: Option<PlotText> = "Text", "How it writes: single \"strokes\" (unless given), \"outlines\" of letters, \"plain\" text in the file, or \"none\".", "\"strokes\"";
    }
}

record! {
    /// A router cutter.
    CutterText {
        diameter: Written = "Diameter", "its cutting diameter.", Length 0.5..=300.0, "\"19 mm\"";
        bearing: Option<Written> = "Bearing", "Diameter of its bearing.", Length 1.0..=300.0, "\"19 mm\"";
        length: Option<Written> = "Length", "Its cutting length.", Length 0.5..=300.0, "\"25 mm\"";
    }
}

record! {
    /// A guide collar.
    CollarText {
        diameter: Written = "Diameter", "its outside diameter.", Length 1.0..=300.0, "\"30 mm\"";
    }
}

record! {
    /// The mortising machine.
    MortiserText {
        reach: Written = "Reach", "how far from an edge its fence lets it work.", Length 1.0..=1000.0, "\"100 mm\"";
    }
}

choice!(Units { "mm" => Units::Mm, "in" => Units::Inch });
choice!(Bulge { "out" => Bulge::Out, "in" => Bulge::In });
choice!(MirrorLine { "x" => MirrorLine::X, "y" => MirrorLine::Y });
choice!(HalfShow { "whole" => HalfShow::Whole, "half" => HalfShow::Half });
choice!(HalfUse { "tracing" => HalfUse::Tracing, "router" => HalfUse::Router });
choice!(Orientation {
    "auto" => Orientation::Auto,
    "portrait" => Orientation::Portrait,
    "landscape" => Orientation::Landscape,
});
choice!(PlotText {
    "strokes" => PlotText::Strokes,
    "outlines" => PlotText::Outlines,
    "plain" => PlotText::Plain,
    "none" => PlotText::None,
});

impl Read for EdgeText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Text(_) => super::value::word(node, &["straight"], reader).map(|_| EdgeText::Straight),
            Value::Object(_) => CurvedEdge::read(node, field, reader).map(EdgeText::Curved),
            _ => reader.wrong_kind(node, "\"straight\" or a curve", "write \"straight\", or for example { \"rise\": 20 }"),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "anyOf": [{ "const": "straight" }, CurvedEdge::schema(field, definitions)] })
    }
}

impl Read for OutlineText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::Object(_) => WholeShape::read(node, field, reader).map(OutlineText::Shape),
            _ => Vec::read(node, field, reader).map(OutlineText::Corners),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        let corners = <Vec<CornerText> as Read>::schema(field, definitions);
        json!({ "anyOf": [corners, WholeShape::schema(field, definitions)] })
    }
}

/// The number of the file format.
#[derive(Debug, Clone, Copy)]
pub struct FormatNumber;

impl Read for FormatNumber {
    fn read(node: &Node, _: &'static Field, reader: &mut Reader) -> Option<Self> {
        match node.value {
            Value::Number(1.0) => Some(FormatNumber),
            Value::Number(number) if number > 1.0 => {
                let message = format!("this file has format {number}; this version reads format 1");
                reader.refuse("unknown-format", node.span, message, "use a newer version, or write 1 if the file was made for this one")
            }
            Value::Number(_) => reader.refuse("unknown-format", node.span, "the only format there is has the number 1", "write 1"),
            _ => reader.wrong_kind(node, "the number of the format", "write 1"),
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
        let message = format!("this version does not read \"{}\"", field.name);
        reader.refuse("not-in-this-version", node.span, message, "draw the parts under \"patterns\", or use a newer version")
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
            return reader.wrong_kind(node, "an object of changes", "write for example { \"sizes\": { \"height\": 900 } }");
        };
        if let Some(member) = object.get("variants") {
            let message = "a variant cannot change the variants";
            return reader.inside("variants", |r| r.refuse("variant-in-variant", member.name_span, message, "remove it from the variant"));
        }
        Some(PatchText)
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "type": "object" })
    }
}
