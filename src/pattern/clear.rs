//! Words set down one by one where they touch neither a line nor each other.

use super::lines::words;
use crate::geometry::{Path, Point};
use crate::page::{Anchor, Item, Label, Role, Standing, Text, words_beside};

/// Room left around words, mm: more than a line is wide, and seen as a gap.
const GAP: f64 = 0.6;
/// Shares of a line at which words beside it are tried.
const SHARES: [f64; 7] = [0.5, 0.35, 0.65, 0.22, 0.78, 0.1, 0.9];
/// How far off a line words beside it are tried, mm from the line to their nearer side.
const OFF: [f64; 5] = [1.5, 5.5, 9.5, 13.5, 17.5];

/// What stands already.
pub struct Clear {
    standing: Standing,
}

impl Clear {
    /// Keeps off these.
    pub fn new<'a>(items: impl IntoIterator<Item = &'a Item>) -> Clear {
        Clear { standing: Standing::of(items) }
    }

    /// Keeps off one more.
    pub fn keep_off(&mut self, item: &Item) {
        self.standing.add(item);
    }

    /// Whether words touch nothing that stands.
    pub fn fits(&self, text: &Text) -> bool {
        self.standing.fits(text, GAP)
    }

    /// The first of some words that fits, kept off from now on; where none does the very first, which is then only a wish: words that
    /// touch something are moved once the sheets are known. `None` of no words.
    pub fn first(&mut self, tried: impl IntoIterator<Item = Text>) -> Option<Item> {
        let mut tried = tried.into_iter().peekable();
        let wished = tried.peek().cloned();
        let Some(text) = tried.find(|text| self.fits(text)) else {
            return wished.map(|text| words(Role::Text, text));
        };
        let item = words(Role::Text, text);
        self.keep_off(&item);
        Some(item)
    }

    /// Words beside a path, along it: the longest that fits on the left of the path, else on its right; where none does the longest, as a
    /// wish.
    pub fn beside(&mut self, path: &Path, said: &[&str], height: f64) -> Option<Item> {
        let mut tried = said.iter().flat_map(|said| {
            let text = Text::new(Point::ORIGIN, height, *said).anchored(Anchor::Middle);
            [1.0, -1.0].into_iter().flat_map(move |side| {
                let text = text.clone();
                OFF.into_iter().flat_map(move |off| {
                    let text = text.clone();
                    SHARES.into_iter().filter_map(move |share| words_beside(path, share, side * off, &text))
                })
            })
        });
        let wished = tried.clone().next();
        let found = tried.find(|text| self.fits(text));
        let is_clear = found.is_some();
        let text = found.or(wished)?;
        let fuller = said.iter().position(|said| *said == text.content).map_or(said.len(), |at| at + 1);
        let shorter = said.iter().skip(fuller).map(|said| (*said).to_owned()).collect();
        let item = words(Role::Text, text.about(Label { shorter, ..Label::along(path.clone()) }));
        if is_clear {
            self.keep_off(&item);
        }
        Some(item)
    }
}

#[cfg(test)]
mod tests {
    use super::{Clear, Path, Point, Role, Text};
    use crate::page::{Pen, Shape};
    use crate::pattern::lines::{MARK_WIDTH, stroke};

    #[test]
    fn words_go_where_there_is_room() {
        let edge = Path::line(Point::ORIGIN, Point::new(100.0, 0.0));
        let across = Path::line(Point::new(50.0, -30.0), Point::new(50.0, 30.0));
        let items = [&edge, &across].map(|path| stroke(Role::Mark, path.clone(), Pen::solid(MARK_WIDTH)));
        let mut clear = Clear::new(&items);
        let first = clear.beside(&edge, &["end grain"], 2.5).expect("there is room beside the middle");
        let again = clear.beside(&edge, &["end grain"], 2.5).expect("and for more");
        let bounds = [&first, &again].map(|item| item.bounding_box().expect("words"));
        assert!(!bounds[0].overlaps(bounds[1]), "{bounds:?}");
        assert!(bounds.iter().all(|b| b.y0 > 0.0 && (b.x1 < 50.0 || b.x0 > 50.0)), "{bounds:?}");
    }

    #[test]
    fn the_longest_words_that_fit() {
        let walls = [(0.0, 0.0), (0.0, 60.0), (30.0, 60.0), (30.0, 0.0)].map(Point::from);
        let walls = stroke(Role::Mark, Path::polyline(&walls, true), Pen::solid(MARK_WIDTH));
        let mut clear = Clear::new([&walls]);
        let line = Path::line(Point::new(2.0, 30.0), Point::new(28.0, 30.0));
        let item = clear.beside(&line, &["far too long to stand between the walls", "short"], 2.5);
        assert!(matches!(item.map(|item| item.shape), Some(Shape::Text(text)) if text.content == "short"));
    }

    #[test]
    fn words_without_room_are_wished_where_they_belong() {
        let wall = |x: f64| Path::line(Point::new(x, -60.0), Point::new(x, 60.0));
        let walls: Vec<_> = (0..40).map(|k| stroke(Role::Mark, wall(f64::from(k)), Pen::solid(MARK_WIDTH))).collect();
        let mut clear = Clear::new(&walls);
        let tried = [10.0, 20.0].map(|x| Text::new(Point::new(x, 0.0), 2.5, "no screw"));
        let said = |item: Option<crate::page::Item>| match item.map(|item| item.shape) {
            Some(Shape::Text(text)) => Some((text.content, text.at)),
            _ => None,
        };
        assert_eq!(said(clear.first(tried.clone())), Some(("no screw".to_owned(), tried[0].at)));
        assert!(
            said(clear.beside(&wall(20.0), &["end grain", "end"], 2.5)).is_some_and(|(said, _)| said == "end grain")
        );
    }

    #[test]
    fn words_within_other_words_are_seen() {
        let outer = Text::new(Point::ORIGIN, 10.0, "WWWWW");
        let clear = Clear::new([&super::words(Role::Text, outer)]);
        assert!(!clear.fits(&Text::new(Point::new(15.0, 4.0), 1.0, "i")));
        assert!(clear.fits(&Text::new(Point::new(15.0, 40.0), 1.0, "i")));
    }
}
