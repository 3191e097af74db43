//! What stands on printed sheets beside a pattern keeps off the pattern's words.

use super::sheets::demos;
use crate::common::routing::routed;
use crate::common::stock::plain_stock;
use fullsize::geometry::{Affine, Path, Point, Rect};
use fullsize::layout::rod::rod;
use fullsize::layout::{Manifest, Setup, shared, sheet_window, tile};
use fullsize::model::{Project, Shop};
use fullsize::page::{Document, Item, Page, Role, Shape, Text};
use fullsize::pattern::{Pattern, bevels, draw, draw_board, ends};
use fullsize::piece::solve;
use fullsize::project::read;
use std::fs;

/// The examples of the program and of its guide that are whole files, by name.
fn examples() -> Vec<(String, Project)> {
    let here = concat!(env!("CARGO_MANIFEST_DIR"), "/");
    let mut texts: Vec<(String, String)> = ["reading_table", "saddle_stool", "planter", "hall_bench"]
        .map(|name| (name.to_owned(), fs::read_to_string(format!("{here}templates-demo/{name}.json")).unwrap()))
        .into();
    texts.extend(crate::common::guide::examples());
    let made = |(name, text): (String, String)| {
        let reading = read("example.json", text.as_bytes(), None, None);
        let project = reading.project.unwrap_or_else(|| panic!("{name}: {:?}", reading.findings));
        (name, project)
    };
    texts.into_iter().map(made).collect()
}

/// Boards, ends, drawn parts and the bevel sheet of a file.
fn patterns(project: &Project) -> Vec<Pattern> {
    let (say, title) = (&project.notation, &project.title);
    let piece = solve(project.base.as_ref(), project.top.as_ref(), say).ok();
    let boards = || piece.iter().flat_map(|piece| &piece.boards);
    let mut all: Vec<Pattern> =
        boards().map(|board| draw_board(board, None, &plain_stock(board), "", title, say)).collect();
    all.extend(boards().flat_map(|board| ends(board, board, say)));
    all.extend(project.patterns.iter().map(|drawn| draw(drawn, &routed(drawn).on_part, "", title, say)));
    all.extend(piece.as_ref().and_then(|piece| bevels(piece, piece, title, say)));
    all
}

fn laid(patterns: Vec<Pattern>, shop: &Shop, project: Option<&Project>) -> (Document, Manifest) {
    let notation = project.map(|project| project.notation.clone()).unwrap_or_default();
    tile(&shared(patterns, sheet_window(shop)), &Setup { shop, notation, title: "A piece", readings_from: None })
}

/// The map that makes words level, and their box when it is done.
fn level(text: &Text) -> (Affine, Rect) {
    let flat = Text { angle: 0.0, ..text.clone() };
    let at = text.at.to_vec2();
    (Affine::translate(at) * Affine::rotate(-text.angle) * Affine::translate(-at), flat.bounding_box())
}

/// Whether a path passes through words, looked at every fifth of a millimetre.
fn passes(path: &Path, text: &Text) -> bool {
    let (map, own) = level(text);
    let near = text.bounding_box().inflate(0.1, 0.1);
    path.segments().iter().filter(|s| s.bounding_box().inflate(0.1, 0.1).overlaps(near)).any(|segment| {
        let looks = (segment.length() / 0.2).ceil().max(1.0) as usize;
        (0..=looks).any(|k| own.contains(map * segment.eval(k as f64 / looks as f64)))
    })
}

/// Whether words stand on words: points of the one, a quarter of a millimetre apart, looked for in the other.
fn over(a: &Text, b: &Text) -> bool {
    let ((to_a, own), (to_b, other)) = (level(a), level(b));
    let (across, up) = ((own.width() / 0.25).ceil() as usize, (own.height() / 0.25).ceil() as usize);
    let share = |k: usize, n: usize| k as f64 / n.max(1) as f64;
    let at = |i, j| Point::new(own.x0 + own.width() * share(i, across), own.y0 + own.height() * share(j, up));
    let mut all = (0..=across).flat_map(|i| (0..=up).map(move |j| (i, j)));
    a.bounding_box().overlaps(b.bounding_box())
        && all.any(|(i, j)| other.contains(to_b * (to_a.inverse() * at(i, j))))
}

/// Words of the pattern that a datum line, its name, a check cross or its letter touches; and names of datum lines on any line.
fn touched(page: &Page) -> Vec<String> {
    let texts = || {
        page.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) => Some((item, text)),
            _ => None,
        })
    };
    let strokes = || {
        page.items.iter().filter_map(|item| match &item.shape {
            Shape::Stroke { path, .. } => Some((item, path)),
            _ => None,
        })
    };
    let beside = |item: &Item| matches!(item.role, Role::Datum | Role::Registration);
    let mut found = Vec::new();
    for (item, text) in texts().filter(|(item, _)| item.part.is_some() || item.role == Role::Datum) {
        let names = item.role == Role::Datum;
        // The registration crosses of a seam stand where the strip leaves room, which may be none.
        let against = strokes().filter(|(other, _)| other.role == Role::Datum || names);
        if against.into_iter().any(|(_, path)| passes(path, text)) {
            found.push(format!("{}: a line through \"{}\"", page.name, text.content));
        }
        for (_, other) in texts().filter(|(other, _)| (beside(other) || names) && !std::ptr::eq(*other, item)) {
            if over(text, other) {
                found.push(format!("{}: \"{}\" over \"{}\"", page.name, other.content, text.content));
            }
        }
    }
    found
}

/// Check crosses of a plan's sheets that stand on something of the pattern or on a datum line.
fn crosses_on_something(document: &Document, manifest: &Manifest) -> Vec<String> {
    let mut found = Vec::new();
    for plan in manifest.patterns.iter().flatten() {
        let crosses = || plan.diagonals.iter().flat_map(|(a, b)| [a, b]);
        for sheet in &plan.sheets {
            let page = &document.pages[sheet.page];
            let cell = plan.grid.cell(sheet.row, sheet.column);
            for cross in crosses().filter(|cross| cell.contains(cross.at)) {
                let at = sheet.to_page * cross.at;
                let around = Rect::from_center_size(at, (8.0, 8.0));
                let hit = page.items.iter().filter(|item| item.part.is_some() || item.role == Role::Datum);
                let hit = hit.into_iter().find(|item| match &item.shape {
                    Shape::Stroke { path, .. } => path.segments().iter().any(|s| {
                        let looks = (s.length() / 0.5).ceil().max(1.0) as usize;
                        (0..=looks).any(|k| around.contains(s.eval(k as f64 / looks as f64)))
                    }),
                    Shape::Text(text) => text.bounding_box().overlaps(around),
                    Shape::Fill { .. } => false,
                });
                found.extend(hit.map(|item| format!("{}: cross {} on {:?}", page.name, cross.name, item.role)));
            }
        }
    }
    found
}

#[test]
fn datum_lines_and_check_crosses_keep_off_the_words() {
    let mut wrong = Vec::new();
    let mut sheets = 0;
    for (name, project) in examples() {
        let (document, manifest) = laid(patterns(&project), &project.shop, Some(&project));
        sheets += document.pages.len() - manifest.map_pages;
        let pages = document.pages.iter().skip(manifest.map_pages);
        let all = pages.flat_map(touched).chain(crosses_on_something(&document, &manifest));
        wrong.extend(all.map(|what| format!("{name}: {what}")));
    }
    assert!(sheets > 100, "{sheets}");
    assert!(wrong.is_empty(), "{} on {sheets} sheets:\n{}", wrong.len(), wrong.join("\n"));
}

/// Names stand across the strip, so that a seam down the sheet may cut one in half.
#[test]
fn no_name_on_the_rod_is_cut_at_a_seam() {
    let table = examples().swap_remove(0).1;
    let solved = solve(table.base.as_ref(), table.top.as_ref(), &table.notation).expect("a piece");
    let pieces = demos().into_iter().chain([("reading table", solved)]);
    let mut wrong = Vec::new();
    for (name, piece) in pieces {
        for paper in ["A4", "Letter"] {
            let shop = super::sheets::shop(paper);
            let strips = rod(&piece, &table.notation, "ABCDE");
            let (document, manifest) = tile(
                &strips,
                &Setup { shop: &shop, notation: table.notation.clone(), title: "Rod", readings_from: None },
            );
            for plan in manifest.patterns.iter().flatten() {
                assert_eq!(plan.grid.rows, 1, "{name} on {paper}: a strip is one row of sheets");
            }
            let words = document.pages.iter().skip(manifest.map_pages).flat_map(|page| &page.items);
            let cut = words.filter(|item| item.part.is_some() && item.clip.is_some());
            wrong.extend(cut.map(|item| match &item.shape {
                Shape::Text(text) => format!("{name} on {paper}: {}", text.content),
                _ => String::new(),
            }));
        }
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n"));
}
