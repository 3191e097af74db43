//! The list under a view: what its letters stand for, then what found no room beside its lines.

use super::drawn::NAME;
use crate::geometry::{Point, Vec2};
use crate::layout::words::{LEADING, item, wrap};
use crate::page::{Item, Role, Text};

/// How far words stand behind their letter, and under the heading, mm.
const INDENT: f64 = 6.0;

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
    /// The list from a point down, no wider than `width` mm.
    pub fn drawn(&self, from: Point, width: f64) -> Vec<Item> {
        let mut items = Vec::new();
        let mut at = from - Vec2::new(0.0, NAME);
        let mut put = |letter: &str, words: &str, indent: f64| {
            if !letter.is_empty() {
                items.push(item(Role::Text, Text::new(at, NAME, letter)));
            }
            for line in wrap(words, NAME, width - indent) {
                items.push(item(Role::Text, Text::new(at + Vec2::new(indent, 0.0), NAME, line)));
                at.y -= NAME * LEADING;
            }
        };
        self.lettered.iter().for_each(|(letter, words)| put(letter, words, INDENT));
        if !self.unmarked.is_empty() {
            put("", HEADING, 0.0);
        }
        self.unmarked.iter().for_each(|words| put("", words, INDENT));
        items
    }
}
