//! What the numbers of a piece cannot make, as data; worded elsewhere.

use crate::finding::{Degrees, Offered, Ratio, data, problems};
use crate::units::{Angle, Length};

/// The tongue of a breadboard end and the wood that it leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct TongueWall {
    /// Which size of the tongue leaves it.
    pub size: TongueSize,
    /// How much there is of the wood.
    pub whole: Length,
    /// How much each wall should be.
    pub least: Length,
    /// How much there should be of the wood, where no tongue that is of any use does.
    pub larger: Option<Length>,
}

/// A size of a tongue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum TongueSize {
    /// Its depth, of the end piece's width.
    Depth,
    /// Its thickness, of the top's.
    Thickness,
}

/// What of a breadboard end does not fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum NoEnd {
    /// The tongue leaves no wood.
    Wall(TongueWall),
    /// The end pieces take too much of the length.
    Width,
    /// The pins are too thick for the tongue.
    Pin,
    /// The shape of the top leaves no room for a tongue; a depth that does, where one does.
    Shape(Option<Length>),
}

/// Which legs cross.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LegsCross {
    /// The heads of a frame's legs.
    Heads,
    /// Their feet.
    Feet,
    /// All four, in the middle of the base.
    Middle,
}

/// How a taper leaves its leg.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum TaperBeyond {
    /// It begins below the foot.
    Start,
    /// Its foot is too wide.
    Width,
    /// Its foot is too thick.
    Thickness,
}

/// Which side of a leg an apron's end reaches over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LegSide {
    /// That towards the other leg of its frame.
    Inside,
    /// That towards the apron's face.
    Outside,
}

/// What is wrong with the number of a box's sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum SidesFault {
    /// Too few.
    Few,
    /// Too many.
    Many,
    /// They cannot be butted.
    Butted,
    /// They cannot be measured across.
    Across,
}

data!(TongueWall, NoEnd, LegsCross, LegSide, TaperBeyond, SidesFault);

problems! {
    /// About numbers that no piece can have.
    pub(crate) enum NumberProblem {
        /// A length is not above zero, or below it.
        Stop "too-small" Small { what: String, given: Length as "given", above: bool }
        /// A length is a slip of the pen.
        Stop "too-large" Large { what: String, given: Length as "given", most: Length as "most" }
        /// An angle cannot be sawn.
        Stop "too-steep" Steep { what: String, given: Angle as "given", most: Degrees as "most" }
    }
}

problems! {
    /// About whole pieces and their boards.
    pub(crate) enum PieceProblem {
        /// The cuts take all of a part.
        Stop "nothing-left" NothingLeft { part: String }
        /// The top is as thick as the piece is high.
        Stop "top-thicker-than-height" TopTooThick { thickness: Length, height: Length as "height" }
        /// There is no top to stand over the base.
        Stop "overhang-without-top" NoTopToOverhang {}
        /// The overhang leaves no base.
        Stop "overhang-too-large" OverhangTooLarge { top: Length, overhang: Length as "overhang" }
        /// A part stands out from under the top.
        Warn "out-from-under-top" OutFromUnderTop { part: String, beyond: Length as "beyond" }
        /// Lines of a part do not meet.
        Stop "makes-no-part" NoPart {}
        /// An arc is more than half a circle.
        Stop "rise-too-high" RiseTooHigh { fits: Length as "fits" }
        /// A batten does not spring.
        Stop "batten" NoBatten {}
        /// A part, or the sides of a box, have no length.
        Stop "no-length" NoLength { part: Option<String>, short: Option<Length> as "short" }
        /// Two boards are in the same place.
        Stop "boards-clash" Clash {
            one: String,
            other: String,
            depth: Length as "depth",
            at: Option<[Length; 3]>,
            /// JSON pointers of their numbers.
            between: Offered<[String; 2]>,
        }
        /// A cut does not touch its board.
        Warn "cut-misses" CutMisses { cut: String }
        /// A board is below the floor.
        Stop "below-floor" BelowFloor { part: String, below: Length as "below" }
        /// A board's face does not point away from it.
        Stop "face-along-board" FaceAlongBoard { sine: Ratio as "sine" }
        /// A cut runs along a face.
        Stop "cut-along-face" CutAlongFace {}
        /// A cut passes what is to be kept.
        Stop "cut-through-middle" CutThroughMiddle {}
        /// A cut is made against what is not there.
        Stop "against-nothing" AgainstNothing {}
        /// A cut is made against a curve.
        Stop "against-curve" AgainstCurve {}
        /// The surface of a part with its joints does not close: the model shows it as sawn.
        Warn "shown-as-sawn" ShownAsSawn { part: String }
        /// The volume of a part with its joints is not known: that of the part as sawn is told.
        Warn "weighed-as-sawn" WeighedAsSawn { part: String }
    }
}

problems! {
    /// About a top and its breadboard ends.
    pub(crate) enum TopProblem {
        /// A breadboard end does not fit.
        Stop "breadboard-does-not-fit" NoEnd {
            how: NoEnd, given: Option<Length> as "given", left: Option<Length> as "left", fits: Length as "fits",
        }
        /// The wood about a tongue is thin.
        Warn "breadboard-walls-thin" ThinWalls {
            wall: TongueWall, given: Length as "given", left: Length as "left", fits: Length as "fits",
        }
        /// An even number of pins.
        Stop "no-middle-pin" NoMiddlePin { pins: u32 }
        /// A round top is not as wide as it is long.
        Stop "round-top" NotRound { width: Length as "width", fits: Length as "fits" }
        /// Edges do not meet.
        Stop "top-edges-miss" EdgesMiss {}
        /// Edges cross.
        Stop "top-edges-cross" EdgesCross {}
    }
}

problems! {
    /// About leaning frames.
    pub(crate) enum FrameProblem {
        /// An apron cannot follow the legs.
        Stop "apron-finds-no-lie" ApronFindsNoLie {}
        /// An apron reaches below the feet.
        Stop "apron-deeper-than-leg" ApronTooDeep { drop: Length, depth: Length as "depth", below: Length as "below" }
        /// The leg's curve, hollow below zero, lies off the apron.
        Note "apron-follows-chord" ApronFollowsChord { gap: Length as "gap" }
        /// The apron stands out of a hollow edge.
        Note "apron-proud" ApronProud { proud: Length as "proud", hides: Length as "hides" }
        /// The inset is off between unequal frames.
        Note "apron-inset-off" ApronInsetOff { frames: [String; 2], error: Length as "error" }
        /// An apron whose slope is told leaves the leg's edge at its lower arris, inwards above zero; the edge runs at an angle there.
        Note "apron-leaves-edge" ApronLeavesEdge { left: Length as "left", slope: Angle as "slope", edge: Angle as "edge" }
        /// The apron misses the leg.
        Stop "apron-misses-leg" ApronMissesLeg { beyond: Length as "beyond", landed: Ratio as "landed" }
        /// The apron reaches beyond the leg.
        Warn "apron-off-leg" ApronOffLeg { beyond: Length as "beyond", over: LegSide }
        /// The stretcher has no rail.
        Stop "stretcher-without-rail" NoRail {}
        /// Nothing is left between two frames, each so thick.
        Stop "frames-meet" FramesMeet { frame: Length, length: Length as "length_at_top" }
        /// Legs cross.
        Stop "legs-cross" LegsCross {
            which: LegsCross, width: Option<Length> as "width", room: Option<Length> as "room",
            past: Option<Length> as "past",
        }
        /// The edges of one leg cross, or the legs of a frame.
        Stop "leg-edges-cross" LegEdgesCross { own: bool, up: Length as "up", over: Length as "over" }
        /// The rails overlap.
        Stop "rails-overlap" RailsOverlap { over: Length as "over" }
        /// A rail stands out of the leg.
        Stop "rail-thicker-than-leg" RailTooThick {
            rail: String, thickness: Length, leg: Length, stands_out: Length as "stands_out",
        }
        /// A rail is below the floor.
        Stop "rail-below-floor" RailBelowFloor { rail: String, below: Length as "below" }
        /// The stretcher leaves its rail: from where to where it stands, and what height and depth (of a flat one thickness) fill
        /// what the rail offers.
        Stop "stretcher-off-rail" StretcherOffRail {
            frame: String, stands: [Length; 2], flat: bool, fills: Option<[Length; 2]>, beyond: Length as "beyond",
            from: Length as "offered_from", to: Length as "offered_to",
        }
    }
}

problems! {
    /// About splayed legs.
    pub(crate) enum LegsProblem {
        /// A taper leaves the leg.
        Stop "taper-outside-leg" TaperOutside { how: TaperBeyond, given: Length as "given", most: Length as "most" }
        /// End aprons stand out.
        Stop "end-apron-proud" EndApronProud { reveal: Length as "reveal", lost: Length as "lost" }
        /// Aprons meet behind a leg, reaching so far beyond it.
        Stop "aprons-meet" ApronsMeet { long: Length, end: Length, over: Length as "over" }
        /// An end misses the leg.
        Stop "end-misses-leg" EndMissesLeg { part: String, beyond: Length as "beyond", landed: Ratio as "landed" }
        /// An end reaches beyond the leg.
        Warn "end-off-leg" EndOffLeg { part: String, beyond: Length as "beyond" }
        /// A taper begins in a joint.
        Stop "taper-in-joint" TaperInJoint { part: String, from: Length as "from", end: Length as "end" }
        /// The middle stretcher leaves the end one.
        Stop "stretcher-off-stretcher" OffStretcher { beyond: Length as "beyond" }
        /// A slope is told of an apron that lies along plane legs anyway.
        Warn "apron-slope-unused" SlopeUnused {}
    }
}

problems! {
    /// About splayed boxes.
    pub(crate) enum BoxProblem {
        /// No box has so many sides.
        Stop "sides" Sides { fault: SidesFault, sides: u32 as "sides" }
        /// Sides so thick, or so deep, meet.
        Stop "sides-meet" SidesMeet {
            thickness: Option<Length> as "thickness", depth: Option<Length> as "depth", most: Length as "most",
        }
        /// Square edges stand over.
        Note "square-edges-overhang" SquareEdges { overhang: Length as "overhang" }
    }
}
