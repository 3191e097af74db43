//! Views and sections of a piece on sheets: at a scale, dimensioned, named, and framed.

mod curve;
mod cutting;
mod drawn;
mod hiding;
mod large;
mod list;
mod measure;
mod named;
mod of_boards;
mod of_boxes;
mod of_fasteners;
mod of_joints;
mod of_sections;
mod of_stock;
mod of_undersides;
mod options;
mod overlay;
mod place;
mod rows;
mod sheet;
mod shown;
mod stamp;
mod straight;

pub use drawn::{Drawn, Look, Seen};
pub(in crate::layout) use drawn::{LIST, Pens, segments};
pub use hiding::Drawing;
pub(crate) use hiding::ViewProblem;
pub use measure::measures;
pub(in crate::layout) use measure::{cut_corners, end_points, face_corners};
pub use named::{Named, named};
pub use options::{Content, Options, Scale};
pub use overlay::Overlay;
pub(in crate::layout) use place::Room;
pub use sheet::draw;
pub use shown::{Lane, Measure, Shown, Side, Words};
pub use stamp::stamp;
