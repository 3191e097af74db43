//! What is wrong with a change of a file, as data; worded elsewhere.

use crate::finding::{Names, Offered, data, problems};
use crate::project::json::NodeKind;

/// Why a change cannot be understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Unclear {
    /// Nothing parts field and value; the change that may be meant.
    NoEquals(Option<String>),
    /// A quoted name is not closed.
    OpenQuote,
    /// A name is missing.
    NoName,
}

/// Where a change leads.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Nowhere {
    /// To this entry of an empty list.
    EmptyList(String),
    /// To this entry of a list of so many.
    NoEntry(String, usize),
    /// To this field of what has none.
    NoField(NodeKind, String),
    /// To nothing in the file, and to nothing that it could have; the name that is near, and whether it is a shop file.
    Unknown(String, Option<String>, bool),
    /// To an entry of this name, of which there is none under that.
    NoSuch(String, String, Offered<Names>),
}

/// Paths that a short name may stand for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Paths(pub Vec<String>);

data!(Unclear, Nowhere, Paths);

problems! {
    /// About changes.
    pub(crate) enum ChangeProblem {
        /// A change cannot be understood.
        Stop "unclear-change" Unclear { change: String, why: Unclear }
        /// A short name stands for several fields.
        Stop "ambiguous-change" Ambiguous { name: String, all: Paths }
        /// There is nothing to remove.
        Stop "nothing-to-remove" NotThere { path: String }
        /// A change leads nowhere.
        Stop "change-leads-nowhere" Nowhere { to: Nowhere }
    }
}
