//! `new`: a few plain questions, then a file that is pleasant to read.

mod ask;
mod starters;

use super::args::{New, Replace, UnitsChoice};
use super::files::{Files, Form, Output, Preview, Product};
use super::load::Stopped;
use super::output::{Target, Trouble, keeps_promise, program, say, typed};
use super::show::{picture_bytes, piece_picture};
use crate::finding::{Said, Severity, nearest, stops};
use crate::job::Job;
use crate::layout::Pictured;
use crate::model::Paper;
use crate::project::{Reading, read};
use crate::units::{Fault, Quantity, Sum, Units};
use ask::{ask, choice};
use starters::{Question, STARTERS, Starter, Wanted};
use std::io::{self, BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};

/// What the maker answered, in the order of the questions, as written.
struct Answers {
    title: String,
    units: Units,
    paper: String,
    sizes: Vec<String>,
}

/// Runs `new`.
pub fn run(asked: &New, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let units = match asked.units {
        UnitsChoice::Mm => Units::Mm,
        UnitsChoice::In => Units::Inch,
    };
    let at_terminal = io::stdin().is_terminal();
    match (&asked.from, at_terminal) {
        (Some(kind), _) => write_starter(asked, named(kind)?, units, files, out, err),
        (None, false) => {
            say(out, b"Not at a terminal: writing the first starter without asking (--from KIND names another).\n")?;
            write_starter(asked, STARTERS[0], units, files, out, err)
        }
        (None, true) => interview(asked, &mut io::stdin().lock(), files, out, err),
    }
}

/// The starter of a kind.
fn named(kind: &str) -> Result<&'static Starter, Trouble> {
    let kinds = || STARTERS.iter().map(|starter| starter.kind);
    STARTERS.into_iter().find(|starter| starter.kind == kind).ok_or_else(|| {
        let cure = match nearest(kind, kinds()) {
            Some(name) => format!("did you mean {name}?"),
            None => format!("there are {}", kinds().collect::<Vec<_>>().join(", ")),
        };
        Trouble::new(format!("--from {kind}: no such starter; {cure}"))
    })
}

/// Writes the file and its picture without asking.
fn write_starter(
    asked: &New,
    starter: &Starter,
    units: Units,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let file = free_name(asked, starter, files)?;
    let answers = defaults(starter, units);
    let (text, job) = checked(starter, &answers, err)?.ok_or(Stopped::ByFinding)?;
    finish(starter, &file, text, &job, (files, &asked.replace), out)
}

fn defaults(starter: &Starter, units: Units) -> Answers {
    Answers {
        title: starter.title.to_owned(),
        units,
        paper: Paper::usual(units).name(),
        sizes: starter.questions.iter().map(|question| question.default_in(units).to_owned()).collect(),
    }
}

/// Asks the questions at a terminal.
fn interview(
    asked: &New,
    input: &mut dyn BufRead,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let ended = || Stopped::from(Trouble::new("stopped; nothing was written"));
    let lost = |error: io::Error| Stopped::from(Trouble::new(format!("the terminal went away: {error}")));
    writeln!(
        out,
        "A few questions. Enter takes the answer in [brackets]; Ctrl-D or Ctrl-C stops and leaves nothing."
    )
    .map_err(lost)?;
    let units = ask("Units: 1 mm, 2 in", "1", input, out, |answer| choice(answer, &["mm", "in"])).map_err(lost)?;
    let units = if units.ok_or_else(ended)? == 0 { Units::Mm } else { Units::Inch };
    for (i, starter) in STARTERS.iter().enumerate() {
        writeln!(out, "  {} {}", i + 1, starter.title.to_lowercase()).map_err(lost)?;
    }
    let titles: Vec<&str> = STARTERS.iter().map(|starter| starter.title).collect();
    let kind = ask("What are you making", "1", input, out, |answer| choice(answer, &titles)).map_err(lost)?;
    let starter = STARTERS[kind.ok_or_else(ended)?];
    let file = free_name(asked, starter, files)?;
    let mut answers = defaults(starter, units);
    // Whatever ends the questions before their end takes it away again.
    let preview = show_meaning(starter, &answers, &file, (files, &asked.replace), out, err)?;
    let name = ask("What do you call it", starter.title, input, out, |answer| Ok(answer.to_owned())).map_err(lost)?;
    answers.title = name.ok_or_else(ended)?;
    loop {
        for (size, question) in answers.sizes.iter_mut().zip(starter.questions) {
            let accepted =
                ask(question.ask, &size.clone(), input, out, |answer| accepted(answer, question.wanted, units));
            *size = accepted.map_err(lost)?.ok_or_else(ended)?;
        }
        let paper = |answer: &str| match Paper::read(answer) {
            Ok(_) => Ok(answer.to_owned()),
            Err(why) => Err(in_one_line(why.said())),
        };
        let accepted = ask("Paper in your printer", &answers.paper.clone(), input, out, paper);
        answers.paper = accepted.map_err(lost)?.ok_or_else(ended)?;
        if let Some((text, job)) = checked(starter, &answers, err)? {
            finish(starter, &file, text, &job, (files, &asked.replace), out)?;
            preview.into_iter().for_each(Preview::keep);
            return Ok(());
        }
        writeln!(out, "These sizes do not go together; please look at them again.").map_err(lost)?;
    }
}

/// What is wrong and what cures it, one after the other.
fn in_one_line(said: Said) -> String {
    format!("{}; {}", said.message, said.remedy)
}

/// Takes an answer as written, with its meaning in the file's units checked.
fn accepted(answer: &str, wanted: Wanted, units: Units) -> Result<String, String> {
    if let Wanted::Count(least, most) = wanted {
        let count = answer.parse::<u32>().ok().filter(|count| (least..=most).contains(count));
        return count.map(|_| answer.to_owned()).ok_or(format!("A whole number from {least} to {most}, please."));
    }
    let told = |fault: Fault| in_one_line(fault.kind.said());
    let sum = Sum::read(answer).map_err(told)?;
    if wanted == Wanted::Angle {
        let angle = sum.value(None, |_| None).map_err(told)?.to_angle();
        return match angle {
            // The file's sizes are lengths unless they say otherwise.
            Ok(angle) if (0.0..=60.0).contains(&angle.degrees()) => Ok(match answer.parse::<f64>() {
                Ok(_) => format!("{answer} deg"),
                Err(_) => answer.to_owned(),
            }),
            _ => Err("An angle from 0 to 60 degrees, please, such as 8, 8 deg or 1:7.".to_owned()),
        };
    }
    match sum.value(Some(units), |_| None).map_err(told)?.to_length(Some(units)) {
        Ok(length) if length.mm() > 0.0 => Ok(answer.to_owned()),
        Ok(_) => Err("Longer than nothing, please.".to_owned()),
        Err(_) => Err("A length, please, such as 38, 3.5 cm or 1 1/2 in.".to_owned()),
    }
}

/// Draws what each size means beside the file and says so before the sizes are asked for.
fn show_meaning(
    starter: &Starter,
    answers: &Answers,
    file: &Path,
    (files, replace): (&Files, &Replace),
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<Option<Preview>, Stopped> {
    let Some((_, job)) = checked(starter, answers, err)? else { return Ok(None) };
    let picture = picture_name(file);
    let preview = Preview::of(&picture);
    let output = sizes_picture(&picture, meaning(starter, &job)?);
    let written = files.write(vec![output], replace, out)?;
    let words = format!("What each size means is drawn in {}: open it beside this window.\n", picture.display());
    written.say(&words, out)?;
    Ok(Some(preview))
}

fn sizes_picture(path: &Path, bytes: Vec<u8>) -> Output {
    Output { target: Target::File(path.to_owned()), product: Product::Sizes, form: Form::Svg, bytes }
}

/// The picture with the sizes by name.
fn meaning(starter: &Starter, job: &Job) -> Result<Vec<u8>, Stopped> {
    let project = job.project();
    let size = |name: &str| {
        let found = project.sizes.iter().find(|(known, _)| known == name).map(|(_, value)| *value);
        match found.map(|value: Quantity| value.to_length(Some(project.notation.units))) {
            Some(Ok(length)) => length.mm(),
            // A starter names only sizes that its own file has.
            _ => 0.0,
        }
    };
    let Some(dimensions) = starter.dimensions else { return Ok(piece_picture(job, None)?.0) };
    let drawn = job.drawn_parts()?.iter().map(|pattern| {
        let (mut dimensions, guides) = dimensions(&size);
        for dimension in &mut dimensions {
            let mm = size(&dimension.words);
            let value = project.notation.length(crate::units::Length::from_mm(mm));
            dimension.words = format!("{} {value}", dimension.words.replace('_', " "));
        }
        Pictured { pattern: pattern.clone(), dimensions, guides }
    });
    Ok(picture_bytes(&drawn.collect::<Vec<_>>(), (&project.title, project.notation.clone()), None)?)
}

/// The file's text where nothing is wrong with it; what is wrong is said.
fn checked(starter: &Starter, answers: &Answers, err: &mut dyn Write) -> Result<Option<(String, Job)>, Stopped> {
    let text = filled(starter, answers);
    let Reading { project, mut findings, sources } = read("the new file", text.as_bytes(), None, None);
    let job = project.map(Job::new);
    findings.extend(job.iter().flat_map(Job::cured_findings).cloned());
    // The file is not written yet: its lines would tell the person nothing.
    for finding in findings.iter().filter(|finding| finding.severity != Severity::Note) {
        let said = finding.said(&sources.notation());
        let words = format!("{}\n", in_one_line(said));
        let _ = err.write_all(words.as_bytes());
    }
    Ok(job.filter(|_| !stops(&findings)).map(|job| (text, job)))
}

/// The starter's text with the answers in it.
fn filled(starter: &Starter, answers: &Answers) -> String {
    let counts = |question: &Question| matches!(question.wanted, Wanted::Count(..));
    let given = || starter.questions.iter().zip(&answers.sizes);
    let sizes: Vec<String> = given()
        .filter(|(question, _)| !counts(question))
        .map(|(question, size)| format!("    \"{}\": {}", question.name, literal(size)))
        .collect();
    let file =
        given().filter(|(question, _)| counts(question)).fold(starter.file.to_owned(), |file, (question, count)| {
            file.replace(&format!("@{}@", question.name), count)
        });
    let units = if answers.units == Units::Mm { "mm" } else { "in" };
    file.replace("\"@title@\"", &quoted(&answers.title))
        .replace("@units@", units)
        .replace("@sizes@", &sizes.join(",\n"))
        .replace("\"@paper@\"", &quoted(&answers.paper))
}

/// A number as it is, anything else as a JSON string.
fn literal(answer: &str) -> String {
    match serde_json::from_str::<serde_json::Value>(answer) {
        Ok(value) if value.is_number() => answer.to_owned(),
        _ => quoted(answer),
    }
}

fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

/// Writes the file and its picture and says what to do next.
fn finish(
    starter: &Starter,
    file: &Path,
    text: String,
    job: &Job,
    (files, replace): (&Files, &Replace),
    out: &mut dyn Write,
) -> Result<(), Stopped> {
    let picture = picture_name(file);
    let (target, product) = (Target::File(file.to_owned()), Product::Project);
    let project = Output { target, product, form: Form::Json, bytes: text.into_bytes() };
    let outputs = vec![project, sizes_picture(&picture, meaning(starter, job)?)];
    let written = files.write(outputs, replace, out)?;
    let name = file.display();
    let first = example_of(starter);
    let (first, value) =
        first.map_or(("", "1"), |question| (question.name, question.default_in(job.project().notation.units)));
    let value = if value.contains(' ') { format!("\"{value}\"") } else { value.to_owned() };
    let (typed_name, program) = (typed(file), program());
    let words = format!(
        "Wrote {name}, and {} with what each size means.\nNext:\n  {program} proof {typed_name}      one sheet to try \
         the printer with\n  {program} print {typed_name}      the patterns\n  {program} set {typed_name} \
         sizes.{first}={value}      change one number\n",
        picture.display(),
    );
    Ok(written.say(&words, out)?)
}

/// A first size to try `set` with.
fn example_of(starter: &Starter) -> Option<&'static Question> {
    starter.questions.iter().find(|question| question.wanted == Wanted::Length)
}

/// The file to write, which may be written with its picture: told before anything is asked.
fn free_name(asked: &New, starter: &Starter, files: &Files) -> Result<PathBuf, Trouble> {
    let file = asked.file.as_deref().unwrap_or(Path::new(starter.kind));
    let file = if file.extension().is_none() { file.with_extension("json") } else { file.to_path_buf() };
    keeps_promise(&file, &["json"])?;
    files.may_write(&file, Product::Project, &asked.replace)?;
    files.may_write(&picture_name(&file), Product::Sizes, &asked.replace)?;
    Ok(file)
}

fn picture_name(file: &Path) -> PathBuf {
    file.with_extension("sizes.svg")
}
