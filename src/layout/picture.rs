//! A small picture of patterns with their main sizes, to look at and not to cut by.

use super::dimension::{Dimension, draw};
use super::ink::moved;
use super::words::{item, shorten};
use crate::geometry::{Affine, Path, Point, Rect};
use crate::page::{Document, Item, Page, Pen, Role, Shape, Text};
use crate::pattern::Pattern;
use crate::tolerance::ROUNDING;
use crate::units::{Length, Notation};
use std::f64::consts::FRAC_PI_2;

/// Width of the drawing of the longest pattern, mm.
const WIDTH: f64 = 170.0;

/// Height that no pattern's drawing exceeds, mm.
const HEIGHT: f64 = 150.0;

/// Room between a pattern's name and its drawing, mm.
const ABOVE: f64 = 18.0;

/// Room under a drawing, mm.
const BELOW: f64 = 28.0;

/// White edge round the picture, mm.
const EDGE: f64 = 6.0;

/// Height of a pattern's name, mm.
const NAME: f64 = 5.0;

/// A pattern and what is said of its sizes.
#[derive(Debug, Clone)]
pub struct Pictured {
    /// The pattern.
    pub pattern: Pattern,
    /// Its dimensions, points in the pattern's millimetres; where there are none, its overall sizes are shown.
    pub dimensions: Vec<Dimension>,
    /// Straight lines that make a dimension plain, such as the chord under a rise.
    pub guides: Vec<(Point, Point)>,
    /// Lines of the same part as it was, in its axes, which are drawn in dashes.
    pub was: Vec<Path>,
}

/// Width of the lines of a part as it was, and their dash and gap, mm.
const WAS: f64 = 0.25;
const WAS_DASH: [f64; 2] = [3.0, 1.0];

/// Draws the patterns one below the other, all at one scale, with their dimensions.
pub fn picture(pictured: &[Pictured], title: &str, notation: Notation) -> Document {
    let bounds: Vec<Rect> = pictured.iter().map(|one| edge_bounds(&one.pattern)).collect();
    let longest = bounds.iter().map(Rect::width).fold(ROUNDING, f64::max);
    let highest = bounds.iter().map(Rect::height).fold(ROUNDING, f64::max);
    let scale = (WIDTH / longest).min(HEIGHT / highest);
    let mut items = Vec::new();
    let mut top = 0.0;
    for (one, bounds) in pictured.iter().zip(&bounds) {
        let name = shorten(&one.pattern.part.name, NAME, WIDTH);
        items.push(item(Role::Text, Text::new(Point::new(0.0, top - NAME), NAME, name)));
        top -= NAME + ABOVE;
        let place = Affine::translate((0.0, top))
            * Affine::scale(scale)
            * Affine::translate(Point::ORIGIN - Point::new(bounds.x0, bounds.y1));
        items.extend(drawn(one, place, *bounds, &notation));
        top -= bounds.height() * scale + BELOW;
    }
    let all = Item::bounds_of_all(&items).unwrap_or(Rect::ZERO).inflate(EDGE, EDGE);
    let to_page = Affine::translate(Point::ORIGIN - Point::new(all.x0, all.y0));
    let items = items.into_iter().map(|one: Item| Item { shape: moved(&one.shape, to_page), ..one });
    let page = Page {
        width: all.width(),
        height: all.height(),
        name: title.to_owned(),
        section: None,
        items: items.collect(),
    };
    Document { title: title.to_owned(), parts: Vec::new(), pages: vec![page] }
}

/// Height of the words under a picture, mm, and of a line of them.
const LEGEND: f64 = 3.5;
const LEGEND_LINE: f64 = 5.5;

/// A picture with lines of words under it: the page becomes as much higher, and wider where a line needs it.
pub fn legend(page: Page, lines: &[String]) -> Page {
    let words = |row: usize, line: &String| {
        let up = EDGE + LEGEND_LINE * (lines.len() - 1 - row) as f64;
        Text::new(Point::new(EDGE, up), LEGEND, line.as_str())
    };
    let under: Vec<Text> = lines.iter().enumerate().map(|(row, line)| words(row, line)).collect();
    let widest = under.iter().map(|text| text.width() + 2.0 * EDGE).fold(page.width, f64::max);
    let high = if lines.is_empty() { 0.0 } else { EDGE + LEGEND_LINE * lines.len() as f64 };
    let up = Affine::translate((0.0, high));
    let drawn = page.items.into_iter().map(|one| Item {
        shape: moved(&one.shape, up),
        clip: one.clip.map(|clip| up.transform_rect_bbox(clip)),
        ..one
    });
    let items = drawn.chain(under.into_iter().map(|text| item(Role::Text, text))).collect();
    Page { width: widest, height: page.height + high, items, ..page }
}

/// A pattern's lines and its dimensions in their place.
fn drawn(one: &Pictured, place: Affine, bounds: Rect, notation: &Notation) -> Vec<Item> {
    let own = one.dimensions.is_empty();
    let mut items: Vec<Item> = edges(&one.pattern, place, own).collect();
    let guide = |(from, to): &(Point, Point)| Shape::Stroke {
        path: Path::line(place * *from, place * *to),
        pen: Pen::dashed(0.18, &[2.0, 1.0]),
    };
    let guides = one.guides.iter().map(guide);
    items.extend(guides.map(|shape| Item { role: Role::Mark, part: None, clip: None, shape }));
    let was =
        one.was.iter().map(|path| Shape::Stroke { path: path.transformed(place), pen: Pen::dashed(WAS, &WAS_DASH) });
    items.extend(was.map(|shape| Item { role: Role::Mark, part: None, clip: None, shape }));
    let dimensions = if own { overall(bounds, notation) } else { one.dimensions.clone() };
    for dimension in dimensions {
        let on_page = Dimension { from: place * dimension.from, to: place * dimension.to, ..dimension };
        items.extend(draw(&on_page));
    }
    items
}

/// Around what is cut: the outline, or the opening where that is all there is of it.
fn edge_bounds(pattern: &Pattern) -> Rect {
    let outlines = pattern.items.iter().filter(|item| matches!(item.role, Role::Outline | Role::Opening));
    let boxes = outlines.filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => path.bounding_box(),
        _ => None,
    });
    boxes.reduce(|a, b| a.union(b)).unwrap_or(pattern.bounds)
}

/// Length below and width at the left, as a maker lays the rule.
fn overall(bounds: Rect, notation: &Notation) -> Vec<Dimension> {
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

/// What is cut in wide lines; holes and marks too where `all`.
fn edges(pattern: &Pattern, place: Affine, all: bool) -> impl Iterator<Item = Item> + '_ {
    pattern.items.iter().filter_map(move |item| match &item.shape {
        Shape::Stroke { path, .. } if all || item.role != Role::Mark => {
            let wide = matches!(item.role, Role::Outline | Role::Opening);
            let pen = Pen::solid(if wide { 0.5 } else { 0.18 });
            Some(Item { shape: Shape::Stroke { path: path.transformed(place), pen }, ..item.clone() })
        }
        _ => None,
    })
}
