//! Bytes to the reader of projects and to that of drawings.

use super::{Told, inputs, seed, stored};
use crate::common::draws::{Draws, for_all_from};
use fullsize::cli::report;
use fullsize::import::{LARGEST_FILE, import_svg};
use fullsize::job::Job;
use fullsize::model::Project;
use fullsize::project::read;
use fullsize::schedule;

/// What stands in project files, whole and broken.
const TOKENS: [&[u8]; 40] = [
    b"{",
    b"}",
    b"[",
    b"]",
    b",",
    b":",
    b"\"",
    b"\\",
    b"0",
    b"-",
    b"1e9",
    b"null",
    b"true",
    b"\n",
    b" ",
    b"//",
    b"'",
    b"\xff",
    b"\xc2\xbd",
    b"\"in\"",
    b"99999",
    b"\"1:6\"",
    b"\"\"",
    b"\"fullsize\": 1,",
    b"\"units\": \"mm\",",
    b"\"title\": \"x\",",
    b"\"base\": {",
    b"\"kind\": \"boards\",",
    b"\"patterns\": {",
    b"\"outline\": [",
    b"{ \"to\": [0, 0] },",
    b"\"sizes\": {",
    b"\"a + b / 2\"",
    b"\"top\": {",
    b"\"joints\": {",
    b"\"shop\": {",
    b"\"variants\": {",
    b"\"w\": 12 deg",
    b"\\u0000",
    b"\xe2\x80\xae",
];

/// What stands in drawings.
const MARKS: [&[u8]; 20] = [
    b"<",
    b">",
    b"/",
    b"\"",
    b"0",
    b"-",
    b"1e9",
    b"nan",
    b"<g>",
    b"</g>",
    b"<path d=\"",
    b"M0 0 L9 9 Z",
    b"A5 5 0 0 1 9 9",
    b"transform=\"",
    b"scale(0)",
    b"<use href=\"#a\"/>",
    b"viewBox=\"0 0 0 0\"",
    b"&#x0;",
    b"<!--",
    b"C1 1 2 2 3 3",
];

/// A text with a few of its bytes replaced by tokens.
fn altered(text: &[u8], tokens: &[&[u8]], draws: &mut Draws) -> Vec<u8> {
    let mut bytes = text.to_vec();
    for _ in 0..1 + draws.below(3) {
        let start = draws.below(bytes.len().max(1)).min(bytes.len());
        let end = (start + draws.below(4)).min(bytes.len());
        bytes.splice(start..end, draws.one_of(tokens).iter().copied());
    }
    bytes
}

/// Tokens in any order.
fn soup(tokens: &[&[u8]], draws: &mut Draws) -> Vec<u8> {
    (0..draws.below(40)).flat_map(|_| draws.one_of(tokens).iter().copied()).collect()
}

/// Bytes of every value.
fn noise(draws: &mut Draws) -> Vec<u8> {
    (0..draws.below(60)).map(|_| draws.below(256) as u8).collect()
}

/// Stored texts altered, tokens in any order, and noise.
fn bytes(stored: &[(String, Vec<u8>)], tokens: &[&[u8]], draws: &mut Draws) -> Vec<u8> {
    match draws.below(8) {
        0 => noise(draws),
        1 | 2 => soup(tokens, draws),
        _ => altered(&stored[draws.below(stored.len())].1, tokens, draws),
    }
}

/// A project through every stage: what it makes is refused where something stops it, and told where nothing does.
fn solved(project: Project) {
    let job = Job::new(project);
    assert_eq!(job.patterns().is_err(), job.stops(), "patterns are refused where something stops the work");
    assert!(job.findings().all(|finding| !finding.code.is_empty()));
    if let Ok(schedule) = job.schedule() {
        assert!(!schedule::text(&schedule).is_empty());
        assert!(schedule::json(&schedule).is_object());
    }
}

#[test]
fn whatever_is_read_as_a_project_is_answered_in_bounds() {
    let files = [stored("fixtures/corpus", "json"), stored("fixtures/good", "json")].concat();
    let (mut accepted, mut refused) = (0_u32, 0_u32);
    for_all_from(seed(), inputs(2000), |draws| {
        let bytes = bytes(&files, &TOKENS, draws);
        let _told = Told(&bytes);
        let reading = read("file.json", &bytes, None, None);
        assert!(reading.findings.len() <= 101, "{}", reading.findings.len());
        let said = report::text(&reading.findings, &reading.sources, false);
        assert_eq!(said.is_empty(), reading.findings.is_empty());
        let mut codes = reading.findings.iter().map(|finding| finding.code);
        assert!(
            codes.all(
                |c| !c.is_empty() && c.bytes().all(|b| b == b'-' || b.is_ascii_lowercase() || b.is_ascii_digit())
            )
        );
        match reading.project {
            Some(project) => {
                accepted += 1;
                solved(project);
            }
            None => {
                refused += 1;
                assert!(fullsize::finding::stops(&reading.findings), "refused and nothing said");
            }
        }
    });
    println!("{accepted} projects read, {refused} refused");
    assert!(accepted > 0 && refused > 0);
}

#[test]
fn whatever_is_read_as_a_drawing_is_answered_with_finite_numbers() {
    let files = stored("fixtures/svg", "svg");
    let files: Vec<_> = files.into_iter().filter(|(_, text)| text.len() < 4000).collect();
    let (mut accepted, mut refused) = (0_u32, 0_u32);
    for_all_from(seed(), inputs(2000), |draws| {
        let bytes = bytes(&files, &MARKS, draws);
        let _told = Told(&bytes);
        match import_svg(&bytes, LARGEST_FILE) {
            Ok(found) => {
                accepted += 1;
                assert!(found.paths.iter().all(|p| p.path.nodes().iter().all(|n| n.is_finite())));
            }
            Err(_) => refused += 1,
        }
    });
    println!("{accepted} drawings read, {refused} refused");
    assert!(accepted > 0 && refused > 0);
}
