//! Problems that more than one module finds, as data; worded elsewhere.

use super::EdgeChoice;
use crate::finding::{Names, Offered, data, problems};
use crate::units::Length;

/// Who asks for a part that is not there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum PartFor {
    /// A joint or an aid.
    Joint,
    /// What is routed.
    Routing,
    /// What is routed, where there is no piece.
    RoutingAlone,
}

/// What a turned leg does not take.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum NotTurned {
    /// A taper.
    Taper,
    /// A width.
    Width,
    /// A thickness.
    Thickness,
    /// Aprons.
    Aprons,
    /// End aprons.
    EndAprons,
    /// Stretchers.
    Stretchers,
    /// Wedges; the part's label.
    Wedges(String),
}

/// What should tell a direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Direction {
    /// The normal of a plane.
    Normal,
    /// A vector of the file.
    Vector,
    /// How an edge begins or ends.
    EdgeEnd,
}

/// Which corner cannot be rounded, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum RoundedCorner {
    /// One of the top, by so large a radius.
    Top,
    /// Any, by a radius that is not above 0.
    NotAboveZero,
}

data!(PartFor, NotTurned, Direction, RoundedCorner, EdgeChoice);

problems! {
    /// What more than one module finds.
    pub(crate) enum Problem {
        /// The piece has no such part; those that it has.
        Stop "unknown-part" UnknownPart { name: String, near: Option<String>, known: Vec<String>, wanted: PartFor }
        /// A turned leg does not take something.
        Stop "turned-leg" TurnedLeg { what: NotTurned }
        /// There is no direction.
        Stop "no-direction" NoDirection { of: Direction }
        /// An outline has no such edge; the edges that have names, of how many.
        Stop "unknown-edge" UnknownEdge { choice: EdgeChoice, named: Offered<Names>, of: Offered<usize> }
        /// A corner cannot be rounded so.
        Stop "corner-radius" CornerRadius {
            at: RoundedCorner, radius: Option<Length> as "radius", smallest: Option<Length> as "smallest",
            largest: Option<Length> as "largest",
        }
    }
}
