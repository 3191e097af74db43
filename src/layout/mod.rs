//! Patterns laid on sheets, rolls and beds.
//!
//! Guarantees to the writers: every line of a pattern is on some sheet; two sheets that meet share at least two crosses,
//! each on the same point of the pattern; nothing on a sheet lies in the margin; the manifest says with full precision
//! where each sheet holds which part of which pattern.

pub mod assembly;
mod bars;
mod bed;
mod candidates;
mod checks;
mod covered;
mod datum;
mod datum_line;
mod dimension;
mod drawing_up;
pub mod elevation;
mod framed;
mod furniture;
mod gluing;
mod grid;
mod ink;
mod lettering;
mod map;
mod picture;
pub mod pinch_rod;
mod proof;
pub mod rail_face;
pub mod rod;
mod seams;
mod share;
mod stamp;
mod taped;
mod tile;
mod turned;
mod vacant;
mod words;

pub use bars::bars_on;
pub(crate) use bed::BedProblem;
pub use bed::{Bed, plot};
pub use candidates::printer_corrected;
pub use dimension::Dimension;
pub(crate) use elevation::ViewProblem;
pub use grid::Grid;
pub use map::{measured_when_taped, tell_on_first};
pub use picture::{Pictured, legend, picture};
pub use proof::proof;
pub use seams::{Cross, Seam};
pub use share::{Sharing, TOGETHER, coded, shared, sharing};
pub use taped::{Diagonal, Stretch};
pub use tile::{Manifest, Setup, Sheet, TiledPattern, Tiling, TooManySheets, sheet_pages, sheet_window, tile};
