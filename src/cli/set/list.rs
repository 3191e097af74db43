//! `set FILE` alone: what can be changed, with the values as they are.

use crate::finding::shortened;
use crate::model::{Kind, Number, Project};
use crate::project::Shops;
use crate::project::edit::{ToGive, dotted, entries, fields_to_give, shop_fields_to_give};
use crate::units::{Angle, Length, Notation};
use std::fmt::Write;

/// Everything that the file says, with its value as written and what it is called; then the numbers that are not given, with the
/// value that they have all the same, and the fields that hold no number.
pub fn list(file: &str, text: &str, project: &Project, shops: Shops) -> String {
    listed(&format!("set {file}"), (file, text), &[], (project, fields_to_give(text, shops)))
}

/// The same of a shop file; `command` is the one that changes it.
pub fn of_shop(file: &str, command: &str, text: &str, project: &Project) -> String {
    listed(command, (file, text), &[SHOP.to_owned()], (project, shop_fields_to_give(text)))
}

/// Where a shop stands in a project.
const SHOP: &str = "shop";

/// What a file says of what stands in a project above it.
fn listed(
    command: &str,
    (file, text): (&str, &str),
    above: &[String],
    (project, to_give): (&Project, Vec<ToGive>),
) -> String {
    let numbers: Vec<(Vec<String>, Number)> = project
        .numbers()
        .into_iter()
        .filter_map(|number| {
            let place: Vec<String> = number.place.steps().collect();
            Some((place.strip_prefix(above)?.to_vec(), number))
        })
        .collect();
    let written = entries(text);
    let called = |steps: &Vec<String>| {
        let number = numbers.iter().find(|(place, _)| place == steps);
        number.map_or_else(String::new, |(_, number)| number.words.clone())
    };
    let rows: Vec<Row> =
        written.iter().map(|(steps, value)| [dotted(steps), shortened(value), called(steps)]).collect();
    // What stands within a value that is written is given with it.
    let is_given = |place: &[String]| written.iter().any(|(steps, _)| place.starts_with(steps));
    let usual: Vec<Row> = numbers
        .iter()
        .filter(|(place, _)| !is_given(place))
        .map(|(place, number)| [dotted(place), valued(number, &project.notation), number.words.clone()])
        .collect();
    // One that bears a number shows best how one is given.
    let is_number = |value: &str| value.trim_start_matches('"').starts_with(|c: char| c.is_ascii_digit());
    let numbered = rows.iter().find(|[_, value, called]| !called.is_empty() && is_number(value));
    let example = numbered.or_else(|| rows.iter().find(|[_, _, called]| !called.is_empty())).or(rows.last());
    let example = example.map_or_else(String::new, |[path, value, _]| format!(" {path}={value}"));
    let mut words = format!("What {file} says; a line is changed by, for example, fullsize {command}{example}\n\n");
    table(&rows, &mut words);
    if !usual.is_empty() {
        words.push_str("\nWhat it does not say, with the value that is taken:\n\n");
        table(&usual, &mut words);
    }
    let is_told = |path: &[String]| numbers.iter().any(|(place, _)| place == path);
    let more: Vec<Row> = to_give
        .into_iter()
        .filter(|field| !is_told(&field.path))
        .map(|field| [dotted(&field.path), format!("such as {}", field.example), field.title])
        .collect();
    if !more.is_empty() {
        words.push_str("\nWhat else it can say:\n\n");
        table(&more, &mut words);
    }
    words
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

/// Rows in columns; the last one only where it says more than the path does.
fn table(rows: &[Row], words: &mut String) {
    let wide = |cell: fn(&Row) -> &String| rows.iter().map(|row| cell(row).chars().count()).max().unwrap_or(0);
    let (paths, values) = (wide(|[path, _, _]| path), wide(|[_, value, _]| value));
    for [path, value, called] in rows {
        let line = format!("  {path:<paths$}  {value:<values$}  {called}");
        let _ = writeln!(words, "{}", line.trim_end());
    }
}
