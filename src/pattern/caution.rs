//! Cautions in lines beneath what they are about.

use super::lines::{together, wrapped};
use crate::geometry::{Point, Rect};
use crate::page::{About, Item, Label, Rank, Text};
use crate::router::Caution;
use crate::units::Notation;

/// How far in from the drawing's left side cautions begin, mm: clear of the cross at its corner.
const ASIDE: f64 = 15.0;
/// Height of the capitals of cautions, and from one base line to the next, mm.
const CAUTION: (f64, f64) = (2.5, 4.25);

/// The cautions in lines below what is drawn.
pub fn caution_lines(cautions: &[Caution], drawn: Rect, say: &Notation) -> Vec<Item> {
    let (height, lead) = CAUTION;
    let mut at = Point::new(drawn.x0 + ASIDE, drawn.y0 - 2.0 * lead);
    let mut items = Vec::new();
    for said in cautions.iter().map(|caution| caution.words(say)) {
        let mut texts = Vec::new();
        for line in wrapped(&said) {
            texts.push(Text::new(at, height, line));
            at.y -= lead;
        }
        items.extend(together(Label::new(About::Sheet, Rank::Caution), texts));
        at.y -= lead / 2.0;
    }
    items
}
