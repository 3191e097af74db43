//! What is routed by a part.

use super::problem::Problem;
use super::profile::EdgeProfile;
use super::shop::{Collar, Cutter};
use crate::finding::{Finding, Names, Offered, Place, nearest};
use crate::geometry::Path;
use crate::units::{Angle, Length};

/// What is routed on a part of the piece; which edges it has is known when the piece is solved.
#[derive(Debug, Clone)]
pub struct PartRouting {
    /// The part's id.
    pub id: String,
    /// Where it stands in the file.
    pub place: Place,
    /// What is asked for.
    pub routing: Routing,
}

/// What a part says of its routing.
#[derive(Debug, Clone, Default)]
pub struct Routing {
    /// The edges of its outline as drawn, before corners are rounded; a half's edge that ends on the mirror line goes on
    /// beyond it. None of a whole shape.
    pub edges: Vec<DrawnEdge>,
    /// The templates asked for.
    pub templates: Vec<Template>,
    /// The cutter that is to follow the outline.
    pub check_cutter: Option<CutterTool>,
    /// Whether a comb shows how its curves bend.
    pub comb: bool,
    /// Whether a gauge is drawn for every corner radius.
    pub gauges: bool,
    /// What is worked along its edges.
    pub profiles: Vec<EdgeToProfile>,
    /// From which angles on the grain is marked along the edge, where it is; the pattern then has a grain.
    pub grain_runs: Option<GrainSettings>,
}

/// An edge profile and where it runs.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeToProfile {
    /// Where it stands in the file.
    pub place: Place,
    /// The edge; all of them where there is none.
    pub edge: Option<EdgeChoice>,
    /// The profile.
    pub profile: EdgeProfile,
}

/// From which angles on the grain counts, and which way up the part lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GrainSettings {
    /// Grain that meets the edge at less than this is along it. Default 4° (1 in 14): straight boards wander as much over
    /// their own length (common practice, no source).
    pub along: Angle,
    /// Grain that meets the edge at more than this is end grain. Default 60°: from there on fibres are cut off rather than
    /// lifted, and break away only where the cutter leaves the wood (common practice, no source).
    pub end: Angle,
    /// Shorter runs are not marked. Default 10 mm: the router is past them before it could be stopped (common practice, no
    /// source).
    pub shortest: Length,
    /// Which way the drawn face lies under a router in the hand. Default up.
    pub face: FaceWay,
}

impl Default for GrainSettings {
    fn default() -> Self {
        let degrees = Angle::from_degrees;
        GrainSettings { along: degrees(4.0), end: degrees(60.0), shortest: Length::from_mm(10.0), face: FaceWay::Up }
    }
}

/// Which way the drawn face of a part lies under a router in the hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FaceWay {
    /// Towards the router.
    Up,
    /// Away from it.
    Down,
}

/// The side of a part on which a template lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LiesOn {
    /// The drawn face.
    Face,
    /// The far side.
    Far,
}

/// An edge of the outline, named or counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EdgeChoice {
    /// By the number of the corner at which it arrives, from 1.
    Corner(u32),
    /// By its name.
    Name(String),
}

/// An edge of an outline, from corner to corner.
#[derive(Debug, Clone)]
pub struct DrawnEdge {
    /// Its name.
    pub name: Option<String>,
    /// Index of the corner at which it arrives.
    pub corner: usize,
    /// Its run, as drawn.
    pub path: Path,
    /// Of a batten, how often the points that hold it turn from one side to the other: so often the curve is meant to.
    pub batten_turns: Option<usize>,
}

/// A cutter with its name in the shop.
#[derive(Debug, Clone, PartialEq)]
pub struct CutterTool {
    /// Its name.
    pub name: String,
    /// Its sizes.
    pub cutter: Cutter,
}

/// A guide collar with its name in the shop.
#[derive(Debug, Clone, PartialEq)]
pub struct CollarTool {
    /// Its name.
    pub name: String,
    /// Its sizes.
    pub collar: Collar,
}

/// On which side of the finished line the wood is cut away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// Round the outside of a part: what lies outside the line is cut away.
    Outside,
    /// Round the inside of an opening or recess: what lies inside the line is cut away.
    Inside,
}

/// A template that a pattern asks for.
#[derive(Debug, Clone)]
pub struct Template {
    /// Where it stands in the file.
    pub place: Place,
    /// What it is.
    pub kind: TemplateKind,
    /// Thickness of its own board.
    pub thickness: Option<Length>,
}

/// The kinds of template.
#[derive(Debug, Clone)]
pub enum TemplateKind {
    /// For a guide collar.
    Collar {
        /// What it cuts.
        work: Work,
        /// The collar.
        collar: CollarTool,
        /// The cutter, smaller than the collar.
        cutter: CutterTool,
    },
    /// For recess and plug of an inlay.
    Inlay {
        /// The collar with the sleeve on.
        large: CollarTool,
        /// The bare collar, smaller than that.
        small: CollarTool,
        /// The cutter, smaller than both.
        cutter: CutterTool,
    },
    /// A line to saw along.
    SawLine {
        /// How far outside the finished line.
        distance: Length,
    },
    /// A blank for one edge.
    Blank(Box<BlankTemplate>),
}

/// A blank for a template of one edge or two; sizes that are not given are the usual ones.
#[derive(Debug, Clone)]
pub struct BlankTemplate {
    /// One edge, or the two that it carries; of a pattern they were found.
    pub edges: Vec<EdgeChoice>,
    /// The side of the part on which it lies.
    pub lies_on: LiesOn,
    /// How far the edge runs on past each end.
    pub run_on: Option<Length>,
    /// Room behind the edge.
    pub hold: Option<Length>,
    /// Least distance from a screw's middle to the edge.
    pub clear: Option<Length>,
    /// Diameter of a screw's head.
    pub head: Option<Length>,
    /// Areas that a joint will hide, closed.
    pub hidden: Vec<Path>,
    /// The cutter.
    pub cutter: Option<CutterTool>,
}

/// The edge that is meant, an index.
pub fn edge_of(edges: &[DrawnEdge], choice: &EdgeChoice) -> Option<usize> {
    edges.iter().position(|edge| match choice {
        EdgeChoice::Corner(number) => edge.corner + 1 == *number as usize,
        EdgeChoice::Name(name) => edge.name.as_deref() == Some(name.as_str()),
    })
}

/// That a part has no such edge, and which it has.
pub fn unknown_edge(edges: &[DrawnEdge], choice: &EdgeChoice, place: Place) -> Finding {
    let names: Vec<&str> = edges.iter().filter_map(|edge| edge.name.as_deref()).collect();
    let near = match choice {
        EdgeChoice::Corner(_) => None,
        EdgeChoice::Name(name) => nearest(name, names.iter().copied()).map(str::to_owned),
    };
    let named = Offered(Names { near, all: names.into_iter().map(str::to_owned).collect() });
    Finding::of(Problem::UnknownEdge { choice: choice.clone(), named, of: Offered(edges.len()) }, place)
}
