//! Parts that exist already: what is still to be done to each, and what its patterns say of that.

use super::Job;
use super::patterns::NamedPattern;
use crate::pattern::InFull;

/// What is still to be done to a part, the least first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ToDo {
    /// Nothing: it exists, and is good as it is.
    Keep,
    /// It exists, and is trimmed, or something in it is cut again.
    Trim,
    /// It exists, and nothing is cut into it yet: no mortise, no other joint, nothing that holds a top. It may want trimming too.
    Work,
    /// It is to be made: it does not exist, is no good any more, or nobody knows as what it was made.
    Make,
}

/// That a part exists already, or some copies of it: an entry of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AlreadyMade {
    /// The key of the part.
    pub part: String,
    /// The copies that are meant, in a maker's words; all where none is named.
    pub copies: Vec<String>,
    /// What the part's patterns say of it.
    pub words: String,
    /// All that is to be done to it, or that would save it, with amounts and settings; `None` where nothing is.
    pub in_full: Option<InFull>,
    /// What is still to be done to it.
    pub to_do: ToDo,
}

impl Job {
    /// Has the job know which parts exist already. Whoever calls this does so before patterns are asked for.
    pub fn mark_made(&mut self, made: Vec<AlreadyMade>) {
        self.made = made;
    }

    /// What is still to be done to a part, by its key: to the copy to which the most is.
    pub fn to_do(&self, part: &str) -> ToDo {
        let boards = self.piece().ok().flatten().into_iter().flat_map(|piece| &piece.boards);
        let copies = boards.filter(|board| board.id.as_str() == part).flat_map(|board| &board.copies);
        self.to_do_of(part, &copies.map(|copy| copy.label.as_str()).collect::<Vec<&str>>())
    }

    /// What is still to be done to some copies of a part, by its key and theirs in a maker's words; a part drawn directly has no copies.
    pub fn to_do_of(&self, part: &str, copies: &[&str]) -> ToDo {
        let of_copy = |copy: Option<&str>| {
            let is_it = |made: &&AlreadyMade| {
                let is_named = || made.copies.iter().any(|own| Some(own.as_str()) == copy);
                made.part == part && (made.copies.is_empty() || is_named())
            };
            self.made.iter().filter(is_it).map(|made| made.to_do).max().unwrap_or(ToDo::Make)
        };
        copies.iter().map(|copy| of_copy(Some(copy))).max().unwrap_or_else(|| of_copy(None))
    }

    /// Whether a pattern is of a part that exists already and to which nothing is to be done, or belongs to one: its template, its gauge.
    pub fn is_kept(&self, pattern: &NamedPattern) -> bool {
        pattern.part_meant().is_some_and(|part| self.to_do(part) == ToDo::Keep)
    }

    /// What a pattern says of the part that exists which it shows: of each entry of the file, in their order.
    pub(super) fn made_words(&self, pattern: &NamedPattern) -> Vec<String> {
        let part = pattern.part_drawn();
        let own = self.made.iter().filter(|made| Some(made.part.as_str()) == part);
        own.map(|made| made.words.clone()).collect()
    }

    /// All that is to be done to the part that exists which a pattern shows, of each entry of the file.
    pub(super) fn made_in_full(&self, pattern: &NamedPattern) -> Vec<InFull> {
        let part = pattern.part_drawn();
        let own = self.made.iter().filter(|made| Some(made.part.as_str()) == part);
        own.filter_map(|made| made.in_full.clone()).collect()
    }
}
