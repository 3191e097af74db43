//! What `new` asks for and leaves out can come back: `stretcher=yes` writes of a file that `new` began what it would have written.

use super::answered::{Answered, UNITS, length};
use super::picture::starter_of;
use super::slip;
use super::starters::{NO, NONE, Question, Starter, Wanted};
use crate::cli::ask::Answers;
use crate::cli::output::Trouble;
use crate::finding::Finding;
use crate::model::Project;
use crate::model::path::dotted;
use crate::project::edit::{SIZES, as_written, entries, standing};
use crate::units::{Length, Units};

/// The file of a starter as it stands now.
struct Begun<'a> {
    starter: &'static Starter,
    text: &'a str,
    /// What would have been answered.
    answers: Answers,
    units: Units,
}

/// A way to a field.
type Steps = Vec<String>;

/// Changes in which an answer to a question of `new` stands for all that goes by it: `joints=yes`, `stretcher=no`.
///
/// # Errors
/// Where what is to come back is there already.
pub fn changes(text: &str, project: &Project, asked: &[String]) -> Result<Vec<String>, Trouble> {
    let Some(begun) = Begun::of(text, project) else { return Ok(asked.to_vec()) };
    let mut all = Vec::new();
    for change in asked {
        match begun.meant(change) {
            Some((question, word)) => all.extend(begun.made(question, word)?),
            None => all.push(change.clone()),
        }
    }
    Ok(all)
}

/// What was left out and can come back: the question's name in words, an answer, and what it means.
pub fn left_out(text: &str, project: &Project) -> Vec<[String; 3]> {
    let Some(begun) = Begun::of(text, project) else { return Vec::new() };
    let is_out =
        |question: &&Question| begun.choices(question).is_some_and(|(_, none)| begun.stands_at(question) == none);
    let questions = begun.starter.questions.iter().filter(is_out);
    let row = |question: &Question| {
        let (word, _) = begun.choices(question)?;
        Some([question.called.to_lowercase(), word.to_owned(), question.meaning.to_owned()])
    };
    questions.filter_map(row).collect()
}

/// What `new` proposes for a size of a file that it began, as all others stand; `None` where it asks for no such length.
pub fn usual(text: &str, project: &Project, size: &str) -> Option<Length> {
    let begun = Begun::of(text, project)?;
    let is_it = |question: &&Question| question.name == size && question.wanted == Wanted::Length;
    let question = begun.starter.questions.iter().find(is_it)?;
    let proposed = Answers::default();
    let (starter, answers, units) = (begun.starter, &begun.answers, begun.units);
    length(&Answered { starter, answers, proposed: &proposed, units }.unanswered(question), units)
}

/// Sizes of a file that `new` began which are far from what it proposes, as all others stand, and near to it in another unit.
pub fn slips(text: &str, project: &Project) -> Vec<Finding> {
    let Some(starter) = starter_of(project) else { return Vec::new() };
    let units = project.notation.units;
    let mut begun = Begun { starter, text, answers: Answers::default(), units };
    begun.keep_sizes();
    let proposed = Answers::default();
    let answered = Answered { starter, answers: &begun.answers, proposed: &proposed, units };
    starter.questions.iter().filter_map(|question| slip::in_file(answered, question)).collect()
}

impl<'a> Begun<'a> {
    fn of(text: &'a str, project: &Project) -> Option<Begun<'a>> {
        let starter = starter_of(project)?;
        let units = project.notation.units;
        let mut begun = Begun { starter, text, answers: Answers::default(), units };
        begun.keep_sizes();
        // One after the other, since what goes by one may hang on another.
        for question in starter.questions {
            let stands = begun.stands_at(question);
            begun.keep(question.name, stands);
        }
        Some(begun)
    }

    /// Takes its sizes as they stand for what was answered.
    fn keep_sizes(&mut self) {
        self.answers.keep(UNITS, if self.units == Units::Inch { "in" } else { "mm" }.to_owned());
        for (steps, value) in entries(self.text) {
            if let [sizes, name] = steps.as_slice()
                && sizes == SIZES
                && self.starter.questions.iter().any(|question| question.is_size() && question.name == name)
            {
                self.keep(name, &serde_json::from_str::<String>(&value).unwrap_or(value));
            }
        }
    }

    fn keep(&mut self, name: &str, answer: &str) {
        if answer.is_empty() {
            return;
        }
        let key = format!("{} {name}", self.starter.kind);
        self.answers.keep(&key, answer.to_owned());
    }

    /// The answer that brings something, the first of them, and the one that leaves it out; `None` where a question has no such.
    fn choices(&self, question: &Question) -> Option<(&'static str, &'static str)> {
        let Wanted::OneOf(words) = question.wanted else { return None };
        let none = words.iter().find(|word| [NO, NONE].contains(word))?;
        Some((words.iter().find(|word| *word != none)?, none))
    }

    /// The file with an answer to a question, all else as it stands.
    fn with(&self, question: &Question, word: &str) -> String {
        let proposed = Answers::default();
        let answered =
            Answered { starter: self.starter, answers: &self.answers, proposed: &proposed, units: self.units };
        answered.with(question, word, |answered| answered.text(true))
    }

    /// What stands in the file with an answer and does not with the one that leaves it out, sizes first.
    fn goes_by(&self, question: &Question, word: &str, none: &str) -> Vec<(Steps, String)> {
        let (with, without) = (self.with(question, word), self.with(question, none));
        entries(&with).into_iter().filter(|(steps, _)| standing(&without, steps).is_none()).collect()
    }

    /// The answer to a question as the file stands; empty where it has none that brings or leaves out something.
    fn stands_at(&self, question: &Question) -> &'static str {
        let Some((word, none)) = self.choices(question) else { return "" };
        // By itself: what goes by another question as well is told by that.
        let mut alone = Begun { answers: self.answers.clone(), ..*self };
        for other in self.starter.questions.iter().filter(|other| other.name != question.name) {
            alone.keep(other.name, alone.choices(other).map_or("", |(_, none)| none));
        }
        let mut parts = alone.goes_by(question, word, none);
        parts.retain(|(steps, _)| !is_size(steps));
        let is_there = |(steps, _): &(Steps, String)| standing(self.text, steps).is_some();
        if !parts.is_empty() && parts.iter().all(is_there) { word } else { none }
    }

    /// The question and the answer that a change means: one whose answer is `yes`, `no` or what is left out of the file.
    fn meant(&self, change: &str) -> Option<(&'static Question, &'static str)> {
        let (name, answer) = change.split_once('=')?;
        let plain = |words: &str| words.trim().trim_matches('"').to_lowercase().replace('_', " ");
        let (name, answer) = (plain(name), plain(answer));
        let question = self.starter.questions.iter().find(|question| {
            let called = question.called.to_lowercase();
            name == called || name.rsplit('.').next().is_some_and(|last| last == called)
        })?;
        let Wanted::OneOf(words) = question.wanted else { return None };
        let (_, none) = self.choices(question)?;
        let word = words.iter().find(|word| **word == answer)?;
        // A choice among several is an ordinary change where there is one already, and so is none of it.
        let is_ordinary = !words.contains(&NO) && (*word == none || self.stands_at(question) != none);
        (!is_ordinary).then_some((question, *word))
    }

    /// The changes that bring what goes by an answer, or take it away.
    fn made(&self, question: &Question, word: &str) -> Result<Vec<String>, Trouble> {
        let Some((brings, none)) = self.choices(question) else { return Ok(Vec::new()) };
        let called = question.called.to_lowercase();
        if word == none {
            let without = self.with(question, none);
            let mut gone: Vec<Steps> = Vec::new();
            for (steps, _) in self.goes_by(question, brings, none) {
                gone.extend(shortest(&steps, |steps| standing(&without, steps).is_none()));
            }
            gone.retain(|steps| !is_size(steps) && standing(self.text, steps).is_some());
            gone.dedup();
            if gone.is_empty() {
                return Err(Trouble::new(format!("there is no {called} to take away")));
            }
            return Ok(gone.iter().map(|steps| format!("{}={NONE}", dotted(steps))).collect());
        }
        let with = self.with(question, word);
        let mut all: Vec<String> = Vec::new();
        for (steps, _) in self.goes_by(question, word, none) {
            let Some(steps) = shortest(&steps, |steps| standing(self.text, steps).is_none()) else { continue };
            let change = as_written(&with, &steps).map(|value| format!("{}={value}", dotted(&steps)));
            all.extend(change.filter(|change| !all.contains(change)));
        }
        match all.is_empty() {
            true => Err(Trouble::new(format!("{called}: that is there already"))),
            false => Ok(all),
        }
    }
}

/// Whether a way leads to a size.
fn is_size(steps: &[String]) -> bool {
    steps.first().is_some_and(|first| first == SIZES)
}

/// The first part of a way of which something holds.
fn shortest(steps: &[String], holds: impl Fn(&[String]) -> bool) -> Option<Steps> {
    (1..=steps.len()).filter_map(|count| steps.get(..count)).find(|steps| holds(steps)).map(<[String]>::to_vec)
}
