//! What stops a joint or an aid, as data; worded elsewhere.

use crate::finding::{Degrees, data, problems};
use crate::units::{Angle, Length};

/// How a tenon leaves its landing, and what was found that does.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum OffLanding {
    /// The first part does not lie on the second there.
    Apart {
        /// The first part.
        from: String,
        /// The second.
        into: String,
    },
    /// A place given by hand: no place that can be written does on a landing of this length, of which a tenon takes so much.
    NoPlace {
        /// Length of the landing there.
        landing: Length,
        /// What the tenon takes of it.
        takes: Length,
    },
    /// A place given by hand: from the smallest to the largest it lies on the landing.
    Beside,
    /// A place given by hand: from the smallest to the largest the joint can be made.
    Tried,
    /// The hole of a turned leg opens past the edge of a part; what was tried, if anything was.
    Hole {
        /// The joint's name.
        joint: String,
        /// The label of the part.
        board: String,
        /// What was tried.
        moved: Option<SetIn>,
    },
}

/// What would let a part hold the hole of a turned leg.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct SetIn {
    /// The leg so much farther in along the piece.
    pub along: Option<Length>,
    /// So much across it.
    pub across: Option<Length>,
    /// A tenon of at most this.
    pub tenon: Option<Length>,
}

/// How a tenon leaves the end on which it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum OffEnd {
    /// It is set too far from the face side.
    Distance,
    /// It is too thick.
    Thickness,
    /// It is too thick, as tried for its depth.
    ThicknessAtDepth,
    /// Of a glue line: set too far from the face side.
    GlueDistance(Length),
    /// Of a glue line: too thick.
    GlueThickness,
}

/// In which mortise a tenon is too long.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum TooLong {
    /// A blind one, which comes out of the board by a surface.
    ComesOut {
        /// The label of the board.
        board: String,
        /// The name of the surface.
        surface: String,
        /// The tenon.
        tenon: TenonKind,
    },
    /// One in the edge of a board beside a glue line; depths that do, where some do.
    GlueLine(Option<[Length; 2]>),
}

/// How the length of a tenon stands in the file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum TenonKind {
    /// By the depth of a turned leg's hole.
    Turned,
    /// By the length of a fixed tenon, so much less than the depth.
    Fixed(Length),
    /// By the length or the depths of a loose one.
    Loose,
}

/// What there is room for in place of so many tenons.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Fewer {
    /// Nothing was tried.
    Untried,
    /// So many, set so far apart.
    Apart(Length, u32),
    /// The largest count.
    Count,
    /// For none.
    None,
}

/// Why two parts do not meet.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum NoMeeting {
    /// The first meets nothing.
    Nothing,
    /// The two are named the wrong way round.
    Reversed,
    /// The first meets others.
    Others(Vec<String>),
}

/// What leans nowhere, so that no aid is wanted.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Square {
    /// A cut of a part, or every one.
    Cut(Option<String>, String),
    /// A clamp along the first on the second.
    Clamp(String, String),
    /// A part under the top.
    Plumb(String),
}

/// What does without a wedge that is too steep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Instead {
    /// A tilted blade.
    TiltedBlade(Angle),
    /// A saw by hand: no blade tilts so far.
    ByHand(Angle),
    /// The mitre fence.
    MitreFence,
    /// The pattern's line.
    Line,
}

data!(OffLanding, OffEnd, TooLong, Fewer, NoMeeting, Square, Instead);

problems! {
    /// About where tenons sit.
    pub(crate) enum SeatProblem {
        /// The tenon lies in its joint.
        Stop "tenon-along-the-joint" AlongTheJoint {}
        /// The tenon leaves its landing.
        Stop "tenon-off-the-landing" OffLanding {
            how: OffLanding, at: Option<Length> as "at", smallest: Option<Length> as "smallest",
            largest: Option<Length> as "largest", beyond: Option<Length> as "beyond",
        }
        /// The tenon leaves its end: what it takes of it, and how far the end reaches.
        Stop "tenon-off-the-end" OffEnd { how: OffEnd, takes: Length, through: Length, largest: Length as "largest" }
        /// A slanting mortise has no depth at one side.
        Stop "mortise-too-shallow" TooShallow {
            board: String, turned: bool, depth: Length as "depth", smallest: Length as "smallest",
        }
        /// A blind mortise comes out; straight ahead it could be so deep.
        Stop "tenon-longer-than-part" TooLong {
            how: TooLong, depth: Length as "depth", largest: Length as "largest", ahead: Option<Length> as "ahead",
        }
        /// A through tenon comes out by two surfaces.
        Stop "through-a-corner" ThroughACorner { board: String, turned: bool }
        /// A mortise is on a curve.
        Stop "mortise-on-a-curve" OnACurve { board: String }
        /// So many tenons have no room.
        Stop "tenons-do-not-fit" DoNotFit {
            landing: Length, margin: Option<Length>, spacing: Option<Length>, room: Length as "room", each: Length as "each",
            count: usize as "count", largest: u32 as "largest", fewer: Fewer,
        }
        /// The top has no glue lines.
        Stop "no-glue-lines" NoGlueLines {}
        /// Glue lines have loose tenons.
        Stop "fixed-tenon-in-glue-line" FixedInGlueLine {}
        /// Fields of a joint in a glue line that say nothing there.
        Note "ignored-in-glue-line" IgnoredInGlueLine { field: &'static str, goes: &'static str }
        /// The joint's parts do not meet.
        Stop "parts-do-not-meet" PartsDoNotMeet { from: String, into: String, why: NoMeeting }
        /// An end would have both tenon and mortise.
        Stop "tenon-on-both-ends" BothEnds {}
    }
}

problems! {
    /// About aids.
    pub(crate) enum AidProblem {
        /// A square block would do.
        Stop "nothing-leans" NothingLeans { what: Square }
        /// There is no top.
        Stop "no-top" NoTop {}
        /// Nothing stands under the top; whether there is anything else.
        Stop "nothing-under-top" NothingUnderTop { has_base: bool }
        /// A part does not stand under the top.
        Stop "not-under-top" NotUnderTop { part: String, under: Vec<String> }
        /// A joint cuts no mortise into a surface.
        Stop "no-mortise" NoMortise { joint: String, part: Option<String> }
        /// No joint has the name.
        Stop "unknown-joint" UnknownJoint { joint: String, near: Option<String>, known: Vec<String> }
        /// A part lies too flat for a drill; those that do not.
        Stop "aid-too-steep" TooFlat { part: String, resultant: Angle as "resultant", heads: Vec<String> }
        /// A part has no such cut.
        Stop "unknown-cut" UnknownCut { part: String, cut: String, near: Option<String>, known: Vec<String> }
        /// A caul is longer than the wood under it.
        Warn "caul-off-the-wood" CaulOffTheWood { part: String, given: Length as "given", largest: Length as "largest" }
        /// A caul tips over.
        Warn "caul-narrow" CaulNarrow { thick: Length, given: Length as "given", least: Length as "least" }
        /// A hole is not that of its tenon.
        Warn "hole-unlike-tenon" HoleUnlikeTenon { part: String, given: Length as "given", tenon: Length as "tenon" }
        /// A part slides off its wedge.
        Warn "wedge-too-steep" WedgeTooSteep {
            wedge: String, angle: Angle as "angle", largest: Degrees as "largest", instead: Instead,
        }
    }
}
