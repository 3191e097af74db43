//! The first page: what to check before trusting the sheets, and a map of them.

use super::candidates::{bar_names, command_for, corrected_words, correction};
use super::furniture::{SMALL, bar_length, longest_bar, rule_bar};
use super::ink::{Ink, moved};
use super::seams::Cross;
use super::tile::{Setup, Sheet, TiledPattern};
use super::vacant::Squares;
use super::words::{LEADING, item, shorten, wrap};
use crate::check::cautions;
use crate::geometry::{Affine, Path, Point, Rect, Vec2};
use crate::model::{Paper, RuleBar, Shop};
use crate::page::{Anchor, Item, Page, Pen, Role, Shape, Text};
use crate::pattern::{Pattern, SolidLine};
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

/// Height of the title over the maps of a further page, with the room below it, mm.
const OVER: f64 = 8.0;

/// Room between maps, mm.
const GAP: f64 = 6.0;

/// Room for the bar up, left of everything else, mm.
const BAR_ROOM: f64 = 14.0;

/// Room for the numbers of rows and columns, mm.
const NUMBERS: f64 = 5.0;

/// The narrowest map that can be read, mm.
const NARROWEST: f64 = 80.0;

/// How far left of the bar that lies the other stands, mm: its name has room on the paper, and its ticks beside the words.
const STANDS_LEFT: f64 = 2.5;

/// Share of its length that a bar reads in the example.
const SAMPLE: f64 = 0.994;

/// Height of the map page where the paper is a roll, mm.
const ROLL_PAGE: f64 = 297.0;

/// Width and height of the page that is printed first, mm.
pub fn first_page(shop: &Shop) -> (f64, f64) {
    match &shop.paper {
        Paper::Sheet { width, height, .. } => (width.mm(), height.mm()),
        Paper::Roll { width } => (width.mm(), ROLL_PAGE),
    }
}

/// The map pages, at least one; every sheet is told the page on which it is printed.
pub fn pages(patterns: &[Pattern], tiled: &mut [Option<TiledPattern>], setup: &Setup) -> Vec<Page> {
    let (width, height) = first_page(setup.shop);
    let (x, y) = correction(setup.shop, (width, height));
    let area = first_area(setup.shop);
    let (first, top) = instructions(area, setup, tiled);
    let room = area.width() - BAR_ROOM + GAP;
    let columns = (room / (NARROWEST + GAP)).floor().max(1.0) as usize;
    let wide = room / columns as f64 - GAP;
    let widest = widest_page(tiled);
    let planned = || patterns.iter().zip(tiled.iter()).filter_map(|(pattern, plan)| Some((pattern, plan.as_ref()?)));
    let pictures: Vec<Picture> = planned().map(|(pattern, plan)| picture_of(pattern, plan, wide, &widest)).collect();
    let heights = planned().zip(&pictures);
    let heights: Vec<f64> = heights.map(|(of, picture)| height_of(of, picture, setup, (wide, &widest))).collect();
    let (rows, count) = rows_of_maps(&heights, columns, area, top);
    number_sheets(tiled, count);
    let mut pages: Vec<Vec<Item>> = vec![Vec::new(); count];
    pages[0] = first;
    pages.iter_mut().skip(1).for_each(|page| page.push(title_over(area, setup)));
    let maps = patterns.iter().zip(tiled.iter()).filter_map(|(p, plan)| Some((p, plan.as_ref()?)));
    let maps: Vec<_> = maps.zip(&pictures).collect();
    for (row, maps) in rows.iter().zip(maps.chunks(columns)) {
        for (column, ((pattern, plan), picture)) in maps.iter().enumerate() {
            let x = area.x0 + BAR_ROOM + column as f64 * (wide + GAP);
            let area = Rect::new(x, row.top - row.high, x + wide, row.top);
            pages[row.page].extend(map(pattern, plan, picture, area, setup));
        }
    }
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

/// Says on the first page, in a line between its title and its bars, of what its print is.
pub fn tell_on_first(page: &mut Page, shop: &Shop, words: &str) {
    let area = first_area(shop);
    let (x, y) = correction(shop, (page.width, page.height));
    let at = Point::new(area.x0, area.y1 - TITLE - UNDER_TITLE);
    let told = item(Role::Caption, Text::new(at, SMALL, shorten(words, SMALL, area.width())));
    page.items.push(Item { shape: moved(&told.shape, Affine::scale_non_uniform(x, y)), ..told });
}

/// The title over the maps of a further page.
fn title_over(area: Rect, setup: &Setup) -> Item {
    let title = shorten(setup.title, HEADING, area.width());
    item(Role::Caption, Text::new(Point::new(area.x0 + BAR_ROOM, area.y1 - HEADING), HEADING, title))
}

/// A row of maps on a page.
struct Row {
    page: usize,
    top: f64,
    high: f64,
}

/// Where rows of so many maps of some heights stand, the first page from a height on, and how many pages that takes.
fn rows_of_maps(heights: &[f64], columns: usize, area: Rect, mut top: f64) -> (Vec<Row>, usize) {
    let (mut rows, mut page) = (Vec::new(), 0);
    for row in heights.chunks(columns) {
        let high = row.iter().copied().fold(0.0, f64::max);
        let fresh = area.y1 - if page == 0 { 0.0 } else { OVER };
        if top - high < area.y0 && top < fresh {
            page += 1;
            top = area.y1 - OVER;
        }
        rows.push(Row { page, top, high });
        top -= high + GAP;
    }
    (rows, page + 1)
}

/// Tells every sheet its page, the first behind so many.
fn number_sheets(tiled: &mut [Option<TiledPattern>], before: usize) {
    for (sheet, page) in tiled.iter_mut().flatten().flat_map(|plan| &mut plan.sheets).zip(before..) {
        sheet.page = page;
    }
}

/// How far under the line of the title words stand that say of what a print is, mm: below its letters, above the bar's name.
const UNDER_TITLE: f64 = 5.0;

/// From the upper edge of what is printed on the first page down to where its bars begin, mm: the title and the room below it.
const ABOVE_BARS: f64 = TITLE + 6.0 + SMALL + 6.0;

/// Where the bar that lies on the first page begins.
fn bars_at(area: Rect) -> Point {
    Point::new(area.x0 + 8.0, area.y1 - ABOVE_BARS)
}

/// The bars of the first page, that which lies and that which stands, where it is printed on so much of it.
fn bars_in(area: Rect) -> [Option<RuleBar>; 2] {
    let at = bars_at(area);
    [longest_bar(area.x1 - at.x), longest_bar(at.y - 8.0 - area.y0)]
}

/// What is printed on of the first page, mm before the printer's correction.
fn first_area(shop: &Shop) -> Rect {
    let (width, height) = first_page(shop);
    let (x, y) = correction(shop, (width, height));
    Rect::new(0.0, 0.0, width / x, height / y).inset(-shop.margin.mm())
}

/// The bars of the page that is printed first, that which lies and that which stands.
pub fn first_bars(shop: &Shop) -> [Option<RuleBar>; 2] {
    bars_in(first_area(shop))
}

/// The title, the rule bars and what to do, from the top of the page; returns where the maps may begin.
fn instructions(area: Rect, setup: &Setup, tiled: &[Option<TiledPattern>]) -> (Vec<Item>, f64) {
    let mut items = Vec::new();
    let title = shorten(setup.title, TITLE, area.width());
    items.push(item(Role::Caption, Text::new(Point::new(area.x0, area.y1 - TITLE), TITLE, title)));
    let (bars, own) = (bars_at(area), bars_in(area));
    let [lying, standing] = bar_names(setup.shop, first_page(setup.shop));
    items.extend(own[0].into_iter().flat_map(|bar| rule_bar(bar, lying, bars, false)));
    items.extend(own[1].into_iter().flat_map(|bar| {
        let zero = bars - Vec2::new(STANDS_LEFT, 8.0 + bar_length(bar));
        rule_bar(bar, standing, zero, true)
    }));
    let mut y = bars.y - 10.0;
    let left = area.x0 + BAR_ROOM;
    for (heading, words) in steps(setup, tiled, own) {
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

/// What bars must read, by whether they lie or stand.
pub fn must_read(bars: [Option<RuleBar>; 2], units: Units) -> String {
    let said = bars.into_iter().zip(["that lies", "that stands"]).filter_map(|(bar, which)| {
        let RuleBar { mm, inches } = bar?;
        Some(match units {
            // Its two rows are not of one length.
            Units::Mm => format!("on the bar {which} the mm row must read {mm} mm, the inch row {inches} in"),
            Units::Inch => format!("on the bar {which} the inch row must read {inches} in, the mm row {mm} mm"),
        })
    });
    said.collect::<Vec<_>>().join("; ")
}

/// How a reading is written down: the command, with a reading that a bar might give. `bars` are that which lies on the first page and
/// that which stands.
pub fn how_to_correct(bars: [Option<RuleBar>; 2], setup: &Setup) -> String {
    let Setup { shop, notation, .. } = setup;
    let names = bar_names(shop, first_page(shop));
    let written = names.into_iter().zip(bars).find_map(|(name, bar)| Some((name, bar?)));
    let Some((name, bar)) = written else { return String::new() };
    let off = bar.side(notation.units == Units::Inch) * SAMPLE;
    // The sign for inches would end the quotes.
    let reading = notation.exact(off).replace('"', " in");
    let other = names.into_iter().zip(bars).find(|(other, bar)| *other != name && bar.is_some());
    let other = other.map_or_else(String::new, |(other, _)| format!(" (or \"bar {other}=…\")"));
    let command = command_for(setup.readings_from);
    format!(
        "This print is corrected for no printer. If a bar reads {reading}, say, type  {command} \"bar {name}={reading}\"{other} and \
         print this page again. At each bar stands by which of the two names it is told: on a broad sheet \"bar across\" is the one that stands."
    )
}

/// What to do, in order: a heading and words. `own` are the bars of the first page.
fn steps(setup: &Setup, tiled: &[Option<TiledPattern>], own: [Option<RuleBar>; 2]) -> Vec<(String, String)> {
    let off = corrected_words(setup).unwrap_or_else(|| how_to_correct(own, setup));
    let mut read = must_read(own, setup.notation.units);
    if let Some(first) = read.get(..1).map(str::to_uppercase) {
        read.replace_range(..1, &first);
    }
    let seams = tiled.iter().flatten().any(|plan| !plan.seams.is_empty());
    let measured = tiled.iter().flatten().any(|plan| !plan.diagonals.is_empty());
    let mut numbered = vec![(
        "Print this page at 100 % (\"actual size\"), and lay a steel rule on its bars",
        format!("Never \"fit to page\". {read}. {off} Then print the rest on the same printer and paper."),
    )];
    if let Some(heading) = bars_of_sheets(tiled) {
        let crosses = if measured { " from ringed cross to ringed cross and" } else { "" };
        numbered.push((
            heading,
            format!(
                "Before you cut any of it away. After gluing down measure again,{crosses} on the bars of sheet 1-1: paper grows \
                 with glue and damp. Glue stick or spray on dry paper moves least."
            ),
        ));
    }
    if seams {
        numbered.push((
            "Trim and tape",
            "Sheets of one pattern begin with the same letters. Start with 1-1. Cut each further sheet along its solid lines \
             (\"cut\"; on the part from cross to cross), lay it over its neighbour so that crosses and names meet, a straightedge \
             along the datum line, tape. Do one row, then the next."
                .to_owned(),
        ));
        numbered.push((
            "Measure the two diagonals",
            "From ringed cross P to Q and from R to S, as said above each map. If one is long and the other \
             short, the tape-up has gone askew: part a seam and lay it again. If both are too long, or both too short, it is the paper or the \
             printer: type  fullsize shop --measured P-Q=… --measured R-S=… --of PATTERN  with what they read, and print anew."
                .to_owned(),
        ));
    }
    let numbered = numbered.into_iter().enumerate();
    let mut steps: Vec<(String, String)> =
        numbered.map(|(index, (heading, words))| (format!("{}  {heading}", index + 1), words)).collect();
    steps.push((
        "The middle of the solid line is the edge that the head of the sheet names.".to_owned(),
        "Cut beside it and work to it. Patterns say where to cut, not how to hold the work: keep hands clear, \
         wear eye and ear protection."
            .to_owned(),
    ));
    steps.push((
        "Every saw setting: one end in scrap first.".to_owned(),
        format!("In a {}. {}", cautions::COMPOUND.replace("crosscut:", "crosscut"), cautions::FIRST),
    ));
    steps
}

/// What is said of the bars on the sheets: both, or of one way only; nothing where no sheet has room for one.
fn bars_of_sheets(tiled: &[Option<TiledPattern>]) -> Option<&'static str> {
    let on_all = |way: usize| tiled.iter().flatten().all(|plan| plan.bars()[way].is_some());
    match (on_all(0), on_all(1)) {
        (true, true) => Some("Check the bars of every sheet"),
        (true, false) => Some("Check the bar that lies on every sheet"),
        (false, true) => Some("Check the bar that stands on every sheet"),
        (false, false) => None,
    }
}

/// What is said over a map under its heading, in lines of a width, mm: no size is broken or left away. Only the line that tells the pages is
/// set as it is, since they are not known before the maps are laid.
fn said_over(pattern: &Pattern, plan: &TiledPattern, setup: &Setup, wide: f64) -> Vec<String> {
    let measured = measured_when_taped(plan, setup).map_or_else(String::new, |diagonals| format!(" · {diagonals}"));
    let revision = format!("rev {}{measured}", pattern.part.revision);
    let mut lines = wrap(&pattern.make, SMALL, wide);
    lines.extend(wrap(&pattern.sizes, SMALL, wide));
    lines.push(sheets_needed(plan, setup));
    lines.extend(wrap(&revision, SMALL, wide));
    lines
}

/// How many lines there is room for in [`WORDS`].
const LINES: usize = 4;

/// Height of the words over a map, mm.
fn words_height(lines: &[String]) -> f64 {
    WORDS + lines.len().saturating_sub(LINES) as f64 * SMALL * LEADING
}

/// Height of a map with its words, mm.
fn height_of(
    (pattern, plan): (&Pattern, &TiledPattern),
    picture: &Picture,
    setup: &Setup,
    (wide, widest): (f64, &str),
) -> f64 {
    // A whole line below the last one's foot: its letters hang under that.
    let listed = match picture.listed(plan, wide, &|_| widest.to_owned()).len() {
        0 => 0.0,
        lines => (lines + 1) as f64 * SMALL * LEADING,
    };
    words_height(&said_over(pattern, plan, setup, wide)) + NUMBERS + picture.high + listed
}

/// One pattern's map and its words.
fn map(pattern: &Pattern, plan: &TiledPattern, picture: &Picture, area: Rect, setup: &Setup) -> Vec<Item> {
    let mut items = Vec::new();
    let mut y = area.y1 - HEADING;
    let mut put = |height: f64, words: &str| {
        let words = shorten(words, height, area.width());
        items.push(item(Role::Caption, Text::new(Point::new(area.x0, y), height, words)));
        y -= SMALL * LEADING;
    };
    let name = format!("{}: {}", pattern.part.code, pattern.part.name);
    let fits = Text::new(Point::ORIGIN, HEADING, name.as_str()).width() <= area.width();
    put(if fits { HEADING } else { SMALL }, &name);
    let lines = said_over(pattern, plan, setup, area.width());
    lines.iter().for_each(|line| put(SMALL, line));
    let corner = Point::new(area.x0, area.y1 - words_height(&lines));
    items.extend(picture.drawn(plan, corner));
    let mut low = corner.y - NUMBERS - picture.high - SMALL * LEADING;
    for line in picture.listed(plan, area.width(), &page_of) {
        items.push(item(Role::Caption, Text::new(Point::new(area.x0, low), SMALL, line)));
        low -= SMALL * LEADING;
    }
    items
}

/// What the diagonals must read, where there are any; their crosses by their last letters, since it is told of one pattern.
pub fn measured_when_taped(plan: &TiledPattern, setup: &Setup) -> Option<String> {
    let said: Vec<(String, String)> = plan
        .diagonals
        .iter()
        .map(|(a, b)| {
            let apart = setup.notation.length(Length::from_mm(a.at.distance(b.at)));
            let letter = |cross: &Cross| cross.name.chars().next_back().into_iter().collect::<String>();
            (format!("{} to {}", letter(a), letter(b)), apart)
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
            format!("{count} {sheets}, {name} {way}: {}", pages_of(plan))
        }
        Paper::Roll { width } => {
            format!("{count} {sheets} on a roll of {}: {}", setup.notation.length(*width), pages_of(plan))
        }
    }
}

/// The pages on which the sheets of a pattern are printed.
fn pages_of(plan: &TiledPattern) -> String {
    let numbers = || plan.sheets.iter().map(|sheet| sheet.page + 1);
    match (numbers().min(), numbers().max()) {
        (Some(first), Some(last)) if first < last => format!("pages {first} to {last}"),
        (Some(only), _) => format!("page {only}"),
        (None, _) => String::new(),
    }
}

/// A pattern's edges, small, over the outlines of its sheets, whose columns and rows are numbered at the edge; from its upper left corner.
struct Picture {
    items: Vec<Item>,
    /// Height without the numbers of the columns, mm.
    high: f64,
    /// Where the page of each sheet stands in its cell; `None` where it has no room there.
    pages_at: Vec<Option<Point>>,
}

/// What takes as much room as the page of any sheet: there is one map page a pattern at most behind the first.
fn widest_page(tiled: &[Option<TiledPattern>]) -> String {
    let most = 1 + tiled.iter().flatten().map(|plan| plan.sheets.len() + 1).sum::<usize>();
    format!("p{}", "0".repeat(most.to_string().len()))
}

impl Picture {
    /// The picture from a point right and down, with the page of each sheet that has room for it.
    fn drawn<'a>(&'a self, plan: &'a TiledPattern, corner: Point) -> impl Iterator<Item = Item> + 'a {
        let pages = plan.sheets.iter().zip(&self.pages_at).filter_map(|(sheet, at)| Some((sheet, (*at)?)));
        let pages = pages.map(|(sheet, at)| item(Role::Caption, Text::new(at, SMALL, page_of(sheet))));
        let to_page = Affine::translate(corner.to_vec2());
        self.items.iter().cloned().chain(pages).map(move |one| Item { shape: moved(&one.shape, to_page), ..one })
    }

    /// The pages of rows in which a sheet has no room for its own, in lines of a width, mm. They follow each other along a row.
    fn listed(&self, plan: &TiledPattern, wide: f64, page: &dyn Fn(&Sheet) -> String) -> Vec<String> {
        let without =
            plan.sheets.iter().zip(&self.pages_at).filter(|(_, at)| at.is_none()).map(|(sheet, _)| sheet.row);
        let mut rows: Vec<usize> = without.collect();
        rows.dedup();
        let told = |row: usize| {
            let own: Vec<&Sheet> = plan.sheets.iter().filter(|sheet| sheet.row == row).collect();
            match own[..] {
                [] => String::new(),
                [only] => format!("row {}: {}", row + 1, page(only)),
                [first, .., last] => format!("row {}: {} to {}", row + 1, page(first), page(last)),
            }
        };
        let told: Vec<String> = rows.into_iter().map(told).collect();
        wrap(&told.join(" · "), SMALL, wide)
    }
}

/// How a map tells the page of a sheet.
fn page_of(sheet: &Sheet) -> String {
    format!("p{}", sheet.page + 1)
}

/// A pattern's map of a width, mm.
fn picture_of(pattern: &Pattern, plan: &TiledPattern, wide: f64, widest: &str) -> Picture {
    let cells: Vec<_> = plan.sheets.iter().map(|s| ((s.row, s.column), plan.grid.cell(s.row, s.column))).collect();
    let all = cells.iter().map(|(_, cell)| *cell).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    let high = ((wide - NUMBERS) * all.height() / all.width().max(1.0)).min(HIGHEST);
    let area = Rect::new(NUMBERS, -NUMBERS - high, wide, -NUMBERS);
    let scale = (area.width() / all.width().max(1.0)).min(area.height() / all.height().max(1.0));
    let place = Affine::translate(Point::new(area.x0, area.y1) - Point::ORIGIN)
        * Affine::scale(scale)
        * Affine::translate(Point::ORIGIN - Point::new(all.x0, all.y1));
    let mut items = Vec::new();
    let empty: Vec<Rect> = empty_cells(plan).into_iter().map(|cell| place.transform_rect_bbox(cell)).collect();
    // A cell without a sheet the outlines of its neighbours would show as one.
    items.extend(empty.iter().map(|cell| {
        let shape = Shape::Fill { rings: vec![Path::rectangle(*cell)], grey: EMPTY_GREY };
        Item { role: Role::Caption, part: None, clip: None, shape }
    }));
    for (at, cell) in &cells {
        let cell = place.transform_rect_bbox(*cell);
        items.push(drawn(Path::rectangle(cell), Pen::solid(0.18)));
        items.extend(numbers(*at, cell, area));
    }
    // A sheet to set gauges by, or a rod, has no edge: it is known by its lines.
    let is_of_lines = matches!(pattern.solid, SolidLine::GaugeLine | SolidLine::RodMark);
    let is_shown =
        |role: Role| matches!(role, Role::Outline | Role::Opening | Role::Drill) || is_of_lines && role == Role::Mark;
    let edges = pattern.items.iter().filter(|item| is_shown(item.role));
    let edges: Vec<Item> = edges
        .filter_map(|one| match &one.shape {
            Shape::Stroke { path, .. } => Some(drawn(path.transformed(place), Pen::solid(0.35))),
            _ => None,
        })
        .collect();
    let mut shown = edges;
    for (a, b) in &plan.diagonals {
        shown.push(drawn(Path::line(place * a.at, place * b.at), Pen::dashed(0.18, &[2.0, 1.0])));
        for cross in [a, b] {
            let ring = Path::circle(place * cross.at, 0.8);
            let shape = Shape::Fill { rings: vec![ring], grey: 0.0 };
            shown.push(Item { role: Role::Caption, part: None, clip: None, shape });
        }
    }
    let ink = Ink::new(&shown);
    let pages_at =
        cells.iter().map(|(_, cell)| clear_place(place.transform_rect_bbox(*cell), &ink, widest)).collect();
    items.extend(empty.iter().filter_map(|cell| no_sheet(*cell, &ink)));
    items.extend(shown.iter().cloned());
    Picture { items, high, pages_at }
}

/// Cells between the sheets of a row or of a column for which there is no sheet, since nothing is drawn there.
fn empty_cells(plan: &TiledPattern) -> Vec<Rect> {
    let is_sheet = |row: usize, column: usize| plan.sheets.iter().any(|s| (s.row, s.column) == (row, column));
    let last = |of: fn(&Sheet) -> usize| plan.sheets.iter().map(of).max().unwrap_or(0);
    let (rows, columns) = (last(|sheet| sheet.row), last(|sheet| sheet.column));
    let is_between = |row: usize, column: usize| {
        let in_row = (0..column).any(|c| is_sheet(row, c)) && (column..=columns).any(|c| is_sheet(row, c));
        let in_column = (0..row).any(|r| is_sheet(r, column)) && (row..=rows).any(|r| is_sheet(r, column));
        in_row || in_column
    };
    let all = (0..=rows).flat_map(|row| (0..=columns).map(move |column| (row, column)));
    let empty = all.filter(|(row, column)| !is_sheet(*row, *column) && is_between(*row, *column));
    empty.map(|(row, column)| plan.grid.cell(row, column)).collect()
}

/// What stands in a cell without a sheet: the first that has room.
const EMPTY: [&str; 2] = ["none", "–"];

/// How grey such a cell is: light enough for the words in it.
const EMPTY_GREY: f64 = 0.85;

/// What a cell without a sheet says, where it has room.
fn no_sheet(cell: Rect, ink: &Ink) -> Option<Item> {
    let placed = |words: &str| Some(item(Role::Caption, Text::new(clear_place(cell, ink, words)?, SMALL, words)));
    EMPTY.into_iter().find_map(placed)
}

/// Where words stand in a cell of a map, clear of the pattern's edges and of the diagonals.
fn clear_place(cell: Rect, ink: &Ink, words: &str) -> Option<Point> {
    let room = Vec2::new(Text::new(Point::ORIGIN, SMALL, words).width() + 1.0, SMALL * LEADING);
    let mut squares = Squares::of(cell);
    ink.take(&mut squares, 0.0);
    let at = squares.vacant().place(room)?;
    Some(at + Vec2::new(0.5, 0.3 * SMALL + 0.4))
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
