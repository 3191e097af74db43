//! Findings in a maker's words, in millimetres.

use fullsize::finding::{Finding, Said};
use fullsize::units::Notation;

pub trait InWords {
    /// The finding in words.
    fn words(&self) -> Said;

    /// A number that was measured.
    fn number(&self, name: &str) -> f64;
}

impl InWords for Finding {
    fn words(&self) -> Said {
        self.said(&Notation::default())
    }

    fn number(&self, name: &str) -> f64 {
        self.measure(name).unwrap_or_else(|| panic!("no {name}: {self:?}"))
    }
}
