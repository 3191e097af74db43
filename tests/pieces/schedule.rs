//! The schedule as scripts read it.

use super::random::{example, top};
use crate::common::draws::Draws;
use fullsize::model::base::Base;
use fullsize::piece::solve;
use fullsize::schedule::{Schedule, json, tables, text};
use fullsize::units::Notation;

#[test]
fn the_data_holds_what_scripts_rely_on_and_the_words_read_plainly() {
    let base = Base::LeaningFrames(Box::new(example()));
    let mut top = top(&mut Draws::middle());
    top.thickness = fullsize::units::Length::from_mm(24.0);
    let notation = Notation::default();
    let piece = solve(Some(&base), Some(&top), &notation).unwrap_or_else(|f| panic!("{f:#?}"));
    let revisions: Vec<String> = piece.boards.iter().map(|b| b.id.as_str().to_uppercase()).collect();
    let schedule = Schedule {
        templates: &[],
        drawn: &[],
        drawn_revisions: &[],
        title: "Table",
        variant: None,
        revision: "ABCDE",
        revisions: &revisions,
        piece: &piece,
        top: Some(&top),
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
    // A ripped edge is told by its bevel alone: 12.114° for the apron's upper one.
    let rip = apron["cuts"].as_array().and_then(|c| c.iter().find(|c| c["where"] == "upper edge")).expect("an edge");
    assert_eq!((rip["how"].as_str(), rip["mitre"].is_null(), rip["register"].is_null()), (Some("rip"), true, true));
    assert!(close(&rip["bevel"], 12.114), "{rip}");
    assert_eq!(apron["placements"].as_array().map(Vec::len), Some(2));
    let leg = data["boards"].as_array().and_then(|b| b.iter().find(|b| b["id"] == "leg")).expect("a leg");
    assert_eq!((&leg["handed"]["as_drawn"], &leg["handed"]["mirrored"]), (&2.into(), &2.into()));
    assert!(leg["face"].as_str().is_some_and(|d| d.starts_with('M') && d.ends_with('Z')));
    let words = text(&schedule);
    assert!(words.contains("make 2 as drawn, 2 mirrored (turn the template over)"), "{words}");
    assert!(words.contains("7.8° (13.7 in 100) off the lower edge"), "{words}");
    assert!(words.contains("sawn at the lean alone, 8°, with a square blade: open at"), "{words}");
    assert!(words.contains("it lies level in the piece"), "{words}");
    // The apron's blank is as long as its inside face's lower arris, 1364.048 mm, or longer: 1364.5 mm, never 1364 mm.
    assert!(words.contains("25 mm thick, blank 1364.5 mm along the grain x "), "{words}");
    for table in tables(&schedule) {
        assert!(table.rows.iter().all(|row| row.len() == table.columns.len()), "{}", table.title);
    }
}

#[test]
fn edges_known_by_number_are_said_by_their_corners_and_a_box_by_its_upright_setting() {
    let text = |file: &str| {
        let project =
            fullsize::project::read("piece.json", file.as_bytes(), None, None).project.expect("a good file");
        let piece = solve(project.base.as_ref(), None, &project.notation).unwrap_or_else(|f| panic!("{f:#?}"));
        let notation = project.notation;
        let schedule = Schedule {
            title: "Piece",
            variant: None,
            revision: "A",
            revisions: &[],
            piece: &piece,
            top: None,
            findings: &[],
            aids: &[],
            templates: &[],
            drawn: &[],
            drawn_revisions: &[],
            notation,
        };
        text(&schedule)
    };
    let post = text(include_str!("../../fixtures/good/braced_post.json"));
    assert!(post.contains("edge 2 (from 0, 0 to 1200, 0): 1200 mm"), "{post}");
    assert!(post.contains("saw left end against floor: 45°"), "{post}");
    let planter = text(include_str!("../../templates-demo/planter.json"));
    assert!(
        planter.contains("sawn at the slope alone, 12°, with the blade at 30°, as for upright sides: open at"),
        "{planter}"
    );
    // Either end of a side has the same caul.
    let clamping: Vec<&str> = planter.lines().filter(|line| line.contains("clamping")).collect();
    let [line] = clamping.as_slice() else { panic!("{clamping:?}") };
    assert!(line.ends_with("with it a plain clamp pulls square to the joint"), "{line}");
}
