//! What a change of numbers does to what is cut.

use super::{Job, Refusal};
use crate::pattern::Pattern;

/// The patterns of a job beside those of the same piece before a change.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved<'job> {
    /// Those that another shape or another setting makes others, and new ones: to be drawn again.
    pub changed: Vec<&'job Pattern>,
    /// Those that stay as they were: what was cut by them is still right.
    pub kept: Vec<&'job Pattern>,
    /// The names of those that are no more.
    pub gone: Vec<&'job str>,
}

impl Job {
    /// Which patterns change between another job and this one, by their revision codes.
    ///
    /// # Errors
    /// Where a finding stops the work of either.
    pub fn moved_from<'job>(&'job self, before: &'job Job) -> Result<Moved<'job>, Refusal> {
        let (old, new) = (before.patterns()?, self.patterns()?);
        let has = |name: &str| new.iter().any(|one| one.pattern.part.name == name);
        let is_known = |pattern: &&Pattern| old.iter().any(|one| one.pattern.part == pattern.part);
        let (kept, changed) = new.iter().map(|one| &one.pattern).partition(is_known);
        let gone = old.iter().map(|one| one.pattern.part.name.as_str()).filter(|name| !has(name)).collect();
        Ok(Moved { changed, kept, gone })
    }
}
