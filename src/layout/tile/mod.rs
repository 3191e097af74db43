//! Patterns on sheets that tape up true.

mod page;

use super::candidates::{correction, page_sizes};
use super::checks::{Around, diagonals};
use super::covered::uncovered;
use super::datum::Datums;
use super::furniture::{LEFT_BAND, TOP_BAND, check_cross, longest_bar};
use super::grid::Grid;
use super::ink::Ink;
use super::lettering::{Furniture, lettered, lines};
use super::map;
use super::seams::{Cross, Seam, seams};
use crate::geometry::{Affine, Path, Point, Rect, Segment, Vec2};
use crate::model::{Paper, ReadingsFrom, RuleBar, Shop};
use crate::page::{Document, Item, Page, Pen, Role, Shape};
use crate::pattern::Pattern;
use crate::units::Notation;
use page::{Print, crosses_of, datum_lines, draw};

/// Width of the strip along a seam that words keep out of, mm, so that the cut does not touch them.
const SEAM_CLEAR: f64 = 1.0;

/// Width and height of what words leave to a check cross, mm.
const CROSS_ROOM: (f64, f64) = (9.0, 9.0);

/// A straight line of the pattern that runs along a seam as near as this, mm, or nearer, is taken for it, and cut.
const BESIDE: f64 = 10.0;

/// Shorter stretches of lines beside a seam, mm, are taken for none.
const LONG: f64 = 50.0;

/// By how much more sheets may overlap, mm, where that brings seams off lines of the part.
const MORE_OVERLAP: [f64; 6] = [3.0, 6.0, 9.0, 12.0, 16.0, 20.0];

/// How many places of a grid are tried on either side of the middle, both ways.
const SHIFTS: u32 = 50;

/// What the sheets are made for.
#[derive(Debug, Clone)]
pub struct Setup<'a> {
    /// The paper, its margins and the printer's error.
    pub shop: &'a Shop,
    /// How numbers are written.
    pub notation: Notation,
    /// The project's title.
    pub title: &'a str,
    /// Where the readings of its printer come from.
    pub readings_from: Option<&'a ReadingsFrom>,
}

/// One sheet of a pattern.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Row, from 0 at the top.
    pub row: usize,
    /// Column, from 0 at the left.
    pub column: usize,
    /// Index of its page in the document.
    pub page: usize,
    /// Maps the pattern to the page, mm to mm, the printer's correction included.
    pub to_page: Affine,
    /// What the page shows, on the page.
    pub clip: Rect,
    /// The code of its pattern.
    part: String,
}

impl Sheet {
    /// The code on the sheet: that of its pattern, row and column, counted from 1.
    pub fn code(&self) -> String {
        code(&self.part, (self.row, self.column))
    }
}

/// A pattern and the sheets it lies on.
#[derive(Debug, Clone, PartialEq)]
pub struct TiledPattern {
    /// Width and height of its pages, mm.
    pub page_size: (f64, f64),
    /// The grid of its sheets.
    pub grid: Grid,
    /// Its sheets in reading order.
    pub sheets: Vec<Sheet>,
    /// Where they meet.
    pub seams: Vec<Seam>,
    /// The diagonals to measure once the sheets are taped, each from cross to cross.
    pub diagonals: Vec<(Cross, Cross)>,
    /// The lines to hold a straightedge to.
    pub datums: Datums,
    /// The pattern's words where they stand on the sheets, with the leaders to what they are about.
    pub lettering: Vec<Item>,
    /// The pattern's lines as they are drawn: none on another.
    lines: Vec<Item>,
}

impl TiledPattern {
    /// The pattern's lines, and its words as they stand on the sheets.
    fn ink(&self) -> Ink<'_> {
        Ink::lettered(&self.lines, &self.lettering)
    }

    /// Whether a line of the pattern or a datum line runs through a rectangle.
    fn is_lined(&self, ink: &Ink, room: Rect) -> bool {
        let [rows, columns] = [&self.datums.rows, &self.datums.columns];
        let crossed = rows.iter().any(|y| (room.y0..=room.y1).contains(y))
            || columns.iter().any(|x| (room.x0..=room.x1).contains(x));
        crossed || ink.lines_touch(room)
    }

    /// Sets the pattern's words down on its sheets, clear of what stands on those.
    fn letter(&mut self, pattern: &Pattern) {
        let ink = Ink::new(lines(&pattern.items));
        let busy = |room: Rect| self.is_lined(&ink, room);
        let crosses = self.sheets.iter().flat_map(|sheet| crosses_of(self, sheet, &busy));
        let checks = self.diagonals.iter().flat_map(|(a, b)| [a, b]);
        let checks = checks.flat_map(|cross| {
            // Words in the corner of a cross would be taken for its name.
            let around = Path::rectangle(Rect::from_center_size(cross.at, CROSS_ROOM));
            let around = Item::stroke(Role::Registration, around, Pen::solid(0.0));
            check_cross(cross.at, &cross.name).into_iter().chain([around])
        });
        let firm: Vec<Item> = crosses.chain(checks).collect();
        let none = Ink::new(&[]);
        let datums = self.sheets.iter().flat_map(|sheet| {
            let window = self.grid.window(sheet.row, sheet.column);
            datum_lines(self, sheet, window).into_iter().flat_map(|line| line.pieces(&none)).collect::<Vec<Item>>()
        });
        let broken: Vec<Item> = datums.collect();
        let cells = self.sheets.iter().map(|sheet| self.grid.cell(sheet.row, sheet.column).inset(-SEAM_CLEAR));
        let furniture = Furniture { firm: &firm, broken: &broken };
        self.lettering = lettered(pattern, cells.collect(), &furniture);
    }

    /// The rule bars on each of its sheets, across and up: as long as the sheet allows, none on paper too small for one.
    pub fn bars(&self) -> [Option<RuleBar>; 2] {
        [self.grid.window.x, self.grid.window.y].map(longest_bar)
    }
}

/// Where everything went, in the order of the patterns.
#[derive(Debug, Clone, PartialEq)]
pub struct Manifest {
    /// One entry a pattern; `None` where its sheets could not be laid (the window is smaller than the overlap).
    pub patterns: Vec<Option<TiledPattern>>,
    /// How many pages come before the first sheet.
    pub map_pages: usize,
}

impl Manifest {
    /// How many pages there are in all.
    pub fn pages(&self) -> usize {
        self.map_pages + self.patterns.iter().flatten().map(|plan| plan.sheets.len()).sum::<usize>()
    }
}

/// The code of a pattern, row and column, counted from 1.
pub fn code(part: &str, (row, column): (usize, usize)) -> String {
    format!("{part} {}-{}", row + 1, column + 1)
}

/// Patterns with the sheets that each takes, counted and not drawn yet.
#[derive(Debug)]
pub struct Tiling<'a> {
    patterns: &'a [Pattern],
    setup: &'a Setup<'a>,
    /// An entry a pattern; `None` where its sheets cannot be laid.
    placed: Vec<Option<Placed>>,
}

/// The sheets of one pattern.
#[derive(Debug)]
struct Placed {
    page_size: (f64, f64),
    grid: Grid,
    /// Rows and columns of those on which something lies, with those that join them.
    kept: Vec<(usize, usize)>,
}

/// A job takes more sheets than may be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TooManySheets {
    /// How many it takes.
    pub sheets: usize,
}

impl<'a> Tiling<'a> {
    /// Finds the sheets that patterns take.
    pub fn of(patterns: &'a [Pattern], setup: &'a Setup<'a>) -> Tiling<'a> {
        Tiling { patterns, setup, placed: patterns.iter().map(|pattern| placed(pattern, setup)).collect() }
    }

    /// The same, where there are no more sheets than `most`.
    ///
    /// # Errors
    /// How many there are.
    pub fn within(self, most: Option<usize>) -> Result<Tiling<'a>, TooManySheets> {
        let sheets = self.sheets();
        if most.is_some_and(|most| sheets > most) { Err(TooManySheets { sheets }) } else { Ok(self) }
    }

    /// How many sheets patterns lie on; the pages before them are not counted.
    pub fn sheets(&self) -> usize {
        self.placed.iter().flatten().map(|placed| placed.kept.len()).sum()
    }

    /// For each pattern the maps to its pages, before any word is laid on them: one for each sheet in reading order. `None` where its
    /// sheets cannot be laid.
    pub fn to_pages(&self) -> impl Iterator<Item = Option<Vec<Affine>>> + '_ {
        let maps = |placed: &Placed| {
            let kept = placed.kept.iter();
            kept.map(|(row, column)| to_page(placed.grid.window(*row, *column), placed.page_size, self.setup.shop))
                .collect()
        };
        self.placed.iter().map(move |placed| placed.as_ref().map(maps))
    }

    /// Draws a map page first, then each pattern's sheets in reading order.
    pub fn draw(self) -> (Document, Manifest) {
        let (patterns, setup) = (self.patterns, self.setup);
        let (mut pages, manifest) = self.laid();
        pages.extend(sheet_pages(patterns, &manifest, setup));
        let parts = patterns.iter().map(|pattern| pattern.part.clone()).collect();
        (Document { title: setup.title.to_owned(), parts, pages }, manifest)
    }

    /// The map pages, and where every sheet lies behind them: [`sheet_pages`] draws those.
    pub fn laid(self) -> (Vec<Page>, Manifest) {
        let Tiling { patterns, setup, placed } = self;
        let planned = patterns.iter().zip(placed).map(|(pattern, placed)| Some(plan(pattern, placed?, setup)));
        let mut tiled: Vec<Option<TiledPattern>> = planned.collect();
        let maps = map::pages(patterns, &mut tiled, setup);
        let map_pages = maps.len();
        (maps, Manifest { patterns: tiled, map_pages })
    }
}

/// Each pattern's sheets in reading order, one drawn after the other: what was drawn need not be kept for the next.
pub fn sheet_pages<'a>(
    patterns: &'a [Pattern],
    manifest: &'a Manifest,
    setup: &'a Setup<'a>,
) -> impl Iterator<Item = Page> + 'a {
    let planned = patterns.iter().zip(&manifest.patterns).enumerate();
    let pages = manifest.pages();
    planned.filter_map(|(index, (pattern, plan))| Some((index, pattern, plan.as_ref()?))).flat_map(
        move |(index, pattern, plan)| {
            let ink = plan.ink();
            (0..plan.sheets.len())
                .map(move |number| draw(index, pattern, plan, number, &ink, &Print { setup, pages }))
        },
    )
}

/// Lays patterns on as many sheets as they take: a map page first, then each pattern's sheets in reading order.
pub fn tile(patterns: &[Pattern], setup: &Setup) -> (Document, Manifest) {
    Tiling::of(patterns, setup).draw()
}

/// Width and height of what one upright sheet shows of a pattern, mm; of a roll, as much as is wide.
pub fn sheet_window(shop: &Shop) -> Vec2 {
    let room = furniture(shop);
    let square = match &shop.paper {
        Paper::Sheet { .. } => Rect::ZERO,
        Paper::Roll { width } => Rect::new(0.0, 0.0, width.mm(), width.mm()),
    };
    let windows = page_sizes(shop, square, room).into_iter().map(|size| {
        let (width, height) = nominal(size, shop);
        Vec2::new(width - room.0, height - room.1)
    });
    windows.min_by(|a, b| a.x.total_cmp(&b.x)).unwrap_or(Vec2::ZERO)
}

/// Width and height of a page, mm, with its bars: that which lies and that which stands.
pub type PageBars = ((f64, f64), [Option<RuleBar>; 2]);

/// The pages on which patterns are laid with their bars; of a roll those of a short one.
pub fn sheet_bars(shop: &Shop) -> Vec<PageBars> {
    let room = furniture(shop);
    let bars = |size| {
        let (width, height) = nominal(size, shop);
        (size, [width - room.0, height - room.1].map(longest_bar))
    };
    page_sizes(shop, Rect::ZERO, room).into_iter().map(bars).collect()
}

/// The room round a page's window, mm on nominal paper: left and right, top and bottom.
fn furniture(shop: &Shop) -> (f64, f64) {
    (2.0 * shop.margin.mm() + LEFT_BAND, 2.0 * shop.margin.mm() + TOP_BAND)
}

/// The page's size before the printer's correction stretches what is drawn on it.
fn nominal(page_size: (f64, f64), shop: &Shop) -> (f64, f64) {
    let (x, y) = correction(shop, page_size);
    (page_size.0 / x, page_size.1 / y)
}

/// Chooses the way up that takes the fewest sheets, then where the fewest lines run beside a seam, then the least paper.
fn placed(pattern: &Pattern, setup: &Setup) -> Option<Placed> {
    let shop = setup.shop;
    let ink = Ink::new(pattern.items.iter());
    let room = furniture(shop);
    let placed = page_sizes(shop, pattern.bounds, room).into_iter().filter_map(|page_size| {
        let (width, height) = nominal(page_size, shop);
        let window = Vec2::new(width - room.0, height - room.1);
        let grid = settled(&pattern.items, pattern.bounds, (window, shop.overlap.mm()), &ink)?;
        let kept = grid.linked(&ink.cells(&grid));
        Some(Placed { page_size, grid, kept })
    });
    let lines = straight(&pattern.items);
    let paper = |placed: Placed| {
        let taken = (placed.kept.len(), beside(&lines, &placed.grid), placed.page_size.0 * placed.page_size.1);
        (taken, placed)
    };
    let least = placed.map(paper).min_by(|((sheets_a, beside_a, area_a), _), ((sheets_b, beside_b, area_b), _)| {
        sheets_a.cmp(sheets_b).then(beside_a.cmp(beside_b)).then(area_a.total_cmp(area_b))
    });
    least.map(|(_, placed)| placed)
}

/// Maps what a window shows to its page, mm to mm, the printer's correction included.
fn to_page(window: Rect, page_size: (f64, f64), shop: &Shop) -> Affine {
    let (_, height) = nominal(page_size, shop);
    let margin = shop.margin.mm();
    let corner = Point::new(margin + LEFT_BAND, height - margin - TOP_BAND);
    let (x, y) = correction(shop, page_size);
    Affine::scale_non_uniform(x, y) * Affine::translate(corner - Point::new(window.x0, window.y1))
}

/// Where sheets meet, what is measured across them, and where each lies.
fn plan(pattern: &Pattern, Placed { page_size, grid, kept }: Placed, setup: &Setup) -> TiledPattern {
    let shop = setup.shop;
    let ink = Ink::new(pattern.items.iter());
    let datums = Datums::of(&grid, &kept, &ink);
    let part = pattern.part.code.as_str();
    let seams = seams(part, &grid, &kept, &datums, &ink);
    let wood: Vec<&Path> = pattern.items.iter().filter_map(rim).collect();
    let around = Around { part, datums: &datums, seams: &seams, ink: &ink, wood: &wood };
    let diagonals = diagonals(&grid, &kept, &around);
    let sheets = kept.into_iter().map(|(row, column)| {
        let window = grid.window(row, column);
        let to_page = to_page(window, page_size, shop);
        let clip = to_page.transform_rect_bbox(window);
        Sheet { row, column, page: 0, to_page, clip, part: part.to_owned() }
    });
    let sheets = sheets.collect();
    let (lettering, lines) = (Vec::new(), uncovered(lines(&pattern.items)));
    let mut plan = TiledPattern { page_size, grid, sheets, seams, diagonals, datums, lettering, lines };
    plan.letter(pattern);
    plan
}

/// The closed line of an item that bounds wood, or paper that is stuck on wood.
fn rim(one: &Item) -> Option<&Path> {
    match &one.shape {
        Shape::Stroke { path, .. } if one.role == Role::Outline && path.is_closed() => Some(path),
        _ => None,
    }
}

/// Boxes of the straight lines of a pattern that run nearly up its sheets or across them.
fn straight(items: &[Item]) -> Vec<Rect> {
    let paths = items.iter().filter_map(|one| match &one.shape {
        Shape::Stroke { path, .. } => Some(path),
        Shape::Fill { .. } | Shape::Text(_) => None,
    });
    let lines = paths.flat_map(Path::segments).filter(|piece| matches!(piece, Segment::Line(_)));
    let boxes = lines.map(Segment::bounding_box);
    boxes.filter(|b| b.width().max(b.height()) > LONG && b.width().min(b.height()) < BESIDE).collect()
}

/// How many of some lines run beside a seam.
fn beside(lines: &[Rect], grid: &Grid) -> usize {
    let strips = grid.strips(2.0 * BESIDE);
    strips.map(|strip| lines.iter().filter(|line| runs_along(**line, strip)).count()).sum()
}

/// Whether a line runs along a strip of paper, upright or level, for longer than a mark does.
fn runs_along(line: Rect, strip: Rect) -> bool {
    let shared = line.intersect(strip);
    let (along, is_upright) = match strip.height() > strip.width() {
        true => (shared.height(), line.height() > line.width()),
        false => (shared.width(), line.width() > line.height()),
    };
    is_upright
        && line.x0 <= strip.x1
        && strip.x0 <= line.x1
        && line.y0 <= strip.y1
        && strip.y0 <= line.y1
        && along > LONG
}

/// The grid, moved within the room to spare so that as few straight lines as possible run beside a seam, seams cut through as few words
/// as possible and, of such places, as few as possible lie in what overlaps. Where seams run down the sheets and where they run across
/// do not depend on each other.
///
/// Where lines run beside a seam wherever the grid lies, its sheets overlap by a little more, if they are no more in number.
fn settled(items: &[Item], bounds: Rect, (window, overlap): (Vec2, f64), ink: &Ink) -> Option<Grid> {
    let lines = straight(items);
    let usual = moved_off(bounds, (window, overlap), &lines, ink)?;
    let count = |grid: &Grid| (grid.rows, grid.columns);
    let mut best = (beside(&lines, &usual), usual);
    for more in MORE_OVERLAP {
        if best.0 == 0 {
            break;
        }
        let grid =
            Grid::over(bounds, window, overlap + more, Vec2::ZERO).filter(|grid| count(grid) == count(&best.1));
        let grid = grid.and_then(|_| moved_off(bounds, (window, overlap + more), &lines, ink));
        if let Some((crowd, grid)) =
            grid.map(|grid| (beside(&lines, &grid), grid)).filter(|(crowd, _)| *crowd < best.0)
        {
            best = (crowd, grid);
        }
    }
    Some(best.1)
}

/// The grid, moved within the room to spare.
fn moved_off(bounds: Rect, (window, overlap): (Vec2, f64), lines: &[Rect], ink: &Ink) -> Option<Grid> {
    let words: Vec<Rect> = ink.words().collect();
    let on = |strips: &mut dyn Iterator<Item = Rect>| -> usize {
        strips.map(|strip| words.iter().filter(|words| words.overlaps(strip)).count()).sum()
    };
    let crowd = |shift: Vec2| {
        let grid = Grid::over(bounds, window, overlap, shift);
        grid.map_or((0, 0, 0), |grid| {
            (beside(lines, &grid), on(&mut grid.strips(SEAM_CLEAR)), on(&mut grid.strips(overlap)))
        })
    };
    let off = (1..=SHIFTS).flat_map(|k| [-0.5, 0.5].map(|side| 0.5 + side * f64::from(k) / f64::from(SHIFTS)));
    let shares: Vec<f64> = [0.5].into_iter().chain(off).collect();
    let x = shares.iter().copied().min_by_key(|x| crowd(Vec2::new(*x, 0.5)))?;
    let y = shares.iter().copied().min_by_key(|y| crowd(Vec2::new(x, *y)))?;
    Grid::over(bounds, window, overlap, Vec2::new(x, y))
}
