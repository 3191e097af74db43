//! The parts that are still to be made, solved for the piece as it stands.
//!
//! Guarantees to everything below: each part comes of the same pipeline as the drawn one, with the numbers that the readings tell;
//! each of its sizes comes with how well those numbers fix it.

mod data;
mod problem;
mod solved;
mod words;

pub use data::json;
pub(crate) use problem::{Next, NotDrawn};
pub use solved::{Remaining, RemainingPart, RemainingSize, Unsolved};
pub use words::{sheet_words, words};
