//! What is wrong with parts, tools and paper as the file has them, as data; worded elsewhere.

use super::outline_problem::Spot;
use crate::finding::{Names, Offered, Ratio, data, problems};
use crate::geometry::MirrorLine;
use crate::model::BadPaper;
use crate::units::{Angle, Length};

/// What is taken out of a part inside its outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum OpeningKind {
    /// A round hole.
    Hole,
    /// A slot with round ends.
    Slot,
}

/// What lies outside a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum OutsideEnd {
    /// The centre of a hole.
    Hole,
    /// An end of a slot, by its field.
    Slot(&'static str),
}

/// What lies on a part of which half is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LaidKind {
    /// A round hole.
    Hole,
    /// A slot.
    Slot,
    /// An opening.
    Opening,
    /// A line, a cross or words.
    Mark,
}

/// How something lies across the mirror line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Across {
    /// All of it lies in the other half.
    Wholly,
    /// It runs over the line.
    Partly,
    /// It is made once, and a half template ends at the line.
    Once,
}

/// How a drawing holds more than one shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum SeveralShapes {
    /// They lie apart.
    Apart,
    /// One lies inside an opening.
    InAnOpening,
    /// An opening has openings of its own.
    OfAnOpening,
}

/// How one opening lies to another that it does not meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Nesting {
    /// Inside it.
    Inside,
    /// Round it.
    Around,
}

/// What a hole or a slot lies beside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum WallTo {
    /// The edge of the part.
    Edge,
    /// An opening in it.
    Opening,
}

/// Two fields that say the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum TwoSizes {
    /// The length or the width, at the top and at the floor.
    Span(&'static str),
    /// The side of a box and what it measures across.
    Box,
}

/// The tools of a shop that have names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ToolKind {
    /// A cutter.
    Cutter,
    /// A guide collar.
    Collar,
}

data!(OpeningKind, OutsideEnd, LaidKind, Across, SeveralShapes, Nesting, WallTo, TwoSizes, ToolKind, BadPaper);

problems! {
    /// About parts drawn directly.
    pub(crate) enum PartProblem {
        /// A hole or slot lies outside.
        Stop "outside-the-part" Outside { end: OutsideEnd, outside: Length as "outside" }
        /// A hole or slot breaks out of the edge.
        Stop "breaks-out" BreaksOut {
            what: OpeningKind, may_shrink: bool, out_by: Length as "out_by", largest: Length as "largest",
        }
        /// A hole or slot runs into an opening, or lies inside it where there is no wood.
        Stop "runs-into-opening" IntoOpening { what: OpeningKind, inside: bool }
        /// A hole or slot touches what it lies beside.
        Warn "no-wall" NoWall { what: OpeningKind, to: WallTo, wall: Length as "wall" }
        /// Two of them run together.
        Warn "openings-run-together" RunTogether {
            what: OpeningKind, other: OpeningKind, overlap: Length as "overlap",
        }
        /// Something of a half lies across its mirror line.
        Stop "across-mirror-line" AcrossMirror {
            what: LaidKind, how: Across, line: MirrorLine, across: Length as "across", once_does: bool,
        }
        /// What is mirrored nowhere is to be made once.
        Warn "once-without-half" OnceAlone {}
        /// A drawing holds several shapes.
        Stop "several-shapes" SeveralShapes { how: SeveralShapes }
        /// An opening leaves its part, at a place where it meets the edge.
        Stop "opening-leaves-part" OpeningLeaves { at: Option<Spot> }
        /// Two openings meet.
        Stop "openings-meet" OpeningsMeet { at: Spot }
        /// An opening lies inside another or round it.
        Stop "opening-in-opening" OpeningNested { how: Nesting }
        /// A board of the piece has openings.
        Stop "board-with-openings" BoardWithOpenings {}
        /// A line has no length.
        Stop "line-without-length" NoLine {}
        /// An edge is named twice.
        Stop "edge-twice" EdgeTwice {}
        /// A collar does not let its cutter through.
        Stop "collar-too-small" CollarSmall { cutter: String, cuts: Length, collar: String, wide: Length }
        /// The shop has no such tool.
        Stop "unknown-tool" UnknownTool { what: ToolKind, name: Option<String>, tools: Offered<Names> }
        /// The grain of a part is not given.
        Stop "grain-missing" NoGrain {}
        /// Grain along the edge leaves no room below end grain.
        Stop "grain-thresholds" GrainThresholds { along: Angle, end: Angle }
        /// A top's edge profile is given twice.
        Stop "two-profiles" TwoProfiles {}
        /// A sleeve does not make its collar larger.
        Stop "sleeve-too-small" SleeveSmall { large: String, diameter: Length, small: String }
    }
}

problems! {
    /// About the shop and the piece as written.
    pub(crate) enum TextProblem {
        /// The fence's angles run backwards.
        Stop "angles-reversed" AnglesReversed { from: Angle, to: Angle }
        /// Margins leave too little of a sheet with a name, or of the roll.
        Stop "margins-too-wide" MarginsWide {
            sheet: Option<String>, side: Length, margin: Length as "margin", largest: Length as "largest",
        }
        /// An overlap is more than half of what is printed.
        Stop "overlap-too-wide" OverlapWide {
            sheet: Option<String>, printed: Length, overlap: Length as "overlap", largest: Length as "largest",
        }
        /// Which side of a bar a reading was taken for: that in inches, or that in millimetres.
        Note "bar-taken-as" BarTaken { inches: bool, reading: Length, factor: Ratio as "factor" }
        /// There is no such paper.
        Stop "unknown-paper" UnknownPaper { why: BadPaper }
        /// There is nothing to draw.
        Warn "nothing-to-draw" Nothing {}
        /// The tenon of a turned leg, or else its foot, is thicker than the leg.
        Stop "thicker-than-leg" ThickerThanLeg { tenon: bool, given: Length as "given", largest: Length as "largest" }
        /// The base has no board.
        Stop "no-boards" NoBoards {}
        /// A field has no effect on an oval top, or a round one.
        Warn "no-effect" NoEffect { field: &'static str, oval: bool }
        /// Two fields exclude each other.
        Stop "two-sizes" TwoSizes { of: TwoSizes }
        /// Two fields give one angle.
        Stop "two-angles" TwoAngles {}
        /// A flat stretcher has bevels.
        Stop "bevels-of-flat-stretcher" FlatBevels {}
        /// No surface of a board is named.
        Stop "unknown-surface" UnknownSurface {}
    }
}

problems! {
    /// About joints as written.
    pub(crate) enum TenonProblem {
        /// A tenon is thicker than wide.
        Stop "tenon-sizes" ThickerThanWide { width: Length, thickness: Length }
        /// Places are given by hand and by rule.
        Stop "two-spreads" TwoSpreads {}
        /// No place is given.
        Stop "no-places" NoPlaces {}
        /// A fixed tenon has a mortise in its own part.
        Stop "depths-of-fixed-tenon" DepthsOfFixed {}
        /// The second depth of a mortise that goes through says nothing.
        Note "ignored-depth" SecondDepth { first: Length }
        /// A tenon does not fit its mortises, which are so deep together, with the clearance that is given; the length that does.
        Stop "tenon-too-long" TooLong {
            together: Length, clearance: Option<Length>, length: Length as "length", largest: Length as "largest",
        }
    }
}
