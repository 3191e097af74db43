//! One sheet of a pattern as a page: what of the pattern it shows, and what stands around that.

use super::{Setup, Sheet, TiledPattern};
use crate::geometry::{Point, Rect};
use crate::layout::candidates::bar_names;
use crate::layout::datum_line::DatumLine;
use crate::layout::furniture::{
    Free, LEFT_BAND, SMALL, TOP_BAND, bar_length, caption, caption_width, check_cross, cross_reach,
    registration_cross, rule_bar, seam_line,
};
use crate::layout::ink::{Ink, moved};
use crate::layout::stamp::Stamped;
use crate::layout::vacant::Squares;
use crate::page::{Item, Page, Shape, Standing, Text};
use crate::pattern::Pattern;

/// Between what a sheet says of itself and anything else on it, mm.
const STAMP_CLEAR: f64 = 1.0;

/// A line to the name of a cross keeps off words by so much, mm.
const LINE_CLEAR: f64 = 0.4;

/// What is printed, as far as a sheet tells it.
pub(super) struct Print<'a> {
    pub(super) setup: &'a Setup<'a>,
    /// How many pages there are.
    pub(super) pages: usize,
}

pub(super) fn draw(
    index: usize,
    pattern: &Pattern,
    plan: &TiledPattern,
    number: usize,
    ink: &Ink,
    on: &Print,
) -> Page {
    let sheet = &plan.sheets[number];
    let window = plan.grid.window(sheet.row, sheet.column);
    let mut items = ink.shown(window, plan.grid.cell(sheet.row, sheet.column), sheet.to_page, index);
    // Furniture is laid out in the pattern's own millimetres, then goes to the page by the sheet's one matrix.
    let mut around = seam_items(plan, sheet, ink);
    let datums = datum_lines(plan, sheet, window);
    around.extend(datums.iter().flat_map(|line| line.pieces(ink)));
    for line in &datums {
        let name = line.named(ink, &boxes(&around));
        around.extend(name);
    }
    around.extend(stamp(pattern, plan, number, ink, &boxes(&around), on));
    around.extend(bands(pattern, plan, number, window, on));
    items.extend(around.into_iter().map(|one| Item { shape: moved(&one.shape, sheet.to_page), ..one }));
    Page {
        width: plan.page_size.0,
        height: plan.page_size.1,
        name: sheet.code(),
        section: Some(format!("{}: {}", pattern.part.code, pattern.part.name)),
        items,
    }
}

/// The registration crosses of a sheet with their names, which keep off the words along its seams and off what is `busy`.
pub(super) fn crosses_of(plan: &TiledPattern, sheet: &Sheet, busy: &dyn Fn(Rect) -> bool) -> Vec<Item> {
    let here = (sheet.row, sheet.column);
    let reach = cross_reach(plan.grid.overlap);
    let seams = || plan.seams.iter().filter(|seam| seam.under == here || seam.over == here);
    let words: Vec<Item> = seams().flat_map(|seam| seam_line(seam, reach, seam.over == here)).collect();
    let words = Standing::of(words.iter().filter(|item| matches!(item.shape, Shape::Text(_))));
    let is_free = |room: Rect| !busy(room) && !words.touches(room);
    let is_clear = |from: Point, to: Point| !words.words_cross(from, to, LINE_CLEAR);
    let crosses = seams().flat_map(|seam| seam.crosses.iter().map(move |cross| (seam, cross)));
    let drawn = crosses.flat_map(|(seam, cross)| {
        registration_cross(
            cross,
            reach,
            (seam.runs_down(), seam.over == here),
            Free { room: &is_free, line: &is_clear },
        )
    });
    drawn.collect()
}

fn seam_items(plan: &TiledPattern, sheet: &Sheet, ink: &Ink) -> Vec<Item> {
    let here = (sheet.row, sheet.column);
    let reach = cross_reach(plan.grid.overlap);
    let seams = plan.seams.iter().filter(|seam| seam.under == here || seam.over == here);
    let mut items: Vec<Item> = seams.flat_map(|seam| seam_line(seam, reach, seam.over == here)).collect();
    items.extend(crosses_of(plan, sheet, &|room| plan.is_lined(ink, room)));
    let cell = plan.grid.cell(sheet.row, sheet.column);
    let checks = plan.diagonals.iter().flat_map(|(a, b)| [a, b]).filter(|cross| cell.contains(cross.at));
    items.extend(checks.flat_map(|cross| check_cross(cross.at, &cross.name)));
    items
}

/// The boxes of items.
fn boxes(items: &[Item]) -> Vec<Rect> {
    items.iter().filter_map(Item::bounding_box).collect()
}

/// A straight line through every sheet of the row, and one through every sheet of the column.
pub(super) fn datum_lines(plan: &TiledPattern, sheet: &Sheet, window: Rect) -> Vec<DatumLine> {
    let (y, x) = (plan.datums.rows[sheet.row], plan.datums.columns[sheet.column]);
    let shared = |same: fn(&Sheet, &Sheet) -> bool| plan.sheets.iter().filter(|s| same(s, sheet)).count() > 1;
    let mut lines = Vec::new();
    if shared(|a, b| a.row == b.row) {
        let (from, name) = (Point::new(window.x0, y), format!("datum, row {}", sheet.row + 1));
        lines.push(DatumLine { from, length: window.width(), up: false, name });
    }
    if shared(|a, b| a.column == b.column) {
        let (from, name) = (Point::new(x, window.y0), format!("datum, column {}", sheet.column + 1));
        lines.push(DatumLine { from, length: window.height(), up: true, name });
    }
    lines
}

/// What the sheet says of itself inside what stays of it, where nothing else stands.
fn stamp(pattern: &Pattern, plan: &TiledPattern, number: usize, ink: &Ink, taken: &[Rect], on: &Print) -> Vec<Item> {
    let sheet = &plan.sheets[number];
    let take = |squares: &mut Squares, taken: Rect| {
        let room = taken.inflate(STAMP_CLEAR, STAMP_CLEAR);
        squares.take(room, &|r| taken.overlaps(r.inflate(STAMP_CLEAR, STAMP_CLEAR)));
    };
    let mut squares = Squares::of(plan.grid.cell(sheet.row, sheet.column));
    ink.take(&mut squares, STAMP_CLEAR);
    taken.iter().for_each(|taken| take(&mut squares, *taken));
    let vacant = |more: &[Item]| {
        let mut squares = squares.clone();
        boxes(more).into_iter().for_each(|taken| take(&mut squares, taken));
        squares.vacant()
    };
    let units = on.setup.notation.units;
    let solid = pattern.is_to_cut.then(|| solid_is(pattern, on));
    let solid = pattern.told.iter().cloned().chain(solid).collect::<Vec<String>>().join("; ");
    let title = (!head(pattern, plan, number, on).is_titled).then_some(on.setup.title);
    Stamped { part: &pattern.part, plan, sheet, pages: on.pages, units, solid, title }.placed(&vacant)
}

/// What the solid line of a pattern is.
fn solid_is(pattern: &Pattern, on: &Print) -> String {
    format!("solid = {}", pattern.solid.words(&on.setup.notation))
}

/// The words of a sheet's head.
struct Head {
    lines: [String; 2],
    /// Whether the project's title is among them.
    is_titled: bool,
}

/// The band above the window.
fn top_band(window: Rect) -> Rect {
    Rect::new(window.x0 - LEFT_BAND, window.y1, window.x1, window.y1 + TOP_BAND)
}

/// What a sheet's head says: the project's title only where it has room whole.
fn head(pattern: &Pattern, plan: &TiledPattern, number: usize, on: &Print) -> Head {
    let sheet = &plan.sheets[number];
    let room = caption_width(top_band(plan.grid.window(sheet.row, sheet.column)), &sheet.code());
    let is_short = |words: &String| Text::new(Point::ORIGIN, SMALL, words.as_str()).width() <= room;
    // Of many small patterns there are more names than a head holds.
    let named = |what: &str| format!("{} · rev {} · {what}", pattern.part.name, pattern.part.revision);
    let name = Some(named(&pattern.make)).filter(is_short).unwrap_or_else(|| named(&pattern.sizes));
    let count = plan.sheets.len();
    let solid = pattern.solid.words(&on.setup.notation);
    let place = format!("sheet {} of {count}, page {} of {}", number + 1, sheet.page + 1, on.pages);
    let full = [format!("solid line (middle): {solid} · {place}"), format!("solid: {solid} · {place}")];
    let title = on.setup.title;
    if !pattern.told.is_empty() {
        // As much of it as has room, and never what tells the sheet from others.
        let solid = pattern.is_to_cut.then(|| solid_is(pattern, on));
        let leading =
            |count: usize| pattern.told[..count].iter().chain(&solid).cloned().collect::<Vec<_>>().join("; ");
        let all = (1..=pattern.told.len()).rev().map(leading).find(is_short);
        let beside = solid.iter().map(|solid| format!("{solid} · {place}"));
        let below = beside.flat_map(|words| [named(&words), words]).find(is_short);
        let first = pattern.told[0].clone();
        let lines = match (all, below) {
            (Some(all), _) => [all, named(&place)],
            // On narrow paper the name, which the stamp has, goes before what the solid line is.
            (None, Some(below)) => [first, below],
            (None, None) => [first, named(&place)],
        };
        return Head { lines, is_titled: false };
    }
    let titled = |about: &String| {
        let [last, first] = [about, &name].map(|line| format!("{line} · {title}"));
        match (is_short(&last), is_short(&first) && is_short(about)) {
            (true, _) => Some([name.clone(), last]),
            (_, true) => Some([first, about.clone()]),
            _ => None,
        }
    };
    if let Some(lines) = full.iter().find_map(titled) {
        return Head { lines, is_titled: true };
    }
    // On narrow paper the words before it go before a number does.
    let about = full.into_iter().find(is_short).unwrap_or(place);
    Head { lines: [name, about], is_titled: false }
}

/// What stands above and left of the window.
fn bands(pattern: &Pattern, plan: &TiledPattern, number: usize, window: Rect, on: &Print) -> Vec<Item> {
    let code = plan.sheets[number].code();
    let mut items = caption(top_band(window), &code, &head(pattern, plan, number, on).lines);
    let ([lies, stands], [lying, standing]) = (plan.bars(), bar_names(on.setup.shop, plan.page_size));
    let zero = Point::new(window.x0, window.y1 + 4.2);
    items.extend(lies.into_iter().flat_map(|bar| rule_bar(bar, lying, zero, false)));
    items.extend(stands.into_iter().flat_map(|bar| {
        let zero = Point::new(window.x0 - 4.2, window.y1 - bar_length(bar));
        rule_bar(bar, standing, zero, true)
    }));
    items
}
