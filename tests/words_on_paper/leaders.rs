//! Lines that lead from words to what they are about: a dot or the tip of an arrow stands at one end, and words begin at the other.

use super::ink::{Lines, Words};
use fullsize::geometry::{Path, Point, Rect, Segment};
use fullsize::page::{Item, Page, Shape};

/// Width of a leader, mm.
const NARROW: f64 = 0.18;

/// A dot and an arrowhead are no larger than this, mm.
const DOT: f64 = 1.2;
const HEAD: f64 = 4.0;

/// Two points are one within this, mm.
const ONE: f64 = 0.02;

/// Words begin no farther than this from the end of their leader, mm.
const WORDS_OFF: f64 = 2.5;

/// Sine of the least angle at which a leader may meet a line.
const LEAN: f64 = 0.2588;

/// A line nearer than this, mm, over more than that, mm, is taken for the leader.
const NEAR: f64 = 0.5;
const LONG: f64 = 2.0;

/// Where dots stand, and the tips of arrowheads, all corners of the latter.
fn marks(page: &Page) -> (Vec<Point>, Vec<Vec<Point>>) {
    let (mut dots, mut heads) = (Vec::new(), Vec::new());
    for item in &page.items {
        let Shape::Fill { rings, .. } = &item.shape else { continue };
        let Some(around) = rings.first().and_then(Path::bounding_box) else { continue };
        let corners: Vec<Point> = rings[0].segments().iter().map(Segment::start).collect();
        let long = around.width().max(around.height());
        match corners.len() {
            3 if long < HEAD => heads.push(corners),
            _ if long < DOT => dots.push(around.center()),
            _ => {}
        }
    }
    (dots, heads)
}

/// Where dots stand at the ends of leaders.
pub fn dots(page: &Page) -> Vec<Point> {
    marks(page).0
}

/// A straight narrow line of an item.
fn narrow(item: &Item) -> Option<(Point, Point)> {
    match &item.shape {
        Shape::Stroke { path, pen } if pen.width == NARROW && pen.dash.is_empty() => match path.segments() {
            [Segment::Line(line)] => Some((line.p0, line.p1)),
            _ => None,
        },
        _ => None,
    }
}

/// Whether a piece of a line runs along a leader, or meets it at a small angle.
fn is_along((from, to): (Point, Point), (a, b): (Point, Point)) -> bool {
    let (long, own) = (to.distance(from), b.distance(a));
    if long < LONG || own < 1e-9 {
        return false;
    }
    let way = (to - from) / long;
    let lean = ((b - a) / own).cross(way).abs();
    if lean > LEAN {
        return false;
    }
    let place = |p: Point| ((p - from).dot(way), (p - from).cross(way));
    let ((s0, t0), (s1, t1)) = (place(a), place(b));
    // The stretch of the piece over the leader.
    let (low, high) = (s0.min(s1).max(0.0), s0.max(s1).min(long));
    if high <= low {
        return false;
    }
    let off = |s: f64| t0 + (t1 - t0) * (s - s0) / (s1 - s0);
    let (near, far) = (off(low), off(high));
    // A line that ends where the leader begins has a hair on either side by rounding alone.
    let meets = near * far < 0.0 && near.abs().max(far.abs()) > 1e-6;
    let beside = high - low > LONG && near.abs().max(far.abs()) < NEAR;
    meets || beside
}

/// The leaders of a page along which a line runs, or which meet one at a small angle, each from what it is about, with a piece of that line.
pub fn run_along(page: &Page, words: &[Words]) -> Vec<((Point, Point), (Point, Point))> {
    let (dots, heads) = marks(page);
    let is_marked =
        |p: Point| dots.iter().any(|dot| dot.distance(p) < ONE) || heads.iter().any(|head| head[0].distance(p) < ONE);
    let boxes: Vec<Rect> = words.iter().map(|words| words.around().inflate(WORDS_OFF, WORDS_OFF)).collect();
    let at_words = |p: Point| boxes.iter().any(|around| around.contains(p));
    let led = |item: &Item| {
        let (a, b) = narrow(item)?;
        match (is_marked(a), is_marked(b)) {
            (true, false) => Some((a, b)),
            (false, true) => Some((b, a)),
            _ => None,
        }
        .filter(|(_, to)| at_words(*to))
    };
    let leaders: Vec<(Point, Point)> = page.items.iter().filter_map(led).collect();
    let is_line = |item: &&Item| matches!(item.shape, Shape::Stroke { .. }) && led(item).is_none();
    let lines = Lines::of(page.items.iter().filter(is_line));
    let along = |leader: &(Point, Point)| {
        let around = Rect::from_points(leader.0, leader.1).inflate(NEAR, NEAR);
        let others = leaders.iter().filter(|other| *other != leader).copied();
        lines.near(around).chain(others).find(|piece| is_along(*leader, *piece))
    };
    leaders.iter().filter_map(|leader| Some((*leader, along(leader)?))).collect()
}
