//! The rules of the trade from outside: each passes, just touches and fails on numbers worked by hand, and what it says would
//! cure it does. Then the top, what holds it, and what is to be minded.

mod bored;
mod buttons;
mod cautions;
mod ends;
mod fixings;
mod heads;
mod joints;
mod rules;
mod top;
mod turned;
mod wood;

use crate::common::words::InWords;
use fullsize::finding::{Cure, Finding, Severity};
use fullsize::job::Job;
use fullsize::model::Project;
use fullsize::piece::{Piece, SolvedBoard, Value};
use fullsize::project::read;
use fullsize::units::Notation;
use serde_json::{Value as Json, json};

/// A project read, or everything that was said of it.
fn project(file: &Json) -> Result<Project, Vec<Finding>> {
    let reading = read("trade.json", file.to_string().as_bytes(), None, None);
    reading.project.ok_or(reading.findings)
}

/// A file whose piece can be made.
fn job(file: &Json) -> Job {
    let job = Job::new(project(file).unwrap_or_else(|f| panic!("{f:#?}")));
    assert!(job.needed_piece().is_ok(), "{:#?}", job.piece_findings());
    job
}

/// What a piece is told under a code, with the cures that were searched; nothing may stop it.
fn told_as(code: &str, file: &Json) -> Vec<Finding> {
    let job = job(file);
    assert!(!job.stops(), "{:#?}", job.piece_findings());
    job.cured_piece_findings().iter().filter(|finding| finding.code == code).cloned().collect()
}

/// The file with a cure made as it is said.
fn cured(file: &Json, cure: &Cure) -> Json {
    let mut file = file.clone();
    for setting in &cure.settings {
        *file.pointer_mut(&setting.place.pointer).expect("a number of the file") = json!(setting.value.numbers()[0]);
    }
    if cure.settings.is_empty() {
        assert_eq!(cure.said(&Notation::default()), "\"by\": \"buttons\"");
        file["top"]["fasteners"]["by"] = json!("buttons");
    }
    file
}

/// A piece solved, joined and checked, with what was said.
fn checked(file: &Json) -> (Project, Piece, Vec<Finding>) {
    let job = job(file);
    let piece = job.needed_piece().expect("a piece").clone();
    (job.project().clone(), piece, job.cured_piece_findings().to_vec())
}

/// What was said under a code; nothing else may stop the work, which might hide it.
fn told(file: &Json, code: &str) -> Vec<Finding> {
    let job = Job::new(project(file).unwrap_or_else(|f| panic!("{f:#?}")));
    let findings = job.cured_piece_findings().iter();
    let told: Vec<Finding> = findings.clone().filter(|finding| finding.code == code).cloned().collect();
    let others: Vec<&Finding> =
        findings.filter(|finding| finding.code != code && finding.severity == Severity::Stop).collect();
    assert!(others.is_empty(), "{others:#?}");
    told
}

/// What stops a file, read or solved.
fn stopped(file: &Json) -> Vec<Finding> {
    match project(file) {
        Err(findings) => findings,
        Ok(project) => Job::new(project).cured_stops().into_iter().cloned().collect(),
    }
}

/// A measure of a finding.
fn measured(finding: &Finding, name: &str) -> f64 {
    finding.number(name)
}

/// The first length, mm, that a cure names.
fn first_mm(words: &str) -> f64 {
    let before = words.split(" mm").next().expect("some words");
    before.rsplit(' ').next().and_then(|number| number.parse().ok()).unwrap_or_else(|| panic!("{words}"))
}

fn fact(piece: &Piece, name: &str) -> f64 {
    match piece.facts.iter().chain(piece.boards.iter().flat_map(|b| &b.facts)).find(|f| f.name.key() == name) {
        Some(fact) => match fact.value {
            Value::Length(length) | Value::Movement(length) => length.mm(),
            Value::Force(newtons) => newtons,
            Value::Angle(angle) => angle.degrees(),
        },
        None => panic!("{name}"),
    }
}

fn board<'a>(piece: &'a Piece, id: &str) -> &'a SolvedBoard {
    piece.boards.iter().find(|board| board.id.as_str() == id).unwrap_or_else(|| panic!("{id}"))
}
