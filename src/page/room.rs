//! Finding room for words on a part or a sheet, clear of lines.

use crate::geometry::{Affine, Path, Point, Rect, Segment, Vec2};
use crate::tolerance::ROUNDED_SHARE;

/// Cells along the longer side of the search grid: at 3 m a cell is 15 mm, and short parts get fine cells.
const CELLS: f64 = 200.0;

/// Cells of a sheet, at most: on A4 they are 1 mm, on a strip of a roll 3 m long 4 mm.
const SHEET_CELLS: f64 = 160_000.0;

/// The finest cell worth searching, mm.
const FINEST: f64 = 1.0;

/// What is farther by this is, whatever rounding adds.
const FARTHER: f64 = 1.0 + ROUNDED_SHARE;

/// Points by which a curved segment is followed: far finer than a cell for any curve shorter than the grid is wide.
const CURVE_STEPS: usize = 32;

/// The free room of a part or of a sheet seen in a frame turned by an angle: which cells words may cover.
#[derive(Debug, Clone)]
pub struct Room {
    turned: Affine,
    origin: Point,
    cell: f64,
    columns: usize,
    rows: usize,
    blocked: Vec<bool>,
    /// How many cells are blocked below and left of each corner, once asked for.
    sums: Option<Vec<u32>>,
}

impl Room {
    /// The room inside a ring and clear of obstacles, open lines or closed blocks (all in the pattern's millimetres), for words along `angle`
    /// (radians). `None` for an empty ring.
    pub fn new(ring: &Path, obstacles: &[Path], angle: f64) -> Option<Room> {
        let bounds = ring.transformed(Affine::rotate(-angle)).bounding_box()?;
        let cell = bounds.width().max(bounds.height()) / CELLS;
        let mut room = Room::over(bounds, angle, cell);
        room.keep_within(ring);
        obstacles.iter().for_each(|obstacle| room.take(obstacle));
        Some(room)
    }

    /// The room on a sheet for words along `angle` (radians), nothing on it yet. `None` for an empty sheet.
    pub fn on_sheet(sheet: Rect, angle: f64) -> Option<Room> {
        let sheet = Path::rectangle(sheet);
        let bounds = sheet.transformed(Affine::rotate(-angle)).bounding_box()?;
        let mut room = Room::over(bounds, angle, (bounds.area() / SHEET_CELLS).sqrt());
        room.keep_within(&sheet);
        Some(room)
    }

    /// All of a rectangle of the turned frame.
    fn over(bounds: Rect, angle: f64, cell: f64) -> Room {
        let cell = cell.max(FINEST);
        let columns = (bounds.width() / cell).ceil().max(1.0) as usize;
        let rows = (bounds.height() / cell).ceil().max(1.0) as usize;
        let origin = Point::new(bounds.x0, bounds.y0);
        Room {
            turned: Affine::rotate(-angle),
            origin,
            cell,
            columns,
            rows,
            blocked: vec![false; columns * rows],
            sums: None,
        }
    }

    /// Only what lies inside a ring (in the pattern's millimetres) is free from now on.
    pub fn keep_within(&mut self, ring: &Path) {
        self.sums = None;
        let edges = flattened(&ring.transformed(self.turned));
        self.block_side(&edges, false);
        self.block_lines(&edges);
    }

    /// An open line, or a closed block with all that lies inside it, is no longer free (in the pattern's millimetres).
    pub fn take(&mut self, obstacle: &Path) {
        self.sums = None;
        let lines = flattened(&obstacle.transformed(self.turned));
        self.block_lines(&lines);
        if obstacle.is_closed() {
            self.block_side(&lines, true);
        }
    }

    /// The middle (in the pattern's frame) of a free block of the given size, mm, as near as can be to `wish`.
    pub fn place(&mut self, width: f64, height: f64, wish: Point) -> Option<Point> {
        let (wide, high) = ((width / self.cell).ceil() as usize, (height / self.cell).ceil() as usize);
        if wide >= self.columns || high >= self.rows {
            return None;
        }
        let counted = self.sums.take().unwrap_or_else(|| self.counted());
        let sums = self.sums.insert(counted);
        let at = |column: usize, row: usize| sums[row * (self.columns + 1) + column];
        let wish = self.turned * wish;
        let middle = |column: usize, row: usize| {
            let cells = Vec2::new(column as f64 + wide as f64 / 2.0, row as f64 + high as f64 / 2.0);
            self.origin + cells * self.cell
        };
        let own = (wish - self.origin) / self.cell;
        let (rows, columns) = (self.rows - high + 1, self.columns - wide + 1);
        let mut best: Option<(f64, (usize, usize))> = None;
        for row in outwards(own.y - high as f64 / 2.0, rows) {
            let too_far = |off: f64| best.is_some_and(|(nearest, _)| off > nearest * FARTHER);
            if too_far((middle(0, row).y - wish.y).abs()) {
                break;
            }
            for column in outwards(own.x - wide as f64 / 2.0, columns) {
                let middle = middle(column, row);
                if best.is_some_and(|(nearest, _)| (middle.x - wish.x).abs() > nearest * FARTHER) {
                    break;
                }
                let blocked =
                    at(column + wide, row + high) + at(column, row) - at(column + wide, row) - at(column, row + high);
                if blocked > 0 {
                    continue;
                }
                // Of places as near the lowest is taken, then the leftmost.
                let (distance, place) = (middle.distance(wish), (row, column));
                if best.is_none_or(|(nearest, known)| distance < nearest || distance == nearest && place < known) {
                    best = Some((distance, place));
                }
            }
        }
        best.map(|(_, (row, column))| self.turned.inverse() * middle(column, row))
    }

    fn block_lines(&mut self, lines: &[(Point, Point)]) {
        let all = Vec2::new(self.columns as f64, self.rows as f64) * self.cell;
        let all = Rect::from_points(self.origin, self.origin + all);
        for (from, to) in lines {
            if !Rect::from_points(*from, *to).inflate(self.cell, self.cell).overlaps(all) {
                continue;
            }
            let steps = (2.0 * from.distance(*to) / self.cell).ceil().max(1.0) as usize;
            // Of a long line only what runs over the grid, and a step more on either side.
            let (first, last) = shares_within(*from, *to, all);
            let first = (first * steps as f64 - 1.0).max(0.0) as usize;
            let last = ((last * steps as f64 + 2.0) as usize).min(steps);
            for step in first..=last {
                let p = from.lerp(*to, step as f64 / steps as f64);
                let column = ((p.x - self.origin.x) / self.cell).floor();
                let row = ((p.y - self.origin.y) / self.cell).floor();
                let inside = column >= 0.0 && row >= 0.0 && column < self.columns as f64 && row < self.rows as f64;
                if inside {
                    self.blocked[row as usize * self.columns + column as usize] = true;
                }
            }
        }
    }

    /// Blocks the cells inside a ring, or those outside.
    fn block_side(&mut self, edges: &[(Point, Point)], inside: bool) {
        // Even-odd along the middle line of each row of cells.
        let mut crossings: Vec<Vec<f64>> = vec![Vec::new(); self.rows];
        for (a, b) in edges {
            let (low, high) = if a.y <= b.y { (a, b) } else { (b, a) };
            let first = ((low.y - self.origin.y) / self.cell - 0.5).ceil().max(0.0) as usize;
            for (row, crossed) in crossings.iter_mut().enumerate().skip(first) {
                let y = self.origin.y + (row as f64 + 0.5) * self.cell;
                if y >= high.y {
                    break;
                }
                crossed.push(low.x + (high.x - low.x) * (y - low.y) / (high.y - low.y));
            }
        }
        // The first column whose middle is not left of a place.
        let column = |x: f64| (((x - self.origin.x) / self.cell - 0.5).ceil().max(0.0) as usize).min(self.columns);
        for (row, crossed) in crossings.iter_mut().enumerate() {
            crossed.sort_by(f64::total_cmp);
            let mut from = 0;
            let mut is_inside = false;
            for to in crossed.iter().map(|x| column(*x)).chain([self.columns]) {
                if is_inside == inside {
                    self.blocked[row * self.columns + from..row * self.columns + to.max(from)].fill(true);
                }
                from = to;
                is_inside = !is_inside;
            }
        }
    }

    /// Summed areas of the blocked cells, one row and column larger than the grid.
    fn counted(&self) -> Vec<u32> {
        let stride = self.columns + 1;
        let mut sums = vec![0; stride * (self.rows + 1)];
        for row in 0..self.rows {
            let mut along = 0;
            for column in 0..self.columns {
                along += u32::from(self.blocked[row * self.columns + column]);
                sums[(row + 1) * stride + column + 1] = sums[row * stride + column + 1] + along;
            }
        }
        sums
    }
}

/// From which share of a line to which it may run over a rectangle.
fn shares_within(from: Point, to: Point, rect: Rect) -> (f64, f64) {
    let along = |from: f64, to: f64, low: f64, high: f64| {
        let [a, b] = [(low - from) / (to - from), (high - from) / (to - from)];
        // A line that runs square to an axis is over all of it or over none.
        if a.is_finite() && b.is_finite() { (a.min(b), a.max(b)) } else { (0.0, 1.0) }
    };
    let (across, up) = (along(from.x, to.x, rect.x0, rect.x1), along(from.y, to.y, rect.y0, rect.y1));
    (across.0.max(up.0).clamp(0.0, 1.0), across.1.min(up.1).clamp(0.0, 1.0))
}

/// The numbers up to a count, those nearest to a place first.
fn outwards(place: f64, count: usize) -> impl Iterator<Item = usize> {
    let (mut below, mut above) =
        ((place.ceil().max(0.0) as usize).min(count), (place.ceil().max(0.0) as usize).min(count));
    std::iter::from_fn(move || {
        let [down, up] = [place - (below as f64 - 1.0), above as f64 - place];
        if below > 0 && (above == count || down <= up) {
            below -= 1;
            return Some(below);
        }
        above += 1;
        (above <= count).then(|| above - 1)
    })
}

/// Straight pieces that follow a path closely enough to keep words off it.
fn flattened(path: &Path) -> Vec<(Point, Point)> {
    let mut pieces = Vec::new();
    for segment in path.segments() {
        let steps = if matches!(segment, Segment::Line(_)) { 1 } else { CURVE_STEPS };
        let at = |i: usize| segment.eval(i as f64 / steps as f64);
        pieces.extend((0..steps).map(|i| (at(i), at(i + 1))));
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::{Room, outwards};
    use crate::geometry::{Path, Point, Rect};

    /// Places are looked at outwards from the wish: each once, and none is nearer than one before it.
    #[test]
    fn numbers_come_the_nearest_first() {
        for (place, count) in [(3.3, 9), (-5.0, 4), (20.0, 4), (0.5, 1), (2.0, 0), (f64::NAN, 3)] {
            let all: Vec<usize> = outwards(place, count).collect();
            let off: Vec<f64> = all.iter().map(|k| (*k as f64 - place).abs()).collect();
            assert!(off.windows(2).all(|pair| pair[0] <= pair[1] || place.is_nan()), "{place} {all:?}");
            let mut sorted = all.clone();
            sorted.sort_unstable();
            assert_eq!(sorted, (0..count).collect::<Vec<_>>(), "{place}");
        }
    }

    /// The nearest free block is found as by a look at every one, of which the first of those as near is taken.
    #[test]
    fn the_search_outwards_finds_what_a_look_everywhere_finds() {
        let board = Path::rectangle(Rect::new(0.0, 0.0, 200.0, 80.0));
        let holes = [Path::circle(Point::new(60.0, 30.0), 17.0), Path::circle(Point::new(140.0, 50.0), 21.0)];
        let mut room = Room::new(&board, &holes, 0.0).expect("room");
        let sums = room.counted();
        let at = |column: usize, row: usize| sums[row * (room.columns + 1) + column];
        let (columns, rows, cell) = (room.columns, room.rows, room.cell);
        let places = |wide: usize, high: usize| {
            let all = (0..=rows - high).flat_map(move |row| (0..=columns - wide).map(move |column| (column, row)));
            let free = all.filter(|&(column, row)| {
                at(column + wide, row + high) + at(column, row) == at(column + wide, row) + at(column, row + high)
            });
            let middle = |(c, r): (usize, usize)| {
                Point::new((c as f64 + wide as f64 / 2.0) * cell, (r as f64 + high as f64 / 2.0) * cell)
            };
            free.map(middle).collect::<Vec<_>>()
        };
        let mut expected = Vec::new();
        let asked = [(30.0, 12.0), (60.0, 20.0), (150.0, 30.0), (9.0, 4.0)];
        let wishes = [(60.0, 30.0), (100.0, 40.0), (-20.0, 200.0), (199.0, 1.0), (140.5, 49.5)].map(Point::from);
        for (size, wish) in asked.iter().flat_map(|size| wishes.map(|wish| (*size, wish))) {
            let [wide, high] = [size.0, size.1].map(|mm: f64| (mm / cell).ceil() as usize);
            let nearest =
                places(wide, high).into_iter().reduce(|a, b| if b.distance(wish) < a.distance(wish) { b } else { a });
            expected.push((size, wish, nearest));
        }
        for (size, wish, nearest) in expected {
            assert_eq!(room.place(size.0, size.1, wish), nearest, "{size:?} {wish:?}");
        }
    }

    #[test]
    fn words_find_the_free_end_of_a_board() {
        let board = Path::rectangle(Rect::new(0.0, 0.0, 300.0, 60.0));
        let hole = Path::circle(Point::new(150.0, 30.0), 10.0);
        let mut room = Room::new(&board, std::slice::from_ref(&hole), 0.0).expect("a board has room");
        let middle = room.place(80.0, 30.0, Point::new(150.0, 30.0)).expect("there is room beside the hole");
        assert!((middle.x - 150.0).abs() >= 50.0, "{middle:?} covers the hole");
        assert!(room.place(80.0, 61.0, middle).is_none());
    }
}
