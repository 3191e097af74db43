//! Joints.

use crate::finding::Place;
use crate::units::Length;

/// Whether a tenon is a piece of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A mortise in both parts.
    Loose,
    /// Left standing on the first part.
    Fixed,
}

/// How far a mortise goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mortise {
    /// It stops inside.
    Blind,
    /// It comes out on the other side.
    Through,
}

/// Which way a tenon points.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    /// Square to the sawn end.
    Square,
    /// Along the part.
    Along,
}

/// The ends of a mortise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ends {
    /// As a cutter leaves them.
    Round,
    /// As a chisel leaves them.
    Square,
}

/// How tenons are spread along a landing.
#[derive(Debug, Clone, PartialEq)]
pub enum Spread {
    /// By rule.
    Even {
        /// How many; `None`: one, or where a spacing is given as many as fit at that.
        count: Option<u32>,
        /// From centre to centre.
        spacing: Option<Length>,
        /// From the edge of the landing to the first.
        margin: Option<Length>,
    },
    /// By hand: each centre from the reference edge.
    At(Vec<Length>),
}

/// With what a joint's numbers stand in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StandsWith {
    /// With the joints.
    Joints,
    /// With the turned leg whose tenon it is.
    TurnedLeg,
}

/// A joint between two parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// Its name.
    pub name: String,
    /// Where it stands in the file.
    pub place: Place,
    /// With what it stands there.
    pub stands_with: StandsWith,
    /// The part whose ends are joined.
    pub from: String,
    /// The part on which they lie.
    pub into: String,
    /// Loose or fixed.
    pub kind: Kind,
    /// Whether the second part's mortise goes through.
    pub mortise: Mortise,
    /// Thickness of the tenon.
    pub thickness: Length,
    /// Width of the tenon, not less than its thickness.
    pub width: Length,
    /// Depth of the mortise in the first part (0 for a fixed tenon) and in the second; the second counts for blind ones only.
    pub depths: [Length; 2],
    /// How much longer the two mortises together are than the tenon.
    pub clearance: Length,
    /// How the tenons are spread.
    pub spread: Spread,
    /// From the face side to the near cheek; centred where not given.
    pub from_face: Option<Length>,
    /// Which way they point.
    pub axis: Axis,
    /// The ends of the mortises.
    pub ends: Ends,
}

impl Joint {
    /// Where the tenon's thickness stands in the file: for a turned leg's tenon with the leg.
    pub fn thickness_place(&self) -> Place {
        self.place.child(if self.is_turned_leg() { "tenon" } else { "thickness" })
    }

    /// Whether it is the tenon of a turned leg, whose numbers stand with the leg and are few.
    pub fn is_turned_leg(&self) -> bool {
        self.stands_with == StandsWith::TurnedLeg
    }
}
