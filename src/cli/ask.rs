//! Questions at a terminal, by the standard library alone: the terminal keeps its own ways, so Ctrl-C is the plain signal
//! and nothing needs to be put back.

use super::load::Stopped;
use super::output::{Trouble, harmless};
use crate::finding::nearest;
use std::io::{self, BufRead, Write};

/// What takes an answer: as it is kept, or why it will not do.
pub type Accept<'q> = Box<dyn Fn(&str) -> Result<String, String> + 'q>;

/// A question.
pub struct Question<'q> {
    /// Under which its answer is kept.
    pub name: String,
    /// As it is asked.
    pub ask: String,
    /// What an empty line stands for, where nothing was answered before.
    pub default: String,
    /// What `?` says: a sentence or two.
    pub help: String,
    /// Takes an answer.
    pub accept: Accept<'q>,
    /// Whether an empty line is an answer like any other; else the question stays open, and its default may become another.
    pub is_kept: bool,
}

/// Answers by the names of their questions.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Answers(Vec<(String, String)>);

impl Answers {
    /// What was answered.
    pub fn get(&self, name: &str) -> Option<&str> {
        self.0.iter().find(|(known, _)| known == name).map(|(_, answer)| answer.as_str())
    }

    /// All but one.
    pub fn without(&self, name: &str) -> Answers {
        Answers(self.0.iter().filter(|(known, _)| known != name).cloned().collect())
    }

    /// Keeps an answer, in place of an older one.
    pub fn keep(&mut self, name: &str, answer: String) {
        match self.0.iter_mut().find(|(known, _)| known == name) {
            Some((_, old)) => *old = answer,
            None => self.0.push((name.to_owned(), answer)),
        }
    }
}

/// What becomes of an answer.
pub enum Tried {
    /// It fits; what else there is to say.
    Fits(Option<String>),
    /// It does not fit: why, and what would; the same again is kept.
    Doubted(String),
    /// It cannot be kept: why.
    Refused(String),
}

/// A conversation: which questions there are hangs on the answers to those before.
pub trait Conversation {
    /// The questions in their order, as the answers are now.
    fn questions(&self, answers: &Answers) -> Vec<Question<'_>>;

    /// Tries the answer to a question with all others as they stand. Whoever answers the same again where it was doubted means it.
    ///
    /// # Errors
    /// Where what it takes cannot be read or written.
    fn tried(&mut self, answers: &Answers, name: &str, is_meant: bool) -> Result<Tried, Stopped>;
}

/// What a person can say in place of an answer.
const BACK: &str = "back";
const HELP: &str = "?";

/// What there is to say beside answers.
pub const MANNERS: &str = "Enter takes the answer in [brackets]; ? explains, back goes to the question before; Ctrl-D or Ctrl-C stops and leaves nothing.";

/// Asks until all is answered; an empty line takes the default. `false`: the person ended the questions (Ctrl-D).
///
/// # Errors
/// Where the terminal can no longer be read or written, and as [`Conversation::tried`].
pub fn converse(
    about: &mut dyn Conversation,
    answers: &mut Answers,
    input: &mut dyn BufRead,
    output: &mut dyn Write,
) -> Result<bool, Stopped> {
    let lost = |error: io::Error| Stopped::from(Trouble::new(format!("the terminal went away: {error}")));
    let mut at = 0;
    // An answer that was doubted, and at which question.
    let mut doubted: Option<(usize, String)> = None;
    loop {
        let questions = about.questions(answers);
        let Some(question) = questions.get(at) else { return Ok(true) };
        let default = answers.get(&question.name).unwrap_or(&question.default).to_owned();
        let line = prompted(&format!("{} [{default}]: ", question.ask), input, output).map_err(lost)?;
        let (name, is_open) = (question.name.clone(), !question.is_kept && answers.get(&question.name).is_none());
        let (given, is_open) = match line.as_deref().map(str::trim) {
            None => return Ok(false),
            Some(HELP) => {
                told(&question.help, output).map_err(lost)?;
                continue;
            }
            Some(BACK) => {
                if at == 0 {
                    told("This is the first question.", output).map_err(lost)?;
                }
                at = at.saturating_sub(1);
                continue;
            }
            Some("") => ((question.accept)(&default), is_open),
            Some(answer) => ((question.accept)(answer), false),
        };
        let given = match given {
            Ok(given) => given,
            Err(why) => {
                told(&why, output).map_err(lost)?;
                continue;
            }
        };
        drop(questions);
        let before = answers.clone();
        if !is_open {
            answers.keep(&name, given.clone());
        }
        let is_meant = doubted.as_ref() == Some(&(at, given.clone()));
        match about.tried(answers, &name, is_meant)? {
            Tried::Fits(more) => {
                more.into_iter().try_for_each(|words| told(&words, output)).map_err(lost)?;
                at += 1;
                doubted = None;
            }
            Tried::Doubted(why) => {
                told(&format!("{why}\n{}", same_again(&given, &default)), output).map_err(lost)?;
                *answers = before;
                doubted = Some((at, given));
            }
            Tried::Refused(why) => {
                told(&why, output).map_err(lost)?;
                *answers = before;
                doubted = None;
            }
        }
    }
}

/// Writes a question and reads what is typed behind it; `None` at the end.
fn prompted(words: &str, input: &mut dyn BufRead, output: &mut dyn Write) -> io::Result<Option<String>> {
    write!(output, "{}", harmless(words))?;
    output.flush()?;
    let line = line(input)?;
    if line.is_none() {
        writeln!(output)?;
    }
    Ok(line)
}

/// So many characters stand in a line of what is told, as the narrowest terminals have.
const WIDE: usize = 78;

/// How an answer that is doubted is kept, beside what an empty line stands for.
fn same_again(given: &str, default: &str) -> String {
    let empty = if given == default { String::new() } else { format!("; Enter takes {default}") };
    format!("Answer the same again ({given}) to keep it and go on{empty}; back changes what was before.")
}

/// What is told is set in by so much, to stand apart from the questions.
const SET_IN: &str = "  ";

/// Writes what is told, in lines that a terminal does not break in the middle of a word.
fn told(words: &str, output: &mut dyn Write) -> io::Result<()> {
    for line in harmless(words).lines().flat_map(broken) {
        writeln!(output, "{SET_IN}{line}")?;
    }
    Ok(())
}

/// A line as lines that are no longer than is wide.
fn broken(line: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in line.split_whitespace() {
        let long = |last: &String| last.chars().count() + 1 + word.chars().count() + SET_IN.len() > WIDE;
        match lines.last_mut() {
            Some(last) if last.is_empty() => last.push_str(word),
            Some(last) if !long(last) => last.extend([" ", word]),
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// A line of what is typed, with characters in the place of bytes that are none; `None` at the end.
fn line(input: &mut dyn BufRead) -> io::Result<Option<String>> {
    let mut bytes = Vec::new();
    let read = input.read_until(b'\n', &mut bytes)?;
    Ok((read > 0).then(|| String::from_utf8_lossy(&bytes).into_owned()))
}

/// Takes one of the choices, by its number or by a part of its name that no other has, and keeps its place among them.
pub fn choice<'q>(choices: Vec<String>) -> Accept<'q> {
    Box::new(move |answer| chosen(answer, &choices).map(|index| choices.get(index).cloned().unwrap_or_default()))
}

/// The place of one of the choices.
fn chosen(answer: &str, choices: &[String]) -> Result<usize, String> {
    let by_number = answer.parse::<usize>().ok().and_then(|n| n.checked_sub(1)).filter(|i| *i < choices.len());
    let wanted = answer.to_lowercase();
    let by_name = || {
        if let Some(exact) = choices.iter().position(|name| name.to_lowercase() == wanted) {
            return Some(exact);
        }
        // "leg" means the tapered curved leg, "inch" means in.
        let means = |name: &str| !wanted.is_empty() && (name.contains(&wanted) || wanted.starts_with(name));
        let mut fits = choices.iter().enumerate().filter(|(_, name)| means(&name.to_lowercase()));
        match (fits.next(), fits.next()) {
            (Some((index, _)), None) => Some(index),
            _ => None,
        }
    };
    let all =
        || choices.iter().enumerate().map(|(i, name)| format!("{} {name}", i + 1)).collect::<Vec<_>>().join(", ");
    by_number.or_else(by_name).ok_or_else(|| {
        let near = near(&wanted, choices).map_or_else(String::new, |near| format!("Did you mean {near}? "));
        format!("{near}Please answer with one of these, by number or name: {}.", all())
    })
}

/// The one of the choices that has a word near to what was answered, with its number.
fn near(wanted: &str, choices: &[String]) -> Option<String> {
    let lower: Vec<String> = choices.iter().map(|name| name.to_lowercase()).collect();
    let word = nearest(wanted, lower.iter().flat_map(|name| name.split_whitespace()))?;
    let mut with = lower.iter().enumerate().filter(|(_, name)| name.split_whitespace().any(|one| one == word));
    match (with.next(), with.next()) {
        (Some((at, name)), None) => Some(format!("{} {name}", at + 1)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{Answers, Conversation, Question, Tried, chosen, converse};
    use crate::cli::load::Stopped;

    /// How many legs, then of each how long; three legs and more than 9 long do not fit.
    struct Stool;

    impl Conversation for Stool {
        fn questions(&self, answers: &Answers) -> Vec<Question<'_>> {
            let number = |name: &str, default: String| Question {
                name: name.to_owned(),
                ask: format!("How {name}"),
                default,
                help: format!("It is about {name}."),
                accept: Box::new(|answer| {
                    answer.parse::<u32>().map(|n| n.to_string()).map_err(|_| "A whole number, please.".to_owned())
                }),
                is_kept: true,
            };
            let many = number("many", "4".to_owned());
            let long = number("long", answers.get("many").unwrap_or("0").to_owned() + "0");
            vec![many, long]
        }

        fn tried(&mut self, answers: &Answers, _: &str, is_meant: bool) -> Result<Tried, Stopped> {
            let long = answers.get("long").and_then(|long| long.parse::<u32>().ok()).unwrap_or(0);
            let fits = is_meant || answers.get("many") != Some("3") || long <= 9;
            Ok(if fits { Tried::Fits(None) } else { Tried::Doubted("9 would do.".to_owned()) })
        }
    }

    fn run(typed: &[u8]) -> (bool, Option<(String, String)>, String) {
        let (mut answers, mut output) = (Answers::default(), Vec::new());
        let ended = converse(&mut Stool, &mut answers, &mut &*typed, &mut output).expect("nothing fails");
        let both = answers.get("many").zip(answers.get("long"));
        let both = both.map(|(many, long)| (many.to_owned(), long.to_owned()));
        (ended, both, String::from_utf8(output).expect("text"))
    }

    fn both(many: &str, long: &str) -> Option<(String, String)> {
        Some((many.to_owned(), long.to_owned()))
    }

    #[test]
    fn an_empty_line_takes_the_default_which_follows_what_was_said() {
        assert_eq!(run(b"\n\n").1, both("4", "40"));
        assert_eq!(run(b"6\n\n").1, both("6", "60"));
    }

    #[test]
    fn a_bad_answer_is_asked_again_and_help_is_given() {
        let (_, got, said) = run(b"many\n?\n6\n\xff\n7\n");
        assert_eq!(got, both("6", "7"));
        let expected = "How many [4]:   A whole number, please.\nHow many [4]:   It is about many.\nHow many [4]: ";
        assert!(said.starts_with(expected), "{said}");
    }

    #[test]
    fn back_goes_to_the_question_before() {
        let (_, got, said) = run(b"back\n5\nback\n6\n\n");
        assert_eq!(got, both("6", "60"));
        assert!(said.contains("This is the first question.") && said.contains("How many [5]"), "{said}");
    }

    #[test]
    fn what_does_not_fit_is_said_once_and_kept_where_it_is_meant() {
        let (_, got, said) = run(b"3\n12\n8\n");
        assert_eq!((got, said.matches("9 would do.").count()), (both("3", "8"), 1));
        assert_eq!(run(b"3\n12\n12\n").1, both("3", "12"));
    }

    #[test]
    fn how_a_doubted_answer_is_kept_is_told_beside_what_enter_takes() {
        let (_, _, said) = run(b"3\n12\n");
        assert!(said.contains("Answer the same again (12) to keep it and go on; Enter takes 30;"), "{said}");
    }

    #[test]
    fn the_end_of_input_ends_the_questions() {
        assert!(!run(b"").0 && !run(b"3\n").0 && run(b"3\n4\n").0);
    }

    #[test]
    fn choices_are_taken_by_number_or_name() {
        let named = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect::<Vec<String>>();
        let kinds = named(&["bowed edge", "curved leg", "bracket"]);
        assert_eq!(chosen("2", &kinds), Ok(1));
        assert_eq!(chosen("Bo", &kinds), Ok(0));
        assert_eq!(chosen("leg", &kinds), Ok(1));
        assert_eq!(chosen("inches", &named(&["mm", "in"])), Ok(1));
        assert_eq!(chosen("tip", &named(&["tip", "tipped"])), Ok(0));
        let pieces = named(&["Stool on four splayed legs", "Table on leaning frames", "Tray on legs"]);
        assert!(
            chosen("stol", &pieces).is_err_and(|why| why.starts_with("Did you mean 1 stool on four splayed legs? "))
        );
        assert!(chosen("lgs", &pieces).is_err_and(|why| why.starts_with("Please answer")));
        assert!(chosen("b", &kinds).is_err() && chosen("", &kinds).is_err() && chosen("0", &kinds).is_err());
    }
}
