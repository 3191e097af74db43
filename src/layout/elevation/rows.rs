//! Views on sheets of their own, and further views in rows.

use super::drawn::{Drawn, Look, Seen};
use super::options::Options;
use crate::geometry::{Affine, Point, Rect, Vec2};
use crate::layout::framed::area;
use crate::layout::ink::moved;
use crate::layout::tile::Setup;
use crate::model::{Orientation, Paper};
use crate::page::{Item, Shape};
use crate::view::Subject;

/// Room between views, mm.
pub const GAP: f64 = 8.0;

/// A list beside its view is this wide at least, mm.
const COLUMN: f64 = 60.0;

/// A page before its legend: what it shows, its scale, its size, its items.
pub struct Sheet {
    pub shows: String,
    pub scale: u32,
    pub size: (f64, f64),
    pub items: Vec<Item>,
    /// Whether a picture stands beside the views.
    pub pictured: bool,
}

/// Page sizes to try, in the order of preference.
pub fn sizes(setup: &Setup) -> Vec<(f64, f64)> {
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

/// A view on a sheet of its own with its list under it or beside it; where it takes the whole sheet the list has the next one.
/// `None` where no sheet size holds the view.
pub fn alone(subject: Subject, seen: &Seen, n: u32, setup: &Setup, options: &Options) -> Option<Vec<Sheet>> {
    let scale = 1.0 / f64::from(n);
    let look = Look { scale, hidden: options.hidden, numbers: true, notation: &setup.notation };
    let rooms = sizes(setup).into_iter().map(|(w, h)| ((w, h), area(w, h, setup.shop.margin.mm(), options.framed)));
    let b = seen.bounds();
    let large: Vec<((f64, f64), Rect)> =
        rooms.filter(|(_, r)| b.width() * scale <= r.width() && b.height() * scale <= r.height()).collect();
    large.first()?;
    let drawn = seen.drawn(subject, &look);
    let sheet =
        |size: (f64, f64), shows: String, items: Vec<Item>| Sheet { shows, scale: n, size, items, pictured: false };
    let held = |drawn: Drawn, room: &Rect| {
        let e = drawn.envelope;
        (e.width() <= room.width() && e.height() <= room.height()).then_some(drawn)
    };
    let beside = |room: &Rect| {
        let wide = room.width() - drawn.envelope.width() - GAP;
        (wide >= COLUMN).then(|| drawn.clone().listed_beside(GAP, wide))
    };
    let whole = large.iter().find_map(|(size, room)| {
        let under = held(drawn.clone().listed_under(), room);
        Some((*size, *room, under.or_else(|| held(beside(room)?, room))?))
    });
    if let Some((size, room, drawn)) = whole {
        return Some(vec![sheet(size, seen.name.clone(), centred(&drawn, room))]);
    }
    let (size, room) = large.into_iter().find(|(_, room)| held(drawn.clone(), room).is_some())?;
    let mut sheets = vec![sheet(size, seen.name.clone(), centred(&drawn, room))];
    let list = drawn.list.drawn(Point::new(room.x0, room.y1), room.width());
    for column in cut_to(list, room.height()) {
        sheets.push(sheet(size, format!("{}, its list", seen.name), column));
    }
    Some(sheets)
}

/// A column of words cut into as many as are no higher than a room, each moved up to where the first begins. Capitals tell where a line
/// begins, since what stands before one may be low.
fn cut_to(words: Vec<Item>, high: f64) -> Vec<Vec<Item>> {
    let mut columns: Vec<Vec<Item>> = Vec::new();
    let tops = |one: &Item| match &one.shape {
        Shape::Text(text) => Some(text.at.y + text.height),
        Shape::Stroke { .. } | Shape::Fill { .. } => None,
    };
    let Some(first) = words.iter().find_map(tops) else { return columns };
    let mut top = first;
    for one in words {
        let (Some(own), Some(b)) = (tops(&one), one.bounding_box()) else { continue };
        if columns.is_empty() || top - b.y0 > high {
            columns.push(Vec::new());
            top = own;
        }
        let up = Affine::translate(Vec2::new(0.0, first - top));
        let moved_up = Item { shape: moved(&one.shape, up), ..one };
        columns.last_mut().into_iter().for_each(|column| column.push(moved_up.clone()));
    }
    columns
}

fn centred(drawn: &Drawn, room: Rect) -> Vec<Item> {
    let mut items = placed(drawn, Point::ORIGIN);
    centre(&mut items, room);
    items
}

/// A view with its origin at a point of the page.
pub fn placed(drawn: &Drawn, at: Point) -> Vec<Item> {
    let to_page = Affine::translate(at.to_vec2());
    drawn.items.iter().map(|one| Item { shape: moved(&one.shape, to_page), ..one.clone() }).collect()
}

/// Further views side by side in rows, on as many sheets as they take.
pub fn rows(subject: Subject, views: &[Seen], scale: u32, setup: &Setup, options: &Options) -> Vec<Sheet> {
    let look =
        Look { scale: 1.0 / f64::from(scale), hidden: options.hidden, numbers: true, notation: &setup.notation };
    let size = sizes(setup)[0];
    let room = area(size.0, size.1, setup.shop.margin.mm(), options.framed);
    let mut sheets: Vec<Sheet> = Vec::new();
    let (mut x, mut y, mut tall) = (room.x0, room.y1, 0.0_f64);
    for seen in views {
        let drawn = seen.drawn(subject, &look).listed_under();
        let e = drawn.envelope;
        if x > room.x0 && x + e.width() > room.x1 {
            (x, y, tall) = (room.x0, y - tall - GAP, 0.0);
        }
        if sheets.is_empty() || y - e.height() < room.y0 && y < room.y1 {
            sheets.push(Sheet { shows: String::new(), scale, size, items: Vec::new(), pictured: false });
            (x, y, tall) = (room.x0, room.y1, 0.0);
        }
        if let Some(sheet) = sheets.last_mut() {
            let between = if sheet.shows.is_empty() { "" } else { ", " };
            sheet.shows = format!("{}{between}{}", sheet.shows, seen.name);
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
