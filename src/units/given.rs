//! The lengths that a maker wrote.

use super::Length;
use crate::tolerance::SAME_POINT;
use std::sync::Arc;

/// The lengths that a file gives, whatever came of them: one that is met again is echoed as it was written, and no other length is,
/// however its digits look.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Given(Option<Arc<[f64]>>);

impl Given {
    /// None at all.
    pub const NONE: Given = Given(None);

    /// These lengths, in any order.
    pub fn of(lengths: impl IntoIterator<Item = Length>) -> Given {
        let mut all: Vec<f64> = lengths.into_iter().map(|length| length.abs().mm()).collect();
        all.sort_by(f64::total_cmp);
        all.dedup();
        Given((!all.is_empty()).then(|| all.into()))
    }

    /// These and one more.
    pub fn with(&self, length: Length) -> Given {
        let known = self.0.iter().flat_map(|all| all.iter().copied().map(Length::from_mm));
        Given::of(known.chain([length]))
    }

    /// Whether a length, or the same one with the other sign, was written.
    pub(super) fn has(&self, length: Length) -> bool {
        let wanted = length.abs().mm();
        self.0.as_ref().is_some_and(|all| {
            let from = all.partition_point(|given| *given < wanted - SAME_POINT);
            all.get(from).is_some_and(|given| *given <= wanted + SAME_POINT)
        })
    }
}
