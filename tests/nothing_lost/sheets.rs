//! Sheets: those of an older drawing, and more of them than anybody means.

use super::{STOOL, all, done, refused};
use crate::common::shop::{Shop, text};
use std::fs;

#[test]
fn sheets_that_a_shorter_drawing_no_longer_has_are_removed() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    done(&shop, &["draw", "stool.json", "-o", "rt.svg"]);
    let sheets = shop.names().iter().filter(|name| name.starts_with("rt")).count();
    assert!(sheets > 2, "{:?}", shop.names());
    let said = text(&done(&shop, &["draw", "stool.json", "--view", "front", "-o", "rt.svg"]).stdout);
    let removed =
        (2..=sheets).map(|k| format!("Removed rt-{k}.svg, a sheet of an older drawing\n")).collect::<String>();
    assert_eq!(said, format!("Wrote rt.svg\n{removed}"));
    assert_eq!(shop.names(), ["rt.svg", "stool.json"]);
}

#[test]
fn numbered_files_that_are_no_sheets_of_the_drawing_stay() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    // A drawing of that very name, an own file, names that only look alike.
    done(&shop, &["draw", "stool.json", "--view", "front", "-o", "rt-7.svg"]);
    for name in ["rt-9.svg", "rt-07.svg", "rt-x.svg", "rt-8.svg.txt", "art-8.svg"] {
        shop.file(name, "mine");
    }
    let before = all(&shop);
    let said = text(&done(&shop, &["draw", "stool.json", "--view", "front", "-o", "rt.svg"]).stdout);
    let left = |name: &str| format!("{name} is no sheet of this drawing; it was left\n");
    assert_eq!(said, format!("Wrote rt.svg\n{}{}", left("rt-7.svg"), left("rt-9.svg")));
    fs::remove_file(shop.path("rt.svg")).expect("may go");
    assert_eq!(all(&shop), before);
    // Where it would be one of the sheets, nothing is written.
    shop.file("wall-2.svg", "mine");
    let said = refused(&shop, &["draw", "stool.json", "-o", "wall.svg"]);
    assert!(said.contains("wall-2.svg is there already"), "{said}");
    assert!(!shop.path("wall.svg").exists());
}

#[test]
fn the_list_of_an_older_print_is_named() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    done(&shop, &["print", "stool.json", "--format", "json", "--pattern", "leg"]);
    let said = text(&done(&shop, &["print", "stool.json", "--pattern", "leg"]).stdout);
    assert!(
        said.contains(
            "stool.leg.sheets.json is the list of an older print's sheets: --format json writes it anew.\n"
        ),
        "{said}"
    );
    fs::remove_file(shop.path("stool.leg.sheets.json")).expect("may go");
    let said = text(&done(&shop, &["print", "stool.json", "--pattern", "leg"]).stdout);
    assert!(!said.contains("older print"), "{said}");
}

/// A 20 m square on sheets of 55 mm: 36,240 sheets took 3 GB.
const HUGE: &str = r#"{ "fullsize": 1, "title": "Huge", "units": "mm", "patterns": { "huge": { "thickness": 20,
    "outline": [{ "to": [0, 0] }, { "to": [20000, 0] }, { "to": [20000, 20000] }, { "to": [0, 20000] }] } } }"#;

#[test]
fn more_sheets_than_anybody_means_are_asked_for_by_their_number() {
    let shop = Shop::new();
    shop.file("huge.json", HUGE);
    let started = std::time::Instant::now();
    let said = refused(&shop, &["print", "huge.json", "--paper", "100x100"]);
    let count: usize = said.split_whitespace().find_map(|word| word.parse().ok()).expect("a number");
    // The edge alone lies on them: four sides of 20 m, of which each sheet shows what margins and overlap leave of 100 mm.
    assert!((4 * 20_000 / 100..4 * 20_000 / 40).contains(&count), "{said}");
    let cure = format!("--sheets {count}");
    assert!(said.contains(&cure) && said.contains("larger paper"), "{said}");
    assert!(started.elapsed().as_secs() < 20, "it is told before sheets are drawn");
    assert_eq!(shop.names(), ["huge.json"]);
    assert!(refused(&shop, &["print", "huge.json", "--paper", "100x100", "--sheets", "300"]).contains(&cure));
    let few = text(&shop.run(&["print", "huge.json", "--paper", "a0", "--sheets", "1000"]).stdout);
    assert!(few.contains(" sheets of patterns, after "), "{few}");
}

#[test]
fn drawings_and_the_demo_ask_too() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    let tiny = ["draw", "stool.json", "--scale", "1:1", "--sheet", "55x55 mm"];
    let said = refused(&shop, &tiny);
    assert!(said.contains("--sheets "), "{said}");
    assert!(refused(&shop, &["draw", "stool.json", "--rod", "--sheets", "1"]).contains("--sheets "));
    let said = refused(&shop, &["demo", "--paper", "100x100", "--sheets", "3"]);
    assert!(said.contains("--sheets "), "{said}");
    assert_eq!(shop.names(), ["stool.json"]);
}
