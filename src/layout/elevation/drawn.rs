//! A view on paper: lines at a scale, numbers and names.

use super::chain::chained;
use super::measure::measures;
use super::model::Model;
use super::overlay::{Overlay, rings};
use super::place::Room;
use super::shown::Side;
use super::view::View;
use super::visible::{Sight, Stroke};
use crate::geometry::{Affine, Path, Point, Rect, Segment};
use crate::layout::words::item;
use crate::page::{Anchor, Item, Pen, Role, Shape, Text};
use crate::piece::Piece;
use crate::units::Notation;

/// How far floor and centre lines run past the view, mm.
const PAST: f64 = 8.0;

/// Hatching lines on paper stand this far apart, mm.
const HATCHING: f64 = 2.5;

/// Height of a view's name, mm.
const NAME: f64 = 3.5;

/// A view as seen, true to size, before a scale is chosen.
#[derive(Debug, Clone)]
pub struct Seen {
    /// What the sheet calls it.
    pub name: String,
    /// Which of the usual views it is.
    pub side: Option<Side>,
    view: View,
    sight: Sight,
    /// The cut model of a section, to be hatched.
    cut: Option<Model>,
    /// Light lines laid over it, with their words.
    over: Vec<(Path, String)>,
    bounds: Rect,
}

/// What is drawn of a view.
#[derive(Debug, Clone, Copy)]
pub struct Look<'a> {
    /// Size on paper over size in wood.
    pub scale: f64,
    /// Hidden edges too, dashed.
    pub hidden: bool,
    /// Numbers.
    pub numbers: bool,
    /// How they are written.
    pub notation: &'a Notation,
}

/// A view on paper, its world origin at the origin.
#[derive(Debug, Clone)]
pub struct Drawn {
    /// Everything.
    pub items: Vec<Item>,
    /// Around everything, with its words.
    pub envelope: Rect,
    /// Numbers that found no room.
    pub left_over: Vec<String>,
}

impl Seen {
    /// Looks at a piece from a side or along a view; `None` for a piece of no boards.
    pub fn new(name: String, side: Option<Side>, view: View, model: &Model) -> Option<Seen> {
        let sight = model.seen(&view);
        let boxes = sight.visible.iter().map(|s| s.line.bounding_box());
        let bounds = boxes.reduce(|a, b| a.union(b))?;
        Some(Seen { name, side, view, sight, cut: None, over: Vec::new(), bounds })
    }

    /// As it is, with the wood hatched that a section cuts.
    pub fn cut(mut self, model: Model) -> Seen {
        self.cut = Some(model);
        self
    }

    /// Lays light lines over the view.
    pub fn overlaid(mut self, overlay: &Overlay, piece: &Piece, notation: &Notation) -> Seen {
        if let Overlay::Variant(other) = overlay {
            let sight = Model::of(other, |_| true).seen(&self.view);
            let words = |k: usize| if k == 0 { "variant".to_owned() } else { String::new() };
            let paths = chained(&sight.visible);
            self.over.extend(paths.into_iter().enumerate().map(|(k, path)| (path, words(k))));
        }
        for (ring, words) in rings(overlay, piece, notation) {
            let seen: Vec<Point> = ring.iter().map(|p| self.view.project(*p)).collect();
            self.over.push((Path::polyline(&seen, seen.len() > 2), words));
        }
        self
    }

    /// Draws the view.
    pub fn drawn(&self, piece: &Piece, look: &Look) -> Drawn {
        let to_page = Affine::scale(look.scale);
        let pens = Pens::at(look.scale);
        let mut items = Vec::new();
        let mut room = Room::default();
        let lay = |strokes: &[Stroke], role: Role, pen: &Pen, items: &mut Vec<Item>| {
            let paths = chained(strokes).into_iter().map(|path| path.transformed(to_page));
            items.extend(paths.map(|path| Item::stroke(role, path, pen.clone())));
        };
        if let Some(cut) = &self.cut {
            let hatching = cut.hatching(&self.view, HATCHING / look.scale);
            lay(&hatching, Role::Mark, &pens.narrow, &mut items);
        }
        for (path, _) in &self.over {
            items.push(Item::stroke(Role::Mark, path.transformed(to_page), pens.phantom.clone()));
        }
        if look.hidden {
            lay(&self.sight.hidden, Role::Mark, &pens.hidden, &mut items);
        }
        lay(&self.sight.visible, Role::Outline, &pens.wide, &mut items);
        let bounds = to_page.transform_rect_bbox(self.bounds);
        items.extend(self.axes(bounds, &pens));
        let drawn: Vec<Segment> = items.iter().flat_map(segments).collect();
        room.keep_off(drawn.iter());
        let around = items.iter().filter_map(Item::bounding_box).fold(bounds, |a, b| a.union(b));
        if let Some(side) = self.side.filter(|_| look.numbers) {
            room.place(&measures(piece, look.notation, side, self.bounds), bounds, to_page);
        }
        for (path, words) in self.over.iter().filter(|(_, words)| !words.is_empty()) {
            if let Some(at) = path.start() {
                room.name(to_page * at, words);
            }
        }
        items.append(&mut room.items);
        let envelope = items.iter().filter_map(Item::bounding_box).fold(around, |a, b| a.union(b));
        let under = Point::new(bounds.center().x, envelope.y0 - 4.0 - NAME);
        let name = item(Role::Text, Text::new(under, NAME, self.name.as_str()).anchored(Anchor::Middle));
        let envelope = name.bounding_box().map_or(envelope, |b| envelope.union(b));
        items.push(name);
        Drawn { items, envelope, left_over: room.left_over }
    }

    /// Floor and centre lines.
    fn axes(&self, bounds: Rect, pens: &Pens) -> Vec<Item> {
        let Some(side) = self.side else { return Vec::new() };
        let (x0, x1, y0, y1) = (bounds.x0 - PAST, bounds.x1 + PAST, bounds.y0 - PAST / 2.0, bounds.y1 + PAST / 2.0);
        let line = |a: (f64, f64), b: (f64, f64), pen: &Pen| {
            Item::stroke(Role::Mark, Path::line(a.into(), b.into()), pen.clone())
        };
        let mut items = vec![line((0.0, y0), (0.0, y1), &pens.centre)];
        items.push(if matches!(side, Side::Above | Side::Below) {
            line((bounds.x0 - PAST / 2.0, 0.0), (bounds.x1 + PAST / 2.0, 0.0), &pens.centre)
        } else {
            line((x0, 0.0), (x1, 0.0), &pens.narrow)
        });
        items
    }

    /// The lines of the view, true to size.
    pub fn sight(&self) -> &Sight {
        &self.sight
    }

    /// Around its seen lines, true to size.
    pub fn bounds(&self) -> Rect {
        self.bounds
    }
}

/// The lines of a drawing (ISO 128-2: wide lines for what is seen, narrow ones of half their width for the rest).
pub(in crate::layout) struct Pens {
    pub(in crate::layout) wide: Pen,
    pub(in crate::layout) narrow: Pen,
    hidden: Pen,
    pub(in crate::layout) centre: Pen,
    phantom: Pen,
}

impl Pens {
    /// The group of widths for a scale: a drawing at full size is read from farther away.
    pub(in crate::layout) fn at(scale: f64) -> Pens {
        let (wide, d) = if scale > 0.9 { (0.5, 0.25) } else { (0.35, 0.18) };
        // Dashes and gaps in widths of the line (ISO 128-2, from memory): dash 12, long dash 24, gap 3, dot a half.
        let dashes = |parts: &[f64]| Pen::dashed(d, &parts.iter().map(|p| p * d).collect::<Vec<f64>>());
        Pens {
            wide: Pen::solid(wide),
            narrow: Pen::solid(d),
            hidden: dashes(&[12.0, 3.0]),
            centre: dashes(&[24.0, 3.0, 0.5, 3.0]),
            phantom: Pen { grey: 0.35, ..dashes(&[24.0, 3.0, 0.5, 3.0, 0.5, 3.0]) },
        }
    }
}

/// The pieces of a line.
pub(in crate::layout) fn segments(item: &Item) -> Vec<Segment> {
    match &item.shape {
        Shape::Stroke { path, .. } => path.segments().to_vec(),
        _ => Vec::new(),
    }
}
