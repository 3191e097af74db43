//! An answer tried: what is found of the file that it makes with all others, what would do in its place, and what of the questions still
//! to come gives way to it.

use super::answered::{Answered, amount, as_answered};
use super::drafted;
use super::slip::VERY_FAR;
use super::starters::{NO, NONE, Question, Wanted};
use crate::cli::ask::Answers;
use crate::cli::load::ShopFiles;
use crate::finding::{Cure, Finding, Place, Quantity, Setting, Severity};
use crate::piece::search::{self, LESS, MORE};
use crate::units::{Notation, Units};

/// The steps in which a length and an angle are offered: whole millimetres, sixteenths of an inch, halves of a degree.
const STEP_MM: f64 = 1.0;
const STEP_IN: f64 = 1.0 / 16.0;
const STEP_DEGREES: f64 = 0.5;

/// What stops the work weighs more than all that may be warned of: behind it nothing else is found.
const STOP: usize = 1000;

/// So many things are said of one answer.
const SAID: usize = 3;

/// Answers as they are tried.
#[derive(Clone, Copy)]
pub struct Trial<'a> {
    /// The answers, with that which is tried.
    pub answered: Answered<'a>,
    /// Whether the paper is that of the person's own shop file.
    pub own_paper: bool,
    /// The shop files.
    pub shops: &'a ShopFiles,
    /// What was found before, and kept.
    pub known: &'a [Finding],
}

impl Trial<'_> {
    /// What stops the work or is warned of with these answers, and was not before; stops first.
    pub fn news(&self) -> Vec<Finding> {
        self.new_of(drafted(self.answered, self.own_paper, self.shops).findings)
    }

    fn new_of(&self, mut found: Vec<Finding>) -> Vec<Finding> {
        found.retain(|finding| self.is_news(finding));
        found.sort_by_key(|finding| finding.severity);
        found
    }

    fn is_news(&self, finding: &Finding) -> bool {
        let same = |known: &Finding| known.code == finding.code && known.place.pointer == finding.place.pointer;
        finding.severity != Severity::Note && !self.known.iter().any(same)
    }

    /// How much there is to say against the answers as they are.
    fn weight(&self) -> usize {
        self.news().iter().map(|finding| if finding.severity == Severity::Stop { STOP } else { 1 }).sum()
    }

    /// The same with another answer to a question; what is proposed for the rest is as it stands, or as usual.
    fn weight_with(&self, question: &Question, answer: &str) -> usize {
        let usual = Answers::default();
        self.answered.with(question, answer, |answered| {
            let as_it_stands = Trial { answered, ..*self }.weight();
            let is_usual = *answered.proposed == usual;
            let as_usual = || Trial { answered: Answered { proposed: &usual, ..answered }, ..*self }.weight();
            if as_it_stands == 0 || is_usual { as_it_stands } else { as_it_stands.min(as_usual()) }
        })
    }

    /// What is proposed for questions that give way and that nobody has answered, so that there is less to find; what is found all the
    /// same is left. What was proposed `before` stays where it still does.
    pub fn proposals(&self, before: &Answers) -> Answers {
        let mut proposed = Answers::default();
        let mut left = self.weight();
        let kept = Trial { answered: Answered { proposed: before, ..self.answered }, ..*self };
        if left > 0 && *before != proposed && kept.news().is_empty() {
            return before.clone();
        }
        for question in self.answered.questions().filter(|question| question.gives_way) {
            let now = Trial { answered: Answered { proposed: &proposed, ..self.answered }, ..*self };
            if left == 0 || self.answered.answers.get(&self.answered.key(question.name)).is_some() {
                continue;
            }
            let Some((answer, then)) = now.nearest_with_fewer(question, left) else { continue };
            proposed.keep(&self.answered.key(question.name), answer);
            left = then;
        }
        proposed
    }

    /// The answer to a question nearest to what is proposed with which least is found, where that is less than now; and how much that is.
    fn nearest_with_fewer(&self, question: &Question, now: usize) -> Option<(String, usize)> {
        let value = self.answered.value(question.name);
        let ladder = LESS.into_iter().filter_map(|share| self.scaled(question, &value, share));
        let least = ladder.map(|answer| self.weight_with(question, &answer)).min().filter(|least| *least < now)?;
        Some((self.nearest(question, least)?, least))
    }

    /// A share of an answer.
    fn scaled(&self, question: &Question, value: &str, share: f64) -> Option<String> {
        let (given, units) = (self.number(question, value)?, self.answered.units);
        Some(in_words(question.wanted, given * share, units))
    }

    /// An answer as a number, in the file's units or degrees.
    fn number(&self, question: &Question, value: &str) -> Option<f64> {
        let units = self.answered.units;
        let read = amount(value, units)?;
        match question.wanted {
            Wanted::Length | Wanted::Perhaps => {
                let length = read.to_length(Some(units)).ok()?;
                Some(if units == Units::Inch { length.inches() } else { length.mm() })
            }
            Wanted::Angle => read.to_angle().ok().map(|angle| angle.degrees()),
            Wanted::Count => value.parse().ok(),
            Wanted::OneOf(_) | Wanted::Words => None,
        }
    }

    /// The answer to a question nearest to what stands with which no more is found than so much.
    fn nearest(&self, question: &Question, most: usize) -> Option<String> {
        let value = self.answered.value(question.name);
        match question.wanted {
            Wanted::OneOf(words) => {
                let mut others = words.iter().filter(|word| **word != value && !self.leaves_out(word));
                return others.find(|word| self.weight_with(question, word) <= most).map(|word| (*word).to_owned());
            }
            Wanted::Words => return None,
            Wanted::Perhaps if value == NONE => return None,
            Wanted::Length | Wanted::Perhaps | Wanted::Angle | Wanted::Count => {}
        }
        let given = self.number(question, &value)?;
        let units = self.answered.units;
        let usual = self.number(question, &self.answered.unanswered(question));
        let does = |number: f64| {
            is_allowed(question.wanted, number)
                && is_usual(question.wanted, number, usual)
                && self.weight_with(question, &in_words(question.wanted, number, units)) <= most
        };
        let step = step(question.wanted, units);
        let written = |number: f64, up: bool, finely: bool| {
            let steps = number / if finely { step / 10.0 } else { step };
            (if up { steps.ceil() } else { steps.floor() }) * if finely { step / 10.0 } else { step }
        };
        // From what is usual, so that one limit is told whatever was answered beyond it.
        let found = match usual.filter(|usual| does(*usual)) {
            Some(usual) => search::limit(usual, given, &does, &written)?,
            None => search::nearest(given, &ladders(given, usual), &does, &written)?,
        };
        let found = tidied(found);
        // What was found lies a hair on this side of a limit that is itself a step.
        let nearer = tidied(if found > given { found - step } else { found + step });
        // Where nothing but what is usual stands in the way of a nearer one, it is no limit that would be offered.
        let is_of_use = is_usual(question.wanted, nearer, usual);
        let fits = || self.weight_with(question, &in_words(question.wanted, nearer, units)) <= most;
        Some(match usual.filter(|usual| !is_of_use && fits() && does(*usual)) {
            Some(usual) => in_words(question.wanted, usual, units),
            None => in_words(question.wanted, if does(nearer) { nearer } else { found }, units),
        })
    }

    /// Whether a word leaves a part out where what is found only wants an eye: no reason to make a piece without it.
    fn leaves_out(&self, word: &str) -> bool {
        [NO, NONE].contains(&word) && self.weight() < STOP
    }

    /// What is said of an answer with which something is found: what that is, and what would do.
    pub fn doubt(&self, name: &str) -> String {
        let drafted = drafted(self.answered, self.own_paper, self.shops);
        let (news, notation) = (self.new_of(drafted.cured_findings()), drafted.sources.notation());
        let question = self.answered.questions().find(|question| self.answered.key(question.name) == name);
        let with = question
            .map_or_else(String::new, |question| format!("{} {}: ", question.called, self.answered.told(question)));
        let mut lines: Vec<String> = news
            .iter()
            .take(SAID)
            .map(|finding| format!("{with}{}.", said_of(question, finding, &notation)))
            .collect();
        if news.len() > SAID {
            lines.push(format!("And {} more.", news.len() - SAID));
        }
        let own = question.and_then(|question| Some((question, self.one_that_does(question)?)));
        lines.extend(own.as_ref().map(|(question, answer)| {
            let told = self.answered.with(question, answer, |answered| answered.told(question));
            format!("With all else as it is, {told} does.")
        }));
        let others = self.other_cures(question, &news, &notation);
        if own.is_none() && others.is_empty() {
            lines.push(question.and_then(|question| self.with_one_before(question)).unwrap_or_else(|| {
                "No other answer here was found to mend it, nor one here together with one before it.".to_owned()
            }));
        }
        lines.extend(others);
        lines.join("\n")
    }

    /// The answer to a question nearest to what stands with which nothing is found; else what is proposed, where it does.
    fn one_that_does(&self, question: &Question) -> Option<String> {
        // Which word was meant is told with what is found: what is usual is no cure of a slip of the hand.
        if question.wanted == Wanted::Words {
            return None;
        }
        let usual = self.answered.unanswered(question);
        let does = || self.weight_with(question, &usual) == 0;
        self.nearest(question, 0).or_else(|| does().then(|| usual.clone()))
    }

    /// What mends the answer to a question: one that was answered before at what is proposed for it, alone or with this one.
    fn with_one_before(&self, question: &Question) -> Option<String> {
        let before: Vec<&Question> = self.answered.questions().take_while(|one| one.name != question.name).collect();
        let is_answered = |one: &&&Question| self.answered.answers.get(&self.answered.key(one.name)).is_some();
        before.iter().rev().filter(is_answered).find_map(|other| {
            let usual = self.answered.unanswered(other);
            self.answered.with(other, &usual, |answered| {
                let there = Trial { answered, ..*self };
                let words =
                    format!("{} for {}, which was asked before", answered.told(other), other.called.to_lowercase());
                if there.weight() == 0 {
                    return Some(format!("Or {words}."));
                }
                // Of this one only what is proposed is tried with it: a search for each would keep a person waiting.
                let here = answered.unanswered(question);
                let here = (there.weight_with(question, &here) == 0).then_some(here)?;
                let here = answered.with(question, &here, |answered| answered.told(question));
                Some(format!("It takes two: {here} here, and {words}."))
            })
        })
    }

    /// Whether a number of a cure is worth an offer as the answer to a question.
    fn is_offered(&self, question: &Question, setting: &Setting) -> bool {
        let number = match setting.value {
            Quantity::Length(length) if self.answered.units == Units::Inch => length.inches(),
            Quantity::Length(length) => length.mm(),
            Quantity::Angle(angle) => angle.degrees(),
            Quantity::Pair(_) | Quantity::Number(_) => return true,
        };
        is_usual(question.wanted, number, self.number(question, &self.answered.unanswered(question)))
    }

    /// Cures by other questions than that which is answered: those before it. Of what nobody has been asked yet nothing is offered.
    fn other_cures(&self, question: Option<&Question>, news: &[Finding], notation: &Notation) -> Vec<String> {
        let asked: Vec<&Question> = self.answered.questions().collect();
        let at = asked.iter().position(|one| question.is_some_and(|own| own.name == one.name));
        let place = |one: &Question| Place::pointer("/sizes").child(one.name);
        let mut said: Vec<String> = Vec::new();
        for cure in news.iter().flat_map(|finding| finding.cures.all()) {
            let parts: Option<Vec<String>> = cure
                .settings
                .iter()
                .map(|setting| {
                    let k = asked.iter().position(|one| place(one) == setting.place)?;
                    let one = asked.get(k).filter(|one| self.is_offered(one, setting))?;
                    let value = amount_of(setting, notation)?;
                    let before = || format!("{value} for {}, which was asked before", one.called.to_lowercase());
                    match at {
                        Some(at) if k == at => Some(format!("{value} here")),
                        Some(at) if k > at => None,
                        _ => Some(before()),
                    }
                })
                .collect();
            // A number of this question alone is offered already.
            let is_own = |cure: &Cure| {
                let own = at.and_then(|at| asked.get(at)).map(|own| place(own));
                matches!(cure.settings.as_slice(), [only] if Some(&only.place) == own.as_ref())
            };
            let Some(parts) = parts.filter(|parts| !parts.is_empty() && !is_own(cure)) else { continue };
            let words = match parts.as_slice() {
                [one] => format!("Or {one}."),
                several => format!("Or together {}.", several.join(", and ")),
            };
            if !said.contains(&words) {
                said.push(words);
            }
        }
        said
    }
}

/// A number of a cure as it is told.
fn amount_of(setting: &Setting, notation: &Notation) -> Option<String> {
    match setting.value {
        Quantity::Length(length) => Some(notation.exact(length)),
        Quantity::Angle(angle) => Some(notation.angle(angle)),
        Quantity::Pair(_) | Quantity::Number(_) => None,
    }
}

/// The answers that are tried in place of one, going away from it either way: shares of it, and what is proposed for it.
fn ladders(given: f64, usual: Option<f64>) -> [Vec<f64>; 2] {
    let shares = LESS.into_iter().chain(MORE).map(|share| given * share);
    let (mut up, mut down): (Vec<f64>, Vec<f64>) = shares.chain(usual).partition(|number| *number > given);
    up.sort_by(f64::total_cmp);
    down.retain(|number| *number < given);
    down.sort_by(|a, b| b.total_cmp(a));
    [down, up]
}

/// Whether a question takes a number.
fn is_allowed(wanted: Wanted, number: f64) -> bool {
    match wanted {
        // How much either may be is the reader's to say.
        Wanted::Angle | Wanted::Count => true,
        Wanted::Length | Wanted::Perhaps => number > 0.0,
        Wanted::OneOf(_) | Wanted::Words => false,
    }
}

/// So many times what is usual for an angle is within what is usual, and this many degrees always.
const USUAL_ANGLE: (f64, f64) = (2.5, 20.0);

/// Whether a number is worth an offer: never one that would itself be doubted. Nobody leans a table by half a right angle because something
/// else stands in the way.
fn is_usual(wanted: Wanted, number: f64, usual: Option<f64>) -> bool {
    let Some(usual) = usual else { return true };
    match wanted {
        Wanted::Angle => (0.0..=(USUAL_ANGLE.0 * usual).max(USUAL_ANGLE.1)).contains(&number),
        Wanted::Length | Wanted::Perhaps => (usual / VERY_FAR..=usual * VERY_FAR).contains(&number),
        Wanted::Count | Wanted::OneOf(_) | Wanted::Words => true,
    }
}

/// What is said of something that is found of an answer: of a word with what may have been meant by it.
fn said_of(question: Option<&Question>, finding: &Finding, notation: &Notation) -> String {
    let said = finding.said(notation);
    match question.map(|question| question.wanted) {
        Some(Wanted::Words) => said.in_one_line(),
        _ => said.message,
    }
}

/// The step in which an answer is offered.
fn step(wanted: Wanted, units: Units) -> f64 {
    match (wanted, units) {
        (Wanted::Angle, _) => STEP_DEGREES,
        (Wanted::Count, _) | (_, Units::Mm) => STEP_MM,
        (_, Units::Inch) => STEP_IN,
    }
}

/// Without what adding steps leaves in its last digits.
fn tidied(number: f64) -> f64 {
    (number * 1e6).round() / 1e6
}

/// A number as an answer.
fn in_words(wanted: Wanted, number: f64, units: Units) -> String {
    match wanted {
        Wanted::Angle => format!("{} deg", tidied(number)),
        Wanted::Count => number.round().max(0.0).to_string(),
        _ => as_answered(tidied(number), units),
    }
}
