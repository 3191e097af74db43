//! A small picture of patterns with their main sizes, to look at and not to cut by.

use super::dimension::{Dimension, draw};
use super::words::{item, shorten};
use crate::geometry::{Affine, Point, Rect};
use crate::page::{Document, Item, Page, Pen, Role, Shape, Text};
use crate::pattern::Pattern;
use crate::units::{Length, Notation};
use std::f64::consts::FRAC_PI_2;

/// Width of the drawing of the longest pattern, mm.
const WIDTH: f64 = 170.0;

/// Height that no pattern's drawing exceeds, mm.
const HEIGHT: f64 = 150.0;

/// Room round each drawing for its dimensions, mm.
const ROOM: f64 = 26.0;

/// Height of a pattern's name, mm.
const NAME: f64 = 5.0;

/// Draws the patterns one below the other, all at one scale, each with its overall sizes or with the given dimensions
/// (points in the pattern's millimetres).
pub fn picture(patterns: &[(Pattern, Vec<Dimension>)], title: &str, notation: Notation) -> Document {
    let bounds: Vec<Rect> = patterns.iter().map(|(pattern, _)| edge_bounds(pattern)).collect();
    let longest = bounds.iter().map(Rect::width).fold(1e-9, f64::max);
    let highest = bounds.iter().map(Rect::height).fold(1e-9, f64::max);
    let scale = (WIDTH / longest).min(HEIGHT / highest);
    let mut items = Vec::new();
    let mut top = 0.0;
    for ((pattern, given), bounds) in patterns.iter().zip(&bounds) {
        let name = shorten(&pattern.part.name, NAME, WIDTH + ROOM);
        items.push(item(Role::Text, Text::new(Point::new(0.0, top - NAME), NAME, name)));
        top -= NAME + ROOM / 2.0;
        let place = Affine::translate((ROOM, top))
            * Affine::scale(scale)
            * Affine::translate(Point::ORIGIN - Point::new(bounds.x0, bounds.y1));
        items.extend(edges(pattern, place));
        let overall = if given.is_empty() { overall(*bounds, notation) } else { given.clone() };
        for dimension in overall {
            let moved = Dimension { from: place * dimension.from, to: place * dimension.to, ..dimension };
            items.extend(draw(&moved));
        }
        top -= bounds.height() * scale + ROOM;
    }
    let (width, height) = (WIDTH + 2.0 * ROOM + 10.0, 10.0 - top);
    let to_page = Affine::translate((8.0, height - 6.0));
    let items = items.into_iter().map(|one: Item| Item { shape: super::ink::moved(&one.shape, to_page), ..one });
    let page = Page { width, height, name: title.to_owned(), section: None, items: items.collect() };
    Document { title: title.to_owned(), parts: Vec::new(), pages: vec![page] }
}

/// Around what is cut.
fn edge_bounds(pattern: &Pattern) -> Rect {
    let outlines = pattern.items.iter().filter(|item| item.role == Role::Outline);
    let boxes = outlines.filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => path.bounding_box(),
        _ => None,
    });
    boxes.reduce(|a, b| a.union(b)).unwrap_or(pattern.bounds)
}

/// Length below and width at the left, as a maker lays the rule.
fn overall(bounds: Rect, notation: Notation) -> Vec<Dimension> {
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let corner = Point::new(bounds.x0, bounds.y0);
    vec![
        Dimension {
            from: corner,
            to: Point::new(bounds.x1, bounds.y0),
            along: 0.0,
            off: -10.0,
            words: say(bounds.width()),
        },
        Dimension {
            from: corner,
            to: Point::new(bounds.x0, bounds.y1),
            along: FRAC_PI_2,
            off: 10.0,
            words: say(bounds.height()),
        },
    ]
}

fn edges(pattern: &Pattern, place: Affine) -> impl Iterator<Item = Item> + '_ {
    pattern.items.iter().filter_map(move |item| match &item.shape {
        Shape::Stroke { path, .. } => {
            let wide = matches!(item.role, Role::Outline | Role::Opening);
            let pen = Pen::solid(if wide { 0.5 } else { 0.18 });
            Some(Item { shape: Shape::Stroke { path: path.transformed(place), pen }, ..item.clone() })
        }
        _ => None,
    })
}
