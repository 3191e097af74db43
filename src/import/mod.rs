//! Shapes from outside: the paths of an SVG file in true size.
//!
//! Guarantees to everything below: every coordinate is a finite number of millimetres within 20 m, y up; all transforms, units
//! and view boxes are resolved in double precision; lines stay lines, arcs arcs and cubics cubics. What is hidden or has no
//! colour is left out, by style sheets too; what cuts, moves or shapes a path in a way that is not followed is told with it, so
//! that no other shape comes out than a viewer shows. Nothing but the given bytes is ever read: what a file refers to elsewhere
//! is told and left out.

mod check;
mod data;
mod length;
mod number;
mod paper;
mod place;
mod rings;
mod shape;
mod sheet;
mod style;
mod transform;
mod view;
mod walk;

pub use check::{ImportProblem, ImportProblemKind, NotFollowed};
pub use paper::paper;
pub use place::{Placing, placed};

use crate::geometry::{Affine, Path};

/// The most bytes of a file that are read where no other limit is given.
pub const LARGEST_FILE: usize = 10 << 20;
/// The most nodes of a document.
const MOST_NODES: u32 = 200_000;

/// The most attributes of one element: the XML reader compares each with all others of its element.
const MOST_ATTRIBUTES: usize = 1000;

/// One path of a file.
#[derive(Debug, Clone, PartialEq)]
pub struct ImportedPath {
    /// The path; closed where the file closes it or its ends meet.
    pub path: Path,
    /// The `id` of its element or of the nearest group around it that has one.
    pub id: Option<String>,
    /// Line of the file, from 1.
    pub line: u32,
    /// Whether it is filled white and has no line, as paper is.
    is_paper: bool,
    /// What a viewer follows of it and this does not, with the line where that stands.
    flaws: Vec<(u32, NotFollowed)>,
}

/// What was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Imported {
    /// The paths, in the order of the file.
    pub paths: Vec<ImportedPath>,
    /// What is amiss with the paths, and what was left out.
    pub problems: Vec<ImportProblem>,
    /// Width and height of the drawing, mm, where the file gives them; its lower left corner is the origin.
    pub size: Option<(f64, f64)>,
    /// From these millimetres, y up, to the drawing's own units, y down: those of its view box, in which a drawing program shows places.
    pub own_units: Affine,
}

/// Why a file cannot be read at all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ImportFault {
    /// It has more bytes than the limit.
    TooLarge {
        /// Its bytes.
        bytes: usize,
        /// The limit.
        limit: usize,
    },
    /// It is not UTF-8 text: perhaps compressed, or not SVG at all.
    NotText,
    /// It declares entities, which can grow without bound or reach outside.
    Entities,
    /// It is not well-formed XML: the reader's words and the line, from 1.
    NotXml {
        /// What the reader said.
        what: String,
        /// Line, from 1.
        line: u32,
    },
    /// Its root is not an SVG element.
    NotSvg,
    /// Its paths have more pieces than are taken.
    TooManyPieces {
        /// How many are.
        most: usize,
    },
    /// It holds more elements than can be looked at, or nests too deeply.
    TooMuch,
}

/// Reads the paths of an SVG file of at most `limit` bytes (see [`LARGEST_FILE`]).
///
/// # Errors
/// See [`ImportFault`]. What is wrong with single elements is told in [`Imported::problems`].
pub fn import_svg(bytes: &[u8], limit: usize) -> Result<Imported, ImportFault> {
    if bytes.len() > limit {
        return Err(ImportFault::TooLarge { bytes: bytes.len(), limit });
    }
    let text = std::str::from_utf8(bytes).map_err(|_| ImportFault::NotText)?;
    // A document type is common and harmless; entities declared in it are not.
    if text.contains("<!ENTITY") {
        return Err(ImportFault::Entities);
    }
    if has_crowded_element(text) {
        return Err(ImportFault::TooMuch);
    }
    let options = roxmltree::ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, entity_resolver: None };
    let document = roxmltree::Document::parse_with_options(text, options).map_err(|fault| match fault {
        roxmltree::Error::NodesLimitReached => ImportFault::TooMuch,
        fault => ImportFault::NotXml { what: fault.to_string(), line: fault.pos().row },
    })?;
    let mut imported = walk::walk(&document)?;
    check::check(&mut imported);
    Ok(imported)
}

/// Whether an element has more than [`MOST_ATTRIBUTES`]. Of what is no XML it may say either; the reader tells that.
fn has_crowded_element(text: &str) -> bool {
    let mut rest = text;
    while let Some(start) = rest.find('<') {
        rest = &rest[start + 1..];
        // What these hold is no element.
        let closed = [("!--", "-->"), ("![CDATA[", "]]>"), ("?", "?>")].into_iter();
        if let Some((_, end)) = closed.into_iter().find(|(open, _)| rest.starts_with(open)) {
            rest = rest.find(end).map_or("", |end| &rest[end..]);
            continue;
        }
        let (mut quote, mut attributes) = (None, 0);
        for (at, sign) in rest.bytes().enumerate() {
            match (quote, sign) {
                (Some(open), _) if open == sign => quote = None,
                (None, b'"' | b'\'') => quote = Some(sign),
                (None, b'=') => attributes += 1,
                // One that begins inside another is no XML.
                (None, b'>' | b'<') => {
                    rest = &rest[at..];
                    break;
                }
                _ => {}
            }
            if attributes > MOST_ATTRIBUTES {
                return true;
            }
        }
        if quote.is_some() {
            return false;
        }
    }
    false
}

#[cfg(test)]
mod tests;
