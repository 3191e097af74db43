//! Words on sheets that count and measure: one is not many, and what differs does not read alike.

use crate::bench_models::made::made;
use fullsize::geometry::{Flat, Path, Rect, Vec2};
use fullsize::job::Job;
use fullsize::layout::shared;
use fullsize::model::Paper;
use fullsize::page::{Item, Part, Pen, Role, Shape};
use fullsize::pattern::Pattern;
use fullsize::project::read;
use fullsize::units::Units;
use serde_json::json;

fn small(name: &str) -> Pattern {
    let bounds = Rect::new(0.0, 0.0, 40.0, 30.0);
    let outline = vec![Item::stroke(Role::Outline, Path::rectangle(bounds), Pen::solid(0.35))];
    let (made, items) = (("make 1".to_owned(), String::new()), Flat::from_outside(outline).paper());
    Pattern { small: true, ..Pattern::new(Part::new(name, "A"), made, items, bounds) }
}

#[test]
fn one_small_pattern_on_a_sheet_is_one_pattern() {
    let window = Vec2::new(190.0, 277.0);
    let said = |names: &[&str]| -> Vec<String> {
        shared(names.iter().map(|name| small(name)).collect(), window).into_iter().map(|sheet| sheet.sizes).collect()
    };
    assert_eq!(said(&["a"]), ["1 pattern"]);
    assert_eq!(said(&["a", "b"]), ["2 patterns"]);
}

/// Two bevels, 9° and 9.03°, have a line each on the bevel sheet; in tenths both would read 9°.
#[test]
fn bevels_that_differ_do_not_read_alike() {
    let file = |lower: f64| {
        json!({
            "fullsize": 1, "title": "Bevels", "units": "mm",
            "base": {
                "kind": "leaning_frames", "height": 745, "length_at_top": 1420, "width_at_top": 640, "lean": "8 deg",
                "leg": { "splay": "12 deg", "thickness": 40, "head": 95, "foot": 60 },
                "top_rail": { "thickness": 30, "depth": 75 }, "bottom_rail": { "thickness": 30, "depth": 70, "height": 140 },
                "stretcher": { "thickness": 25, "depth": 40, "height": 152, "edge_bevels": { "upper": 9, "lower": lower } }
            }
        })
    };
    for lower in [9.03, 9.04, 9.06, 8.97] {
        let sheet = made(&file(lower)).expect("a piece").bevel_sheet().expect("a sheet");
        let texts = sheet.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(text.content.to_string()),
            _ => None,
        });
        let mut angles: Vec<String> = texts.filter_map(|words| Some(words.split_once('°')?.0.to_owned())).collect();
        let count = angles.len();
        assert!(
            angles.iter().filter(|angle| angle.starts_with("9") || angle.starts_with("8.9")).count() >= 2,
            "{angles:?}"
        );
        angles.sort();
        angles.dedup();
        assert_eq!(angles.len(), count, "{lower}: {angles:?}");
    }
}

/// Each sheet of the bevels shows one: words that are longer than their line ask for no sheet of their own.
#[test]
fn no_sheet_of_bevels_is_empty() {
    for (text, paper) in [
        (include_str!("../../templates-demo/reading_table.json"), "letter"),
        (include_str!("../../templates-demo/saddle_stool.json"), "a4"),
        (include_str!("../../templates-demo/saddle_stool.json"), "letter"),
    ] {
        let mut job = Job::new(read("it.json", text.as_bytes(), None, None).project.expect("a project"));
        job.set_paper(Paper::read(paper, Units::Mm).expect("paper"));
        let sheets = job.sheets(job.patterns_named(&["bevels".to_owned()]).expect("a pattern")).expect("sheets");
        for page in sheets.pages().skip(sheets.maps.len()) {
            let is_angle = |item: &Item| matches!(&item.shape, Shape::Text(text) if text.content.contains('°'));
            assert!(page.items.iter().any(is_angle), "{paper}: {} sheets", sheets.counts().sheets);
        }
    }
}

/// The map of the bevels shows their lines, which lie aslant: a sheet of gauge lines has no edge to be known by.
#[test]
fn the_map_of_bevels_shows_their_lines() {
    let text = include_str!("../../templates-demo/saddle_stool.json");
    let job = Job::new(read("it.json", text.as_bytes(), None, None).project.expect("a project"));
    let sheets = job.sheets(job.patterns_named(&["bevels".to_owned()]).expect("a pattern")).expect("sheets");
    let is_aslant = |item: &Item| match &item.shape {
        Shape::Stroke { path, pen } if pen.dash.is_empty() => path.segments().iter().any(|piece| {
            let along = piece.end() - piece.start();
            along.x.abs() > 0.1 && along.y.abs() > 0.1
        }),
        _ => false,
    };
    assert!(sheets.maps.iter().flat_map(|page| &page.items).any(is_aslant));
}
