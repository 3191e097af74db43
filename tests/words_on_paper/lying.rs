//! Lines of a sheet that lie on each other: which of two is meant nobody could tell.

use super::ink::flattened;
use fullsize::geometry::{Point, Vec2};
use fullsize::page::{Item, Pen, Role, Shape};
use std::collections::{BTreeMap, HashMap};

/// Lines between whose ink a gap is no wider than this, mm, lie on each other: a bad printer closes it.
const CLOSED: f64 = 0.12;

/// For less than this, mm, lines may share their way: where one ends in another, and arms of crosses.
const SHARED: f64 = 14.0;

/// Sine of the largest angle between lines that run alike.
const LEAN: f64 = 0.02;

/// Side of the squares into which pieces are sorted, mm.
const SQUARE: f64 = 10.0;

/// A straight piece of the line of an item.
struct Piece {
    item: usize,
    width: f64,
    from: Point,
    to: Point,
}

/// What a reader tells lines apart by: what they are there for, their width and their dashes.
fn kind(item: &Item) -> Option<(Role, &Pen)> {
    match &item.shape {
        Shape::Stroke { pen, .. } if !matches!(item.role, Role::Scale | Role::Caption | Role::Registration) => {
            Some((item.role, pen))
        }
        _ => None,
    }
}

/// How much of one piece another lies on, mm, and how far off.
fn shared(own: &Piece, other: &Piece) -> (f64, f64) {
    let (long, far) = (own.to - own.from, other.to - other.from);
    if long.hypot() < 1e-9 || far.hypot() < 1e-9 {
        return (0.0, 0.0);
    }
    let way: Vec2 = long / long.hypot();
    if (far / far.hypot()).cross(way).abs() > LEAN {
        return (0.0, 0.0);
    }
    let ends = [other.from, other.to].map(|p| ((p - own.from).dot(way), (p - own.from).cross(way)));
    let on = (own.width + other.width) / 2.0 + CLOSED;
    if ends.iter().any(|(_, off)| off.abs() > on) {
        return (0.0, 0.0);
    }
    let (low, high) = (ends[0].0.min(ends[1].0).max(0.0), ends[0].0.max(ends[1].0).min(long.hypot()));
    if high <= low { (0.0, 0.0) } else { (high - low, ends[0].1.abs().max(ends[1].1.abs())) }
}

/// Two lines that lie on each other, one of them dashed: how long, from where, how far off, and what they are.
pub fn on_each_other(items: &[Item]) -> Vec<(f64, Point, f64, String)> {
    let mut pieces = Vec::new();
    for (index, item) in items.iter().enumerate().filter(|(_, item)| kind(item).is_some()) {
        let Shape::Stroke { path, pen } = &item.shape else { continue };
        let of_item = |(from, to)| Piece { item: index, width: pen.width, from, to };
        pieces.extend(flattened(path, SQUARE).into_iter().map(of_item));
    }
    let square = |at: f64| (at / SQUARE).floor() as i32;
    let mut squares: HashMap<(i32, i32), Vec<usize>> = HashMap::new();
    for (k, piece) in pieces.iter().enumerate() {
        let middle = piece.from.midpoint(piece.to);
        squares.entry((square(middle.x), square(middle.y))).or_default().push(k);
    }
    let is_dashed = |index: usize| kind(&items[index]).is_some_and(|(_, pen)| !pen.dash.is_empty());
    let mut long: BTreeMap<(usize, usize), (f64, Point, f64)> = BTreeMap::new();
    for own in &pieces {
        let middle = own.from.midpoint(own.to);
        let (x, y) = (square(middle.x), square(middle.y));
        let near = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)));
        for other in near.filter_map(|at| squares.get(&at)).flatten().map(|k| &pieces[*k]) {
            if other.item > own.item && (is_dashed(own.item) || is_dashed(other.item)) {
                let known = long.entry((own.item, other.item)).or_insert((0.0, own.from, 0.0));
                let (shared, off) = shared(own, other);
                known.0 += shared;
                known.2 = known.2.max(off);
            }
        }
    }
    let told = |index: usize| format!("{:?}", kind(&items[index]).map(|(role, pen)| (role, &pen.dash)));
    long.retain(|_, (long, ..)| *long > SHARED);
    long.into_iter()
        .map(|((a, b), (long, at, off))| (long, at, off, format!("{} and {}", told(a), told(b))))
        .collect()
}
