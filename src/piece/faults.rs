//! The findings for curves and boards that cannot be made.

use super::assemble::Work;
use super::beam::BeamFault;
use super::edge::CurveFault;
use super::limits::base;
use crate::finding::{Finding, stops};

impl Work<'_> {
    /// Sees to it that work which came to nothing has said so: a part that is not there must never pass for a finished piece.
    pub(super) fn made<T>(&mut self, part: Option<T>, field: &str) -> Option<T> {
        if part.is_none() && !stops(&self.findings) {
            let message = "these numbers make no such part: some of its lines do not meet";
            let finding = Finding::stop("makes-no-part", base(field), message);
            self.findings.push(finding.remedy("make the angles, curves or differences between sizes smaller"));
        }
        part
    }

    /// The finding for a curve that cannot be made.
    pub(super) fn curve_fault<T>(&mut self, fault: CurveFault, field: &str) -> Option<T> {
        let finding = match fault {
            CurveFault::RiseTooHigh { most } => {
                let message = format!("the rise is more than half its chord, {}", self.mm(most));
                Finding::stop("rise-too-high", base(field), message)
                    .remedy(format!("{} just fits", self.mm(most)))
                    .measured("fits", most)
            }
            CurveFault::Batten => Finding::stop("batten", base(field), "no batten springs through these points")
                .remedy("move the points so that the curve turns less between them"),
        };
        self.stop(finding)
    }

    /// The finding for a board between two others that cannot be made.
    pub(super) fn beam_fault<T>(&mut self, fault: BeamFault, field: &str) -> Option<T> {
        match fault {
            BeamFault::Curve(index, fault) => {
                let edge = if index == 0 { "lower_edge" } else { "upper_edge" };
                self.curve_fault(fault, &format!("{field}/{edge}"))
            }
            BeamFault::NoLength { left } => {
                let what = field.replace('_', " ");
                let message = format!("the {what} has no length: its ends pass each other by {}", self.mm(-left));
                let finding = Finding::stop("no-length", base(field), message)
                    .remedy("move the parts between which it stands farther apart");
                self.stop(finding.measured("short", -left))
            }
        }
    }
}
