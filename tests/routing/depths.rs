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
    assert!(says(&all, "recess 2.5 mm deep, 2 passes of 1.3 mm"), "{all:?}");
    assert!(says(&all, "plug cut 5 mm deep, through, 4 passes of 1.3 mm"), "{all:?}");
    let mut thin = desk();
    thin["patterns"]["inlay leaf"]["thickness"] = json!(1);
    assert!(says(&told(&thin, "inlay leaf"), "recess 0.8 mm deep"));
}

#[test]
fn a_deep_cut_is_sawn_close_first_and_taken_in_steps() {
    let mut file = desk();
    file["shop"]["cutters"]["trimmer"]["bearing_at"] = json!("shank");
    // The bearing stands above 45 mm that cut: a first pass of 13.4 mm leaves it on a template of 35 mm, and clear of one of 12 mm.
    let thin = told(&file, "leg");
    let whole = "saw to within 2 mm of the line first, then one pass of the whole depth: raised, the bearing stands clear of the template";
    assert!(says(&thin, whole), "{thin:?}");
    file["routing"]["leg"]["template"]["thickness"] = json!(23);
    assert!(says(&told(&file, "leg"), "one pass of the whole depth: raised"));
    file["routing"]["leg"]["template"]["thickness"] = json!(35);
    let all = told(&file, "leg");
    assert!(says(&all, "saw to within 2 mm of the line first, then 3 passes of 13.4 mm"), "{all:?}");
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

/// What is worked out stands to 0.1 mm: a collar of 30.15 mm round a cutter of 6.35 leaves 11.9 mm, and a part of 18.3 is cut 20.3 deep.
/// What the file says is repeated.
#[test]
fn what_is_worked_out_for_a_template_stands_to_a_tenth() {
    let file = json!({ "fullsize": 1, "title": "Tile", "units": "mm", "patterns": { "tile": { "thickness": 18.25,
        "outline": [{ "to": [0, 0] }, { "to": [200, 0] }, { "to": [200, 150] }, { "to": [0, 150] }],
        "template": { "kind": "collar", "work": "outside", "collar": "wide", "cutter": "spiral", "thickness": 12.25 } } },
        "shop": { "collars": { "wide": { "diameter": 30.15 } }, "cutters": { "spiral": { "diameter": 6.35, "length": 25 } } } });
    let all = told(&file, "tile");
    for said in [
        "it lies 11.9 mm inside the finished line (dashed)",
        "collar wide 30.15 mm, cutter spiral 6.35 mm",
        "make 1 · 12.25 mm thick",
    ] {
        assert!(says(&all, said), "{said}: {all:?}");
    }
    assert!(says(&all, "cut 20.3 mm deep; stand out 32.5 mm"), "{all:?}");
}

/// Thousandths stand only where the file has them: what it works out itself, a diameter and a thickness of a third, stands to a tenth like
/// what is worked out from them.
#[test]
fn thousandths_are_those_of_the_file() {
    let file = json!({ "fullsize": 1, "title": "Tile", "units": "mm",
        "sizes": { "n55": 55, "n20": 20, "n25": 25, "n91": 91, "n70": 70, "n29": 29, "n28": 28 },
        "patterns": { "tile": { "thickness": "n55 / 3",
        "outline": [{ "to": [0, 0] }, { "to": [200, 0] }, { "to": [200, 150] }, { "to": [0, 150] }],
        "holes": [{ "at": [40, 40], "diameter": "n20 / 3" }], "slots": [{ "from": [90, 40], "to": [120, 40], "width": "n25 / 3" }],
        "template": { "kind": "collar", "work": "outside", "collar": "wide", "cutter": "spiral", "thickness": 12.345 },
        "check_cutter": "short" } },
        "shop": { "collars": { "wide": { "diameter": "n91 / 3", "projection": 13.125 } },
            "cutters": { "spiral": { "diameter": 6.35, "length": 15.875, "reach": "n70 / 3" },
                "short": { "diameter": "n29 / 3", "bearing": "n28 / 3", "length": 11.111 } } } });
    let reading = read("depths.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    let notation = &job.project().notation;
    let mut all: Vec<String> = told(&file, "tile").concat();
    all.push(fullsize::schedule::text(&job.schedule().expect("a schedule")));
    let patterns = job.patterns().unwrap_or_else(|refusal| panic!("{refusal}"));
    all.extend(patterns.iter().flat_map(|one| words(&one.pattern.items)));
    all.extend(job.findings().map(|finding| finding.said(notation)).flat_map(|said| [said.message, said.remedy]));
    let given = ["12.345", "13.125", "6.35", "15.875", "11.111"];
    for said in &all {
        let numbers = said.split(|c: char| !(c.is_ascii_digit() || c == '.')).map(|word| word.trim_matches('.'));
        let fine = |number: &&str| number.split_once('.').is_some_and(|(_, digits)| digits.len() > 1);
        for number in numbers.filter(fine) {
            assert!(given.contains(&number), "{number}: {said}");
        }
    }
    for number in given {
        assert!(all.iter().any(|said| said.contains(number)), "{number}: {all:#?}");
    }
}

/// A file in inches: what stands on a template's sheet, its thickness and its cautions too, is in inches.
#[test]
fn a_template_of_a_file_in_inches_is_told_in_inches() {
    let file = json!({ "fullsize": 1, "title": "Tile", "units": "in", "patterns": { "tile": { "thickness": "3/4",
        "outline": [{ "to": [0, 0] }, { "to": [8, 0] }, { "to": [8, 6] }, { "to": [0, 6] }],
        "template": { "kind": "collar", "work": "outside", "collar": "wide", "cutter": "spiral", "thickness": "1/2" } } },
        "shop": { "collars": { "wide": { "diameter": "3/4" } }, "cutters": { "spiral": { "diameter": "1/2", "length": 2 } } } });
    let all: Vec<String> = told(&file, "tile").concat();
    for said in
        ["1/2\" thick", "fix it to a carrier at least 11 13/16\" long", "collar wide 3/4\", cutter spiral 1/2\""]
    {
        assert!(all.join(" ").contains(said), "{said}: {all:#?}");
    }
    assert!(all.iter().all(|said| !said.contains(" mm")), "{all:#?}");
}
