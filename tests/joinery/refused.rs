//! Joints and woods that cannot be, each told with what can.

use crate::common::words::InWords;
use fullsize::finding::{Finding, Severity};
use fullsize::job::Job;
use fullsize::project::read;

/// What is told about the leaning table with these joints (or other members) added.
fn told(members: &str) -> Vec<Finding> {
    let file = include_str!("../../fixtures/good/leaning_table.json");
    let at = file.rfind('}').expect("an object");
    let text = format!("{}, {members} }}", &file[..at]);
    let reading = read("table.json", text.as_bytes(), None, None);
    match reading.project {
        Some(project) => Job::new(project).cured_stops().into_iter().cloned().collect(),
        None => reading.findings,
    }
}

fn joint(fields: &str) -> Vec<Finding> {
    told(&format!("\"joints\": {{ \"j\": {{ {fields} }} }}"))
}

fn told_once(findings: &[Finding], code: &str, remedy: &str) {
    let [finding] = findings else { panic!("{code}: {findings:#?}") };
    assert_eq!(finding.code, code, "{finding:?}");
    assert!(finding.words().remedy.contains(remedy), "{finding:?}");
    assert!(finding.place.pointer.starts_with("/joints/j"), "{finding:?}");
}

const APRON: &str = "\"from\": \"apron\", \"into\": \"leg\", \"thickness\": 8";

#[test]
fn a_part_that_is_not_there() {
    told_once(
        &joint("\"from\": \"aprn\", \"into\": \"leg\", \"thickness\": 8, \"width\": 25, \"length\": 40"),
        "unknown-part",
        "apron",
    );
    told_once(
        &joint("\"from\": \"leg\", \"into\": \"apron\", \"thickness\": 8, \"width\": 25, \"length\": 40"),
        "parts-do-not-meet",
        "exchange them: \"from\" the apron",
    );
}

/// The end that is sawn comes first: of a butted side that is the one between the others.
#[test]
fn parts_named_the_wrong_way_round_are_told_the_right_one() {
    let of = |from: &str, into: &str| {
        let text = format!(
            "{{ \"fullsize\": 1, \"title\": \"Crate\", \"units\": \"mm\", \"base\": {{ \"kind\": \"splayed_box\", \"sides\": 4, \
             \"side\": 400, \"slope\": 16, \"depth\": 180, \"thickness\": 21, \"corner\": \"butted\" }}, \"joints\": {{ \"j\": {{ \
             \"from\": \"{from}\", \"into\": \"{into}\", \"thickness\": 6, \"width\": 30, \"length\": 17 }} }} }}"
        );
        let project = read("crate.json", text.as_bytes(), None, None).project.expect("a good file");
        Job::new(project).cured_piece_findings().to_vec()
    };
    told_once(
        &of("front_and_back_side", "right_and_left_side"),
        "parts-do-not-meet",
        "\"from\" the right and left side, whose ends are sawn, \"into\" the front and back side",
    );
    let right = of("right_and_left_side", "front_and_back_side");
    assert!(right.iter().all(|f| f.severity != Severity::Stop));
    // Files from before these names count the kinds of side.
    let codes = |found: &[Finding]| found.iter().map(|f| f.code).collect::<Vec<_>>();
    assert_eq!(codes(&of("side_2", "side")), codes(&right));
    told_once(&of("side_3", "side"), "unknown-part", "front and back side, right and left side");
}

#[test]
fn a_count_that_does_not_fit_is_told_with_the_largest_that_does() {
    told_once(
        &joint(&format!("{APRON}, \"width\": 25, \"length\": 40, \"count\": 4")),
        "tenons-do-not-fit",
        "largest count that does is 3",
    );
    told_once(&joint(&format!("{APRON}, \"width\": 125, \"length\": 40")), "tenons-do-not-fit", "a \"width\" of 8");
}

/// Near the rims of a sloping box the wood behind a butted side ends sooner: a count that the landing holds is not always one
/// that the side does.
#[test]
fn every_count_that_is_told_does() {
    let of = |width: u32, count: u32| {
        let text = format!(
            "{{ \"fullsize\": 1, \"title\": \"Crate\", \"units\": \"mm\", \"base\": {{ \"kind\": \"splayed_box\", \"sides\": 4, \
             \"side\": 400, \"slope\": 16, \"depth\": 180, \"thickness\": 21, \"corner\": \"butted\" }}, \"joints\": {{ \"j\": {{ \
             \"from\": \"right_and_left_side\", \"into\": \"front_and_back_side\", \"thickness\": 6, \"width\": {width}, \"length\": 17, \"count\": {count} }} }} }}"
        );
        let project = read("crate.json", text.as_bytes(), None, None).project.expect("a good file");
        Job::new(project).cured_piece_findings().to_vec()
    };
    let mut told = 0;
    for width in 20..40 {
        let findings = of(width, 20);
        let said = |f: &Finding| f.words().remedy.strip_prefix("the largest count that does is ").map(str::to_owned);
        let remedy = findings.iter().find_map(said);
        let Some(count) = remedy.map(|count| count.parse().expect("a count")) else { continue };
        let stopped: Vec<Finding> = of(width, count).into_iter().filter(|f| f.severity == Severity::Stop).collect();
        assert!(stopped.is_empty(), "{count} of {width}: {stopped:#?}");
        told += 1;
    }
    assert!(told > 10, "{told}");
}

#[test]
fn a_tenon_longer_than_its_parts_is_told_with_the_largest_depth() {
    told_once(
        &joint(&format!("{APRON}, \"width\": 25, \"length\": 220")),
        "tenon-longer-than-part",
        "\"depths\" of ",
    );
    told_once(
        &joint(&format!("{APRON}, \"width\": 25, \"length\": 60, \"depths\": [25, 25]")),
        "tenon-too-long",
        "50 mm",
    );
}

#[test]
fn a_tenon_thicker_than_the_end_is_told() {
    let thick = "\"from\": \"apron\", \"into\": \"leg\", \"thickness\": 30, \"width\": 40, \"length\": 40";
    told_once(&joint(thick), "tenon-off-the-end", "largest thickness that does at this depth is 23.7 mm");
    told_once(
        &joint(&format!("{APRON}, \"width\": 25, \"length\": 40, \"from_face\": 18")),
        "tenon-off-the-end",
        "largest distance",
    );
    told_once(
        &joint(&format!("{APRON}, \"width\": 25, \"length\": 40, \"at\": [5]")),
        "tenon-off-the-landing",
        "it does",
    );
}

#[test]
fn what_just_fits_is_taken() {
    assert_eq!(
        joint(&format!("{APRON}, \"width\": 25, \"length\": 40, \"count\": 3"))
            .iter()
            .filter(|f| f.severity == Severity::Stop)
            .count(),
        0
    );
}

/// What is told as the largest is taken, and a hair more is not.
#[test]
fn the_largest_that_is_told_does() {
    let measured = |findings: &[Finding]| {
        let [finding] = findings else { panic!("{findings:#?}") };
        finding.number("largest")
    };
    let stops = |fields: &str| joint(fields).iter().any(|f| f.severity == Severity::Stop);
    let depths = |depth: f64| format!("{APRON}, \"width\": 25, \"depths\": [20, {depth}]");
    let deepest = measured(&joint(&depths(110.0)));
    assert!(!stops(&depths(deepest - 0.001)) && stops(&depths(deepest + 0.001)), "{deepest}");
    let count = |n: f64| format!("{APRON}, \"width\": 25, \"length\": 40, \"count\": {n}");
    let most = measured(&joint(&count(9.0)));
    assert!(!stops(&count(most)) && stops(&count(most + 1.0)), "{most}");
    let thick =
        |t: f64| format!("\"from\": \"apron\", \"into\": \"leg\", \"thickness\": {t}, \"width\": 40, \"length\": 20");
    let thickest = measured(&joint(&thick(30.0)));
    // Square to an end whose bevel is 1.674 degrees, a mortise 11 deep from the middle of an apron of 25 leaves it where
    // t/2 cos + 11 sin = 12.5.
    let bevel = 1.674_f64.to_radians();
    let wanted = 2.0 * (12.5 - 11.0 * bevel.sin()) / bevel.cos();
    assert!((thickest - wanted).abs() < 0.001, "{thickest} {wanted}");
    assert!(!stops(&thick(thickest)) && stops(&thick(thickest + 0.001)), "{thickest}");
    let at = |at: f64| format!("{APRON}, \"width\": 25, \"length\": 40, \"at\": [{at}]");
    let farthest = measured(&joint(&at(300.0)));
    assert!(!stops(&at(farthest)) && stops(&at(farthest + 0.001)), "{farthest}");
}
