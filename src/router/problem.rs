//! What is found of routing, as data; worded elsewhere.

use super::blank::BlankFault;
use super::collar::TemplateFault;
use super::held::Held;
use super::profile::ProfileFault;
use crate::finding::{data, problems};
use crate::model::InDrawing;
use crate::units::{Angle, Length};

/// Why there is no template.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NoTemplate {
    /// The shape is narrower than the tools.
    TooNarrow,
    /// The collar does not let the cutter through.
    CollarTooSmall,
    /// Where the shape is just as wide as what the collar stands off on both sides nothing is left.
    Vanishes,
    /// None would be true.
    Untrue,
    /// The edge has no ends.
    NoEnds,
    /// Two edges meet.
    EdgesMeet,
    /// A size is not above 0.
    BadSize,
    /// The edge, run on, meets itself or the template's back.
    MeetsItself,
}

impl From<TemplateFault> for NoTemplate {
    fn from(fault: TemplateFault) -> Self {
        match fault {
            TemplateFault::TooNarrow => NoTemplate::TooNarrow,
            TemplateFault::Vanishes => NoTemplate::Vanishes,
            TemplateFault::CollarTooSmall | TemplateFault::NoDiameter => NoTemplate::CollarTooSmall,
            TemplateFault::Shape(_) => NoTemplate::Untrue,
        }
    }
}

impl From<BlankFault> for NoTemplate {
    fn from(fault: BlankFault) -> Self {
        match fault {
            BlankFault::NoEnds => NoTemplate::NoEnds,
            BlankFault::EdgesMeet => NoTemplate::EdgesMeet,
            BlankFault::BadSize => NoTemplate::BadSize,
            BlankFault::Shape(_) => NoTemplate::MeetsItself,
        }
    }
}

/// A tool that does not follow an outline.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Tool {
    /// A collar and its cutter.
    Collar,
    /// A cutter, by its name.
    Cutter(String),
    /// The bearing of a cutter, by its name.
    Bearing(String),
}

/// Where a tool does not follow an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Unreached {
    /// In a curve of a radius.
    Curve(Length),
    /// In a whole opening.
    Opening,
    /// In a narrow place.
    Narrow,
}

/// What cures that a tool does not follow an outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ToolCure {
    /// A smaller cutter.
    Cutter,
    /// A smaller collar and cutter.
    Collar,
    /// A cutter and bearing no larger than the largest.
    Bearing,
    /// Paring.
    Paring,
}

/// What gives a template's tongues room for screws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum ScrewRoom {
    /// A longer run on.
    RunOn(Length),
    /// A deeper hold.
    Hold(Length),
    /// Screws nearer to the cutter.
    Clear(Length),
    /// Run on and hold together.
    Both(Length, Length),
}

/// What a profile meets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum InTheWay {
    /// An opening or a hole.
    Hole,
    /// Itself, from the edge across.
    Itself,
    /// The end of the part.
    End,
}

/// How two profiles of one edge want the same wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum ProfilesMeet {
    /// Both are on the face.
    OnFace,
    /// Both are on the far side.
    OnFarSide,
    /// They are too deep together: this one, the other, and the part's thickness.
    TooDeep([Length; 3]),
}

/// What is bevelled that a template follows.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Bevelled {
    /// One edge: its name, the label of its board, and the side from which wood is still to come off.
    Edge(String, String, &'static str),
    /// Edges of a part that is followed all round.
    AllRound(Vec<String>),
}

data!(Held, NoTemplate, Tool, Unreached, ToolCure, ScrewRoom, InTheWay, ProfilesMeet, Bevelled, ProfileFault);

problems! {
    /// About templates.
    pub(crate) enum TemplateProblem {
        /// There is none.
        Stop "no-template" NoTemplate { why: NoTemplate }
        /// An outline cannot be checked with a cutter.
        Warn "cannot-check-cutter" CannotCheck { why: NoTemplate }
        /// A tool does not follow an outline.
        Warn "tool-does-not-fit" ToolDoesNotFit {
            tool: Tool, at: Unreached, across: Option<Length> as "across", depth: Length as "depth", x: Length as "x",
            y: Length as "y", drawn: Option<InDrawing>,
            /// The largest that does there.
            largest: Option<Length> as "largest",
            /// The largest that does wherever one is wanted.
            largest_for_all: Option<Length> as "largest_for_all",
            cure: ToolCure,
        }
        /// More places are left.
        Note "more-places" MorePlaces { more: usize }
        /// Corners are rounded off; by what radius they had better be drawn.
        Note "corner-rounded-off" RoundedOff {
            corners: usize, radius: Length, depth: Length as "depth", x: Length as "x", y: Length as "y",
            drawn: Option<InDrawing>,
        }
        /// Corners are left round, by a template's cutter or by one with a name.
        Note "corner-left-round" LeftRound {
            cutter: Option<String>, corners: usize, depth: Length as "depth", x: Length as "x", y: Length as "y",
            drawn: Option<InDrawing>,
        }
        /// The bearing is not of the cutter's diameter; where it follows a template, the diameter that is wanted.
        Warn "bearing-differs" BearingDiffers {
            cutter: String, by: Length, wanted: Option<Length>, step: Option<Length> as "step",
        }
        /// There is no bearing.
        Warn "no-bearing" NoBearing { cutter: String, diameter: Length }
        /// A cutter does not enter holes.
        Note "hole-to-drill" HoleToDrill { cutter: String, holes: usize, diameter: Length as "diameter" }
        /// A cutter is too short; whether for a template.
        Warn "cutter-too-short" CutterShort {
            cutter: String, cuts: Length, part: Length, on_template: bool, needed: Length as "needed",
            short_by: Length as "short_by",
        }
        /// A cutter does not reach far enough below the router.
        Warn "cutter-does-not-reach" CutterNoReach {
            cutter: String, reach: Length, part: Length, needed: Length as "needed", short_by: Length as "short_by",
        }
        /// A collar stands out below its template.
        Warn "collar-stands-proud" CollarProud {
            collar: String, projection: Length as "projection", thickness: Length as "thickness",
        }
        /// An inlay loses its shape; the radii with which it does not.
        Warn "inlay-loses-shape" InlayLoses {
            places: usize, outside: Length, inside: Length, depth: Length as "depth", x: Length as "x", y: Length as "y",
            drawn: Option<InDrawing>,
        }
        /// A plug is too large in places.
        Note "plug-to-ease" PlugToEase {
            places: usize, depth: Length as "depth", x: Length as "x", y: Length as "y", drawn: Option<InDrawing>,
        }
        /// A plug is too small, below zero too large.
        Warn "inlay-gap" InlayGap { gap: Length as "gap" }
        /// What a template follows is bevelled.
        Warn "bevelled-edge" Bevelled { what: Bevelled, bevel: Option<Angle> as "bevel", left: Option<Length> as "left" }
        /// Tongues have no room for screws.
        Warn "no-room-for-screws" NoScrews { held: Held, cures: Vec<ScrewRoom> }
        /// An edge ends within the part, and what the template runs on passes into it, at one end or at both.
        Warn "run-on-in-part" RunOnInPart { depth: Length as "depth", both: bool }
        /// A piece in the middle falls out.
        Note "loose-island" LooseIsland {
            size: [Length; 2], pieces: usize as "pieces", x: Length as "x", y: Length as "y",
        }
        /// A template is in pieces, or open where it should not be; by how much the diameters of collar and cutter may differ so that
        /// it is sound.
        Stop "template-falls-apart" FallsApart { pieces: usize as "pieces", size: [Length; 2], most: Length as "most" }
        /// Nothing is left of a template where the part is just so wide, and the same.
        Stop "template-vanishes" Vanishes { across: Length as "across", most: Length as "most" }
        /// A template hangs together by less than it needs; and the same.
        Warn "template-is-thin" ThinTemplate { least: Length, most: Length as "most" }
        /// A saw line leaves out places.
        Note "saw-line-left-out" SawLineLeftOut {
            is_opening: bool, at: [Length; 2], drawn: Option<InDrawing>, distance: Length, places: usize as "places", largest: Length as "largest",
        }
    }
}

problems! {
    /// About edges.
    pub(crate) enum EdgeProblem {
        /// A batten runs straight.
        Note "flat-in-curve" Flat { length: Length as "length", x: Length as "x", y: Length as "y" }
        /// A batten bends sharply.
        Note "bump-in-curve" Bump { length: Length as "length", x: Length as "x", y: Length as "y" }
        /// A batten turns from hollow to round.
        Note "curve-turns" Turns { length: Length as "length", x: Length as "x", y: Length as "y" }
        /// A profile cannot be cut.
        Stop "profile-does-not-fit" NoProfile { why: ProfileFault }
        /// A profile reaches too far in.
        Stop "profile-too-wide" TooWide {
            meets: InTheWay, most: Length, reaches_in: Length as "reaches_in", room: Length as "room",
        }
        /// A profile leaves a knife's edge.
        Warn "knife-edge" KnifeEdge {
            nothing: bool, least: Length, left: Length as "left", deepest: Length as "deepest",
        }
        /// Two profiles want the same wood; where the other stands.
        Stop "profiles-meet" ProfilesMeet {
            how: ProfilesMeet, other: String, over: Option<Length> as "over", deepest: Option<Length> as "deepest",
        }
    }
}
