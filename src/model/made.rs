//! Parts that exist already: as drawn at a code, or with what was measured on them.

use crate::finding::Place;
use crate::units::{Angle, Length};

/// A part that exists, or some copies of it.
#[derive(Debug, Clone, PartialEq)]
pub struct MadePart {
    /// Its name in the file.
    pub name: String,
    /// Where it stands in the file.
    pub place: Place,
    /// The part's key.
    pub part: String,
    /// The revision code on the sheets by which it was made.
    pub code: String,
    /// The copies that are meant, in a maker's words; all where none is named.
    pub only: Vec<String>,
    /// What was measured on it; what was not is as drawn.
    pub read: Readings,
    /// Whether what is worked in it is done.
    pub worked: bool,
    /// By how much the wood may fall short of what is drawn; `None` for the usual.
    pub tolerance: Option<Length>,
}

/// A reading of an end or an edge, by its name in a maker's words.
pub type Read<T> = (String, T);

/// What was measured on a part.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Readings {
    /// Of edges, on the face side, from end to end as a straight rule reads it, a curved edge across its curve.
    pub lengths: Vec<Read<Length>>,
    /// Along edges, on the far side.
    pub far_lengths: Vec<Read<Length>>,
    /// The end that came out elsewhere than drawn; the one that is most readily sawn unless told.
    pub short_at: Option<String>,
    /// Along sawn ends, on the face side, from arris to arris.
    pub widths: Vec<Read<Length>>,
    /// The edge that came out elsewhere than drawn.
    pub narrow_at: Option<String>,
    /// What was taken off edges and ends, all along them: a curve keeps its form.
    pub trimmed: Vec<Read<Length>>,
    /// What a straight cut took off edges, where it took most.
    pub trimmed_straight: Vec<Read<Length>>,
    /// In the face, off the register edge, as sheets tell them.
    pub mitres: Vec<Read<Angle>>,
    /// Tilts from square to the face, above zero where the far side is longer.
    pub bevels: Vec<Read<Angle>>,
    /// How thick it is.
    pub thickness: Option<Length>,
}

impl Readings {
    /// Whether nothing was measured.
    pub fn is_none(&self) -> bool {
        *self == Readings::default()
    }
}
