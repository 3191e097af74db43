//! Small patterns set together by rows, so that each does not take a sheet of its own.

use super::lettering::{lettered_whole, lines};
use crate::geometry::{Flat, Paper, Point, Rect, Vec2};
use crate::page::{Item, Part, told_apart};
use crate::pattern::{Pattern, SolidLine, revision};

/// Room between two patterns, mm: enough to cut between them with scissors.
const GAP: f64 = 6.0;

/// What patterns that share a sheet are called, each such sheet with a number. No other pattern has one of its codes.
pub const TOGETHER: &str = "small patterns";

/// Patterns of a drawing, each with a short code that no other of them has, in their order.
pub fn coded(mut patterns: Vec<Pattern>) -> Vec<Pattern> {
    let codes = told_apart(patterns.iter().map(|pattern| pattern.part.name.as_str()), TOGETHER);
    patterns.iter_mut().zip(codes).for_each(|(pattern, code)| pattern.part.code = code);
    patterns
}

/// Patterns that are small and fit a window are joined into as few as hold them, none over another; the others are left
/// as they are, in their order, first.
pub fn shared(patterns: Vec<Pattern>, window: Vec2) -> Vec<Pattern> {
    sharing(patterns, window).into_iter().map(|one| one.pattern).collect()
}

/// A pattern as it is laid on sheets.
#[derive(Debug, Clone, PartialEq)]
pub struct Sharing {
    /// It, or several of them as one.
    pub pattern: Pattern,
    /// What it shows: itself, or those that share it.
    pub shows: Vec<Part>,
}

/// As [`shared`], each with what it shows.
pub fn sharing(patterns: Vec<Pattern>, window: Vec2) -> Vec<Sharing> {
    let fits = |p: &Pattern| p.small && p.bounds.width() <= window.x && p.bounds.height() <= window.y;
    let (mut small, kept): (Vec<Pattern>, Vec<Pattern>) = patterns.into_iter().partition(fits);
    // Tall ones first: rows are then nearly full.
    small.sort_by(|a, b| b.bounds.height().total_cmp(&a.bounds.height()));
    let mut shelves = vec![Shelf::new(window)];
    for pattern in small {
        let put = shelves.iter_mut().any(|shelf| shelf.put(&pattern));
        if !put {
            let mut shelf = Shelf::new(window);
            shelf.put(&pattern);
            shelves.push(shelf);
        }
    }
    let alone = |pattern: Pattern| Sharing { shows: vec![pattern.part.clone()], pattern };
    let kept = kept.into_iter().map(alone);
    kept.chain(shelves.into_iter().enumerate().filter_map(|(i, shelf)| shelf.finish(i))).collect()
}

/// A sheet being filled row by row, from the top.
struct Shelf {
    window: Vec2,
    items: Paper<Vec<Item>>,
    shows: Vec<Part>,
    solid: Option<SolidLine>,
    /// How many prints are wanted of what is wanted most often.
    prints: u32,
    /// Where the next pattern goes: its upper left corner.
    next: Point,
    row_height: f64,
}

impl Shelf {
    fn new(window: Vec2) -> Shelf {
        // What comes lies on the sheet as it did before.
        let items = Flat::either_way(Vec::new()).paper();
        Shelf { window, items, shows: Vec::new(), solid: None, prints: 1, next: Point::ORIGIN, row_height: 0.0 }
    }

    /// Puts a pattern where there is room; false where there is none left.
    fn put(&mut self, pattern: &Pattern) -> bool {
        let size = pattern.bounds.size();
        let ends_row = self.next.x > 0.0 && self.next.x + size.width > self.window.x;
        // Where it does not go in, the sheet is as long as it was.
        let at = if ends_row { Point::new(0.0, self.next.y - self.row_height - GAP) } else { self.next };
        if -at.y + size.height > self.window.y {
            return false;
        }
        if ends_row {
            self.next = at;
            self.row_height = 0.0;
        }
        let corner = Point::new(pattern.bounds.x0, pattern.bounds.y1);
        let lettered = pattern
            .items
            .redrawn(|items| lines(items).cloned().chain(lettered_whole(pattern)).collect::<Vec<Item>>());
        self.items.add(lettered.shifted(self.next - corner));
        self.shows.push(pattern.part.clone());
        self.prints = self.prints.max(pattern.prints);
        let own = pattern.solid;
        self.solid = Some(self.solid.map_or(own, |known| if known == own { own } else { SolidLine::EachItsOwn }));
        self.next.x += size.width + GAP;
        self.row_height = self.row_height.max(size.height);
        true
    }

    /// The filled sheet as one pattern, where anything is on it.
    fn finish(self, number: usize) -> Option<Sharing> {
        let height = self.row_height - self.next.y;
        let width = if self.next.y < 0.0 { self.window.x } else { self.next.x - GAP };
        let codes = self.shows.iter().map(|part| (part.revision.as_str(), [1, 0]));
        let names: Vec<&str> = self.shows.iter().map(|part| part.name.as_str()).collect();
        let told = match names.len() {
            1 => "1 pattern".to_owned(),
            count => format!("{count} patterns"),
        };
        let make = match self.prints {
            1 => names.join("; "),
            prints => format!("{}; {prints} prints of it are wanted", names.join("; ")),
        };
        let pattern = |items: Paper<Vec<Item>>| Pattern {
            prints: self.prints,
            solid: self.solid.unwrap_or(SolidLine::EachItsOwn),
            ..Pattern::new(
                Part::new(format!("{TOGETHER} {}", number + 1), revision::together(codes)),
                (make, told),
                items,
                Rect::new(0.0, -height, width.max(1.0), 0.0),
            )
        };
        (!self.items.is_empty()).then(|| Sharing { pattern: pattern(self.items), shows: self.shows.clone() })
    }
}
