//! What no writer can put on a page.

use crate::geometry::{Path, Point, Rect, Segment};
use crate::page::{Item, Page, Pen, Shape, Text};
use std::error::Error;
use std::fmt;

/// Why a document cannot be written.
#[derive(Debug, Clone, PartialEq)]
pub enum WriteError {
    /// There is no page.
    NoPages,
    /// A page has no size, or is larger than the format can hold.
    PageSize {
        /// The page's name.
        page: String,
        /// Its width, mm.
        width: f64,
        /// Its height, mm.
        height: f64,
        /// The longest side that the format can hold, mm.
        limit: f64,
    },
    /// A coordinate or size on a page is not a number, or has no end.
    NotANumber {
        /// The page's name.
        page: String,
        /// What is drawn there: the name of its role.
        what: &'static str,
    },
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            WriteError::NoPages => write!(f, "there is nothing to draw: the document has no page"),
            WriteError::PageSize { page, width, height, limit } => write!(
                f,
                "page \"{page}\" is {width} x {height} mm; its sides must be longer than 0 and at most {limit} mm: \
                 choose a smaller sheet and let the pattern run over several"
            ),
            WriteError::NotANumber { page, what } => write!(
                f,
                "page \"{page}\" holds a line or word ({what}) whose place or size is not a number; \
                 this is a fault of the program and nothing was written"
            ),
        }
    }
}

impl Error for WriteError {}

/// Checks that a page can be written: sides of 0 to `limit` mm, every number finite.
pub(super) fn check(page: &Page, limit: f64) -> Result<(), WriteError> {
    let (width, height) = (page.width, page.height);
    let fits = |side: f64| side > 0.0 && side <= limit;
    if !fits(width) || !fits(height) {
        return Err(WriteError::PageSize { page: page.name.clone(), width, height, limit });
    }
    match page.items.iter().find(|item| !is_finite(item)) {
        Some(item) => Err(WriteError::NotANumber { page: page.name.clone(), what: item.role.name() }),
        None => Ok(()),
    }
}

fn is_finite(item: &Item) -> bool {
    let drawn = match &item.shape {
        Shape::Stroke { path, pen } => path_is_finite(path) && pen_is_finite(pen),
        Shape::Fill { rings, grey } => grey.is_finite() && rings.iter().all(path_is_finite),
        Shape::Text(Text { at, content: _, height, angle, anchor: _, grey, set_in: _, label: _ }) => {
            at.is_finite() && height.is_finite() && angle.is_finite() && grey.is_finite()
        }
    };
    drawn && item.clip.is_none_or(|clip: Rect| clip.is_finite())
}

fn pen_is_finite(pen: &Pen) -> bool {
    let Pen { width, dash, phase, grey } = pen;
    width.is_finite() && phase.is_finite() && grey.is_finite() && dash.iter().all(|length| length.is_finite())
}

fn path_is_finite(path: &Path) -> bool {
    path.segments().iter().all(|segment| match segment {
        Segment::Line(line) => line.is_finite(),
        Segment::Cubic(cubic) => cubic.is_finite(),
        Segment::Arc(arc) => {
            let ends: [Point; 3] = [arc.center, arc.p.to_point(), arc.q.to_point()];
            ends.iter().all(|end| end.is_finite()) && arc.start.is_finite() && arc.sweep.is_finite()
        }
    })
}
