//! Joints.

use super::field::{choice, record};
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
