//! What is told of an order of work, as data; worded elsewhere.

use crate::finding::problems;

problems! {
    /// What is told of an order of work.
    pub(crate) enum OrderProblem {
        /// Steps wait for each other in a ring.
        Warn "order-ring" Ring { parts: Vec<String> }
    }
}
