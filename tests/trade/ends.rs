//! Breadboard ends on curved tops: grooves that stay inside the final shape, tongues with room to grow, pins with wood between
//! them, and the blank that the schedule tells.

use super::{checked, first_mm, job, stopped, told};
use crate::common::words::InWords;
use fullsize::geometry::{Path, Point, Rect};
use fullsize::page::{Item, Role, Shape};
use fullsize::pattern::{Pattern, fixings};
use fullsize::schedule::{json as data, tables, text};
use serde_json::{Value as Json, json};

/// What red oak grows by from 8 % to 14 %, flat-sawn: 0.00369 for each per cent (Wood Handbook, Table 13-5).
const GROWS: f64 = 0.00369 * 6.0;

fn file(top: &[(&str, Json)], ends: &[(&str, Json)]) -> Json {
    let mut file = json!({
        "fullsize": 1, "title": "Top", "units": "mm",
        "top": { "length": 500, "width": 400, "thickness": 25, "species": "red oak",
            "moisture": { "today": 8, "driest": 6, "dampest": 14 }, "breadboard": { "width": 60 } }
    });
    for (name, value) in top {
        file["top"][*name] = value.clone();
    }
    for (name, value) in ends {
        file["top"]["breadboard"][*name] = value.clone();
    }
    file
}

fn pattern(file: &Json, name: &str) -> Pattern {
    let (project, piece, _) = checked(file);
    let own = (&piece, project.top.as_ref().expect("a top"));
    let all = fixings(own, own, "Top", &project.notation).into_iter().map(|one| one.pattern);
    all.into_iter().find(|pattern| pattern.part.name == name).expect("a pattern of that name")
}

fn closed(pattern: &Pattern, role: Role) -> Path {
    let of = |item: &Item| match &item.shape {
        Shape::Stroke { path, .. } if item.role == role && path.is_closed() => Some(path.clone()),
        _ => None,
    };
    pattern.items.iter().find_map(of).expect("a closed line")
}

/// The groove as it is drawn in the end piece, whose shoulder lies along y = 0 with the end below it.
fn groove(file: &Json) -> Rect {
    closed(&pattern(file, "breadboard end"), Role::Mark).bounding_box().expect("a groove")
}

fn tongue(file: &Json) -> Rect {
    closed(&pattern(file, "tongue of the top"), Role::Outline).bounding_box().expect("a tongue")
}

/// Corners of the groove against the ellipse itself, in steps of a ten-thousandth of the turn: 60 - 20 - 1 is left beyond the
/// bottom, so that 6 are wanted all round.
#[test]
fn the_groove_of_an_oval_top_stays_inside_it() {
    let oval = file(&[("shape", json!("oval"))], &[]);
    let groove = groove(&oval);
    assert!((groove.height() - 21.0).abs() < 1e-9, "{groove:?}");
    let rim = |i: i32| {
        let turn = f64::from(i) * std::f64::consts::TAU / 10_000.0;
        // As the end is laid: across the top along x, along it downwards from the shoulder at 190.
        Point::new(200.0 * turn.sin(), 190.0 - 250.0 * turn.cos())
    };
    let wall = [groove.x0, groove.x1]
        .into_iter()
        .flat_map(|x| [Point::new(x, 0.0), Point::new(x, -21.0)])
        .flat_map(|corner| (0..10_000).map(move |i| corner.distance(rim(i))))
        .fold(f64::MAX, f64::min);
    assert!((wall - 6.0).abs() < 0.01, "{wall}");
}

/// Corners so round that they begin over the groove: their circles stand 150 in from the edges, and the shoulder 60 from the end.
#[test]
fn the_groove_of_a_top_with_round_corners_stays_inside_them() {
    let round = file(&[("corner_radius", json!(150))], &[]);
    let groove = groove(&round);
    // Centre of the corner's circle as the end is laid: 200 - 150 across, 150 - 60 above the shoulder.
    let corner = Point::new(groove.x1, groove.y0);
    let wall = 150.0 - corner.distance(Point::new(50.0, 90.0));
    assert!((wall - 6.0).abs() < 1e-6, "{wall}");
    // Corners that begin beyond the groove leave it as long as the end is wide.
    let square = file(&[("corner_radius", json!(20))], &[]);
    assert!((self::groove(&square).width() - 400.0).abs() < 1e-9);
}

/// A stopped groove has the length of its tongue at the dampest; one that runs out needs no more than the tongue.
#[test]
fn a_tongue_has_room_to_grow() {
    let oval = file(&[("shape", json!("oval"))], &[]);
    assert!((tongue(&oval).width() * (1.0 + GROWS) - groove(&oval).width()).abs() < 1e-6);
    let straight = file(&[], &[]);
    assert!((tongue(&straight).width() - 400.0).abs() < 1e-9 && (groove(&straight).width() - 400.0).abs() < 1e-9);
}

#[test]
fn a_tongue_that_holds_too_little_is_told_and_a_shallower_one_does() {
    let oval = |depth: f64| file(&[("shape", json!("oval"))], &[("depth", json!(depth)), ("pins", json!(1))]);
    assert!(told(&oval(20.0), "breadboard-tongue-short").is_empty());
    let short = told(&oval(45.0), "breadboard-tongue-short");
    let depth = first_mm(&short[0].words().remedy.replace(" deep", " mm").replace("mm mm", "mm"));
    assert!(told(&oval(depth), "breadboard-tongue-short").is_empty(), "{depth}");
    assert_eq!(told(&oval(depth + 0.5), "breadboard-tongue-short").len(), 1, "the deepest in half millimetres");
    // A long thin oval has no room at all at 83: 5.8 to either side of its middle there.
    let thin = |depth: f64| {
        let shape = [("shape", json!("oval")), ("length", json!(1800)), ("width", json!(100))];
        file(&shape, &[("width", json!(90)), ("depth", json!(depth)), ("pins", json!(1))])
    };
    assert_eq!(told(&thin(83.0), "breadboard-does-not-fit").len(), 1);
    assert!(told(&thin(20.0), "breadboard-does-not-fit").is_empty());
}

/// Pins of 6 in a tongue of 400, the outermost 40 from its ends.
#[test]
fn pins_that_run_into_each_other_are_told_with_the_most_that_fit() {
    for pin in [6.0, 10.0] {
        let of = |pins: u32| told(&file(&[], &[("pins", json!(pins)), ("pin", json!(pin))]), "pins-too-near");
        assert!(of(7).is_empty());
        let said = of(51);
        assert_eq!(said.len(), 1, "{pin}");
        let most: u32 = said[0].words().remedy.split(' ').next().and_then(|n| n.parse().ok()).expect("a count");
        assert!(most % 2 == 1 && of(most).is_empty(), "{pin}: {most}");
        assert_eq!(of(most + 2).len(), 1, "{pin}: {most}");
    }
}

/// 4 thick: a third is 1.3, and so are the walls; 3 are wanted, whether the tongue is given or not.
#[test]
fn a_thin_top_carries_no_tongue() {
    let thin = |t: f64, ends: &[(&str, Json)]| stopped(&file(&[("thickness", json!(t))], ends));
    let code = |t: f64, ends: &[(&str, Json)]| thin(t, ends).iter().any(|f| f.code == "breadboard-does-not-fit");
    assert!(code(4.0, &[]) && code(4.0, &[("tongue", json!(1.3))]));
    assert!(!code(9.0, &[]) && code(8.9, &[]));
    let told = thin(4.0, &[]);
    // 2 of tongue and twice 3.
    assert!(told[0].words().remedy.contains("8 mm at least") && !code(8.0, &[("tongue", json!(2))]), "{told:#?}");
}

/// 51 sizes of 2.5 mm high letters do not stand side by side on 400.
#[test]
fn sizes_of_pins_do_not_pile_up() {
    let words = |pins: u32| {
        let sheet = pattern(&file(&[], &[("pins", json!(pins))]), "tongue of the top");
        let text = |item: &Item| match &item.shape {
            Shape::Text(text) if text.content.starts_with("6 x") || text.content.starts_with('⌀') => {
                Some((text.at.x, text.width()))
            }
            _ => None,
        };
        let mut all: Vec<(f64, f64)> = sheet.items.iter().filter_map(text).collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        all
    };
    assert_eq!(words(3).len(), 3);
    assert_eq!(words(21).len(), 0, "they are listed");
    for pins in [3, 5, 13, 21] {
        let all = words(pins);
        let apart = all.windows(2).all(|pair| pair[1].0 - pair[0].0 >= 0.5 * (pair[0].1 + pair[1].1));
        assert!(apart, "{pins}: {all:?}");
    }
}

/// 1800 less two ends of 90, and two tongues of 30: 1680 of blank, its left end 60 inside the finished top.
#[test]
fn the_schedule_tells_the_blank_of_the_field_and_the_end_piece() {
    let mut file = file(&[("length", json!(1800)), ("width", json!(860)), ("glue_up", json!([430, 430]))], &[]);
    file["top"]["breadboard"] = json!({ "width": 90 });
    file["joints"] = json!({ "loose": { "from": "top", "into": "top", "thickness": 8, "width": 40, "length": 50,
        "at": [275, 700] } });
    let job = job(&file);
    let schedule = job.schedule().expect("a schedule");
    let said = text(&schedule);
    assert!(said.contains("blank 1680 mm along the grain x 860 mm, both tongues included"), "{said}");
    assert!(said.contains("middle 625 mm to the left of the line squared across all boards"), "{said}");
    assert!(said.contains("nearest final edge 195 mm to the left end of the net blank"), "{said}");
    // The other tenon lies farther from the ends: 430 less the mortise of 26.
    assert!(said.contains("nearest final edge 404 mm to the"), "{said}");
    let ends = said.split("\nbreadboard end: make 2").nth(1).expect("the end piece");
    assert!(ends.contains("25 mm thick, net blank 860 mm along the grain x 90 mm"), "{ends}");
    assert!(ends.contains("31 mm deep, through both ends"), "{ends}");
    let csv = tables(&schedule);
    let table = csv.iter().find(|table| table.title == "Breadboard ends").expect("a table");
    assert_eq!(table.rows[0][1..4], ["2", "25 mm", "860 mm x 90 mm"].map(str::to_owned));
    let data = data(&schedule);
    let top = data["boards"].as_array().and_then(|all| all.iter().find(|b| b["id"] == "top")).expect("a top");
    let near = |value: &Json, wanted: f64| value.as_f64().is_some_and(|mm| (mm - wanted).abs() < 1e-6);
    assert!(near(&top["blank"][0], 1680.0) && near(&top["blank"][1], 860.0), "{}", top["blank"]);
    assert!(near(&data["fixings"]["breadboard_end"]["groove"]["depth"], 31.0));
}
