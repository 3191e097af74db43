//! What is to be minded at the saw stands beside every setting and on the first page.

use super::checked;
use crate::common::program::program;
use std::fs;

const TABLE: &str = include_str!("../../fixtures/good/leaning_table.json");

fn run(arguments: &[&str]) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("table.json"), TABLE).expect("a file");
    let out = program().args(arguments).current_dir(folder.path()).output();
    let out = out.expect("the program runs");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    (folder, String::from_utf8_lossy(&out.stdout).into_owned())
}

/// A crosscut that is both mitred and bevelled is named; the legs and aprons of the example have such, its rails do not.
#[test]
fn every_setting_says_one_end_in_scrap_first() {
    let (_, piece, _) = checked(&serde_json::from_str(TABLE).expect("a good file"));
    let cuts: usize = piece.boards.iter().map(|board| board.cuts.len()).sum();
    let compound: usize = piece
        .boards
        .iter()
        .flat_map(|board| &board.cuts)
        .filter(|saw| saw.long_point.is_some() && saw.mitre().degrees() > 0.05 && saw.bevel.degrees() > 0.05)
        .count();
    let (_folder, text) = run(&["schedule", "table.json"]);
    assert_eq!(
        text.matches("one end in scrap first").count(),
        cuts + text.matches("Saw one end in scrap first").count()
    );
    assert_eq!(text.matches("compound crosscut: keep the offcut free of fence and tilted blade").count(), compound);
    assert!(compound > 0 && compound < cuts);
    // Each is a statement on a line of its own.
    let is_caution = |line: &&str| line.contains("scrap first") || line.contains("compound crosscut");
    for line in text.lines().map(str::trim).take_while(|line| *line != "Before sawing").filter(is_caution) {
        let whole = ["one end in scrap first", "compound crosscut: keep the offcut free of fence and tilted blade"];
        assert!(whole.contains(&line), "{line}");
    }
    let end = text.split("Before sawing").nth(1).expect("the cautions");
    for words in ["manual", "local codes", "licensed practice", "keep the offcut free of fence and tilted blade"] {
        assert!(end.contains(words), "{words}: {end}");
    }
}

#[test]
fn the_table_and_the_data_say_so_too() {
    let (_folder, csv) = run(&["schedule", "table.json", "--format", "csv"]);
    assert!(csv.contains("Before sawing") && csv.contains("licensed practice"));
    let (_folder, data) = run(&["schedule", "table.json", "--format", "json"]);
    let data: serde_json::Value = serde_json::from_str(&data).expect("JSON");
    assert!(data["cautions"].as_array().is_some_and(|all| all.len() == 3), "{}", data["cautions"]);
    let cuts = data["boards"].as_array().expect("boards").iter().flat_map(|b| b["cuts"].as_array().expect("cuts"));
    assert!(
        cuts.into_iter().all(|cut| cut["caution"].as_str().is_some_and(|c| c.starts_with("one end in scrap first")))
    );
}

/// Read back from the PDF's first page by another reader.
#[test]
fn the_first_page_says_so() {
    let (folder, _) = run(&["print", "table.json", "--pattern", "leg", "-o", "table.pdf"]);
    let pdf = lopdf::Document::load(folder.path().join("table.pdf")).expect("a PDF");
    let text = pdf.extract_text(&[1]).expect("words").replace('\n', " ");
    for words in [
        "one end in scrap first",
        "keep the offcut free of fence and tilted blade",
        "local codes",
        "licensed practice",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
}

/// 9.15 in of white fir from 8 to 11 %: thousandths beside the fraction that a rule shows.
#[test]
fn movement_in_inches_is_said_in_thousandths() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = r#"{ "fullsize": 1, "title": "Board", "units": "in", "top": { "length": 40, "width": 9.15, "thickness": 1,
        "species": "white fir", "moisture": { "today": 8, "driest": 8, "dampest": 11 } } }"#;
    fs::write(folder.path().join("board.json"), file).expect("a file");
    let out = program().args(["schedule", "board.json"]).current_dir(folder.path()).output();
    let out = out.expect("the program runs");
    let text = String::from_utf8_lossy(&out.stdout);
    assert!(text.contains("than today at 8.0 %: 0.067 in (1/16\")"), "{text}");
}
