//! By how much the sizes of each part follow each number of the file, and which parts are best cut last.
//!
//! Guarantees to everything below: each derivative is measured on pieces that the pipeline solved with other numbers; one that has
//! no value, because the piece cannot be made on that side or has another part there, is none and not zero.

mod data;
mod measured;
mod size;
mod words;

pub use data::json;
pub use measured::{Effect, Effects, PartEffects, SizeEffects};
pub use size::{Size, SizeOf};
pub use words::words;
