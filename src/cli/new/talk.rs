//! The conversation of `new`: which questions there are, what becomes of an answer.

use super::answered::{Answered, PAPER, TITLE, UNITS, length as length_of, usual_paper};
use super::picture::{picture_name, sizes_picture};
use super::slip::{Slip, slip};
use super::starters::{NO, NONE, Question as Asked, STARTERS, Starter, Wanted};
use super::trial::Trial;
use super::{Drafted, OwnShop, drafted, free_name};
use crate::cli::args::New;
use crate::cli::ask::{Accept, Answers, Conversation, Question, Tried, choice};
use crate::cli::files::{Files, Preview, Product};
use crate::cli::load::{ShopFiles, Stopped};
use crate::finding::{Finding, Severity, quoted};
use crate::model::Paper;
use crate::units::{Fault, FaultKind, Length, Quantity, Sum, Units, with_points};
use crate::wood;
use std::path::PathBuf;

/// The question after the kind of piece.
const KIND: &str = "kind of piece";

/// What is known in the course of the questions.
pub struct Talk<'a> {
    /// What the command line asked for.
    pub asked: &'a New,
    /// The files of the run.
    pub files: &'a Files,
    /// What the person's own shop file says that need not be asked.
    pub own_shop: OwnShop,
    /// The shop files.
    pub shops: ShopFiles,
    /// What is proposed for questions to come, in place of the usual.
    pub proposed: Answers,
    /// The picture beside the file, as it is now; whatever ends the questions before their end takes it away again.
    pub preview: Option<(PathBuf, Preview)>,
    /// What was drawn last.
    drawn: String,
    /// The picture in whose place something else stands, which has been said.
    undrawn: Option<PathBuf>,
    /// What is found as the answers are, which has been said.
    known: Vec<Finding>,
    /// The length that was last doubted as one in other units, and at which question.
    slipped: Option<(String, Length)>,
    /// What each question stood at, so that it can be said what an answer carries along.
    stood: Vec<(&'static str, String)>,
}

impl<'a> Talk<'a> {
    /// Before the first question.
    ///
    /// # Errors
    /// Where the person's own shop file cannot be read.
    pub fn new(asked: &'a New, files: &'a Files) -> Result<Talk<'a>, Stopped> {
        Ok(Talk {
            asked,
            files,
            own_shop: OwnShop::of(files)?,
            shops: ShopFiles::of(None, files)?,
            proposed: Answers::default(),
            preview: None,
            drawn: String::new(),
            undrawn: None,
            known: Vec::new(),
            slipped: None,
            stood: Vec::new(),
        })
    }

    /// How many questions follow the kind of piece.
    fn to_come(&self, answers: &Answers) -> String {
        let all = self.questions(answers);
        let asked = all.iter().position(|question| question.name == KIND).map_or(0, |at| at + 1);
        format!("{} questions follow; what is wanted or left out adds some and takes some away.", all.len() - asked)
    }

    /// Draws the picture anew where anything has changed, and says where it is the first time.
    fn draw(&mut self, answered: Answered, drafted: &Drafted) -> Result<Option<String>, Stopped> {
        let Some(job) = drafted.whole().filter(|_| drafted.text != self.drawn) else { return Ok(None) };
        let picture = picture_name(&free_name(self.asked, &answered, self.files)?);
        if let Err(why) = self.files.may_write(&picture, Product::Sizes, &self.asked.replace) {
            // What is answered goes on all the same.
            self.preview = None;
            let is_told = self.undrawn.replace(picture.clone()) == Some(picture);
            return Ok((!is_told).then(|| format!("What each size means is not drawn: {why}")));
        }
        let is_new = self.preview.as_ref().is_none_or(|(path, _)| *path != picture);
        if is_new {
            // A picture of another name goes with that.
            self.preview = None;
            self.preview = Some((picture.clone(), Preview::of(&picture)));
        }
        let output = sizes_picture(answered.starter, (&drafted.text, job), &self.shops, &picture)?;
        // It is ours from its first drawing on, and may have been somebody else's only where that may be replaced.
        let _ = self.files.write(vec![output], &self.asked.replace, &mut std::io::sink())?;
        self.drawn.clone_from(&drafted.text);
        Ok(is_new.then(|| {
            let picture = picture.display();
            format!("What each size means is drawn in {picture}: open it beside this window; it is drawn again after each answer.")
        }))
    }

    /// Whether the length that was doubted is answered once more with its unit: then that is what is meant.
    fn names_its_unit(&self, answered: Answered, name: &str) -> bool {
        let Some((doubted, length)) = &self.slipped else { return false };
        let answer = answered.answers.get(name).filter(|_| doubted == name).unwrap_or_default();
        let has_unit = answer.ends_with(|c: char| c.is_alphabetic() || ['"', '″', '”', '\''].contains(&c));
        has_unit && length_of(answer, answered.units) == Some(*length)
    }

    /// What an answer carried along of what was asked before it.
    fn carried(&mut self, answered: Answered, name: &str) -> Vec<String> {
        let stands: Vec<(&'static str, String)> =
            answered.questions().map(|question| (question.name, answered.value(question.name))).collect();
        let before = stands.iter().position(|(known, _)| answered.key(known) == name).unwrap_or(0);
        let moved = stands
            .iter()
            .take(before)
            .filter(|(known, now)| self.stood.iter().any(|(old, stood)| old == known && stood != now));
        let told = moved.filter_map(|(known, _)| {
            let question = answered.questions().find(|question| question.name == *known)?;
            Some(format!("{} becomes {} with it.", question.called, answered.told(question)))
        });
        let told = told.collect();
        self.stood = stands;
        told
    }
}

/// The question under whose name an answer is kept.
fn asked_by(answered: Answered, name: &str) -> Option<&'static Asked> {
    answered.questions().find(|question| answered.key(question.name) == name)
}

/// Which wood of the tables is taken for a name that it has beside its own; nothing of any other.
fn wood_taken(question: &Asked, answer: &str) -> Option<String> {
    let wood = wood::named(answer).filter(|_| question.wanted == Wanted::Words)?;
    let is_own = wood.name.eq_ignore_ascii_case(answer.trim());
    (!is_own).then(|| format!("{}: {} is taken as {}.", question.called, answer.trim(), wood.name))
}

/// The starter that was chosen.
pub fn starter(answers: &Answers) -> Option<&'static Starter> {
    let title = answers.get(KIND)?;
    STARTERS.into_iter().find(|starter| starter.title == title)
}

/// The units that were chosen.
pub fn units(answers: &Answers) -> Units {
    if answers.get(UNITS) == Some("in") { Units::Inch } else { Units::Mm }
}

impl Conversation for Talk<'_> {
    fn questions(&self, answers: &Answers) -> Vec<Question<'_>> {
        let kinds: Vec<String> = STARTERS.iter().map(|starter| starter.title.to_owned()).collect();
        let listed = kinds.iter().enumerate().map(|(i, kind)| format!("  {} {}\n", i + 1, kind.to_lowercase()));
        let listed: String = listed.collect();
        let mut all = vec![
            Question {
                name: UNITS.to_owned(),
                ask: "Units: 1 mm, 2 in".to_owned(),
                default: if self.own_shop.units == Some(Units::Inch) { "in" } else { "mm" }.to_owned(),
                help: "What a number without a unit is. Any answer may name its own: 3.5 cm, 1 1/2 in.".to_owned(),
                accept: choice(vec!["mm".to_owned(), "in".to_owned()]),
                is_kept: true,
            },
            Question {
                name: KIND.to_owned(),
                ask: format!("{listed}What are you making"),
                default: STARTERS[0].title.to_owned(),
                help: "The number or the name of one of these. Each is a file to go on from: set changes it, and an editor everything else.".to_owned(),
                accept: choice(kinds),
                is_kept: true,
            },
        ];
        let Some(starter) = starter(answers) else { return all };
        let units = units(answers);
        let answered = Answered { starter, answers, proposed: &self.proposed, units };
        all.push(Question {
            name: TITLE.to_owned(),
            ask: "What do you call it".to_owned(),
            default: starter.title.to_owned(),
            help: "It stands on every sheet, and the file is named after it.".to_owned(),
            accept: Box::new(|answer| Ok(answer.chars().filter(|c| !c.is_control()).collect())),
            is_kept: true,
        });
        all.extend(answered.questions().map(|asked| question(asked, answered)));
        if !self.own_shop.paper {
            all.push(Question {
                name: PAPER.to_owned(),
                ask: "Paper in your printer".to_owned(),
                default: usual_paper(units),
                help: format!("{} fullsize shop remembers it for all pieces.", papers(units)),
                accept: Box::new(move |answer| paper(answer, units)),
                is_kept: true,
            });
        }
        all
    }

    fn tried(&mut self, answers: &Answers, name: &str, is_meant: bool) -> Result<Tried, Stopped> {
        let Some(starter) = starter(answers) else { return Ok(Tried::Fits(None)) };
        if name == KIND || name == UNITS {
            self.stood.clear();
            return Ok(Tried::Fits((name == KIND).then(|| self.to_come(answers))));
        }
        let usual = Answers::default();
        let answered = Answered { starter, answers, proposed: &usual, units: units(answers) };
        // What is meant in another unit is asked first, and alone: what would go with the wrong one helps nobody, and takes long to find.
        let meant = Answered { proposed: &self.proposed, ..answered };
        let is_settled = is_meant || self.names_its_unit(meant, name);
        let slipped = asked_by(meant, name).filter(|_| !is_settled).and_then(|question| slip(meant, question));
        let is_far = match slipped {
            Some((Slip::Unit(_), words)) => {
                self.slipped = answers
                    .get(name)
                    .and_then(|answer| length_of(answer, meant.units))
                    .map(|length| (name.to_owned(), length));
                return Ok(Tried::Doubted(words));
            }
            Some((Slip::Far, words)) => Some(words),
            None => None,
        };
        let (own_paper, shops, known) = (self.own_shop.paper, &self.shops, self.known.as_slice());
        let trial = Trial { answered, own_paper, shops, known };
        // What nobody has answered yet gives way first.
        let proposed = trial.proposals(&self.proposed);
        let answered = Answered { proposed: &proposed, ..answered };
        let trial = Trial { answered, ..trial };
        let doubt = (!is_meant && !trial.news().is_empty()).then(|| trial.doubt(name));
        let doubts: Vec<String> = is_far.into_iter().chain(doubt).collect();
        if !doubts.is_empty() {
            return Ok(Tried::Doubted(doubts.join("\n")));
        }
        let drafted = drafted(answered, own_paper, shops);
        self.known = drafted.findings.iter().filter(|finding| finding.severity != Severity::Note).cloned().collect();
        let mut told = self.carried(answered, name);
        told.extend(
            asked_by(answered, name).and_then(|question| wood_taken(question, &answered.value(question.name))),
        );
        told.extend(self.draw(answered, &drafted)?);
        self.proposed = proposed;
        Ok(Tried::Fits((!told.is_empty()).then(|| told.join("\n"))))
    }
}

/// A starter's question as it is asked.
fn question<'q>(asked: &'static Asked, answered: Answered) -> Question<'q> {
    let units = answered.units;
    let words = match (asked.wanted, asked.meaning) {
        (Wanted::OneOf(words), meaning) => {
            let words: Vec<String> = words.iter().enumerate().map(|(i, word)| format!("{} {word}", i + 1)).collect();
            format!("{}, {meaning}: {}", asked.called, words.join(", "))
        }
        (_, "") => asked.called.to_owned(),
        (_, meaning) => format!("{}, {meaning}", asked.called),
    };
    Question {
        name: answered.key(asked.name),
        ask: words,
        default: answered.value(asked.name),
        help: format!("{}\n{}", asked.explained, would_do(asked.wanted, units)),
        accept: accept(asked.wanted, units),
        // What nobody has said goes on following what somebody has.
        is_kept: asked.follows.is_empty(),
    }
}

/// What would do as an answer.
fn would_do(wanted: Wanted, units: Units) -> String {
    let length = match units {
        Units::Mm => "A length: 38, 3.5 cm or 1 1/2 in",
        Units::Inch => "A length: 1 1/2, 1.5, 1½ or 38 mm",
    };
    match wanted {
        Wanted::Length => format!("{length}."),
        Wanted::Perhaps => format!("{length}; or {NONE}."),
        Wanted::Angle => "An angle: 8, 7 1/2, 8.5 deg, or a slope such as 1:7.".to_owned(),
        Wanted::Count => "A whole number.".to_owned(),
        Wanted::OneOf(words) => format!("One of these, by its number or name: {}.", words.join(", ")),
        Wanted::Words => "A name, such as white oak, hard maple or black walnut.".to_owned(),
    }
}

/// What takes the answer to a question of a kind.
fn accept<'q>(wanted: Wanted, units: Units) -> Accept<'q> {
    if !matches!(wanted, Wanted::Length | Wanted::Perhaps | Wanted::Angle) {
        return of_its_kind(wanted, units);
    }
    // A comma is a point where it can be nothing else.
    let of_its_kind = of_its_kind(wanted, units);
    Box::new(move |answer| match with_points(answer) {
        Ok(answer) => of_its_kind(&answer),
        Err(fault) => Err(format!("{}.", fault.kind.said().in_one_line())),
    })
}

/// The same of an answer whose numbers have points.
fn of_its_kind<'q>(wanted: Wanted, units: Units) -> Accept<'q> {
    match wanted {
        Wanted::OneOf(words) => choice(words.iter().map(|word| (*word).to_owned()).collect()),
        Wanted::Words => Box::new(|answer| Ok(answer.to_owned())),
        Wanted::Count => Box::new(move |answer| {
            let count = answer.parse::<u32>().ok();
            count.map(|count| count.to_string()).ok_or_else(|| would_do(wanted, units))
        }),
        Wanted::Angle => Box::new(move |answer| angle(answer).ok_or_else(|| here(answer, wanted, units))),
        Wanted::Length => Box::new(move |answer| length(answer, units).ok_or_else(|| here(answer, wanted, units))),
        Wanted::Perhaps => Box::new(move |answer| match answer.to_lowercase().as_str() {
            NONE | "no" | "0" => Ok(NONE.to_owned()),
            _ => length(answer, units).ok_or_else(|| here(answer, wanted, units)),
        }),
    }
}

/// An angle as it stands in the file, whose sizes are lengths unless they say otherwise.
fn angle(answer: &str) -> Option<String> {
    let value = Sum::read(answer).ok()?.value(None, |_| None).ok()?;
    value.to_angle().ok()?;
    Some(if value.to_number().is_ok() { format!("{answer} deg") } else { answer.to_owned() })
}

/// A length as it stands in the file.
fn length(answer: &str, units: Units) -> Option<String> {
    let value = Sum::read(answer).ok()?.value(Some(units), |_| None).ok()?;
    value.to_length(Some(units)).ok().filter(|length| length.mm() > 0.0).map(|_| answer.to_owned())
}

/// Why an answer will not do, and what would.
fn here(answer: &str, wanted: Wanted, units: Units) -> String {
    let read = Sum::read(answer).and_then(|sum| sum.value(Some(units), |_| None));
    let why = match (read, wanted) {
        (_, Wanted::Length) if [NONE, NO].contains(&answer.to_lowercase().as_str()) => {
            "It cannot be left out: the piece has one.".to_owned()
        }
        (Ok(Quantity::Length(_)), Wanted::Angle) => format!("{answer} is a length, and an angle is asked."),
        (Ok(Quantity::Angle(_)), _) => format!("{answer} is an angle, and a length is asked."),
        (Ok(_), Wanted::Length | Wanted::Perhaps) => "It must be more than 0.".to_owned(),
        (Err(fault), _) if !is_no_number(&fault) => format!("{}.", of_fault(&fault)),
        _ => format!("{} is no number.", quoted(answer)),
    };
    format!("{why} {}", would_do(wanted, units))
}

/// What is said of a fault: what files take beside, such as named sizes, is no answer here.
fn of_fault(fault: &Fault) -> String {
    let said = fault.kind.said();
    match &fault.kind {
        FaultKind::NotAUnit { near: Some(_), .. } | FaultKind::Comma(_) => said.in_one_line(),
        _ => said.message,
    }
}

/// Whether a fault is of what is no number at all: what is told of that elsewhere would not help here.
fn is_no_number(fault: &Fault) -> bool {
    use FaultKind::{Missing, NoQuantity, Nothing, UnknownSize};
    matches!(fault.kind, Nothing | Missing | NoQuantity(_) | UnknownSize(_))
}

/// Papers that are known, as a person answers.
pub fn papers(units: Units) -> &'static str {
    match units {
        Units::Mm => "a4, a3, letter, tabloid, a size such as 300 x 420 mm, or roll: 610 mm.",
        Units::Inch => "letter, tabloid, a4, a3, a size such as 12 x 18 in, or roll: 24 in.",
    }
}

fn paper(answer: &str, units: Units) -> Result<String, String> {
    match Paper::read(answer, units) {
        Ok(_) => Ok(answer.to_owned()),
        Err(why) => Err(why.said().in_one_line()),
    }
}
