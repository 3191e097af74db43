//! Patterns of parts that exist already: each says so.

use super::Job;
use super::patterns::NamedPattern;

/// That a part exists already.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AlreadyMade {
    /// The key of the part.
    pub part: String,
    /// What its patterns say in place of being patterns to cut by: of each entry of the file, in their order.
    pub words: Vec<String>,
    /// Whether nothing is to be cut by them, so that a print leaves them out.
    pub is_kept: bool,
}

impl Job {
    /// Has the patterns of parts that exist already say so. Whoever calls this does so before patterns are asked for.
    pub fn mark_made(&mut self, made: Vec<AlreadyMade>) {
        self.made = made;
    }

    /// Whether a pattern is of a part that exists already and to which nothing is to be done, or belongs to one: its template, its gauge.
    pub fn is_kept(&self, pattern: &NamedPattern) -> bool {
        let part = pattern.part_meant();
        self.made.iter().any(|made| Some(made.part.as_str()) == part && made.is_kept)
    }

    pub(super) fn made_of(&self, pattern: &NamedPattern) -> Option<&AlreadyMade> {
        let part = pattern.part_drawn()?;
        self.made.iter().find(|made| made.part == part)
    }
}
