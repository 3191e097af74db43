//! What is drawn and told of a part against its own templates and its own sizes.

use super::{close, rings, words};
use crate::common::routing::{routed, templates};
use crate::common::words::InWords;
use fullsize::finding::stops;
use fullsize::geometry::Rect;
use fullsize::job::Job;
use fullsize::layout::{Pictured, picture};
use fullsize::model::Project;
use fullsize::page::{Item, Role, Shape};
use fullsize::pattern::{Pattern, draw, template};
use fullsize::project::read;
use fullsize::router::{GrainWay, Rotation, TemplateShape};
use fullsize::schedule::text as schedule_text;

/// A file of one part of 20 mm with these fields.
fn part(fields: &str) -> Project {
    let text = format!(
        r#"{{ "fullsize": 1, "title": "T", "units": "mm", "patterns": {{ "p": {{ "thickness": 20, {fields} }} }},
        "shop": {{ "cutters": {{ "tip": {{ "diameter": 12, "bearing": 12, "bearing_at": "tip", "length": 40 }},
                               "shank": {{ "diameter": 12, "bearing": 12, "bearing_at": "shank", "length": 40 }} }},
                 "collars": {{ "k30": {{ "diameter": 30 }}, "k18": {{ "diameter": 18 }}, "k42": {{ "diameter": 42 }} }} }} }}"#
    );
    let reading = read("project.json", text.as_bytes(), None, None);
    reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings))
}

fn made(project: &Project) -> Vec<Pattern> {
    let drawn = &project.patterns[0];
    let made = templates(drawn);
    made.iter().map(|made| template(drawn, made, "", "T", &project.notation)).collect()
}

/// The codes of what is told, with the cures.
fn told(project: &Project) -> Vec<(&'static str, String)> {
    let findings = routed(&project.patterns[0]).findings;
    findings.into_iter().map(|f| (f.code, format!("{}; {}", f.words().message, f.words().remedy))).collect()
}

/// A bow below, grain along x: fed from left to right with the wood on the left the fibres run out of the bow at first
/// and into it after its lowest place, x = 150; fed the other way the halves change. Which way it is fed follows from
/// the bearing's end and from the side on which the template lies.
#[test]
fn a_part_is_marked_against_the_grain_where_its_template_is() {
    for (cutter, side, against_on_right, rotation) in [
        ("tip", "face", true, Rotation::Clockwise),
        ("tip", "far", false, Rotation::Anticlockwise),
        ("shank", "face", false, Rotation::Anticlockwise),
        ("shank", "far", true, Rotation::Clockwise),
    ] {
        let project = part(&format!(
            r#""outline": [ {{ "to": [0, 0] }}, {{ "to": [300, 0], "edge": {{ "rise": 40 }}, "name": "low" }},
                           {{ "to": [300, 100] }}, {{ "to": [0, 100] }} ], "grain": 0, "grain_runs": true,
               "template": {{ "kind": "blank", "edge": "low", "cutter": "{cutter}", "lies_on": "{side}" }}"#
        ));
        let drawn = &project.patterns[0];
        let found = routed(drawn).on_part;
        let against: Vec<_> = found.grain.iter().filter(|run| run.way == GrainWay::Against).collect();
        assert_eq!(against.len(), 1, "{cutter} {side}");
        let middle = against[0].stretch.centroid_x();
        assert_eq!((middle > 150.0, against[0].rotation), (against_on_right, rotation), "{cutter} {side}");
        // Its template, seen from its own side: x runs the other way on the far side.
        let made = templates(drawn);
        let TemplateShape::Blank(blank) = &made[0].shape else { panic!("{:?}", made[0].shape) };
        let on_template: Vec<_> = blank.runs.iter().filter(|run| run.way == GrainWay::Against).collect();
        let seen = on_template[0].stretch.centroid_x() * if side == "far" { -1.0 } else { 1.0 };
        assert!((seen - middle).abs() < 1e-6, "{cutter} {side}: {seen} {middle}");
        let says =
            draw(drawn, &routed(drawn).on_part, "", "T", &project.notation).items.iter().any(|item| {
                match &item.shape {
                    Shape::Text(text) => {
                        let side = if rotation == Rotation::Clockwise { "other side" } else { "this side" };
                        text.content.contains("against") && text.content.contains(side)
                    }
                    _ => false,
                }
            });
        assert!(says, "{cutter} {side}");
    }
}

trait Middle {
    fn centroid_x(&self) -> f64;
}

impl Middle for fullsize::geometry::Path {
    fn centroid_x(&self) -> f64 {
        self.point_at(self.place_at_length(self.length() / 2.0).unwrap()).unwrap().x
    }
}

const FRAMED: &str = r#""outline": [ { "to": [0, 0] }, { "to": [180, 0] }, { "to": [180, 100] }, { "to": [0, 100] } ],
    "openings": [ [ { "to": [60, 30] }, { "to": [120, 30] }, { "to": [120, 70] }, { "to": [60, 70] } ] ]"#;

/// Collar 30 and cutter 12 lie 9 mm off: outside work makes a board of 162 x 82 with an opening of 78 x 58, inside work
/// an opening of 198 x 118 and an island of 42 x 22 in it.
#[test]
fn rings_take_turns_as_they_lie_in_each_other() {
    let boxes = |pattern: &Pattern, role| -> Vec<Rect> {
        rings(&pattern.items, role).iter().map(|ring| ring.bounding_box().unwrap()).collect()
    };
    for (work, outer, inner) in [("outside", Role::Outline, Role::Opening), ("inside", Role::Opening, Role::Outline)]
    {
        let grown = if work == "inside" { 9.0 } else { -9.0 };
        let project = part(&format!(
            r#"{FRAMED}, "template": {{ "kind": "collar", "work": "{work}", "collar": "k30", "cutter": "tip" }}"#
        ));
        let made = made(&project);
        close(boxes(&made[0], outer)[0], Rect::new(-grown, -grown, 180.0 + grown, 100.0 + grown), 0.01);
        close(boxes(&made[0], inner)[0], Rect::new(60.0 + grown, 30.0 + grown, 120.0 - grown, 70.0 - grown), 0.01);
        assert_eq!((boxes(&made[0], outer).len(), boxes(&made[0], inner).len()), (1, 1), "{work}");
        let loose = told(&project).iter().any(|(code, _)| *code == "loose-island");
        assert_eq!(loose, work == "inside");
    }
}

/// The picture of an opening is measured round the opening, not round the words beside it.
#[test]
fn a_template_is_pictured_at_its_own_size() {
    let project = part(
        r#""outline": [ { "to": [0, 0] }, { "to": [180, 0] }, { "to": [180, 100] }, { "to": [0, 100] } ],
           "template": { "kind": "collar", "work": "inside", "collar": "k30", "cutter": "tip" }"#,
    );
    let one = |pattern: Pattern| Pictured { pattern, dimensions: Vec::new(), guides: Vec::new(), was: Vec::new() };
    let shown: Vec<Pictured> = made(&project).into_iter().map(one).collect();
    let page = &picture(&shown, "T", project.notation).pages[0];
    let said = |item: &Item| match &item.shape {
        Shape::Text(text) => Some(text.content.to_string()),
        _ => None,
    };
    let said: Vec<String> = page.items.iter().filter_map(said).collect();
    assert!(said.iter().any(|s| s == "198 mm") && said.iter().any(|s| s == "118 mm"), "{said:?}");
}

/// Two heads joined by a neck of 8 mm: a collar that stands 9 mm off leaves nothing of the neck. What the cure names, what may be
/// taken from both sides, leaves 6 mm of it.
#[test]
fn a_template_that_falls_apart_stops_the_work_and_names_what_holds() {
    let bone = |neck: f64| {
        let (low, high) = (30.0 - neck / 2.0, 30.0 + neck / 2.0);
        let corners = [(0.0, 0.0), (60.0, 0.0), (60.0, low), (120.0, low), (120.0, 0.0), (200.0, 0.0), (200.0, 60.0)];
        let back = [(120.0, 60.0), (120.0, high), (60.0, high), (60.0, 60.0), (0.0, 60.0)];
        let all: Vec<String> =
            corners.iter().chain(&back).map(|(x, y)| format!("{{ \"to\": [{x}, {y}] }}")).collect();
        let all = all.join(", ");
        part(&format!(
            r#""outline": [ {all} ],
               "template": {{ "kind": "collar", "work": "outside", "collar": "k30", "cutter": "tip" }}"#
        ))
    };
    let found = told(&bone(8.0));
    let (_, words) = found.iter().find(|(code, _)| *code == "template-falls-apart").expect("it is in two pieces");
    // The smaller head is 60 x 60, less 9 mm all round, but for the mouth of the neck: 60 - 9 - sqrt(81 - 16) = 42.94.
    assert!(words.contains("into 2 pieces, the smallest 42.9 mm x 42 mm"), "{words}");
    assert!(words.contains("differ by 1.9 mm or less"), "{words}");
    assert!(stops(&routed(&bone(8.0).patterns[0]).findings));
    for (neck, code) in [(18.2, "template-is-thin"), (23.9, "template-is-thin"), (24.1, ""), (40.0, "")] {
        let found: Vec<&str> = told(&bone(neck)).iter().map(|(code, _)| *code).collect();
        assert!(!found.contains(&"template-falls-apart"), "{neck}: {found:?}");
        assert_eq!(found.contains(&"template-is-thin"), !code.is_empty(), "{neck}: {found:?}");
    }
}

/// An opening narrower than the cutter is told as not cut, and the largest that goes in is as wide as it is.
#[test]
fn a_slot_that_a_cutter_does_not_enter_is_not_to_be_pared() {
    let project = part(
        r#""outline": [ { "to": [0, 0] }, { "to": [180, 0] }, { "to": [180, 100] }, { "to": [0, 100] } ],
           "openings": [ [ { "to": [60, 46] }, { "to": [120, 46] }, { "to": [120, 54] }, { "to": [60, 54] } ] ],
           "check_cutter": "tip""#,
    );
    let found = told(&project);
    let (_, words) = found.iter().find(|(code, _)| *code == "tool-does-not-fit").expect("it does not go in");
    assert!(words.contains("nothing of it is cut") && words.contains("of 8 mm or less"), "{words}");
    let drawn = &project.patterns[0];
    let face = draw(drawn, &routed(drawn).on_part, "", "T", &project.notation);
    let said = face.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text.content.to_string()),
        _ => None,
    });
    let said: Vec<String> = said.collect();
    assert!(
        said.iter().any(|words| words.contains("not cut here")) && !said.iter().any(|w| w.contains("pare")),
        "{said:?}"
    );
}

/// A template has two lines 3 mm apart: the head of its sheets says what the solid one is, and the name of the dashed one stands
/// nearer to that than to the other.
#[test]
fn the_two_lines_of_a_template_cannot_be_mixed_up() {
    let outline = r#""outline": [ { "to": [0, 0] }, { "to": [180, 0] }, { "to": [180, 100] }, { "to": [0, 100] } ]"#;
    for (asked, solid, off) in [
        (r#""kind": "collar", "work": "outside", "collar": "k18", "cutter": "tip""#, "edge of the template", -3.0),
        (r#""kind": "collar", "work": "inside", "collar": "k18", "cutter": "tip""#, "edge of the template", 3.0),
        (r#""kind": "saw_line", "distance": 3"#, "line to saw along, 3 mm outside", 3.0),
    ] {
        let project = part(&format!(r#"{outline}, "template": {{ {asked} }}"#));
        let made = made(&project);
        assert_eq!(made[0].solid.words(&project.notation), solid);
        let words = made[0].items.iter().find_map(|item| match &item.shape {
            Shape::Text(text) if text.content == "finished line" => item.bounding_box(),
            _ => None,
        });
        let middle = words.expect("the dashed line has a name").center();
        // How far outside the part the words stand, and so how far from either line.
        let out = (middle.x - 180.0).max(-middle.x).max(middle.y - 100.0).max(-middle.y);
        assert!(out.abs() < (out - off).abs(), "{asked}: {out}");
    }
}

/// The sentence that says what the collar template's line is stands next to the one that says to cut to it; a saw line in an opening
/// is not told to lie outside.
#[test]
fn what_a_line_of_a_template_is_stands_with_what_to_do_along_it() {
    let outline = r#""outline": [ { "to": [0, 0] }, { "to": [180, 0] }, { "to": [180, 100] }, { "to": [0, 100] } ]"#;
    let said = |asked: &str| {
        let project = part(&format!(r#"{outline}, {asked}"#));
        words(&made(&project)[0].items)
    };
    let collar = said(r#""template": { "kind": "collar", "work": "outside", "collar": "k18", "cutter": "tip" }"#);
    let cut =
        collar.iter().position(|words| words.starts_with("cut the template to the solid line")).expect("a line");
    assert!(
        collar[cut + 1].starts_with("it lies ") && collar[cut + 1].contains("the finished line (dashed)"),
        "{collar:?}"
    );
    let whole = said(r#""template": { "kind": "saw_line", "distance": 3 }"#);
    assert!(
        whole.iter().any(|words| words == "saw along the solid line, 3 mm outside the finished line (dashed)"),
        "{whole:?}"
    );
    let opening = r#""openings": [{ "outline": [ { "to": [60, 30] }, { "to": [120, 30] }, { "to": [120, 70] }, { "to": [60, 70] } ] }]"#;
    let pierced = said(&format!(r#"{opening}, "template": {{ "kind": "saw_line", "distance": 3 }}"#));
    assert!(pierced.iter().any(|words| words.ends_with("inside its openings")), "{pierced:?}");
}

/// An apron 520 long whose edge is shaped from 80 to 440 only.
fn shaped_between_flats(rise: f64) -> Project {
    part(&format!(
        r#""outline": [ {{ "to": [0, 0] }}, {{ "to": [80, 0] }},
                       {{ "to": [440, 0], "edge": {{ "rise": {rise} }}, "name": "low" }}, {{ "to": [520, 0] }},
                       {{ "to": [520, 100] }}, {{ "to": [0, 100] }} ], "grain": 0,
           "template": {{ "kind": "blank", "edge": "low", "cutter": "tip", "run_on": 60 }}"#
    ))
}

/// Who saws where an edge ends and the part goes on has a part too short.
#[test]
fn where_the_part_goes_on_past_the_edge_nothing_is_to_be_sawn() {
    for rise in [-30.0, 20.0] {
        let project = shaped_between_flats(rise);
        let said = words(&made(&project)[0].items).join(" ");
        assert!(!said.contains("leave it long"), "{said}");
        assert!(said.contains("past the edge the part goes on: nothing is sawn there"), "{said}");
    }
    // An edge that runs from end to end ends where the part does.
    let whole = part(
        r#""outline": [ { "to": [0, 0] }, { "to": [300, 0], "edge": { "rise": 20 }, "name": "low" },
                        { "to": [300, 100] }, { "to": [0, 100] } ], "grain": 0,
           "template": { "kind": "blank", "edge": "low", "cutter": "tip" }"#,
    );
    let said = words(&made(&whole)[0].items).join(" ");
    assert!(said.contains("leave") && !said.contains("end of the edge"), "{said}");
}

/// A bow that stands out of the part runs on into it: an arc of 20 over a chord of 360 leaves at 2 atan(20 / 180), over 60 mm.
#[test]
fn what_a_template_that_runs_on_takes_off_the_part_is_told() {
    let found = routed(&shaped_between_flats(20.0).patterns[0]).findings;
    let run_on = found.iter().find(|f| f.code == "run-on-in-part").expect("told");
    let slope = 2.0 * (20.0_f64 / 180.0).atan();
    let depth = run_on.measure("depth").expect("a depth");
    assert!((depth - 60.0 * slope.sin()).abs() < 1e-3, "{depth}");
    // Hollow, it runs on off the part.
    let found = told(&shaped_between_flats(-30.0));
    assert!(found.iter().all(|(code, _)| *code != "run-on-in-part"), "{found:?}");
}

/// The sheet and the schedule are what lies at the machine: what `check` says of the cutter stands there too.
#[test]
fn a_cutter_that_is_too_short_is_told_on_the_template_and_in_the_schedule() {
    let file = |thickness: u32| {
        format!(
            r#"{{ "fullsize": 1, "title": "T", "units": "mm", "patterns": {{ "p": {{ "thickness": {thickness},
                "outline": [ {{ "to": [0, 0] }}, {{ "to": [200, 0] }}, {{ "to": [200, 100] }}, {{ "to": [0, 100] }} ], "template": {{ "kind": "collar", "work": "outside", "collar": "k30",
                "cutter": "short" }} }} }}, "shop": {{ "collars": {{ "k30": {{ "diameter": 30 }} }},
                "cutters": {{ "short": {{ "diameter": 8, "length": 12 }} }} }} }}"#
        )
    };
    let told = |thickness: u32| {
        let reading = read("project.json", file(thickness).as_bytes(), None, None);
        let project = reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings));
        let sheet = words(&made(&project)[0].items).join(" ");
        let job = Job::new(project);
        (sheet, schedule_text(&job.schedule().expect("a schedule")))
    };
    let (sheet, schedule) = told(20);
    assert!(sheet.contains("NOT with short: it cuts only 12 mm"), "{sheet}");
    assert!(schedule.contains("12 mm: TOO LITTLE"), "{schedule}");
    let (sheet, schedule) = told(9);
    assert!(!sheet.contains("NOT with") && !schedule.contains("TOO LITTLE"), "{sheet} {schedule}");
}
