//! Turned legs, with the joint by which they stand in the top.

use super::joint::{Axis, Ends, Joint, Kind, Mortise, Spread};
use crate::finding::Place;
use crate::units::Length;

/// How much deeper a blind hole is than its tenon is long, mm (common practice: room for glue).
const CLEARANCE: f64 = 2.0;

/// A turned leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundLeg {
    /// At the head, below the tenon: that of the blank.
    pub diameter: Length,
    /// At the foot, not more than at the head.
    pub foot: Length,
    /// Of the tenon, not more than at the head.
    pub tenon: Length,
    /// Of its hole in the top, along the leg; through where not given.
    pub depth: Option<Length>,
}

/// Where the numbers of a turned leg stand.
pub fn place() -> Place {
    Place::pointer("/base/leg/round")
}

impl RoundLeg {
    /// The tenon in the top.
    pub fn joint(&self) -> Joint {
        let clearance = Length::from_mm(if self.depth.is_some() { CLEARANCE } else { 0.0 });
        Joint {
            name: "leg tenon".to_owned(),
            place: place(),
            from: "leg".to_owned(),
            into: "top".to_owned(),
            kind: Kind::Fixed,
            mortise: if self.depth.is_some() { Mortise::Blind } else { Mortise::Through },
            thickness: self.tenon,
            width: self.tenon,
            depths: [Length::ZERO, self.depth.unwrap_or(Length::ZERO)],
            clearance,
            spread: Spread::Even { count: None, spacing: None, margin: None },
            from_face: None,
            axis: Axis::Along,
            ends: Ends::Round,
        }
    }
}
