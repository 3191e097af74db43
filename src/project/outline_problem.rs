//! What is wrong with an outline, as data; worded elsewhere.

use crate::finding::{Degrees, Ratio, data, problems};
use crate::geometry::{ContactKind, MirrorLine, Point};
use crate::units::Length;

/// A size with its name.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct NamedSize {
    /// The name.
    pub name: String,
    /// Its value.
    pub value: Length,
}

/// A place of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Spot {
    /// Along x.
    pub x: Length,
    /// Along y.
    pub y: Length,
}

impl Spot {
    pub(super) fn of(at: Point) -> Spot {
        Spot { x: Length::from_mm(at.x), y: Length::from_mm(at.y) }
    }
}

/// A point at which a batten has to run backwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct TurningPoint {
    /// Which of the batten's points it is, from 1.
    pub number: usize,
    /// Where it is.
    pub at: Spot,
    /// How far it lies past the corner where its edge begins or ends.
    pub past: Option<(&'static str, Length)>,
}

/// Why a batten has no shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum NoShape {
    /// It has to run backwards.
    TurnsBack(TurningPoint),
    /// It slips through; a tension with which it does not, where one is known.
    Slips(Option<f64>),
}

/// A rise with which an outline meets itself nowhere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SmallerRise {
    /// The corner to which its edge runs; `None` for the edge told of.
    pub edge_to: Option<Spot>,
    /// The rise, inwards below zero.
    pub rise: Length,
}

/// What cures a half that meets its mirror line off square.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SquareCure {
    /// Whether the edge is straight.
    pub is_straight: bool,
    /// The line.
    pub line: MirrorLine,
    /// The radius of an arc that does, and whether it bulges out.
    pub radius: Option<(Length, bool)>,
}

data!(NamedSize, Spot, TurningPoint, NoShape, SmallerRise, SquareCure, ContactKind, MirrorLine);

problems! {
    /// About outlines.
    pub(crate) enum OutlineProblem {
        /// A quarter ellipse joins corners that lie level.
        Stop "quarter-ellipse-flat" QuarterEllipseFlat {}
        /// A tension is out of its range.
        Stop "tension-out-of-range" Tension { tension: Ratio, largest: Ratio }
        /// A batten has too many points.
        Stop "too-many-batten-points" ManyPoints { count: usize }
        /// A batten has no points.
        Stop "batten-without-points" NoPoints {}
        /// A batten is held twice at a place.
        Stop "batten-point-twice" PointTwice { at: Spot }
        /// A batten has no shape.
        Stop "batten-has-no-shape" NoShape { why: NoShape }
        /// A batten turns back.
        Warn "batten-turns-back" TurnsBack { point: TurningPoint }
        /// A taper turns back.
        Stop "taper-turns-back" TaperTurnsBack {}
        /// An edge lies on the mirror line.
        Stop "edge-on-mirror-line" OnMirrorLine { line: MirrorLine }
        /// The first corner of a half has an edge.
        Stop "edge-without-start" NoStart {}
        /// A corner is given twice.
        Stop "corner-twice" CornerTwice { at: Spot }
        /// Something reaches too far.
        Stop "out-of-reach" OutOfReach { limit: Length }
        /// An outline is too intricate.
        Stop "too-intricate" TooIntricate {}
        /// Edges pass through the part.
        Stop "inside-out" InsideOut { rise: Option<SmallerRise> }
        /// An outline is open.
        Stop "not-closed-outline" NotClosed { at: Spot }
        /// An outline of so many corners encloses nothing.
        Stop "encloses-nothing" EnclosesNothing { corners: usize }
        /// A rise is more than half a circle.
        Stop "rise-too-large" RiseTooLarge { rise: Length as "rise", largest: Length as "largest" }
        /// An arc does not reach.
        Stop "radius-too-small" RadiusTooSmall { radius: Length as "radius", smallest: Length as "smallest" }
        /// A corner radius does not fit.
        Stop "corner-radius-too-large" RadiusTooLarge { radius: Length as "radius", largest: Length as "largest" }
        /// An edge meets itself or another.
        Stop "crosses-itself" CrossesItself {
            how: ContactKind, alone: bool, is_half: bool, rise: Option<SmallerRise>, x: Length as "x", y: Length as "y",
        }
        /// A half passes its mirror line.
        Stop "crosses-mirror-line" CrossesMirror { line: MirrorLine, at: Spot, beyond: Length as "beyond" }
        /// A half begins or ends off its mirror line; the nearest place on it.
        Stop "off-mirror-line" OffMirror {
            line: MirrorLine, first: bool, near: Option<Spot>, off: Length as "off",
        }
        /// Two halves meet in a ridge, or else a dip.
        Warn "ridge-at-mirror-line" Ridge {
            at: Spot, ridge: bool, cure: SquareCure, off_square: Degrees as "off_square",
        }
        /// Two halves meet in a corner.
        Note "corner-at-mirror-line" Corner { at: Spot, ridge: bool, off_square: Degrees as "off_square" }
        /// A half template would cut into the other half; the run on that does not, where one is worth it.
        Stop "run-on-cuts-in" CutsIn { run_on: Length, shorter: Option<Length>, cuts_in: Length as "cuts_in" }
        /// An outline is drawn with a size of zero or less.
        Warn "size-below-zero" SizeBelowZero { name: String, value: Length }
        /// An outline runs clockwise by a sum that came out below zero, of these sizes.
        Warn "turned-over" TurnedOver { text: String, value: Length, sizes: Vec<NamedSize> }
        /// A whole shape is to be halved.
        Stop "shape-cannot-be-halved" NotHalved {}
    }
}
