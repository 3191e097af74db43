//! What a pattern is told once, whole on one of its sheets: on the first that has room.

use super::block::{Block, SMALLEST, broken};
use super::desk::Desk;
use super::{Said, notes};
use crate::page::{About, Anchor, Item, Label, Pen, Rank, Role, Shape};
use crate::pattern::InFull;

/// Capitals of what it is headed by are so high, mm.
const HEADING: f64 = 3.5;

/// Widths of lines to which it is broken, mm, the best to read first.
const WIDTHS: [f64; 6] = [130.0, 190.0, 95.0, 240.0, 70.0, 50.0];

/// Clear room round it, mm, so that it is not read on from other words.
const CLEAR: f64 = 3.0;

/// Where statements end: one is never parted, if a sheet has room for it.
const STATEMENT: &str = "; ";

/// Its words, each of what is told where one sheet has room for it; what no sheet has room for is parted between its statements.
pub fn placed(told: &[InFull], desk: &mut Desk) -> Vec<Item> {
    let mut items = Vec::new();
    for one in told {
        let statements: Vec<&str> = one.words.split_inclusive(STATEMENT).map(str::trim_end).collect();
        let all = Piece { heading: &one.heading, statements: &statements, is_first: true, is_last: true };
        items.extend(all.placed(desk));
    }
    items
}

/// Some of the statements of what is told.
struct Piece<'a> {
    heading: &'a str,
    statements: &'a [&'a str],
    is_first: bool,
    is_last: bool,
}

impl Piece<'_> {
    /// On one sheet; else its first half, and the other wherever it goes on.
    fn placed(&self, desk: &mut Desk) -> Vec<Item> {
        let heading = format!("{}{}", self.heading, if self.is_first { "" } else { ", goes on" });
        let words = format!("{}{}", self.statements.join(" "), if self.is_last { "" } else { " (goes on)" });
        if let Some(items) = whole(&heading, &words, desk) {
            return items;
        }
        if self.statements.len() < 2 {
            return in_lines(&heading, &words, desk);
        }
        let (first, rest) = self.statements.split_at(self.statements.len().div_ceil(2));
        let first = Piece { statements: first, is_last: false, ..*self };
        let rest = Piece { statements: rest, is_first: false, ..*self };
        [first.placed(desk), rest.placed(desk)].concat()
    }
}

fn lines(heading: &str, words: &str, width: f64) -> Vec<(f64, String)> {
    broken(&[(HEADING, heading.to_owned()), (SMALLEST, words.to_owned())], width)
}

/// All of it on the first sheet that has room.
fn whole(heading: &str, words: &str, desk: &mut Desk) -> Option<Vec<Item>> {
    let forms = WIDTHS.iter().filter_map(|width| Block::stacked(&lines(heading, words, *width), Anchor::Start));
    let forms: Vec<Block> = forms.map(|block| block.padded(CLEAR)).collect();
    let found = (0..desk.count()).find_map(|sheet| {
        let middle = desk.sheet(sheet).center();
        forms.iter().find_map(|form| desk.room_for(sheet, form, (0.0, None), middle))
    })?;
    let around = Block::of(found.clone())?.padded(CLEAR).rim();
    desk.set(&found);
    desk.draw(&Item::stroke(Role::Text, around, Pen::solid(0.0)));
    let item = |text| Item { role: Role::Text, part: None, clip: None, shape: Shape::Text(text) };
    Some(found.into_iter().map(item).collect())
}

/// A statement that has no room on any sheet, in as few pieces as can be.
fn in_lines(heading: &str, words: &str, desk: &mut Desk) -> Vec<Item> {
    let [.., narrow] = WIDTHS;
    let Some(block) = Block::stacked(&lines(heading, words, narrow), Anchor::Start) else { return Vec::new() };
    let texts = block.at(desk.sheet(0).center(), 0.0);
    let label = Label::new(About::Sheet, Rank::Plate);
    notes::on_sheet(&Said { role: Role::Text, label, texts, arrows: Vec::new() }, desk).unwrap_or_default()
}
