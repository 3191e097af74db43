//! Lines of words that keep together, and the forms in which they may be set.

use crate::geometry::{Affine, Path, Point, Rect, Vec2};
use crate::layout::words::wrap;
use crate::page::{Anchor, Text, corners};

/// Base line to base line, in capital heights.
const LEADING: f64 = 1.7;

/// The smallest capitals that can be read in bad light, mm.
pub const SMALLEST: f64 = 2.5;

/// A block must be so many times as wide as the lines to which it is broken: else a word or two would stand alone.
const SAVED: f64 = 2.0;

/// Lines set together, and the rectangle around them in their own direction.
#[derive(Debug, Clone)]
pub struct Block {
    texts: Vec<Text>,
    angle: f64,
    /// The middle of the rectangle.
    pub center: Point,
    /// Its width along the words and its height, mm.
    pub size: Vec2,
}

impl Block {
    /// Lines as they stand; `None` for no line. They run as the first does.
    pub fn of(texts: Vec<Text>) -> Option<Block> {
        let angle = texts.first()?.angle;
        let turn = Affine::rotate(-angle);
        let level = texts.iter().flat_map(corners).map(|corner| turn * corner);
        let around = level.map(|corner| Rect::from_points(corner, corner)).reduce(|a, b| a.union(b))?;
        let center = turn.inverse() * around.center();
        Some(Block { texts, angle, center, size: Vec2::new(around.width(), around.height()) })
    }

    /// Lines of words with the heights of their capitals, one under the other about a middle.
    pub fn stacked(lines: &[(f64, String)], anchor: Anchor) -> Option<Block> {
        let mut down = 0.0;
        let set = lines.iter().map(|(height, words)| {
            down -= height * LEADING;
            Text::new(Point::new(0.0, down), *height, words.as_str()).anchored(anchor)
        });
        Block::of(set.collect())
    }

    /// The lines with the heights of their capitals.
    pub fn lines(&self) -> Vec<(f64, String)> {
        self.texts.iter().map(|text| (text.height, text.content.clone())).collect()
    }

    /// How the words run, radians from x.
    pub fn angle(&self) -> f64 {
        self.angle
    }

    /// The lines with their middle at a point, running so.
    pub fn at(&self, center: Point, angle: f64) -> Vec<Text> {
        let turn = Affine::rotate(angle - self.angle);
        let set = |text: &Text| {
            let from_middle = turn * (text.at - self.center).to_point();
            Text { at: center + from_middle.to_vec2(), label: None, ..text.clone() }.turned(angle)
        };
        self.texts.iter().map(set).collect()
    }

    /// The same, moved.
    pub fn moved(&self, by: Vec2) -> Block {
        Block { texts: self.at(self.center + by, self.angle), center: self.center + by, ..self.clone() }
    }

    /// The lines where they stand.
    pub fn texts(&self) -> &[Text] {
        &self.texts
    }

    /// The same, its rectangle wider by so much at either end of its lines, mm.
    pub fn widened(self, by: f64) -> Block {
        Block { size: self.size + Vec2::new(2.0 * by, 0.0), ..self }
    }

    /// The same, its rectangle larger by so much on every side, mm.
    pub fn padded(self, by: f64) -> Block {
        Block { size: self.size + Vec2::new(2.0 * by, 2.0 * by), ..self }
    }

    /// The rectangle around it.
    pub fn rim(&self) -> Path {
        let half = self.size / 2.0;
        let place = Affine::translate(self.center.to_vec2()) * Affine::rotate(self.angle);
        Path::rectangle(Rect::new(-half.x, -half.y, half.x, half.y)).transformed(place)
    }

    /// The point of its rectangle, let out by `gap` mm, that is nearest to another.
    pub fn nearest(&self, to: Point, gap: f64) -> Point {
        let place = Affine::translate(self.center.to_vec2()) * Affine::rotate(self.angle);
        let (own, half) = (place.inverse() * to, self.size / 2.0 + Vec2::new(gap, gap));
        place * Point::new(own.x.clamp(-half.x, half.x), own.y.clamp(-half.y, half.y))
    }

    /// How its lines are held.
    fn anchor(&self) -> Anchor {
        self.texts.first().map_or(Anchor::Start, |text| text.anchor)
    }

    /// Other forms of the same words: each line broken so that none is wider than some widths, mm, then all in smaller capitals.
    pub fn forms(&self, widths: &[f64]) -> Vec<Block> {
        let mut forms = vec![self.clone()];
        let lines = self.lines();
        let small = lines.iter().any(|(height, _)| *height > SMALLEST);
        let smaller: Vec<(f64, String)> = lines.iter().map(|(h, words)| (h.min(SMALLEST), words.clone())).collect();
        for lines in [Some(lines), small.then_some(smaller)].into_iter().flatten() {
            let narrower = widths.iter().filter(|width| **width * SAVED < self.size.x);
            forms.extend(narrower.filter_map(|width| Block::stacked(&broken(&lines, *width), self.anchor())));
        }
        forms
    }
}

/// Lines broken so that none is wider than a width, mm.
pub fn broken(lines: &[(f64, String)], width: f64) -> Vec<(f64, String)> {
    let break_up = |(height, words): &(f64, String)| -> Vec<(f64, String)> {
        wrap(words, *height, width).into_iter().map(|line| (*height, line)).collect()
    };
    lines.iter().flat_map(break_up).collect()
}
