//! Collars where opening or part is just as wide as the tools.

use fullsize::finding::Finding;
use fullsize::job::Job;
use fullsize::project::read;
use fullsize::units::Notation;
use serde_json::{Value as Json, json};

/// What is told of the templates of a file.
fn told(file: &Json) -> Vec<Finding> {
    let reading = read("t.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    job.findings().cloned().collect()
}

fn corners(all: &[(f64, f64)]) -> Json {
    all.iter().map(|(x, y)| json!({ "to": [x, y] })).collect()
}

/// An L of two limbs, 100 and 90 long and so wide.
fn ell(x: f64, y: f64, wide: f64) -> Json {
    let all = [(0.0, 0.0), (100.0, 0.0), (100.0, wide), (wide, wide), (wide, 90.0), (0.0, 90.0)];
    corners(&all.map(|(a, b)| (x + a, y + b)))
}

/// The same with rounded ends.
fn round_ell(wide: f64, radius: f64) -> Json {
    let mut ell = ell(0.0, 0.0, wide);
    for corner in [1, 2, 4, 5] {
        ell[corner]["corner_radius"] = json!(radius);
    }
    ell
}

/// Of an L a collar that stands off 8 mm leaves the crotch, which is wider than the limbs: that limbs of 14 mm are lost is told, and that
/// those of 20 mm have 4 mm left. The difference told is that of the limbs, what leaves 6 mm of them.
#[test]
fn limbs_of_an_l_are_not_taken_for_its_crotch() {
    for outline in [ell as fn(f64, f64, f64) -> Json, |_, _, wide| round_ell(wide, 5.0)] {
        for (wide, code, most) in [(14.0, "template-vanishes", 8.0), (20.0, "template-is-thin", 14.0)] {
            let of = |cutter: f64| {
                let mut file = file(json!({ "outline": outline(0.0, 0.0, wide) }), cutter);
                file["shop"]["collars"]["wide"]["diameter"] = json!(24);
                told(&file)
            };
            let found = of(8.0);
            let finding =
                found.iter().find(|finding| finding.code == code).unwrap_or_else(|| panic!("{wide} {found:#?}"));
            let told = finding.measure("most").expect("a difference");
            assert!(told <= most && told > most - 0.11, "{wide}: {told}");
            let bad = ["template-vanishes", "template-falls-apart", "template-is-thin", "no-template"];
            let made = of(24.0 - most + 0.1);
            assert!(made.iter().all(|finding| !bad.contains(&finding.code)), "{wide} {made:#?}");
        }
    }
}

fn file(part: Json, cutter: f64) -> Json {
    let mut part = part;
    part["thickness"] = json!(12);
    part["template"] = json!({ "kind": "collar", "work": "outside", "collar": "wide", "cutter": "spiral" });
    json!({ "fullsize": 1, "title": "T", "units": "mm", "patterns": { "p": part },
        "shop": { "collars": { "wide": { "diameter": 16 } }, "cutters": { "spiral": { "diameter": cutter } } } })
}

fn plate_with(wide: f64, cutter: f64) -> Json {
    let plate = corners(&[(0.0, 0.0), (200.0, 0.0), (200.0, 150.0), (0.0, 150.0)]);
    file(json!({ "outline": plate, "openings": [{ "outline": ell(40.0, 30.0, wide) }] }), cutter)
}

/// An opening of two limbs of 6 mm under a cutter of 6: it does not go in, and the largest that does is told and does.
#[test]
fn an_opening_just_as_wide_as_the_cutter_is_not_entered_and_a_smaller_cutter_does() {
    let unfit = |file: &Json| -> Vec<Finding> {
        let all = told(file);
        assert!(all.iter().all(|finding| finding.code != "no-template"), "{all:#?}");
        all.into_iter().filter(|finding| finding.code == "tool-does-not-fit").collect()
    };
    for wide in [6.0, 5.9] {
        let found = unfit(&plate_with(wide, 6.0));
        let largest = found.first().and_then(|finding| finding.measure("largest")).expect("a largest cutter");
        assert!(largest < wide && largest > wide - 0.1, "{largest}");
        let said = found[0].said(&Notation::default()).remedy;
        assert!(said.starts_with("take a cutter of 5.") && said.contains("or less under this collar"), "{said}");
        let told: f64 = said.split(' ').find_map(|word| word.parse().ok()).expect("a number");
        assert_eq!(unfit(&plate_with(wide, told)), []);
    }
    assert_eq!(unfit(&plate_with(6.1, 6.0)), []);
}

/// A part whose limbs are 10 wide, from which a collar of 16 round a cutter of 6 stands off 5 on either side: nothing is left, and the
/// difference that is told leaves a template.
#[test]
fn a_part_just_as_wide_as_the_collar_stands_off_is_told_with_what_does() {
    let of = |cutter: f64| told(&file(json!({ "outline": ell(0.0, 0.0, 10.0) }), cutter));
    let found = of(6.0);
    let finding =
        found.iter().find(|finding| finding.code == "template-vanishes").unwrap_or_else(|| panic!("{found:#?}"));
    assert!((finding.measure("across").expect("a width") - 10.0).abs() < 1e-9);
    let said = finding.said(&Notation::default()).remedy;
    let most: f64 = said.split(' ').find_map(|word| word.parse().ok()).expect("a number");
    assert!((most - 4.0).abs() < 0.11, "6 mm stay of 10: {said}");
    let made = of(16.0 - most);
    let bad = ["template-vanishes", "template-falls-apart", "template-is-thin", "no-template"];
    assert!(made.iter().all(|finding| !bad.contains(&finding.code)), "{made:#?}");
}
