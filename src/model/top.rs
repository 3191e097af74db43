//! The top: every number a length, every choice made.

use super::EdgeProfile;
use super::base::Curve;
use super::field::{Field, Numbers, choice, record};
use super::fixing::{Breadboard, Fasteners};
use super::number::{Pointer, Slot};
use super::wood::{Moisture, Wood};
use crate::geometry::MirrorLine;
use crate::units::Length;

/// How wide boards are sawn from the log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Sawn {
    /// Rings roughly along the face.
    #[default]
    Flat,
    /// Rings roughly square to the face.
    Quarter,
}

choice!(Sawn { "flat-sawn" => Sawn::Flat, "quarter-sawn" => Sawn::Quarter });

/// The shape of a top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TopShape {
    /// Four edges, each straight or bowed.
    #[default]
    Bowed,
    /// The ellipse inscribed in the rectangle.
    Oval,
    /// A circle.
    Round,
}

choice!(TopShape { "bowed" => TopShape::Bowed, "oval" => TopShape::Oval, "round" => TopShape::Round });
choice!(MirrorLine { "x" => MirrorLine::X, "y" => MirrorLine::Y });

/// What is worked all round the edge of a top.
#[derive(Debug, Clone, PartialEq)]
pub enum TopEdge {
    /// In words that are only noted.
    Words(String),
    /// A profile, which is routed with what else is routed on the top.
    Profile(EdgeProfile),
}

/// Profiles are listed with what is routed.
impl Numbers for TopEdge {
    fn each(&mut self, _: &'static [Field], _: &Pointer, _: &mut dyn FnMut(&Pointer, Slot)) {}
}

record! {
    ($) top TopText
    /// The top.
    Top {
        length: Length = "Length", "of the rectangle it is cut from, along the grain.", Length 20.0..=10000.0, "1800";
        width: Length = "Width", "of the rectangle, across the grain.", Length 20.0..=10000.0, "900";
        thickness: Length = "Thickness", "how thick it is.", Length 1.0..=500.0 (Section) of stock, "24";
        species: Option<Wood> = "Species", "The wood: a name, or a name with coefficients of its own.", "\"white oak\"";
        moisture: Option<Moisture> = "Moisture", "Its moisture today, at the driest and at the dampest: how far it moves across the grain.", "{ \"today\": 8, \"driest\": 6, \"dampest\": 11 }";
        sawn: Sawn, or Sawn::Flat = as "cut", "Cut", "How its boards are sawn: \"flat-sawn\" (unless given) or \"quarter-sawn\".", "\"flat-sawn\"";
        shape: TopShape, or TopShape::Bowed = "Shape", "\"bowed\" (unless given), \"oval\" or \"round\".", "\"bowed\"";
        long_edges: Curve, or Curve::Straight = "Long edges", "The two edges along the length; straight unless given. A batten's points run from the edge's middle, and inward.", "{ \"rise\": 25 }";
        short_edges: Curve, or Curve::Straight = "Short edges", "The two edges across; straight unless given.", "{ \"rise\": 15 }";
        corner_radius: Option<Length> = "Corner radius", "Rounds its corners.", Length 0.0..=5000.0, "40";
        glue_up: Vec<Length>, or Top::NO_BOARDS = "Glue-up", "Widths of the boards it is glued up from.", Length 1.0..=2000.0, "[150, 150, 150, 150, 150, 150]";
        edge_profile: Option<TopEdge> = "Edge profile", "What is worked all round its edge, in words that are only noted, or as a profile that is drawn.", "{ \"round_over\": 6 }";
        fasteners: Option<Fasteners> = "Fasteners", "What holds it to the base: in words, or so that its holes are drawn and checked.", "{ \"by\": \"slots\" }";
        breadboard: Option<Breadboard> = "Breadboard ends", "A piece across each end, inside the length.", "{ \"width\": 90 }";
        half_template: Option<MirrorLine> = "Half template", "Adds a half template of the top for the router, turned over at the line x = 0 (\"y\") or y = 0 (\"x\").", "\"y\"";
    }
}

impl Top {
    /// Of a top whose glued boards are not told.
    pub const NO_BOARDS: Vec<Length> = Vec::new();

    /// Radius of its corners, where they are rounded.
    pub fn rounded(&self) -> Option<Length> {
        self.corner_radius.filter(|radius| radius.mm() > 0.0)
    }
}
