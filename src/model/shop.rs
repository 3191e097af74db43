//! The shop: what it prints and cuts with.

use super::field::{Field, Numbers, choice, record};
use super::number::{Pointer, Slot};
use super::paper::Paper;
use crate::units::{Angle, Length, USUAL_STEP};

record! {
    ($) shop ShopText
    /// What the shop prints and cuts with.
    Shop {
        paper: Paper, usual (Paper::usual) = "Paper", "The paper: A0 to A5, B0 to B5, Letter, Legal, Tabloid, ANSI C to E, ARCH A to E1, a size such as \"300 x 420 mm\", or \"roll: 610 mm\"; A4 unless given, Letter where the units are inches.", "\"A4\"";
        orientation: Orientation, or Orientation::Auto = "Orientation", "Which way round the sheets are used: \"auto\" (unless given), \"portrait\" or \"landscape\".", "\"auto\"";
        margin: Length, usual [10.0, 0.375] = "Margin", "The strip at every edge on which the printer does not print; 10 mm unless given.", Length 0.0..=100.0, "10";
        overlap: Length, usual [15.0, 0.625] = "Overlap", "How far neighbouring sheets overlap; 15 mm unless given.", Length 0.0..=200.0, "15";
        printer: Printer, or Printer::TRUE = "Printer", "What the printer makes of the rule bars on a sheet: what is read on one that should be 150 mm on its one side and 6 in on the other, say.", "{ \"bar_across\": \"149.4 mm\", \"bar_up\": \"150.3 mm\" }";
        denominator: Denominator, or Denominator::USUAL = "Denominator", "The smallest fraction of an inch that is shown: 2, 4, 8, 16, 32 (unless given), 64 or 128.", "32";
        step: Step, or Step::USUAL = "Step", "The step to which derived millimetres are shown: 0.01, 0.02, 0.05, 0.1 (unless given), 0.2, 0.25, 0.5 or 1. From 0.2 on the words bare and full say what was rounded away.", "0.5";
        plotter: Plotter, or Plotter::USUAL = "Plotter", "The pen plotter or router.", "{ \"bed\": [1200, 900] }";
        cutters: Vec<(String, Cutter)> = "Cutters", "Router cutters by name.", "{ \"trimmer\": { \"diameter\": \"19 mm\" } }";
        collars: Vec<(String, Collar)> = "Collars", "Guide collars by name.", "{ \"large\": { \"diameter\": \"30 mm\" } }";
        mortiser: Option<Mortiser> = "Mortiser", "The mortising machine.", "{ \"reach\": \"100 mm\" }";
        gauge: Length, or Shop::USUAL_GAUGE = "Gauge", "How far the marking gauge reaches; 150 mm unless given. What is marked farther off a line is told with the words by rule.", Length 20.0..=1000.0, "150";
        play: Length, or Shop::USUAL_PLAY = "Play", "How far a tenon may go aside in its mortise, each way; 0.1 mm unless given (common practice, no source). By it check tells what does not go together.", Length 0.0..=5.0, "0.1";
        allowances: Allowances, usual nothing = "Allowances", "How much larger a rough blank is sawn than the net one, which just holds the finished part.", "{ \"saw\": 4, \"plane\": 3, \"ends\": 25 }";
    }
}

impl Shop {
    /// How far a marking gauge reaches unless the shop says otherwise: a beam of 200 mm (8 in) less the thickness of its stock and what
    /// the hand needs behind it (common practice). Farther off a rule and a square are taken.
    pub const USUAL_GAUGE: Length = Length::from_mm(150.0);

    /// How far a tenon may go aside in its mortise, each way, unless the shop says otherwise: it slides in by hand, and glue has room
    /// (common practice, no source).
    pub const USUAL_PLAY: Length = Length::from_mm(0.1);
}

record! {
    ($) allowances AllowancesText
    /// What a rough blank has more than the net one. All are common practice, no source.
    #[derive(Copy)]
    Allowances {
        saw: Length, usual [3.0, 0.125] = "Saw", "On each long edge, for the saw and for planing it straight; 3 mm (1/8 in) unless given.", Length 0.0..=50.0, "3";
        plane: Length, usual [3.0, 0.125] = "Plane", "On each face, for the plane; 3 mm (1/8 in) unless given. 0 for boards that are bought planed, and for sheet material.", Length 0.0..=50.0, "3";
        ends: Length, usual [15.0, 0.5] = "Ends", "On each end, for checks in it and where the plane digs in; 15 mm (1/2 in) unless given.", Length 0.0..=300.0, "15";
    }
}

/// Which way round sheets are used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Orientation {
    /// Whichever takes fewer sheets.
    Auto,
    /// Upright.
    Portrait,
    /// Lying.
    Landscape,
}

choice!(Orientation {
    "auto" => Orientation::Auto,
    "portrait" => Orientation::Portrait,
    "landscape" => Orientation::Landscape,
});

record! {
    ($) printer PrinterText
    /// What the printer makes of the rule bars that are drawn on every sheet.
    #[derive(Copy)]
    Printer {
        across: Correction, or Correction::NONE = as "bar_across", "Bar across", "What the bar that lies across an upright sheet reads. A reading in mm is of a bar of 100, 150, 200, 250, 500 or 1000 mm, one in inches of its other side of 4, 6, 8, 10, 20 or 40 in: of the one that is within 3 %; a bare number has the units of its file.", Length 97.0..=1047.0, "\"149.4 mm\"";
        up: Correction, or Correction::NONE = as "bar_up", "Bar up", "What the bar that runs up an upright sheet reads. A reading in mm is of a bar of 100, 150, 200, 250, 500 or 1000 mm, one in inches of its other side of 4, 6, 8, 10, 20 or 40 in: of the one that is within 3 %; a bare number has the units of its file.", Length 97.0..=1047.0, "\"150.3 mm\"";
    }
}

/// A bar on a sheet that a steel rule is laid on: millimetres on its one side, inches on the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RuleBar {
    /// Its length in millimetres, on the one side.
    pub mm: u16,
    /// Its length in inches, on the other side.
    pub inches: u16,
}

impl RuleBar {
    /// Those that there are, the shortest first. What is read on one of them cannot be of another, since no printer is off by more
    /// than a tenth.
    pub const ALL: [RuleBar; 6] = [
        RuleBar { mm: 100, inches: 4 },
        RuleBar { mm: 150, inches: 6 },
        RuleBar { mm: 200, inches: 8 },
        RuleBar { mm: 250, inches: 10 },
        RuleBar { mm: 500, inches: 20 },
        RuleBar { mm: 1000, inches: 40 },
    ];

    /// The true length of its side in inches, or of that in millimetres.
    pub fn side(self, inches: bool) -> Length {
        if inches { Length::from_inches(f64::from(self.inches)) } else { Length::from_mm(f64::from(self.mm)) }
    }

    /// Of which bar a reading is, by its share of the true length.
    pub fn read(reading: Length, inches: bool) -> RuleBar {
        let off = |bar: &RuleBar| (reading.mm() / bar.side(inches).mm()).max(f64::MIN_POSITIVE).ln().abs();
        Self::ALL.into_iter().min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(Self::ALL[0])
    }
}

impl Printer {
    /// No printer and no paper is off by a larger share: a print that is was scaled to fit its page (from memory: 96 or 97 % is
    /// usual for that; printers are off by less than 1 %).
    pub const LARGEST_ERROR: f64 = 0.03;

    /// One that draws true to size.
    pub const TRUE: Printer = Printer { across: Correction::NONE, up: Correction::NONE };
}

/// Which file a printer's readings come from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ReadingsFrom {
    /// The piece's own.
    Piece,
    /// A shop file that was named, by its name without folders.
    Named(String),
    /// The person's own shop file, which is found by itself.
    Own,
}

/// The factor by which drawn lengths are multiplied so that they come out true on paper, 100/103 to 100/97: in the file it is the
/// reading of a bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Correction(pub f64);

impl Correction {
    /// What is drawn comes out true.
    pub const NONE: Correction = Correction(1.0);
}

/// How many parts of an inch a maker's rule has: a power of two from 2 to 128.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Denominator(pub u32);

impl Denominator {
    /// The finest fraction of an inch unless the shop says otherwise.
    pub const USUAL: Denominator = Denominator(32);

    /// Those that there are.
    pub const ALL: [u32; 7] = [2, 4, 8, 16, 32, 64, 128];
}

/// The step of a maker's rule, or of what a maker wants to read, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step(pub f64);

impl Step {
    /// The step unless the shop says otherwise.
    pub const USUAL: Step = Step(USUAL_STEP.mm());

    /// Those that there are.
    pub const ALL: [f64; 8] = [0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1.0];
}

macro_rules! no_number {
    ($($type:ty),*) => {$(
        /// It is no number that may be any of a range.
        impl Numbers for $type {
            fn each(&mut self, _: &'static [Field], _: &Pointer, _: &mut dyn FnMut(&Pointer, Slot)) {}
        }
    )*};
}

no_number!(Paper, Correction, Denominator, Step);

record! {
    ($) plotter PlotterText
    /// A pen plotter or router.
    #[derive(Copy)]
    Plotter {
        bed: Option<[Length; 2]> = "Bed", "Length and width of its bed.", Length 10.0..=20000.0, "[1200, 900]";
        text: PlotText, or PlotText::Strokes = "Text", "How it writes: single \"strokes\" (unless given), \"outlines\" of letters, \"plain\" text in the file, or \"none\".", "\"strokes\"";
    }
}

impl Plotter {
    /// One of which the shop says nothing.
    pub const USUAL: Plotter = Plotter { bed: None, text: PlotText::Strokes };
}

/// How a plotter writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlotText {
    /// With single strokes.
    Strokes,
    /// With outlined letters.
    Outlines,
    /// As text in the file, for a program that has letters of its own.
    Plain,
    /// Not at all.
    None,
}

choice!(PlotText {
    "strokes" => PlotText::Strokes,
    "outlines" => PlotText::Outlines,
    "plain" => PlotText::Plain,
    "none" => PlotText::None,
});

record! {
    ($) mortiser MortiserText
    /// The mortising machine.
    #[derive(Copy)]
    Mortiser {
        reach: Length = "Reach", "how far from an edge its fence lets it work.", Length 1.0..=1000.0, "\"100 mm\"";
        angles: Option<[Angle; 2]> = "Angles", "Smallest and largest angle of its fence; square only unless given.", Angle 0.0..=180.0, "[0, 90]";
        depth: Option<Length> = "Depth", "The deepest it cuts.", Length 1.0..=500.0, "\"28 mm\"";
        height: Option<Length> = "Height", "Of its cutter above its base, for work that lies flat.", Length 1.0..=500.0, "\"10 mm\"";
    }
}

record! {
    ($) cutter CutterText
    /// A router cutter.
    #[derive(Copy)]
    Cutter {
        diameter: Length = "Diameter", "its cutting diameter.", Length 0.5..=300.0, "\"19 mm\"";
        bearing: Option<Length> = "Bearing", "Diameter of its bearing.", Length 1.0..=300.0, "\"19 mm\"";
        bearing_at: Option<BearingAt> = "Bearing at", "The end at which its bearing sits: \"tip\" or \"shank\".", "\"tip\"";
        length: Option<Length> = "Length", "Its cutting length.", Length 0.5..=300.0, "\"25 mm\"";
        reach: Option<Length> = "Reach", "How far its tip can stand out below the router's base at most.", Length 0.5..=500.0, "\"60 mm\"";
    }
}

/// The end of a cutter at which its bearing sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BearingAt {
    /// At its tip: the template lies on the side of the work away from the router.
    Tip,
    /// At its shank: the template lies between router and work.
    Shank,
}

choice!(BearingAt { "tip" => BearingAt::Tip, "shank" => BearingAt::Shank });

record! {
    ($) collar CollarText
    /// A guide collar.
    #[derive(Copy)]
    Collar {
        diameter: Length = "Diameter", "its outside diameter.", Length 1.0..=300.0, "\"30 mm\"";
        projection: Option<Length> = "Projection", "How far it stands out below the router's base.", Length 0.5..=50.0, "\"6 mm\"";
    }
}
