//! Cautions in lines beneath what they are about.

use super::lines::{words, wrapped};
use crate::geometry::{Point, Rect};
use crate::page::{About, Item, Label, Rank, Role, Text};
use crate::router::Caution;

/// How far in from the drawing's left side cautions begin, mm: clear of the cross at its corner.
const ASIDE: f64 = 15.0;
/// Height of the capitals of cautions, and from one base line to the next, mm.
const CAUTION: (f64, f64) = (2.5, 4.25);

/// The cautions in lines below what is drawn.
pub fn caution_lines(cautions: &[Caution], drawn: Rect) -> Vec<Item> {
    let (height, lead) = CAUTION;
    let mut at = Point::new(drawn.x0 + ASIDE, drawn.y0 - 2.0 * lead);
    let mut items = Vec::new();
    for said in cautions.iter().map(|caution| caution.words()) {
        let lines = wrapped(said);
        let label = Label::new(About::Sheet, Rank::Caution).with_more(lines.len().saturating_sub(1));
        let mut label = Some(Box::new(label));
        for line in lines {
            items.push(words(Role::Text, Text { label: label.take(), ..Text::new(at, height, line) }));
            at.y -= lead;
        }
        at.y -= lead / 2.0;
    }
    items
}
