//! Words on a page and their metrics.

use crate::geometry::{Point, Rect};

/// Which point of the words stands at [`Text::at`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Anchor {
    /// The left end of the base line.
    #[default]
    Start,
    /// The middle of the base line.
    Middle,
    /// The right end of the base line.
    End,
}

/// One line of words.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// The anchor point on the base line, mm.
    pub at: Point,
    /// The words.
    pub content: String,
    /// Height of a capital letter, mm (ISO 3098: 2.5, 3.5, 5, 7, 10, 14, 20).
    pub height: f64,
    /// Direction of the base line, radians anticlockwise from x.
    pub angle: f64,
    /// Which point stands at `at`.
    pub anchor: Anchor,
    /// 0 is black, 1 is white.
    pub grey: f64,
}

impl Text {
    /// Level black words that begin at a point.
    pub fn new(at: Point, height: f64, content: impl Into<String>) -> Self {
        Text { at, content: content.into(), height, angle: 0.0, anchor: Anchor::Start, grey: 0.0 }
    }

    /// The same words, held at another point of their base line.
    pub fn anchored(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }

    /// The same words, turned (radians anticlockwise).
    pub fn turned(mut self, angle: f64) -> Self {
        self.angle = angle;
        self
    }

    /// Width of the words, mm, in the embedded font.
    pub fn width(&self) -> f64 {
        0.8 * self.height * self.content.chars().count() as f64
    }

    /// The smallest upright rectangle around the words, mm, with descenders.
    pub fn bounding_box(&self) -> Rect {
        Rect::new(self.at.x, self.at.y - 0.3 * self.height, self.at.x + self.width(), self.at.y + self.height)
    }
}
