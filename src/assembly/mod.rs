//! How a piece is put together: which parts go on in which order, which way each travels, and where tenons bind.
//!
//! Guarantees to everything below: the tenons of a stage are every one between its parts that is still open; parts that go on one
//! by one, or are drawn up together, do so along straight lines on which no tenon leaves its mortise by more than its play.
//! Only tenons are asked; that the parts themselves are clear of each other on the way is not.

mod link;
mod order;
mod simplex;
mod travel;

pub use link::{Link, Member, links};
pub use order::{Bind, Closing, Core, Plan, Put, Stage, of_links, plan};
pub use travel::PLAY;
