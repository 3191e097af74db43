//! How two leaning frames really stand, found from what rule and bevel gauge read on them.
//!
//! Guarantees to everything below: frames are stiff, and seven numbers say how they stand (lean and twist of each, the spread of
//! their heads, the splay of each); every number comes with how well it is known, every reading with how far it is off from what
//! all of them say together, and a reading that no such piece could give is refused.

mod fit;
mod found;
mod pose;
mod problem;
mod reading;
mod symmetric;

pub use fit::{Fitted, Residual};
pub use found::{Found, Weak, find};
pub use pose::{Number, Pose, Side, Stance};
pub(crate) use problem::{AsBuiltProblem, Misread, Suspect};
pub use reading::{Candidate, Reading, What};
pub use symmetric::Matrix;
