//! Pages to bytes: PDF for printers, SVG for pen plotters, cutters and screens.
//!
//! Guarantees: pure functions; the same pages give the same bytes; a number that is no number, or a page that no reader
//! could show, is refused with words and nothing is written.

mod csv;
mod error;
mod gltf;
mod pdf;
mod svg;

pub use csv::csv;
pub use error::WriteError;
pub use gltf::gltf;
pub use pdf::{PdfOptions, pdf, pdf_of_pages};
pub use svg::{PlotText, SvgStyle, svg};
