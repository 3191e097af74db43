//! The order of work: what is done to each part, from which lines and sides it is set out, and in which order all of it is done.
//!
//! Guarantees to everything below: a step stands after whatever makes a surface from which it is set out, and before whatever takes one
//! away; what a step lies on is there too, or the plan says which side is missed. The order is the same for the same piece.

mod board;
mod data;
mod drawn;
mod graph;
mod plan;
mod problem;
mod step;
mod wedge;
mod words;

pub use data::json;
pub use plan::{Part, PartOf, Plan, State};
pub(crate) use problem::OrderProblem;
pub use step::{Link, Missed, Need, Reference, Side, Step, Use, Why, Work};
pub use words::words;
