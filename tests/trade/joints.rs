//! Joints that stop the work, or that a machine does not reach: what is told cures them, and numbers are such as can be written.

use super::{checked, stopped, told};
use crate::common::words::InWords;
use fullsize::board::Fitting;
use fullsize::finding::{Finding, Severity, stops};
use serde_json::{Value as Json, json};

/// A splayed table with aprons 75 deep, their landing on the leg 76.67 long.
fn table(joint: Json) -> Json {
    json!({
        "fullsize": 1, "title": "Table", "units": "mm",
        "base": {
            "kind": "splayed_legs", "height": 620, "length_at_top": 320, "width_at_top": 260, "splay_front": 9, "splay_side": 6,
            "leg": { "width": 42, "thickness": 42 }, "apron": { "thickness": 21, "depth": 75, "inset": 5 }
        },
        "joints": { "a": joint }
    })
}

fn apron(changes: Json) -> Json {
    let mut joint = json!({ "from": "apron", "into": "leg", "thickness": 7, "width": 30, "length": 30 });
    changes.as_object().into_iter().flatten().for_each(|(name, value)| joint[name] = value.clone());
    table(joint)
}

/// A top of four boards beside the table, with tenons along its glue lines.
fn glued(boards: [f64; 4], changes: Json) -> Json {
    let mut file = apron(changes);
    file["top"] = json!({ "length": 500, "width": 400, "thickness": 25, "glue_up": boards });
    file["joints"]["a"]["from"] = json!("top");
    file["joints"]["a"]["into"] = json!("top");
    file
}

fn the_stop(file: &Json) -> Finding {
    let all: Vec<Finding> = stopped(file).into_iter().filter(|f| f.severity == Severity::Stop).collect();
    let [finding] = all.as_slice() else { panic!("{all:#?}") };
    finding.clone()
}

/// The number after some words of a cure.
fn after(remedy: &str, words: &str) -> f64 {
    let rest = remedy.split(words).nth(1).unwrap_or_else(|| panic!("{words}: {remedy}"));
    rest.split(' ').find_map(|word| word.parse().ok()).unwrap_or_else(|| panic!("{remedy}"))
}

fn is_made(file: &Json) -> bool {
    !stops(&stopped(file))
}

/// Each side of a mitred box has the tenon at one end and the mortise at the other.
#[test]
fn fixed_tenons_of_a_mitred_box_stand_on_one_end() {
    let file = json!({
        "fullsize": 1, "title": "Pentagon", "units": "mm",
        "base": { "kind": "splayed_box", "sides": 5, "side": 190, "slope": 12, "depth": 150, "thickness": 28 },
        "joints": { "j": { "from": "side", "into": "side", "thickness": 4, "width": 40, "length": 9, "kind": "fixed", "count": 2 } }
    });
    let (_, piece, _) = checked(&file);
    let side = &piece.boards[0];
    let ends = |standing: bool| {
        let those = side.mortises.iter().filter(move |m| (m.fitting == Fitting::Standing) == standing);
        those.map(|m| format!("{:?}", m.on)).collect::<Vec<String>>()
    };
    let (tenons, mortises) = (ends(true), ends(false));
    assert_eq!((tenons.len(), mortises.len()), (2, 2), "{:#?}", side.mortises);
    assert!(tenons.iter().all(|end| !mortises.contains(end)), "{tenons:?} {mortises:?}");
    assert!(side.mortises.iter().all(|m| m.copies.len() == 5));
    let mut numbers: Vec<usize> = side.mortises.iter().map(|m| m.number).collect();
    numbers.sort_unstable();
    assert_eq!(numbers, [1, 1, 2, 2]);
}

/// The rims of a butted box are cuts: the fence lies on them. The nearer of two mortises lies within 75 of one in a side 150 deep.
#[test]
fn the_fence_lies_on_a_rim_that_is_cut() {
    let file = |reach: f64| {
        json!({
            "fullsize": 1, "title": "Box", "units": "mm",
            "base": { "kind": "splayed_box", "sides": 4, "side": 300, "slope": 10, "depth": 150, "thickness": 20, "corner": "butted" },
            "joints": { "t": { "from": "right_and_left_side", "into": "front_and_back_side", "thickness": 6, "width": 40, "length": 24, "count": 2 } },
            "shop": { "mortiser": { "reach": reach } }
        })
    };
    assert!(told(&file(75.0), "beyond-the-fence").is_empty());
    let beyond = told(&file(20.0), "beyond-the-fence");
    assert!(!beyond.is_empty() && beyond.iter().all(|f| !f.words().message.contains("inf")), "{beyond:#?}");
}

#[test]
fn a_mortise_that_comes_through_is_cut_from_both_sides() {
    let mut file = apron(json!({ "kind": "fixed", "mortise": "through" }));
    file["shop"] = json!({ "mortiser": { "reach": 100, "depth": 30, "height": 10 } });
    let deep = told(&file, "deeper-than-the-machine");
    assert_eq!(deep[0].words().remedy, "cut it from both sides, 21 mm from each");
}

/// A machine whose cutter lies as high as the mortise needs no spacer.
#[test]
fn no_spacer_is_told_of_nothing() {
    let file = |height: f64| {
        let mut file = apron(json!({}));
        file["shop"] = json!({ "mortiser": { "reach": 5, "height": height } });
        let all = told(&file, "beyond-the-fence");
        all.into_iter().find(|f| f.words().message.contains("in the apron")).expect("the apron").words().remedy
    };
    assert_eq!(file(10.5), "cut it lying flat on the bench, the inside down, as the machine does");
    assert!(file(12.5).contains("on a spacer 2 mm thick"), "{}", file(12.5));
}

/// Margins that leave nothing are what is made smaller; two tenons too wide are told a width at which both do.
#[test]
fn tenons_without_room_are_told_what_does() {
    let told = the_stop(&apron(json!({ "width": 40, "margin": 40 })));
    assert!(told.words().message.contains("margins of 40 mm leave nothing"), "{}", told.words().message);
    assert!(
        is_made(&apron(json!({ "width": 40, "margin": after(&told.words().remedy, "\"margin\" of") }))),
        "{}",
        told.words().remedy
    );
    let told = the_stop(&apron(json!({ "width": 80, "count": 2 })));
    let width = after(&told.words().remedy, "\"width\" of");
    assert!(width < 76.67 / 2.0 && is_made(&apron(json!({ "width": width, "count": 2 }))), "{}", told.words().remedy);
    let told = the_stop(&apron(json!({ "width": 20, "count": 5, "spacing": 5 })));
    let (spacing, count) =
        (after(&told.words().remedy, "\"spacing\" of"), after(&told.words().remedy, "\"count\" of"));
    assert!(count > 1.0, "{}", told.words().remedy);
    let cured = json!({ "width": 20, "count": count as u32, "spacing": spacing });
    assert!(is_made(&apron(cured)), "{}", told.words().remedy);
}

/// Every place is told, and from a leg's head a tenon is moved away.
#[test]
fn places_given_by_hand_are_told_where_they_do() {
    let all = stopped(&apron(json!({ "at": [3, 400] })));
    let places: Vec<&str> = all.iter().map(|f| f.place.pointer.as_str()).collect();
    assert_eq!(places, ["/joints/a/at/0", "/joints/a/at/1"], "{all:#?}");
    for finding in &all {
        let (low, high) = (after(&finding.words().remedy, "from"), after(&finding.words().remedy, "to"));
        assert!(
            is_made(&apron(json!({ "at": [low] }))) && is_made(&apron(json!({ "at": [high] }))),
            "{}",
            finding.words().remedy
        );
        assert!(!is_made(&apron(json!({ "at": [low - 0.2] }))), "{}", finding.words().remedy);
    }
    let out = the_stop(&apron(json!({ "at": [15] })));
    assert!(out.words().message.contains("comes out of the leg (head)"), "{}", out.words().message);
    let moved: f64 = out.words().remedy.split(" mm").next().and_then(|n| n.parse().ok()).expect("a place first");
    assert!(moved > 15.0 && is_made(&apron(json!({ "at": [moved] }))), "{}", out.words().remedy);
}

/// Length, clearance and depths have to agree: of the three one is left out.
#[test]
fn a_length_that_does_not_fill_its_depths_is_told_what_to_leave_out() {
    let given = json!({ "length": 26, "clearance": 2, "depths": [15, 15] });
    let told = the_stop(&apron(given.clone()));
    assert!(told.words().remedy.contains("leave \"length\" out, and it is 28 mm"), "{}", told.words().remedy);
    for (left_out, room) in [("length", 2.0), ("clearance", 4.0)] {
        let mut file = apron(given.clone());
        file["joints"]["a"].as_object_mut().expect("a joint").remove(left_out);
        assert!(is_made(&file), "{left_out}");
        assert!(
            told.words().remedy.contains(&format!("{room} mm")) || left_out == "length",
            "{}",
            told.words().remedy
        );
    }
}

#[test]
fn depths_along_glue_lines_do_on_every_line() {
    let boards = [24.0, 176.0, 176.0, 24.0];
    let told = the_stop(&glued(boards, json!({ "width": 40, "at": [250], "depths": [26, 26], "length": 50 })));
    let depths = [after(&told.words().remedy, "\"depths\" of"), after(&told.words().remedy, " and ")];
    assert!(depths.iter().all(|depth| *depth > 0.0 && *depth < 24.0), "{}", told.words().remedy);
    let length = depths[0] + depths[1] - 2.0;
    assert!(is_made(&glued(boards, json!({ "width": 40, "at": [250], "depths": depths, "length": length }))));
}

/// In a top of 25 a tenon of 8 is set off by 17 at the most.
#[test]
fn a_tenon_beside_the_top_is_told_a_number_that_does() {
    let boards = [100.0; 4];
    let off = the_stop(&glued(boards, json!({ "thickness": 8, "from_face": 30 })));
    assert_eq!(off.place.pointer, "/joints/a/from_face");
    assert!(off.words().remedy.contains("17 mm"), "{}", off.words().remedy);
    assert!(is_made(&glued(boards, json!({ "thickness": 8, "from_face": 17 }))));
    let thick = the_stop(&glued(boards, json!({ "thickness": 26 })));
    assert!(thick.words().remedy.contains("8.3 mm"), "{}", thick.words().remedy);
}

/// Two mortises in one board of 100, each 56 deep: as much shorter as leaves 6 between them.
#[test]
fn tenons_that_meet_in_a_board_are_shortened() {
    let file = |depths: [f64; 2]| {
        let joint = json!({ "thickness": 8, "width": 40, "length": depths[0] + depths[1] - 2.0, "depths": depths, "at": [250] });
        glued([100.0; 4], joint)
    };
    let crossed = told(&file([56.0, 56.0]), "mortises-cross");
    let depths = [after(&crossed[0].words().remedy, "\"depths\" of"), after(&crossed[0].words().remedy, " and ")];
    assert!(depths[0] + depths[1] <= 94.0, "{}", crossed[0].words().remedy);
    assert!(!crossed[0].words().remedy.contains("mitre"), "{}", crossed[0].words().remedy);
    let cured = file(depths);
    assert!(told(&cured, "mortises-cross").is_empty() && told(&cured, "thin-wall-between").is_empty());
}

/// The near cheek 1 mm from the face side leaves a shoulder of 1: it is moved, not made thinner.
#[test]
fn a_tenon_off_the_middle_is_moved_for_its_shoulder() {
    let file = |from_face: f64| apron(json!({ "width": 40, "length": 20, "kind": "fixed", "from_face": from_face }));
    let narrow = told(&file(1.0), "narrow-shoulder");
    assert_eq!(narrow[0].words().remedy, "a \"from_face\" of 3 mm (2 mm more) just does");
    assert!(told(&file(3.0), "narrow-shoulder").is_empty());
}

/// Along an apron between legs splayed by 9 degrees a mortise leans by about that in the apron's end; square to it by nothing.
#[test]
fn a_mortise_that_leans_along_its_width_is_told() {
    let leaning = |axis: &str| {
        let mut file = apron(json!({ "axis": axis }));
        file["shop"] = json!({ "mortiser": { "reach": 100, "depth": 30 } });
        told(&file, "lean-along-the-fence")
    };
    assert!(leaning("square").is_empty());
    let all = leaning("along");
    let of_apron =
        all.iter().find(|f| f.words().message.contains("in the apron")).unwrap_or_else(|| panic!("{all:#?}"));
    assert!((super::measured(of_apron, "angle") - 9.0).abs() < 0.2, "{of_apron:#?}");
}

/// What a joint is given and has no use for is told, and leaving it out changes nothing.
#[test]
fn fields_that_are_not_used_are_told() {
    let boards = [100.0, 100.0, 100.0, 100.0];
    let said = |file: &Json, code: &str| {
        let reading = fullsize::project::read("joint.json", file.to_string().as_bytes(), None, None);
        let job = fullsize::job::Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
        let all = reading.findings.iter().chain(job.piece_findings());
        let codes: Vec<String> = all.filter(|f| f.code == code).map(|f| f.place.pointer.clone()).collect();
        (
            codes,
            format!(
                "{:?}",
                job.needed_piece().expect("a piece").boards.iter().map(|b| b.mortises.len()).collect::<Vec<_>>()
            ),
        )
    };
    let mut file = glued(boards, json!({}));
    file["joints"]["a"] = json!({ "from": "top", "into": "top", "thickness": 8, "width": 40, "length": 50 });
    let (none, made) = said(&file, "ignored-in-glue-line");
    assert!(none.is_empty(), "{none:?}");
    file["joints"]["a"]["axis"] = json!("along");
    file["joints"]["a"]["mortise"] = json!("through");
    let (told, same) = said(&file, "ignored-in-glue-line");
    assert_eq!((told, same), (vec!["/joints/a/axis".to_owned(), "/joints/a/mortise".to_owned()], made));
    let through = json!({ "mortise": "through", "depths": [20, 30] });
    let mut file = apron(through);
    file["joints"]["a"].as_object_mut().expect("a joint").remove("length");
    let (told, _) = said(&file, "ignored-depth");
    assert_eq!(told, ["/joints/a/depths"]);
}
