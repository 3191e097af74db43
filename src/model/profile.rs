//! What is worked along an edge.

use crate::geometry::Path;
use crate::units::Length;

/// The curve of a thumbnail.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThumbnailCurve {
    /// A circular arc that leaves the face smoothly.
    Arc,
    /// A quarter of an ellipse, square to face and edge at its ends.
    Ellipse,
}

/// What is done to an edge.
#[derive(Debug, Clone, PartialEq)]
pub enum EdgeProfile {
    /// A quarter circle of this radius at the face.
    RoundOver(Length),
    /// A slope.
    Chamfer {
        /// Width on the face.
        across: Length,
        /// Depth on the edge.
        down: Length,
    },
    /// A flat curve.
    Thumbnail {
        /// Width on the face.
        width: Length,
        /// Depth on the edge, below the step.
        depth: Length,
        /// Depth of the step by which the curve begins below the face; zero for none.
        step: Length,
        /// Its curve.
        curve: ThumbnailCurve,
    },
    /// A slope under the far side, which makes an edge look thin.
    Underbevel {
        /// Width on the far side.
        across: Length,
        /// Height on the edge, from the far side up.
        up: Length,
    },
    /// Both arrises worked, each with a round-over, a chamfer or a thumbnail.
    Arrises {
        /// Along the face.
        face: Box<EdgeProfile>,
        /// Along the far side, as seen from there.
        far: Box<EdgeProfile>,
    },
    /// A drawn line from the face (y = 0) to the edge (x = 0) or the far side (y = -thickness): x into the part from its
    /// edge, y up from the face.
    Drawn(Path),
}
