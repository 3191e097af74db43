//! Views laid out on sheets.

use super::drawn::{Look, Seen};
use super::hiding::{Drawing, drawn_unhidden};
use super::large::{as_pattern, laid_out, pattern};
use super::options::{Content, Options, Scale};
use super::rows::{GAP, Sheet, alone, placed, rows, sizes};
use super::shown::Side;
use crate::geometry::{Plane, Point, Rect, Vec2};
use crate::layout::assembly;
use crate::layout::framed::{Legend, area, around};
use crate::layout::tile::{Setup, TooManySheets};
use crate::page::{Item, Page};
use crate::pattern::Pattern;
use crate::units::Units;
use crate::view::{Model, Subject, View};

/// Reductions (ISO 5455), largest first.
const REDUCTIONS: [u32; 7] = [1, 2, 5, 10, 20, 50, 100];

/// The front view is this long at least on a sheet that holds all views, mm.
const READABLE: f64 = 45.0;

/// A picture is this long at least beside the views, mm; where there is less room it has a sheet of its own.
const PICTURE: f64 = 60.0;

/// Height of a picture's name with the room over it, mm.
const ITS_NAME: f64 = 10.0;

/// Draws a piece: front, side, plan and a picture on the first sheet, the view from below and the sections on the next,
/// then the assembly; or what is asked for, a view a sheet. Metric pieces are laid out in the first angle, others in the
/// third.
///
/// Where the scale is too large for the sheet, each view is tiled like a pattern, or stands whole on one page.
///
/// # Errors
/// Where that takes more sheets than may be made.
pub fn draw(subject: Subject, setup: &Setup, options: &Options) -> Result<Drawing, TooManySheets> {
    let views = Views::of(subject, setup, options);
    let wanted = match options.scale {
        Scale::Fit => REDUCTIONS.to_vec(),
        Scale::Reduced(n) => vec![n.max(1)],
    };
    let scale = wanted.last().copied().unwrap_or(1);
    let floor = floor_too_large(subject, scale, setup, options);
    let sheets = views.sheets(&wanted, setup, options);
    let (mut large, mut findings) = (Vec::new(), Vec::new());
    let mut sheets = sheets.unwrap_or_else(|| {
        large.extend(views.all().map(|seen| as_pattern(subject, seen, scale, setup, options)));
        Vec::new()
    });
    // A drawing at full size is pinned up: the feet then stand on the floor at full size too.
    let on_floor = options.wants(Content::Assembly) && (floor.is_some() || !large.is_empty());
    large.extend(if on_floor { floor } else { None });
    if options.wants(Content::Assembly) {
        let pictured = assembly::pictured(subject);
        findings.extend(drawn_unhidden("assembly", pictured.untold()));
        sheets.extend(assembly_sheets(subject, &pictured, setup, options));
    }
    let mut document = laid_out(&large, scale, setup, options)?;
    document.pages.extend(finished(sheets, setup, options));
    findings.extend(views.all().chain(&views.picture).filter_map(Seen::told));
    Ok(Drawing { document, findings })
}

/// The sheets of assembly, the plan of the feet at the scale asked for where only that is drawn and a sheet holds it.
fn assembly_sheets(subject: Subject, pictured: &assembly::Pictured, setup: &Setup, options: &Options) -> Vec<Sheet> {
    let size = sizes(setup)[0];
    let room = area(size.0, size.1, setup.shop.margin.mm(), options.framed);
    let asked = match options.scale {
        Scale::Reduced(n) if options.only == [Content::Assembly] && fits_floor(subject, n.max(1), room, setup) => {
            vec![n.max(1)]
        }
        _ => REDUCTIONS.to_vec(),
    };
    let drawn = assembly::sheets(subject, pictured, &setup.notation, (room, &asked));
    drawn
        .into_iter()
        .map(|(scale, items)| Sheet { shows: "assembly".into(), scale, size, items, pictured: false })
        .collect()
}

/// Whether a sheet's room holds the plan of the feet at one to `n`.
fn fits_floor(subject: Subject, n: u32, room: Rect, setup: &Setup) -> bool {
    let around = assembly::floor(subject, &setup.notation, n).1;
    around.width() <= room.width() && around.height() <= room.height()
}

/// The plan of the feet as a pattern, where only that is drawn, or nothing is left out, at a scale too large for a sheet.
fn floor_too_large(subject: Subject, scale: u32, setup: &Setup, options: &Options) -> Option<Pattern> {
    let Scale::Reduced(_) = options.scale else { return None };
    let size = sizes(setup)[0];
    let room = area(size.0, size.1, setup.shop.margin.mm(), options.framed);
    if fits_floor(subject, scale, room, setup) || !(options.only.is_empty() || options.only == [Content::Assembly]) {
        return None;
    }
    let (items, around) = assembly::floor(subject, &setup.notation, scale);
    (!items.is_empty()).then(|| pattern("feet on the floor".into(), items, around, scale, setup, options))
}

/// A usual view with its overlays and the lines on which sections are cut.
fn seen(Subject { piece, model }: Subject, side: Side, setup: &Setup, options: &Options) -> Option<Seen> {
    let shown = options.shown.iter().find(|(of, _)| *of == side).map(|(_, shown)| shown.clone());
    let seen = Seen::new(side.name().into(), Some(side), side.view(), model)?.showing(shown);
    let seen = lettered(options).fold(seen, |seen, (plane, letter)| seen.cut_at(plane, letter));
    Some(options.overlays.iter().fold(seen, |seen, overlay| seen.overlaid(overlay, piece, &setup.notation)))
}

/// The planes of the sections with the letters by which they are named.
fn lettered<'a>(options: &'a Options) -> impl Iterator<Item = (&'a Plane, char)> {
    options.sections.iter().zip(('A'..='Z').cycle())
}

/// Sections, named by letters as cutting planes are.
fn sections(model: &Model, options: &Options) -> Vec<Seen> {
    let cut = lettered(options).filter_map(|(plane, letter)| {
        let behind = model.behind(plane);
        let view = View::of_section(plane)?;
        let seen = Seen::new(format!("section {letter}-{letter}"), None, view, &behind)?;
        Some(seen.cut(behind))
    });
    cut.collect()
}

/// What is looked at.
struct Views<'a> {
    subject: Subject<'a>,
    /// The three usual views, where they are wanted.
    front: Option<Seen>,
    side: Option<Seen>,
    plan: Option<Seen>,
    /// The view from below and the sections.
    others: Vec<Seen>,
    picture: Option<Seen>,
}

impl<'a> Views<'a> {
    fn of(subject: Subject<'a>, setup: &Setup, options: &Options) -> Views<'a> {
        let from_left = setup.notation.units == Units::Mm;
        let side = if from_left { Side::Left } else { Side::Right };
        let usual = [(Content::Front, Side::Front), (Content::Side, side), (Content::Above, Side::Above)];
        let below = (Content::Below, Side::Below);
        let sides = usual.into_iter().chain([below]).map(|(content, side)| (content, side.view()));
        let views: Vec<View> = sides
            .chain([(Content::Isometric, View::isometric())])
            .filter_map(|(content, view)| options.wants(content).then_some(view))
            .collect();
        // Held until each is asked for.
        let _sights = subject.model.seen_along(&views);
        let look = |(content, side): (Content, Side)| {
            options.wants(content).then(|| seen(subject, side, setup, options)).flatten()
        };
        let [front, side, plan] = usual.map(look);
        let mut others: Vec<Seen> = look(below).into_iter().collect();
        others.extend(sections(subject.model, options));
        let picture = options.wants(Content::Isometric);
        let picture =
            picture.then(|| Seen::new("isometric".into(), None, View::isometric(), subject.model)).flatten();
        Views { subject, front, side, plan, others, picture }
    }

    /// All but the picture.
    fn all(&self) -> impl Iterator<Item = &Seen> {
        [&self.front, &self.side, &self.plan].into_iter().flatten().chain(&self.others)
    }

    /// All views: three and a picture on one sheet with the others following, or each on its own where one sheet would
    /// make them too small to read or not all are wanted. `None` where a view fits no sheet.
    fn sheets(&self, wanted: &[u32], setup: &Setup, options: &Options) -> Option<Vec<Sheet>> {
        let (Some(front), Some(side), Some(plan)) = (&self.front, &self.side, &self.plan) else {
            return self.apart(wanted, setup, options);
        };
        let cross = Cross { subject: self.subject, front, side, plan, picture: self.picture.as_ref() };
        let together = wanted.iter().find_map(|n| cross.sheet(*n, setup, options));
        let long = front.bounds().width().max(front.bounds().height());
        let readable = |sheet: &Sheet| long / f64::from(sheet.scale) >= READABLE;
        match together {
            Some(sheet) if readable(&sheet) || wanted.len() == 1 => {
                let (scale, pictured) = (sheet.scale, sheet.pictured);
                let mut sheets = vec![sheet];
                sheets.extend(rows(self.subject, &self.others, scale, setup, options));
                let left = self.picture.as_ref().filter(|_| !pictured);
                let at = |seen: &Seen| REDUCTIONS.iter().find_map(|n| alone(self.subject, seen, *n, setup, options));
                sheets.extend(left.and_then(at).unwrap_or_default());
                Some(sheets)
            }
            _ => self.apart(wanted, setup, options),
        }
    }

    /// Each view on a sheet of its own, at the scale of the first, or smaller where a sheet does not hold it so; the picture
    /// as large as its sheet holds.
    fn apart(&self, wanted: &[u32], setup: &Setup, options: &Options) -> Option<Vec<Sheet>> {
        let at = |seen: &Seen, n: u32| alone(self.subject, seen, n, setup, options);
        let mut least = 0;
        let mut sheets = Vec::new();
        for seen in self.all() {
            let own = wanted.iter().filter(|n| **n >= least).find_map(|n| at(seen, *n))?;
            least = least.max(own.first().filter(|_| sheets.is_empty()).map_or(0, |sheet| sheet.scale));
            sheets.extend(own);
        }
        let picture = self.picture.as_ref();
        sheets.extend(
            picture.and_then(|seen| wanted.iter().chain(&REDUCTIONS).find_map(|n| at(seen, *n))).unwrap_or_default(),
        );
        Some(sheets)
    }
}

/// The three usual views in their places with a picture in the fourth.
struct Cross<'a> {
    subject: Subject<'a>,
    front: &'a Seen,
    side: &'a Seen,
    plan: &'a Seen,
    picture: Option<&'a Seen>,
}

impl Cross<'_> {
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
        let [front, side, plan] =
            [self.front, self.side, self.plan].map(|seen| seen.drawn(self.subject, &look).listed_under());
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
        let first_angle = setup.notation.units == Units::Mm;
        let floor = if first_angle { y + p.height() + GAP + below } else { y + below };
        let plan_y = if first_angle { y - p.y0 } else { y + first_row + GAP - p.y0 };
        let side_x = x + first_column + GAP - s.x0;
        let mut items = placed(&front, Point::new(x + left, floor));
        items.extend(placed(&side, Point::new(side_x, floor)));
        items.extend(placed(&plan, Point::new(x + left, plan_y)));
        // Beside the plan: right of the front view up to the side view, or right of the plan up to both.
        let plan_right = x + left + p.x1 + GAP;
        let edges = [(side_x + s.x0, s), (plan_right, Rect { y0: s.y0.min(f.y0), y1: s.y1.max(f.y1), ..s })];
        let rests = edges.map(|(x0, above)| {
            let (y0, y1) =
                if first_angle { (room.y0, floor + above.y0 - GAP) } else { (floor + above.y1 + GAP, room.y1) };
            Rect { x0, y0, x1: room.x1, y1 }
        });
        let picture = self.picture(&rests, &look);
        let pictured = !picture.is_empty();
        items.extend(picture);
        Some(Sheet { shows: "views".into(), scale: n, size, items, pictured })
    }

    /// The picture as large as the best of some rooms holds it; nothing where it would be too small to read.
    fn picture(&self, rooms: &[Rect], look: &Look) -> Vec<Item> {
        let Some(seen) = self.picture else { return Vec::new() };
        let b = seen.bounds();
        let held = |r: &Rect| (r.width() / b.width()).min((r.height() - ITS_NAME) / b.height()).min(1.0);
        let Some(room) = rooms.iter().max_by(|p, q| held(p).total_cmp(&held(q))) else { return Vec::new() };
        let scale = held(room);
        if scale * b.width().max(b.height()) < PICTURE {
            return Vec::new();
        }
        let drawn = seen.drawn(self.subject, &Look { scale, hidden: false, numbers: false, ..*look });
        let e = drawn.envelope;
        placed(&drawn, room.center() - e.center().to_vec2())
    }
}

/// The sheets with their legends.
fn finished(sheets: Vec<Sheet>, setup: &Setup, options: &Options) -> Vec<Page> {
    let count = sheets.len();
    let pages = sheets.into_iter().enumerate().map(|(k, sheet)| {
        let legend = Legend {
            title: setup.title.to_owned(),
            shows: sheet.shows.clone(),
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
    pages.collect()
}
