//! The first page: what to check before trusting the sheets, and a map of them.

use super::candidates::{corrected_words, correction};
use super::furniture::{BAR_LENGTH, SMALL, rule_bar};
use super::ink::moved;
use super::tile::{Setup, TiledPattern};
use super::words::{LEADING, item, shorten, wrap};
use crate::check::cautions;
use crate::geometry::{Affine, Path, Point, Rect, Vec2};
use crate::model::Paper;
use crate::page::{Anchor, Item, Page, Pen, Role, Shape, Text};
use crate::pattern::Pattern;
use crate::tolerance::SAME_POINT;
use crate::units::{Length, Units};

/// Headings, mm.
const HEADING: f64 = 3.5;

/// The title, mm.
const TITLE: f64 = 7.0;

/// Height of the words over a map where what is made is said in one line, mm.
const WORDS: f64 = 24.0;

/// Height that no map's picture exceeds, mm.
const HIGHEST: f64 = 45.0;

/// Room between maps, mm.
const GAP: f64 = 6.0;

/// Room for the bar up, left of everything else, mm.
const BAR_ROOM: f64 = 14.0;

/// Room for the numbers of rows and columns, mm.
const NUMBERS: f64 = 5.0;

/// The narrowest map that can be read, mm.
const NARROWEST: f64 = 80.0;

/// Height of the map page where the paper is a roll, mm.
pub const ROLL_PAGE: f64 = 297.0;

/// The map pages, at least one.
pub fn pages(patterns: &[Pattern], tiled: &[Option<TiledPattern>], setup: &Setup) -> Vec<Page> {
    let (width, height) = match &setup.shop.paper {
        Paper::Sheet { width, height, .. } => (width.mm(), height.mm()),
        Paper::Roll { width } => (width.mm(), ROLL_PAGE),
    };
    let (x, y) = correction(setup.shop, (width, height));
    let sheet = Rect::new(0.0, 0.0, width / x, height / y);
    let margin = setup.shop.margin.mm();
    let area = sheet.inset(-margin);
    let (mut items, mut top) = instructions(area, setup, tiled);
    let mut pages = Vec::new();
    let room = area.width() - BAR_ROOM + GAP;
    let columns = (room / (NARROWEST + GAP)).floor().max(1.0) as usize;
    let wide = room / columns as f64 - GAP;
    let maps: Vec<_> = patterns.iter().zip(tiled).filter_map(|(p, plan)| Some((p, plan.as_ref()?))).collect();
    for row in maps.chunks(columns) {
        let high = row.iter().map(|(pattern, plan)| height_of(pattern, plan, wide)).fold(0.0, f64::max);
        if top - high < area.y0 && top < area.y1 {
            pages.push(std::mem::take(&mut items));
            top = area.y1;
        }
        for (column, (pattern, plan)) in row.iter().enumerate() {
            let x = area.x0 + BAR_ROOM + column as f64 * (wide + GAP);
            items.extend(map(pattern, plan, Rect::new(x, top - high, x + wide, top), setup));
        }
        top -= high + GAP;
    }
    pages.push(items);
    let stretch = Affine::scale_non_uniform(x, y);
    let page = |(number, items): (usize, Vec<Item>)| Page {
        width,
        height,
        name: if number == 0 { "Print this first".to_owned() } else { format!("Map {}", number + 1) },
        section: None,
        items: items.into_iter().map(|one| Item { shape: moved(&one.shape, stretch), ..one }).collect(),
    };
    pages.into_iter().enumerate().map(page).collect()
}

/// The title, the rule bars and what to do, from the top of the page; returns where the maps may begin.
fn instructions(area: Rect, setup: &Setup, tiled: &[Option<TiledPattern>]) -> (Vec<Item>, f64) {
    let mut items = Vec::new();
    let mut y = area.y1 - TITLE;
    let title = shorten(setup.title, TITLE, area.width());
    items.push(item(Role::Caption, Text::new(Point::new(area.x0, y), TITLE, title)));
    y -= 6.0 + SMALL;
    let bars = Point::new(area.x0 + 8.0, y - 6.0);
    items.extend(rule_bar(bars, false));
    items.extend(rule_bar(bars - Vec2::new(4.0, 8.0 + BAR_LENGTH), true));
    let side = bars.x + BAR_LENGTH + 6.0;
    if side + 30.0 < area.x1 {
        let words = wrap("Lay a steel rule on both bars before anything else.", HEADING, area.x1 - side);
        for (i, words) in words.into_iter().enumerate() {
            let at = Point::new(side, y - HEADING * LEADING * i as f64);
            items.push(item(Role::Caption, Text::new(at, HEADING, words)));
        }
    }
    y = bars.y - 10.0;
    let left = area.x0 + BAR_ROOM;
    for (heading, words) in steps(setup, tiled) {
        let mut put = |height: f64, words: &str| {
            items.push(item(Role::Caption, Text::new(Point::new(left, y - height), height, words)));
            y -= height * LEADING;
        };
        if !heading.is_empty() {
            put(SMALL + 0.5, &heading);
        }
        wrap(&words, SMALL, area.x1 - left).iter().for_each(|line| put(SMALL, line));
        y -= 1.4;
    }
    (items, y - 6.0)
}

/// What to do, in order: a heading and words.
fn steps(setup: &Setup, tiled: &[Option<TiledPattern>]) -> Vec<(String, String)> {
    let both = match setup.notation.units {
        Units::Mm => "100 mm (4 in on its other side)",
        Units::Inch => "4 in (100 mm on its other side)",
    };
    let off = corrected_words(setup.shop, &setup.notation).unwrap_or_else(|| {
        "If one does not, write what it reads, with its unit, into the file (shop, printer, \"bar_across\" for the bar that \
         lies, \"bar_up\" for the one that stands) and print this page again."
            .to_owned()
    });
    let seams = tiled.iter().flatten().any(|plan| !plan.seams.is_empty());
    let mut steps = vec![
        (
            "1  Print this page at 100 % (\"actual size\")",
            format!(
                "Never \"fit to page\". Both bars must read {both}. {off} Then print the rest on the same printer and \
                 paper."
            ),
        ),
        (
            "2  Check the bars of every sheet",
            "Before you cut any of it away. After gluing down measure again, from ringed cross to ringed cross and on the \
             bars of sheet 1-1: paper grows with glue and damp. Glue stick or spray on dry paper moves least."
                .to_owned(),
        ),
    ];
    if seams {
        steps.push((
            "3  Trim and tape",
            "Start with sheet 1-1. Cut each further sheet along its solid lines (\"cut\"), lay it over its \
             neighbour so that both halves of each cross meet and the names agree, hold a straightedge along the \
             datum line, tape. Do one row, then the next."
                .to_owned(),
        ));
        steps.push((
            "4  Measure the two diagonals",
            "From ringed cross P to Q and from R to S, as said above each map. If one is long and the other short, the \
             tape-up has gone askew: part a seam and lay it again."
                .to_owned(),
        ));
    }
    steps.push((
        "The middle of the solid line is the edge that the head of the sheet names.",
        "Cut beside it and work to it. Patterns say where to cut, not how to hold the work: keep hands clear, \
         wear eye and ear protection."
            .to_owned(),
    ));
    steps.push((
        "Every saw setting: one end in scrap first.",
        format!("In a {}. {}", cautions::COMPOUND.replace("crosscut:", "crosscut"), cautions::FIRST),
    ));
    steps.into_iter().map(|(heading, words)| (heading.to_owned(), words)).collect()
}

/// How many there are to make, or which small patterns stand together, in lines: the latter may be many.
fn made(pattern: &Pattern, wide: f64) -> Vec<String> {
    wrap(&pattern.make, SMALL, wide)
}

/// Height of the words over a map, mm.
fn words_height(pattern: &Pattern, wide: f64) -> f64 {
    WORDS + made(pattern, wide).len().saturating_sub(1) as f64 * SMALL * LEADING
}

/// Height of a map with its words, mm.
fn height_of(pattern: &Pattern, plan: &TiledPattern, wide: f64) -> f64 {
    let cells = plan.sheets.iter().map(|s| plan.grid.cell(s.row, s.column));
    let all = cells.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    let picture = (wide - NUMBERS) * all.height() / all.width().max(1.0);
    words_height(pattern, wide) + NUMBERS + picture.min(HIGHEST)
}

/// One pattern's map and its words.
fn map(pattern: &Pattern, plan: &TiledPattern, area: Rect, setup: &Setup) -> Vec<Item> {
    let mut items = Vec::new();
    let mut y = area.y1 - HEADING;
    let mut put = |height: f64, words: &str| {
        let words = shorten(words, height, area.width());
        items.push(item(Role::Caption, Text::new(Point::new(area.x0, y), height, words)));
        y -= SMALL * LEADING;
    };
    put(HEADING, &pattern.part.name);
    made(pattern, area.width()).iter().for_each(|line| put(SMALL, line));
    put(SMALL, &pattern.sizes);
    put(SMALL, &sheets_needed(plan, setup));
    // Short, so that no revision is ever cut off.
    let revision = format!("rev {}", pattern.part.revision);
    put(SMALL, &measured_when_taped(plan, setup).map_or_else(|| revision.clone(), |d| format!("{revision} · {d}")));
    let picture = Rect::new(area.x0, area.y0, area.x1, area.y1 - words_height(pattern, area.width()));
    items.extend(picture_of(pattern, plan, picture));
    items
}

/// What the diagonals must read, where there are any.
pub fn measured_when_taped(plan: &TiledPattern, setup: &Setup) -> Option<String> {
    let said: Vec<(String, String)> = plan
        .diagonals
        .iter()
        .map(|(a, b)| {
            let apart = setup.notation.length(Length::from_mm(a.at.distance(b.at)));
            (format!("{} to {}", a.name, b.name), apart)
        })
        .collect();
    match &said[..] {
        [] => None,
        [(first, apart), (second, same)] if apart == same => Some(format!("{first} and {second}: {apart}")),
        several => {
            let each: Vec<String> = several.iter().map(|(which, apart)| format!("{which}: {apart}")).collect();
            Some(each.join(", "))
        }
    }
}

fn sheets_needed(plan: &TiledPattern, setup: &Setup) -> String {
    let count = plan.sheets.len();
    let sheets = if count == 1 { "sheet" } else { "sheets" };
    match &setup.shop.paper {
        Paper::Sheet { name, .. } => {
            let way = if plan.page_size.0 > plan.page_size.1 { "landscape" } else { "portrait" };
            let (rows, columns) = (plan.grid.rows, plan.grid.columns);
            match count {
                1 => format!("1 sheet, {name} {way}"),
                _ => format!("{count} {sheets}, {name} {way}; row-column 1-1 to {rows}-{columns}"),
            }
        }
        Paper::Roll { width } => format!("{count} {sheets} on a roll of {}", setup.notation.length(*width)),
    }
}

/// The pattern's edges, small, over the outlines of its sheets, whose columns and rows are numbered at the edge.
fn picture_of(pattern: &Pattern, plan: &TiledPattern, area: Rect) -> Vec<Item> {
    let cells: Vec<_> = plan.sheets.iter().map(|s| ((s.row, s.column), plan.grid.cell(s.row, s.column))).collect();
    let Some(all) = cells.iter().map(|(_, cell)| *cell).reduce(|a, b| a.union(b)) else { return Vec::new() };
    let area = Rect::new(area.x0 + NUMBERS, area.y0, area.x1, area.y1 - NUMBERS);
    let scale = (area.width() / all.width()).min(area.height() / all.height());
    let place = Affine::translate(Point::new(area.x0, area.y1) - Point::ORIGIN)
        * Affine::scale(scale)
        * Affine::translate(Point::ORIGIN - Point::new(all.x0, all.y1));
    let mut items = Vec::new();
    for (at, cell) in &cells {
        let cell = place.transform_rect_bbox(*cell);
        items.push(drawn(Path::rectangle(cell), Pen { grey: 0.45, ..Pen::solid(0.18) }));
        items.extend(numbers(*at, cell, area));
    }
    for one in pattern.items.iter().filter(|i| matches!(i.role, Role::Outline | Role::Opening | Role::Drill)) {
        if let Shape::Stroke { path, .. } = &one.shape {
            items.push(drawn(path.transformed(place), Pen::solid(0.35)));
        }
    }
    for (a, b) in &plan.diagonals {
        items.push(drawn(Path::line(place * a.at, place * b.at), Pen::dashed(0.18, &[2.0, 1.0])));
        for cross in [a, b] {
            let ring = Path::circle(place * cross.at, 0.8);
            let shape = Shape::Fill { rings: vec![ring], grey: 0.0 };
            items.push(Item { role: Role::Caption, part: None, clip: None, shape });
        }
    }
    items
}

/// The number of a column above its first cell and of a row left of its first, where there is room for it.
fn numbers((row, column): (usize, usize), cell: Rect, area: Rect) -> Vec<Item> {
    let mut items = Vec::new();
    let mut put = |at: Point, number: usize, room: f64| {
        let text = Text::new(at, SMALL, (number + 1).to_string()).anchored(Anchor::Middle);
        if text.width() < room {
            items.push(item(Role::Caption, text));
        }
    };
    if cell.y1 > area.y1 - SAME_POINT {
        put(Point::new(cell.center().x, area.y1 + 1.0), column, cell.width());
    }
    if cell.x0 < area.x0 + SAME_POINT {
        put(Point::new(area.x0 - NUMBERS / 2.0, cell.center().y - SMALL / 2.0), row, cell.height());
    }
    items
}

fn drawn(path: Path, pen: Pen) -> Item {
    Item { role: Role::Caption, part: None, clip: None, shape: Shape::Stroke { path, pen } }
}
