//! What is wrong with drawings of other files, as data; worded elsewhere.

use crate::finding::{Offered, data, problems};
use crate::import::{ImportFault, ImportProblem};

/// Why a drawing cannot be used at all.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Unusable {
    /// One of its paths is no outline.
    Path,
    /// The file of this name cannot be read.
    File(String, ImportFault),
}

data!(Unusable, ImportProblem);

problems! {
    /// About the letters of a file.
    pub(crate) enum LetterProblem {
        /// Letters that cannot be printed, how many more there are, in how many other places, and how many fonts were given.
        Warn "letters-not-printed" Lacking { letters: String, more: usize, others: usize, fonts: usize }
    }
}

problems! {
    /// About drawings.
    pub(crate) enum DrawingProblem {
        /// A drawing has no width.
        Stop "drawing-has-no-width" NoWidth {}
        /// A drawing is of no use.
        Stop "drawing-unusable" Unusable { why: Unusable }
        /// A file is not read, and why, in the words of whoever looked for it.
        Stop "drawing-not-read" NotRead { name: String, why: String }
        /// Nothing closed is drawn, or nothing with an id; the ids that there are.
        Stop "drawing-without-outline" NoOutline { id: Option<String>, ids: Offered<Vec<String>> }
        /// Paths cross.
        Stop "drawing-crosses" Crosses { name: String, what: ImportProblem }
        /// A path is open.
        Warn "drawing-open" Open { name: String, what: ImportProblem }
        /// A viewer shows another shape, by something that is not followed.
        Stop "drawing-not-followed" NotFollowed { name: String, what: ImportProblem }
        /// Something without a colour was left out.
        Note "drawing-unpainted" Unpainted { name: String, what: ImportProblem }
        /// A white rectangle as large as the page was taken for its paper and left out.
        Warn "drawing-paper-left-out" PaperLeftOut { name: String, what: ImportProblem }
        /// A white rectangle lies under everything: it may be paper or the part.
        Stop "drawing-paper-or-part" PaperOrPart { name: String, what: ImportProblem }
        /// Something was left out.
        Warn "drawing-left-out" LeftOut { name: String, what: ImportProblem }
    }
}
