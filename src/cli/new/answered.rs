//! What was answered to a starter's questions, what is taken where nobody has answered yet, and the file that comes of it.

use super::starters::{NONE, Part, Question, Starter, Wanted};
use crate::cli::ask::Answers;
use crate::tolerance::SAME_POINT;
use crate::units::{Angle, Length, Notation, Quantity, Sum, Units};
use serde_json::Value;

/// The question after the title of a piece, its units and its paper, under names that no size has.
pub const TITLE: &str = "title of the piece";
pub const UNITS: &str = "units of the file";
pub const PAPER: &str = "paper in the printer";

/// A starter with answers to its questions.
#[derive(Clone, Copy)]
pub struct Answered<'a> {
    /// The starter.
    pub starter: &'static Starter,
    /// What was answered.
    pub answers: &'a Answers,
    /// What is proposed where nobody has answered, in place of the usual.
    pub proposed: &'a Answers,
    /// The units of the file.
    pub units: Units,
}

impl Answered<'_> {
    /// What the piece is called.
    pub fn title(&self) -> &str {
        self.answers.get(TITLE).unwrap_or(self.starter.title)
    }

    /// The name under which the answer to a question is kept: starters ask for sizes of the same names.
    pub fn key(&self, name: &str) -> String {
        format!("{} {name}", self.starter.kind)
    }

    /// The questions that are asked, as the answers are.
    pub fn questions(&self) -> impl Iterator<Item = &'static Question> {
        self.starter.questions.iter().filter(|question| self.is_asked(question))
    }

    fn is_asked(&self, question: &Question) -> bool {
        let Some((other, answers)) = question.only else { return true };
        answers.contains(&self.value(other).as_str())
    }

    /// The answer to a question, or what is taken until there is one: what was answered before carries it along.
    pub fn value(&self, name: &str) -> String {
        let key = self.key(name);
        if let Some(answer) = self.answers.get(&key).or_else(|| self.proposed.get(&key)) {
            return answer.to_owned();
        }
        let Some(question) = self.starter.questions.iter().find(|question| question.name == name) else {
            return String::new();
        };
        let given = question.follows.iter().find_map(|(other, share)| {
            let length = length(self.answers.get(&self.key(other))?, self.units)?;
            Some(length * *share)
        });
        given.map_or_else(|| question.default_in(self.units).to_owned(), |length| rounded(length, self.units))
    }

    /// What is proposed for a question, whatever was answered to it.
    pub fn unanswered(&self, question: &Question) -> String {
        let answers = self.answers.without(&self.key(question.name));
        Answered { answers: &answers, ..*self }.value(question.name)
    }

    /// What is seen of the answers where a question has another one.
    pub fn with<R>(&self, question: &Question, answer: &str, seen: impl Fn(Answered) -> R) -> R {
        let mut answers = self.answers.clone();
        answers.keep(&self.key(question.name), answer.to_owned());
        seen(Answered { answers: &answers, ..*self })
    }

    /// An answer as it is told again.
    pub fn told(&self, question: &Question) -> String {
        let value = self.value(question.name);
        let notation = Notation { units: self.units, ..Notation::default() };
        match (question.wanted, amount(&value, self.units)) {
            (Wanted::Length | Wanted::Perhaps, Some(size)) => {
                size.to_length(Some(self.units)).map_or(value, |length| notation.length(length))
            }
            (Wanted::Angle, Some(size)) => size.to_angle().map_or(value, |angle: Angle| notation.angle(angle)),
            _ => value,
        }
    }

    /// The file's text; `own_paper`: the paper is that of the person's own shop file.
    pub fn text(&self, own_paper: bool) -> String {
        let mut file = self.starter.file.to_owned();
        for part in self.starter.parts {
            // What follows of the same mark stands behind it.
            let text = if self.is_there(part) { self.filled(part.text) + part.mark } else { part.mark.to_owned() };
            file = file.replacen(part.mark, &text, 1);
        }
        for part in self.starter.parts {
            file = file.replace(part.mark, "");
        }
        let asked: Vec<&Question> = self.questions().collect();
        let sized = asked.iter().filter(|question| question.is_size()).map(|question| {
            let value = self.value(question.name);
            // Left out it is none of it, and can be given later.
            let value = if value == NONE { "0".to_owned() } else { literal(&value) };
            format!("    \"{}\": {value}", question.name)
        });
        let sizes: Vec<String> = sized.collect();
        let paper = self.answers.get(PAPER).map_or_else(|| usual_paper(self.units), str::to_owned);
        let shop =
            if own_paper { String::new() } else { format!(",\n\n  \"shop\": {{ \"paper\": {} }}", quoted(&paper)) };
        let file = asked
            .iter()
            .filter(|question| question.wanted == Wanted::Count)
            .fold(file, |file, question| file.replace(&format!("@{}@", question.name), &self.value(question.name)));
        file.replace("@units@", if self.units == Units::Mm { "mm" } else { "in" })
            .replace("@sizes@", &sizes.join(",\n"))
            .replace("@shop@", &shop)
            .replace("\"@title@\"", &quoted(self.title()))
    }

    fn is_there(&self, part: &Part) -> bool {
        let asked = |name: &str| self.questions().any(|question| question.name == name);
        part.after.iter().all(|(name, answers)| asked(name) && answers.contains(&self.value(name).as_str()))
    }

    /// A text with the answers that it names.
    fn filled(&self, text: &str) -> String {
        self.questions().fold(text.to_owned(), |text, question| {
            let value = quoted(&self.value(question.name));
            text.replace(&format!("\"@{}@\"", question.name), &value)
        })
    }
}

/// The paper of a file in such units, unless another is named.
pub fn usual_paper(units: Units) -> String {
    crate::model::Paper::usual(units).name()
}

/// What an answer amounts to.
pub fn amount(answer: &str, units: Units) -> Option<Quantity> {
    Sum::read(answer).ok()?.value(Some(units), |_| None).ok()
}

/// A length as it was answered.
pub fn length(answer: &str, units: Units) -> Option<Length> {
    amount(answer, units)?.to_length(Some(units)).ok()
}

/// Steps in which a length is proposed, and from where on: whole fives or ones, and halves or eighths of an inch.
const STEPS: [(f64, f64); 2] = [(100.0, 5.0), (0.0, 1.0)];
const STEPS_IN: [(f64, f64); 2] = [(10.0, 0.5), (0.0, 0.125)];

/// The smallest part of an inch in which a length is proposed: a sixteenth.
const PARTS: u32 = 16;

/// A length as it is proposed.
fn rounded(length: Length, units: Units) -> String {
    let (amount, steps) = match units {
        Units::Mm => (length.mm(), STEPS),
        Units::Inch => (length.inches(), STEPS_IN),
    };
    let step = steps.into_iter().find(|(from, _)| amount >= *from).map_or(1.0, |(_, step)| step);
    as_answered((amount / step).round().max(1.0) * step, units)
}

/// A number of millimetres or of inches as a person answers it: `38`, `1 1/2`.
pub fn as_answered(amount: f64, units: Units) -> String {
    let parts = (amount * f64::from(PARTS)).round();
    if units == Units::Mm || (parts / f64::from(PARTS) - amount).abs() > SAME_POINT {
        return amount.to_string();
    }
    let whole = (parts / f64::from(PARTS)).floor();
    let mut fraction = ((parts - whole * f64::from(PARTS)) as u32, PARTS);
    while fraction.0 > 0 && fraction.0.is_multiple_of(2) {
        fraction = (fraction.0 / 2, fraction.1 / 2);
    }
    match (whole, fraction) {
        (whole, (0, _)) => whole.to_string(),
        (0.0, (of, parts)) => format!("{of}/{parts}"),
        (whole, (of, parts)) => format!("{whole} {of}/{parts}"),
    }
}

/// A number as it is, anything else as a JSON string.
fn literal(answer: &str) -> String {
    match serde_json::from_str::<Value>(answer) {
        Ok(value) if value.is_number() => answer.to_owned(),
        _ => quoted(answer),
    }
}

fn quoted(text: &str) -> String {
    Value::from(text).to_string()
}

#[cfg(test)]
mod tests {
    use super::{Answered, as_answered, rounded};
    use crate::cli::ask::Answers;
    use crate::cli::new::starters::STARTERS;
    use crate::units::{Length, Units};

    #[test]
    fn what_is_proposed_is_a_round_number() {
        assert_eq!(rounded(Length::from_mm(1722.6), Units::Mm), "1725");
        assert_eq!(rounded(Length::from_mm(12.4), Units::Mm), "12");
        assert_eq!(rounded(Length::from_inches(121.7), Units::Inch), "121 1/2");
        assert_eq!(rounded(Length::from_inches(0.36), Units::Inch), "3/8");
        assert_eq!(rounded(Length::from_inches(3.0), Units::Inch), "3");
        assert_eq!(rounded(Length::from_inches(0.01), Units::Inch), "1/8");
        assert_eq!(as_answered(1.6875, Units::Inch), "1 11/16");
        assert_eq!(as_answered(12.5, Units::Mm), "12.5");
    }

    /// `set` knows a size by the words of its question.
    #[test]
    fn a_size_is_named_by_the_words_of_its_question() {
        for question in STARTERS.into_iter().flat_map(|starter| starter.questions) {
            assert_eq!(question.called.to_lowercase().replace(' ', "_"), question.name);
        }
    }

    /// Each question is explained: from where to where, what is usual, what follows.
    #[test]
    fn every_question_is_explained() {
        for question in STARTERS.into_iter().flat_map(|starter| starter.questions) {
            assert!(question.explained.len() > question.called.len() + question.meaning.len(), "{}", question.called);
        }
    }

    /// A base of 96 in makes the top longer, whichever is asked first, until somebody says how long the top is.
    #[test]
    fn what_nobody_has_said_follows_what_somebody_has() {
        let starter = STARTERS.into_iter().find(|one| one.kind == "leaning-frames").expect("the table");
        let mut answers = Answers::default();
        let value = |answers: &Answers, name: &str| {
            let proposed = &Answers::default();
            Answered { starter, answers, proposed, units: Units::Inch }.value(name)
        };
        assert_eq!(
            (value(&answers, "top_length"), value(&answers, "base_length")),
            ("71".to_owned(), "56".to_owned())
        );
        answers.keep("leaning-frames base_length", "96".to_owned());
        assert_eq!(value(&answers, "top_length"), "121 1/2");
        answers.keep("leaning-frames top_length", "110".to_owned());
        assert_eq!(
            (value(&answers, "top_length"), value(&answers, "base_length")),
            ("110".to_owned(), "96".to_owned())
        );
    }
}
