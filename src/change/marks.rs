//! What the sheets of parts that exist already say in place of being patterns to cut by.

use super::problem::{MadeName, Step};
use super::verdict::{Outcome, Verdict, Verdicts};
use crate::job::AlreadyMade;
use crate::units::Notation;

/// The word that stands on every sheet of a part that exists.
const ALREADY: &str = "ALREADY MADE";

impl Verdicts {
    /// What the patterns of each part say; a part of which only some copies exist is cut for the others.
    pub fn marks(&self, say: &Notation) -> Vec<AlreadyMade> {
        let mut marks: Vec<AlreadyMade> = Vec::new();
        for verdict in &self.all {
            let Some(part) = &verdict.part else { continue };
            let is_kept = verdict.outcome() == Outcome::Keep && verdict.name.only.is_empty();
            add(&mut marks, part, words(verdict, say), is_kept);
        }
        for part in &self.unknown {
            add(&mut marks, part, format!("{ALREADY}, as what is not known"), false);
        }
        marks
    }
}

/// Several entries of one part are told one after the other.
fn add(marks: &mut Vec<AlreadyMade>, part: &str, words: String, is_kept: bool) {
    match marks.iter_mut().find(|mark| mark.part == part) {
        Some(mark) => {
            mark.words.push(words);
            mark.is_kept &= is_kept;
        }
        None => marks.push(AlreadyMade { part: part.to_owned(), words: vec![words], is_kept }),
    }
}

fn words(verdict: &Verdict, say: &Notation) -> String {
    let MadeName { code, only, .. } = &verdict.name;
    let only = if only.is_empty() { String::new() } else { format!("{}, ", only.join(", ")) };
    let what = match verdict.outcome() {
        Outcome::Keep => "keep it, cut nothing".to_owned(),
        Outcome::Trim => match short(&verdict.steps, say) {
            taken if taken.is_empty() => "keep it, and cut what is not in it yet".to_owned(),
            taken => format!("keep it and trim {taken}"),
        },
        Outcome::Rescue => "keep it, fill and cut again what check says".to_owned(),
        Outcome::Again => "no good any more, MAKE AGAIN by this".to_owned(),
    };
    format!("{ALREADY} ({only}rev {code}): {what}")
}

/// What is to be taken where, in a few words.
fn short(steps: &[Step], say: &Notation) -> String {
    let one = |step: &Step| match step {
        Step::Plane { side, by } => Some(format!("{side} {}", say.length(*by))),
        Step::Edge { edge: at, by: [_, most], .. } | Step::Saw { end: at, by: [_, most], .. } => {
            Some(format!("{at} {}", say.length(*most)))
        }
        _ => None,
    };
    steps.iter().filter_map(one).collect::<Vec<String>>().join(", ")
}
