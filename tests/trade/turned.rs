//! Turned legs stand on their centre lines, whatever the top is trimmed to afterwards.

use super::{board, checked, first_mm, job, measured, stopped, told};
use crate::common::stock::plain_stock;
use crate::common::words::InWords;
use fullsize::finding::Finding;
use fullsize::page::{Role, Shape};
use fullsize::pattern::{draw_board, ends};
use fullsize::schedule::{json, text};
use serde_json::{Value as Json, json};

/// An oval seat on four turned legs, their centre lines so far apart under it, the seat so large.
fn stool(apart: [f64; 2], seat: [f64; 2]) -> Json {
    json!({
        "fullsize": 1, "title": "Slab stool", "units": "mm",
        "base": {
            "kind": "splayed_legs", "height": 460, "length_at_top": apart[0], "width_at_top": apart[1],
            "splay_front": 10, "splay_side": 12,
            "leg": { "round": { "diameter": 36, "foot": 26, "tenon": 25, "depth": 30 } }
        },
        "top": { "length": seat[0], "width": seat[1], "thickness": 42, "shape": "oval" }
    })
}

/// The least distance, mm, from points to the rim of an oval of half axes `a` and `b`, tried at 8,000 places of it.
fn to_oval(points: impl Iterator<Item = (f64, f64)>, a: f64, b: f64) -> f64 {
    let rim: Vec<(f64, f64)> = (0..8_000)
        .map(|i| {
            let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 8_000.0).sin_cos();
            (a * cos, b * sin)
        })
        .collect();
    let away = |(x, y): (f64, f64)| rim.iter().map(|(p, q)| (x - p).hypot(y - q)).fold(f64::MAX, f64::min);
    points.map(away).fold(f64::MAX, f64::min)
}

/// Points of the ring, in the plan, as which a hole of a diameter opens in the underside around a centre: a drill that leans by
/// `lean` along (tan 10, tan 12) opens it by 1 / cos of the lean along that way.
fn mouth(centre: (f64, f64), diameter: f64) -> Vec<(f64, f64)> {
    let (a, b) = (10_f64.to_radians().tan(), 12_f64.to_radians().tan());
    let (along, across) = ((a / a.hypot(b), b / a.hypot(b)), (-b / a.hypot(b), a / a.hypot(b)));
    let long = diameter / 2.0 * a.hypot(b).hypot(1.0);
    (0..720)
        .map(|i| {
            let (sin, cos) = f64::from(i).to_radians().sin_cos();
            let (x, y) = (long * cos, diameter / 2.0 * sin);
            (centre.0 + x * along.0 + y * across.0, centre.1 + x * along.1 + y * across.1)
        })
        .collect()
}

/// However much of the head a seat covers, the hole is drilled on the leg's centre line, the wall is measured there, and the
/// tenon is turned in the middle of the leg.
#[test]
fn a_trimmed_seat_leaves_the_holes_on_the_legs_centre_lines() {
    let file = stool([220.0, 180.0], [350.0, 280.0]);
    let (_, piece, findings) = checked(&file);
    let (top, leg) = (board(&piece, "top"), board(&piece, "leg"));
    assert_eq!((top.mortises.len(), leg.mortises.len()), (4, 1));
    for hole in &top.mortises {
        let at = top.copies[0].placement.to_world(hole.frame.origin());
        assert!((at.x.abs() - 110.0).abs() + (at.y.abs() - 90.0).abs() < 1e-9, "{at:?}");
    }
    let origin = leg.mortises[0].frame.origin();
    // In the square blank of 36 the centre line runs 18 from every side.
    assert!((origin.y - 18.0).abs() + (origin.z + 18.0).abs() < 1e-9, "{origin:?}");
    let wall = to_oval(mouth((110.0, 90.0), 25.0).into_iter(), 175.0, 140.0);
    let thin: Vec<&Finding> = findings.iter().filter(|f| f.code == "thin-wall").collect();
    assert!((measured(thin[0], "wall") - wall).abs() < 0.01, "{wall}: {thin:#?}");
    // What would cure it was tried.
    let cured = first_mm(&thin[0].words().remedy);
    let field = if thin[0].words().remedy.contains("length at the top") { [cured, 180.0] } else { [220.0, cured] };
    assert!(told(&stool(field, [350.0, 280.0]), "thin-wall").is_empty(), "{thin:#?}");
}

/// A hole that opens past the edge of the seat stops the work, and every cure that is told does: the legs farther in either way, or a
/// thinner tenon.
#[test]
fn a_hole_past_the_edge_of_the_seat_is_cured_from_its_centre_line() {
    let file = |apart: [f64; 2], tenon: f64| {
        let mut file = stool(apart, [380.0, 300.0]);
        file["base"]["leg"]["round"]["tenon"] = json!(tenon);
        stopped(&file)
    };
    let off = file([300.0, 180.0], 25.0);
    assert_eq!(
        (off.len(), off[0].code, off[0].place.pointer.as_str()),
        (1, "tenon-off-the-landing", "/base/leg/round")
    );
    let in_by: Vec<f64> = off[0].words().remedy.split("set each leg ").skip(1).map(first_mm).collect();
    assert_eq!(in_by.len(), 2, "{}", off[0].words().remedy);
    assert!(file([300.0 - 2.0 * in_by[0], 180.0], 25.0).is_empty(), "{}", off[0].words().remedy);
    assert!(file([300.0, 180.0 - 2.0 * in_by[1]], 25.0).is_empty(), "{}", off[0].words().remedy);
    assert_eq!(file([300.0 - 2.0 * in_by[0] + 0.2, 180.0], 25.0).len(), 1, "{}", off[0].words().remedy);
    let near = file([274.0, 180.0], 25.0);
    let thinner = first_mm(near[0].words().remedy.split("\"tenon\" ").nth(1).expect("a thinner one"));
    assert!(file([274.0, 180.0], thinner).is_empty() && file([274.0, 180.0], thinner + 0.2).len() == 1, "{near:#?}");
}

/// A tenon as thick as the head has no shoulder; the cure names the leg's own field and leaves 3 mm all round, which a tenon of 30 in
/// a head of 36 just does.
#[test]
fn the_shoulder_of_a_turned_leg_is_cured_by_its_tenon() {
    let narrow = |tenon: f64| {
        let mut file = stool([220.0, 180.0], [380.0, 300.0]);
        file["base"]["leg"]["round"]["tenon"] = json!(tenon);
        told(&file, "narrow-shoulder")
    };
    assert_eq!(narrow(36.0)[0].words().remedy, "a \"tenon\" of 30 mm (6 mm less) just does");
    assert!(narrow(30.0).is_empty() && narrow(30.2).len() == 1);
}

/// The corners of the square blanks would stand out from under this seat; the round heads do not. One that does is told by as much as
/// its rim stands out, and the seat's own landing is the round rim.
#[test]
fn a_round_head_is_measured_round() {
    let out = |apart: f64| -> Vec<Finding> {
        let said = checked(&stool([apart, apart], [380.0, 300.0])).1.findings;
        said.into_iter().filter(|f| f.code == "out-from-under-top").collect()
    };
    assert!(out(200.0).is_empty(), "{:#?}", out(200.0));
    let far = out(210.0);
    let rim = mouth((105.0, 105.0), 36.0).into_iter();
    let outside = rim.filter(|(x, y)| (x / 190.0).powi(2) + (y / 150.0).powi(2) > 1.0);
    let most = outside.map(|p| to_oval(std::iter::once(p), 190.0, 150.0)).fold(0.0, f64::max);
    assert!(most > 1.0 && (measured(&far[0], "beyond") - most).abs() < 0.05, "{most}: {far:#?}");
    let (_, piece, _) = checked(&stool([200.0, 200.0], [380.0, 300.0]));
    let top = board(&piece, "top");
    assert_eq!(top.meets.len(), 4);
    let lean = (10_f64.to_radians().tan().hypot(12_f64.to_radians().tan())).hypot(1.0);
    for meet in &top.meets {
        let area: f64 = meet.contact.iter().map(|rim| rim.signed_area()).sum();
        assert!((area - std::f64::consts::PI * 18.0 * 18.0 * lean).abs() < 1e-6, "{area}");
    }
}

/// As a turner sets it out: 418 plumb along (tan 10, tan 12, -1) on the centre line, the foot of 26 as much longer on the outer side
/// as half its thickness times the tangent of the tilt, a square shoulder of 36 off the seat by all of it; stations on the straight
/// taper; and none of what is sawn on a square leg.
#[test]
fn a_turned_leg_is_told_as_it_is_turned() {
    let file = stool([220.0, 180.0], [380.0, 300.0]);
    let job = job(&file);
    let slope = 10_f64.to_radians().tan().hypot(12_f64.to_radians().tan());
    let length = 418.0 * slope.hypot(1.0);
    let schedule = job.schedule().expect("a schedule");
    let all = json(&schedule);
    let leg = &all["boards"][0];
    let turned = |name: &str| leg["turned"][name].as_f64().unwrap_or_else(|| panic!("{name}: {leg:#}"));
    let near =
        |name: &str, wanted: f64| assert!((turned(name) - wanted).abs() < 1e-6, "{name} {} {wanted}", turned(name));
    near("shoulder_to_floor", length);
    near("outer_side", length + 13.0 * slope);
    near("inner_side", length - 13.0 * slope);
    near("shoulder_gap", 36.0 * slope);
    near("tenon_length", 28.0);
    let stations = leg["turned"]["stations"].as_array().expect("stations");
    let at: Vec<f64> = stations.iter().filter_map(|s| s["below_shoulder"].as_f64()).collect();
    assert!(at.len() == 6 && (at[5] - length).abs() < 1e-6 && (at[4] - 400.0).abs() < 1e-9, "{at:?}");
    let size = |i: usize| stations[i]["diameter"].as_f64().expect("a diameter");
    assert!((size(2) - (36.0 - 10.0 * 200.0 / length)).abs() < 1e-6 && (size(5) - 26.0).abs() < 1e-9);
    assert!(leg["handed"].is_null() && leg["cuts"] == json!([]) && leg["arrises"] == json!([]), "{leg:#}");
    assert!(leg["thickness"].as_f64() > Some(36.0) && leg["blank"][0].as_f64() > Some(length + 28.0 + 13.0 * slope));
    let told = text(&schedule);
    assert!(told.contains("make 4\n") && told.contains("scribed from the floor"), "{told}");
    assert!(
        !told.contains("mirrored") && !told.contains("off the outer side") && !told.contains("from the inner side"),
        "{told}"
    );
}

/// The page of a turned leg shows its profile about the centre line: as wide as the head, as long as it is turned, the tenon thinner.
#[test]
fn the_page_of_a_turned_leg_is_its_profile() {
    let (project, piece, _) = checked(&stool([220.0, 180.0], [380.0, 300.0]));
    let leg = board(&piece, "leg");
    let pattern = draw_board(leg, None, &plain_stock(leg), "", "stool", &project.notation);
    assert_eq!(pattern.make, "make 4");
    let outlines = pattern.items.iter().filter(|item| item.role == Role::Outline);
    let paths: Vec<_> = outlines
        .filter_map(|item| match &item.shape {
            Shape::Stroke { path, .. } => path.bounding_box(),
            _ => None,
        })
        .collect();
    let slope = 10_f64.to_radians().tan().hypot(12_f64.to_radians().tan());
    let length = 418.0 * slope.hypot(1.0);
    assert_eq!(paths.len(), 1);
    assert!((paths[0].height() - 36.0).abs() < 1e-9 && (paths[0].x1 - length - 28.0).abs() < 1e-6, "{paths:?}");
    assert!(-paths[0].x0 > 13.0 * slope + 10.0, "{paths:?}");
    let words: Vec<String> = pattern
        .items
        .iter()
        .filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(text.content.clone()),
            _ => None,
        })
        .collect();
    for wanted in ["⌀ 26 mm", "200 mm", "tenon ⌀ 25 mm", "28 mm long"] {
        assert!(words.iter().any(|said| said == wanted), "{wanted}: {words:?}");
    }
    assert!(ends(leg, leg, &project.notation).is_empty());
}

/// The sheet for drilling tells how deep, what is left and where the stop is set: 30 along the hole in a top of 42 reach
/// 30 cos t + 12.5 sin t up at a flat bottom's deepest side. The block bears a cross on the pricked centre and the side that goes outward.
#[test]
fn the_drilling_sheet_tells_depth_stop_and_how_the_block_lies() {
    let mut file = stool([220.0, 180.0], [380.0, 300.0]);
    file["aids"] = json!({ "drill": { "kind": "sightline" } });
    let job = job(&file);
    let made = job.aids();
    let tilt = 10_f64.to_radians().tan().hypot(12_f64.to_radians().tan()).atan();
    let left = 42.0 - 30.0 * tilt.cos() - 12.5 * tilt.sin();
    let told = made[0].words().join(" ");
    let half = |mm: f64| format!("{} mm", (mm * 2.0).round() / 2.0);
    assert!(
        told.contains(&format!("Drill 30 mm deep along the hole, which leaves {} mm", (left * 10.0).floor() / 10.0)),
        "{told}"
    );
    let block = made[0].figures.iter().find(|figure| figure.name.starts_with("drilling block")).expect("a block");
    assert!(block.words.iter().any(|said| said.words == "outward" && said.at.x > 0.0), "{:?}", block.words);
    // Along the drill, from the cross to the top of the block: where the centre line's long way passes the block's sloping side.
    let polygon = block.lines[0].path.nodes();
    let tops: Vec<_> = polygon.iter().filter(|p| p.y > 1e-9).collect();
    let over = tops.iter().map(|p| p.x * tilt.sin() + p.y * tilt.cos()).fold(0.0, f64::max);
    assert!(told.contains(&format!("the stop is set {} from the cutting edge", half(over + 30.0))), "{told}");
    assert!(made[0].figures.iter().all(|figure| !figure.name.contains("foot")), "a block has no foot");
}

/// The square blank of a plumb leg is its own mirror image; the leg is not, and every copy stands with its tenon up.
#[test]
fn plumb_turned_legs_stand_on_their_feet() {
    let mut file = stool([220.0, 180.0], [380.0, 300.0]);
    for splay in ["splay_front", "splay_side"] {
        file["base"][splay] = json!(0);
    }
    let (_, piece, _) = checked(&file);
    let leg = piece.boards.iter().find(|board| board.turned.is_some()).expect("a leg");
    assert_eq!(leg.copies.len(), 4);
    assert!(!leg.mortises.is_empty());
    for mortise in &leg.mortises {
        assert_eq!(mortise.on.map(|on| leg.board.name_of(on)).as_deref(), Some("head"));
        let up =
            mortise.copies.iter().map(|copy| leg.copies[*copy].placement.direction_to_world(mortise.frame.w()).z);
        assert!(up.into_iter().all(|z| (z - 1.0).abs() < 1e-9), "{mortise:?}");
    }
}
