//! A view on paper: lines at a scale, numbers and names.

use super::cutting::CuttingLine;
use super::list::List;
use super::measure::{measures, measures_of_section};
use super::overlay::{Overlay, rings};
use super::place::Room;
use super::shown::{Measure, Side};
use crate::geometry::{Affine, Path, Plane, Point, Rect, Segment, Vec2};
use crate::layout::words::item;
use crate::page::{Anchor, Item, Pen, Role, Shape, Text};
use crate::piece::Piece;
use crate::tolerance::{PARALLEL, UNSEEN};
use crate::units::Notation;
use crate::view::View;
use crate::view::chained;
use crate::view::thinned;
use crate::view::{Model, Subject};
use crate::view::{Sight, Stroke};
use std::sync::Arc;

/// How far floor and centre lines run past the view, mm.
pub(super) const PAST: f64 = 8.0;

/// How far the centre line of a mortise is carried on, mm on paper.
const BEYOND: f64 = 2.5;

/// Hatching lines on paper stand this far apart, mm.
const HATCHING: f64 = 2.5;

/// Steps by which the end of a section's line is moved out until it has room, mm, and how many are tried.
const STEP: f64 = 4.0;
const TRIES: u32 = 30;

/// Wide lines whose middles are nearer than this on paper, mm, print as one bar.
const RUN_TOGETHER: f64 = 0.5;

/// About so many of the light lines laid over a view are tried for their name.
const NAMED_AT: usize = 16;

/// Light lines nearer to one of the piece than this on paper, mm, are taken for it by the reader.
const APART: f64 = 1.0;

/// The list under a view is this wide at least, mm.
pub(in crate::layout) const LIST: f64 = 115.0;

/// Height of a view's name, mm.
pub(super) const NAME: f64 = 3.5;

/// A view as seen, true to size, before a scale is chosen.
#[derive(Debug, Clone)]
pub struct Seen {
    /// What the sheet calls it.
    pub name: String,
    /// Which of the usual views it is.
    pub side: Option<Side>,
    view: View,
    sight: Arc<Sight>,
    /// Lines of it and of what is laid over it that are drawn whatever stands before them.
    untold: usize,
    /// The cut model of a section, to be hatched.
    cut: Option<Model>,
    /// The centre lines of mortises.
    centres: Vec<(Point, Point)>,
    /// Where sections are cut: on which line, towards where they are looked at, and their letters.
    cutting: Vec<(Vec2, f64, char)>,
    /// Light lines laid over it, with the words that name them.
    over: Vec<(Vec<Path>, String)>,
    /// What it shows in place of all that is measured in it.
    shown: Option<Vec<Measure>>,
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
    /// What is told by words alone, until it is put somewhere.
    pub list: List,
    /// Where it goes under the view, and how wide it is there.
    under: (Point, f64),
}

impl Drawn {
    /// With its list under it.
    pub fn listed_under(self) -> Drawn {
        self.listed_within(f64::INFINITY)
    }

    /// With its list under it, whose lines are no wider than so many mm.
    pub fn listed_within(self, most: f64) -> Drawn {
        let (at, width) = self.under;
        self.listed(at, width.min(most))
    }

    /// With its list right of it, so many mm off and so wide.
    pub fn listed_beside(self, off: f64, width: f64) -> Drawn {
        let at = Point::new(self.envelope.x1 + off, self.envelope.y1);
        self.listed(at, width)
    }

    fn listed(mut self, at: Point, width: f64) -> Drawn {
        let list = std::mem::take(&mut self.list).drawn(at, width);
        self.envelope = list.iter().filter_map(Item::bounding_box).fold(self.envelope, |a, b| a.union(b));
        self.items.extend(list);
        self
    }
}

impl Seen {
    /// Looks at a piece from a side or along a view; `None` for a piece of no boards.
    pub fn new(name: String, side: Option<Side>, view: View, model: &Model) -> Option<Seen> {
        let sight = model.seen(&view);
        let boxes = sight.visible.iter().map(|s| s.line.bounding_box());
        let bounds = boxes.reduce(|a, b| a.union(b))?;
        let centres = model.centre_lines(&view);
        let untold = sight.untold;
        let (cutting, over) = (Vec::new(), Vec::new());
        Some(Seen { name, side, view, sight, untold, cut: None, centres, cutting, over, shown: None, bounds })
    }

    /// As it is, showing nothing but these.
    pub fn showing(self, shown: Option<Vec<Measure>>) -> Seen {
        Seen { shown, ..self }
    }

    /// As it is, with the wood hatched that a section cuts.
    pub fn cut(mut self, model: Model) -> Seen {
        self.cut = Some(model);
        self
    }

    /// Shows where a section is cut, in a view along its plane.
    pub fn cut_at(mut self, plane: &Plane, letter: char) -> Seen {
        let n = plane.normal();
        let across = Vec2::new(self.view.right().dot(n), self.view.up().dot(n));
        if self.view.towards().dot(n).abs() < PARALLEL {
            self.cutting.push((across, plane.offset(), letter));
        }
        self
    }

    /// Lays light lines over the view.
    pub fn overlaid(mut self, overlay: &Overlay, piece: &Piece, notation: &Notation) -> Seen {
        if let Overlay::Variant { model, name } = overlay {
            let sight = model.seen(&self.view);
            self.untold += sight.untold;
            self.over.push((chained(&sight.visible), format!("variant {name}")));
        }
        let (rings, words) = rings(overlay, piece, notation);
        let seen = rings.iter().map(|ring| ring.iter().map(|p| self.view.project(*p)).collect::<Vec<Point>>());
        let paths: Vec<Path> = seen.map(|ring| Path::polyline(&ring, ring.len() > 2)).collect();
        if !paths.is_empty() {
            self.over.push((paths, words));
        }
        self
    }

    /// Draws the view.
    pub fn drawn(&self, subject: Subject, look: &Look) -> Drawn {
        let to_page = Affine::scale(look.scale);
        let pens = Pens::at(look.scale);
        let mut items = self.lines(look, &pens);
        let bounds = to_page.transform_rect_bbox(self.bounds);
        items.extend(self.axes(bounds, &pens));
        let mut room = Room::default();
        let drawn: Vec<Segment> = items.iter().flat_map(segments).collect();
        room.keep_off(drawn.iter());
        let cutting: Vec<CuttingLine> =
            self.cutting.iter().map(|c| CuttingLine::new(c, look.scale, bounds)).collect();
        for line in &cutting {
            let drawn = line.within(&pens);
            room.keep_off(segments(&drawn).iter());
            items.push(drawn);
        }
        let around = items.iter().filter_map(Item::bounding_box).fold(bounds, |a, b| a.union(b));
        room.place(&self.measures(subject, look), bounds, to_page);
        for (line, high) in cutting.iter().flat_map(|line| [(line, false), (line, true)]) {
            room.put_one((0..TRIES).flat_map(|k| line.end(high, STEP * f64::from(k), &pens)));
        }
        if matches!(self.side, Some(Side::Above | Side::Below)) {
            room.name_sides(bounds, &self.view);
        }
        for (paths, words) in &self.over {
            room.name(&self.places_on(paths, to_page), &words.clone().into());
        }
        items.append(&mut room.items);
        let envelope = items.iter().filter_map(Item::bounding_box).fold(around, |a, b| a.union(b));
        let under = Point::new(bounds.center().x, envelope.y0 - 4.0 - NAME);
        let name = item(Role::Text, Text::new(under, NAME, self.name.as_str()).anchored(Anchor::Middle));
        items.push(name);
        let envelope = items.iter().filter_map(Item::bounding_box).fold(envelope, |a, b| a.union(b));
        let under = (Point::new(bounds.x0, under.y - NAME), bounds.width().max(LIST));
        Drawn { items, envelope, list: room.list, under }
    }

    /// Where light lines may be named, on the page: where they part from the piece's own lines, if they do.
    fn places_on(&self, paths: &[Path], to_page: Affine) -> Vec<Point> {
        let lines: Vec<&Segment> = paths.iter().flat_map(Path::segments).collect();
        let every = (lines.len() / NAMED_AT).max(1);
        let shares = |line: &&Segment| [0.0, 0.5].map(|t| line.eval(t));
        let all: Vec<Point> = lines.iter().step_by(every).flat_map(shares).collect();
        let parts =
            |p: &&Point| self.sight.visible.iter().all(|s| to_page.as_coeffs()[0] * s.line.nearest(**p).0 > APART);
        let apart: Vec<Point> = all.iter().filter(parts).copied().collect();
        let places = if apart.is_empty() { all } else { apart };
        places.into_iter().map(|p| to_page * p).collect()
    }

    /// The numbers of the view.
    fn measures(&self, subject: Subject, look: &Look) -> Vec<Measure> {
        match (self.side, &self.cut) {
            _ if !look.numbers => Vec::new(),
            _ if self.shown.is_some() => self.shown.clone().unwrap_or_default(),
            (Some(side), _) => measures(subject, look.notation, side, self.bounds),
            (None, Some(cut)) => measures_of_section(subject, look.notation, &self.view, cut),
            (None, None) => Vec::new(),
        }
    }

    /// Wood, hatching, mortises and what is laid over them, at a scale.
    fn lines(&self, look: &Look, pens: &Pens) -> Vec<Item> {
        let to_page = Affine::scale(look.scale);
        let mut items = Vec::new();
        let lay = |strokes: &[Stroke], role: Role, pen: &Pen, items: &mut Vec<Item>| {
            let paths = chained(strokes).into_iter().map(|path| path.transformed(to_page));
            items.extend(paths.map(|path| Item::stroke(role, path, pen.clone())));
        };
        if let Some(cut) = &self.cut {
            let hatching = cut.hatching(&self.view, HATCHING / look.scale);
            lay(&hatching, Role::Mark, &pens.narrow, &mut items);
        }
        for path in self.over.iter().flat_map(|(paths, _)| paths) {
            items.push(Item::stroke(Role::Mark, path.transformed(to_page), pens.phantom.clone()));
        }
        if look.hidden {
            lay(&self.sight.hidden, Role::Mark, &pens.hidden, &mut items);
        }
        // Seen from above everything lies under the top: mortises are shown there with the hidden edges.
        let shows_joints = match self.side {
            Some(Side::Above) => look.hidden,
            Some(_) => true,
            None => self.cut.is_some(),
        };
        if shows_joints {
            lay(&self.sight.joints, Role::Mark, &pens.hidden, &mut items);
            items.extend(self.centres.iter().map(|(a, b)| {
                let out = (*b - *a).normalize() * BEYOND;
                let line = Path::line(to_page * *a - out, to_page * *b + out);
                Item::stroke(Role::Mark, line, pens.centre.clone())
            }));
        }
        lay(&thinned(&self.sight.visible, RUN_TOGETHER / look.scale), Role::Outline, &pens.wide, &mut items);
        items
    }

    /// Floor and centre lines.
    fn axes(&self, bounds: Rect, pens: &Pens) -> Vec<Item> {
        if self.side.is_none() && self.cut.is_none() {
            return Vec::new();
        }
        let (x0, x1, y0, y1) = (bounds.x0 - PAST, bounds.x1 + PAST, bounds.y0 - PAST / 2.0, bounds.y1 + PAST / 2.0);
        let line = |a: (f64, f64), b: (f64, f64), pen: &Pen| {
            Item::stroke(Role::Mark, Path::line(a.into(), b.into()), pen.clone())
        };
        let mut items = Vec::new();
        if (self.bounds.x0 + self.bounds.x1).abs() < UNSEEN {
            items.push(line((0.0, y0), (0.0, y1), &pens.centre));
        }
        let upright = self.view.up().z > 1.0 - PARALLEL;
        if upright {
            items.push(line((x0, 0.0), (x1, 0.0), &pens.narrow));
        } else if (self.bounds.y0 + self.bounds.y1).abs() < UNSEEN {
            items.push(line((bounds.x0 - PAST / 2.0, 0.0), (bounds.x1 + PAST / 2.0, 0.0), &pens.centre));
        }
        items
    }

    /// The lines of the view, true to size.
    pub fn sight(&self) -> &Sight {
        &self.sight
    }

    /// Lines that are drawn whatever stands before them.
    pub fn untold(&self) -> usize {
        self.untold
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
