//! What is told of a part that a drawing of another file gives: by the drawing's own numbers, each place once, round holes as drilled.

use super::words;
use crate::common::words::InWords;
use fullsize::finding::{Finding, Severity};
use fullsize::geometry::{Point, Region};
use fullsize::job::Job;
use fullsize::page::{Item, Role, Shape};
use fullsize::project::{Reading, read_with};

/// A bracket of 180 x 120 of its own units, by these elements in it, `width` mm wide, checked with a cutter of 19 mm.
fn bracket(elements: &str, width: f64, more: &str) -> Reading {
    let drawing = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"180mm\" height=\"120mm\" viewBox=\"0 0 180 120\">\n\
         <path d=\"M0 0 H180 V120 H0 Z\" fill=\"black\"/>\n{elements}\n</svg>"
    );
    let text = format!(
        r#"{{ "fullsize": 1, "title": "Bracket", "units": "mm", "patterns": {{ "bracket": {{ "thickness": 18, "grain": 0,
            "outline": {{ "svg": "bracket.svg", "width": {width}{more} }}, "check_cutter": "trimmer" }} }},
            "shop": {{ "cutters": {{ "trimmer": {{ "diameter": 19, "length": 30 }} }} }} }}"#
    );
    let drawings = |_: &str| Ok(drawing.clone().into_bytes());
    read_with("bracket.json", text.as_bytes(), None, None, &drawings)
}

fn told(reading: Reading) -> Vec<Finding> {
    Job::new(reading.project.expect("it is read")).findings().cloned().collect()
}

const TRIANGLE: &str = "<path d=\"M30 30 L60 30 L30 60 Z\" fill=\"white\"/>";
const HOLES: &str =
    "<circle cx=\"12\" cy=\"12\" r=\"2.5\" fill=\"white\"/><circle cx=\"168\" cy=\"12\" r=\"2.5\" fill=\"white\"/>";

/// The circle inside a right triangle with legs of 30 is 30 + 30 - 42.43 = 17.57 across: that is the largest cutter there, whatever holes of
/// 5 mm stand beside it. Its middle is (40, 40) in the drawing, wherever and however large the part is laid.
#[test]
fn the_largest_cutter_is_that_of_the_opening_told_of() {
    for (width, more) in
        [(180.0, ""), (90.0, ""), (180.0, ", \"turn\": 90"), (180.0, ", \"mirror\": true, \"at\": [500, -20]")]
    {
        let found = told(bracket(&format!("{TRIANGLE}{HOLES}"), width, more));
        let opening = found.iter().find(|found| found.code == "tool-does-not-fit").expect("told");
        let fits = (60.0 - 1800.0_f64.sqrt()) * width / 180.0;
        assert!((opening.number("largest") - fits).abs() < 0.05, "{more}: {}", opening.number("largest"));
        let said = opening.words();
        assert!(
            said.message.contains("in the opening with its middle at x 40, y 40 of \"bracket.svg\""),
            "{}",
            said.message
        );
        let holes: Vec<&Finding> = found.iter().filter(|found| found.code == "hole-to-drill").collect();
        assert_eq!(holes.len(), 1, "{more}");
        assert!((holes[0].number("diameter") - 5.0 * width / 180.0).abs() < 1e-6);
        assert_eq!(holes[0].words().remedy, "drill it");
        assert_eq!(found.iter().filter(|found| found.code == "tool-does-not-fit").count(), 1);
    }
}

/// Of two triangles each is told with its own cutter, and with the one that does for both.
#[test]
fn two_openings_are_told_each_with_its_own_cutter() {
    let small = "<path d=\"M100 30 L116 30 L100 46 Z\" fill=\"white\"/>";
    let found = told(bracket(&format!("{TRIANGLE}{small}"), 180.0, ""));
    let mut all: Vec<(f64, f64, String)> = found
        .iter()
        .filter(|found| found.code == "tool-does-not-fit")
        .map(|found| (found.number("largest"), found.number("largest_for_all"), found.words().remedy))
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let across = |leg: f64| leg * (2.0 - 2.0_f64.sqrt());
    assert!((all[0].0 - across(16.0)).abs() < 0.05 && (all[1].0 - across(30.0)).abs() < 0.05, "{all:?}");
    assert!(all.iter().all(|(_, both, _)| (both - across(16.0)).abs() < 0.05), "{all:?}");
    assert!(all[1].2.contains("17.5 mm or less for this place, 9.3 mm or less for all of the edge"), "{}", all[1].2);
    assert!(!all[0].2.contains("for this place"), "{}", all[0].2);
}

/// A hole of 5 mm is drilled: it has the cross for that in its middle and says so on the wood beside it, and nothing of it is pared.
#[test]
fn a_round_hole_is_said_to_be_drilled_within_the_part() {
    let reading = bracket(&format!("{TRIANGLE}{HOLES}"), 180.0, "");
    let job = Job::new(reading.project.expect("it is read"));
    let sheet = &job.patterns().expect("patterns")[0].pattern;
    let said = words(&sheet.items);
    assert_eq!(said.iter().filter(|said| *said == "drill ⌀ 5 mm").count(), 2, "{said:?}");
    // The cutter does not go into the triangle either.
    assert_eq!(said.iter().filter(|said| said.starts_with("not cut here")).count(), 1, "{said:?}");
    assert!(!said.iter().any(|said| said.starts_with("pare ")), "{said:?}");
    let part = &job.project().patterns[0];
    let face = Region::of(&part.rings());
    for block in sheet.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) if text.content.starts_with("drill") => item.bounding_box(),
        _ => None,
    }) {
        let corners = [(block.x0, block.y0), (block.x1, block.y0), (block.x1, block.y1), (block.x0, block.y1)];
        assert!(corners.map(Point::from).iter().all(|corner| face.holds(*corner)), "{block:?}");
    }
    let crossed = |middle: Point| {
        let through = |item: &&Item| match &item.shape {
            Shape::Stroke { path, .. } => {
                item.role == Role::Mark
                    && path.segments().len() == 1
                    && path.segments()[0].eval(0.5).distance(middle) < 1e-6
            }
            _ => false,
        };
        sheet.items.iter().filter(through).count() == 2
    };
    for hole in part.openings.iter().filter_map(|opening| opening.what.path().as_circle(0.01)) {
        assert!(crossed(hole.0), "{hole:?}");
    }
}

/// A star of five points drawn in one go crosses itself five times: that is one mistake, told once with its places, as the drawing has
/// them. Its inmost corners lie cos 72 / cos 36 of the way out.
#[test]
fn a_path_that_crosses_itself_is_told_once_with_its_places() {
    let out = |k: f64, far: f64| {
        let angle = std::f64::consts::TAU * k / 5.0 - std::f64::consts::FRAC_PI_2;
        (90.0 + far * angle.cos(), 60.0 + far * angle.sin())
    };
    let star: Vec<String> = (0..5).map(|k| out(f64::from(2 * k), 50.0)).map(|(x, y)| format!("{x} {y}")).collect();
    let star = format!("<path id=\"star\" d=\"M{} Z\" fill=\"black\"/>", star.join(" L"));
    let reading = bracket(&star, 180.0, ", \"id\": \"star\"");
    assert!(reading.project.is_none());
    let stops: Vec<&Finding> = reading.findings.iter().filter(|found| found.severity == Severity::Stop).collect();
    assert_eq!(stops.len(), 1, "{:?}", stops.iter().map(|stop| stop.words().message).collect::<Vec<_>>());
    let said = stops[0].words().message;
    let turn = std::f64::consts::TAU / 5.0;
    let inner = 50.0 * turn.cos() / (turn / 2.0).cos();
    for k in 0..5 {
        let (x, y) = out(f64::from(k) + 0.5, inner);
        let number = |value: f64| format!("{value:.2}").trim_end_matches('0').trim_end_matches('.').to_owned();
        assert!(said.contains(&format!("x {}, y {}", number(x), number(y))), "{x} {y}: {said}");
    }
    assert!(said.contains("line 3: the path crosses or touches itself at "), "{said}");
}
