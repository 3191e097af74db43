//! What a length of a file can hardly mean.

use crate::finding::problems;
use crate::units::Length;

problems! {
    /// A length of a file that `new` began which is mostly meant otherwise.
    pub(crate) enum SlipProblem {
        /// It is far from what is usual, and near to it in another unit.
        Note "length-in-other-units" OtherUnits {
            /// What it is called.
            name: String,
            /// How long it is.
            is: Length as "length",
            /// What is usual.
            usual: Length as "usual",
            /// The number with the unit in which it is usual.
            written: String,
            /// How long that is.
            meant: Length as "meant",
        }
    }
}
