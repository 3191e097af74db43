//! Words on routed parts and templates overlap neither lines nor each other.

use super::{fixture, project};
use crate::common::routing::{routed, templates};
use crate::common::stock::plain_stock;
use fullsize::geometry::{Affine, Path, Point, Rect};
use fullsize::layout::{Setup, tile};
use fullsize::model::{DrawnPattern, Project};
use fullsize::page::{Item, Shape, Text};
use fullsize::pattern::{Pattern, draw, draw_board, gauge, profile_gauge, template};
use fullsize::piece::solve;
use fullsize::project::read_with;
use fullsize::router::{corner_gauges, edge_sections, part_cautions, routed_parts};
use std::fs;

/// Everything that the router's side draws for a part, the part itself first.
fn pages(project: &Project, part: &DrawnPattern, itself: Pattern) -> Vec<Pattern> {
    let say = &project.notation;
    let mut pages = vec![itself];
    pages.extend(templates(part).iter().map(|made| template(part, made, "", "x", say)));
    pages.extend(corner_gauges(part).iter().map(|made| gauge(&part.name, made, "", say)));
    let sections = edge_sections(part).into_iter().filter_map(|(_, section)| section.ok());
    pages.extend(sections.map(|section| profile_gauge(part, None, &section, "", &part_cautions(part), say)));
    pages
}

/// The corners of words as they stand, and the map that makes them level.
fn level(text: &Text) -> (Affine, Rect) {
    let flat = Text { angle: 0.0, ..text.clone() };
    let at = text.at.to_vec2();
    (Affine::translate(at) * Affine::rotate(-text.angle) * Affine::translate(-at), flat.bounding_box())
}

/// Whether a path passes through words: looked at every tenth of a millimetre.
fn passes(path: &Path, text: &Text) -> bool {
    let (map, own) = level(text);
    let near = text.bounding_box().inflate(0.1, 0.1);
    path.segments().iter().filter(|segment| segment.bounding_box().inflate(0.1, 0.1).overlaps(near)).any(|segment| {
        let looks = (segment.length() / 0.1).ceil().max(1.0) as usize;
        (0..=looks).any(|k| own.contains(map * segment.eval(k as f64 / looks as f64)))
    })
}

/// Points all over words, a quarter of a millimetre apart.
fn points(text: &Text) -> Vec<Point> {
    let (map, own) = level(text);
    let (across, up) = ((own.width() / 0.25).ceil() as usize, (own.height() / 0.25).ceil() as usize);
    let at = |i: usize, j: usize| {
        Point::new(own.x0 + own.width() * i as f64 / across as f64, own.y0 + own.height() * j as f64 / up as f64)
    };
    (0..=across).flat_map(|i| (0..=up).map(move |j| (i, j))).map(|(i, j)| map.inverse() * at(i, j)).collect()
}

fn overlaps(items: &[Item]) -> Vec<String> {
    let texts: Vec<&Text> = items
        .iter()
        .filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(text),
            _ => None,
        })
        .collect();
    let mut found = Vec::new();
    for (index, text) in texts.iter().enumerate() {
        let near = text.bounding_box();
        for item in items {
            if let Shape::Stroke { path, .. } = &item.shape
                && passes(path, text)
            {
                found.push(format!("a line crosses \"{}\"", text.content));
            }
        }
        for other in &texts[index + 1..] {
            let (map, own) = level(other);
            if near.overlaps(other.bounding_box()) && points(text).iter().any(|p| own.contains(map * *p)) {
                found.push(format!("\"{}\" over \"{}\"", text.content, other.content));
            }
        }
    }
    found
}

/// A crest with narrow limbs, where not all words have room beside what they are about: on the sheets as they are printed.
#[test]
fn words_without_room_stand_clear_once_they_are_laid() {
    let drawings = |name: &str| fs::read(fixture("svg").join(name)).map_err(|error| error.to_string());
    let crest = fs::read(fixture("good/svg_openings.json")).unwrap();
    let crest = read_with("crest.json", &crest, None, None, &drawings).project.unwrap();
    let say = &crest.notation;
    let made =
        crest.patterns.iter().flat_map(|part| pages(&crest, part, draw(part, &routed(part).on_part, "", "x", say)));
    let made: Vec<Pattern> = made.collect();
    let setup = Setup { shop: &crest.shop, notation: say.clone(), title: &crest.title, readings_from: None };
    let (document, _) = tile(&made, &setup);
    let (mut words, mut wrong) = (0, Vec::new());
    for page in &document.pages {
        let own: Vec<Item> = page.items.iter().filter(|item| item.part.is_some()).cloned().collect();
        words += own.iter().filter(|item| matches!(item.shape, Shape::Text(_))).count();
        wrong.extend(overlaps(&own).into_iter().map(|what| format!("{}: {what}", page.name)));
    }
    assert!(words > 20, "{words}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn words_stand_clear_of_lines_and_of_each_other() {
    let table = project("good/routed_table.json");
    let piece = solve(table.base.as_ref(), table.top.as_ref(), &table.notation).unwrap();
    let mut all = Vec::new();
    // Where a pattern has no room for words they are only a wish, which the layout moves: these have room for all, and others are asked below.
    for project in
        [project("good/router_bracket.json"), project("good/blended_foot.json"), project("routed/reach.json")]
    {
        for part in &project.patterns {
            all.extend(pages(&project, part, draw(part, &routed(part).on_part, "", "x", &project.notation)));
        }
    }
    // What a board's own page shows without the router is not its matter.
    let mut known = Vec::new();
    for part in routed_parts(&table.routing, &piece).parts {
        let (solved, stock) = (&piece.boards[part.board], plain_stock(&piece.boards[part.board]));
        known.extend(overlaps(&draw_board(solved, None, &stock, "", "x", &table.notation).items));
        let board =
            draw_board(solved, Some((&part.drawn, &routed(&part.drawn).on_part)), &stock, "", "x", &table.notation);
        all.extend(pages(&table, &part.drawn, board));
    }
    assert!(all.len() > 15, "{}", all.len());
    let wrong: Vec<String> = all
        .iter()
        .flat_map(|page| {
            overlaps(&page.items)
                .into_iter()
                .filter(|what| !known.contains(what))
                .map(|what| format!("{}: {what}", page.part.name))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The look itself sees words on a line and words on words.
#[test]
fn overlaps_are_seen() {
    use fullsize::page::{Pen, Role};
    let words = |at: (f64, f64)| Item {
        role: Role::Text,
        part: None,
        clip: None,
        shape: Shape::Text(Text::new(at.into(), 2.5, "pare 3 mm").turned(0.4)),
    };
    let line = Item::stroke(Role::Mark, Path::line(Point::new(0.0, 5.0), Point::new(12.0, 0.0)), Pen::solid(0.18));
    assert_eq!(overlaps(&[words((0.0, 0.0)), line]).len(), 1);
    assert_eq!(overlaps(&[words((0.0, 0.0)), words((4.0, 1.0))]).len(), 1);
    assert!(overlaps(&[words((0.0, 0.0)), words((0.0, 20.0))]).is_empty());
}
