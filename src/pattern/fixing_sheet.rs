//! A small pattern of one closed line and what is drawn in it.

use super::lines::{CUT_WIDTH, stroke, words};
use super::{Pattern, hands, revision, title};
use crate::geometry::{Affine, Flat, FromOutside, Path, Point, Rect};
use crate::page::{Anchor, Item, Label, Part, Pen, Role, Shape, Text};
use crate::piece::SolvedBoard;
use crate::tolerance::SAME_PLACE;
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
    /// The key of the part that is cut by it; `None` of what is a part of its own.
    cuts: Option<String>,
}

/// A pattern that belongs to the fixings of a top.
#[derive(Debug, Clone, PartialEq)]
pub struct Fixing {
    /// The key of the part that is cut by it; `None` of what is a part of its own: a button.
    pub cuts: Option<String>,
    /// The pattern.
    pub pattern: Pattern,
}

/// A sheet of a part, with the copies of the part that take what is drawn on it.
pub(super) struct OfPart {
    board: usize,
    sheet: Sheet,
    /// Those as drawn, and those for which it is turned over.
    copies: [Vec<String>; 2],
}

impl OfPart {
    /// Takes up the sheet of a copy of a part. One that lies on another of the part and says the same is made from that: as drawn, or
    /// turned over about its length where that map does it.
    pub(super) fn put(
        all: &mut Vec<OfPart>,
        (board, solved, copy): (usize, &SolvedBoard, &str),
        sheet: Sheet,
        turned_over: Affine,
    ) {
        let sheet = sheet.cuts(solved);
        let on = |known: &OfPart, map: Affine| {
            known.board == board && known.sheet.block == sheet.block && known.sheet.lies_on(&sheet, map)
        };
        for (hand, map) in [Affine::IDENTITY, turned_over].into_iter().enumerate() {
            if let Some(known) = all.iter_mut().find(|known| on(known, map)) {
                known.copies[hand].push(copy.to_owned());
                return;
            }
        }
        all.push(OfPart { board, sheet, copies: [vec![copy.to_owned()], Vec::new()] });
    }

    /// The sheets, with how many are made of either hand; where one is not for every copy of its part it says for which.
    pub(super) fn all_told(all: Vec<OfPart>) -> Vec<Sheet> {
        let boards: Vec<usize> = all.iter().map(|one| one.board).collect();
        let shared = |own: usize| boards.iter().filter(|board| **board == own).count() > 1;
        all.into_iter().zip(boards.iter().map(|board| shared(*board))).map(|(one, shared)| one.told(shared)).collect()
    }

    fn told(self, shared: bool) -> Sheet {
        let OfPart { mut sheet, copies, .. } = self;
        sheet.make = hands::made("make", copies.each_ref().map(|copies| copies.len() as u32));
        if shared && copies[1].is_empty() {
            sheet.block.push(format!("for the {}", copies[0].join("; ")));
        }
        sheet.block.extend(hands::side_to_wood(copies));
        sheet
    }
}

impl Sheet {
    /// Whether another sheet, moved by a map, is this one: what is cut and marked on it.
    fn lies_on(&self, other: &Sheet, map: Affine) -> bool {
        let nodes = |sheet: &Sheet, map: Affine| -> Vec<(Role, Vec<Point>)> {
            let path = |item: &Item| match &item.shape {
                Shape::Stroke { path, .. } => Some((item.role, path.transformed(map).nodes())),
                Shape::Fill { .. } | Shape::Text(_) => None,
            };
            sheet.items.iter().filter_map(path).collect()
        };
        let (own, moved) = (nodes(self, Affine::IDENTITY), nodes(other, map));
        let near = |a: &[Point], b: &[Point]| a.iter().all(|p| b.iter().any(|q| p.distance(*q) < SAME_PLACE));
        let same =
            |a: &(Role, Vec<Point>), b: &(Role, Vec<Point>)| a.0 == b.0 && near(&a.1, &b.1) && near(&b.1, &a.1);
        own.len() == moved.len() && own.iter().all(|a| moved.iter().any(|b| same(a, b)))
    }

    /// A sheet of which one is made for either end of a top, unless told otherwise.
    ///
    /// The ring is drawn as someone before the part sees it, and so is all that is put on the sheet after it.
    pub(super) fn new(name: String, ring: Flat<FromOutside, Path>, thickness: f64) -> Sheet {
        let ring = ring.paper().into_drawn();
        let items = vec![stroke(Role::Outline, ring.clone(), Pen::solid(CUT_WIDTH))];
        let make = hands::made("make", [2, 0]);
        Sheet { name, make, ring, thickness, items, block: Vec::new(), small: true, cuts: None }
    }

    /// The same, by which a part is cut.
    pub(super) fn cuts(self, board: &SolvedBoard) -> Sheet {
        Sheet { cuts: Some(board.id.as_str().to_owned()), ..self }
    }

    /// The same, of which so many are made.
    pub(super) fn make(self, count: usize) -> Sheet {
        Sheet { make: format!("make {count}"), ..self }
    }

    pub(super) fn say(&mut self, at: Point, anchor: Anchor, said: String) {
        let text = Text::new(at, 2.5, said).anchored(anchor);
        self.items.push(words(Role::Text, text.about(Label::at(at))));
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
    ) -> Vec<Fixing> {
        let finished = |(index, mut sheet): (usize, Sheet)| {
            let code = settled.get(index).unwrap_or(&sheet).code();
            Fixing { cuts: sheet.cuts.take(), pattern: sheet.finished(code, heading, notation) }
        };
        own.into_iter().enumerate().map(finished).collect()
    }

    fn finished(mut self, revision: String, heading: &str, notation: &Notation) -> Pattern {
        let bounds = self.ring.bounding_box().unwrap_or(Rect::ZERO);
        let across = notation.bare_length(Length::from_mm(bounds.width()));
        let sizes = format!("{across} x {}", notation.length(Length::from_mm(bounds.height())));
        if self.small {
            // Beside others on a sheet nothing else says how many.
            self.block.insert(0, self.make.clone());
        }
        self.block.push(format!("{heading} · rev {revision}"));
        title::write(&mut self.items, &self.ring, &self.name, (&self.block, &[]), None);
        let bounds = Item::bounds_of_all(&self.items).unwrap_or(bounds).inflate(title::CLEAR, title::CLEAR);
        let part = Part::new(self.name, revision);
        let items = Flat::from_outside(self.items).paper();
        Pattern { small: self.small, ..Pattern::new(part, (self.make, sizes), items, bounds) }
    }
}
