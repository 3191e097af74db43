//! What of what is found is news after a change: of parts that exist those alone of which something else is told, or of which something was said.

use super::told::is_same;
use crate::change::{MadeName, MadeProblem};
use crate::cli::output::typed;
use crate::finding::{Finding, Place};
use crate::model::path::steps;
use crate::project::edit::Made;
use std::path::Path;

/// Where parts that exist stand in a file.
const MADE: &str = "made";

/// What was found before a change, and of which parts that exist something was said by it.
pub(super) struct Known {
    pub(super) findings: Vec<Finding>,
    /// The names of their entries.
    entries: Vec<String>,
    /// What these are called, and the copies that are meant.
    said: Vec<(String, Vec<String>)>,
}

impl Known {
    /// `named` are the entries of the file as it is now: their names, what the parts are called, the copies that are meant.
    pub(super) fn of(findings: Vec<Finding>, made: &[Made], named: Vec<(String, String, Vec<String>)>) -> Known {
        let entry = |made: &Made| match steps(&made.path)?.as_slice() {
            [first, entry, ..] if first == MADE => Some(entry.clone()),
            _ => None,
        };
        let entries: Vec<String> = made.iter().filter_map(entry).collect();
        let said = named.into_iter().filter(|(name, ..)| entries.contains(name));
        let said = said.map(|(_, part, only)| (part, only)).collect();
        Known { findings, entries, said }
    }

    /// What of a finding is news: of parts that stay as they are those that did not before, or of which something was said.
    pub(super) fn news_of(&self, finding: &Finding) -> Option<Finding> {
        let Some(MadeProblem::Keeps { parts }) = finding.problem() else {
            let is_known = self.findings.iter().any(|old| is_same(old, finding)) && !self.is_said(finding);
            return (!is_known).then(|| finding.clone());
        };
        let news: Vec<MadeName> = parts.iter().filter(|part| self.is_news(part)).cloned().collect();
        match news.len() {
            0 => None,
            all if all == parts.len() => Some(finding.clone()),
            _ => Some(Finding::of(MadeProblem::Keeps { parts: news }, Place::pointer(format!("/{MADE}")))),
        }
    }

    fn is_news(&self, part: &MadeName) -> bool {
        let stayed =
            |old: &Finding| matches!(old.problem(), Some(MadeProblem::Keeps { parts }) if parts.contains(part));
        let is_said =
            self.said.iter().any(|(said, only)| *said == part.part && (only.is_empty() || *only == part.only));
        is_said || !self.findings.iter().any(stayed)
    }

    /// Whether something was said of the part of which a finding tells.
    fn is_said(&self, finding: &Finding) -> bool {
        let mut steps = finding.place.steps();
        steps.next().as_deref() == Some(MADE) && steps.next().is_some_and(|entry| self.entries.contains(&entry))
    }

    /// What is as before of some findings, a line each; parts that exist and of which no more is to be told are counted.
    pub(super) fn as_before(
        &self,
        found: &[Finding],
        line: impl Fn(&Finding) -> String,
        file: Option<&Path>,
    ) -> String {
        let (mut lines, mut good, mut to_do) = (String::new(), 0, Vec::new());
        for finding in found {
            let is_old = self.news_of(finding).is_none();
            match finding.problem::<MadeProblem>() {
                Some(MadeProblem::Keeps { parts }) => good += parts.iter().filter(|part| !self.is_news(part)).count(),
                Some(MadeProblem::Marked { .. }) if is_old => good += 1,
                Some(problem) if is_old && problem.to_do().is_some() => to_do.extend(problem.to_do().map(called)),
                _ if is_old => lines.push_str(&line(finding)),
                _ => {}
            }
        }
        lines + &counted_parts(good, &to_do, file)
    }
}

/// A part, and which copies of it are meant.
fn called(name: &MadeName) -> String {
    if name.only.is_empty() { name.part.clone() } else { name.only.join(", ") }
}

/// Parts that exist of which nothing is new, and those of them to which something is still to be done.
fn counted_parts(good: usize, to_do: &[String], file: Option<&Path>) -> String {
    let them = match good + to_do.len() {
        0 => return String::new(),
        1 => "1 part more that is made: nothing new of it".to_owned(),
        all => format!("{all} parts more that are made: nothing new of them"),
    };
    let how = file.map_or_else(String::new, |file| format!(" (how says fullsize made {})", typed(file)));
    let to_do = match to_do {
        [] => String::new(),
        all => format!("; no good yet as they are: {}{how}", all.join(", ")),
    };
    format!("  {them}{to_do}\n")
}
