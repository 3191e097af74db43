//! The finished drawing: pages of strokes and text with nothing left to decide.
//!
//! Guarantees to the writers: every coordinate is finite and in millimetres with the origin at the page's lower left
//! corner and y up; strokes are already clipped, dashed lines carry their phase, text is placed by the metrics of the
//! embedded font. Writers never measure and never know each other.

mod code;
pub mod font;
mod label;
mod room;
mod standing;
mod text;

pub use code::{code_of, told_apart};
pub use font::{Lettering, NoFont, has_glyph, outlines, shown, strokes};
pub use label::{About, Label, Rank};
pub use room::Room;
pub use standing::{Standing, apart, corners, words_beside};
pub use text::{Anchor, Text, kept_together, readable};

use crate::geometry::{Affine, Drawn, Path, Rect};

/// What a line or text is there for. It decides the SVG group and the PDF layer, never the look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// The finished edge of a part.
    Outline,
    /// The finished edge of an opening (slot, cut-out).
    Opening,
    /// A hole to drill, with its centre cross.
    Drill,
    /// A line to see or transfer, not to cut.
    Mark,
    /// Words on the pattern, and the arrows that stand with them: which way is up, the grain. They show a direction, and are moved
    /// to where a sheet has room.
    Text,
    /// Registration crosses and seam letters.
    Registration,
    /// Trim lines.
    Trim,
    /// Rule bars.
    Scale,
    /// The datum line through all sheets of a pattern.
    Datum,
    /// The sheet's own words: code, name, instructions.
    Caption,
}

impl Role {
    /// Every role, in the order in which writers group them.
    pub const ALL: [Role; 10] = [
        Role::Outline,
        Role::Opening,
        Role::Drill,
        Role::Mark,
        Role::Text,
        Role::Registration,
        Role::Trim,
        Role::Scale,
        Role::Datum,
        Role::Caption,
    ];

    /// The name of its SVG group.
    pub const fn name(self) -> &'static str {
        match self {
            Role::Outline => "outline",
            Role::Opening => "opening",
            Role::Drill => "drill",
            Role::Mark => "mark",
            Role::Text => "text",
            Role::Registration => "registration",
            Role::Trim => "trim",
            Role::Scale => "scale",
            Role::Datum => "datum",
            Role::Caption => "caption",
        }
    }

    /// What a person reads in a list of layers.
    pub const fn title(self) -> &'static str {
        match self {
            Role::Outline => "Edges to cut",
            Role::Opening => "Openings to cut",
            Role::Drill => "Holes to drill",
            Role::Mark => "Lines to mark",
            Role::Text => "Words on the pattern",
            Role::Registration => "Registration crosses",
            Role::Trim => "Trim lines",
            Role::Scale => "Rule bars",
            Role::Datum => "Datum line",
            Role::Caption => "Sheet captions",
        }
    }
}

/// The look of a stroke.
#[derive(Debug, Clone, PartialEq)]
pub struct Pen {
    /// Line width, mm (ISO 128 series).
    pub width: f64,
    /// Lengths of dash, gap, dash, gap …, mm; empty for a continuous line.
    pub dash: Vec<f64>,
    /// How far into the dash pattern the stroke begins, mm.
    pub phase: f64,
    /// 0 is black, 1 is white.
    pub grey: f64,
}

impl Pen {
    /// A continuous black line of the given width, mm.
    pub const fn solid(width: f64) -> Self {
        Pen { width, dash: Vec::new(), phase: 0.0, grey: 0.0 }
    }

    /// A black line of dashes and gaps, mm.
    pub fn dashed(width: f64, dash: &[f64]) -> Self {
        Pen { width, dash: dash.to_vec(), phase: 0.0, grey: 0.0 }
    }
}

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A line along a path. Square (butt) ends, mitred corners.
    Stroke {
        /// The path.
        path: Path,
        /// The look.
        pen: Pen,
    },
    /// A filled area (even-odd).
    Fill {
        /// Closed rings.
        rings: Vec<Path>,
        /// 0 is black, 1 is white.
        grey: f64,
    },
    /// Words.
    Text(Text),
}

/// One thing on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What it is there for.
    pub role: Role,
    /// The part it belongs to: an index into [`Document::parts`].
    pub part: Option<usize>,
    /// Nothing of it shows outside this rectangle (used for words that run over a sheet's edge; strokes come clipped).
    pub clip: Option<Rect>,
    /// What is drawn.
    pub shape: Shape,
}

impl Item {
    /// A stroke that belongs to no pattern yet.
    pub fn stroke(role: Role, path: Path, pen: Pen) -> Item {
        Item { role, part: None, clip: None, shape: Shape::Stroke { path, pen } }
    }

    /// The smallest upright rectangle around what is drawn, by the middle of its lines; `None` where nothing is.
    pub fn bounding_box(&self) -> Option<Rect> {
        match &self.shape {
            Shape::Stroke { path, .. } => path.bounding_box(),
            Shape::Fill { rings, .. } => rings.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b)),
            Shape::Text(text) => Some(text.bounding_box()),
        }
    }

    /// The smallest upright rectangle around several.
    pub fn bounds_of_all(items: &[Item]) -> Option<Rect> {
        items.iter().filter_map(Item::bounding_box).reduce(|a, b| a.union(b))
    }
}

impl Drawn for Item {
    /// Its lines moved; words keep their direction and go with their anchor.
    fn moved(mut self, map: Affine) -> Item {
        match &mut self.shape {
            Shape::Stroke { path, .. } => *path = path.transformed(map),
            Shape::Fill { rings, .. } => rings.iter_mut().for_each(|ring| *ring = ring.transformed(map)),
            Shape::Text(text) => {
                text.at = map * text.at;
                text.label = text.label.take().map(|label| Box::new(label.moved(map)));
            }
        }
        self
    }
}

/// A pattern named on the pages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// The name as the file has it; may hold any character.
    pub name: String,
    /// Its revision code.
    pub revision: String,
    /// The short code by which its sheets are known: capitals and digits.
    pub code: String,
}

impl Part {
    /// A part with the short code that its name has for itself; patterns that are printed together are [`told_apart`].
    pub fn new(name: impl Into<String>, revision: impl Into<String>) -> Part {
        let name = name.into();
        let code = code_of(&name);
        Part { name, revision: revision.into(), code }
    }
}

/// One page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// What a table of contents calls it.
    pub name: String,
    /// The heading under which a table of contents lists it, where it has one.
    pub section: Option<String>,
    /// What is on it, in the order of drawing.
    pub items: Vec<Item>,
}

/// A finished set of pages.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// Title of the project.
    pub title: String,
    /// The patterns that its items belong to.
    pub parts: Vec<Part>,
    /// The pages in order.
    pub pages: Vec<Page>,
}
