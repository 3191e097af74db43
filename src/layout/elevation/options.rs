//! What is drawn of a piece, and how.

use super::overlay::Overlay;
use super::shown::{Measure, Side};
use crate::geometry::Plane;

/// Size of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// The largest of the recommended reductions at which the sheet holds the views.
    Fit,
    /// One to this many. Where the sheet is too small, the views are tiled.
    Reduced(u32),
}

/// What may be drawn by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Content {
    /// The view from the front.
    Front,
    /// The view from the side: the left one in the first angle, the right one in the third.
    Side,
    /// The plan from above.
    Above,
    /// The plan from below.
    Below,
    /// The picture.
    Isometric,
    /// The sheet of assembly.
    Assembly,
}

impl Content {
    /// All views, without the assembly.
    pub const VIEWS: [Content; 5] =
        [Content::Front, Content::Side, Content::Above, Content::Below, Content::Isometric];
}

/// What is drawn and how.
#[derive(Debug, Clone)]
pub struct Options<'a> {
    /// The scale.
    pub scale: Scale,
    /// What is drawn; everything where nothing is named.
    pub only: Vec<Content>,
    /// Hidden edges too, dashed.
    pub hidden: bool,
    /// Planes of sections; the wood on the side to which the normal points is taken away.
    pub sections: Vec<Plane>,
    /// Light lines over the views.
    pub overlays: Vec<Overlay<'a>>,
    /// A frame with a title block.
    pub framed: bool,
    /// Revision code.
    pub revision: Option<String>,
    /// The date as it is to be written; none is written without it.
    pub date: Option<String>,
    /// Who drew it, for the title block.
    pub creator: Option<String>,
    /// What is too large for a sheet stands on one page as large as it takes, and is not tiled: for a plotter.
    pub untiled: bool,
    /// What the usual views show in place of what they show by themselves; empty where they show that.
    pub shown: Vec<(Side, Vec<Measure>)>,
    /// The most sheets on which views are tiled; `None` for as many as they take.
    pub most_sheets: Option<usize>,
}

impl Options<'_> {
    /// Whether something is to be drawn.
    pub fn wants(&self, content: Content) -> bool {
        self.only.is_empty() || self.only.contains(&content)
    }
}

impl Default for Options<'_> {
    fn default() -> Self {
        Options {
            scale: Scale::Fit,
            only: Vec::new(),
            hidden: false,
            sections: Vec::new(),
            overlays: Vec::new(),
            framed: false,
            revision: None,
            date: None,
            creator: None,
            untiled: false,
            shown: Vec::new(),
            most_sheets: None,
        }
    }
}
