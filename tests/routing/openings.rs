//! Openings drawn apart from the outline, and what a cutter makes of them.

use super::{close, fixture, rings, words};
use crate::common::routing::routed;
use fullsize::geometry::Rect;
use fullsize::model::Project;
use fullsize::page::Role;
use fullsize::pattern::draw;
use fullsize::project::read_with;
use fullsize::router::{Cause, OnPart};
use std::fs;

fn crest(change: impl Fn(String) -> String) -> Project {
    let text = change(fs::read_to_string(fixture("good/svg_openings.json")).unwrap());
    let drawings = |name: &str| fs::read(fixture("svg").join(name)).map_err(|error| error.to_string());
    let reading = read_with("crest.json", text.as_bytes(), None, None, &drawings);
    reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings))
}

/// The leaf is 60 mm wide in the drawing and 30 high less what its cubics fall short of their handles (x 0 to 60; the upper
/// cubic from 20 with handles at 0 reaches 20 - 0.75 · 20 = 5): 90 x 45 here. The bud, a circle of 20, becomes one of 30.
#[test]
fn paths_of_a_drawing_become_openings_where_they_are_laid() {
    let part = crest(|text| text).patterns.remove(0);
    let bounds: Vec<Rect> = part.openings.iter().map(|o| o.what.path().bounding_box().unwrap()).collect();
    close(bounds[0], Rect::new(65.0, 37.5, 155.0, 82.5), 0.001);
    close(bounds[1], Rect::new(195.0, 45.0, 225.0, 75.0), 0.001);
    close(bounds[2], Rect::new(265.0, 35.0, 355.0, 85.0), 0.001);
    let drawn = draw(&part, &routed(&part).on_part, "", "x", &fullsize::units::Notation::default());
    // Three openings and a slot.
    assert_eq!(rings(&drawn.items, Role::Opening).len(), 4);
}

/// The leaf's two tips are sharp, the slot of 5 mm is too narrow for a cutter of 8: what would do is 5 mm. The hole is drilled.
#[test]
fn openings_and_slots_count_in_what_a_cutter_reaches() {
    let project = crest(|text| text);
    let part = &project.patterns[0];
    let reach = routed(part).on_part.reach.unwrap();
    let mut causes: Vec<Cause> = reach.left.iter().map(|s| s.cause).collect();
    causes.sort_by_key(|cause| matches!(cause, Cause::Narrow));
    assert_eq!(causes, [Cause::SharpCorner, Cause::SharpCorner, Cause::Narrow]);
    assert!((reach.largest.unwrap() - 5.0).abs() < 0.05, "{:?}", reach.largest);
    let found = routed(part).findings;
    let codes: Vec<&str> = found.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["corner-left-round", "tool-does-not-fit", "hole-to-drill"]);
    let hole = found.last().unwrap();
    assert_eq!(hole.place.pointer, "/patterns/crest/holes/0");
    let drawn = draw(part, &routed(part).on_part, "", "x", &project.notation);
    let said = words(&drawn.items);
    let count = |begins: &str| said.iter().filter(|said| said.starts_with(begins)).count();
    assert_eq!((count("pare "), count("not cut here")), (2, 1), "{said:?}");
    // The cure does.
    let smaller = crest(|text| text.replace("\"diameter\": 8", "\"diameter\": 5"));
    let found = routed(&smaller.patterns[0]).findings;
    assert!(found.iter().all(|f| f.code == "corner-left-round"), "{found:?}");
}

/// The drawing works nothing out again: it shows what was found of the part, and of another finding another thing.
#[test]
fn a_drawing_shows_what_was_found() {
    let project = crest(|text| text);
    let part = &project.patterns[0];
    let pared = |found: &OnPart| {
        let drawn = draw(part, found, "", "x", &project.notation);
        words(&drawn.items).iter().filter(|said| said.starts_with("pare ")).count()
    };
    let mut found = routed(part).on_part;
    assert_eq!(pared(&OnPart::default()), 0);
    found.reach.as_mut().unwrap().left.truncate(1);
    assert_eq!(pared(&found), 1);
}

/// A board of the piece may be drawn by a file: 200 x 150 mm in the drawing, 12 thick.
#[test]
fn a_board_may_be_drawn_by_a_file() {
    let text = r#"{ "fullsize": 1, "title": "Bud", "units": "mm", "base": { "kind": "boards", "boards": { "bud": {
        "thickness": 12, "outline": { "svg": "motif.svg", "id": "bud", "width": 200 },
        "at": [0, 0, 0], "along": [1, 0, 0], "face": [0, -1, 0] } } } }"#;
    let drawings = |name: &str| fs::read(fixture("svg").join(name)).map_err(|error| error.to_string());
    let project = read_with("bud.json", text.as_bytes(), None, None, &drawings).project.unwrap();
    let piece = crate::common::solved::piece(&project);
    let volume = std::f64::consts::PI * 100.0 * 100.0 * 12.0;
    assert!((piece.boards[0].solid.volume / volume - 1.0).abs() < 1e-9);
}
