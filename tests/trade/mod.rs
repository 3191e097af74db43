//! The rules of the trade from outside: each passes, just touches and fails on numbers worked by hand, and what it says would
//! cure it does. Then the top, what holds it, and what is to be minded.

mod buttons;
mod cautions;
mod ends;
mod fixings;
mod joints;
mod rules;
mod top;
mod turned;
mod wood;

use fullsize::check::check;
use fullsize::finding::{Finding, stops};
use fullsize::joinery::join;
use fullsize::model::Project;
use fullsize::piece::{Piece, SolvedBoard, Value, solve};
use fullsize::project::read;
use serde_json::Value as Json;

/// A project read, or everything that was said of it.
fn project(file: &Json) -> Result<Project, Vec<Finding>> {
    let reading = read("trade.json", file.to_string().as_bytes(), None, None);
    reading.project.ok_or(reading.findings)
}

/// A piece solved, joined and checked, with what was said.
fn checked(file: &Json) -> (Project, Piece, Vec<Finding>) {
    let project = project(file).unwrap_or_else(|f| panic!("{f:#?}"));
    let solved = solve(project.base.as_ref(), project.top.as_ref(), &project.notation);
    let mut piece = solved.unwrap_or_else(|f| panic!("{f:#?}"));
    let mut findings = join(&mut piece, &project.joints, project.top.as_ref(), &project.notation);
    assert!(!stops(&findings), "{findings:#?}");
    findings.extend(check(&mut piece, &project));
    (project, piece, findings)
}

/// What was said under a code.
fn told(file: &Json, code: &str) -> Vec<Finding> {
    checked(file).2.into_iter().filter(|finding| finding.code == code).collect()
}

/// What stops a file, read or solved.
fn stopped(file: &Json) -> Vec<Finding> {
    match project(file) {
        Err(findings) => findings,
        Ok(project) => solve(project.base.as_ref(), project.top.as_ref(), &project.notation)
            .map(|mut piece| join(&mut piece, &project.joints, project.top.as_ref(), &project.notation))
            .unwrap_or_else(|findings| findings),
    }
}

/// A measure of a finding.
fn measured(finding: &Finding, name: &str) -> f64 {
    finding.measured.iter().find(|(known, _)| *known == name).unwrap_or_else(|| panic!("{name}: {finding:?}")).1
}

/// The first length, mm, that a cure names.
fn first_mm(words: &str) -> f64 {
    let before = words.split(" mm").next().expect("some words");
    before.rsplit(' ').next().and_then(|number| number.parse().ok()).unwrap_or_else(|| panic!("{words}"))
}

fn fact(piece: &Piece, name: &str) -> f64 {
    match piece.facts.iter().chain(piece.boards.iter().flat_map(|b| &b.facts)).find(|f| f.name == name) {
        Some(fact) => match fact.value {
            Value::Length(length) | Value::Movement(length) => length.mm(),
            Value::Force(newtons) => newtons,
            Value::Angle(angle) => angle.degrees(),
        },
        None => panic!("{name}"),
    }
}

fn board<'a>(piece: &'a Piece, id: &str) -> &'a SolvedBoard {
    piece.boards.iter().find(|board| board.id == id).unwrap_or_else(|| panic!("{id}"))
}
