//! A piece as seen: views and sections with hidden lines told apart from seen ones.
//!
//! Guarantees to the sheets: lines are true to size on the view's plane, curves stay curves (a flat curve is seen through
//! an affine map), a line is split where it passes behind wood, and no line is drawn twice where boards stand flush or
//! one behind the other.

mod apart;
mod chain;
mod curve;
mod cutting;
mod drawn;
mod edges;
mod fitting;
mod ink;
mod large;
mod list;
mod measure;
mod merge;
mod model;
mod of_boards;
mod of_boxes;
mod of_joints;
mod of_sections;
mod of_stock;
mod of_undersides;
mod options;
mod overlay;
mod place;
mod prism;
mod rim;
mod section;
mod sheet;
mod shown;
mod split;
mod stamp;
mod view;
mod visible;

pub use drawn::{Drawn, Look, Seen};
pub(in crate::layout) use drawn::{LIST, Pens, segments};
pub use measure::measures;
pub(in crate::layout) use measure::{TOP, cut_corners, face_corners, is};
pub use model::Model;
pub use options::{Content, Options, Scale};
pub use overlay::Overlay;
pub(in crate::layout) use place::Room;
pub use sheet::draw;
pub use shown::{Lane, Measure, Shown, Side};
pub use stamp::stamp;
pub use view::View;
pub use visible::{Sight, Stroke};
