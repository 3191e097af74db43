//! The schedule as scripts read it.

use crate::random::{Dice, example, top};
use fullsize::piece::solve;
use fullsize::project::base::Base;
use fullsize::schedule::{Schedule, json, tables, text};
use fullsize::units::Notation;

#[test]
fn the_data_holds_what_scripts_rely_on_and_the_words_read_plainly() {
    let base = Base::LeaningFrames(Box::new(example()));
    let mut top = top(&mut Dice::new(3));
    top.thickness = fullsize::units::Length::from_mm(24.0);
    let notation = Notation::default();
    let piece = solve(Some(&base), Some(&top), &notation).unwrap_or_else(|f| panic!("{f:#?}"));
    let revisions: Vec<String> = piece.boards.iter().map(|b| b.id.to_uppercase()).collect();
    let schedule = Schedule {
        title: "Table",
        variant: None,
        revision: "ABCDE",
        revisions: &revisions,
        piece: &piece,
        aids: &[],
        findings: &piece.findings,
        notation,
    };
    let data = json(&schedule);
    let apron = data["boards"].as_array().and_then(|b| b.iter().find(|b| b["id"] == "apron")).expect("an apron");
    let close = |value: &serde_json::Value, wanted: f64| value.as_f64().is_some_and(|v| (v - wanted).abs() < 0.00051);
    let cut = apron["cuts"].as_array().and_then(|c| c.iter().find(|c| c["where"] == "right end")).expect("an end");
    // The worked example of the conventions.
    assert!(close(&cut["mitre"], 7.824) && close(&cut["bevel"], 1.674), "{cut}");
    assert!(
        close(&cut["naive_gap"]["upper inside"], 1.010) && close(&cut["naive_gap"]["lower inside"], 0.730),
        "{cut}"
    );
    assert_eq!((cut["against"].as_str(), cut["far_side"].as_str()), (Some("leg.far"), Some("longer")));
    assert_eq!(apron["placements"].as_array().map(Vec::len), Some(2));
    let leg = data["boards"].as_array().and_then(|b| b.iter().find(|b| b["id"] == "leg")).expect("a leg");
    assert_eq!((&leg["handed"]["as_drawn"], &leg["handed"]["mirrored"]), (&2.into(), &2.into()));
    assert!(leg["face"].as_str().is_some_and(|d| d.starts_with('M') && d.ends_with('Z')));
    let words = text(&schedule);
    assert!(words.contains("make 2 as drawn, 2 mirrored (turn the template over)"), "{words}");
    assert!(words.contains("7.8° (13.7 in 100) off the lower edge"), "{words}");
    for table in tables(&schedule) {
        assert!(table.rows.iter().all(|row| row.len() == table.columns.len()), "{}", table.title);
    }
}
