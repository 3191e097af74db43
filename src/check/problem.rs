//! What the rules find, as data; worded elsewhere.

use crate::board::{Fitting, Mortise};
use crate::finding::{Degrees, data, problems};
use crate::piece::{Hollow, SolvedBoard};
use crate::solid::{Side, Why};
use crate::units::{Angle, Length};

/// A mortise, a tenon or what else a joint makes of a board, by its names.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct MortiseName {
    /// What it is.
    pub what: Why,
    /// The joint's name.
    pub joint: String,
    /// Its number in the joint, from 1.
    pub number: usize,
    /// The label of the board in which it is.
    pub board: String,
}

impl MortiseName {
    pub(super) fn of(board: &SolvedBoard, mortise: &Mortise) -> MortiseName {
        let what = match mortise.fitting {
            Fitting::Standing => Why::Tenon,
            Fitting::Blind | Fitting::Through => Why::Mortise(Side::Into),
        };
        MortiseName { what, joint: mortise.joint.clone(), number: mortise.number, board: board.label.clone() }
    }

    pub(super) fn of_hollow(board: &SolvedBoard, hollow: &Hollow) -> MortiseName {
        match hollow.mortise() {
            Some(mortise) => MortiseName::of(board, mortise),
            None => MortiseName {
                what: hollow.id.why,
                joint: hollow.joint.to_owned(),
                number: hollow.id.number,
                board: board.label.clone(),
            },
        }
    }
}

/// What governs how thick a wall should be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Governs {
    /// A third of the board's thickness.
    Share,
    /// A thickness that is enough in any board.
    Enough,
}

/// A smaller tenon that has its shoulders.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum SmallerTenon {
    /// A thinner round one.
    Round(Length),
    /// A narrower one.
    Width(Length),
    /// A thinner one.
    Thickness(Length),
    /// A narrower and thinner one: width and thickness.
    Both(Length, Length),
    /// None was found.
    Unknown,
}

/// How a mortise that the machine's fence does not reach is cut.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum LyingFlat {
    /// Only against a straight edge.
    Not,
    /// The board and the machine on the bench.
    OnTheBench,
    /// The board on a spacer.
    BoardRaised(Length),
    /// The machine on a spacer.
    MachineRaised(Length),
}

/// How the fence is set for a mortise beyond its angles.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum FenceCure {
    /// It lies on the far side, at this angle.
    FarSide(Angle),
    /// A wedge between it and the face side.
    Wedge(Angle),
}

/// How a mortise deeper than the machine cuts is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum DeeperCut {
    /// From both sides.
    FromBothSides,
    /// From both sides, and by hand in the middle.
    ByHandBetween,
    /// Less deep.
    LessDeep,
}

/// What holds a top fast.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum HeldBy {
    /// Screws; how far the outermost would have to move.
    Screws,
    /// Glue between top and base.
    Glue,
    /// Glue along the whole tongue of a breadboard end.
    TongueGlue,
    /// Tight outer pins of a breadboard end.
    OuterPins,
}

/// In which direction a part is too small for the mortises of its buttons.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ButtonWall {
    /// Through its thickness.
    Behind,
    /// Downwards.
    Below,
}

/// What a profile runs into.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct InProfile {
    /// The name of the edge that is worked.
    pub edge: String,
    /// The label of its board.
    pub board: String,
}

/// How feet stand out.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FeetOut {
    /// By how much.
    pub by: Length,
    /// `ends` or `sides` of the top.
    pub at: &'static str,
}

/// What is tilted by an angle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tilted {
    /// Both leaning frames.
    Frames,
    /// The left one.
    LeftFrame,
    /// The right one.
    RightFrame,
    /// The legs of a leaning frame.
    LegsOfAFrame,
    /// Four legs, as the front view shows them.
    LegsInFront,
    /// Four legs, as the side view shows them.
    LegsAtTheSide,
}

/// A better direction for the grain.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct BetterGrain {
    /// How far the pattern is turned.
    pub turn: Angle,
    /// The direction of the grain then.
    pub angle: Angle,
}

data!(
    MortiseName,
    Governs,
    SmallerTenon,
    LyingFlat,
    FenceCure,
    DeeperCut,
    HeldBy,
    ButtonWall,
    InProfile,
    FeetOut,
    Tilted,
    BetterGrain
);

problems! {
    /// About the wood around mortises and tenons.
    pub(crate) enum JointProblem {
        /// A wall between a mortise and a surface is thin.
        Warn "thin-wall" ThinWall {
            mortise: MortiseName, surface: String, wall: Length as "wall", wanted: Length as "wanted", governs: Governs,
        }
        /// Two mortises of a board run into each other.
        Warn "mortises-cross" Cross {
            first: MortiseName, second: MortiseName, shared: Length as "shared", may_be_mitred: bool,
        }
        /// The wall between two mortises is thin; below what can be told they touch.
        Warn "thin-wall-between" ThinBetween {
            first: MortiseName, second: MortiseName, wall: Length as "wall", wanted: Length as "wanted", touch: bool,
            governs: Governs,
        }
        /// A tenon takes more than half of its part.
        Warn "tenon-thickness" Thick {
            mortise: MortiseName, thickness: Length as "thickness", largest: Length as "largest", board: Length,
        }
        /// A shoulder is narrow.
        Warn "narrow-shoulder" NarrowShoulder {
            mortise: MortiseName, shoulder: Length as "shoulder", wanted: Length as "wanted", less: Length, cure: SmallerTenon,
        }
        /// The final shape of the top opens a mortise; `by` where it can be told.
        Warn "mortise-cut-open" CutOpen {
            mortise: MortiseName, surface: String, beyond: Length as "beyond", by: Option<Length>, movement: Length as "move",
            from_end: Length as "from_end",
        }
    }
}

problems! {
    /// About how the piece goes together.
    pub(crate) enum AssemblyProblem {
        /// A part goes on neither alone nor with all others at once, in no order that was tried: the angle between the tenons of two
        /// joints by which it goes on, how far the second binds along the first over what stands out of it, and how much more play
        /// each way would do; `None` where the part does not go on along the first, and where no play is enough.
        Warn "joints-bind" Bind {
            part: String, onto: String, first: String, second: String, angle: Angle as "angle",
            bind: Option<Length> as "bind", over: Length as "over", looser: Option<Length> as "looser",
        }
        /// A board without tenons that can go in at no time: the parts that shut it in.
        Warn "part-shut-in" ShutIn { part: String, by: Vec<String> }
        /// An end stretcher that no joint holds, though other parts have joints: the parts against which it ends.
        Warn "stretcher-without-joint" Unjoined { part: String, meets: Vec<String> }
    }
}

problems! {
    /// About what the shop's mortiser reaches.
    pub(crate) enum MachineProblem {
        /// A mortise lies too far from the fence.
        Warn "beyond-the-fence" BeyondFence {
            mortise: MortiseName, from: Length as "from", reach: Length as "reach", sides: [&'static str; 2], flat: LyingFlat,
        }
        /// The fence does not turn so far.
        Warn "fence-angle" FenceAngle {
            mortise: MortiseName, angle: Degrees as "angle", beyond: Degrees as "beyond", far: &'static str, cure: FenceCure,
        }
        /// A mortise leans along its width.
        Warn "lean-along-the-fence" Leans { mortise: MortiseName, angle: Angle as "angle" }
        /// A mortise is too deep.
        Warn "deeper-than-the-machine" TooDeep {
            mortise: MortiseName, depth: Length as "depth", largest: Length as "largest", cut: DeeperCut,
        }
    }
}

problems! {
    /// About how a top is made and held.
    pub(crate) enum TopProblem {
        /// The boards of the glue-up are too narrow together.
        Warn "glue-up-too-narrow" GlueUpNarrow { made: Length as "made", width: Length as "width" }


        /// A tongue is short.
        Warn "breadboard-tongue-short" ShortTongue {
            tongue: Length as "tongue", shoulder: Length as "shoulder", fits: Option<Length>,
        }
        /// The pins of a breadboard end stand too near to each other.
        Warn "pins-too-near" PinsNear {
            pins: u32, pin: Length, tongue: Length, left: Length as "left", wanted: Length, fits: u32 as "fits",
        }
        /// How the top moves is not known.
        Warn "movement-unknown" MovementUnknown {}
        /// A fixing keeps the top from moving: over what width, by how much it would move and what the fixing gives, where known.
        Warn "fixing-blocks-movement" Blocked {
            by: HeldBy, parts: Vec<String>, held: Option<Length> as "held", moves: Option<Length> as "moves",
            gives: Option<Length> as "gives", outermost: Option<Length>,
        }
        /// Nothing lies under the top.
        Warn "nothing-to-fasten-to" NothingUnder {}
        /// The slots leave no wood beyond their ends.
        Warn "slot-leaves-no-wall" SlotWall {
            part: String, wall: Length as "wall", wanted: Length as "wanted", thickness: Length as "thickness",
            screw: Option<Length>, runs_across: bool,
        }
        /// The slots cannot be widened for the heads of the screws: how much wood would be left beside them.
        Warn "screw-head-has-no-seat" HeadSeat {
            part: String, head: Length as "head", wall: Length as "wall", wanted: Length as "wanted", pocket: bool,
        }
        /// A plumb slot or screw hole draws near to a face of a part that leans, or comes out of it; `is_widened` where it is the wide
        /// part for the screw's head.
        Warn "screw-hole-near-face" HoleWall {
            part: String, surface: String, is_widened: bool, wall: Length as "wall", wanted: Length as "wanted", pocket: bool,
        }
        /// The mortises for buttons leave no wood.
        Warn "button-leaves-no-wall" ButtonWall {
            part: String, goes: Length, wall: Length, is: Length as "is", fits: Length as "fits", way: ButtonWall,
        }
    }
}

problems! {
    /// About the shape of parts, and room for people.
    pub(crate) enum ShapeProblem {
        /// A part has short grain.
        Warn "short-grain" ShortGrain {
            part: String, length: Length as "length", width: Length as "width", out: Length as "out",
            field: Option<&'static str>, better: Option<BetterGrain>,
        }
        /// A profile runs into a mortise.
        Warn "profile-in-mortise" ProfileInMortise {
            mortise: MortiseName, of: InProfile, distance: Length as "distance", takes: Length as "takes", may_reach: bool,
        }
        /// A profile runs under a joint.
        Warn "profile-under-joint" ProfileUnderJoint {
            neighbour: String, of: InProfile, distance: Length as "distance", takes: Length as "takes", may_reach: bool,
        }
        /// Feet stand out beyond the top.
        Warn "feet-stand-out" FeetStandOut { out: Vec<FeetOut>, beyond: Length as "beyond" }
        /// Frames or legs are tilted the other way than the name of their angle says, by so much.
        Warn "tilted-the-other-way" OtherWay { what: Tilted, angle: Angle as "angle" }
        /// The sides of a box slope inward, as they may, by so much.
        Note "narrower-above" NarrowerAbove { angle: Angle as "angle" }
        /// A rail, an apron or a stretcher is far thicker than it is deep.
        Warn "thicker-than-deep" ThickerThanDeep { part: String, thickness: Length as "thickness", depth: Length as "depth" }
        /// A rail, an apron or a stretcher is far thicker than a part against which it ends.
        Warn "thicker-than-neighbour" ThickerThanNeighbour {
            part: String, thickness: Length as "thickness", neighbour: String, its: Length as "neighbour",
        }
        /// A leg is wider at its foot than at its head, as the one or the other is cut.
        Note "wider-at-the-foot" WiderFoot { part: String, foot: Length as "foot", head: Length as "head" }
        /// The aprons leave little room for the knees.
        Note "knee-room" KneeRoom { room: Length as "room", short: Length as "short", common: [Length; 2], asked: Length }
    }
}
