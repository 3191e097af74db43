//! Patterns side by side on one large sheet, for a pen plotter or a router.

use super::covered::uncovered;
use super::ink::moved;
use super::lettering::{lettered_whole, lines};
use super::words::{item, wrap};
use crate::finding::{Finding, Place, problems};
use crate::geometry::{Affine, Point, Rect, Vec2};
use crate::page::{Document, Item, Page, Role, Text};
use crate::pattern::Pattern;
use crate::units::Length;

/// Room between two patterns and round them all, mm: enough for a cutter and a clamp's edge.
const GAP: f64 = 20.0;

/// What a pattern is instead stands so far beneath it, mm, in letters from so high to so high.
const BENEATH: f64 = 2.0;
const INSTEAD_LETTERS: [f64; 2] = [2.5, 6.0];

/// Beneath that what is told in full, from base line to base line so far, mm, and in lines of no less than so many mm.
const LEAD: f64 = 4.25;
const NARROWEST: f64 = 60.0;

/// The area a plotter or router reaches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bed {
    /// Along x.
    pub width: Length,
    /// Along y.
    pub height: Length,
}

problems! {
    /// About the plotter's bed.
    pub(crate) enum BedProblem {
        /// A pattern is larger.
        Warn "larger-than-bed" TooLarge {
            pattern: String, bed: [Length; 2], width: Length as "width", height: Length as "height",
        }
        /// All patterns together are.
        Warn "bed-full" Full { bed: Length, height: Length as "height" }
    }
}

/// Lays patterns in rows on one page, none over another. With a bed, rows are as long as the bed; a pattern or a pile of
/// rows that does not fit is told (the page is made all the same, as large as it must be).
pub fn plot(patterns: &[Pattern], bed: Option<Bed>, title: &str) -> (Document, Vec<Finding>) {
    let row_length = bed.map_or_else(|| square_row(patterns), |bed| bed.width.mm() - 2.0 * GAP);
    let (mut items, mut x, mut row_top, mut row_height, mut right) = (Vec::new(), 0.0, 0.0, 0.0_f64, 0.0_f64);
    let mut findings = Vec::new();
    for (index, pattern) in patterns.iter().enumerate() {
        let size = room_of(pattern);
        if let Some(bed) = bed {
            findings.extend(too_large(pattern, bed));
        }
        if x > 0.0 && x + size.x > row_length {
            row_top -= row_height + GAP;
            (x, row_height) = (0.0, 0.0);
        }
        let corner = Point::new(pattern.bounds.x0, pattern.bounds.y1);
        items.extend(placed(pattern, index, Affine::translate(Point::new(x, row_top) - corner)));
        right = right.max(x + size.x);
        row_height = row_height.max(size.y);
        x += size.x + GAP;
    }
    let (width, height) = (right + 2.0 * GAP, row_height - row_top + 2.0 * GAP);
    findings.extend(bed.and_then(|bed| pile_too_high(height, bed)));
    let to_page = Affine::translate((GAP, height - GAP));
    let items = items.into_iter().map(|one: Item| Item { shape: moved(&one.shape, to_page), ..one }).collect();
    let page = Page { width, height, name: title.to_owned(), section: None, items };
    let parts = patterns.iter().map(|pattern| pattern.part.clone()).collect();
    (Document { title: title.to_owned(), parts, pages: vec![page] }, findings)
}

fn placed(pattern: &Pattern, part: usize, map: Affine) -> impl Iterator<Item = Item> + '_ {
    let words = lettered_whole(pattern).into_iter().chain(beneath(pattern)).chain(in_full_beneath(pattern));
    uncovered(lines(&pattern.items)).into_iter().chain(words).map(move |one| Item {
        part: Some(part),
        shape: moved(&one.shape, map),
        ..one
    })
}

/// What is told of a pattern before all else, in the gap beneath it.
fn beneath(pattern: &Pattern) -> Option<Item> {
    let what = pattern.told.join("; ");
    if what.is_empty() {
        return None;
    }
    let text = |height: f64| {
        Text::new(Point::new(pattern.bounds.x0, pattern.bounds.y0 - height - BENEATH), height, what.as_str())
    };
    let room = pattern.bounds.width() + GAP / 2.0;
    let [smallest, largest] = INSTEAD_LETTERS;
    let height = (largest * room / text(largest).width()).clamp(smallest, largest);
    Some(item(Role::Caption, text(height)))
}

/// What a pattern takes of the page, without the gap round it, mm.
fn room_of(pattern: &Pattern) -> Vec2 {
    let lines = in_full(pattern).len() as f64;
    let narrowest = if lines > 0.0 { NARROWEST } else { 0.0 };
    Vec2::new(pattern.bounds.width().max(narrowest), pattern.bounds.height() + lines * LEAD)
}

/// What is told in full of a pattern, in lines no wider than it is.
fn in_full(pattern: &Pattern) -> Vec<String> {
    let room = pattern.bounds.width().max(NARROWEST);
    let told = pattern.in_full.iter().flat_map(|told| [&told.heading, &told.words]);
    told.flat_map(|words| wrap(words, INSTEAD_LETTERS[0], room)).collect()
}

/// It beneath what is told before all else.
fn in_full_beneath(pattern: &Pattern) -> Vec<Item> {
    let top = pattern.bounds.y0 - 2.0 * BENEATH - INSTEAD_LETTERS[1];
    let lines = in_full(pattern).into_iter().enumerate();
    let at = |line: usize| Point::new(pattern.bounds.x0, top - line as f64 * LEAD - INSTEAD_LETTERS[0]);
    lines.map(|(line, words)| item(Role::Caption, Text::new(at(line), INSTEAD_LETTERS[0], words))).collect()
}

/// The row length that makes the page about square, and no pattern wider than it.
fn square_row(patterns: &[Pattern]) -> f64 {
    let area: f64 = patterns.iter().map(room_of).map(|room| (room.x + GAP) * (room.y + GAP)).sum();
    patterns.iter().map(|pattern| room_of(pattern).x).fold(area.sqrt(), f64::max)
}

fn too_large(pattern: &Pattern, bed: Bed) -> Option<Finding> {
    let size: Rect = pattern.bounds;
    let over = |length: f64, room: Length| length > room.mm() - 2.0 * GAP;
    (over(size.width(), bed.width) || over(size.height(), bed.height)).then(|| {
        let problem = BedProblem::TooLarge {
            pattern: pattern.part.name.clone(),
            bed: [bed.width, bed.height],
            width: Length::from_mm(size.width() + 2.0 * GAP),
            height: Length::from_mm(size.height() + 2.0 * GAP),
        };
        Finding::of(problem, Place::pointer("/patterns").child(&pattern.part.name))
    })
}

fn pile_too_high(height: f64, bed: Bed) -> Option<Finding> {
    (height > bed.height.mm()).then(|| {
        let problem = BedProblem::Full { bed: bed.height, height: Length::from_mm(height) };
        Finding::of(problem, Place::pointer("/shop/plotter/bed"))
    })
}
