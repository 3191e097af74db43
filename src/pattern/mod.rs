//! A part as it is drawn at full size: lines with roles, and words.
//!
//! Guarantees to the layouts: all items are in the pattern's own millimetres, y up; the finished edge is the middle of
//! its line; words that name the part stand clear of its lines wherever there is room; what is laid on wood is drawn as
//! someone before it sees it; the revision code depends on the solved geometry and on nothing else.

mod aids;
mod bevels;
mod board;
mod button;
mod caution;
mod clear;
mod cutouts;
mod drawn;
mod edge_names;
mod ends;
mod far;
mod fixing;
mod fixing_sheet;
mod gauge;
mod half;
mod hands;
mod hatch;
mod joints;
mod landed;
mod lines;
mod on_part;
mod overlaid;
mod plain;
mod pockets;
mod put_on;
pub mod revision;
mod strips;
mod tapers;
mod template;
mod title;
mod turned;

pub use aids::aid;
pub use bevels::bevels;
pub use board::{draw as draw_board, make_words};
pub use drawn::{draw, draw_from, made_words, revision as drawn_revision};
pub use ends::ends;
pub use far::far_lines;
pub use fixing::{bored_words, fixings, half_template, hole_words, is_bored_soundly, mark_top, off_face};
pub use fixing_sheet::Fixing;
pub use gauge::{gauge, profile_gauge};
pub use hands::chalked;
pub use overlaid::Overlaid;
pub use put_on::{PutOn, put_on};
pub use strips::strips;
pub use template::{corner_words, edge_words, template};
pub use turned::turning_words;

use crate::geometry::{Paper, Rect};
use crate::page::{Item, Part};
use crate::units::{Length, Notation};

/// A pattern ready to be laid on sheets.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// The name as the file has it, and the revision code of its geometry.
    pub part: Part,
    /// How many to make, as a person reads it: `make 4`.
    pub make: String,
    /// Overall sizes, as a person reads them: `1420 x 95 mm, 24 mm thick`.
    pub sizes: String,
    /// What is drawn, and how it lies on the wood. No item names a part or a clip yet.
    pub items: Paper<Vec<Item>>,
    /// Around every item, with room for the width of the lines.
    pub bounds: Rect,
    /// Whether it may stand on a sheet with others.
    pub small: bool,
    /// What its solid line is.
    pub solid: SolidLine,
    /// What is told on each of its sheets before all else, the weightiest first: what it is in place of a pattern to cut by, or what is
    /// to be heeded where it is one; none of most.
    pub told: Vec<String>,
    /// What is told once, whole on one of its sheets; nothing of most.
    pub in_full: Vec<InFull>,
    /// How many prints of it are wanted: paper that is stuck on wood is used up.
    pub prints: u32,
    /// Whether it is one to cut by: its sheets then say what its solid line is, whatever else is told on them.
    pub is_to_cut: bool,
}

/// Words that stand whole on one sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InFull {
    /// What they tell.
    pub heading: String,
    /// The words.
    pub words: String,
}

/// What the solid line of a pattern is: to be told on each of its sheets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SolidLine {
    /// The finished edge of the part.
    FinishedEdge,
    /// The edge of a template, beside the finished edge of the part.
    TemplateEdge,
    /// A line to saw along, so far outside the finished edge.
    SawLine(Length),
    /// The edge of a gauge.
    GaugeEdge,
    /// A line to set a gauge by: nothing is cut to it.
    GaugeLine,
    /// A mark of a rod.
    RodMark,
    /// An edge of a view.
    SeenEdge,
    /// Of several patterns on one sheet each its own.
    EachItsOwn,
}

impl SolidLine {
    /// It in words.
    pub fn words(self, notation: &Notation) -> String {
        match self {
            SolidLine::FinishedEdge => "finished edge".to_owned(),
            SolidLine::TemplateEdge => "edge of the template".to_owned(),
            SolidLine::SawLine(outside) => format!("line to saw along, {} outside", notation.measured(outside)),
            SolidLine::GaugeEdge => "edge of the gauge".to_owned(),
            SolidLine::GaugeLine => "line to set a gauge by".to_owned(),
            SolidLine::RodMark => "mark to take off".to_owned(),
            SolidLine::SeenEdge => "edge as seen".to_owned(),
            SolidLine::EachItsOwn => "edge to cut of each".to_owned(),
        }
    }
}

impl Pattern {
    /// A pattern with a sheet of its own, with room around all that is drawn.
    fn around(part: Part, make: String, sizes: String, items: Paper<Vec<Item>>) -> Pattern {
        let bounds = Item::bounds_of_all(&items).unwrap_or(Rect::ZERO).inflate(title::CLEAR, title::CLEAR);
        Pattern::new(part, (make, sizes), items, bounds)
    }

    /// A pattern to cut by, with sheets of its own, whose solid line is a finished edge: how many to make, and the sizes.
    pub fn new(part: Part, (make, sizes): (String, String), items: Paper<Vec<Item>>, bounds: Rect) -> Pattern {
        Pattern {
            part,
            make,
            sizes,
            items,
            bounds,
            small: false,
            solid: SolidLine::FinishedEdge,
            told: Vec::new(),
            in_full: Vec::new(),
            prints: 1,
            is_to_cut: true,
        }
    }

    /// The same as something that nobody is to cut by, and what it is: on sheets of its own, since each of them says so.
    pub fn instead(self, what: Vec<String>) -> Pattern {
        Pattern { is_to_cut: false, ..self.heeding(what) }
    }

    /// The same with what is to be heeded where it is cut by, before what is told already: on sheets of its own, since each of them says so.
    pub fn heeding(self, what: Vec<String>) -> Pattern {
        Pattern { small: self.small && what.is_empty(), told: [what, self.told].concat(), ..self }
    }
}
