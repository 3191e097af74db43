//! Wood: how much it moves with its moisture, and how heavy it is.
//!
//! Guarantees to everything below: every coefficient and weight names the table that it stands in and whether that table
//! was read or is remembered, and movement is never worked out beyond the range of its equation.

mod climate;
mod movement;
mod species;

pub use climate::equilibrium;
pub use movement::{Change, DAMPEST, DRIEST, Movement, WIDEST, change, of_top};
pub(crate) use movement::{WoodProblem, not_known, said};
pub use species::{ALL, Known, Species, coefficient_of_shrinkage, named};
