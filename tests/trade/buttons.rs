//! Buttons and slots: what is cut in the base for them, where their screws go into the top, and that the schedule lists each.

use super::fixings::bench;
use super::{checked, first_mm, job, measured, told};
use crate::common::words::InWords;
use fullsize::geometry::{Path, Rect};
use fullsize::joinery::aids::Look;
use fullsize::page::{Item, Role, Shape};
use fullsize::pattern::{Pattern, fixings};
use fullsize::schedule::{json as data, tables, text};
use serde_json::{Value as Json, json};

fn buttoned() -> Json {
    bench(&[("fasteners", json!({ "by": "buttons" }))])
}

fn named(file: &Json, name: &str) -> Pattern {
    let (project, piece, _) = checked(file);
    let own = (&piece, project.top.as_ref().expect("a top"));
    let all = fixings(own, own, "Bench", &project.notation).into_iter().map(|one| one.pattern);
    all.into_iter().find(|pattern| pattern.part.name == name).expect("a pattern of that name")
}

fn boxes(pattern: &Pattern, role: Role) -> Vec<Rect> {
    let of = |item: &Item| match &item.shape {
        Shape::Stroke { path, .. } if item.role == role && path.is_closed() => Path::bounding_box(path),
        _ => None,
    };
    pattern.items.iter().filter_map(of).collect()
}

/// White oak, 0.0073 inwards and 0.01095 outwards for each mm from the middle: the front rail's outer face lies 315 from it.
const DRY: f64 = 315.0 * 0.0073;
const DAMP: f64 = 315.0 * 0.01095;

/// The rail along the grain: the button moves in and out. 6 must hold at the driest, 1 be left beyond it at the dampest.
#[test]
fn a_button_beside_a_rail_along_the_grain_moves_in_and_out() {
    let file = buttoned();
    let button = boxes(&named(&file, "button for the front"), Role::Outline)[0];
    // The rail's face lies at x = 0: the tongue reaches beyond it, the shoulder stands off it.
    assert!((button.x0 + 6.0 + DRY).abs() < 1e-6, "{button:?}");
    assert!((button.x1 - (DAMP + 1.0 + 25.0)).abs() < 1e-6, "{button:?}");
    let holes = boxes(&named(&file, "front, mortises for buttons"), Role::Opening);
    assert_eq!(holes.len(), 5);
    for hole in holes {
        assert!((hole.y1 + 10.0).abs() < 1e-9 && (hole.height() - 8.0).abs() < 1e-9, "{hole:?}");
        assert!((hole.width() - 27.0).abs() < 1e-9, "a button of 25 has 1 on either side: {hole:?}");
    }
}

/// The rail across the grain, 570 long, its outermost 40 from its ends: the button slides along it by what the top moves there.
#[test]
fn a_button_beside_a_rail_across_the_grain_slides_along_it() {
    let holes = boxes(&named(&buttoned(), "across, mortises for buttons"), Role::Opening);
    let widths: Vec<f64> = holes.iter().map(Rect::width).collect();
    let outer = 27.0 + 245.0 * 0.01825;
    assert!((widths[0] - outer).abs() < 1e-6 && (widths[2] - outer).abs() < 1e-6, "{widths:?}");
    assert!((widths[1] - 27.0).abs() < 1e-6);
}

/// The template is drilled where the buttons' screws go. The aprons reach from 260 to 290 from the middle: off their inside face by
/// the gap and half a button.
#[test]
fn the_template_is_drilled_where_the_screws_of_buttons_go() {
    let file = json!({
        "fullsize": 1, "title": "Table", "units": "mm",
        "base": {
            "kind": "splayed_legs", "height": 720, "length_at_top": 1000, "width_at_top": 600, "splay_front": 0,
            "splay_side": 0, "leg": { "width": 50, "thickness": 50 },
            "apron": { "thickness": 30, "depth": 80, "inset": 10 }, "end_apron": { "thickness": 30, "depth": 80, "inset": 10 }
        },
        "top": { "length": 1200, "width": 800, "thickness": 24, "species": "white oak",
            "moisture": { "today": 8, "driest": 6, "dampest": 11 }, "fasteners": { "by": "buttons" } },
        "aids": { "template": { "kind": "template" } }
    });
    let job = job(&file);
    let made = job.aids();
    let drilled = made[0].figures[0].lines.iter().filter(|line| line.look == Look::Drill);
    let holes: Vec<_> = drilled.map(|line| line.path.bounding_box().expect("a hole").center()).collect();
    let off = 260.0 - (290.0 * 0.01095 + 1.0 + 12.5);
    assert_eq!(holes.iter().filter(|p| (p.y.abs() - off).abs() < 1e-6).count(), 8, "{holes:?}");
    // A pilot for a screw that passes through 5, and no deeper than two thirds of a top of 24.
    let said = made[0].measured(&job.project().notation).join("; ");
    assert!(said.contains("to prick") && said.contains("3 mm") && said.contains("16 mm"), "{said}");
}

/// 6 and the play and 1 go into the rail, and 3 stay.
#[test]
fn a_rail_too_thin_for_buttons_is_told() {
    let thick = |t: f64| {
        let mut file = buttoned();
        for (name, y) in [("front", -315.0), ("back", 315.0 - t)] {
            file["base"]["boards"][name]["thickness"] = json!(t);
            file["base"]["boards"][name]["at"] = json!([0, y, 0]);
        }
        told(&file, "button-leaves-no-wall")
    };
    let least = 6.0 + DRY + DAMP + 1.0 + 3.0;
    assert!(thick(least + 0.001).is_empty());
    let said = thick(14.0);
    assert!((measured(&said[0], "fits") - least).abs() < 1e-6, "{said:#?}");
    assert!(thick(first_mm(&said[0].words().remedy)).is_empty());
}

/// Everything the schedule says of a file.
fn scheduled(file: &Json) -> (String, Vec<Vec<String>>, Json) {
    let job = job(file);
    let schedule = job.schedule().expect("a schedule");
    let table = tables(&schedule).into_iter().find(|table| table.title == "Fasteners of the top");
    (text(&schedule), table.expect("a table").rows, data(&schedule)["fixings"]["fasteners"].clone())
}

/// Five slots in each of two rails 1000 long and three in the one across, which are 100 deep: 20 stay under the heads.
#[test]
fn the_schedule_lists_every_slot() {
    let (said, rows, data) = scheduled(&bench(&[]));
    assert_eq!(rows.len(), 13);
    // Names of edges that the file gives none say where they run.
    assert_eq!(rows[0][3], "40 mm from the edge 1 (from -500, 500 to -500, 400) along the face");
    assert_eq!(rows[0][4], "15 mm from the face");
    let slot = 5.0 + 300.0 * 0.01825;
    let first = &data[0]["holes"][0];
    assert!((first["length"].as_f64().expect("a length") - slot).abs() < 1e-6, "{first}");
    assert!((data[0]["counterbore"].as_f64().expect("a depth") - 80.0).abs() < 1e-6);
    assert!(said.contains("widened from below to 10 mm for the head, 80 mm deep"), "{said}");
    let told =
        "middle 285 mm from the edge 1 (from -285, 500 to -285, 400) along the face and 15 mm from the face: hole 5";
    assert!(said.contains(told), "{said}");
}

#[test]
fn the_schedule_lists_every_button() {
    let (said, rows, data) = scheduled(&buttoned());
    assert_eq!(rows.len(), 13);
    assert!(said.contains("mortise 27 x 8"), "{said}");
    assert!((data[0]["button"]["enters"].as_f64().expect("a length") - 6.0 - DRY).abs() < 1e-6, "{data}");
}
