//! What a router needs beside the finished outline: templates for bearings and guide collars, what a cutter cannot reach,
//! where it cuts against the grain, and the sections of edge profiles.
//!
//! Guarantees to everything below: every shape comes as finished paths in millimetres in the part's own axes, made by
//! offsets that were checked against their source; what a tool cannot follow is said with its place and its depth.

mod beyond;
mod blank;
mod caution;
mod collar;
mod diagnostics;
mod edge_fit;
mod feed_direction;
mod gauge;
mod grain;
mod held;
mod inlay;
mod nested;
mod on_part;
mod part;
mod passes;
mod problem;
mod profile;
mod profiled_edge;
mod reach;
mod routed;
mod sawn;
mod setting;
mod shortfall;
mod space;
mod strip;
mod worked;

pub use crate::model::GrainSettings;
pub use beyond::Beyond;
pub use blank::{Blank, BlankFault, BlankSettings, Feed, Screw, blank};
pub use caution::{Caution, Job, cautions};
pub use collar::{CollarTemplate, TemplateFault, collar_stands_proud, collar_template, saw_line};
pub use gauge::{RadiusGauge, radius_gauge};
pub use grain::{GrainRun, GrainWay, Rotation, grain_runs};
pub use held::{HELD_AT_TWO_PLACES, Held};
pub use inlay::{InlayCorner, InlayPair, InlayTools, inlay_pair};
pub use on_part::OnPart;
pub use part::{PieceRouting, RoutedPart, end_edge, routed_parts};
pub use passes::Passes;
pub(crate) use problem::{
    Bevelled, EdgeProblem, InTheWay, NoTemplate, ProfilesMeet, ScrewRoom, TemplateProblem, Tool, ToolCure, Unreached,
};
pub use profile::{ProfileFault, ProfileSection, profile_section};
pub use profiled_edge::{ProfiledEdge, edge_sections, profiled_edges};
pub use reach::{CutterLength, Reach, cutter_length, reach};
pub use routed::{
    CornerGauge, Routed, RoutedTemplate, TemplateShape, Templates, corner_gauges, part_cautions, routed, templates,
};
pub use setting::{PAST, TemplateSetting};
pub use shortfall::{Cause, Shortfall};
pub use strip::strip;
