//! What is drawn without asking what hides it.

use super::drawn::Seen;
use crate::finding::{Finding, Place, problems};
use crate::page::Document;

/// A drawing, and what is to be told of it.
#[derive(Debug)]
pub struct Drawing {
    /// Its sheets.
    pub document: Document,
    /// What it does not show as it should.
    pub findings: Vec<Finding>,
}

problems! {
    /// About a view.
    pub(crate) enum ViewProblem {
        /// There are too many lines to ask what hides each.
        Warn "drawn-unhidden" DrawnUnhidden { view: String, lines: usize as "lines" }
    }
}

/// That so many lines of a view, by its name, are drawn whatever stands before them; nothing where there are none.
pub(super) fn drawn_unhidden(view: &str, lines: usize) -> Option<Finding> {
    let problem = ViewProblem::DrawnUnhidden { view: view.to_owned(), lines };
    (lines > 0).then(|| Finding::of(problem, Place::pointer("")))
}

impl Seen {
    /// The same of this view.
    pub(super) fn told(&self) -> Option<Finding> {
        drawn_unhidden(&self.name, self.untold())
    }
}
