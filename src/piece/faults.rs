//! The findings for curves and boards that cannot be made.

use super::PieceProblem;
use super::assemble::Work;
use super::beam::BeamFault;
use super::edge::CurveFault;
use super::limits::base;
use crate::finding::{Finding, stops};
use crate::units::Length;

/// How large a base is; of those that a kind does not have, or that are given otherwise, a cure knows nothing.
pub(super) const SPANS: [&str; 7] =
    ["length_at_top", "length_at_floor", "width_at_top", "width_at_floor", "overhang", "side", "across"];

/// The angles of a base.
pub(super) const ANGLES: [&str; 9] = [
    "lean",
    "leg/splay",
    "frames/left/lean",
    "frames/right/lean",
    "frames/left/twist",
    "frames/right/twist",
    "splay_front",
    "splay_side",
    "slope",
];

/// The arcs of a base and its top.
pub(super) const CURVES: [&str; 7] = [
    "leg/outside_edge/rise",
    "leg/inside_edge/rise",
    "top_rail/lower_edge/rise",
    "bottom_rail/lower_edge/rise",
    "bottom_rail/upper_edge/rise",
    "/top/long_edges/rise",
    "/top/short_edges/rise",
];

/// What else may be too large for the rest.
pub(super) const SIZES: [&str; 8] = [
    "depth",
    "thickness",
    "apron/depth",
    "end_apron/depth",
    "leg/thickness",
    "leg/width",
    "top_rail/depth",
    "bottom_rail/depth",
];

impl Work<'_> {
    /// Sees to it that work which came to nothing has said so: a part that is not there must never pass for a finished piece.
    pub(super) fn made<T>(&mut self, part: Option<T>, field: &str) -> Option<T> {
        if part.is_none() && !stops(&self.findings) {
            let finding = Finding::of(PieceProblem::NoPart {}, base(field));
            return self.stop_to_cure(finding, &[&ANGLES[..], &CURVES, &SIZES].concat());
        }
        part
    }

    /// The finding for a curve that cannot be made.
    pub(super) fn curve_fault<T>(&mut self, fault: CurveFault, field: &str) -> Option<T> {
        match fault {
            CurveFault::RiseTooHigh { most } => {
                let rise = format!("{field}/rise");
                let problem = PieceProblem::RiseTooHigh { fits: Length::from_mm(most) };
                self.stop_to_cure(Finding::of(problem, base(&rise)), &[&rise])
            }
            CurveFault::Batten => self.stop(Finding::of(PieceProblem::NoBatten {}, base(field))),
        }
    }

    /// The finding for a board between two others that cannot be made.
    pub(super) fn beam_fault<T>(&mut self, fault: BeamFault, field: &str) -> Option<T> {
        match fault {
            BeamFault::Curve(index, fault) => {
                let edge = if index == 0 { "lower_edge" } else { "upper_edge" };
                self.curve_fault(fault, &format!("{field}/{edge}"))
            }
            BeamFault::NoLength { left } => {
                let (part, short) = (Some(field.replace('_', " ")), Some(Length::from_mm(-left)));
                let finding = Finding::of(PieceProblem::NoLength { part, short }, base(field));
                let own = [format!("{field}/depth"), format!("{field}/height")];
                let fields = [&SPANS[..], &[&own[0], &own[1], "leg/head", "leg/foot"], &CURVES, &ANGLES].concat();
                self.stop_to_cure(finding, &fields)
            }
        }
    }
}
