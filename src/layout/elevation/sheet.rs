//! Views laid out on sheets.

use super::drawn::{Drawn, Look, Seen};
use super::model::Model;
use super::overlay::Overlay;
use super::shown::Side;
use super::view::View;
use crate::geometry::{Affine, Plane, Point, Rect, Vec2};
use crate::layout::assembly;
use crate::layout::framed::{Legend, area, around, column};
use crate::layout::ink::moved;
use crate::layout::tile::{Setup, tile};
use crate::page::{Document, Item, Page, Part};
use crate::pattern::Pattern;
use crate::piece::Piece;
use crate::project::{Orientation, Paper};
use crate::units::Units;

/// Reductions (ISO 5455), largest first.
const REDUCTIONS: [u32; 7] = [1, 2, 5, 10, 20, 50, 100];

/// The front view is this long at least on a sheet that holds all views, mm.
const READABLE: f64 = 60.0;

/// Room between views, mm.
const GAP: f64 = 8.0;

/// Size of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// The largest of the recommended reductions at which the sheet holds the views.
    Fit,
    /// One to this many. Where the sheet is too small, the views are tiled.
    Reduced(u32),
}

/// What is drawn and how.
#[derive(Debug, Clone)]
pub struct Options<'a> {
    /// The scale.
    pub scale: Scale,
    /// Hidden edges too, dashed.
    pub hidden: bool,
    /// Planes of sections; the wood on the side to which the normal points is taken away.
    pub sections: Vec<Plane>,
    /// Light lines over the views.
    pub overlays: Vec<Overlay<'a>>,
    /// A frame with a title block.
    pub framed: bool,
    /// Revision code.
    pub revision: Option<String>,
    /// The date as it is to be written; none is written without it.
    pub date: Option<String>,
    /// Who drew it, for the title block.
    pub creator: Option<String>,
    /// The sheet of assembly too.
    pub assembly: bool,
}

impl Default for Options<'_> {
    fn default() -> Self {
        Options {
            scale: Scale::Fit,
            hidden: false,
            sections: Vec::new(),
            overlays: Vec::new(),
            framed: false,
            revision: None,
            date: None,
            creator: None,
            assembly: true,
        }
    }
}

/// A page before its legend: what it shows, its scale, its size, its items.
struct Sheet {
    shows: &'static str,
    scale: u32,
    size: (f64, f64),
    items: Vec<Item>,
}

/// Draws a piece: front, side, plan and a picture on the first sheet, the view from below and the sections on the next,
/// then the assembly. Metric pieces are laid out in the first angle, others in the third.
///
/// Where the scale is too large for the sheet, each view is tiled like a pattern.
pub fn draw(piece: &Piece, setup: &Setup, options: &Options) -> Document {
    let model = Model::of(piece, |_| true);
    let first_angle = setup.notation.units == Units::Mm;
    let side = if first_angle { Side::Left } else { Side::Right };
    let usual = [Side::Front, side, Side::Above].map(|s| seen(piece, &model, s, setup, options));
    let [Some(front), Some(side), Some(plan)] = usual else {
        return Document { title: setup.title.to_owned(), parts: Vec::new(), pages: Vec::new() };
    };
    let picture = Seen::new("isometric".into(), None, View::isometric(), &model);
    let mut others: Vec<Seen> = seen(piece, &model, Side::Below, setup, options).into_iter().collect();
    others.extend(sections(&model, &options.sections));
    let wanted = match options.scale {
        Scale::Fit => REDUCTIONS.to_vec(),
        Scale::Reduced(n) => vec![n.max(1)],
    };
    let cross = Cross { piece, front, side, plan, picture, first_angle };
    let Some(mut sheets) = cross.sheets(&others, &wanted, setup, options) else {
        let scale = wanted.last().copied().unwrap_or(1);
        let views = [&cross.front, &cross.side, &cross.plan].into_iter().chain(&others);
        return tiled(piece, views, scale, setup, options);
    };
    if options.assembly {
        let size = sizes(setup)[0];
        let room = area(size.0, size.1, setup.shop.margin.mm(), options.framed);
        let drawn = assembly::sheets(piece, &setup.notation, room, &REDUCTIONS);
        sheets.extend(drawn.into_iter().map(|(scale, items)| Sheet { shows: "assembly", scale, size, items }));
    }
    finished(sheets, setup, options)
}

/// A usual view with its overlays.
fn seen(piece: &Piece, model: &Model, side: Side, setup: &Setup, options: &Options) -> Option<Seen> {
    let seen = Seen::new(side.name().into(), Some(side), side.view(), model)?;
    Some(options.overlays.iter().fold(seen, |seen, overlay| seen.overlaid(overlay, piece, &setup.notation)))
}

/// Sections, named by letters as cutting planes are.
fn sections(model: &Model, planes: &[Plane]) -> Vec<Seen> {
    let letters = ('A'..='Z').cycle();
    let cut = planes.iter().zip(letters).filter_map(|(plane, letter)| {
        let behind = model.behind(plane);
        let view = View::of_section(plane)?;
        let seen = Seen::new(format!("section {letter}-{letter}"), None, view, &behind)?;
        Some(seen.cut(behind))
    });
    cut.collect()
}

/// Page sizes to try, in the order of preference.
fn sizes(setup: &Setup) -> Vec<(f64, f64)> {
    match &setup.shop.paper {
        Paper::Sheet { width, height, .. } => {
            let (w, h) = (width.mm(), height.mm());
            match setup.shop.orientation {
                Orientation::Portrait => vec![(w, h)],
                Orientation::Landscape => vec![(h, w)],
                Orientation::Auto => vec![(h, w), (w, h)],
            }
        }
        // A roll gives a sheet half as long again as it is wide.
        Paper::Roll { width } => vec![(1.5 * width.mm(), width.mm())],
    }
}

/// The three usual views in their places with a picture in the fourth.
struct Cross<'a> {
    piece: &'a Piece,
    front: Seen,
    side: Seen,
    plan: Seen,
    picture: Option<Seen>,
    first_angle: bool,
}

impl Cross<'_> {
    /// All views: three and a picture on one sheet with the others following, or each on its own where one sheet would
    /// make them too small to read. `None` where a view fits no sheet.
    fn sheets(&self, others: &[Seen], wanted: &[u32], setup: &Setup, options: &Options) -> Option<Vec<Sheet>> {
        let together = wanted.iter().find_map(|n| self.sheet(*n, setup, options));
        let long = self.front.bounds().width().max(self.front.bounds().height());
        let readable = |sheet: &Sheet| long / f64::from(sheet.scale) >= READABLE;
        let apart = || -> Option<Vec<Sheet>> {
            let views = [&self.front, &self.side, &self.plan].into_iter().chain(others).chain(&self.picture);
            let fitting = |seen: &Seen| wanted.iter().find_map(|n| alone(self.piece, seen, *n, setup, options));
            views.map(fitting).collect()
        };
        match together {
            Some(sheet) if readable(&sheet) || wanted.len() == 1 => {
                let scale = sheet.scale;
                let mut sheets = vec![sheet];
                sheets.extend(rows(self.piece, others, scale, setup, options));
                Some(sheets)
            }
            _ => apart(),
        }
    }

    /// The sheet at one to `n`; `None` where no sheet size holds it.
    fn sheet(&self, n: u32, setup: &Setup, options: &Options) -> Option<Sheet> {
        let scale = 1.0 / f64::from(n);
        // Where not even the lines fit, the numbers need not be placed.
        let (fb, sb, pb) = (self.front.bounds(), self.side.bounds(), self.plan.bounds());
        let least = (scale * (fb.width().max(pb.width()) + sb.width()), scale * (fb.height() + pb.height()));
        if !sizes(setup).iter().any(|(w, h)| least.0 <= *w && least.1 <= *h) {
            return None;
        }
        let look = Look { scale, hidden: options.hidden, numbers: true, notation: &setup.notation };
        let [front, side, plan] = [&self.front, &self.side, &self.plan].map(|seen| seen.drawn(self.piece, &look));
        let (f, s, p) = (front.envelope, side.envelope, plan.envelope);
        // Front over plan, or plan over front, on one plumb line; front and side on one floor.
        let left = (-f.x0).max(-p.x0);
        let first_column = left + f.x1.max(p.x1);
        let below = (-f.y0).max(-s.y0);
        let first_row = below + f.y1.max(s.y1);
        let (width, height) = (first_column + GAP + s.width(), first_row + GAP + p.height());
        let size = sizes(setup).into_iter().find(|(w, h)| {
            let room = area(*w, *h, setup.shop.margin.mm(), options.framed);
            width <= room.width() && height <= room.height()
        })?;
        let room = area(size.0, size.1, setup.shop.margin.mm(), options.framed);
        let spare = Vec2::new((room.width() - width) / 2.0, (room.height() - height) / 2.0);
        let (x, y) = (room.x0 + spare.x, room.y0 + spare.y);
        let floor = if self.first_angle { y + p.height() + GAP + below } else { y + below };
        let plan_y = if self.first_angle { y - p.y0 } else { y + first_row + GAP - p.y0 };
        let side_x = x + first_column + GAP - s.x0;
        let mut items = placed(&front, Point::new(x + left, floor));
        items.extend(placed(&side, Point::new(side_x, floor)));
        items.extend(placed(&plan, Point::new(x + left, plan_y)));
        let left_over: Vec<String> = [&front, &side, &plan].into_iter().flat_map(|d| d.left_over.clone()).collect();
        let rest = Rect::new(side_x + s.x0, plan_y + p.y0, room.x1, plan_y + p.y1);
        let (words, low) = column(Point::new(rest.x0, rest.y1), &left_over);
        items.extend(words);
        items.extend(self.picture(Rect { y1: low, ..rest }, &look));
        Some(Sheet { shows: "views", scale: n, size, items })
    }

    /// The picture in what room is left.
    fn picture(&self, room: Rect, look: &Look) -> Vec<Item> {
        let Some(seen) = &self.picture else { return Vec::new() };
        let b = seen.bounds();
        let scale = (room.width() / b.width()).min((room.height() - 10.0) / b.height()).min(look.scale);
        if scale <= 0.0 {
            return Vec::new();
        }
        let drawn = seen.drawn(self.piece, &Look { scale, hidden: false, numbers: false, ..*look });
        let e = drawn.envelope;
        placed(&drawn, room.center() - e.center().to_vec2())
    }
}

/// A view on a sheet of its own; `None` where no sheet size holds it.
fn alone(piece: &Piece, seen: &Seen, n: u32, setup: &Setup, options: &Options) -> Option<Sheet> {
    let scale = 1.0 / f64::from(n);
    let look = Look { scale, hidden: options.hidden, numbers: true, notation: &setup.notation };
    let rooms = sizes(setup).into_iter().map(|(w, h)| ((w, h), area(w, h, setup.shop.margin.mm(), options.framed)));
    let b = seen.bounds();
    let mut large =
        rooms.filter(|(_, r)| b.width() * scale <= r.width() && b.height() * scale <= r.height()).peekable();
    large.peek()?;
    let drawn = seen.drawn(piece, &look);
    let e = drawn.envelope;
    let (size, room) = large.find(|(_, r)| e.width() <= r.width() && e.height() <= r.height())?;
    let mut items = placed(&drawn, Point::ORIGIN);
    centre(&mut items, room);
    items.extend(column(Point::new(room.x0, room.y1), &drawn.left_over).0);
    Some(Sheet { shows: "view", scale: n, size, items })
}

/// A view with its origin at a point of the page.
fn placed(drawn: &Drawn, at: Point) -> Vec<Item> {
    let to_page = Affine::translate(at.to_vec2());
    drawn.items.iter().map(|one| Item { shape: moved(&one.shape, to_page), ..one.clone() }).collect()
}

/// Further views side by side in rows, on as many sheets as they take.
fn rows(piece: &Piece, views: &[Seen], scale: u32, setup: &Setup, options: &Options) -> Vec<Sheet> {
    let look =
        Look { scale: 1.0 / f64::from(scale), hidden: options.hidden, numbers: true, notation: &setup.notation };
    let size = sizes(setup)[0];
    let room = area(size.0, size.1, setup.shop.margin.mm(), options.framed);
    let mut sheets: Vec<Sheet> = Vec::new();
    let (mut x, mut y, mut tall) = (room.x0, room.y1, 0.0_f64);
    for seen in views {
        let drawn = seen.drawn(piece, &look);
        let e = drawn.envelope;
        if x > room.x0 && x + e.width() > room.x1 {
            (x, y, tall) = (room.x0, y - tall - GAP, 0.0);
        }
        if sheets.is_empty() || y - e.height() < room.y0 && y < room.y1 {
            sheets.push(Sheet { shows: "further views", scale, size, items: Vec::new() });
            (x, y, tall) = (room.x0, room.y1, 0.0);
        }
        if let Some(sheet) = sheets.last_mut() {
            sheet.items.extend(placed(&drawn, Point::new(x - e.x0, y - e.y1)));
        }
        x += e.width() + GAP;
        tall = tall.max(e.height());
    }
    sheets.iter_mut().for_each(|sheet| centre(&mut sheet.items, room));
    sheets
}

/// Moves items to the middle of a room.
fn centre(items: &mut [Item], room: Rect) {
    let Some(all) = Item::bounds_of_all(items) else { return };
    let to_page = Affine::translate(room.center() - all.center());
    items.iter_mut().for_each(|one| one.shape = moved(&one.shape, to_page));
}

/// Each view like a pattern on sheets to be taped up.
fn tiled<'a>(
    piece: &Piece,
    views: impl Iterator<Item = &'a Seen>,
    scale: u32,
    setup: &Setup,
    options: &Options,
) -> Document {
    let look =
        Look { scale: 1.0 / f64::from(scale), hidden: options.hidden, numbers: true, notation: &setup.notation };
    let patterns: Vec<Pattern> = views
        .map(|seen| {
            let drawn = seen.drawn(piece, &look);
            let words = |mm: f64| setup.notation.bare_length(crate::units::Length::from_mm(mm));
            Pattern {
                part: Part { name: seen.name.clone(), revision: options.revision.clone().unwrap_or_default() },
                make: format!("scale 1:{scale}"),
                sizes: format!("{} x {}", words(seen.bounds().width()), words(seen.bounds().height())),
                items: drawn.items,
                bounds: drawn.envelope.inflate(2.0, 2.0),
                small: false,
            }
        })
        .collect();
    tile(&patterns, setup).0
}

/// The sheets with their legends.
fn finished(sheets: Vec<Sheet>, setup: &Setup, options: &Options) -> Document {
    let count = sheets.len();
    let pages = sheets.into_iter().enumerate().map(|(k, sheet)| {
        let legend = Legend {
            title: setup.title.to_owned(),
            shows: sheet.shows.to_owned(),
            scale: format!("1:{}", sheet.scale),
            revision: options.revision.clone(),
            date: options.date.clone(),
            sheet: (k + 1, count),
            creator: options.creator.clone(),
        };
        let (width, height) = sheet.size;
        let mut items = sheet.items;
        items.extend(around(width, height, setup.shop.margin.mm(), options.framed, &legend, &setup.notation));
        Page { width, height, name: format!("{} {}", sheet.shows, k + 1), section: None, items }
    });
    Document { title: setup.title.to_owned(), parts: Vec::new(), pages: pages.collect() }
}

/// A small isometric picture of a piece, to look at: `width` mm wide, on a page of its own.
pub fn picture_of(piece: &Piece, title: &str, width: f64) -> Document {
    let model = Model::of(piece, |_| true);
    let seen = Seen::new(String::new(), None, View::isometric(), &model);
    let pages = seen.map(|seen| {
        const EDGE: f64 = 4.0;
        let b = seen.bounds();
        let scale = (width - 2.0 * EDGE) / b.width().max(b.height());
        let paths = super::chain::chained(&seen.sight().visible);
        let height = b.height() * scale + 2.0 * EDGE;
        let wide = b.width() * scale + 2.0 * EDGE;
        let to_page = Affine::translate((EDGE, EDGE)) * Affine::scale(scale) * Affine::translate((-b.x0, -b.y0));
        let pen = crate::page::Pen::solid(0.35);
        let items =
            paths.into_iter().map(|p| Item::stroke(crate::page::Role::Outline, p.transformed(to_page), pen.clone()));
        Page { width: wide, height, name: title.to_owned(), section: None, items: items.collect() }
    });
    Document { title: title.to_owned(), parts: Vec::new(), pages: pages.into_iter().collect() }
}
