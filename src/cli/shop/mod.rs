//! `shop`: the person's own shop file. Made by a few questions, shown, changed, and mended by what was measured on a print.

mod bars;
mod measured;
mod questions;

use super::args::{Replace, Shop};
use super::ask::{Answers, Conversation, MANNERS, converse};
use super::files::{Files, Form, Output, Product, ReadAs};
use super::load::Stopped;
use super::output::{Target, Trouble, harmless, program, say, typed};
use super::set;
use crate::project::edit::{set_shop, shop_as_asked};
use crate::project::{Reading, read_shop};
use crate::units::Units;
use questions::AboutShop;
use std::fs;
use std::io::{self, BufRead, IsTerminal, Write};
use std::path::PathBuf;

/// Runs `shop`.
pub fn run(asked: &Shop, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let file = ShopFile::of(asked, files)?;
    if asked.undo {
        return set::undo(&file.path, files, out, err);
    }
    if !asked.measured.is_empty() {
        measured_alone(asked)?;
        return measured::run(asked, &file, files, out, err);
    }
    let changes = set::request::changes(&asked.changes);
    if !changes.is_empty() {
        file.believe(&changes, files)?;
        return file.change(&changes, Units::Mm, files, out, err);
    }
    match (file.path.exists(), io::stdin().is_terminal()) {
        (true, _) => file.show(files, out, err),
        (false, true) => file.make(&mut io::stdin().lock(), files, out),
        (false, false) => Ok(say(out, harmless(&file.not_there()).as_bytes())?),
    }
}

/// Refuses changes beside what was measured: mostly a blank has parted a measure.
fn measured_alone(asked: &Shop) -> Result<(), Trouble> {
    let Some(last) = asked.measured.last().filter(|_| !asked.changes.is_empty()) else { return Ok(()) };
    let changes = asked.changes.join(" ");
    let goes_on = !last.contains('=') || !changes.contains('=');
    Err(Trouble::new(match (goes_on, asked.measured.as_slice()) {
        (true, [only]) => {
            format!("what is measured stands between quotes where a blank is in it: --measured \"{only} {changes}\"")
        }
        (true, _) => format!(
            "what is measured stands between quotes where a blank is in it, as in --measured \"P-Q=27 3/4\": {changes} stands outside of them"
        ),
        (false, _) => {
            format!("{changes} is a change of the shop file, and --measured makes another: make one after the other")
        }
    }))
}

/// A shop file that says nothing but its units.
fn empty(units: Units) -> String {
    let units = if units == Units::Inch { "in" } else { "mm" };
    format!("{{\n  \"units\": \"{units}\"\n}}\n")
}

/// The shop file that a command is about.
struct ShopFile {
    path: PathBuf,
    /// Whether it is the person's own.
    is_own: bool,
}

impl ShopFile {
    fn of(asked: &Shop, files: &Files) -> Result<ShopFile, Trouble> {
        if let Some(path) = &asked.shop {
            return Ok(ShopFile { path: path.clone(), is_own: false });
        }
        let nowhere = || {
            Trouble::new(
                "there is no place for a shop file of your own: FULLSIZE_SHOP is empty, or you have no home folder; name a file with --shop FILE",
            )
        };
        Ok(ShopFile { path: files.own_shop().ok_or_else(nowhere)?.to_owned(), is_own: true })
    }

    /// Its path, where it is there and not found by itself.
    fn named(&self) -> Option<PathBuf> {
        (!self.is_own && self.path.exists()).then(|| self.path.clone())
    }

    /// Refuses changes that write a reading of a bar which the shop's paper, as it is with them, has not.
    fn believe(&self, changes: &[String], files: &Files) -> Result<(), Stopped> {
        let before = match self.path.exists() {
            true => String::from_utf8_lossy(&files.bytes(&self.regular()?, ReadAs::Shop)?).into_owned(),
            false => empty(Units::Mm),
        };
        let changes: Vec<&str> = changes.iter().map(String::as_str).collect();
        // What cannot be understood is told where the file is changed.
        let Ok(after) = shop_as_asked(&before, &changes) else { return Ok(()) };
        Ok(bars::believe_written(&before, &after).map_err(measured::not_written)?)
    }

    /// The command about this file, without the program's name.
    fn command(&self) -> String {
        if self.is_own { "shop".to_owned() } else { format!("shop --shop {}", typed(&self.path)) }
    }

    /// When it is read.
    fn use_words(&self) -> String {
        match self.is_own {
            true => "It is read with every piece; what the piece's own file says under \"shop\" goes before it, and what --shop names before both.".to_owned(),
            false => format!("It is read where it is named: --shop {}", typed(&self.path)),
        }
    }

    fn not_there(&self) -> String {
        let (whose, path, command) =
            (if self.is_own { "your shop file " } else { "" }, self.path.display(), self.command());
        format!(
            "There is no file yet where {whose}would stand: {path}\nTyped at a terminal, {program} {command} asks a few questions and \
             writes it; {program} {command} paper=a4 begins it with one line.\n",
            program = program(),
        )
    }

    /// Shows the file with all that it says and could say.
    fn show(&self, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
        let bytes = files.bytes(&self.regular()?, ReadAs::Shop)?;
        let Reading { project, findings, sources } = read_shop(&self.path.to_string_lossy(), &bytes);
        super::load::say(&findings, &sources, err);
        let (Some(project), Some(source)) = (project, sources.files().first()) else {
            return Err(Stopped::ByFinding);
        };
        let name = self.path.display().to_string();
        let list = set::list::of_shop(&name, &self.command(), &source.text, &project);
        Ok(say(out, harmless(&format!("{}\n{}\n", list, self.use_words())).as_bytes())?)
    }

    /// The path, where it leads to a file: opening a pipe waits until somebody writes into it.
    fn regular(&self) -> Result<PathBuf, Trouble> {
        match fs::metadata(&self.path) {
            Ok(known) if !known.is_file() => Err(Trouble::new(format!("{} is no file", self.path.display()))),
            _ => Ok(self.path.clone()),
        }
    }

    /// Makes changes; where the file is not there yet, it begins with them.
    fn change(
        &self,
        changes: &[String],
        units: Units,
        files: &Files,
        out: &mut dyn Write,
        err: &mut dyn Write,
    ) -> Result<(), Stopped> {
        if self.path.exists() {
            return set::change(&self.path, changes, files, out, err);
        }
        let name = self.path.to_string_lossy();
        let changes: Vec<&str> = changes.iter().map(String::as_str).collect();
        let changed = set_shop(&name, &empty(units), &changes).map_err(|refused| {
            super::load::say(&refused.findings, &refused.sources, err);
            Stopped::ByFinding
        })?;
        let done: Vec<String> = changed.made.iter().map(|made| made.written.clone()).collect();
        self.write(changed.text, &format!("It says: {}\n{}\n", done.join(", "), self.use_words()), files, out)
    }

    /// Writes the file anew, in folders that are made where they are missing.
    fn write(&self, text: String, more: &str, files: &Files, out: &mut dyn Write) -> Result<(), Stopped> {
        if let Some(folder) = self.path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            fs::create_dir_all(folder).map_err(|error| match error.kind() {
                // What stands in the folder's place is a file.
                io::ErrorKind::AlreadyExists => Trouble::writing(folder, &io::ErrorKind::NotADirectory.into()),
                _ => Trouble::writing(folder, &error),
            })?;
        }
        let target = Target::File(self.path.clone());
        let output = Output { target, product: Product::Shop, form: Form::Json, bytes: text.into_bytes() };
        Ok(files.write(vec![output], &Replace { force: false }, out)?.tell("", more, out)?)
    }

    /// Asks what there is to ask and writes the file.
    fn make(&self, input: &mut dyn BufRead, files: &Files, out: &mut dyn Write) -> Result<(), Stopped> {
        files.may_write(&self.path, Product::Shop, &Replace { force: false })?;
        let whose = if self.is_own { "your shop" } else { "a shop" };
        let mut answers = Answers::default();
        let count = AboutShop.questions(&answers).len();
        let intro =
            format!("{count} questions about {whose}, and more of each cutter and collar that you name. {MANNERS}\n");
        say(out, intro.as_bytes())?;
        if !converse(&mut AboutShop, &mut answers, input, out)? {
            return Err(Trouble::new("stopped; nothing was written").into());
        }
        let (program, command) = (program(), self.command());
        let shop = if self.is_own { String::new() } else { format!(" --shop {}", typed(&self.path)) };
        let next = format!(
            "{}\n{program} {command} shows it and says how it is changed; {program} proof{shop} writes the sheet on which the printer's bars are read.\n",
            self.use_words()
        );
        self.write(questions::text(&answers), &next, files, out)
    }
}
