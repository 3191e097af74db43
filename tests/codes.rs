//! Revision codes: what a tool would do otherwise gives another, what no shop tells apart gives the same.
//!
//! Each row of the table is one change to a file, with the patterns whose code must change and those whose code must not.

use crate::common::changed::changed;
use fullsize::job::Job;
use fullsize::project::read;
use serde_json::{Value as Json, json};
use std::collections::BTreeMap;

/// The name under which the code of the whole is kept.
const WHOLE: &str = "(whole)";

/// The codes of everything that a file makes, by the names of its patterns.
type Codes = BTreeMap<String, String>;

fn codes(file: &Json) -> Codes {
    let reading = read("codes.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    let patterns =
        job.patterns().unwrap_or_else(|refusal| panic!("{refusal}: {:#?}", job.findings().collect::<Vec<_>>()));
    let own = patterns.iter().map(|one| (one.pattern.part.name.clone(), one.pattern.part.revision.clone()));
    let whole = job.revision().expect("a code").to_owned();
    own.chain([(WHOLE.to_owned(), whole)]).collect()
}

fn desk() -> Json {
    serde_json::from_str(include_str!("../fixtures/codes/desk.json")).expect("a file")
}

/// A board that slopes, with a bevelled end.
fn sloping() -> Json {
    json!({ "fullsize": 1, "title": "b", "units": "mm", "base": { "kind": "boards", "boards": { "one": {
        "thickness": 20, "outline": [{ "to": [0, 0] }, { "to": [300, 0] }, { "to": [300, 80] }, { "to": [0, 80] }],
        "at": [0, 0, 0], "along": [1, 0, 0], "face": [0, 0, 1],
        "cuts": [{ "plane": { "through": [250, 0, 0], "normal": [1, 0, 0.6] } }],
    } } } })
}

/// A table with its top on breadboard ends.
fn table() -> Json {
    let mut file = desk();
    let top = json!({ "length": 1500, "width": 720, "thickness": "top", "species": "white ash", "cut": "flat-sawn",
        "moisture": { "today": 9, "driest": 6, "dampest": 11 }, "fasteners": { "by": "slots" },
        "breadboard": { "width": 90 } });
    file["top"] = top;
    file["joints"].as_object_mut().expect("joints").remove("glue line");
    file["routing"].as_object_mut().expect("routing").remove("top");
    file
}

/// A flat part with an inlay.
fn flat() -> Json {
    json!({ "fullsize": 1, "title": "p", "units": "mm", "patterns": { "p": { "thickness": 12,
        "outline": [{ "to": [0, 0] }, { "to": [100, 0] }, { "to": [100, 50] }, { "to": [0, 50] }],
        "holes": [{ "at": [50, 25], "diameter": 8 }] } } })
}

/// One change, and whose code it changes.
struct Row {
    what: &'static str,
    file: fn() -> Json,
    changes: Vec<(&'static str, Json)>,
    must: &'static [&'static str],
    must_not: &'static [&'static str],
}

const LEG_TEMPLATE: &str = "leg, template blank";

fn rows() -> Vec<Row> {
    let row = |what, file, changes, must, must_not| Row { what, file, changes, must, must_not };
    vec![
        row(
            "mortises in the legs 10 mm deeper",
            desk,
            vec![("/joints/apron tenon/length", json!(50)), ("/joints/apron tenon/depths", json!([21, 31]))],
            &[WHOLE, "leg"],
            &["apron", "top rail", "bottom rail", "stretcher", "top", LEG_TEMPLATE],
        ),
        row(
            "mortises with square ends",
            desk,
            vec![("/joints/apron tenon/ends", json!("square"))],
            &[WHOLE, "leg", "apron"],
            &["top rail", "top", LEG_TEMPLATE],
        ),
        row(
            "loose tenons shorter by more play",
            desk,
            vec![("/joints/apron tenon/clearance", json!(3))],
            &[WHOLE],
            &["top rail", "top", LEG_TEMPLATE],
        ),
        row(
            "another round-over",
            desk,
            vec![("/routing/leg/edge_profiles/outside edge/round_over", json!(12))],
            &[WHOLE, "leg", "leg, profile of outside edge"],
            &["apron", "top", LEG_TEMPLATE],
        ),
        row(
            "a round-over becomes a chamfer",
            desk,
            vec![("/routing/top/edge_profile", json!({ "chamfer": [5, 5] }))],
            &[WHOLE, "top"],
            &["leg", LEG_TEMPLATE],
        ),
        row(
            "the bearing moves from tip to shank: the feed is reversed",
            desk,
            vec![("/shop/cutters/trimmer/bearing_at", json!("shank"))],
            &[WHOLE, LEG_TEMPLATE],
            &["leg", "apron", "top", "inlay leaf"],
        ),
        row(
            "a template that lies on the other side",
            desk,
            vec![("/routing/leg/template/lies_on", json!("far"))],
            &[WHOLE, LEG_TEMPLATE],
            &["leg", "apron"],
        ),
        row(
            "a template of thicker board",
            desk,
            vec![("/routing/leg/template/thickness", json!(15))],
            &[WHOLE, LEG_TEMPLATE],
            &["leg", "apron"],
        ),
        row(
            "an inlay of another collar",
            desk,
            vec![("/shop/collars/sleeve/diameter", json!(14.5))],
            &[WHOLE, "inlay leaf, inlay template"],
            &["inlay leaf", "leg", LEG_TEMPLATE],
        ),
        row(
            "aprons 3 mm thinner",
            desk,
            vec![("/base/apron/thickness", json!(19))],
            &[WHOLE, "apron"],
            &["top rail", "bottom rail", "stretcher", LEG_TEMPLATE],
        ),
        row(
            "another bevel",
            sloping,
            vec![("/base/boards/one/cuts/0/plane/normal", json!([1, 0, 0.5]))],
            &[WHOLE, "one"],
            &[],
        ),
        row(
            "a wider breadboard end",
            table,
            vec![("/top/breadboard/width", json!(100))],
            &[WHOLE, "top", "breadboard end"],
            &["leg", "apron", LEG_TEMPLATE],
        ),
        row(
            "a thicker tongue",
            table,
            vec![("/top/breadboard/tongue", json!(9))],
            &[WHOLE, "top", "breadboard end", "tongue of the top"],
            &["leg", "apron"],
        ),
        row(
            "outer pins without slots",
            table,
            vec![("/top/breadboard/outer_pins", json!("tight"))],
            &[WHOLE, "top", "tongue of the top"],
            &["leg", "apron"],
        ),
        row(
            "another screw",
            table,
            vec![("/top/fasteners/screw", json!(6))],
            &[WHOLE, "top", "apron"],
            &["leg", "bottom rail", LEG_TEMPLATE],
        ),
        row(
            "screws in round holes",
            table,
            vec![("/top/fasteners/by", json!("screws"))],
            &[WHOLE, "top", "apron"],
            &["leg", "bottom rail"],
        ),
        row(
            "slots for a damper winter",
            table,
            vec![("/top/moisture/driest", json!(6.5))],
            &[WHOLE, "top", "apron"],
            &["leg", "bottom rail"],
        ),
        row(
            "boards of other widths",
            desk,
            vec![("/top/glue_up", json!([145, 150, 150, 145, 130]))],
            &[WHOLE, "top"],
            &["leg"],
        ),
        row("a thicker board", flat, vec![("/patterns/p/thickness", json!(18))], &[WHOLE, "p"], &[]),
        row("a hole elsewhere", flat, vec![("/patterns/p/holes/0/at", json!([51, 25]))], &[WHOLE, "p"], &[]),
        row("one more of it", flat, vec![("/patterns/p/make", json!(2))], &[WHOLE], &["p"]),
        row(
            "another title",
            desk,
            vec![("/title", json!("Another desk"))],
            &[],
            &[WHOLE, "leg", "top", LEG_TEMPLATE],
        ),
        row(
            "another cutting length",
            desk,
            vec![("/shop/cutters/trimmer/length", json!(46))],
            &[],
            &[WHOLE, "leg", LEG_TEMPLATE],
        ),
    ]
}

#[test]
fn what_a_tool_does_otherwise_changes_the_codes_of_what_it_is_done_to() {
    let mut told = Vec::new();
    // Of each file once.
    let mut unchanged: BTreeMap<String, Codes> = BTreeMap::new();
    for Row { what, file, changes, must, must_not } in rows() {
        let file = file();
        let before = unchanged.entry(file.to_string()).or_insert_with(|| codes(&file));
        let after = codes(&changed(&file, &changes));
        let code = |codes: &Codes, name: &str| {
            codes.get(name).cloned().unwrap_or_else(|| panic!("{what}: no {name} in {:?}", codes.keys()))
        };
        let differs = |name: &&&str| code(before, name) != code(&after, name);
        let kept: Vec<_> = must.iter().filter(|name| !differs(name)).collect();
        let changed: Vec<_> = must_not.iter().filter(|name| differs(name)).collect();
        if !(kept.is_empty() && changed.is_empty()) {
            told.push(format!("{what}: kept {kept:?}, changed {changed:?}"));
        }
    }
    assert!(told.is_empty(), "{told:#?}");
}

/// Every number of a file that is a length as a bare number, by its pointer.
fn lengths(file: &Json, at: &str, found: &mut Vec<(String, f64)>) {
    match file {
        Json::Object(members) => {
            // Counts, moisture and directions are no lengths.
            let others = ["fullsize", "moisture", "count", "pins", "make", "normal", "grain"];
            let members = members.iter().filter(|(name, _)| !others.contains(&name.as_str()));
            members.for_each(|(name, value)| lengths(value, &format!("{at}/{name}"), found));
        }
        Json::Array(all) => all.iter().enumerate().for_each(|(k, value)| lengths(value, &format!("{at}/{k}"), found)),
        Json::Number(number) => found.extend(number.as_f64().map(|number| (at.to_owned(), number))),
        _ => {}
    }
}

/// Numbers move together, some up and some down, each in its own way from round to round.
#[test]
fn numbers_that_move_by_less_than_half_a_thousandth_change_no_code() {
    for file in [desk(), table(), flat()] {
        let before = codes(&file);
        let mut numbers = Vec::new();
        lengths(&file, "", &mut numbers);
        assert!(numbers.len() > 8);
        let by = [0.00004, -0.0004, 0.00049, -0.00049, 0.0004];
        for round in 1..by.len() {
            let moved = numbers
                .iter()
                .enumerate()
                .map(|(k, (pointer, number))| (pointer.as_str(), json!(number + by[k * round % by.len()])));
            let moved: Vec<_> = moved.collect();
            assert_eq!(codes(&changed(&file, &moved)), before, "{moved:?}");
        }
    }
}

#[test]
fn a_length_that_is_written_in_two_ways_has_one_code() {
    let part = |length: &str, thickness: &str| {
        json!({ "fullsize": 1, "title": "R", "units": "in", "patterns": { "a": { "thickness": thickness,
            "outline": [{ "to": [0, 0] }, { "to": [length, 0] }, { "to": [length, 4] }, { "to": [0, 4] }] } } })
    };
    // In sixteenths, by difference, in millimetres, in thousandths of a millimetre.
    let ways = ["5 1/16 in", "10.1 in - 5.0375 in", "5.3 in - 0.2375 in", "128.5875 mm", "12.85875 cm", "128.587 mm"];
    let first = codes(&part(ways[0], "3/4 in"));
    for way in ways {
        assert_eq!(codes(&part(way, "19.05 mm")), first, "{way}");
    }
    assert_ne!(codes(&part("5 5/64 in", "3/4 in")), first);
    let sum = |text: &str| codes(&changed(&desk(), &[("/base/leg/foot", json!(text))]));
    assert_eq!(sum("leg_t + 14.37"), sum("52.37"));
    assert_eq!(sum("leg_t * 4 / 3"), sum("152 / 3"));
}
