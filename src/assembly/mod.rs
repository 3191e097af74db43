//! How a piece is put together: which parts go on in which order, which way each travels, and where tenons bind.
//!
//! Guarantees to everything below: the tenons of a stage are every one between its parts that is still open; parts that go on one
//! by one, or are drawn up together, do so along straight lines on which no tenon leaves its mortise by more than its play.
//! Tenons are asked, and plane surfaces on which boards without tenons touch others; that parts are clear on the way of what they do
//! not touch is not.

mod bare;
mod link;
mod order;
mod travel;

pub use bare::{Bare, Goes, bare, plan};
pub use link::{Link, Member, links};
pub use order::{Bind, Closing, Core, Plan, Put, Stage};
