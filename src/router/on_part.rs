//! What the router's side adds to the drawing of a part itself.

use super::collar::TemplateFault;
use super::feed_direction::runs_as_fed;
use super::grain::GrainRun;
use super::profiled_edge::{edge_sections, left_on_side};
use super::reach::{Reach, reach};
use crate::geometry::{Comb, Path, Segment, comb};
use crate::model::DrawnPattern;

/// Distance between the teeth of a comb, and length of its longest, mm: teeth that can be told apart, and a comb that stays
/// near its curve.
const COMB: (f64, f64) = (6.0, 30.0);

/// What is drawn on the part itself.
#[derive(Debug, Clone, Default)]
pub struct OnPart {
    /// What the cutter cannot reach.
    pub reach: Option<Reach>,
    /// How the grain lies along the edge.
    pub grain: Vec<GrainRun>,
    /// The comb along its curves.
    pub comb: Option<Comb>,
    /// Lines that the edge profile leaves on the face.
    pub on_face: Vec<Path>,
    /// Lines that it leaves on the far side.
    pub on_far_side: Vec<Path>,
}

/// Works out what is drawn on the part itself.
///
/// # Errors
/// Why the outline cannot be checked with a cutter.
pub(super) fn on_part(drawn: &DrawnPattern) -> Result<OnPart, TemplateFault> {
    let tool = drawn.routing.check_cutter.as_ref();
    let reach = tool.map(|tool| reach(&drawn.routed_rings(), &tool.cutter)).transpose()?;
    let grain = runs_as_fed(drawn);
    let mut on_sides = [Vec::new(), Vec::new()];
    for (worked, section) in edge_sections(drawn) {
        // One that cannot be cut is told as a finding.
        let Ok(section) = section else { continue };
        for (lines, far) in on_sides.iter_mut().zip([section.on_face, section.on_far_side]) {
            if far > 0.0 {
                lines.extend(left_on_side(drawn, worked.edge.as_ref(), far)?);
            }
        }
    }
    let [on_face, on_far_side] = on_sides;
    let comb = drawn.routing.comb.then(|| comb(&curves(drawn), COMB.0, COMB.1));
    Ok(OnPart { reach, grain, comb, on_face, on_far_side })
}

/// The edges of a part before its corners are rounded, one after the other; of a shape without corners the outline.
fn curves(drawn: &DrawnPattern) -> Path {
    let edges: Vec<Segment> = drawn.built.paths.iter().flat_map(|path| path.segments().iter().copied()).collect();
    if edges.is_empty() { drawn.built.outline.path().clone() } else { Path::open(edges) }
}
