//! Flat shapes at full size, in millimetres.
//!
//! Guarantees to everything below: every coordinate is finite; an [`Outline`] is closed, does not cross itself, encloses an
//! area and runs anticlockwise; curves stay curves (an arc is an arc until a writer needs something else).

mod boxes;
mod build;
mod clip;
mod crossing;
mod measure;
mod offset;
mod outline;
mod path;
mod segment;

pub use build::{Built, EdgeShape, Node, Problem, ProblemKind, build};
pub use clip::{PathIndex, clip_half_plane, clip_to_rect};
pub use crossing::{CONTACT_TOLERANCE, Contact, ContactKind, SelfCrossing, SelfCrossings, contacts, self_crossings};
pub use offset::{Join, OFFSET_TRUE_TO, Offset, OffsetFault, offset};
pub use outline::Outline;
pub use path::{Path, PathPlace};
pub use segment::{Arc, Segment};

pub use kurbo::{Affine, CubicBez, Line, Point, Rect, Vec2};
