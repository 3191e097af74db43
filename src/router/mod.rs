//! What a router needs beside the finished outline: templates for bearings and guide collars, what a cutter cannot reach,
//! where it cuts against the grain, and the sections of edge profiles.
//!
//! Guarantees to everything below: every shape comes as finished paths in millimetres in the part's own axes, made by
//! offsets that were checked against their source; what a tool cannot follow is said with its place and its depth.

mod blank;
mod caution;
mod collar;
mod gauge;
mod grain;
mod inlay;
mod profile;
mod reach;
mod routed;
mod shortfall;
mod told;

pub use blank::{Blank, BlankFault, BlankSettings, Feed, Screw, blank};
pub use caution::{Caution, Job, cautions};
pub use collar::{CollarTemplate, TemplateFault, collar_stands_proud, collar_template, saw_line};
pub use gauge::{RadiusGauge, radius_gauge};
pub use grain::{GrainRun, GrainSettings, GrainWay, Rotation, grain_runs};
pub use inlay::{InlayCorner, InlayPair, InlayTools, inlay_pair};
pub use profile::{ProfileFault, ProfileSection, profile_section};
pub use reach::{CutterLength, Reach, cutter_length, reach};
pub use routed::{
    CornerGauge, OnPart, Routed, RoutedTemplate, TemplateShape, corner_gauges, edge_section, on_part, routed,
};
pub use shortfall::{Cause, NOTICEABLE, Shortfall};
