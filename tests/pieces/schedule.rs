//! The schedule as scripts read it.

use super::random::{example, top};
use crate::common::draws::Draws;
use crate::common::stock::plain_stock;
use fullsize::model::base::Base;
use fullsize::piece::solve;
use fullsize::schedule::{Schedule, json as data_of, tables, text};
use fullsize::stock::Stocks;
use fullsize::units::Notation;
use serde_json::json;

#[test]
fn the_data_holds_what_scripts_rely_on_and_the_words_read_plainly() {
    let base = Base::LeaningFrames(Box::new(example()));
    let mut top = top(&mut Draws::middle());
    top.thickness = fullsize::units::Length::from_mm(24.0);
    let notation = Notation::default();
    let piece = solve(Some(&base), Some(&top), &notation).unwrap_or_else(|f| panic!("{f:#?}"));
    let revisions: Vec<String> = piece.boards.iter().map(|b| b.id.as_str().to_uppercase()).collect();
    let stocks = Stocks { boards: piece.boards.iter().map(plain_stock).collect(), drawn: Vec::new(), end: None };
    let schedule = Schedule {
        stocks: &stocks,
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
        bulks: &piece.boards.iter().map(|board| board.bulk()).collect::<Vec<_>>(),
        notation,
    };
    let data = data_of(&schedule);
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
    assert!(words.contains("7.8° (13.7 to 100) off square to the lower edge"), "{words}");
    assert!(words.contains("sawn at the lean alone, 8°, with a square blade: open at"), "{words}");
    assert!(words.contains("it lies level in the piece"), "{words}");
    // The apron's blank is as long as its inside face's lower arris, 1364.048 mm, or longer: 1364.1 mm, never 1364 mm.
    assert!(words.contains("25 mm thick, net blank 1364.1 mm along the grain x "), "{words}");
    for table in tables(&schedule) {
        assert!(table.rows.iter().all(|row| row.len() == table.columns.len()), "{}", table.title);
    }
}

#[test]
fn edges_known_by_number_are_said_by_their_corners_and_a_box_by_its_upright_setting() {
    let text = |file: &str| {
        let project =
            fullsize::project::read("piece.json", file.as_bytes(), None, None).project.expect("a good file");
        let job = fullsize::job::Job::new(project);
        text(&job.schedule().expect("a schedule"))
    };
    let post = text(include_str!("../../fixtures/good/braced_post.json"));
    assert!(post.contains("edge 2 (from 0, 0 to 1200, 0): 1200 mm"), "{post}");
    assert!(post.contains("saw left end against floor: 45°"), "{post}");
    // What a person reads names no part by its id.
    assert!(!post.contains(".edge.") && !post.contains(".far") && !post.contains(".face"), "{post}");
    let planter = text(include_str!("../../templates-demo/planter.json"));
    assert!(
        planter.contains("sawn at the slope alone, 12°, with the blade at 30°, as for upright sides: open at"),
        "{planter}"
    );
    // Either end of a side has the same caul.
    let clamping: Vec<&str> = planter.lines().filter(|line| line.contains("clamping")).collect();
    let [line] = clamping.as_slice() else { panic!("{clamping:?}") };
    // All sides are called alike: it says between which and on which of them.
    assert!(line.contains("clamping the mitre between two sides, on the outside of either: "), "{line}");
    // The wedge would be of 60.7 degrees: it slides.
    let under = planter.lines().skip_while(|other| other != line).nth(1).unwrap_or("");
    assert!(
        line.contains("60.7°") && under.contains("no caul stays on that: a band round the whole pulls"),
        "{planter}"
    );
}

/// The schedule's text and data of a file.
fn told(file: &serde_json::Value) -> (String, serde_json::Value) {
    let reading = fullsize::project::read("piece.json", file.to_string().as_bytes(), None, None);
    let project = reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings));
    let job = fullsize::job::Job::new(project);
    let schedule = job.schedule().unwrap_or_else(|refused| panic!("{refused:?}"));
    (text(&schedule), data_of(&schedule))
}

fn stool() -> serde_json::Value {
    let apron = json!({ "thickness": 18.3, "depth": 60.2, "inset": 2.3 });
    json!({
        "fullsize": 1, "title": "Tenths", "units": "mm",
        "base": {
            "kind": "splayed_legs", "height": 450.3, "length_at_top": 400.7, "width_at_top": 300.2,
            "splay_front": "5 deg", "splay_side": "5 deg",
            "leg": { "width": 38.2, "thickness": 38.2 }, "apron": apron, "end_apron": apron
        }
    })
}

#[test]
fn given_numbers_are_echoed_and_derived_ones_stand_to_the_shops_step() {
    let (words, data) = told(&stool());
    for given in ["38.2 mm thick", "18.3 mm thick", "floor to heads: 450.3 mm", "at the heads, along: 400.7 mm"] {
        assert!(words.contains(given), "{given}: {words}");
    }
    let along = data["facts"]["footprint_length"].as_f64().expect("a number");
    assert!(words.contains(&format!("footprint, along: {along:.1} mm")), "{along}: {words}");
    let mut stepped = stool();
    stepped["shop"] = json!({ "step": 0.5 });
    let (words, _) = told(&stepped);
    assert!(words.contains("38.2 mm thick"), "{words}");
    // What lies more than a quarter step off is said with a word.
    let steps = (along / 0.5).round();
    let side = match along / 0.5 - steps {
        over if over > 0.25 => " full",
        under if under < -0.25 => " bare",
        _ => "",
    };
    assert!(words.contains(&format!("footprint, along: {} mm{side}\n", steps * 0.5)), "{along}: {words}");
    assert!(words.contains(" mm full") && words.contains(" mm bare"), "{words}");
}

#[test]
fn a_line_over_a_ripped_edge_is_told_as_it_lies_there() {
    let tray = json!({
        "fullsize": 1, "title": "Tray", "units": "mm",
        "base": { "kind": "splayed_box", "sides": 4, "side": 300, "slope": "45 deg", "depth": 80, "thickness": 12 }
    });
    let (words, data) = told(&tray);
    // At the corner of a square box the ripped edge lies level, and the joint crosses it at half a right angle.
    assert!(words.contains("line over the edge 45° (100 to 100)"), "{words}");
    assert!(!words.contains("line over the edge 35.3°"), "{words}");
    let cuts = data["boards"][0]["cuts"].as_array().expect("cuts");
    let how: Vec<&str> = cuts.iter().filter_map(|cut| cut["how"].as_str()).collect();
    assert_eq!(how, ["rip", "rip", "crosscut", "crosscut"], "edges are ripped first");
    let order = ["saw lower edge", "saw upper edge", "saw left end", "saw right end against side's left end"];
    let places: Vec<_> = order.iter().map(|cut| words.find(cut)).collect();
    assert!(places.iter().all(Option::is_some) && places.is_sorted(), "{words}");
}

#[test]
fn every_landing_has_its_gap() {
    let mut base = json!({
        "kind": "leaning_frames", "height": 745, "length_at_top": 1420, "width_at_top": 640, "lean": "8 deg",
        "leg": { "splay": "12 deg", "thickness": 40, "head": 95, "foot": 60 },
        "top_rail": { "thickness": 30, "depth": 75 },
        "bottom_rail": { "thickness": 30, "depth": 70, "height": 140 }
    });
    for rise in [-6, 6] {
        base["leg"]["inside_edge"] = json!({ "rise": rise });
        let (_, data) = told(&json!({ "fullsize": 1, "title": "Table", "units": "mm", "base": base }));
        let boards = data["boards"].as_array().expect("boards");
        let leg = boards.iter().find(|board| board["id"] == "leg").expect("a leg");
        for rail in ["top_rail", "bottom_rail"] {
            let gap = leg["facts"][format!("landing_gap_{rail}")].as_f64();
            assert!(gap.is_some_and(|gap| gap > 0.0), "{rail}: {}", leg["facts"]);
        }
    }
}
