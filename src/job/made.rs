//! Parts that exist already: what is still to be done to each, and what its patterns say of that.

use super::Job;
use super::patterns::NamedPattern;
use crate::pattern::InFull;
use crate::piece::{Handed, SolvedBoard};
use std::borrow::Cow;
use std::cmp::Reverse;

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
    /// That one by one, in order, in words; nothing of one that is kept or made again, nor what else its steps of making tell.
    pub steps: Vec<String>,
}

/// A part of which some copies are to be made, and others exist that are not made again, each in a maker's words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SomeMade {
    /// Those that are to be made.
    pub to_make: Vec<String>,
    /// Those that exist.
    pub made: Vec<String>,
}

/// So many copies are named; of more it is told how many there are.
const MOST_NAMED: usize = 2;

impl SomeMade {
    /// Which are made, in few words: `MAKE 1 of 2 (right rail); made already: left rail`.
    pub fn words(&self) -> String {
        let [to_make, made] = [&self.to_make, &self.made].map(Vec::len);
        let count = format!("MAKE {to_make} of {}", to_make + made);
        let named = |names: &[String]| names.join(", ");
        match made <= MOST_NAMED {
            true if to_make <= MOST_NAMED => {
                format!("{count} ({}); made already: {}", named(&self.to_make), named(&self.made))
            }
            true => format!("{count}: all but what is made already ({})", named(&self.made)),
            false => format!("{count} ({}); the other {made} are made already", named(&self.to_make)),
        }
    }
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

    /// Which copies of a part are to be made, by its key, where others exist; `None` where all are, or none is.
    pub fn some_made(&self, part: &str) -> Option<SomeMade> {
        let boards = self.piece().ok().flatten().into_iter().flat_map(|piece| &piece.boards);
        let copies = boards.filter(|board| board.id.as_str() == part).flat_map(|board| &board.copies);
        let labels = copies.map(|copy| copy.label.clone());
        let (to_make, made): (Vec<String>, Vec<String>) =
            labels.partition(|label| self.to_do_of(part, &[label]) == ToDo::Make);
        (!to_make.is_empty() && !made.is_empty()).then_some(SomeMade { to_make, made })
    }

    /// What is still to be done to a part that exists, by its key, one by one: the copies that are meant, all where none is named, and the words.
    pub fn steps_of(&self, part: &str) -> impl Iterator<Item = (&[String], &str)> {
        let own = self.made.iter().filter(move |made| made.part == part);
        own.flat_map(|made| made.steps.iter().map(|step| (made.copies.as_slice(), step.as_str())))
    }

    /// A board as it is made: with so many of either hand as are still to be made.
    pub(super) fn as_made<'b>(&self, board: &'b SolvedBoard) -> Cow<'b, SolvedBoard> {
        let Some(some) = self.some_made(board.id.as_str()) else { return Cow::Borrowed(board) };
        let wanted = board.copies.iter().filter(|copy| some.to_make.contains(&copy.label));
        let mirrored = wanted.clone().filter(|copy| copy.placement.is_mirrored()).count() as u32;
        let count = wanted.count() as u32;
        let handed = board.handed.map(|_| Handed { as_drawn: count - mirrored, mirrored });
        Cow::Owned(SolvedBoard { count, handed, ..board.clone() })
    }

    /// Whether a pattern is of a part that exists already and to which nothing is to be done, or belongs to one: its template, its gauge.
    pub fn is_kept(&self, pattern: &NamedPattern) -> bool {
        pattern.part_meant().is_some_and(|part| self.to_do(part) == ToDo::Keep)
    }

    /// What a pattern says of the part that exists which it shows: which copies are made by it, where not all are, then what is to be done by
    /// each entry of the file, that to which most is to be done first.
    pub(super) fn made_words(&self, pattern: &NamedPattern) -> Vec<String> {
        let Some(part) = pattern.part_drawn() else { return Vec::new() };
        let mut own: Vec<&AlreadyMade> = self.made.iter().filter(|made| made.part == part).collect();
        own.sort_by_key(|made| Reverse(made.to_do));
        let some = self.some_made(part).map(|some| some.words());
        some.into_iter().chain(own.into_iter().map(|made| made.words.clone())).collect()
    }

    /// All that is to be done to the part that exists which a pattern shows, of each entry of the file.
    pub(super) fn made_in_full(&self, pattern: &NamedPattern) -> Vec<InFull> {
        let part = pattern.part_drawn();
        let own = self.made.iter().filter(|made| Some(made.part.as_str()) == part);
        own.filter_map(|made| made.in_full.clone()).collect()
    }
}
