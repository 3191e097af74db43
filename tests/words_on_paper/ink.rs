//! What words and lines cover on a page, by the face's own tables and by plain arithmetic: nothing of the program's own measuring.

use fullsize::geometry::{Path, Point, Rect, Segment};
use fullsize::page::{Anchor, Item, Shape, Text};
use std::sync::LazyLock;
use ttf_parser::{Face, Rect as GlyphBox};

static BYTES: &[u8] = include_bytes!("../../src/page/font/DejaVuSans-subset.ttf");

static FACE: LazyLock<Face<'static>> = LazyLock::new(|| Face::parse(BYTES, 0).expect("a face"));

/// Height of a capital of the face, in its units (its own table of the letter H).
static CAPITAL: LazyLock<f64> = LazyLock::new(|| {
    let letter = FACE.glyph_index('H').expect("a capital");
    f64::from(FACE.glyph_bounding_box(letter).expect("ink").y_max)
});

/// A length along a line may lie this far in a box before it counts, mm: ink that touches and no more.
pub const TOUCH: f64 = 0.05;

/// Statements nearer to each other on a line than this, mm, are read as one: two letters of the smallest lettering.
const BESIDE: f64 = 2.0;

/// Points of a curve this far apart, mm, stand for it.
const STEP: f64 = 0.5;

/// Words of a page as they cover it.
pub struct Words<'a> {
    pub text: &'a Text,
    pub item: &'a Item,
    /// What their ink covers, level, from the left end of the base line.
    level: Rect,
    /// Cosine and sine of their direction.
    turn: (f64, f64),
    /// The left end of the base line.
    from: Point,
    /// The four corners on the page.
    pub corners: [Point; 4],
}

impl<'a> Words<'a> {
    /// Words of an item; `None` where it is a line or bears no ink.
    pub fn of(item: &'a Item) -> Option<Words<'a>> {
        let Shape::Text(text) = &item.shape else { return None };
        let scale = text.height / *CAPITAL;
        let mut pen = 0.0;
        let mut ink: Option<Rect> = None;
        for letter in text.content.chars() {
            let Some(glyph) = FACE.glyph_index(letter) else { continue };
            if let Some(GlyphBox { x_min, y_min, x_max, y_max }) = FACE.glyph_bounding_box(glyph) {
                let own =
                    Rect::new(pen + f64::from(x_min), f64::from(y_min), pen + f64::from(x_max), f64::from(y_max));
                ink = Some(ink.map_or(own, |ink| ink.union(own)));
            }
            pen += f64::from(FACE.glyph_hor_advance(glyph).unwrap_or(0));
        }
        let ink = ink?;
        let level = Rect::new(ink.x0 * scale, ink.y0 * scale, ink.x1 * scale, ink.y1 * scale);
        let before = match text.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => pen * scale / 2.0,
            Anchor::End => pen * scale,
        };
        let turn = (text.angle.cos(), text.angle.sin());
        let from = Point::new(text.at.x - before * turn.0, text.at.y - before * turn.1);
        let corner = |x: f64, y: f64| Point::new(from.x + x * turn.0 - y * turn.1, from.y + x * turn.1 + y * turn.0);
        let corners = [
            corner(level.x0, level.y0),
            corner(level.x1, level.y0),
            corner(level.x1, level.y1),
            corner(level.x0, level.y1),
        ];
        Some(Words { text, item, level, turn, from, corners })
    }

    /// The upright rectangle round them.
    pub fn around(&self) -> Rect {
        let mut around = Rect::from_points(self.corners[0], self.corners[2]);
        self.corners.iter().for_each(|corner| around = around.union_pt(*corner));
        around
    }

    /// A point of the page as the level words see it.
    fn seen(&self, p: Point) -> Point {
        let (x, y) = (p.x - self.from.x, p.y - self.from.y);
        Point::new(x * self.turn.0 + y * self.turn.1, y * self.turn.0 - x * self.turn.1)
    }

    /// How far a point lies off them, mm.
    pub fn off(&self, at: Point) -> f64 {
        let (p, own) = (self.seen(at), self.level);
        let past = |x: f64, low: f64, high: f64| (low - x).max(x - high).max(0.0);
        past(p.x, own.x0, own.x1).hypot(past(p.y, own.y0, own.y1))
    }

    /// Whether a piece of a straight line lies in them.
    fn is_run_through(&self, a: Point, b: Point) -> bool {
        let own = self.level.inset(-TOUCH);
        own.width() > 0.0 && own.height() > 0.0 && runs_through(self.seen(a), self.seen(b), own)
    }

    /// Whether a line runs through them.
    pub fn are_struck(&self, lines: &Lines) -> bool {
        lines.near(self.around()).any(|(a, b)| self.is_run_through(a, b))
    }

    /// Whether others stand on them: an edge of the one runs through the other, or the one lies within the other.
    pub fn stand_on(&self, other: &Words) -> bool {
        let within = |inner: &Words, outer: &Words| outer.level.inset(-TOUCH).contains(outer.seen(inner.corners[0]));
        let edges = |words: &Words| [0, 1, 2, 3].map(|k| (words.corners[k], words.corners[(k + 1) % 4]));
        self.around().overlaps(other.around())
            && (within(self, other)
                || within(other, self)
                || edges(self).into_iter().any(|(a, b)| other.is_run_through(a, b))
                || edges(other).into_iter().any(|(a, b)| self.is_run_through(a, b)))
    }

    /// Whether others stand beside them on their line, so near that both read as one statement.
    pub fn run_into(&self, other: &Words) -> bool {
        let alike = self.text.height == other.text.height && (self.text.angle - other.text.angle).abs() < 1e-9;
        let [a, b] = [other.corners[0], other.corners[2]].map(|corner| self.seen(corner));
        let own = self.level;
        let level = own.y1.min(b.y) - own.y0.max(a.y);
        let gap = (a.x - own.x1).max(own.x0 - b.x);
        alike && level > own.height() / 2.0 && (0.0..BESIDE).contains(&gap)
    }

    /// Whether all of them lie in a rectangle, but for a touch.
    pub fn lie_in(&self, r: Rect) -> bool {
        let r = r.inflate(TOUCH, TOUCH);
        self.corners.iter().all(|corner| r.contains(*corner))
    }
}

/// Liang and Barsky's test (from memory): whether more than a point of a straight piece lies within a rectangle.
fn runs_through(a: Point, b: Point, r: Rect) -> bool {
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    for (from, step, least, most) in [(a.x, b.x - a.x, r.x0, r.x1), (a.y, b.y - a.y, r.y0, r.y1)] {
        if step == 0.0 {
            if from <= least || from >= most {
                return false;
            }
            continue;
        }
        let (one, other) = ((least - from) / step, (most - from) / step);
        low = low.max(one.min(other));
        high = high.min(one.max(other));
    }
    high > low
}

/// The straight pieces that stand for all lines of a page, sorted into squares.
pub struct Lines {
    pieces: Vec<(Point, Point)>,
    squares: std::collections::HashMap<(i32, i32), Vec<usize>>,
}

/// Side of a square, mm.
const SQUARE: f64 = 10.0;

fn squares_of(r: Rect) -> impl Iterator<Item = (i32, i32)> {
    let square = |at: f64| (at / SQUARE).floor() as i32;
    let rows = square(r.y0)..=square(r.y1);
    (square(r.x0)..=square(r.x1)).flat_map(move |x| rows.clone().map(move |y| (x, y)))
}

impl Lines {
    /// Those of some items.
    pub fn of<'a>(items: impl IntoIterator<Item = &'a Item>) -> Lines {
        let mut lines = Lines { pieces: Vec::new(), squares: std::collections::HashMap::new() };
        for item in items {
            match &item.shape {
                Shape::Stroke { path, .. } => lines.add(path),
                Shape::Fill { rings, .. } => rings.iter().for_each(|ring| lines.add(ring)),
                Shape::Text(_) => {}
            }
        }
        lines
    }

    /// Long pieces are cut, so that they stand in few squares.
    fn add(&mut self, path: &Path) {
        for (from, to) in flattened(path, SQUARE) {
            let index = self.pieces.len();
            self.pieces.push((from, to));
            for square in squares_of(Rect::from_points(from, to)) {
                self.squares.entry(square).or_default().push(index);
            }
        }
    }

    /// The pieces about a rectangle, some perhaps twice.
    pub fn near(&self, r: Rect) -> impl Iterator<Item = (Point, Point)> + '_ {
        squares_of(r).filter_map(|square| self.squares.get(&square)).flatten().map(|index| self.pieces[*index])
    }
}

/// A curve has so many chords at least: those of half a circle lean to it by less than three degrees.
const LEAST_CHORDS: f64 = 32.0;

/// Straight pieces no longer than `most` mm that stand for a path.
pub fn flattened(path: &Path, most: f64) -> Vec<(Point, Point)> {
    let mut pieces = Vec::new();
    for segment in path.segments() {
        let steps = match segment {
            Segment::Line(_) => (segment.length() / most).ceil().max(1.0) as usize,
            // However short a curve is, its chords run nearly as it does.
            _ => (segment.length() / STEP).ceil().max(LEAST_CHORDS) as usize,
        };
        let at = |k: usize| segment.eval(k as f64 / steps as f64);
        pieces.extend((0..steps).map(|k| (at(k), at(k + 1))));
    }
    pieces
}

/// Whether a point lies within a ring, by the count of its edges to the right (from memory).
pub fn is_within(ring: &[Point], p: Point) -> bool {
    let edges = (0..ring.len()).map(|k| (ring[k], ring[(k + 1) % ring.len()]));
    edges.filter(|(a, b)| (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)).count()
        % 2
        == 1
}

/// Corners and points of curves of a ring.
pub fn points_of(ring: &Path) -> Vec<Point> {
    let steps = |segment: &Segment| match segment {
        Segment::Line(_) => 1,
        _ => (segment.length() / STEP).ceil().max(4.0) as usize,
    };
    let all = ring.segments().iter().flat_map(|segment| {
        let steps = steps(segment);
        (0..steps).map(move |k| segment.eval(k as f64 / steps as f64))
    });
    all.collect()
}
