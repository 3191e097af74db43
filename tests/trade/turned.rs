//! Turned legs stand on their centre lines, whatever the top is trimmed to afterwards.

use crate::{board, checked, first_mm, measured, stopped, told};
use fullsize::finding::Finding;
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
    let cured = first_mm(&thin[0].remedy);
    let field = if thin[0].remedy.contains("length at the top") { [cured, 180.0] } else { [220.0, cured] };
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
    let in_by: Vec<f64> = off[0].remedy.split("set each leg ").skip(1).map(first_mm).collect();
    assert_eq!(in_by.len(), 2, "{}", off[0].remedy);
    assert!(file([300.0 - 2.0 * in_by[0], 180.0], 25.0).is_empty(), "{}", off[0].remedy);
    assert!(file([300.0, 180.0 - 2.0 * in_by[1]], 25.0).is_empty(), "{}", off[0].remedy);
    assert_eq!(file([300.0 - 2.0 * in_by[0] + 0.2, 180.0], 25.0).len(), 1, "{}", off[0].remedy);
    let near = file([274.0, 180.0], 25.0);
    let thinner = first_mm(near[0].remedy.split("\"tenon\" ").nth(1).expect("a thinner one"));
    assert!(file([274.0, 180.0], thinner).is_empty() && file([274.0, 180.0], thinner + 0.2).len() == 1, "{near:#?}");
}

/// The corners of the square blanks would stand out from under this seat; the round heads do not. One that does is told by as much as
/// its rim stands out, and the seat's own landing is the round rim.
#[test]
fn a_round_head_is_measured_round() {
    let out = |apart: f64| told(&stool([apart, apart], [380.0, 300.0]), "out-from-under-top");
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
