//! Templates for parts of two hands, and for legs that differ.

use super::{project, words};
use crate::common::routing::templates;
use crate::common::words::InWords;
use fullsize::geometry::{Affine, Path};
use fullsize::job::Job;
use fullsize::page::{Item, Shape};
use fullsize::pattern::template;
use fullsize::project::read;
use fullsize::router::TemplateShape;
use serde_json::{Value as Json, json};

fn desk() -> Json {
    serde_json::from_str(include_str!("../../fixtures/codes/desk.json")).expect("a file")
}

fn job(file: &Json) -> Job {
    let reading = read("hands.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    assert!(!job.stops(), "{:#?}", job.findings().map(|finding| finding.words()).collect::<Vec<_>>());
    job
}

/// Where some words stand.
fn at(items: &[Item], said: &str) -> fullsize::geometry::Point {
    let found = items.iter().find_map(|item| match &item.shape {
        Shape::Text(text) if text.content.contains(said) => item.bounding_box().map(|block| block.center()),
        _ => None,
    });
    found.unwrap_or_else(|| panic!("nothing says {said:?}: {:?}", words(items)))
}

/// Laid back on the solved leg, each name of the template stands nearer to that edge or end than to any other; for the legs of the
/// other hand the arrow runs the other way, as the leg's mirror image says it must.
#[test]
fn a_template_for_two_hands_says_how_it_lies_and_is_fed_for_each() {
    for (lies_on, side) in [("face", "face side (outer face)"), ("far", "far side (inner face)")] {
        let mut file = desk();
        file["routing"]["leg"]["template"]["lies_on"] = json!(lies_on);
        let job = job(&file);
        let piece = job.needed_piece().expect("a piece");
        let routing = job.routing();
        let part = &routing.parts[0];
        let board = &piece.boards[part.board];
        let made = &templates(&part.drawn)[0];
        let drawn = template(&part.drawn, made, "", "Desk", &job.project().notation);
        let says = |said: &str| words(&drawn.items).iter().any(|one| one.contains(said));
        assert!(
            says(&format!("2 as drawn: on the {side}, this side away from the wood")),
            "{:?}",
            words(&drawn.items)
        );
        assert!(says(&format!("2 mirrored: on the {side}, this side to the wood")));
        // On the solved board, seen as the template lies.
        let turn = if lies_on == "far" { Affine::FLIP_X } else { Affine::IDENTITY };
        let face: Vec<(String, Path)> = board
            .solid
            .face
            .pieces()
            .map(|(piece, source)| {
                (board.board.name_of(source).into_owned(), Path::open(vec![*piece]).transformed(turn))
            })
            .collect();
        for (said, name) in [("head of part", "head"), ("foot of part", "foot")] {
            let here = at(&drawn.items, said);
            let off = |name: &str| {
                let own = face.iter().filter(|(own, _)| own == name);
                own.filter_map(|(_, path)| path.nearest(here)).map(|found| found.0).fold(f64::MAX, f64::min)
            };
            let other = if name == "head" { "foot" } else { "head" };
            assert!(off(name) < off(other), "{said}: {} and {}", off(name), off(other));
        }
        for name in ["outside edge", "inside edge"] {
            let here = drawn.items.iter().find_map(|item| match &item.shape {
                Shape::Text(text) if text.content == name => item.bounding_box().map(|block| block.center()),
                _ => None,
            });
            let here = here.unwrap_or_else(|| panic!("no {name}"));
            let nearest = face.iter().min_by(|a, b| {
                let off = |path: &Path| path.nearest(here).map_or(f64::MAX, |found| found.0);
                off(&a.1).total_cmp(&off(&b.1))
            });
            assert_eq!(nearest.map(|(own, _)| own.as_str()), Some(name));
        }
        // The two arrows of an edge.
        let TemplateShape::Blank(blank) = &made.shape else { panic!("{:?}", made.shape) };
        for feed in &blank.feeds {
            let over = feed.turned_over();
            let way = |arrow: &Path| arrow.end().expect("a tip") - arrow.start().expect("a tail");
            let (own, other) = (way(&feed.arrow[0]), way(&over.arrow[0]));
            assert!((own + other).hypot() < 1e-9, "{own:?} {other:?}");
            // Seen with the template turned over, the waste lies on the same hand of the feed as it did.
            let hand = |arrow: &Path, turned: Affine| {
                let arrow = arrow.transformed(turned);
                let middle = blank.outline.transformed(turned).centroid().expect("a middle");
                way(&arrow).cross(middle - arrow.start().expect("a tail")) > 0.0
            };
            assert_eq!(hand(&feed.arrow[0], Affine::IDENTITY), hand(&over.arrow[0], Affine::FLIP_X));
            let dashed = drawn.items.iter().any(
                |item| matches!(&item.shape, Shape::Stroke { path, pen } if *path == over.arrow[0] && !pen.dash.is_empty()),
            );
            assert!(dashed, "the arrow for the other hand is drawn");
        }
    }
}

#[test]
fn a_part_of_one_hand_has_one_set_of_arrows() {
    let project = project("good/routed_table.json");
    let job = Job::new(project);
    let routing = job.routing();
    let alike = routing.parts.iter().filter(|part| part.drawn.board.is_some_and(|board| board.mirrored == 0));
    for part in alike {
        for made in templates(&part.drawn) {
            let drawn = template(&part.drawn, &made, "", "x", &job.project().notation);
            assert!(!words(&drawn.items).iter().any(|said| said.contains("mirrored")), "{}", part.drawn.name);
        }
    }
}

/// Frames of their own lean make left legs and right legs; what is asked of legs is asked of both, and one of them may be asked for
/// something of its own.
#[test]
fn legs_that_differ_are_all_legs() {
    let mut file = desk();
    file["base"]["frames"] = json!({ "left": { "lean": "6 deg" }, "right": { "lean": "9 deg" } });
    file.as_object_mut().expect("a file").remove("aids");
    let named = |file: &Json| -> Vec<String> {
        let job = job(file);
        let patterns = job.patterns().expect("patterns");
        let names = patterns.iter().map(|one| one.pattern.part.name.clone());
        let mut blanks: Vec<String> = names.filter(|name| name.contains("template blank")).collect();
        blanks.sort();
        blanks
    };
    assert_eq!(named(&file), ["left leg, template blank", "right leg, template blank"]);
    file["routing"]["left leg"] = json!({ "edge_profile": { "round_over": 3 } });
    assert_eq!(named(&file), ["right leg, template blank"]);
    file["routing"]["lag"] = json!({});
    let reading = read("hands.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.expect("a project"));
    assert!(job.stops(), "a part that is not there is told");
}
