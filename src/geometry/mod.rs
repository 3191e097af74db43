//! Flat shapes at full size, in millimetres.
//!
//! Guarantees to everything below: every coordinate is finite; an [`Outline`] is closed, does not cross itself, encloses an
//! area and runs anticlockwise; curves stay curves (an arc is an arc until a writer needs something else).

mod batten;
mod boolean;
mod boxes;
mod clip;
mod construct;
mod crossing;
mod fair;
mod feet;
mod flat;
mod half;
mod hull;
mod inside;
mod measure;
mod mesh;
mod nearest;
mod nesting;
mod offset;
mod outline;
mod path;
mod segment;
mod separation;
mod shares;
pub mod simplex;
mod space;
pub mod svg_data;

pub use batten::{Batten, BattenEnd, BattenError, MOST_TENSION};
pub(crate) use boxes::BoxTree;

pub use boolean::{difference, holds, intersection, union};
pub use clip::{Crowd, PathIndex, clip_half_plane, clip_to_rect, levelling};
pub use construct::{Built, EdgeFact, EdgeShape, Node, Problem, ProblemKind, build, join};
pub use crossing::{Contact, ContactKind, SelfCrossing, SelfCrossings, contacts, self_crossings};
pub use fair::{Comb, Unfair, UnfairKind, UnfairSettings, blend, comb, taper, unfair};
pub use flat::{Drawn, EitherWay, Flat, FromInside, FromOutside, Lies, Paper, SurfaceFrame};
pub use half::{HalfEnd, HalfOutline, MirrorLine, RouterHalf};
pub use hull::convex_hull;
pub use inside::Region;
pub use mesh::{Mesh, Prism, Scene, ScenePart, polygon};
pub use nearest::{Near, Nearest, NearestWalk};
pub use nesting::{Void, nesting, voids};
pub use offset::{Join, Offset, OffsetFault, offset};
pub use outline::{LARGEST, Outline};
pub use path::{Path, PathPlace, nearest_piece};
pub use segment::{Arc, Segment};
pub use separation::separation;
pub use shares::in_shares;
pub use space::{Placement, Plane, Point3, Vec3, meet};

pub use kurbo::{Affine, CubicBez, Line, Point, Rect, Vec2};

/// Coordinates beyond this, mm, are refused where geometry is computed from them: their rounding comes near to the
/// tolerances.
const FARTHEST: f64 = 1e7;
