//! What a feature is.

use crate::geometry::{Path, Placement, Plane, Point};

/// Which feature of its solid: made of what it comes from, so that it stays the same where others come or go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FeatureId {
    /// What it is for.
    pub why: Why,
    /// Which of the things of that kind it belongs to: a joint of the piece, a cut or a landing of a fastener, from 0.
    pub of: usize,
    /// Which of that thing's on this board, from 1; 0 where there is but one.
    pub number: usize,
}

/// What a feature is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Why {
    /// The wood it is made from.
    Blank,
    /// A saw cut.
    Cut,
    /// A mortise of a joint, on one of its two sides.
    Mortise(Side),
    /// A tenon left standing.
    Tenon,
    /// A slot in which a screw may move.
    Slot,
    /// The wide part of a slot, for the head of its screw.
    Counterbore,
    /// The mortise of a button's tongue.
    Button,
    /// A groove.
    Groove,
    /// A tongue left standing.
    Tongue,
    /// Half of the wood where two parts cross.
    Halving,
    /// A recess.
    Pocket,
}

impl Why {
    /// What the trade calls it.
    pub fn words(self) -> &'static str {
        match self {
            Why::Blank => "blank",
            Why::Cut => "cut",
            Why::Mortise(_) | Why::Button => "mortise",
            Why::Tenon => "tenon",
            Why::Slot => "slot",
            Why::Counterbore => "counterbore",
            Why::Groove => "groove",
            Why::Tongue => "tongue",
            Why::Halving => "halving",
            Why::Pocket => "recess",
        }
    }
}

/// The two parts of a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// The part that has the shoulder.
    From,
    /// The part that it goes into.
    Into,
}

/// What a feature does to what was there before it.
#[derive(Debug, Clone, PartialEq)]
pub enum Does {
    /// Takes away all that lies outside a plane.
    Beyond(Plane),
    /// Takes a shape away.
    Take(Shape),
    /// Adds a shape.
    Add(Shape),
}

/// A shape of its own.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// An outline swept square to its plane.
    Prism(Prism),
    /// A half profile turned about an axis.
    Turned(Turned),
}

/// How far a prism goes one way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum End {
    /// To this distance along its axis, mm.
    To(f64),
    /// To a plane, normal out of the prism: the surface in which a mortise has its mouth, or on which a tenon stands.
    On(Plane),
    /// Beyond all wood.
    Open,
}

/// An outline swept square to its plane.
#[derive(Debug, Clone, PartialEq)]
pub struct Prism {
    /// Its outline in the frame's u and v: one closed ring that runs anticlockwise.
    pub outline: Path,
    /// Where it is: the outline lies in u and v, and is swept along w.
    pub frame: Placement,
    /// Its near end and its far end along w.
    pub ends: [End; 2],
}

/// A body turned about an axis: cylinders and cones end to end.
#[derive(Debug, Clone, PartialEq)]
pub struct Turned {
    /// Its half profile: x along the axis, never falling, y the radius, mm. Between two points it is straight.
    pub profile: Vec<Point>,
    /// Where it is: the axis is w.
    pub frame: Placement,
}

/// One step of the work on a solid.
#[derive(Debug, Clone, PartialEq)]
pub struct Feature {
    /// Which it is.
    pub id: FeatureId,
    /// What it does.
    pub does: Does,
    /// The copies of the board that have it; `None` for all.
    pub copies: Option<Vec<usize>>,
}

impl Feature {
    /// A feature of all copies.
    pub fn of_all(id: FeatureId, does: Does) -> Feature {
        Feature { id, does, copies: None }
    }

    /// Whether a copy has it.
    pub fn is_in(&self, copy: usize) -> bool {
        self.copies.as_ref().is_none_or(|copies| copies.contains(&copy))
    }
}
