//! Other numbers under which every part that exists stays good or is trimmed: the fewest and smallest changes that do.
//!
//! The piece is solved once with each free number moved a little, and that one Jacobian serves all questions, each a sparse linear program
//! over numbers and places of parts ([`program`]). First the lines along which no made surface moves but one end that is to be sawn (or
//! those that are lost already), with the least sum of changes; then each number alone, all together, pairs, with trims at their price. Only what
//! comes out well is solved for true, rounded to steps that a maker sets, set in the file and asked as `check` asks it.

mod elsewhere;
mod lines;
mod program;
mod search;

pub use elsewhere::{Elsewhere, Where};
pub use search::{Ask, Change, Offer, Offers, Wanted, offers, wanted};
