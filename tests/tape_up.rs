//! Sheets laid over each other by their printed crosses give the whole pattern.

use crate::common::grey::{Grey, rendered};
use fullsize::geometry::{Affine, Point, Vec2};
use fullsize::layout::{Manifest, Setup, TiledPattern, plot, tile};
use fullsize::model::Project;
use fullsize::page::{Document, Item, Page, Role, Shape, Text};
use fullsize::pattern::{Pattern, draw};
use fullsize::router::{routed, templates};
use std::collections::VecDeque;

/// Dots an inch: a 0.25 mm line is two pixels wide.
const DPI: f64 = 200.0;
const PER_MM: f64 = DPI / 25.4;

/// What is cut or drilled or marked: the lines of the pattern itself.
const LINES: [Role; 4] = [Role::Outline, Role::Opening, Role::Drill, Role::Mark];

fn project(name: &str, text: &str, paper: &str) -> Project {
    let shop = format!("{{ \"paper\": \"{paper}\" }}");
    let reading = fullsize::project::read(name, text.as_bytes(), Some(("shop.json", shop.as_bytes())), None);
    reading.project.unwrap_or_else(|| panic!("{name}: {:?}", reading.findings))
}

fn tiled(project: &Project) -> (Vec<Pattern>, Document, Manifest) {
    let patterns: Vec<Pattern> = project
        .patterns
        .iter()
        .map(|p| draw(p, &routed(p, &templates(p)).on_part, "", &project.title, &project.notation))
        .collect();
    let setup =
        Setup { shop: &project.shop, notation: project.notation.clone(), title: &project.title, readings_from: None };
    let (document, manifest) = tile(&patterns, &setup);
    (patterns, document, manifest)
}

fn pdf(document: &Document) -> Vec<u8> {
    fullsize::write::pdf(document, &fullsize::write::PdfOptions::default()).expect("a PDF")
}

/// The same pages with only the items that are kept.
fn only(document: &Document, keep: impl Fn(&Item) -> bool) -> Document {
    let page = |page: &Page| Page { items: page.items.iter().filter(|i| keep(i)).cloned().collect(), ..page.clone() };
    Document { pages: document.pages.iter().map(page).collect(), ..document.clone() }
}

/// The whole pattern on one page of its own size, lines only: of its marks what is drawn, since of lines that lie on each other one is.
fn whole(pattern: &Pattern) -> Document {
    let plotted = plot(std::slice::from_ref(pattern), None, "whole").0.pages.remove(0);
    let border = Vec2::new(plotted.width - pattern.bounds.width(), plotted.height - pattern.bounds.height()) / 2.0;
    let moved = |item: &Item, to_page: Affine| {
        let shape = match &item.shape {
            Shape::Stroke { path, pen } => Shape::Stroke { path: path.transformed(to_page), pen: pen.clone() },
            Shape::Fill { rings, grey } => {
                Shape::Fill { rings: rings.iter().map(|r| r.transformed(to_page)).collect(), grey: *grey }
            }
            Shape::Text(text) => Shape::Text(Text { at: to_page * text.at, ..text.clone() }),
        };
        Item { shape, part: None, ..item.clone() }
    };
    let to_page = Affine::translate(-Vec2::new(pattern.bounds.x0, pattern.bounds.y0));
    let cut = pattern.items.iter().filter(|i| LINES.contains(&i.role) && i.role != Role::Mark);
    let marks = plotted.items.iter().filter(|i| i.role == Role::Mark);
    let marks = marks.map(|item| moved(item, Affine::translate(-border)));
    let items = cut.map(|item| moved(item, to_page)).chain(marks).collect();
    let (width, height) = (pattern.bounds.width(), pattern.bounds.height());
    let page = Page { width, height, name: "whole".into(), section: None, items };
    Document { title: "whole".into(), parts: Vec::new(), pages: vec![page] }
}

/// Crosses are read from a raster so much finer. The renderer's shades place a line to some twentieths of a pixel, the same way on
/// every sheet of a row, so that from sheet to sheet it adds up.
const FINER: f64 = 2.0;

/// The ink of an arm is looked for so many fine pixels on either side of it: twice its width.
const AROUND: i64 = 8;

/// Where a printed cross stands on a rendered page, in pixels: the middle of the ink of its arms, measured off the middle
/// so that each arm is seen alone. `near` is where it is looked for.
fn cross_in_pixels(page: &Grey, near: Point, reach: f64) -> Option<Point> {
    let near = (near.to_vec2() * FINER).to_point();
    let (from, to) = (0.35 * reach * PER_MM * FINER, 0.9 * reach * PER_MM * FINER);
    let steps: Vec<i64> = (from as i64..to as i64).flat_map(|d| [d, -d]).collect();
    let middle = |along: i64, level: bool| {
        let across = (-AROUND..=AROUND).map(|offset| {
            let at = |base: f64, by: i64| (base.floor() as i64) + by;
            let (x, y) = if level { (along, offset) } else { (offset, along) };
            (offset, page.ink(at(near.x, x), at(near.y, y)))
        });
        let (sum, weight) = across.fold((0.0, 0.0), |(s, w), (offset, ink)| (s + ink * offset as f64, w + ink));
        (weight > 0.5).then(|| sum / weight + 0.5)
    };
    let median = |mut values: Vec<f64>| {
        values.sort_by(f64::total_cmp);
        values.get(values.len() / 2).copied()
    };
    let y = median(steps.iter().filter_map(|d| middle(*d, true)).collect())?;
    let x = median(steps.iter().filter_map(|d| middle(*d, false)).collect())?;
    Some(Point::new((near.x.floor() + x) / FINER, (near.y.floor() + y) / FINER))
}

fn to_pixels(page: &Page, p: Point) -> Point {
    Point::new(p.x * PER_MM, (page.height - p.y) * PER_MM)
}

/// Lays every sheet over the first by the crosses that neighbours share, as read from the pixels; the result is where each
/// sheet's upper left pixel comes to lie.
fn laid_by_crosses(plan: &TiledPattern, document: &Document, pages: &[Grey], reach: f64) -> Vec<Vec2> {
    let index = |at: (usize, usize)| plan.sheets.iter().position(|s| (s.row, s.column) == at).expect("a sheet");
    let mut laid: Vec<Option<Vec2>> = vec![None; plan.sheets.len()];
    laid[0] = Some(Vec2::ZERO);
    let mut queue = VecDeque::from([0]);
    while let Some(at) = queue.pop_front() {
        let here = (plan.sheets[at].row, plan.sheets[at].column);
        for seam in plan.seams.iter().filter(|s| s.under == here || s.over == here) {
            let other = index(if seam.under == here { seam.over } else { seam.under });
            if laid[other].is_some() {
                continue;
            }
            assert!(seam.crosses.len() >= 2, "a seam needs two crosses");
            let shifts: Vec<Vec2> = seam
                .crosses
                .iter()
                .map(|cross| {
                    let seen = |sheet: usize| {
                        let (page, sheet) = (&document.pages[plan.sheets[sheet].page], &plan.sheets[sheet]);
                        let near = to_pixels(page, sheet.to_page * cross.at);
                        let found = cross_in_pixels(&pages[sheet.page], near, reach);
                        found.unwrap_or_else(|| panic!("cross {} not seen on sheet {}", cross.name, sheet.code()))
                    };
                    seen(at) - seen(other)
                })
                .collect();
            let spread = shifts.iter().map(|s| (*s - shifts[0]).hypot()).fold(0.0, f64::max);
            assert!(spread < 0.5, "the crosses of seam {} disagree by {spread} pixels", seam.letters);
            let mean = shifts.iter().fold(Vec2::ZERO, |a, b| a + *b) / shifts.len() as f64;
            laid[other] = laid[at].map(|base| base + mean);
            queue.push_back(other);
        }
    }
    laid.into_iter().map(|l| l.expect("every sheet is joined to the first")).collect()
}

/// Whether some pixel darker than `than` lies within one pixel of a place.
fn dark_near(page: &Grey, at: Point, than: u8) -> bool {
    // The place is the middle of a pixel of another raster: the pixels within one of it in each direction.
    let (x, y) = (at.x - 0.5, at.y - 0.5);
    let range = |v: f64| (v - 1.0).ceil() as i64..=(v + 1.0).floor() as i64;
    range(y).any(|py| range(x).any(|px| page.at(px, py) < than))
}

fn check(name: &str, text: &str, paper: &str) {
    let project = project(name, text, paper);
    let (patterns, document, manifest) = tiled(&project);
    let pages = rendered(&pdf(&document), DPI);
    // The reader of crosses takes the middle of all ink about one: letters that end at the seam beside it would draw it to
    // their side.
    let crosses = rendered(&pdf(&only(&document, |i| i.role != Role::Text)), DPI * FINER);
    let bare = rendered(&pdf(&only(&document, |i| i.part.is_some() && LINES.contains(&i.role))), DPI);
    for (pattern, plan) in patterns.iter().zip(&manifest.patterns) {
        let plan = plan.as_ref().expect("sheets");
        let reach = 6.0_f64.min(plan.grid.overlap / 2.0);
        let laid = laid_by_crosses(plan, &document, &crosses, reach);
        let whole = rendered(&pdf(&whole(pattern)), DPI).remove(0);
        // Where the whole's upper left pixel lies over the first sheet: by the one matrix of that sheet.
        let first = &plan.sheets[0];
        let corner = first.to_page * Point::new(pattern.bounds.x0, pattern.bounds.y1);
        let origin = to_pixels(&document.pages[first.page], corner);
        let mut missing = 0;
        for (x, y) in whole.darker(100) {
            let on_first = origin.to_vec2() + Vec2::new(x as f64 + 0.5, y as f64 + 0.5);
            let seen = plan
                .sheets
                .iter()
                .zip(&laid)
                .any(|(sheet, laid)| dark_near(&pages[sheet.page], (on_first - *laid).to_point(), 200));
            missing += usize::from(!seen);
        }
        assert_eq!(missing, 0, "{name}, {}: ink of the whole that no sheet shows", pattern.part.name);
        let mut strays = 0;
        for (sheet, laid) in plan.sheets.iter().zip(&laid) {
            for (x, y) in bare[sheet.page].darker(100) {
                let on_whole = Vec2::new(x as f64 + 0.5, y as f64 + 0.5) + *laid - origin.to_vec2();
                strays += usize::from(!dark_near(&whole, on_whole.to_point(), 200));
            }
        }
        assert_eq!(strays, 0, "{name}, {}: ink on a sheet that the whole does not have", pattern.part.name);
    }
}

#[test]
fn the_demo_tapes_up_true_on_a4_and_letter() {
    let text = include_str!("../templates-demo/hall_bench.json");
    check("hall_bench.json", text, "a4");
    check("hall_bench.json", text, "letter");
}

#[test]
fn a_three_metre_board_tapes_up_true() {
    let text = r#"{ "fullsize": 1, "title": "Long board", "units": "mm", "patterns": { "board": {
        "thickness": 20, "outline": [ { "to": [0, 0] }, { "to": [3000, 0], "edge": { "rise": -45 } },
        { "to": [3000, 140] }, { "to": [0, 150], "edge": { "rise": 22 } } ],
        "holes": [ { "at": [1500, 100], "diameter": 30 } ] } } }"#;
    check("long.json", text, "a4");
}

#[test]
fn a_ring_leaves_its_empty_sheets_out_and_still_tapes_up() {
    let text = r#"{ "fullsize": 1, "title": "Hoop", "units": "mm", "patterns": { "hoop": {
        "thickness": 20, "outline": [ { "to": [-420, 0], "edge": { "rise": 420 } },
        { "to": [420, 0], "edge": { "rise": 420 } } ] } } }"#;
    let project = project("hoop.json", text, "a5");
    let (_, _, manifest) = tiled(&project);
    let plan = manifest.patterns[0].as_ref().expect("sheets");
    assert!(plan.sheets.len() < plan.grid.rows * plan.grid.columns, "the middle sheets are empty");
    check("hoop.json", text, "a5");
}
