//! The line on which a section is cut (ISO 128-3, from memory): a narrow chain, wide at its ends, where arrows point the way
//! of sight and letters stand.

use super::drawn::{NAME, PAST, Pens};
use crate::geometry::{Path, Point, Rect, Vec2};
use crate::layout::dimension::{ARROW, arrow, thin};
use crate::layout::words::item;
use crate::page::{Anchor, Item, Role, Text};

/// Length of a line's wide end, mm.
const WIDE_END: f64 = 5.0;

/// A section's line in a view along its plane, on the page.
pub struct CuttingLine {
    /// The plane's normal on the page: sight runs against it.
    across: Vec2,
    /// How far along the normal the line lies.
    offset: f64,
    /// From where to where it runs over the view, along the normal turned left.
    reach: (f64, f64),
    letter: char,
}

impl CuttingLine {
    /// The line of a plane, given by its normal on the page and its offset true to size, over a view that fills `bounds`.
    pub fn new((across, offset, letter): &(Vec2, f64, char), scale: f64, bounds: Rect) -> CuttingLine {
        let along = across.turn_90();
        let corners =
            [(bounds.x0, bounds.y0), (bounds.x1, bounds.y0), (bounds.x1, bounds.y1), (bounds.x0, bounds.y1)];
        let reach = corners.map(|(x, y)| Vec2::new(x, y).dot(along));
        let (low, high) = reach.iter().fold((f64::MAX, f64::MIN), |(a, b), r| (a.min(*r), b.max(*r)));
        let reach = (low - PAST / 2.0, high + PAST / 2.0);
        CuttingLine { across: *across, offset: offset * scale, reach, letter: *letter }
    }

    fn at(&self, s: f64) -> Point {
        (self.across * self.offset + self.across.turn_90() * s).to_point()
    }

    /// The chain over the view.
    pub fn within(&self, pens: &Pens) -> Item {
        Item::stroke(Role::Mark, Path::line(self.at(self.reach.0), self.at(self.reach.1)), pens.centre.clone())
    }

    /// One of its ends, so many mm beyond the chain: wide line, arrow and letter, before the arrow or beyond the line.
    pub fn end(&self, high: bool, beyond: f64, pens: &Pens) -> [Vec<Item>; 2] {
        let (from, out) = if high { (self.reach.1, 1.0) } else { (self.reach.0, -1.0) };
        let near = from + out * beyond;
        let middle = self.at(near + out * WIDE_END / 2.0);
        let tip = middle - self.across * (ARROW * 2.0);
        let before = tip - self.across * NAME;
        let after = self.at(near + out * (WIDE_END + NAME));
        [before, after].map(|at| {
            let letter = Text::new(at - Vec2::new(0.0, NAME / 2.0), NAME, self.letter.to_string());
            vec![
                Item::stroke(
                    Role::Mark,
                    Path::line(self.at(near), self.at(near + out * WIDE_END)),
                    pens.wide.clone(),
                ),
                thin(Path::line(tip, middle)),
                arrow(tip, self.across),
                item(Role::Text, letter.anchored(Anchor::Middle)),
            ]
        })
    }
}
