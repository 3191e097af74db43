//! Angled aids: what is asked for; their shapes are measured on the solved piece.

use crate::finding::Place;
use crate::units::Length;

/// How much of the top's underside a template covers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cover {
    /// All of it.
    Whole,
    /// As much as the base takes.
    Middle,
}

/// What an aid is for.
#[derive(Debug, Clone, PartialEq)]
pub enum Wanted {
    /// A wedge under a clamp's jaw.
    Caul {
        /// The part whose end is glued.
        from: String,
        /// The part that the clamp bears on.
        into: String,
        /// Of its foot, along the wedge; where not given, the usual one, or what does not rise too high.
        length: Option<Length>,
        /// Its width.
        width: Length,
        /// Thickness of its thin end.
        toe: Length,
    },
    /// Wedges for the saw or the planing sled.
    Wedges {
        /// The part that is cut.
        part: String,
        /// The end or edge; every one that is not square where not given.
        cut: Option<String>,
        /// Of each wedge.
        length: Length,
        /// Thickness of its thin end.
        toe: Length,
    },
    /// A guide for the cutter along a mortise.
    Block {
        /// The joint.
        joint: String,
        /// The mortised part; both where not given.
        part: Option<String>,
        /// Along the cutter.
        height: Length,
        /// Around the mouths.
        margin: Length,
    },
    /// What drills leaning legs into a top.
    Sightline {
        /// The part whose heads stand under the top.
        part: String,
        /// Of the hole.
        diameter: Length,
        /// Of the block, along the drill.
        height: Length,
    },
    /// What centres the base on the top.
    Template {
        /// How much it covers.
        cover: Cover,
        /// Diameter of the fasteners' holes.
        hole: Length,
        /// The most from one fastener to the next.
        spacing: Length,
        /// The parts that take fasteners; all where none is given.
        parts: Vec<String>,
    },
}

/// An aid asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct AidRequest {
    /// Its name.
    pub name: String,
    /// Where it stands in the file.
    pub place: Place,
    /// What it is for.
    pub wanted: Wanted,
}
