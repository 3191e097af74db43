//! What holds a top: slots and pins sized by its movement, and fixings that would block it.

use super::{checked, first_mm, job, measured, stopped, told};
use crate::common::words::InWords;
use fullsize::finding::Finding;
use fullsize::geometry::Path;
use fullsize::joinery::aids::Look;
use fullsize::page::{Item, Role, Shape};
use fullsize::pattern::{Pattern, fixings};
use serde_json::{Value as Json, json};

/// Two rails along the top 600 apart (their middles), 30 thick, and one across between them; a top of 900, white oak from 8 % to
/// 6 and 11: each mm from its middle moves 0.0073 inwards and 0.01095 outwards.
pub fn bench(top: &[(&str, Json)]) -> Json {
    let along = |y: f64| {
        json!({
            "thickness": 30, "at": [0, y, 0], "along": [1, 0, 0], "face": [0, -1, 0],
            "outline": [{ "to": [-500, 400] }, { "to": [500, 400] }, { "to": [500, 500] }, { "to": [-500, 500] }]
        })
    };
    let mut file = json!({
        "fullsize": 1, "title": "Bench", "units": "mm",
        "base": { "kind": "boards", "boards": {
            "front": along(-315.0), "back": along(285.0),
            "across": {
                "thickness": 30, "at": [15, 0, 0], "along": [0, 1, 0], "face": [1, 0, 0],
                "outline": [{ "to": [-285, 400] }, { "to": [285, 400] }, { "to": [285, 500] }, { "to": [-285, 500] }]
            }
        } },
        "top": { "length": 1400, "width": 900, "thickness": 24, "species": "white oak",
            "moisture": { "today": 8, "driest": 6, "dampest": 11 }, "fasteners": { "by": "slots" } }
    });
    for (name, value) in top {
        file["top"][*name] = value.clone();
    }
    // Nothing takes a field away.
    file["top"].as_object_mut().expect("an object").retain(|_, value| !value.is_null());
    file
}

fn patterns(file: &Json) -> Vec<Pattern> {
    let (project, piece, _) = checked(file);
    let own = (&piece, project.top.as_ref().expect("a top"));
    fixings(own, own, "Bench", &project.notation).into_iter().map(|one| one.pattern).collect()
}

fn rings(pattern: &Pattern, role: Role) -> Vec<Path> {
    let of = |item: &Item| match &item.shape {
        Shape::Stroke { path, .. } if item.role == role && path.is_closed() => Some(path.clone()),
        _ => None,
    };
    pattern.items.iter().filter_map(of).collect()
}

fn named(file: &Json, name: &str) -> Pattern {
    let all = patterns(file);
    let names: Vec<String> = all.iter().map(|p| p.part.name.clone()).collect();
    all.into_iter().find(|p| p.part.name == name).unwrap_or_else(|| panic!("{name} among {names:?}"))
}

/// The front rail's middle lies 300 from the top's: 2.19 inwards, 3.285 outwards, a hole of 5.
#[test]
fn slots_in_a_rail_along_the_grain_lie_across_it() {
    let strip = named(&bench(&[]), "front, fastener slots");
    let slots = rings(&strip, Role::Opening);
    // 1000 long, 40 clear of either end, at most 300 apart: five.
    assert_eq!(slots.len(), 5);
    for slot in slots {
        let b = slot.bounding_box().expect("a slot");
        assert!((b.width() - 5.0).abs() < 1e-6 && (b.height() - (5.0 + 2.19 + 3.285)).abs() < 1e-6, "{b:?}");
        // The strip is drawn about its middle, where the screw stands today; the top's middle lies above it.
        assert!((b.y1 - (2.19 + 2.5)).abs() < 1e-6 && (b.y0 + 3.285 + 2.5).abs() < 1e-6, "{b:?}");
    }
}

/// 570 long, 40 clear of either end: at -245, 0 and 245.
#[test]
fn slots_in_a_rail_across_the_grain_lie_along_it_with_a_round_hole_in_the_middle() {
    let strip = named(&bench(&[]), "across, fastener slots");
    let widths: Vec<f64> =
        rings(&strip, Role::Opening).iter().map(|r| r.bounding_box().expect("one").width()).collect();
    let outer = 5.0 + 245.0 * 0.01825;
    assert_eq!(widths.len(), 3);
    for (width, wanted) in widths.iter().zip([outer, 5.0, outer]) {
        assert!((width - wanted).abs() < 1e-6, "{widths:?}");
    }
}

/// The front rail is 100 deep: its screws of 5 need 20 mm of wood under their heads, twice as wide, so that 80 are bored from below. 1000
/// long and 40 clear of either end: at 40, 270 and so on. What is drawn through slots has the same wide part, all along it.
#[test]
fn screws_have_a_sheet_with_their_holes_and_the_wide_part_for_their_heads() {
    for (by, sheet, long) in [("screws", "front, screw holes", 0.0), ("slots", "front, fastener slots", 2.19 + 3.285)]
    {
        let strip = named(&bench(&[("fasteners", json!({ "by": by }))]), sheet);
        let size = |ring: &Path| ring.bounding_box().map(|b| (b.width(), b.height())).expect("a ring");
        let holes: Vec<(f64, f64)> = rings(&strip, Role::Opening).iter().map(size).collect();
        let wide: Vec<(f64, f64)> = rings(&strip, Role::Mark).iter().map(size).collect();
        assert_eq!((holes.len(), wide.len()), (5, 5), "{by}");
        let is = |found: &[(f64, f64)], diameter: f64| {
            found.iter().all(|(w, h)| (w - diameter).abs() < 1e-6 && (h - diameter - long).abs() < 1e-6)
        };
        assert!(is(&holes, 5.0) && is(&wide, 10.0), "{by}: {holes:?} {wide:?}");
        let said: Vec<String> = strip
            .items
            .iter()
            .filter_map(|item| match &item.shape {
                Shape::Text(text) => Some(text.content.to_string()),
                _ => None,
            })
            .collect();
        let says = |words: &str| said.iter().any(|said| said.starts_with(words));
        let middles = "on the edge 4 (from 500, 500 to -500, 500), middles 40, 270, 500, 730, 960 from the edge 1";
        assert!(says(middles), "{said:?}");
        assert!(says("along the face") && says("15 from the face"), "{said:?}");
        assert!(says("bored from above, square to the underside of the top"), "{said:?}");
        assert!(says("widened from below to 10 mm for the head, 80 mm deep"), "{said:?}");
        assert_eq!(said.iter().any(|said| said.contains("along the slot")), by == "slots", "{said:?}");
    }
}

/// The play that is told of the outermost fastener is that by which its slot is longer than its screw is thick: one number, wherever it
/// stands.
#[test]
fn the_play_of_a_slot_is_told_in_one_number() {
    let file = bench(&[]);
    let (_, piece, _) = checked(&file);
    let [inwards, outwards] = ["fastener_in", "fastener_out"].map(|name| super::fact(&piece, name));
    let data = fullsize::schedule::json(&job(&file).schedule().expect("a schedule"));
    let rows = data["fixings"]["fasteners"].as_array().expect("fasteners").clone();
    let long = rows.iter().flat_map(|row| row["holes"].as_array().cloned().unwrap_or_default());
    let longest = long.filter_map(|hole| hole["length"].as_f64()).fold(0.0, f64::max);
    assert!((longest - 5.0 - inwards - outwards).abs() < 1e-6, "{longest} {inwards} {outwards}");
    assert!((inwards - 2.19).abs() < 1e-6 && (outwards - 3.285).abs() < 1e-6);
}

/// The template that centres base and top has its holes where the slots stand today, about the two middle lines of the top.
#[test]
fn the_drilling_template_agrees_with_the_slots() {
    let file = json!({
        "fullsize": 1, "title": "Table", "units": "mm",
        "base": {
            "kind": "splayed_legs", "height": 720, "length_at_top": 1000, "width_at_top": 600, "splay_front": 0,
            "splay_side": 0, "leg": { "width": 50, "thickness": 50 },
            "apron": { "thickness": 30, "depth": 80, "inset": 10 }, "end_apron": { "thickness": 30, "depth": 80, "inset": 10 }
        },
        "top": { "length": 1200, "width": 800, "thickness": 24, "species": "white oak",
            "moisture": { "today": 8, "driest": 6, "dampest": 11 }, "fasteners": { "by": "slots" } },
        "aids": { "template": { "kind": "template" } }
    });
    let job = job(&file);
    let made = job.aids();
    let drilled = made[0].figures[0].lines.iter().filter(|line| line.look == Look::Drill);
    let holes: Vec<_> = drilled.map(|line| line.path.bounding_box().expect("a hole").center()).collect();
    // Aprons 900 long in the middle of 290 - 15 = 275 from the middle: 820 free at most 300 apart. End aprons 500 long, 420 free:
    // three, one in the middle.
    let along = holes.iter().filter(|p| (p.y.abs() - 275.0).abs() < 1e-6).count();
    let across = holes.iter().filter(|p| (p.x.abs() - 475.0).abs() < 1e-6).count();
    assert_eq!((along, across, holes.len()), (8, 6, 14), "{holes:?}");
    assert_eq!(holes.iter().filter(|p| p.y.abs() < 1e-6).count(), 2);
}

/// A rail 30 thick leaves 15 - 3.285 - 2.5 = 9.215 beyond a slot; one of 17.57 just 3.
#[test]
fn a_slot_that_leaves_no_wall() {
    let thick = |t: f64| {
        let mut file = bench(&[]);
        for (name, y) in [("front", -300.0), ("back", 300.0)] {
            file["base"]["boards"][name]["thickness"] = json!(t);
            file["base"]["boards"][name]["at"] = json!([0, y - t / 2.0, 0]);
        }
        file["base"]["boards"]["across"]["outline"] =
            json!([{ "to": [-280, 400] }, { "to": [280, 400] }, { "to": [280, 500] }, { "to": [-280, 500] }]);
        told(&file, "slot-leaves-no-wall")
    };
    assert!(thick(30.0).is_empty());
    assert!(thick(2.0 * (3.285 + 2.5 + 3.0)).is_empty(), "just enough");
    let told = thick(16.0);
    // Off the middle, so that as much is left on either side: the ends of its slot lie at 0.9927 and 1.01095 of how far it stands.
    let wall = 8.0 - 2.5 - 300.0 * (1.01095 / 1.001825 - 1.0);
    assert!((measured(&told[0], "wall") - wall).abs() < 1e-6, "{told:#?}");
    // Both cures: a thinner screw and a thicker rail.
    assert!(thick(measured(&told[0], "thickness")).is_empty());
    let screw = first_mm(&told[0].words().remedy);
    let mut file = bench(&[("fasteners", json!({ "by": "slots", "screw": screw }))]);
    for (name, y) in [("front", -308.0), ("back", 292.0)] {
        file["base"]["boards"][name]["thickness"] = json!(16);
        file["base"]["boards"][name]["at"] = json!([0, y, 0]);
    }
    assert!(super::told(&file, "slot-leaves-no-wall").is_empty(), "{screw}");
}

/// Two rails 22 thick: centred on a screw the wide part for its head, which reaches 2.19 in and 3.285 out, leaves 11 - 3.285 - 5 = 2.715;
/// it fits 0.285 off, towards the middle of the top. Schedule and sheet say so, the solid has it, and nothing is to be told.
#[test]
fn a_slot_that_fits_only_off_the_middle_stands_there_and_is_told() {
    let thick = |t: f64| {
        let mut file = bench(&[]);
        for (name, y) in [("front", -300.0), ("back", 300.0)] {
            file["base"]["boards"][name]["thickness"] = json!(t);
            file["base"]["boards"][name]["at"] = json!([0, y - t / 2.0, 0]);
        }
        file["base"]["boards"]["across"]["outline"] =
            json!([{ "to": [-280, 400] }, { "to": [280, 400] }, { "to": [280, 500] }, { "to": [-280, 500] }]);
        file
    };
    let file = thick(22.0);
    for code in ["screw-head-has-no-seat", "slot-leaves-no-wall", "screw-hole-near-face"] {
        assert!(told(&file, code).is_empty(), "{code}");
    }
    let job = job(&file);
    let said = fullsize::schedule::text(&job.schedule().expect("a schedule"));
    for (name, side) in [("front", "far side"), ("back", "face")] {
        let own = said.split("fasteners of the top in the ").find(|part| part.starts_with(name)).expect("a part");
        let wanted = format!("0.3 mm off the middle of its thickness towards the {side}");
        assert!(own.contains(&wanted), "{wanted}: {own}");
        let strip = named(&file, &format!("{name}, fastener slots"));
        let says = |item: &Item| matches!(&item.shape, Shape::Text(text) if text.content.contains(&wanted));
        assert!(strip.items.iter().any(says), "{wanted}: {:#?}", strip.items);
        // Its slots, looked at on the strip, whose upper long line lies towards the middle of the top.
        let ring = rings(&strip, Role::Outline)[0].bounding_box().expect("a ring");
        for slot in rings(&strip, Role::Opening) {
            let slot = slot.bounding_box().expect("a slot");
            let head = [slot.y0 - 2.5 - ring.y0, ring.y1 - slot.y1 - 2.5];
            assert!(head.iter().all(|wall| *wall > 3.0 - 1e-6), "{head:?}");
            assert!((head[0] - 3.0).abs() < 1e-3, "moved no farther than it must: {head:?}");
        }
    }
    // Thick enough, it stands in the middle.
    let said = fullsize::schedule::text(&super::job(&thick(30.0)).schedule().expect("a schedule"));
    assert!(said.contains("in the middle of its thickness") && !said.contains("off the middle"), "{said}");
}

fn blocked(file: &Json) -> Vec<Finding> {
    told(file, "fixing-blocks-movement")
}

/// Screwed over 600 across: 600 x 0.00365 x 5 = 10.95 from driest to dampest. Slots cure it, buttons as well.
#[test]
fn a_top_screwed_tight_is_told_and_slots_cure_it() {
    let by = |by: &str| blocked(&bench(&[("fasteners", json!({ "by": by }))]));
    let told = by("screws");
    assert_eq!(told.len(), 1);
    assert!((measured(&told[0], "held") - 600.0).abs() < 1e-6 && (measured(&told[0], "moves") - 10.95).abs() < 1e-6);
    assert!(told[0].words().remedy.contains("\"by\": \"slots\""), "{}", told[0].words().remedy);
    assert!(by("slots").is_empty() && by("buttons").is_empty());
}

/// Half a millimetre is what a screw gives: 600 across at a bracket of 0.228 % of moisture moves 0.49932, of 0.2284 just 0.5002.
#[test]
fn what_a_screw_gives_is_the_limit() {
    let within = |bracket: f64| {
        let moisture = json!({ "today": 8, "driest": 8, "dampest": 8.0 + bracket });
        blocked(&bench(&[("fasteners", json!({ "by": "screws" })), ("moisture", moisture)]))
    };
    let touches = 0.5 / (600.0 * 0.00365);
    assert!(within(touches * 0.9).is_empty() && within(touches).is_empty());
    assert_eq!(within(touches * 1.01).len(), 1);
}

/// Glued to rails 630 over all.
#[test]
fn a_top_glued_across_its_grain_is_told() {
    let told = blocked(&bench(&[("fasteners", json!({ "by": "glue" }))]));
    assert!((measured(&told[0], "held") - 630.0).abs() < 1e-6, "{told:#?}");
    assert!(told[0].words().message.contains("glued to the"), "{}", told[0].words().message);
}

#[test]
fn a_top_of_unknown_movement_is_told() {
    let told = told(&bench(&[("moisture", json!(null))]), "movement-unknown");
    assert_eq!(told.len(), 1);
}

/// Held fast is held fast, whatever the numbers: also without a moisture.
#[test]
fn what_holds_a_top_fast_is_told_also_where_its_movement_is_unknown() {
    let dry = ("moisture", json!(null));
    for by in ["screws", "glue"] {
        assert_eq!(blocked(&bench(&[dry.clone(), ("fasteners", json!({ "by": by }))])).len(), 1, "{by}");
    }
    assert!(blocked(&bench(&[dry.clone(), ("fasteners", json!({ "by": "slots" }))])).is_empty());
    let along = json!({ "width": 90, "depth": 30, "glue": "along" });
    let told = blocked(&bench(&[dry, ("breadboard", along)]));
    assert!(told.iter().any(|f| f.words().message.contains("glued along its whole tongue")), "{told:#?}");
}

fn ends(changes: &[(&str, Json)]) -> Json {
    let mut ends = json!({ "width": 90, "depth": 30 });
    for (name, value) in changes {
        ends[*name] = value.clone();
    }
    bench(&[("breadboard", ends)])
}

/// The tongue is 900 long; the outer pins stand 40 in from its ends, at 410: the driest draws the wood in by 410 x 0.0073 = 2.993,
/// so that the hole goes so much farther out; the dampest 4.4895 the other way.
#[test]
fn the_pins_of_a_breadboard_end() {
    let tongue = named(&ends(&[]), "tongue of the top");
    let holes: Vec<_> = rings(&tongue, Role::Opening).iter().map(|r| r.bounding_box().expect("one")).collect();
    assert_eq!(holes.len(), 3);
    let (outwards, inwards) = (2.993, 4.4895);
    assert!(
        (holes[2].x1 - (410.0 + 3.0 + outwards)).abs() < 1e-6 && (holes[2].x0 - (410.0 - 3.0 - inwards)).abs() < 1e-6
    );
    assert!((holes[0].x0 + 410.0 + 3.0 + outwards).abs() < 1e-6);
    assert!((holes[1].width() - 6.0).abs() < 1e-6, "the middle one is tight");
    // In the end piece the pins are round, where they stand today.
    let end = named(&ends(&[]), "breadboard end");
    let pins: Vec<f64> = rings(&end, Role::Drill).iter().map(|r| r.bounding_box().expect("one").center().x).collect();
    assert_eq!(pins.len(), 3);
    assert!((pins[2] - 410.0).abs() < 1e-6 && pins[1].abs() < 1e-6);
}

/// The end piece is what the final shape leaves beyond the shoulder.
#[test]
fn an_end_piece_follows_the_shape_of_the_top() {
    let mut file = ends(&[]);
    file["top"]["corner_radius"] = json!(40);
    let outline = rings(&named(&file, "breadboard end"), Role::Outline);
    let area: f64 = outline[0].signed_area().abs();
    let wanted = 90.0 * 900.0 - 2.0 * (1600.0 - std::f64::consts::PI * 400.0);
    assert!((area - wanted).abs() < 1e-3, "{area} {wanted}");
}

#[test]
fn a_breadboard_end_that_blocks_is_told_and_cured() {
    assert!(blocked(&ends(&[])).is_empty());
    let glued = blocked(&ends(&[("glue", json!("along"))]));
    assert!((measured(&glued[0], "moves") - 900.0 * 0.01825).abs() < 1e-6, "{glued:#?}");
    let pinned = blocked(&ends(&[("outer_pins", json!("tight"))]));
    assert!((measured(&pinned[0], "held") - 820.0).abs() < 1e-6, "{pinned:#?}");
    // One pin alone holds nothing apart.
    assert!(blocked(&ends(&[("outer_pins", json!("tight")), ("pins", json!(1))])).is_empty());
}

/// Each number that cannot be made names the one that can, and that one does.
#[test]
fn breadboard_ends_that_cannot_be_made() {
    for (field, wrong) in [("width", 500.0), ("depth", 88.0), ("tongue", 20.0), ("pin", 18.0)] {
        let findings = stopped(&ends(&[(field, json!(wrong))]));
        let finding = findings.iter().find(|f| f.code == "breadboard-does-not-fit").expect("told");
        assert_eq!(finding.place.pointer, format!("/top/breadboard/{field}"));
        let fits = first_mm(&finding.words().remedy);
        let cured = stopped(&ends(&[(field, json!(fits))]));
        assert!(cured.iter().all(|f| f.place.pointer != finding.place.pointer), "{field} {fits}: {cured:#?}");
    }
    let findings = stopped(&ends(&[("pins", json!(4))]));
    assert_eq!(findings[0].code, "no-middle-pin");
    assert!(stopped(&ends(&[("pins", json!(3))])).is_empty() && stopped(&ends(&[("pins", json!(5))])).is_empty());
}

/// A rail that lies under the top is named on the top's pattern; the fasteners need one.
#[test]
fn a_base_that_does_not_reach_the_top_is_told() {
    let mut file = bench(&[]);
    for name in ["front", "back", "across"] {
        file["base"]["boards"][name]["cuts"] = json!([{ "level": 450 }]);
        file["base"]["boards"][name]["keep"] = json!([0, 0, 420]);
    }
    file["base"]["boards"]["post leg"] = json!({
        "thickness": 40, "at": [-20, -20, 0], "along": [0, 0, 1], "face": [0, -1, 0], "make": 1,
        "outline": [{ "to": [0, 0] }, { "to": [0, -40] }, { "to": [500, -40] }, { "to": [500, 0] }]
    });
    let (_, _, findings) = checked(&file);
    assert!(findings.iter().any(|f| f.code == "nothing-to-fasten-to"), "{findings:#?}");
}

/// Of rails 100 deep 20 mm stay under a screw's head; in a top of 24 it holds by half, 12, and stops 3 short of the face.
#[test]
fn the_schedule_tells_between_which_lengths_a_screw_is_chosen() {
    let said = |file: &Json| fullsize::schedule::text(&job(file).schedule().expect("a schedule"));
    let wanted = "wood screw from 32 mm to 41 mm long: it passes 20 mm of the part and must not come through the top";
    assert!(said(&bench(&[])).contains(wanted), "{}", said(&bench(&[])));
    let thin = said(&bench(&[("thickness", json!(5))]));
    assert!(thin.contains("no wood screw holds in so thin a top"), "{thin}");
}

/// `set FILE fasteners=slots` writes a word: by itself it would hold nothing, and nobody would be told.
#[test]
fn a_word_alone_does_not_hold_a_top() {
    let told = |fasteners: &str| {
        let text = format!(
            r#"{{ "fullsize": 1, "title": "T", "units": "mm", "top": {{ "length": 900, "width": 500, "thickness": 20,
                 "fasteners": {fasteners} }} }}"#
        );
        let reading = fullsize::project::read("project.json", text.as_bytes(), None, None);
        reading.findings.iter().map(|finding| finding.code).collect::<Vec<_>>()
    };
    for word in ["slots", "buttons", "screws", "glue"] {
        assert_eq!(told(&format!("\"{word}\"")), ["fasteners-in-words"], "{word}");
    }
    assert!(told("\"brass plates of my own\"").is_empty());
}
