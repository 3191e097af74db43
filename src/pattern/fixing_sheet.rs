//! A small pattern of one closed line and what is drawn in it.

use super::lines::{CUT_WIDTH, stroke, words};
use super::{Pattern, revision, title};
use crate::geometry::{Path, Point, Rect};
use crate::page::{Anchor, Item, Part, Pen, Role, Text};
use crate::units::{Length, Notation};

/// A pattern of a ring and what is drawn in it.
pub(super) struct Sheet {
    name: String,
    make: String,
    ring: Path,
    /// Of what is worked by it, mm; 0 where that is told otherwise.
    thickness: f64,
    pub(super) items: Vec<Item>,
    pub(super) block: Vec<String>,
    small: bool,
}

impl Sheet {
    pub(super) fn new(name: String, make: String, ring: Path, thickness: f64) -> Sheet {
        let items = vec![stroke(Role::Outline, ring.clone(), Pen::solid(CUT_WIDTH))];
        Sheet { name, make, ring, thickness, items, block: Vec::new(), small: true }
    }

    pub(super) fn say(&mut self, at: Point, anchor: Anchor, said: String) {
        self.items.push(words(Role::Text, Text::new(at, 2.5, said).anchored(anchor)));
    }

    /// The code of what is cut and drilled by it.
    fn code(&self) -> String {
        revision::of_lines(&self.items, self.thickness)
    }

    /// The finished patterns of sheets; `settled` are the same as codes take them.
    pub(super) fn all_finished(
        own: Vec<Sheet>,
        settled: &[Sheet],
        heading: &str,
        notation: &Notation,
    ) -> Vec<Pattern> {
        let finished = |(index, sheet): (usize, Sheet)| {
            let code = settled.get(index).unwrap_or(&sheet).code();
            sheet.finished(code, heading, notation)
        };
        own.into_iter().enumerate().map(finished).collect()
    }

    fn finished(mut self, revision: String, heading: &str, notation: &Notation) -> Pattern {
        let bounds = self.ring.bounding_box().unwrap_or(Rect::ZERO);
        let across = notation.bare_length(Length::from_mm(bounds.width()));
        let sizes = format!("{across} x {}", notation.length(Length::from_mm(bounds.height())));
        self.block.push(format!("{heading} · rev {revision}"));
        title::write(&mut self.items, &self.ring, &self.name, &self.block, None);
        let bounds = Item::bounds_of_all(&self.items).unwrap_or(bounds).inflate(title::CLEAR, title::CLEAR);
        let part = Part { name: self.name, revision };
        Pattern { part, make: self.make, sizes, items: self.items, bounds, small: self.small }
    }
}
