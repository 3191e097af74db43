//! The shop: what it prints and cuts with.

use super::paper::Paper;
use crate::units::{Angle, Length, Units};

/// How far a marking gauge reaches unless the shop says otherwise: a beam of 200 mm (8 in) less the thickness of its stock and what the
/// hand needs behind it (common practice). Farther off a rule and a square are taken.
pub const USUAL_GAUGE: Length = Length::from_mm(150.0);

/// How far a tenon may go aside in its mortise, each way, unless the shop says otherwise: it slides in by hand, and glue has room (common
/// practice, no source).
pub const USUAL_PLAY: Length = Length::from_mm(0.1);

/// What a rough blank has more than the net one. The usual ones are common practice, no source: in millimetres 3 on each long edge and
/// each face and 15 on each end, in inches an eighth and half an inch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowances {
    /// On each long edge, for the saw and the plane that makes it straight; 0 to 50 mm.
    pub saw: Length,
    /// On each face, for the plane; 0 to 50 mm.
    pub plane: Length,
    /// On each end, for checks and for the plane that digs in there; 0 to 300 mm.
    pub ends: Length,
}

impl Allowances {
    /// Those of a shop that says nothing of them.
    pub const fn usual(units: Units) -> Allowances {
        match units {
            Units::Mm => {
                let (saw, plane, ends) = (Length::from_mm(3.0), Length::from_mm(3.0), Length::from_mm(15.0));
                Allowances { saw, plane, ends }
            }
            Units::Inch => {
                let eighth = Length::from_inches(0.125);
                Allowances { saw: eighth, plane: eighth, ends: Length::from_inches(0.5) }
            }
        }
    }
}

/// The shop: what it prints and cuts with.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// The paper.
    pub paper: Paper,
    /// Which way round its sheets are used.
    pub orientation: Orientation,
    /// The strip at every edge on which the printer does not print.
    pub margin: Length,
    /// How far neighbouring sheets overlap.
    pub overlap: Length,
    /// What the printer gets wrong.
    pub printer: PrinterCorrection,
    /// The smallest fraction of an inch on the maker's rule: a power of two from 2 to 128.
    pub denominator: u32,
    /// The pen plotter or router.
    pub plotter: Plotter,
    /// Router cutters by name.
    pub cutters: Vec<(String, Cutter)>,
    /// Guide collars by name.
    pub collars: Vec<(String, Collar)>,
    /// The mortising machine.
    pub mortiser: Option<Mortiser>,
    /// How far its marking gauge reaches.
    pub gauge: Length,
    /// How far its tenons may go aside in their mortises, each way; 0 to 5 mm.
    pub play: Length,
    /// What is left on a rough blank.
    pub allowances: Allowances,
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

/// Factors by which drawn lengths are multiplied so that they come out true on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrinterCorrection {
    /// Across the sheet, 100/110 to 100/90.
    pub across: f64,
    /// Up the sheet, 100/110 to 100/90.
    pub up: f64,
}

/// A pen plotter or router.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plotter {
    /// Length and width of its bed.
    pub bed: Option<(Length, Length)>,
    /// How it writes.
    pub text: PlotText,
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

/// What a mortising machine can do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mortiser {
    /// How far from an edge its fence lets it work.
    pub reach: Length,
    /// The smallest and the largest angle of its fence.
    pub angles: Option<[Angle; 2]>,
    /// The deepest it cuts.
    pub depth: Option<Length>,
    /// Height of its cutter above its base.
    pub height: Option<Length>,
}

/// A router cutter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cutter {
    /// Cutting diameter.
    pub diameter: Length,
    /// Diameter of its bearing.
    pub bearing: Option<Length>,
    /// The end at which its bearing sits.
    pub bearing_at: Option<BearingAt>,
    /// Cutting length.
    pub length: Option<Length>,
    /// How far its tip can stand out below the router's base.
    pub reach: Option<Length>,
}

/// The end of a cutter at which its bearing sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BearingAt {
    /// At its tip: the template lies on the side of the work away from the router.
    Tip,
    /// At its shank: the template lies between router and work.
    Shank,
}

/// A guide collar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Collar {
    /// Outside diameter.
    pub diameter: Length,
    /// How far it stands out below the router's base.
    pub projection: Option<Length>,
}
