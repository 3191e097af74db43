//! What is told of parts that exist already, as data; worded elsewhere.

use super::measured::{FarReading, Unfit};
use super::rescue::{Cost, Rescue};
use super::wood::Wood;
use crate::finding::{Names, Offered, data, problems};
use crate::model::made::MadePart;
use crate::units::{Angle, Length};

/// A part that exists, by its names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MadeName {
    /// What stands on its sheets.
    pub part: String,
    /// The code by which it was made.
    pub code: String,
    /// The copies that are meant; none for all.
    pub only: Vec<String>,
    /// Whether something was measured on it.
    pub measured: bool,
}

/// How a saw is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setting {
    /// The mitre; `None` of an edge, which is ripped along its line.
    pub mitre: Option<Angle>,
    /// The tilt of the blade, above zero where the far side is longer.
    pub bevel: Angle,
}

/// Something that is still to be done to a part that exists.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// Plane a side.
    Plane {
        /// Which.
        side: String,
        /// By how much.
        by: Length,
    },
    /// Plane or rip an edge.
    Edge {
        /// Which.
        edge: String,
        /// From how much to how much, square to it.
        by: [Length; 2],
        /// The same on the face, square to its line there, where it is bevelled.
        on_face: Option<[Length; 2]>,
        /// How the saw is set; `None` where it is square to the face.
        saw: Option<Setting>,
    },
    /// Saw an end.
    Saw {
        /// Which.
        end: String,
        /// From how much to how much, square to the cut.
        by: [Length; 2],
        /// The same on the face, square to its line there, where it is bevelled.
        on_face: Option<[Length; 2]>,
        /// How the saw is set.
        saw: Option<Setting>,
        /// Whether a tenon stands there, so that its shoulder goes back.
        is_shoulder: bool,
    },
    /// Turn it down.
    Turn {
        /// Where.
        place: &'static str,
        /// To which diameter.
        to: Length,
    },
    /// Work along its edges, or what else is known by numbers alone, as it is now.
    Along(String),
    /// Fill what is worked and cut it again.
    Fill {
        /// What.
        what: String,
        /// By how much it stands off and towards what.
        off: Vec<(Length, String)>,
        /// By how much its own axis is turned, where that is too much.
        turned: Option<Angle>,
        /// By how much its mouth is turned about that, degrees, above zero clockwise seen from outside, where that is too much.
        rolled: Option<f64>,
        /// Whether its mouth is too large.
        is_large: bool,
    },
    /// Cut what is not there yet.
    Cut(String),
    /// Cut what is there larger, and deeper where it has to be.
    Enlarge(String),
    /// Cut what is there deeper.
    Deepen {
        /// What.
        what: String,
        /// By how much, along itself.
        by: Length,
    },
    /// Saw a tenon shorter.
    Shorten {
        /// Which.
        what: String,
        /// How much goes off its end, along itself.
        by: Length,
        /// How far it then stands out from its shoulder.
        to: Length,
    },
    /// Saw a tenon off at its shoulder.
    SawOff(String),
    /// Make a tenon narrower or thinner, alike on both sides of its middle.
    Slim {
        /// Which.
        what: String,
        /// By how much in all.
        by: Slimmer,
    },
    /// Pare one side of it.
    Pare {
        /// What.
        what: String,
        /// By how much.
        by: Length,
    },
    /// Leave what holds a top where it is along the part, and mark the screws in the top through it.
    MarkThrough(Vec<String>),
    /// Leave or fill what nothing needs any more.
    Idle(String),
}

/// By how much a tenon is to be less across itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Slimmer {
    /// In its width, in its thickness, or in both.
    Square {
        /// Off its width in all.
        width: Option<Length>,
        /// Off its thickness in all.
        thickness: Option<Length>,
    },
    /// In its diameter.
    Round(Length),
}

/// What a part lacks.
#[derive(Debug, Clone, PartialEq)]
pub enum Lack {
    /// Wood at an end or an edge, square to it.
    At(String, Length),
    /// Thickness.
    Thickness(Length),
    /// A diameter.
    Diameter(&'static str, Length),
    /// A tenon.
    Tenon {
        /// Which.
        what: String,
        /// Whether one stands there, though elsewhere than it is wanted or too small; else there is none.
        stands: bool,
    },
}

/// Something that saves a part, with what it costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Priced {
    /// What.
    pub rescue: Rescue,
    /// What it costs.
    pub cost: Cost,
    /// What is to be done to the part besides, in order.
    pub then: Vec<Step>,
}

data!(MadeName, Step, Lack, Unfit, Priced, FarReading);

problems! {
    /// What is told of parts that exist.
    pub(crate) enum MadeProblem {
        /// Nothing is to be done to these.
        Note "made-keeps" Keeps { parts: Vec<MadeName> }
        /// It stays as it is, and what holds the top stands elsewhere in it than is drawn.
        Note "made-marked" Marked { part: MadeName, steps: Vec<Step> }
        /// What is wanted lies in the wood that is there.
        Warn "made-trims" Trims { part: MadeName, steps: Vec<Step>, rescues: Vec<Priced>, taken: Length as "taken" }
        /// What is wanted lies in the wood, and something that was worked in it does not stand where it is wanted.
        Warn "made-rescued" Rescued {
            part: MadeName, steps: Vec<Step>, rescues: Vec<Priced>, may_be_spared: bool, off: Length as "off",
        }
        /// What is wanted does not lie in the wood.
        Warn "made-again" Again {
            part: MadeName, lacks: Vec<Lack>, rescues: Vec<Priced>, may_be_spared: bool, missing: Length as "missing",
        }
        /// A bevel was read to the other side than it was drawn.
        Warn "made-bevel-other-side" OtherSide { part: MadeName, at: String, read: Angle as "read", drawn: Angle as "drawn" }
        /// A reading is far from what was drawn.
        Warn "made-reading-far" ReadingFar { part: MadeName, what: FarReading, read: Length as "read", drawn: Length as "drawn" }
        /// The piece has no such part.
        Note "made-unwanted" Unwanted { part: MadeName }
        /// Readings of one end do not lie in one plane.
        Warn "made-in-wind" InWind { part: MadeName, end: String, off: Length as "off" }
        /// The wood of a code is not known.
        Warn "made-unknown" Unknown { part: String, code: String, parts: Offered<Names>, codes: Vec<String> }
        /// A copy that the part does not have.
        Stop "made-no-copy" NoCopy { part: String, copy: String, copies: Offered<Names> }
        /// Readings that do not go with the part.
        Stop "made-unfit" Unfits { part: MadeName, why: Unfit }
    }
}

impl MadeName {
    /// Of a part as it was drawn, and what is said of it.
    pub(super) fn of(drawn: &Wood, made: &MadePart) -> MadeName {
        MadeName {
            part: drawn.name.clone(),
            code: drawn.revision.clone(),
            only: made.only.clone(),
            measured: !made.read.is_none(),
        }
    }
}

impl MadeProblem {
    /// The part to which something is to be done before it is good.
    pub(crate) fn to_do(&self) -> Option<&MadeName> {
        match self {
            MadeProblem::Trims { part, .. } | MadeProblem::Rescued { part, .. } | MadeProblem::Again { part, .. } => {
                Some(part)
            }
            _ => None,
        }
    }

    /// That readings do not go with a part.
    pub(crate) fn unfits(drawn: &Wood, made: &MadePart, why: Unfit) -> MadeProblem {
        MadeProblem::Unfits { part: MadeName::of(drawn, made), why }
    }
}
