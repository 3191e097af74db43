//! Pages as one PDF: drawn through `printpdf` some at a time, completed in memory through `lopdf`.
//!
//! What `printpdf` 0.12 leaves out or gets wrong (page boxes, viewer preferences, document identity, nested bookmarks,
//! exact letter widths) is set by [`complete`] before the first byte is written.

mod complete;
mod drawing;
mod pages;

use super::error::{WriteError, check};
use crate::page::{Document, Page, Role};
use pages::Pages;
use printpdf::{DateTime, FontId, Layer, LayerInternalId, LayerSubtype, PdfDocument};
use std::borrow::Cow;

/// Points (1/72 inch, PDF's unit) in one millimetre.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// The longest side of a page that PDF viewers accept, mm: 14,400 points (ISO 32000-1, annex C.2).
const LONGEST_SIDE: f64 = 14_400.0 * 25.4 / 72.0;

/// What a PDF says about itself besides its pages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PdfOptions {
    /// The date of the document: seconds since 1970-01-01 00:00 UTC. It is given, never taken from the clock, so that the
    /// same file makes the same bytes.
    pub date: u32,
}

/// The document as PDF 1.7.
///
/// Strokes keep their dashes and phases, have butt ends and mitred corners; arcs become cubics within 1e-4 mm;
/// coordinates are rounded to 0.001 points (0.0004 mm). Words stay words, set in the embedded face. Each role in use is
/// a layer, each page a bookmark under its section. The print dialog is asked for single-sided sheets at actual size.
///
/// # Errors
/// No page; a page with a side of nothing or of more than 5080 mm; a number that is not finite.
pub fn pdf(document: &Document, options: &PdfOptions) -> Result<Vec<u8>, WriteError> {
    pdf_of_pages(&document.title, document.pages.iter().map(Cow::Borrowed), options)
}

/// As [`pdf`], of pages that are made one after the other: of each that was drawn only what is written of it stays in memory.
///
/// # Errors
/// As [`pdf`].
pub fn pdf_of_pages<'p>(
    title: &str,
    pages: impl IntoIterator<Item = Cow<'p, Page>>,
    options: &PdfOptions,
) -> Result<Vec<u8>, WriteError> {
    let mut drawn = Pages::of(titled(title, options));
    let mut pages = pages.into_iter().peekable();
    pages.peek().ok_or(WriteError::NoPages)?;
    for page in pages {
        check(&page, LONGEST_SIDE)?;
        drawn.add(&page);
    }
    Ok(complete::complete(drawn.joined(), title))
}

/// A document without pages, as `printpdf` takes it.
fn titled(title: &str, options: &PdfOptions) -> PdfDocument {
    let mut pdf = PdfDocument::new(title);
    let info = &mut pdf.metadata.info;
    info.creator = "fullsize".to_owned();
    info.producer = format!("fullsize {}", env!("CARGO_PKG_VERSION"));
    if let Ok(date) = DateTime::from_unix_timestamp(i64::from(options.date)) {
        (info.creation_date, info.modification_date) = (date, date);
    }
    pdf
}

fn face_id() -> FontId {
    FontId("F0".to_owned())
}

/// Layers are listed in the order of their ids: keep it the order of the roles.
fn layer_id(role: Role) -> LayerInternalId {
    LayerInternalId(format!("L{}", role as u8))
}

fn layer(role: Role) -> Layer {
    Layer {
        name: role.title().to_owned(),
        creator: "fullsize".to_owned(),
        intent: printpdf::LayerIntent::Design,
        usage: LayerSubtype::Artwork,
    }
}

/// Millimetres to points, rounded to a thousandth; never negative zero.
fn points(mm: f64) -> f32 {
    ((mm * POINTS_PER_MM * 1000.0).round() / 1000.0 + 0.0) as f32
}
