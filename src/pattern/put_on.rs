//! Pieces that save a part that exists: packing that is glued to it, a wedge on which it is planed. Each is flat stock sawn to an outline.

use super::lines::{CUT_WIDTH, LEAD, double_arrow, stroke, together, words};
use super::{Pattern, revision};
use crate::geometry::{Flat, Paper, Path, Point, Rect, Vec2};
use crate::page::{About, Anchor, Item, Label, Part, Pen, Rank, Role, Text};
use crate::units::{Length, Notation};

/// Height of the capitals, and how far below the outline the words begin, mm.
const LETTERS: f64 = 2.5;
const BELOW: f64 = 6.0;

/// How far the name of a side stands off it, mm.
const OFF: f64 = 1.5;

/// Room around all that is drawn, mm.
const ROOM: f64 = 4.0;

/// How much of its length the arrow of the grain takes.
const GRAIN: f64 = 0.3;

/// A piece that saves a part.
#[derive(Debug, Clone)]
pub struct PutOn {
    /// What it is, and for what.
    pub name: String,
    /// How many are made.
    pub count: usize,
    /// Its outline, mm.
    pub outline: Paper<Vec<Path>>,
    /// What each piece of that runs along, in its order; nothing where that is not told.
    pub sides: Vec<String>,
    /// How thick it is; `None` where that is left to the maker.
    pub thickness: Option<Length>,
    /// Whether its grain runs along the drawing, as the part's does.
    pub has_grain: bool,
    /// What is to be heeded, a line each.
    pub told: Vec<String>,
}

/// The pattern of a piece that saves a part.
pub fn put_on(piece: &PutOn, notation: &Notation) -> Pattern {
    let rims = |paths: &Vec<Path>| -> Vec<Item> {
        paths.iter().map(|rim| stroke(Role::Outline, rim.clone(), Pen::solid(CUT_WIDTH))).collect()
    };
    let mut items = piece.outline.redrawn(rims);
    let bounds = Item::bounds_of_all(&items).unwrap_or(Rect::ZERO);
    let (middle, long) = (bounds.center(), bounds.width());
    let revision = revision::of_lines(&items, piece.thickness.unwrap_or_default().mm());
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let thick = piece.thickness.map_or_else(String::new, |thick| format!(", {} thick", notation.length(thick)));
    let size = format!("{} x {}{thick}", notation.bare_length(Length::from_mm(bounds.width())), say(bounds.height()));
    let make = format!("make {}", piece.count);
    items.add(Flat::from_outside(side_words(piece, bounds)).paper());
    let bounds = Item::bounds_of_all(&items).unwrap_or(bounds);
    let head = [piece.name.clone(), format!("{make} · {size} · rev {revision}")];
    let lines = head.into_iter().chain(piece.told.iter().cloned()).enumerate().map(|(row, words)| {
        let at = Point::new(bounds.x0, bounds.y0 - BELOW - LEAD * row as f64);
        Text::new(at, LETTERS, words)
    });
    let mut plate = together(Label::new(About::Sheet, Rank::Plate), lines.collect());
    if piece.has_grain {
        plate.extend(double_arrow(Role::Text, middle, Vec2::new(long * GRAIN, 0.0)));
    }
    items.add(Flat::from_outside(plate).paper());
    let all = Item::bounds_of_all(&items).unwrap_or(bounds).inflate(ROOM, ROOM);
    let part = Part::new(piece.name.as_str(), revision);
    Pattern { small: true, ..Pattern::new(part, (make, size), items, all) }
}

/// What each side runs along, outside of its middle: once for pieces that follow each other.
fn side_words(piece: &PutOn, bounds: Rect) -> Vec<Item> {
    let pieces = piece.outline.iter().flat_map(Path::segments);
    let mut told: Vec<(&String, Point)> = Vec::new();
    for (segment, side) in pieces.zip(&piece.sides) {
        if !told.iter().any(|(known, _)| *known == side) {
            told.push((side, segment.eval(0.5)));
        }
    }
    let center = bounds.center();
    let text = |(side, middle): (&String, Point)| {
        // Above and below stand those of what lies level, beside it those of what stands.
        let level = (middle.y - center.y).abs() * bounds.width() > (middle.x - center.x).abs() * bounds.height();
        let (at, anchor) = match (level, middle.y > center.y, middle.x < center.x) {
            (true, true, _) => (middle + Vec2::new(0.0, OFF), Anchor::Middle),
            (true, false, _) => (middle - Vec2::new(0.0, OFF + LETTERS), Anchor::Middle),
            (false, _, true) => (middle - Vec2::new(OFF, LETTERS / 2.0), Anchor::End),
            (false, _, false) => (middle + Vec2::new(OFF, -LETTERS / 2.0), Anchor::Start),
        };
        words(Role::Text, Text::new(at, LETTERS, side.as_str()).anchored(anchor).about(Label::at(middle)))
    };
    told.into_iter().map(text).collect()
}
