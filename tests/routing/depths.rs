//! Depths to work to: of the inlay in `codes/desk.json`, 3 mm thick, and of its legs of 38 mm under a cutter of 19 mm.

use super::words;
use fullsize::job::Job;
use fullsize::project::read;
use serde_json::{Value as Json, json};

/// The words of the templates of a part, one by one.
fn told(file: &Json, part: &str) -> Vec<Vec<String>> {
    let reading = read("depths.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    let patterns = job.patterns().unwrap_or_else(|refusal| panic!("{refusal}"));
    let own = patterns.iter().filter(|one| one.names.contains(&"templates".to_owned()));
    let own = own.filter(|one| one.pattern.part.name.starts_with(part));
    own.map(|one| words(&one.pattern.items)).collect()
}

fn desk() -> Json {
    serde_json::from_str(include_str!("../../fixtures/codes/desk.json")).expect("a file")
}

fn says(all: &[Vec<String>], said: &str) -> bool {
    all.iter().flatten().any(|one| one.contains(said))
}

#[test]
fn an_inlay_has_a_recess_a_little_under_its_thickness_and_a_plug_cut_through() {
    let all = told(&desk(), "inlay leaf");
    // In full wood half of 3.2 mm a pass.
    assert!(says(&all, "recess 2.5 mm deep, 2 passes of 1.25 mm"), "{all:?}");
    assert!(says(&all, "plug cut 5 mm deep, through, 4 passes of 1.25 mm"), "{all:?}");
    let mut thin = desk();
    thin["patterns"]["inlay leaf"]["thickness"] = json!(1);
    assert!(says(&told(&thin, "inlay leaf"), "recess 0.75 mm deep"));
}

#[test]
fn a_deep_cut_is_sawn_close_first_and_taken_in_steps() {
    let mut file = desk();
    file["shop"]["cutters"]["trimmer"]["bearing_at"] = json!("shank");
    let all = told(&file, "leg");
    assert!(says(&all, "saw to within 2 mm of the line first, then 3 passes of 13.333 mm"), "{all:?}");
    let tip = told(&desk(), "leg");
    assert!(says(&tip, "one pass of the whole depth: a bearing at the tip cannot take it in steps"), "{tip:?}");
}

/// A blank's bearing runs on its tongue before the cutter meets wood, and its edges run along the grain: neither a pin to start from
/// nor end grain is to be minded.
#[test]
fn a_blank_along_the_grain_needs_no_pin_and_meets_no_end_grain() {
    let all = told(&desk(), "leg");
    assert!(!says(&all, "Start against a pin"), "{all:?}");
    assert!(!says(&all, "Rout end grain before"), "{all:?}");
}
