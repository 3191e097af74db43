//! The sheets of a pattern with all that stands on them, on which words are set down.

use super::block::Block;
use super::leader;
pub use super::leader::CLEAR;
use crate::geometry::{BoxTree, Path, PathIndex, Point, Rect, Region, Vec2};
use crate::page::{Item, Role, Room, Shape, Standing, Text, apart, corners};
use std::cell::Cell;
use std::collections::BTreeMap;

/// Least room round words that stay where they were wished, mm: more than half the widest line.
const TIGHT: f64 = 0.4;

/// A line this near to a sheet is seen on it, mm: words keep off its seams by a little.
const AT_SEAM: f64 = 1.5;

/// How many places of words of one pattern are asked about one by one.
const MOST_ASKED: usize = 300_000;

/// In how many steps to a radian directions of words are told apart.
const DIRECTIONS: f64 = 1e6;

/// How far from what a leader is about lines may lie in its way, mm: the line that it points at.
const LEADER_START: f64 = 1.0;

/// Which room is meant: of a sheet, for words in a direction, within one of the outlines or anywhere.
type Asked = (usize, i64, Option<usize>);

/// The sheets and what stands on them.
pub struct Desk {
    sheets: Vec<Rect>,
    /// What is cut out, and what it encloses: first the part.
    rings: Vec<(Path, Region)>,
    /// What words keep off, over whose boxes stands a tree.
    lines: Vec<Obstacle>,
    tree: BoxTree,
    standing: Standing,
    /// Around the words that were set down.
    set: Vec<Path>,
    /// The rooms asked for so far, each with how many of the set words it knows.
    rooms: BTreeMap<Asked, (Option<Room>, usize)>,
    /// Sizes for which they had no room: more that stands leaves no more.
    full: BTreeMap<Asked, Vec<Vec2>>,
    /// How many places were asked about so far.
    asked: Cell<usize>,
}

/// A line that words keep off, and whether they keep out of what it encloses.
struct Obstacle {
    path: Path,
    /// Of an opening, which is cut out.
    is_opening: bool,
}

impl Desk {
    /// Sheets, as far as words may stand on them, and the lines on them, in the pattern's millimetres. The first line is the part's
    /// outline if it is closed.
    pub fn new<'a>(sheets: Vec<Rect>, items: &'a [Item], furniture: impl IntoIterator<Item = &'a Item>) -> Desk {
        let rings = cut_out(items).into_iter().map(|path| (path.clone(), Region::of(std::slice::from_ref(path))));
        let mut desk = Desk {
            sheets,
            rings: rings.collect(),
            lines: Vec::new(),
            tree: BoxTree::new(Vec::new()),
            standing: Standing::default(),
            set: Vec::new(),
            rooms: BTreeMap::new(),
            full: BTreeMap::new(),
            asked: Cell::new(0),
        };
        let mut is_first = true;
        for item in items.iter().filter(|item| !matches!(item.shape, Shape::Text(_))) {
            desk.keep_off(item, item.role == Role::Opening && !std::mem::take(&mut is_first));
        }
        for item in furniture {
            desk.keep_off(item, false);
        }
        desk.tree = BoxTree::new(desk.lines.iter().filter_map(|line| line.path.bounding_box()).collect());
        desk
    }

    /// Before any room is asked for.
    fn keep_off(&mut self, item: &Item, is_opening: bool) {
        self.standing.add(item);
        let paths = match &item.shape {
            Shape::Stroke { path, .. } => vec![path.clone()],
            Shape::Fill { rings, .. } => rings.clone(),
            Shape::Text(text) => around(text).into_iter().collect(),
        };
        let paths = paths.into_iter().filter(|path| path.bounding_box().is_some());
        self.lines.extend(paths.map(|path| Obstacle { path, is_opening }));
    }

    /// Keeps off more lines from now on, which words that stand already may cover.
    pub fn keep_off_too(&mut self, items: &[Item]) {
        items.iter().for_each(|item| self.keep_off(item, false));
        self.tree = BoxTree::new(self.lines.iter().filter_map(|line| line.path.bounding_box()).collect());
        self.rooms.clear();
    }

    /// How many sheets there are.
    pub fn count(&self) -> usize {
        self.sheets.len()
    }

    /// A sheet.
    pub fn sheet(&self, index: usize) -> Rect {
        self.sheets.get(index).copied().unwrap_or_default()
    }

    /// The outlines of what is cut out, the part's first.
    pub fn rings(&self) -> impl Iterator<Item = &Path> {
        self.rings.iter().map(|(path, _)| path)
    }

    /// As much as is seen on a sheet: what lies on its seams too.
    pub fn seen(&self, index: usize) -> Rect {
        self.sheet(index).inflate(AT_SEAM, AT_SEAM)
    }

    /// Around one of the outlines.
    pub fn around(&self, ring: usize) -> Option<Rect> {
        self.rings.get(ring).and_then(|(path, _)| path.bounding_box())
    }

    /// Whether a point lies within one of the outlines.
    pub fn is_within(&self, ring: usize, at: Point) -> bool {
        self.rings.get(ring).is_some_and(|(_, region)| region.holds(at))
    }

    /// The sheets, those nearest to a point first.
    pub fn from(&self, at: Point) -> Vec<usize> {
        let off = |sheet: &Rect| {
            let dx = (sheet.x0 - at.x).max(at.x - sheet.x1).max(0.0);
            let dy = (sheet.y0 - at.y).max(at.y - sheet.y1).max(0.0);
            dx.hypot(dy) + sheet.center().distance(at) * 1e-3
        };
        let mut order: Vec<usize> = (0..self.sheets.len()).collect();
        order.sort_by(|a, b| off(&self.sheets[*a]).total_cmp(&off(&self.sheets[*b])));
        order
    }

    /// The sheet on which words stand whole.
    pub fn sheet_of(&self, texts: &[Text]) -> Option<usize> {
        let around = texts.iter().map(Text::bounding_box).reduce(|a, b| a.union(b))?;
        self.sheet_of_rect(around)
    }

    /// The sheet on which a rectangle lies whole.
    pub fn sheet_of_rect(&self, around: Rect) -> Option<usize> {
        self.sheets.iter().position(|sheet| sheet.contains_rect(around))
    }

    /// Whether the sheet of words shows something of the line that they are about.
    pub fn shows(&self, path: &Path, texts: &[Text]) -> bool {
        let own = self.sheet_of(texts).map(|sheet| self.seen(sheet));
        own.is_some_and(|sheet| PathIndex::new(path).touches(sheet))
    }

    /// Whether words touch nothing, and on which one sheet they stand then; of a crowd of words no more than [`MOST_ASKED`] places are
    /// asked about one by one, and what is left goes where a sheet has room.
    pub fn fits(&self, texts: &[Text]) -> Option<usize> {
        if self.asked.replace(self.asked.get() + 1) > MOST_ASKED {
            return None;
        }
        let sheet = self.sheet_of(texts)?;
        texts.iter().all(|text| self.standing.fits(text, CLEAR)).then_some(sheet)
    }

    /// The same, as near to lines as words may come.
    pub fn fits_tightly(&self, texts: &[Text]) -> Option<usize> {
        let sheet = self.sheet_of(texts)?;
        texts.iter().all(|text| self.standing.fits(text, TIGHT)).then_some(sheet)
    }

    /// Whether all corners of words lie within one of the outlines.
    pub fn holds(&self, ring: usize, texts: &[Text]) -> bool {
        texts.iter().flat_map(corners).all(|corner| self.is_within(ring, corner))
    }

    /// Whether two points lie within the same outlines, or outside all.
    pub fn is_on_one_side(&self, a: Point, b: Point) -> bool {
        (0..self.rings.len()).all(|ring| self.is_within(ring, a) == self.is_within(ring, b))
    }

    /// What stands on the sheets.
    pub fn standing(&self) -> &Standing {
        &self.standing
    }

    /// Whether a leader crosses some line, from what it is about.
    pub fn is_crossed(&self, from: Point, to: Point) -> bool {
        let along = to - from;
        let start = from + along * (LEADER_START / along.hypot()).min(1.0);
        self.standing.crosses(start, to, TIGHT)
    }

    /// Whether a leader runs clear of all words and along no line.
    pub fn may_lead(&self, from: Point, to: Point) -> bool {
        leader::may_lead(&self.standing, from, to)
    }

    /// Sets words down.
    pub fn set(&mut self, texts: &[Text]) {
        for text in texts {
            self.standing.add_words(text);
            self.set.extend(around(text));
        }
    }

    /// Draws a line that words keep off.
    pub fn draw(&mut self, item: &Item) {
        self.standing.add(item);
        if let Shape::Stroke { path, .. } = &item.shape {
            self.set.push(path.clone());
        }
    }

    /// Whether lines come near nothing that stands.
    pub fn is_clear_of(&self, items: &[Item]) -> bool {
        let paths = items.iter().filter_map(|item| match &item.shape {
            Shape::Stroke { path, .. } => Some(path),
            Shape::Fill { .. } | Shape::Text(_) => None,
        });
        let mut pieces = paths.flat_map(Path::segments);
        pieces.all(|piece| !self.standing.crosses(piece.start(), piece.end(), TIGHT))
    }

    /// Where on a sheet a block finds room, as near to a wish as can be: its lines running so, within one
    /// of the outlines or anywhere.
    pub fn room_for(
        &mut self,
        sheet: usize,
        block: &Block,
        (angle, within): (f64, Option<usize>),
        wish: Point,
    ) -> Option<Vec<Text>> {
        let size = block.size + 2.0 * Vec2::new(CLEAR, CLEAR);
        let texts = block.at(self.room_of(sheet, size, (angle, within), wish)?, angle);
        self.fits_tightly(&texts).map(|_| texts)
    }

    /// The middle of room of a size, mm, on a sheet, as near to a wish as can be.
    pub fn room_of(
        &mut self,
        sheet: usize,
        size: Vec2,
        (angle, within): (f64, Option<usize>),
        wish: Point,
    ) -> Option<Point> {
        let asked = (sheet, (angle * DIRECTIONS).round() as i64, within);
        if self.full.get(&asked).is_some_and(|sizes| sizes.iter().any(|full| full.x <= size.x && full.y <= size.y)) {
            return None;
        }
        let found = self.room(asked, angle)?.place(size.x, size.y, wish);
        if found.is_none() {
            let known = self.full.entry(asked).or_default();
            known.retain(|full| full.x < size.x || full.y < size.y);
            known.push(size);
        }
        found
    }

    /// The room on a sheet, all that stands there taken.
    fn room(&mut self, asked: Asked, angle: f64) -> Option<&mut Room> {
        let (sheet, _, within) = asked;
        if !self.rooms.contains_key(&asked) {
            let fresh = self.fresh(sheet, angle, within);
            self.rooms.insert(asked, (fresh, 0));
        }
        let (room, known) = self.rooms.get_mut(&asked)?;
        let room = room.as_mut()?;
        let own = self.sheets.get(sheet).copied().unwrap_or_default();
        let is_here = |rim: &&Path| rim.bounding_box().is_some_and(|around| around.overlaps(own));
        self.set.iter().skip(*known).filter(is_here).for_each(|rim| room.take(rim));
        *known = self.set.len();
        Some(room)
    }

    fn fresh(&self, sheet: usize, angle: f64, within: Option<usize>) -> Option<Room> {
        let sheet = self.sheets.get(sheet)?;
        let mut room = Room::on_sheet(*sheet, angle)?;
        if let Some(ring) = within {
            room.keep_within(&self.rings.get(ring)?.0);
        }
        for line in self.tree.meeting(*sheet).filter_map(|index| self.lines.get(index)) {
            match line.is_opening {
                true => room.take(&line.path),
                false => room.take(&Path::open(line.path.segments().to_vec())),
            }
        }
        Some(room)
    }
}

/// What other words keep out of: words that stand, and on their line a little more.
fn around(text: &Text) -> Option<Path> {
    Block::of(vec![text.clone()]).map(|block| block.widened(apart(text)).rim())
}

/// The closed outlines that no other encloses; first the first line, where it is closed. What lies within an opening is cut out by itself.
fn cut_out(items: &[Item]) -> Vec<&Path> {
    let mut strokes = items.iter().filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => Some((item.role, path)),
        Shape::Fill { .. } | Shape::Text(_) => None,
    });
    let first = strokes.next().filter(|(_, path)| path.is_closed());
    let is_opening = first.is_some_and(|(role, _)| role == Role::Opening);
    let first = first.map(|(_, path)| path);
    let outlines = strokes.filter(|(role, path)| *role == Role::Outline && path.is_closed()).map(|(_, path)| path);
    let all: Vec<(&Path, Rect)> =
        first.into_iter().chain(outlines).filter_map(|path| Some((path, path.bounding_box()?))).collect();
    let is_inner = |own: usize| {
        let within = |(other, (_, around)): (usize, &(&Path, Rect))| {
            let encloses = around.contains_rect(all[own].1) && (other < own || *around != all[own].1);
            other != own && encloses && !(other == 0 && is_opening)
        };
        all.iter().enumerate().any(within)
    };
    (0..all.len()).filter(|own| !is_inner(*own)).map(|own| all[own].0).collect()
}
