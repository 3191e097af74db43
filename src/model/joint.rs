//! Joints.

use super::field::{choice, record};
use crate::finding::Place;
use crate::tolerance::ROUNDING;
use crate::units::Length;

/// How much longer two mortises together are than their tenon unless the file says otherwise (common practice: room for glue).
pub const USUAL_CLEARANCE: Length = Length::from_mm(2.0);

/// Whether a tenon is a piece of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A mortise in both parts.
    Loose,
    /// Left standing on the first part.
    Fixed,
}

choice!(Kind { "loose" => Kind::Loose, "fixed" => Kind::Fixed });

/// How far a mortise goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mortise {
    /// It stops inside.
    Blind,
    /// It comes out on the other side.
    Through,
}

choice!(Mortise { "blind" => Mortise::Blind, "through" => Mortise::Through });

/// Which way a tenon points.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    /// Square to the sawn end.
    Square,
    /// Along the part.
    Along,
}

choice!(Axis { "square" => Axis::Square, "along" => Axis::Along });

/// The ends of a mortise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ends {
    /// As a cutter leaves them.
    Round,
    /// As a chisel leaves them.
    Square,
}

choice!(Ends { "round" => Ends::Round, "square" => Ends::Square });

record! {
    ($) joint_given JointText
    /// How the ends of one part are joined to another: every end of the one that lies on the other gets these tenons.
    JointGiven {
        from: String = "From", "the part whose sawn ends are joined; \"top\" for both parts joins the glue lines of the top.", "\"apron\"";
        into: String = "Into", "the part on which those ends lie.", "\"leg\"";
        kind: Kind, or Kind::Loose = "Kind", "\"loose\" (unless given): a mortise in both parts; or \"fixed\": the tenon is left standing on the first.", "\"loose\"";
        mortise: Mortise, or Mortise::Blind = "Mortise", "\"blind\" (unless given), or \"through\" the second part.", "\"blind\"";
        thickness: Length = "Thickness", "of the tenon.", Length 1.0..=200.0, "8";
        width: Length = "Width", "of the tenon, along the cut's line.", Length 2.0..=1000.0, "30";
        length: Option<Length> = "Length", "Of the tenon, along its axis: all of a loose one; of one that goes through the second part how deep the first is mortised; what stands out of the shoulder of a fixed one, which through a part is not needed.", Length 2.0..=1000.0, "50";
        depths: Option<[Length; 2]> = "Depths", "Of the two mortises of a loose tenon: in the first part and in the second; shared evenly unless given.", Length 1.0..=1000.0, "[26, 26]";
        clearance: Option<Length> = "Clearance", "How much longer the mortises together are than the tenon; 2 mm unless given.", Length 0.0..=50.0, "2";
        count: Option<u32> = "Count", "How many side by side; unless given 1, or as many as fit at the spacing.", Number 1.0..=100.0, "2";
        spacing: Option<Length> = "Spacing", "From centre to centre; spread evenly unless given.", Length 2.0..=5000.0, "45";
        margin: Option<Length> = "Margin", "From the edge of the landing to the first tenon.", Length 0.0..=5000.0, "12";
        at: Option<Vec<Length>> = "At", "Places by hand instead: each centre along the cut's line from the reference edge, on the arris of the face side (along a glue line from the left end).", Length 0.0..=10000.0, "[22, 63]";
        from_face: Option<Length> = "From the face side", "From the face side to the tenon's near cheek, on the sawn end; centred unless given.", Length 0.0..=1000.0, "8";
        axis: Axis, or Axis::Square = "Axis", "\"square\" to the sawn end (unless given), or \"along\" the part.", "\"square\"";
        ends: Option<Ends> = "Ends", "Of the mortises: \"round\" (unless given for a loose tenon) or \"square\".", "\"round\"";
    }
}

/// Why there is no joint of the numbers that are given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum JointFault {
    /// The tenon is thicker than wide.
    ThickerThanWide {
        /// Its width.
        width: Length,
        /// Its thickness.
        thickness: Length,
    },
    /// Places are given by hand and by rule.
    TwoSpreads,
    /// A list of places holds none.
    NoPlaces,
    /// A fixed tenon has a mortise in its own part.
    DepthsOfFixed,
    /// How deep the first part is mortised is not told.
    NoDepth,
    /// How long the tenon is is not told.
    NoLength,
    /// The tenon does not fit its mortises.
    TooLong {
        /// How deep they are together.
        together: Length,
        /// How much longer they are to be.
        clearance: Option<Length>,
        /// How long it is.
        length: Length,
        /// The largest length that fits.
        largest: Length,
    },
}

impl JointGiven {
    /// The joint of a name that these numbers make.
    ///
    /// # Errors
    /// Everything for which they make none.
    pub fn joint(&self, name: &str) -> Result<Joint, Vec<JointFault>> {
        let JointGiven { thickness, width, kind, mortise, .. } = *self;
        if width < thickness {
            return Err(vec![JointFault::ThickerThanWide { width, thickness }]);
        }
        let (spread, (depths, clearance)) = match (self.spread(), self.depths()) {
            (Ok(spread), Ok(depths)) => (spread, depths),
            (spread, depths) => return Err([spread.err(), depths.err()].into_iter().flatten().collect()),
        };
        let usual_ends = if kind == Kind::Loose { Ends::Round } else { Ends::Square };
        Ok(Joint {
            name: name.to_owned(),
            place: Place::pointer("/joints").child(name),
            stands_with: StandsWith::Joints,
            from: self.from.clone(),
            into: self.into.clone(),
            kind,
            mortise,
            thickness,
            width,
            depths,
            clearance,
            spread,
            from_face: self.from_face,
            axis: self.axis,
            ends: self.ends.unwrap_or(usual_ends),
        })
    }

    fn spread(&self) -> Result<Spread, JointFault> {
        let JointGiven { count, spacing, margin, .. } = *self;
        let Some(at) = &self.at else { return Ok(Spread::Even { count, spacing, margin }) };
        if count.is_some() || spacing.is_some() || margin.is_some() {
            return Err(JointFault::TwoSpreads);
        }
        if at.is_empty() { Err(JointFault::NoPlaces) } else { Ok(Spread::At(at.clone())) }
    }

    /// The depths of the two mortises and their clearance.
    fn depths(&self) -> Result<([Length; 2], Length), JointFault> {
        let JointGiven { length, clearance, depths, kind, mortise, .. } = *self;
        let usual = clearance.unwrap_or(USUAL_CLEARANCE);
        match (kind, mortise, depths, length) {
            (Kind::Fixed, _, Some(_), _) => Err(JointFault::DepthsOfFixed),
            (Kind::Fixed, Mortise::Through, None, _) => Ok(([Length::ZERO; 2], Length::ZERO)),
            (Kind::Fixed, Mortise::Blind, None, Some(length)) => Ok(([Length::ZERO, length + usual], usual)),
            (Kind::Loose, Mortise::Through, None, None) => Err(JointFault::NoDepth),
            (_, _, None, None) => Err(JointFault::NoLength),
            (Kind::Loose, Mortise::Through, None, Some(length)) => Ok(([length, length], usual)),
            (Kind::Loose, _, None, Some(length)) => Ok(([(length + usual) / 2.0; 2], usual)),
            (Kind::Loose, _, Some(both), None) => Ok((both, usual)),
            (Kind::Loose, _, Some(both), Some(length)) => {
                let together = both[0] + both[1];
                let room = together - length;
                if room < Length::ZERO || clearance.is_some_and(|asked| (asked - room).abs().mm() > ROUNDING) {
                    let largest = together - clearance.unwrap_or(Length::ZERO);
                    return Err(JointFault::TooLong { together, clearance, length, largest });
                }
                Ok((both, room))
            }
        }
    }

    /// The first depth of a loose tenon that goes through the second part: the second, which is given with it, says nothing.
    pub fn ignored_depth(&self) -> Option<Length> {
        let is_through = self.kind == Kind::Loose && self.mortise == Mortise::Through && self.length.is_none();
        self.depths.filter(|_| is_through).map(|both| both[0])
    }
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
