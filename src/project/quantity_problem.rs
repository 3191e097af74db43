//! What is wrong with quantities and named sizes, as data; worded elsewhere.

use crate::finding::{Names, Offered, data, problems};
use crate::units::{FaultKind, Length, Refusal};

/// Why a quantity cannot be read.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Unreadable {
    /// It is wrong by itself.
    Fault(FaultKind),
    /// It has so many characters.
    Long(usize),
    /// It names a size that there is not.
    UnknownSize(String, Offered<Names>),
    /// A field of this name is an angle, and this is none.
    NoAngle(String, String),
}

data!(Unreadable, Refusal);

problems! {
    /// About quantities.
    pub(crate) enum QuantityProblem {
        /// A quantity cannot be read.
        Stop "unreadable-quantity" Unreadable { why: Unreadable }
        /// A quantity is of a kind that cannot be used; the size that is all of an angle.
        Stop "wrong-quantity" Wrong { why: Refusal, size: Offered<Option<String>> }
        /// Sizes need each other, the last the first again.
        Stop "sizes-in-a-ring" Ring { sizes: Vec<String> }
        /// A fraction without a unit stands where bare numbers are millimetres.
        Stop "fraction-of-a-millimetre" BareFraction { text: String, size: Length }
        /// No sum uses a size; whether a change would add it.
        Warn "unused-size" UnusedSize { name: String, added: bool, others: Offered<Names> }
    }
}
