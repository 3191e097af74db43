//! Words on a page and their metrics.

use super::{Label, font};
use crate::geometry::{Affine, Path, Point, Rect};
use crate::tolerance::PLUMB_WORDS;
use std::f64::consts::{FRAC_PI_2, PI};
use std::sync::Arc;

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
    /// Outlines on the page, mm, where the words are set in a font of the shop's (see [`Lettering::set`](super::Lettering::set)): as
    /// their place was when they were set.
    pub set_in: Option<Arc<Vec<Path>>>,
    /// What the words are about, until a layout has placed them.
    pub label: Option<Box<Label>>,
}

impl Text {
    /// Level black words that begin at a point.
    pub fn new(at: Point, height: f64, content: impl Into<String>) -> Self {
        let (content, anchor) = (content.into(), Anchor::Start);
        Text { at, content, height, angle: 0.0, anchor, grey: 0.0, set_in: None, label: None }
    }

    /// The same words, with what they are about.
    pub fn about(mut self, label: Label) -> Self {
        self.label = Some(Box::new(label));
        self
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

    /// Width of the words, mm, in the embedded face: how far they move the pen on.
    pub fn width(&self) -> f64 {
        self.em() * font::width(&self.content)
    }

    /// The smallest upright rectangle, mm, around the words and the ink that reaches over or under them, as turned.
    pub fn bounding_box(&self) -> Rect {
        let (width, ink) = font::measured(&self.content);
        let pen = Rect::new(0.0, 0.0, width, 0.0);
        let level = ink.map_or(pen, |ink| ink.union(pen));
        (self.placed_by_width(self.em() * width) * Affine::scale(self.em())).transform_rect_bbox(level)
    }

    /// The map from level words that begin at the origin to the page (turned, then moved; mm to mm).
    pub fn placement(&self) -> Affine {
        self.placed_by_width(self.width())
    }

    /// As [`Text::placement`], for lettering that measures `width` mm.
    pub(super) fn placed_by_width(&self, width: f64) -> Affine {
        let before_anchor = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => width / 2.0,
            Anchor::End => width,
        };
        Affine::translate(self.at.to_vec2()) * Affine::rotate(self.angle) * Affine::translate((-before_anchor, 0.0))
    }

    /// Type size, mm: what a writer sets for the embedded face.
    pub fn em(&self) -> f64 {
        self.height / font::CAPITAL
    }
}

/// The direction, radians from x, in which words along a line are read from below or from the right (ISO 129-1): the line's
/// own or the opposite one.
pub fn readable(along: f64) -> f64 {
    let turn = along.rem_euclid(PI);
    if turn > FRAC_PI_2 + PLUMB_WORDS { turn - PI } else { turn }
}

/// Words in pieces that each stay in one line: `10 x 44`, `29 mm`, `1 5/8"`, `⌀ 38` mean nothing, or something else, in two.
pub fn kept_together(words: &str) -> Vec<String> {
    let starts_with_digit = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
    let ends_as_size = |word: &str| word.ends_with(|c: char| c.is_ascii_digit() || "\"'+-°".contains(c));
    let mut kept: Vec<String> = Vec::new();
    let mut before = "";
    for word in words.split_whitespace() {
        // Of `(1 5/8` and `-1 5/8` too.
        let is_fraction = starts_with_digit(word)
            && word.contains('/')
            && before.ends_with(|c: char| c.is_ascii_digit())
            && !before.contains('/');
        let is_unit = ["mm", "cm", "in", "deg"].contains(&word.trim_end_matches([',', ';', '.', ')', ':']));
        let joined = match word {
            _ if before.is_empty() => false,
            "x" => ends_as_size(before),
            _ if before == "x" || before == "⌀" => starts_with_digit(word) || word == "⌀",
            _ => is_fraction || (is_unit && starts_with_digit(before)),
        };
        match kept.last_mut().filter(|_| joined) {
            Some(last) => *last = format!("{last} {word}"),
            None => kept.push(word.to_owned()),
        }
        before = word;
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::{Anchor, FRAC_PI_2, PI, Point, Text, readable};

    #[test]
    fn widths_follow_the_face() {
        // The advance of a figure in the face is 1303 of 2048 units (its own table, read with fonttools).
        let text = Text::new(Point::ORIGIN, 3.5, "0123");
        assert!((text.width() - 4.0 * 1303.0 / 2048.0 * 3.5 / (1493.0 / 2048.0)).abs() < 1e-9);
    }

    #[test]
    fn the_box_turns_with_the_words() {
        let level = Text::new(Point::new(100.0, 50.0), 10.0, "Hg").bounding_box();
        assert!(level.y0 < 48.0 && (59.9..60.2).contains(&level.y1) && level.x0 >= 99.9, "{level:?}");
        let up = Text::new(Point::new(100.0, 50.0), 10.0, "Hg").turned(FRAC_PI_2).bounding_box();
        assert!((up.width() - level.height()).abs() < 1e-9 && (up.height() - level.width()).abs() < 1e-9);
        assert!(up.x0 < 90.1 && up.x1 > 102.0 && (up.y0 - level.x0 + 50.0).abs() < 1e-9, "{up:?}");
    }

    #[test]
    fn anchors_hold_their_point_of_the_base_line() {
        let words = |anchor| Text::new(Point::new(100.0, 50.0), 10.0, "HHH").anchored(anchor);
        let middle = words(Anchor::Middle).bounding_box();
        assert!((middle.center().x - 100.0).abs() < 0.2, "{middle:?}");
        let end = words(Anchor::End).bounding_box();
        assert!((end.x1 - 100.0).abs() < 1e-9, "{end:?}");
        let turned = words(Anchor::End).turned(PI).bounding_box();
        assert!((turned.x0 - 100.0).abs() < 1e-9 && (turned.y1 - 50.0).abs() < 1e-9, "{turned:?}");
    }

    #[test]
    fn words_are_read_from_below_or_from_the_right() {
        assert_eq!(readable(0.0), 0.0);
        assert_eq!(readable(PI), 0.0);
        assert!((readable(-FRAC_PI_2) - FRAC_PI_2).abs() < 1e-12);
        assert!((readable(PI - 0.2) + 0.2).abs() < 1e-12);
        // Just past plumb they turn over.
        assert!(readable(1.7) < 0.0);
    }
}
