//! What a sheet says of itself where its edges are cut away: its code, part and revision, its page, what its solid line is, a short bar,
//! and where it lies among the sheets of its pattern.

use super::furniture::{SMALL, line};
use super::tile::{Sheet, TiledPattern};
use super::vacant::Vacant;
use super::words::{LEADING, item, wrap};
use crate::geometry::{Affine, Path, Point, Rect, Vec2};
use crate::page::{Item, Part, Pen, Role, Shape, Text};
use crate::units::{MM_PER_INCH, Units};
use std::f64::consts::FRAC_PI_2;

/// Heights of the code in the full stamp and in the short ones, mm.
const LARGE: f64 = 5.0;
const MIDDLE: f64 = 3.5;

/// Clear room round a stamp, mm.
const CLEAR: f64 = 1.5;

/// Widths to which words are broken into lines, mm: in the full stamp, and in a small one.
const WIDE: f64 = 42.0;
const NARROW: f64 = 24.0;

/// Longest side of the thumbnail, mm.
const THUMBNAIL: f64 = 20.0;

/// The smallest cell of a thumbnail that is drawn for itself, mm.
const CELL: f64 = 1.2;

/// Width of the thumbnail's and the bar's lines, mm, and the shade of the sheet itself.
const THIN: f64 = 0.18;
const SHADE: f64 = 0.35;

/// Between the bar and the words over it, and height of its end ticks, mm.
const BAR_OFF: f64 = 1.5;
const TICK: f64 = 2.0;

/// A sheet of which something is to be said.
pub struct Stamped<'a> {
    /// Whose it is.
    pub part: &'a Part,
    /// All sheets of the pattern.
    pub plan: &'a TiledPattern,
    /// The one.
    pub sheet: &'a Sheet,
    /// How many pages are printed.
    pub pages: usize,
    /// What the bar measures.
    pub units: Units,
    /// What its solid line is, or what the whole is in place of a pattern.
    pub solid: String,
    /// The project's title, where the sheet's head has no room for it.
    pub title: Option<&'a str>,
}

impl Stamped<'_> {
    /// The fullest stamp that stands clear of everything, level or upright; nothing where not even the code has room. What the solid
    /// line is stands apart from a stamp that has no room for it. `vacant` is the room beside what was set down already.
    pub fn placed(&self, vacant: &dyn Fn(&[Item]) -> Vacant) -> Vec<Item> {
        let whole: [&dyn Fn() -> Block; 4] =
            [&|| self.full(true), &|| self.full(false), &|| self.one_line(), &|| self.code_and_page()];
        let short: [&dyn Fn() -> Block; 3] = [
            &|| Block::default().words(SMALL, &self.page()),
            &|| Block::default().words(MIDDLE, &self.sheet.code()),
            &|| Block::default().words(SMALL, &self.sheet.code()),
        ];
        let room = vacant(&[]);
        if let Some(items) = whole.iter().find_map(|form| form().placed(&room)) {
            return items;
        }
        let mut items = short.iter().find_map(|form| form().placed(&room)).unwrap_or_default();
        let room = vacant(&items);
        items.extend(self.solid_forms().iter().find_map(|block| block.placed(&room)).unwrap_or_default());
        items
    }

    /// What the solid line is, in one line or in as narrow ones as can be.
    fn solid_forms(&self) -> Vec<Block> {
        let lines = |width: f64| {
            wrap(&self.solid(), SMALL, width).iter().fold(Block::default(), |block, line| block.words(SMALL, line))
        };
        [f64::INFINITY, WIDE, NARROW].map(lines).to_vec()
    }

    fn solid(&self) -> String {
        self.solid.clone()
    }

    fn page(&self) -> String {
        format!("{}, page {}", self.sheet.code(), self.sheet.page + 1)
    }

    fn of_pages(&self) -> String {
        format!("page {} of {}", self.sheet.page + 1, self.pages)
    }

    fn revision(&self) -> String {
        if self.part.revision.is_empty() { String::new() } else { format!("rev {}", self.part.revision) }
    }

    /// Everything, the thumbnail at the left where it is wanted and there are several sheets.
    fn full(&self, thumbnail: bool) -> Block {
        let mut block = Block::default().words(LARGE, &self.sheet.code());
        for name in wrap(&self.part.name, SMALL, WIDE) {
            block = block.words(SMALL, &name);
        }
        let title = self.title.unwrap_or_default();
        let said = [self.revision(), self.of_pages(), self.solid(), title.to_owned()];
        for line in said.iter().flat_map(|said| wrap(said, SMALL, WIDE)) {
            block = block.words(SMALL, &line);
        }
        let block = block.bar(self.units);
        if thumbnail && self.plan.sheets.len() > 1 { block.beside(&self.thumbnail()) } else { block }
    }

    /// Everything but bar and thumbnail, for a narrow strip.
    fn one_line(&self) -> Block {
        let said = [self.sheet.code(), self.part.name.clone(), self.revision(), self.of_pages(), self.solid()];
        let said: Vec<String> = said.into_iter().filter(|said| !said.is_empty()).collect();
        Block::default().words(SMALL, &said.join(" · "))
    }

    fn code_and_page(&self) -> Block {
        let lines = [self.of_pages()].into_iter().chain(wrap(&self.solid(), SMALL, NARROW));
        lines.fold(Block::default().words(MIDDLE, &self.sheet.code()), |block, line| block.words(SMALL, &line))
    }

    /// The sheets of the pattern, small, this one filled in: each for itself, or row by row where they would be too small.
    fn thumbnail(&self) -> Block {
        let cell = |sheet: &Sheet| self.plan.grid.cell(sheet.row, sheet.column);
        let cells: Vec<((usize, usize), Rect)> =
            self.plan.sheets.iter().map(|sheet| ((sheet.row, sheet.column), cell(sheet))).collect();
        let Some(all) = cells.iter().map(|(_, cell)| *cell).reduce(|a, b| a.union(b)) else {
            return Block::default();
        };
        let scale = THUMBNAIL / all.width().max(all.height());
        let to_block = Affine::scale(scale) * Affine::translate(-all.origin().to_vec2());
        let smallest =
            |side: fn(&Rect) -> f64| cells.iter().map(|(_, cell)| side(cell)).fold(f64::MAX, f64::min) * scale;
        let frames: Vec<Rect> = match (smallest(Rect::width) >= CELL, smallest(Rect::height) >= CELL) {
            (true, true) => cells.iter().map(|(_, cell)| *cell).collect(),
            (_, true) => runs(&cells),
            _ => vec![all],
        };
        let own = to_block.transform_rect_bbox(cell(self.sheet));
        let fill = Shape::Fill { rings: vec![Path::rectangle(own)], grey: SHADE };
        let mut items = vec![Item { role: Role::Caption, part: None, clip: None, shape: fill }];
        items.extend(frames.into_iter().map(|frame| {
            let path = Path::rectangle(to_block.transform_rect_bbox(frame));
            Item::stroke(Role::Caption, path, Pen::solid(THIN))
        }));
        Block { size: all.size().to_vec2() * scale, items }
    }
}

/// Neighbouring cells of a row as one.
fn runs(cells: &[((usize, usize), Rect)]) -> Vec<Rect> {
    let mut runs: Vec<((usize, usize), Rect)> = Vec::new();
    for ((row, column), cell) in cells.iter().copied() {
        match runs.last_mut() {
            Some((last, run)) if *last == (row, column.wrapping_sub(1)) => {
                (*last, *run) = ((row, column), run.union(cell))
            }
            _ => runs.push(((row, column), cell)),
        }
    }
    runs.into_iter().map(|(_, run)| run).collect()
}

/// Lines of words and what stands with them, level, from its lower left corner at the origin.
#[derive(Debug, Clone, Default)]
struct Block {
    size: Vec2,
    items: Vec<Item>,
}

impl Block {
    /// With everything moved up and a line of words beneath.
    fn words(self, height: f64, said: &str) -> Block {
        let lead = if self.items.is_empty() { 0.0 } else { (LEADING - 1.0) * height };
        // Descenders hang under the base line.
        let under = 0.3 * height;
        let text = Text::new(Point::new(0.0, under), height, said);
        let (wide, shift) = (text.width(), height + under + lead);
        let raised = if self.items.is_empty() { height + under } else { shift };
        let mut items: Vec<Item> = self.items.into_iter().map(|one| lifted(one, Vec2::new(0.0, raised))).collect();
        items.push(item(Role::Caption, text));
        Block { size: Vec2::new(self.size.x.max(wide), self.size.y + raised), items }
    }

    /// With a bar of 20 mm or 1 in beneath, its length at its end.
    fn bar(self, units: Units) -> Block {
        let (long, said) = match units {
            Units::Mm => (20.0, "20 mm"),
            Units::Inch => (MM_PER_INCH, "1 in"),
        };
        let raised = SMALL + BAR_OFF;
        let mut items: Vec<Item> = self.items.into_iter().map(|one| lifted(one, Vec2::new(0.0, raised))).collect();
        let middle = SMALL / 2.0;
        let mut put = |from: (f64, f64), to: (f64, f64)| {
            items.push(line(Role::Scale, from.into(), to.into(), Pen::solid(THIN)));
        };
        put((0.0, middle), (long, middle));
        for end in [0.0, long] {
            put((end, middle - TICK / 2.0), (end, middle + TICK / 2.0));
        }
        let text = Text::new(Point::new(long + 1.5, 0.0), SMALL, said);
        let wide = self.size.x.max(long + 1.5 + text.width());
        items.push(item(Role::Scale, text));
        Block { size: Vec2::new(wide, self.size.y + raised), items }
    }

    /// With a picture left of it, their upper edges level.
    fn beside(self, picture: &Block) -> Block {
        let high = self.size.y.max(picture.size.y);
        let off = picture.size.x + 2.0;
        let left = picture.items.iter().cloned().map(|one| lifted(one, Vec2::new(0.0, high - picture.size.y)));
        let right = self.items.into_iter().map(|one| lifted(one, Vec2::new(off, high - self.size.y)));
        Block { size: Vec2::new(off + self.size.x, high), items: left.chain(right).collect() }
    }

    /// Its items where it has room, level or upright.
    fn placed(&self, vacant: &Vacant) -> Option<Vec<Item>> {
        [false, true].into_iter().find_map(|upright| {
            let Vec2 { x, y } = self.size;
            let turned = if upright { Vec2::new(y, x) } else { Vec2::new(x, y) };
            let room = turned + Vec2::new(2.0, 2.0) * CLEAR;
            let corner = vacant.place(room)? + Vec2::new(CLEAR, CLEAR);
            Some(self.at(corner, upright))
        })
    }

    /// Its items where its lower left corner stands at a point; turned a quarter to the left where it stands upright.
    fn at(&self, corner: Point, upright: bool) -> Vec<Item> {
        let (turn, shift) = if upright { (FRAC_PI_2, Vec2::new(self.size.y, 0.0)) } else { (0.0, Vec2::ZERO) };
        let place = Affine::translate(corner.to_vec2() + shift) * Affine::rotate(turn);
        let moved = |one: &Item| Item { shape: turned(&one.shape, place, turn), ..one.clone() };
        self.items.iter().map(moved).collect()
    }
}

fn lifted(one: Item, by: Vec2) -> Item {
    Item { shape: turned(&one.shape, Affine::translate(by), 0.0), ..one }
}

/// A shape moved by a map that turns by an angle.
fn turned(shape: &Shape, map: Affine, turn: f64) -> Shape {
    match super::ink::moved(shape, map) {
        Shape::Text(text) => Shape::Text(text.turned(turn)),
        other => other,
    }
}
