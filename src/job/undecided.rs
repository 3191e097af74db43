//! Numbers that the file names: those that are not decided, with the parts that are held back since they hang on them, and those that are
//! fixed.

use super::Job;
use super::patterns::NamedPattern;
use crate::finding::{Finding, Names, Offered, Place, problems};
use crate::model::path::{in_a_file, named, steps};
use crate::model::{Kind, Number};
use crate::piece::Piece;
use std::collections::HashSet;

/// A part that hangs on numbers that are not decided.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeldBack {
    /// Its key, or the name of a part drawn directly.
    pub part: String,
    /// What a maker calls it.
    pub label: String,
    /// The numbers, as the file names them.
    pub numbers: Vec<String>,
}

problems! {
    /// What is told of numbers that are not decided, or fixed.
    pub(crate) enum NamedProblem {
        /// Parts hang on one that is not decided.
        Warn "undecided-holds" Holds { number: String, parts: Vec<String> }
        /// Nothing hangs on it.
        Note "undecided-idle" Idle { number: String }
        /// There is no such number.
        Stop "undecided-unknown" Unknown { name: String, numbers: Offered<Names> }
        /// Nor is there one that is fixed.
        Stop "fixed-unknown" FixedUnknown { name: String, numbers: Offered<Names> }
    }
}

/// A number is moved by one of these to see what hangs on it, mm, degrees or of what it is; the later ones are tried where nothing can be
/// made with the first.
const MOVED: [f64; 3] = [1.0, 0.2, 0.05];

/// What stands on every sheet of what is held back, and what it waits for.
pub(crate) fn not_decided(numbers: &[String]) -> (String, String) {
    ("NOT DECIDED YET: cut nothing by this".to_owned(), format!("waits for {}", numbers.join(", ")))
}

/// A part that may hang on a number: its key, or the name of a part drawn directly, and what a maker calls it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Part {
    key: String,
    label: String,
}

/// The piece alone as it is and as it would be with other numbers.
struct Trials {
    /// With the numbers that the file does not give written down, so that each can be moved.
    spelt: Job,
    /// Its boards.
    boards: Vec<Part>,
    /// Their codes; `None` where nothing can be made of the numbers as they are.
    codes: Option<Vec<String>>,
}

impl Job {
    /// The numbers that a part waits for, as the file names them; none of one that may be cut.
    pub fn held_back(&self, part: &str) -> Vec<String> {
        let held = self.worked().held_back.iter().find(|held| held.part == part);
        held.map(|held| held.numbers.clone()).unwrap_or_default()
    }

    /// Whether a pattern is of a part that is held back, or belongs to one.
    pub fn is_held_back(&self, pattern: &NamedPattern) -> bool {
        pattern.part_meant().is_some_and(|part| !self.held_back(part).is_empty())
    }

    /// What a pattern of a part that is held back, or one that belongs to it, says wherever it is drawn all the same, and what it waits for;
    /// nothing of any other.
    pub(super) fn undecided_words(&self, pattern: &NamedPattern) -> Option<(String, String)> {
        let numbers = pattern.part_meant().map(|part| self.held_back(part)).filter(|numbers| !numbers.is_empty())?;
        Some(not_decided(&numbers))
    }

    /// What is told of the numbers that the file names, and which parts hang on those that are not decided. `piece` is what was made of the
    /// file, whatever was found about it; nothing is asked where the file names none.
    pub(super) fn named_numbers(&self, piece: Option<&Piece>) -> (Vec<HeldBack>, Vec<Finding>) {
        let (undecided, fixed) = (&self.project.undecided, &self.project.fixed);
        if undecided.is_empty() && fixed.is_empty() || self.for_codes {
            return (Vec::new(), Vec::new());
        }
        let spelt = self.project.spelt_out();
        let numbers = spelt.numbers();
        let (held, mut findings) = match undecided.is_empty() {
            true => (Vec::new(), Vec::new()),
            false => self.undecided(&numbers, &Trials::of(Job::new(spelt), piece)),
        };
        let place = Place::pointer("/fixed");
        let unknown = fixed.iter().enumerate().filter(|(_, name)| named(&numbers, name).is_empty());
        findings.extend(unknown.map(|(index, name)| {
            let numbers = instead_of(name, paths(&numbers));
            Finding::of(NamedProblem::FixedUnknown { name: name.clone(), numbers }, place.child(index))
        }));
        (held, findings)
    }

    /// Which parts hang on numbers that are not decided, and what is to be told of that.
    fn undecided(&self, numbers: &[Number], trials: &Trials) -> (Vec<HeldBack>, Vec<Finding>) {
        let (mut held, mut findings): (Vec<HeldBack>, Vec<Finding>) = (Vec::new(), Vec::new());
        for (index, name) in self.project.undecided.iter().enumerate() {
            let place = Place::pointer("/undecided").child(index);
            let (meant, mut parts) = (named(numbers, name), self.drawn_of(name));
            if meant.is_empty() && parts.is_empty() {
                let numbers = instead_of(name, self.known(numbers));
                findings.push(Finding::of(NamedProblem::Unknown { name: name.clone(), numbers }, place));
                continue;
            }
            for part in meant.into_iter().flat_map(|number| trials.hanging_on(number)) {
                if !parts.contains(&part) {
                    parts.push(part);
                }
            }
            let labels = parts.iter().map(|part| part.label.clone()).collect();
            let problem = match parts.is_empty() {
                true => NamedProblem::Idle { number: name.clone() },
                false => NamedProblem::Holds { number: name.clone(), parts: labels },
            };
            findings.push(Finding::of(problem, place));
            for Part { key, label } in parts {
                match held.iter_mut().find(|held| held.part == key) {
                    Some(held) => held.numbers.push(name.clone()),
                    None => held.push(HeldBack { part: key, label, numbers: vec![name.clone()] }),
                }
            }
        }
        (held, findings)
    }

    /// The part drawn directly that a path names, or of which it names something.
    fn drawn_of(&self, path: &str) -> Vec<Part> {
        let steps = steps(path).unwrap_or_default();
        let [patterns, part, ..] = steps.as_slice() else { return Vec::new() };
        let is_it = |name: &&String| patterns == PATTERNS && *name == part;
        let drawn = self.project.patterns.iter().map(|part| &part.name).filter(is_it);
        drawn.map(|name| Part { key: name.clone(), label: name.clone() }).collect()
    }

    /// The paths that may be undecided.
    fn known(&self, numbers: &[Number]) -> Vec<String> {
        let drawn = self.project.patterns.iter().map(|part| in_a_file(&[PATTERNS.to_owned(), part.name.clone()]));
        paths(numbers).into_iter().chain(drawn).collect()
    }
}

/// Where parts drawn directly stand in the file.
const PATTERNS: &str = "patterns";

/// The paths of numbers, and of what holds them.
fn paths(numbers: &[Number]) -> Vec<String> {
    let mut seen = HashSet::new();
    let of_one = |number: &Number| {
        let steps: Vec<String> = number.place.steps().collect();
        (1..=steps.len()).filter_map(|count| steps.get(..count).map(in_a_file)).collect::<Vec<_>>()
    };
    numbers.iter().flat_map(of_one).filter(|path| seen.insert(path.clone())).collect()
}

/// Paths that are offered in place of one that leads nowhere.
fn instead_of(name: &str, known: Vec<String>) -> Offered<Names> {
    let mut offered = Names::instead_of(name, known.iter().map(String::as_str));
    if offered.0.near.is_none() {
        // The last step is what a maker knows it by.
        let last = |path: &str| steps(path).and_then(|steps| steps.last().cloned());
        let meant = last(name).filter(|last| !last.is_empty());
        offered.0.near = known.into_iter().find(|known| meant.is_some() && last(known) == meant);
    }
    offered
}

impl Trials {
    /// `piece` gives the boards where nothing can be made of the numbers without the rules.
    fn of(spelt: Job, piece: Option<&Piece>) -> Trials {
        let part = |(key, label): (&str, &str)| Part { key: key.to_owned(), label: label.to_owned() };
        let boards =
            |piece: &Piece| piece.boards.iter().map(|board| part((board.id.as_str(), &board.label))).collect();
        let now = spelt.with_numbers(&[]);
        let made = now.as_ref().and_then(|now| {
            let (piece, (codes, _)) = (now.needed_piece().ok()?, now.part_codes().ok()?);
            Some((boards(piece), codes.to_vec()))
        });
        match made {
            Some((boards, codes)) => Trials { spelt, boards, codes: Some(codes) },
            None => Trials { spelt, boards: piece.map(boards).unwrap_or_default(), codes: None },
        }
    }

    /// The boards that another value of a number makes others: all of them where nothing can be made with another, or as it is.
    fn hanging_on(&self, number: &Number) -> Vec<Part> {
        let Some(codes) = &self.codes else { return self.boards.clone() };
        let moved = |by: f64| {
            let other = self.spelt.with_number(&number.place, number.value + by)?;
            let keys = other.needed_piece().ok()?.boards.iter().map(|board| board.id.as_str().to_owned());
            let keys: Vec<String> = keys.collect();
            Some((keys, other.part_codes().ok()?.0.to_vec()))
        };
        let steps: &[f64] = if number.kind == Kind::Count { &MOVED[..1] } else { &MOVED };
        let others: Vec<(Vec<String>, Vec<String>)> = steps
            .iter()
            .map(|by| [*by, -by].into_iter().filter_map(moved).collect::<Vec<_>>())
            .find(|made| !made.is_empty())
            .unwrap_or_default();
        let is_other = |key: &str, code: &String| {
            others.iter().any(|(keys, codes)| match keys.iter().position(|other| other == key) {
                Some(at) => codes.get(at) != Some(code),
                None => true,
            })
        };
        let all = self.boards.iter().zip(codes);
        let hangs = all.filter(|(board, code)| others.is_empty() || is_other(&board.key, code));
        hangs.map(|(board, _)| board.clone()).collect()
    }
}
