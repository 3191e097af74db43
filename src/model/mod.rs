//! The piece as numbers: base, top, joints, routing, parts drawn directly, shop.
//!
//! Guarantees to everything below: in a [`Project`] every quantity is worked out and within its range, every outline is
//! built, holes and slots lie inside the part, and nothing is left to check. Where the numbers came from is not known here.

pub mod aid;
pub mod as_built;
pub mod base;
mod drawn;
pub mod field;
pub mod fixing;
pub mod joint;
mod laid;
pub mod made;
mod number;
mod paper;
pub mod path;
pub mod placed;
pub(crate) mod problem;
mod profile;
pub mod round_leg;
mod routing;
mod shop;
pub mod top;
pub mod wood;

pub use drawn::{AsBoard, Drawing, DrawnPattern, Half, HalfShow, HalfUse, Hole, InDrawing, Mark, Slot};
pub use field::Leeway;
pub use laid::{InHalf, Laid, Mirrored};
pub use number::{Kind, Number, number_at, numbers, set_number};
pub use paper::{BadPaper, BadPaperKind, Paper};
pub use profile::{EdgeProfile, ThumbnailCurve};
pub use routing::{
    BlankTemplate, CollarTool, CutterTool, DrawnEdge, EdgeChoice, EdgeToProfile, FaceWay, GrainSettings, LiesOn,
    PartRouting, Routing, Template, TemplateKind, Work, edge_of, unknown_edge,
};
pub use shop::{
    Allowances, BearingAt, Collar, Correction, Cutter, Denominator, Mortiser, Orientation, PlotText, Plotter,
    Printer, ReadingsFrom, RuleBar, Shop, Step,
};

pub(crate) use shop::{allowances, collar, cutter, mortiser, plotter, printer, shop};

use crate::units::{Notation, Quantity};
use aid::AidRequest;
use as_built::AsBuilt;
use base::Base;
use joint::{Joint, JointGiven};
use made::MadePart;
use top::Top;

/// A project that can be drawn.
#[derive(Debug, Clone)]
pub struct Project {
    /// Its title.
    pub title: String,
    /// How its numbers are shown to a person.
    pub notation: Notation,
    /// The named sizes with their values, in the order written; each a length, or an angle.
    pub sizes: Vec<(String, Quantity)>,
    /// The flat parts drawn directly, in the order written.
    pub patterns: Vec<DrawnPattern>,
    /// The base of the piece.
    pub base: Option<Base>,
    /// Its top.
    pub top: Option<Top>,
    /// What is routed on parts of the piece, in the order written.
    pub routing: Vec<PartRouting>,
    /// The numbers of the joints as the file gives them, by name, in the order written.
    pub joints_given: Vec<(String, JointGiven)>,
    /// The joints that these make, in the same order, then that of turned legs.
    pub joints: Vec<Joint>,
    /// The angled aids asked for, in the order written.
    pub aids: Vec<AidRequest>,
    /// What was measured on the dry assembly.
    pub as_built: Option<AsBuilt>,
    /// The parts that exist already, in the order written.
    pub made: Vec<MadePart>,
    /// The numbers that are not decided yet, by their paths (see [`path`]).
    pub undecided: Vec<String>,
    /// The numbers that no offer changes, by their paths.
    pub fixed: Vec<String>,
    /// The shop.
    pub shop: Shop,
    /// Where the readings of its printer come from; `None` where no file has any.
    pub readings_from: Option<ReadingsFrom>,
    /// The names of the variants, in the order written.
    pub variants: Vec<String>,
    /// The variant that was applied.
    pub variant: Option<String>,
    /// The project with every length and angle as revision codes take it: `None` where each is so already, or where it cannot be made
    /// of those. Taken by the job on it.
    pub settled: Option<Box<Project>>,
}

impl Project {
    /// The same with numbers of its base that are worked out of others, where they are not given, written down.
    pub fn spelt_out(&self) -> Project {
        let base = match &self.base {
            Some(Base::LeaningFrames(frames)) => Some(Base::LeaningFrames(Box::new(frames.spelt_out()))),
            other => other.clone(),
        };
        Project { base, settled: None, ..self.clone() }
    }

    /// The piece without the parts that are drawn beside it, which none of its numbers reach, and without what the file says of numbers by
    /// name: what is tried of a piece may lack some of them.
    pub fn piece_alone(&self) -> Project {
        let (patterns, undecided, fixed) = (Vec::new(), Vec::new(), Vec::new());
        Project { patterns, undecided, fixed, settled: None, ..self.clone() }
    }

    /// The title, with the variant where one was applied: what stands on every sheet.
    pub fn heading(&self) -> String {
        match &self.variant {
            Some(variant) => format!("{}, {variant}", self.title),
            None => self.title.clone(),
        }
    }
}
