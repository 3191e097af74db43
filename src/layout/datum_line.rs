//! A datum line as it stands on a sheet: broken at the pattern's words, its name where there is room.

use super::furniture::SMALL;
use super::ink::Ink;
use super::words::item;
use crate::geometry::{Path, Point, Rect, Vec2};
use crate::page::{Item, Pen, Role, Text};
use std::f64::consts::FRAC_PI_2;

/// Width of the line, mm, and its dashes: two dots between long ones, for a part's own centre line has one.
const THIN: f64 = 0.18;
const DASHES: [f64; 6] = [12.0, 1.5, 0.5, 1.5, 0.5, 1.5];

/// Between the line and words of the pattern, mm.
const CLEAR: f64 = 1.0;

/// From the window's edge to the line's name at least, mm: past the crosses of a seam.
const INSET: f64 = 22.0;

/// The same where there is no place as far in, mm: within the trim line still.
const EDGE: f64 = 9.0;

/// What the line is called where there is no room for its whole name.
const KIND: &str = "datum";

/// Between the places that are tried for the name, mm.
const STEP: f64 = 3.0;

/// Between the name and its line, mm: beside it, or as far off as still reads as its own.
const OFF: [f64; 3] = [0.8, 4.0, 7.5];

/// A datum line across a sheet's window, rising in x, or in y where it runs up.
#[derive(Debug, Clone)]
pub struct DatumLine {
    /// Its first end, left or below.
    pub from: Point,
    /// Its length, mm.
    pub length: f64,
    /// Whether it runs up rather than across.
    pub up: bool,
    /// Its name.
    pub name: String,
}

impl DatumLine {
    fn along(&self) -> Vec2 {
        if self.up { Vec2::new(0.0, 1.0) } else { Vec2::new(1.0, 0.0) }
    }

    /// The pieces of the line between the pattern's words; its dashes run on from piece to piece.
    pub fn pieces(&self, ink: &Ink) -> Vec<Item> {
        let mut gaps: Vec<(f64, f64)> = ink.words().filter_map(|words| self.gap(words)).collect();
        gaps.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut pieces = Vec::new();
        let mut start = 0.0_f64;
        for (from, to) in gaps.into_iter().chain([(self.length, self.length)]) {
            if from > start {
                let path = Path::line(self.from + self.along() * start, self.from + self.along() * from);
                let pen = Pen { phase: start, ..Pen::dashed(THIN, &DASHES) };
                pieces.push(Item::stroke(Role::Datum, path, pen));
            }
            start = start.max(to);
        }
        pieces
    }

    /// The stretch of the line that words take, where they stand on it.
    fn gap(&self, words: Rect) -> Option<(f64, f64)> {
        let words = words.inflate(CLEAR, CLEAR) - self.from.to_vec2();
        let (across, along) = if self.up {
            ((words.x0, words.x1), (words.y0, words.y1))
        } else {
            ((words.y0, words.y1), (words.x0, words.x1))
        };
        let on_it = across.0 < 0.0 && across.1 > 0.0 && along.0 < self.length && along.1 > 0.0;
        on_it.then_some((along.0.max(0.0), along.1.min(self.length)))
    }

    /// The name at the first place beside the line that neither the pattern nor what is taken stands in: the whole of it, or what
    /// kind of line it is, far from the seams or near them; `None` where there is no such place.
    pub fn named(&self, ink: &Ink, taken: &[Rect]) -> Option<Item> {
        let tries = [(self.name.as_str(), INSET), (KIND, INSET), (self.name.as_str(), EDGE), (KIND, EDGE)];
        tries.into_iter().find_map(|(name, inset)| self.said(name, inset, ink, taken))
    }

    fn said(&self, name: &str, inset: f64, ink: &Ink, taken: &[Rect]) -> Option<Item> {
        let width = Text::new(Point::ORIGIN, SMALL, name).width();
        let tries = ((self.length - 2.0 * inset - width) / STEP).max(0.0) as usize;
        let turn = if self.up { FRAC_PI_2 } else { 0.0 };
        let sides = OFF.map(|off| [off, -off - SMALL]);
        let places = sides
            .into_iter()
            .flat_map(|sides| (0..=tries).flat_map(move |k| sides.map(|off| (inset + STEP * k as f64, off))));
        let texts = places.map(|(along, off)| {
            let at = self.from + self.along() * along + self.along().turn_90() * off;
            Text::new(at, SMALL, name).turned(turn)
        });
        let free = |text: &Text| {
            let room = text.bounding_box().inflate(0.5, 0.0);
            !ink.touches(room) && !taken.iter().any(|taken| taken.overlaps(room))
        };
        texts.into_iter().find(free).map(|text| item(Role::Datum, text))
    }
}

#[cfg(test)]
mod tests {
    use super::DatumLine;
    use crate::geometry::Point;
    use crate::layout::ink::Ink;
    use crate::layout::words::item;
    use crate::page::{Role, Text};

    fn line() -> DatumLine {
        DatumLine { from: Point::ORIGIN, length: 200.0, up: false, name: "datum, row 1".into() }
    }

    #[test]
    fn the_line_is_broken_at_words_and_keeps_its_dashes() {
        let words = item(Role::Text, Text::new(Point::new(60.0, -1.0), 3.5, "words"));
        let own = words.bounding_box().expect("a box");
        let items = [words];
        let pieces = line().pieces(&Ink::new(&items));
        let ends: Vec<(f64, f64)> = pieces.iter().filter_map(|p| p.bounding_box()).map(|b| (b.x0, b.x1)).collect();
        assert_eq!(ends.len(), 2);
        assert!(ends[0].0 == 0.0 && (ends[0].1 - own.x0 + 1.0).abs() < 1e-9, "{ends:?} {own:?}");
        assert!((ends[1].0 - own.x1 - 1.0).abs() < 1e-9 && ends[1].1 == 200.0, "{ends:?} {own:?}");
    }

    #[test]
    fn the_name_moves_off_words_and_off_what_is_taken() {
        let at = |items: &[crate::page::Item], taken: &[crate::geometry::Rect]| {
            let named = line().named(&Ink::new(items), taken).expect("room");
            named.bounding_box().expect("a box")
        };
        let first = at(&[], &[]);
        let words = [item(Role::Text, Text::new(first.origin(), 3.5, "words"))];
        let second = at(&words, &[]);
        assert!(!second.overlaps(words[0].bounding_box().expect("a box")));
        assert!(!at(&words, &[second]).overlaps(second));
    }
}
