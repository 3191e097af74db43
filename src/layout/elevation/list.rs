//! The list under a view: what its letters stand for, then what found no room beside its lines.

use super::drawn::NAME;
use crate::geometry::{Point, Vec2};
use crate::layout::words::{LEADING, item, wrap};
use crate::page::{About, Item, Label, Rank, Role, Text};

/// How far words stand behind their letter, and under the heading, mm.
const INDENT: f64 = 6.0;

/// The least room between letters and their words, mm: nearer both read as one statement.
const BETWEEN: f64 = 2.0;

/// What stands over the words for which the view has no line.
const HEADING: &str = "not marked in the view:";

/// Words that belong to a view and stand under it.
#[derive(Debug, Clone, Default)]
pub struct List {
    /// Words by the letters that the view shows.
    pub lettered: Vec<(String, String)>,
    /// Numbers and names that the view does not show, each with what it is.
    pub unmarked: Vec<String>,
}

impl List {
    /// The list from a point down, no wider than `width` mm. What a letter stands for keeps together, and so does what is not marked, on
    /// whichever sheet it comes to stand.
    pub fn drawn(&self, from: Point, width: f64) -> Vec<Item> {
        let mut at = from - Vec2::new(0.0, NAME);
        let wide = |letter: &String| Text::new(from, NAME, letter.as_str()).width() + BETWEEN;
        let indent = self.lettered.iter().map(|(letter, _)| wide(letter)).fold(INDENT, f64::max);
        let lettered = self.lettered.iter().map(|(letter, words)| vec![(letter.as_str(), words.as_str(), indent)]);
        let heading = [("", HEADING, 0.0)].into_iter().filter(|_| !self.unmarked.is_empty());
        let unmarked = heading.chain(self.unmarked.iter().map(|words| ("", words.as_str(), INDENT))).collect();
        let blocks = lettered.chain([unmarked]);
        blocks
            .flat_map(|block: Vec<_>| together(block.into_iter().flat_map(|entry| put(entry, width, &mut at))))
            .collect()
    }
}

/// The letter of an entry and its lines, from a point down, which is moved on.
fn put((letter, words, indent): (&str, &str, f64), width: f64, at: &mut Point) -> Vec<Text> {
    let mut texts: Vec<Text> = Vec::new();
    if !letter.is_empty() {
        texts.push(Text::new(*at, NAME, letter));
    }
    for line in wrap(words, NAME, width - indent) {
        texts.push(Text::new(*at + Vec2::new(indent, 0.0), NAME, line));
        at.y -= NAME * LEADING;
    }
    texts
}

/// Lines that stand on one sheet, wherever that has room.
fn together(texts: impl Iterator<Item = Text>) -> Vec<Item> {
    let mut texts: Vec<Text> = texts.collect();
    let more = texts.len().saturating_sub(1);
    if let Some(first) = texts.first_mut() {
        first.label = Some(Box::new(Label::new(About::Sheet, Rank::Note).with_more(more)));
    }
    texts.into_iter().map(|text| item(Role::Text, text)).collect()
}
