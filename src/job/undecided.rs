//! Parts that are held back since they hang on numbers that are not decided.

use super::patterns::NamedPattern;
use super::{Job, Refusal};
use crate::finding::{Finding, Names, Offered, Place, problems};
use crate::model::{Kind, Number};

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
    /// What is told of numbers that are not decided.
    pub(crate) enum UndecidedProblem {
        /// Parts hang on it.
        Warn "undecided-holds" Holds { number: String, parts: Vec<String> }
        /// Nothing hangs on it.
        Note "undecided-idle" Idle { number: String }
        /// There is no such number.
        Stop "undecided-unknown" Unknown { name: String, numbers: Offered<Names> }
    }
}

/// A number is moved by one of these to see what hangs on it, mm, degrees or of what it is; the later ones are tried where nothing can be
/// made with the first.
const MOVED: [f64; 3] = [1.0, 0.2, 0.05];

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

    /// Which parts hang on numbers that are not decided, and what is to be told of that; nothing is asked where the file marks none.
    pub(super) fn undecided(&self) -> (Vec<HeldBack>, Vec<Finding>) {
        let (mut held, mut findings): (Vec<HeldBack>, Vec<Finding>) = (Vec::new(), Vec::new());
        if self.project.undecided.is_empty() || self.for_codes {
            return (held, findings);
        }
        let numbers = self.project.numbers();
        for (index, name) in self.project.undecided.iter().enumerate() {
            let place = Place::pointer("/undecided").child(index);
            let steps: Vec<&str> = name.split('.').collect();
            let meant: Vec<&Number> = numbers.iter().filter(|number| is_meant(number, &steps)).collect();
            let drawn = self.project.patterns.iter().filter(|part| is_of_part(&steps, &part.name));
            let drawn: Vec<(String, String)> = drawn.map(|part| (part.name.clone(), part.name.clone())).collect();
            if meant.is_empty() && drawn.is_empty() {
                findings.push(Finding::of(self.unknown(name, &numbers), place));
                continue;
            }
            let mut parts = drawn;
            for part in meant.into_iter().flat_map(|number| self.hanging_on(number).unwrap_or_default()) {
                if !parts.contains(&part) {
                    parts.push(part);
                }
            }
            let labels = parts.iter().map(|(_, label)| label.clone()).collect();
            let problem = match parts.is_empty() {
                true => UndecidedProblem::Idle { number: name.clone() },
                false => UndecidedProblem::Holds { number: name.clone(), parts: labels },
            };
            findings.push(Finding::of(problem, place));
            for (part, label) in parts {
                match held.iter_mut().find(|held| held.part == part) {
                    Some(held) => held.numbers.push(name.clone()),
                    None => held.push(HeldBack { part, label, numbers: vec![name.clone()] }),
                }
            }
        }
        (held, findings)
    }

    fn unknown(&self, name: &str, numbers: &[Number]) -> UndecidedProblem {
        let dotted = |number: &Number| number.place.steps().collect::<Vec<String>>().join(".");
        let known = numbers.iter().map(dotted);
        let known: Vec<String> =
            known.chain(self.project.patterns.iter().map(|part| format!("patterns.{}", part.name))).collect();
        // The last step is what a maker knows it by.
        let ends = |known: &&String| known.rsplit('.').next() == name.rsplit('.').next();
        let mut offered = Names::instead_of(name, known.iter().map(String::as_str));
        if offered.0.near.is_none() {
            offered.0.near = known.iter().find(ends).cloned();
        }
        UndecidedProblem::Unknown { name: name.to_owned(), numbers: offered }
    }

    /// The keys and names of the boards that another value of a number makes others: all of them where nothing can be made with another.
    ///
    /// # Errors
    /// Where nothing can be made at all.
    fn hanging_on(&self, number: &Number) -> Result<Vec<(String, String)>, Refusal> {
        let now = self.with_number(&number.place, number.value).ok_or(Refusal::NoPiece)?;
        let (boards, codes) = (&now.needed_piece()?.boards, now.part_codes()?.0);
        let moved = |by: f64| {
            let other = self.with_number(&number.place, number.value + by)?;
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
        let hangs =
            boards.iter().zip(codes).filter(|(board, code)| others.is_empty() || is_other(board.id.as_str(), code));
        Ok(hangs.map(|(board, _)| (board.id.as_str().to_owned(), board.label.clone())).collect())
    }
}

/// Whether a number stands at these steps or inside them.
fn is_meant(number: &Number, steps: &[&str]) -> bool {
    let own: Vec<String> = number.place.steps().collect();
    own.len() >= steps.len() && own.iter().zip(steps).all(|(own, step)| own == step)
}

/// Whether these steps name a part drawn directly, or something of it.
fn is_of_part(steps: &[&str], name: &str) -> bool {
    matches!(steps, ["patterns", part, ..] if *part == name)
}
