//! `set FILE` alone: what can be changed, with the values as they are.

use crate::cli::new::brought;
use crate::finding::shortened;
use crate::model::path::dotted;
use crate::model::{Kind, Number, Project};
use crate::project::Shops;
use crate::project::edit::{SIZES, ToGive, entries, fields_to_give, shop_fields_to_give};
use crate::units::{Angle, Length, Notation, Sum};
use std::fmt::Write;

/// How much is listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    /// Everything that the file says and could say.
    All,
    /// What a screen holds: the sizes, then the numbers and words that follow none of them.
    AScreen,
}

/// So many lines a screen holds, with the prompt: those of a small window.
const SCREEN: usize = 36;

/// Everything that the file says, with its value as written and what it is called; then the numbers that are not given, with the
/// value that they have all the same, and the fields that hold no number.
pub fn list(file: &str, text: &str, project: &Project, (shops, shown): (Shops, Shown)) -> String {
    let listed = Listed::of(text, &[], project, || fields_to_give(text, shops));
    listed.words(&format!("set {file}"), file, shown)
}

/// The same of a shop file; `command` is the one that changes it.
pub fn of_shop(file: &str, command: &str, text: &str, project: &Project) -> String {
    let listed = Listed::of(text, &[SHOP.to_owned()], project, || shop_fields_to_give(text));
    listed.words(command, file, Shown::All)
}

/// What is told above what `new` asks for and the file leaves out.
const LEFT_OUT: &str = "What new asks for and this file leaves out, and what brings it back:";

/// Where a shop stands in a project.
const SHOP: &str = "shop";

/// What a file says and could say of what stands in a project above it.
struct Listed {
    /// What is written: its heading, the way to it, and its row.
    written: Vec<(String, Vec<String>, Row)>,
    /// What is taken where nothing is written.
    usual: Vec<Row>,
    /// What else could be written.
    more: Vec<Row>,
    /// What `new` asks for and the file leaves out.
    left_out: Vec<Row>,
    /// The names of the sizes.
    sizes: Vec<String>,
}

impl Listed {
    fn of(text: &str, above: &[String], project: &Project, to_give: impl Fn() -> Vec<ToGive>) -> Listed {
        let numbers: Vec<(Vec<String>, Number)> = project
            .numbers()
            .into_iter()
            .filter_map(|number| {
                let place: Vec<String> = number.place.steps().collect();
                Some((place.strip_prefix(above)?.to_vec(), number))
            })
            .collect();
        let called = |steps: &Vec<String>| {
            let number = numbers.iter().find(|(place, _)| place == steps);
            number.map_or_else(String::new, |(_, number)| number.words.clone())
        };
        let rows = entries(text).into_iter().map(|(steps, value)| {
            let heading = if above.is_empty() { heading(&steps) } else { "Shop".to_owned() };
            let row = [dotted(&steps), shortened(&value), called(&steps)];
            (heading, steps, row)
        });
        let mut written: Vec<(String, Vec<String>, Row)> = rows.collect();
        // What a person changes most stands first.
        written.sort_by_key(|(_, steps, _)| steps.first().is_none_or(|first| first != SIZES));
        // What stands within a value that is written is given with it.
        let is_given = |place: &[String]| written.iter().any(|(_, steps, _)| place.starts_with(steps));
        let usual = numbers
            .iter()
            .filter(|(place, _)| !is_given(place))
            .map(|(place, number)| [dotted(place), valued(number, &project.notation), number.words.clone()])
            .collect();
        let is_told = |path: &[String]| numbers.iter().any(|(place, _)| place == path);
        let more = to_give().into_iter().filter(|field| !is_told(&field.path));
        let more =
            more.map(|field| [dotted(&field.path), format!("such as {}", field.example), field.title]).collect();
        let sizes = project.sizes.iter().map(|(name, _)| name.clone()).collect();
        let left_out = if above.is_empty() { brought::left_out(text, project) } else { Vec::new() };
        let left_out =
            left_out.into_iter().map(|[name, word, meaning]| [name, format!("such as {word}"), meaning]).collect();
        Listed { written, usual, more, left_out, sizes }
    }

    fn words(&self, command: &str, file: &str, shown: Shown) -> String {
        let all = self.all(command, file);
        if shown == Shown::All || all.lines().count() <= SCREEN { all } else { self.a_screen(command, file) }
    }

    /// All of it, a heading for each part.
    fn all(&self, command: &str, file: &str) -> String {
        let rows: Vec<Row> = self.written.iter().map(|(_, _, row)| row.clone()).collect();
        // One that bears a number shows best how one is given.
        let numbered = rows.iter().find(|[_, value, called]| !called.is_empty() && is_number(value));
        let example = numbered.or_else(|| rows.iter().find(|[_, value, _]| is_number(value))).or(rows.last());
        let example = example.map_or_else(String::new, |[path, value, _]| format!(" {path}={value}"));
        let mut words = format!("What {file} says; a line is changed by, for example, fullsize {command}{example}\n");
        grouped(&rows, |at| self.written.get(at).map_or("", |(heading, ..)| heading), &mut words);
        for (heading, rows) in [
            ("What it does not say, with the value that is taken:", &self.usual),
            (LEFT_OUT, &self.left_out),
            ("What else it can say:", &self.more),
        ] {
            if !rows.is_empty() {
                let _ = write!(words, "\n{heading}\n\n");
                table(rows, &mut words);
            }
        }
        words
    }

    /// What a screen holds: sizes by the words in which they are asked and drawn, then what follows none of them.
    fn a_screen(&self, command: &str, file: &str) -> String {
        let short = |(heading, steps, [path, value, called]): &(String, Vec<String>, Row)| match steps.as_slice() {
            [sizes, name] if sizes == SIZES => {
                (heading.clone(), [name.replace('_', " "), value.clone(), String::new()])
            }
            _ => (heading.clone(), [path.clone(), value.clone(), called.clone()]),
        };
        let below = if self.left_out.is_empty() { 3 } else { 6 + self.left_out.len() };
        let (headings, rows): (Vec<String>, Vec<Row>) =
            self.first(SCREEN.saturating_sub(below)).into_iter().map(short).unzip();
        let example = rows.iter().find(|[_, value, _]| is_number(value)).or(rows.first());
        let example =
            example.map_or_else(String::new, |[name, value, _]| match name.contains(' ') && !name.contains('"') {
                true => format!(" \"{name}={}\"", value.trim_matches('"')),
                false => format!(" {name}={value}"),
            });
        let mut words = format!("What {file} says; a line is changed by, for example, fullsize {command}{example}\n");
        grouped(&rows, |at| headings.get(at).map_or("", String::as_str), &mut words);
        if !self.left_out.is_empty() {
            let _ = write!(words, "\n{LEFT_OUT}\n\n");
            table(&self.left_out, &mut words);
        }
        let left = self.written.len() - rows.len() + self.usual.len() + self.more.len();
        let _ = write!(
            words,
            "\nAnd {left} lines more, of what follows these, what is taken where nothing is said, and what else can be: fullsize {command} --all\n"
        );
        words
    }

    /// What stands in so many lines, headings counted: sizes before all, then words, then numbers.
    fn first(&self, lines: usize) -> Vec<&(String, Vec<String>, Row)> {
        let own =
            || self.written.iter().enumerate().filter(|(_, (_, steps, [_, value, _]))| self.is_own(steps, value));
        let rank = |steps: &[String], value: &str| match steps.first().is_some_and(|first| first == SIZES) {
            true => 0,
            false if !is_number(value) => 1,
            false => 2,
        };
        let mut ranked: Vec<usize> = own().map(|(at, _)| at).collect();
        ranked.sort_by_key(|at| self.written.get(*at).map(|(_, steps, [_, value, _])| rank(steps, value)));
        let (mut taken, mut headings, mut left): (Vec<usize>, Vec<&str>, usize) = (Vec::new(), Vec::new(), lines);
        for at in ranked {
            let Some((heading, ..)) = self.written.get(at) else { continue };
            let more = if headings.contains(&heading.as_str()) { 1 } else { 3 };
            if left < more {
                break;
            }
            headings.push(heading);
            taken.push(at);
            left -= more;
        }
        taken.sort_unstable();
        taken.into_iter().filter_map(|at| self.written.get(at)).collect()
    }

    /// Whether a value is a size, or a number or word of its own that follows none: neither a shape drawn point by point nor what
    /// tells which parts a joint is of.
    fn is_own(&self, steps: &[String], value: &str) -> bool {
        if steps.first().is_some_and(|first| first == SIZES) {
            return true;
        }
        let sum = serde_json::from_str::<String>(value).ok().and_then(|words| Sum::read(&words).ok());
        let follows = sum.is_some_and(|sum| sum.names().any(|(name, _)| self.sizes.iter().any(|size| size == name)));
        let is_in_a_joint = steps.first().is_some_and(|first| first == "joints") && !is_number(value);
        let is_kind = steps.last().is_some_and(|last| last == "kind");
        !follows && !is_in_a_joint && !is_kind && !value.starts_with(['[', '{'])
    }
}

/// Whether a value that is written is a number.
fn is_number(value: &str) -> bool {
    value.trim_start_matches('"').starts_with(|c: char| c.is_ascii_digit())
}

/// Under which heading a field is listed.
fn heading(steps: &[String]) -> String {
    match steps {
        [_] => "The piece".to_owned(),
        [first, ..] => {
            let mut letters = first.chars();
            letters.next().map_or_else(String::new, |letter| letter.to_uppercase().chain(letters).collect())
        }
        [] => String::new(),
    }
}

/// Rows in columns, under the heading of each.
fn grouped<'a>(rows: &[Row], heading: impl Fn(usize) -> &'a str, words: &mut String) {
    let lines = columns(rows);
    let mut last = None;
    for (at, line) in lines.iter().enumerate() {
        let heading = heading(at);
        if last != Some(heading) {
            let _ = writeln!(words, "\n{heading}");
            last = Some(heading);
        }
        let _ = writeln!(words, "{line}");
    }
}

/// A number as it is written in the file's units.
fn valued(number: &Number, notation: &Notation) -> String {
    match number.kind {
        Kind::Length => notation.length(Length::from_mm(number.value)),
        Kind::Angle => notation.angle(Angle::from_degrees(number.value)),
        Kind::Count | Kind::Share => number.value.to_string(),
    }
}

/// A path, what stands there, what it is called.
type Row = [String; 3];

/// Rows in columns, a line each.
fn table(rows: &[Row], words: &mut String) {
    for line in columns(rows) {
        let _ = writeln!(words, "{line}");
    }
}

/// Rows as lines, set in, with what stands in one column below each other.
fn columns(rows: &[Row]) -> Vec<String> {
    let wide = |cell: fn(&Row) -> &String| rows.iter().map(|row| cell(row).chars().count()).max().unwrap_or(0);
    let (paths, values) = (wide(|[path, _, _]| path), wide(|[_, value, _]| value));
    let line =
        |[path, value, called]: &Row| format!("  {path:<paths$}  {value:<values$}  {called}").trim_end().to_owned();
    rows.iter().map(line).collect()
}
