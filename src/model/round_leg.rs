//! Turned legs, with the joint by which they stand in the top.

use super::field::record;
use super::joint::{Axis, Ends, Joint, Kind, Mortise, Spread, StandsWith, USUAL_CLEARANCE};
use crate::finding::Place;
use crate::units::Length;

record! {
    ($) round_leg RoundLegText
    /// A turned leg whose tenon is drilled into the top along the leg.
    #[derive(Copy)]
    RoundLeg {
        diameter: Length = "Diameter", "at the head, below the tenon.", Length 5.0..=300.0, "38";
        foot: Option<Length> = "Foot", "Diameter at the foot; as at the head unless given.", Length 5.0..=300.0, "24";
        tenon: Length = "Tenon", "diameter of the tenon at the head.", Length 3.0..=300.0, "25";
        depth: Option<Length> = "Depth", "Of its hole in the top, along the leg; through the top unless given.", Length 3.0..=500.0 (Section), "30";
    }
}

/// Where the numbers of a turned leg stand.
pub fn place() -> Place {
    Place::pointer("/base/leg/round")
}

impl RoundLeg {
    /// Diameter at the foot.
    pub fn foot_diameter(&self) -> Length {
        self.foot.unwrap_or(self.diameter)
    }

    /// The tenon in the top.
    pub fn joint(&self) -> Joint {
        let clearance = if self.depth.is_some() { USUAL_CLEARANCE } else { Length::ZERO };
        Joint {
            name: "leg tenon".to_owned(),
            place: place(),
            stands_with: StandsWith::TurnedLeg,
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
