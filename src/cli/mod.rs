//! The commands. Only this module touches files, the clock and the terminal.

mod args;
mod as_built;
mod ask;
mod bench;
mod check;
mod compare;
mod demo;
mod draw;
mod effects;
mod files;
mod guide;
mod keeping;
mod load;
mod made;
mod model;
mod new;
mod older_print;
mod order;
mod output;
mod person;
mod plot;
mod print;
mod records;
pub mod report;
mod schedule;
mod set;
mod shop;
mod show;
mod small;
#[cfg(test)]
mod tests;

use args::{Arguments, Command};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, Parser};
use files::Files;
use load::Stopped;
use std::ffi::OsString;
use std::io::Write;
use std::path::Path;

pub use output::typed_word;
pub use person::Person;

/// Done; warnings may have been said.
const DONE: u8 = 0;
/// A finding stopped the work.
const STOPPED: u8 = 1;
/// The command line or a file could not be used.
const UNUSABLE: u8 = 2;

/// Runs one command line for nobody in particular, with no shop file but what it names, and returns the exit code.
pub fn run(arguments: impl Iterator<Item = OsString>, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    run_for(&Person::default(), arguments, out, err)
}

/// Runs one command line for a person and returns the exit code.
pub fn run_for(
    person: &Person,
    arguments: impl Iterator<Item = OsString>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    let line: Vec<OsString> = arguments.collect();
    let arguments = match Arguments::try_parse_from(&line) {
        Ok(arguments) => arguments,
        Err(said) => return usage(&said, &line, err),
    };
    let files = Files::of(person);
    let done = match &arguments.command {
        Command::Demo(demo) => demo::run(demo, &files, out, err),
        Command::Print(print) => print::run(print, &files, out, err),
        Command::Plot(plot) => plot::run(plot, &files, out, err),
        Command::Check(check) => check::run(check, &files, out),
        Command::Compare(compare) => compare::run(compare, &files, out, err),
        Command::AsBuilt(asked) => as_built::run(asked, &files, out, err),
        Command::Effects(asked) => effects::run(asked, &files, out, err),
        Command::Order(asked) => order::run(asked, &files, out, err),
        Command::Made(made) => made::run(made, &files, out, err),
        Command::New(new) => new::run(new, &files, out, err),
        Command::Set(set) => set::run(set, &files, out, err),
        Command::Shop(asked) => shop::run(asked, &files, out, err),
        Command::Show(show) => show::run(show, &files, out, err),
        Command::Proof(proof) => small::proof_sheet(proof, &files, out, err),
        Command::Schedule(schedule) => schedule::run(schedule, &files, out, err),
        Command::Draw(draw) => draw::run(draw, &files, out, err),
        Command::Model(model) => model::run(model, &files, out, err),
        Command::Variants(variants) => small::variants(variants, &files, out, err),
        Command::Guide(guide) => guide::run(guide, out),
        Command::Schema(schema) => small::schema_text(schema, &files, out),
        Command::Completions(completions) => small::completions(completions, out),
        Command::Man(man) => small::man(man, &files, out),
    };
    match done {
        Ok(()) => DONE,
        Err(Stopped::ByFinding) => STOPPED,
        Err(Stopped::ByTrouble(trouble)) => {
            // Nothing is left to tell where even this cannot be written.
            let _ = writeln!(err, "fullsize: {trouble}");
            UNUSABLE
        }
    }
}

/// Help goes to standard output and ends well; a mistake on the command line goes to standard error, with the file that may be meant.
fn usage(said: &clap::Error, line: &[OsString], err: &mut dyn Write) -> u8 {
    let _ = said.print();
    if !said.use_stderr() {
        return DONE;
    }
    if let Some(words) = file_meant(said, line) {
        // Nothing is left to tell where even this cannot be written.
        let _ = writeln!(err, "\nfullsize: {words}");
    }
    UNUSABLE
}

/// The project files at hand where none was named, and the name that a blank has parted where there is a word too many.
fn file_meant(said: &clap::Error, line: &[OsString]) -> Option<String> {
    if let Some(ContextValue::String(word)) = said.get(ContextKind::InvalidSubcommand) {
        return command_first(word, line);
    }
    match (said.kind(), said.get(ContextKind::InvalidArg)?) {
        (ErrorKind::MissingRequiredArgument, ContextValue::Strings(missing)) => {
            let at_hand = missing.iter().any(|name| name == "<FILE>").then(|| files::projects_in(Path::new("")))?;
            (!at_hand.is_empty()).then(|| format!("no file was named{at_hand}"))
        }
        (ErrorKind::UnknownArgument, ContextValue::String(word)) => {
            let line: Vec<String> = line.iter().map(|word| word.to_string_lossy().into_owned()).collect();
            let name = files::parted_by_a_blank(&line, word)?;
            Some(format!("a name with a blank in it stands between quotes: \"{name}\""))
        }
        _ => None,
    }
}

/// Where a file stands in the place of the command: that the command comes first.
fn command_first(word: &str, line: &[OsString]) -> Option<String> {
    let file = Path::new(word);
    if !file.is_file() {
        return None;
    }
    let commands = Arguments::command();
    let mut words = line.iter().map(|word| word.to_string_lossy().into_owned());
    let named = words.find(|word| commands.find_subcommand(word).is_some());
    let file = output::typed(file);
    Some(match named {
        Some(command) => format!("the command comes before the file: fullsize {command} {file}"),
        None => format!("say what to do with the file: fullsize check {file} or fullsize print {file}, for example"),
    })
}
