//! The shop as written.

use super::joint::MortiserText;
use crate::finding::{Amount, Unit};
use crate::model::{BearingAt, Orientation, PlotText};
use crate::project::field::{Field, Read, Reader, choice, record};
use crate::project::field_problem::{Expected, FieldProblem};
use crate::project::json::{Node, Value};
use crate::project::value::{Named, Pair, Written};
use serde_json::{Map, Value as Json, json};

record! {
    /// What the shop prints and cuts with.
    ShopText {
        paper: Option<String> = "Paper", "The paper: A0 to A5, B0 to B5, Letter, Legal, Tabloid, ANSI C to E, ARCH A to E1, a size such as \"300 x 420 mm\", or \"roll: 610 mm\"; A4 unless given, Letter where the units are inches.", "\"A4\"";
        orientation: Option<Orientation> = "Orientation", "Which way round the sheets are used: \"auto\" (unless given), \"portrait\" or \"landscape\".", "\"auto\"";
        margin: Option<Written> = "Margin", "The strip at every edge on which the printer does not print; 10 mm unless given.", Length 0.0..=100.0, "10";
        overlap: Option<Written> = "Overlap", "How far neighbouring sheets overlap; 15 mm unless given.", Length 0.0..=200.0, "15";
        printer: Option<PrinterText> = "Printer", "What the printer makes of the bars on the proof sheet: 100 mm on their one side, 4 in on the other.", "{ \"bar_across\": \"99.6 mm\", \"bar_up\": \"100.2 mm\" }";
        denominator: Option<Denominator> = "Denominator", "The smallest fraction of an inch that is shown: 2, 4, 8, 16, 32 (unless given), 64 or 128.", "32";
        step: Option<Step> = "Step", "The step to which derived millimetres are shown: 0.01, 0.02, 0.05, 0.1 (unless given), 0.2, 0.25, 0.5 or 1. From 0.2 on the words bare and full say what was rounded away.", "0.5";
        plotter: Option<PlotterText> = "Plotter", "The pen plotter or router.", "{ \"bed\": [1200, 900] }";
        cutters: Option<Named<CutterText>> = "Cutters", "Router cutters by name.", "{ \"trimmer\": { \"diameter\": \"19 mm\" } }";
        collars: Option<Named<CollarText>> = "Collars", "Guide collars by name.", "{ \"large\": { \"diameter\": \"30 mm\" } }";
        mortiser: Option<MortiserText> = "Mortiser", "The mortising machine.", "{ \"reach\": \"100 mm\" }";
        gauge: Option<Written> = "Gauge", "How far the marking gauge reaches; 150 mm unless given. What is marked farther off a line is told with the words by rule.", Length 20.0..=1000.0, "150";
        play: Option<Written> = "Play", "How far a tenon may go aside in its mortise, each way; 0.1 mm unless given (common practice, no source). By it check tells what does not go together.", Length 0.0..=5.0, "0.1";
        allowances: Option<AllowancesText> = "Allowances", "How much larger a rough blank is sawn than the net one, which just holds the finished part.", "{ \"saw\": 4, \"plane\": 3, \"ends\": 25 }";
    }
}

record! {
    /// What a rough blank has more than the net one. All are common practice, no source.
    AllowancesText {
        saw: Option<Written> = "Saw", "On each long edge, for the saw and for planing it straight; 3 mm (1/8 in) unless given.", Length 0.0..=50.0, "3";
        plane: Option<Written> = "Plane", "On each face, for the plane; 3 mm (1/8 in) unless given. 0 for boards that are bought planed, and for sheet material.", Length 0.0..=50.0, "3";
        ends: Option<Written> = "Ends", "On each end, for checks in it and where the plane digs in; 15 mm (1/2 in) unless given.", Length 0.0..=300.0, "15";
    }
}

record! {
    /// What the printer makes of the bars of 100 mm (4 in on their other side) that are drawn on every sheet.
    PrinterText {
        bar_across: Option<Written> = "Bar across", "What the bar that lies across an upright sheet reads. A reading in mm (90 mm to 110 mm) is of the 100 mm bar, one in inches (3.6 in to 4.4 in) of the 4 in bar; a bare number has the units of its file.", Length 90.0..=112.0, "\"99.6 mm\"";
        bar_up: Option<Written> = "Bar up", "What the bar that runs up an upright sheet reads. A reading in mm (90 mm to 110 mm) is of the 100 mm bar, one in inches (3.6 in to 4.4 in) of the 4 in bar; a bare number has the units of its file.", Length 90.0..=112.0, "\"100.2 mm\"";
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
        bearing_at: Option<BearingAt> = "Bearing at", "The end at which its bearing sits: \"tip\" or \"shank\".", "\"tip\"";
        length: Option<Written> = "Length", "Its cutting length.", Length 0.5..=300.0, "\"25 mm\"";
        reach: Option<Written> = "Reach", "How far its tip can stand out below the router's base at most.", Length 0.5..=500.0, "\"60 mm\"";
    }
}

record! {
    /// A guide collar.
    CollarText {
        diameter: Written = "Diameter", "its outside diameter.", Length 1.0..=300.0, "\"30 mm\"";
        projection: Option<Written> = "Projection", "How far it stands out below the router's base.", Length 0.5..=50.0, "\"6 mm\"";
    }
}

choice!(BearingAt { "tip" => BearingAt::Tip, "shank" => BearingAt::Shank });
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

/// Into how many parts a maker's rule divides the inch.
#[derive(Debug, Clone, Copy)]
pub struct Denominator(pub u32);

const DENOMINATORS: [u32; 7] = [2, 4, 8, 16, 32, 64, 128];

impl Read for Denominator {
    fn read(node: &Node, _: &'static Field, reader: &mut Reader) -> Option<Self> {
        let Value::Number(number) = node.value else { return reader.wrong_kind(node, Expected::Denominator) };
        match DENOMINATORS.into_iter().find(|parts| f64::from(*parts) == number) {
            Some(parts) => Some(Denominator(parts)),
            None => {
                let number = Amount(number, Unit::Plain);
                reader.refuse(FieldProblem::BadDenominator { number }, node.span)
            }
        }
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "enum": DENOMINATORS })
    }
}

/// The step of a maker's rule, or of what a maker wants to read, mm.
#[derive(Debug, Clone, Copy)]
pub struct Step(pub f64);

const STEPS: [f64; 8] = [0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1.0];

impl Read for Step {
    fn read(node: &Node, _: &'static Field, reader: &mut Reader) -> Option<Self> {
        let Value::Number(number) = node.value else { return reader.wrong_kind(node, Expected::Step) };
        match STEPS.contains(&number) {
            true => Some(Step(number)),
            false => {
                let number = Amount(number, Unit::Mm);
                reader.refuse(FieldProblem::BadStep { number }, node.span)
            }
        }
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "enum": STEPS })
    }
}
