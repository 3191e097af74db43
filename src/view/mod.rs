//! A piece as seen: views and sections with hidden lines told apart from seen ones.
//!
//! Guarantees to the sheets: lines are true to size on the view's plane, curves stay curves (a flat curve is seen through
//! an affine map), a line is split where it passes behind wood, and no line is drawn twice where boards stand flush or
//! one behind the other.

mod chain;
mod direction;
mod edges;
mod hollow;
mod merge;
mod model;
mod prism;
mod rim;
mod round;
mod section;
mod split;
mod visible;
mod worked;

pub use chain::chained;
pub use direction::View;
pub use merge::thinned;
pub use model::{Model, Subject};
pub use visible::{Sight, Stroke};
