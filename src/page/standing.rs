//! What stands on a drawing, and whether words fit beside it.

use super::{Item, Shape, Text, readable};
use crate::geometry::{Affine, Crowd, Path, Point, Rect, Vec2, levelling};

/// Words keep others off either end of their line by so many times the height of their capitals, mm: nearer both read as one statement.
const APART: f64 = 0.9;

/// Distance between the lines by which a block of words is filled, mm: less than any words are high.
const FILLED: f64 = 1.5;

/// A line at a smaller angle to another, of which this is the sine (15°), or so near to it for so long, mm, is taken for that line.
const LEAN: f64 = 0.2625;
const BESIDE: (f64, f64) = (0.8, 1.5);

/// Lines and words that stand already.
#[derive(Debug, Clone, Default)]
pub struct Standing {
    lines: Crowd,
    words: Crowd,
}

impl Standing {
    /// These stand.
    pub fn of<'a>(items: impl IntoIterator<Item = &'a Item>) -> Standing {
        let mut standing = Standing::default();
        items.into_iter().for_each(|item| standing.add(item));
        standing
    }

    /// One more stands.
    pub fn add(&mut self, item: &Item) {
        match &item.shape {
            Shape::Text(text) => self.add_words(text),
            Shape::Stroke { path, .. } => self.lines.add(path),
            Shape::Fill { rings, .. } => rings.iter().for_each(|ring| self.lines.add(ring)),
        }
    }

    /// More words stand.
    pub fn add_words(&mut self, text: &Text) {
        self.words.add(&filled(text));
    }

    /// Whether words touch nothing that stands, with `gap` mm around them.
    pub fn fits(&self, text: &Text, gap: f64) -> bool {
        let (turn, own) = upright(text);
        let own = own.inflate(gap, gap);
        !self.lines.touches(own, turn) && !self.words.touches(own, turn)
    }

    /// Whether anything stands in an upright rectangle.
    pub fn touches(&self, room: Rect) -> bool {
        self.lines_touch(room) || self.words.touches(room, Affine::IDENTITY)
    }

    /// Whether a line passes through an upright rectangle.
    pub fn lines_touch(&self, room: Rect) -> bool {
        self.lines.touches(room, Affine::IDENTITY)
    }

    /// Whether anything that stands comes within `gap` mm of a straight line.
    pub fn crosses(&self, from: Point, to: Point, gap: f64) -> bool {
        let (turn, strip) = strip(from, to, gap);
        self.lines.touches(strip, turn) || self.words.touches(strip, turn)
    }

    /// Whether words come within `gap` mm of a straight line.
    pub fn words_cross(&self, from: Point, to: Point, gap: f64) -> bool {
        let (turn, strip) = strip(from, to, gap);
        self.words.touches(strip, turn)
    }

    /// Whether a straight line would be taken for one that stands, which it runs along or meets at a small angle.
    pub fn runs_along(&self, from: Point, to: Point) -> bool {
        from != to && self.lines.runs_along((from, to), LEAN, BESIDE)
    }
}

/// How far words keep others off either end of their line, mm.
pub fn apart(text: &Text) -> f64 {
    APART * text.height
}

/// The turn that makes a straight line level, and the strip of `gap` mm round it then.
fn strip(from: Point, to: Point, gap: f64) -> (Affine, Rect) {
    // A point has no direction.
    let turn = if from == to { Affine::IDENTITY } else { levelling(from, to) };
    (turn, Rect::from_points(turn * from, turn * to).inflate(gap, gap))
}

/// The turn that makes words level, and their rectangle then.
fn upright(text: &Text) -> (Affine, Rect) {
    if text.angle == 0.0 {
        return (Affine::IDENTITY, text.bounding_box());
    }
    let level = Text { angle: 0.0, label: None, ..text.clone() };
    let turn =
        Affine::translate(text.at.to_vec2()) * Affine::rotate(-text.angle) * Affine::translate(-text.at.to_vec2());
    (turn, level.bounding_box())
}

/// The corners of the rectangle around words, turned as they are.
pub fn corners(text: &Text) -> [Point; 4] {
    let (turn, own) = upright(text);
    let back = turn.inverse();
    [(own.x0, own.y0), (own.x1, own.y0), (own.x1, own.y1), (own.x0, own.y1)].map(|corner| back * Point::from(corner))
}

/// The rectangle of words and of what they keep free at either end, filled with level lines, so that what lies inside it is touched too.
fn filled(text: &Text) -> Path {
    let (turn, own) = upright(text);
    let own = own.inflate(apart(text), 0.0);
    let rows = (own.height() / FILLED).ceil().max(1.0) as usize;
    let row = |k: usize| own.y0 + own.height() * k as f64 / rows as f64;
    let zigzag = (0..=rows).flat_map(|k| {
        let (from, to) = if k % 2 == 0 { (own.x0, own.x1) } else { (own.x1, own.x0) };
        [Point::new(from, row(k)), Point::new(to, row(k))]
    });
    let ends = [Point::new(own.x0, own.y1), Point::new(own.x0, own.y0), Point::new(own.x1, own.y0)];
    let points: Vec<Point> = zigzag.chain(ends).chain([Point::new(own.x1, own.y1)]).collect();
    Path::polyline(&points, false).transformed(turn.inverse())
}

/// Words level with a path, `off` mm to its left at a share of its length; to its right below 0.
pub fn words_beside(path: &Path, share: f64, off: f64, text: &Text) -> Option<Text> {
    let place = path.place_at_length(path.length() * share)?;
    let (at, along) = (path.point_at(place)?, path.tangent_at(place)?);
    let angle = readable(along.atan2());
    let (up, left) = (Vec2::from_angle(angle).turn_90(), along.turn_90() * off.signum());
    // From the line to the nearer side of the words, which stand on their base line.
    let rise = if up.dot(left) > 0.0 { off.abs() } else { -(off.abs() + text.height) };
    Some(Text { at: at + up * rise, ..text.clone() }.turned(angle))
}
