//! `set FILE` alone: what can be changed, with the values as they are.

use crate::finding::shortened;
use crate::model::{Kind, Number, Project};
use crate::project::edit::{dotted, entries};
use crate::units::{Angle, Length, Notation};
use std::fmt::Write;

/// Everything that the file says, with its value as written and what it is called; then the numbers that are not given, with the
/// value that they have all the same.
pub fn list(file: &str, text: &str, project: &Project) -> String {
    let numbers: Vec<(Vec<String>, Number)> =
        project.numbers().into_iter().map(|number| (number.place.steps().collect(), number)).collect();
    let written = entries(text);
    let called = |steps: &Vec<String>| {
        let number = numbers.iter().find(|(place, _)| place == steps);
        number.map_or_else(String::new, |(_, number)| number.words.clone())
    };
    let rows: Vec<Row> =
        written.iter().map(|(steps, value)| [dotted(steps), shortened(value), called(steps)]).collect();
    // What stands within a value that is written is given with it.
    let is_given = |place: &Vec<String>| written.iter().any(|(steps, _)| place.starts_with(steps));
    let usual: Vec<Row> = numbers
        .iter()
        .filter(|(place, _)| !is_given(place))
        .map(|(place, number)| [dotted(place), valued(number, &project.notation), number.words.clone()])
        .collect();
    let example = rows.iter().find(|[_, _, called]| !called.is_empty()).or(rows.first());
    let example = example.map_or_else(String::new, |[path, value, _]| format!("{path}={value}"));
    let mut words = format!("What {file} says; a line is changed by, for example, fullsize set {file} {example}\n\n");
    table(&rows, &mut words);
    if !usual.is_empty() {
        words.push_str("\nWhat it does not say, with the value that is taken:\n\n");
        table(&usual, &mut words);
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
