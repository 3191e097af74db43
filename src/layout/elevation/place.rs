//! Dimensions and notes placed by rule and moved until they are free of each other and of the lines.

use super::shown::{Lane, Measure, Shown};
use crate::geometry::{Affine, Arc, Path, Point, Rect, Segment, Vec2};
use crate::layout::dimension::{ARROW, Dimension, LETTERING, arrow, draw, thin};
use crate::layout::words::item;
use crate::page::{Anchor, Item, Role, Shape, Text};
use std::collections::BTreeMap;
use std::f64::consts::{FRAC_PI_2, PI};

/// From the view's lines to the first dimension line, mm.
const FIRST: f64 = 9.0;

/// From one dimension line to the next, mm (more than twice the lettering).
const STEP: f64 = 7.0;

/// Dimension lines that are tried before a number is given up to the list of notes.
const LANES: usize = 14;

/// Clear room round words, mm.
const CLEAR: f64 = 0.8;

/// Radii at which an angle's arc is tried, mm.
const RADII: [f64; 9] = [32.0, 38.0, 26.0, 44.0, 50.0, 20.0, 56.0, 62.0, 15.0];

/// Steps by which a curve is followed to keep words off it.
const CURVE_STEPS: usize = 24;

/// Side of the squares into which the lines of a page are sorted, mm: about a word's size.
const SQUARE: f64 = 12.0;

/// Straight pieces of every line by the squares of the page that they touch.
#[derive(Debug, Default)]
struct Ink {
    squares: BTreeMap<(i32, i32), Vec<(Point, Point)>>,
}

impl Ink {
    fn add(&mut self, (a, b): (Point, Point)) {
        let parts = (a.distance(b) / SQUARE).ceil().max(1.0);
        for k in 0..parts as usize {
            let piece = (a.lerp(b, k as f64 / parts), a.lerp(b, (k + 1) as f64 / parts));
            for square in squares(Rect::from_points(piece.0, piece.1)) {
                self.squares.entry(square).or_default().push(piece);
            }
        }
    }

    /// Whether a line passes through a rectangle.
    fn crosses(&self, r: Rect) -> bool {
        squares(r).filter_map(|s| self.squares.get(&s)).flatten().any(|line| crosses(*line, r))
    }
}

/// The squares that a rectangle touches.
fn squares(r: Rect) -> impl Iterator<Item = (i32, i32)> {
    let of = |v: f64| (v / SQUARE).floor() as i32;
    let (x, y) = (of(r.x0)..=of(r.x1), of(r.y0)..=of(r.y1));
    x.flat_map(move |x| y.clone().map(move |y| (x, y)))
}

/// Lines and words that stand already.
#[derive(Debug, Default)]
pub struct Room {
    ink: Ink,
    words: Vec<Rect>,
    /// Dimension lines: whether upright, and around them.
    bars: Vec<(bool, Rect)>,
    /// Leaders, which do not cross each other.
    leaders: Vec<(Point, Point)>,
    /// What was placed.
    pub items: Vec<Item>,
    /// Numbers for which no room was found.
    pub left_over: Vec<String>,
}

impl Room {
    /// Takes up lines that words keep clear of.
    pub fn keep_off<'a>(&mut self, lines: impl Iterator<Item = &'a Segment>) {
        lines.flat_map(straight).for_each(|line| self.ink.add(line));
    }

    /// Places the numbers of a view whose lines fill `bounds` on the page; `to_page` takes the view's millimetres there.
    pub fn place(&mut self, measures: &[Measure], bounds: Rect, to_page: Affine) {
        let span = |m: &Measure| match m.shown {
            Shown::Length { from, to, lane: Lane::Over | Lane::Under } => (from.x - to.x).abs(),
            Shown::Length { from, to, .. } => (from.y - to.y).abs(),
            _ => 0.0,
        };
        let mut lengths: Vec<&Measure> =
            measures.iter().filter(|m| matches!(m.shown, Shown::Length { .. })).collect();
        lengths.sort_by(|a, b| span(a).total_cmp(&span(b)));
        let rest = measures.iter().filter(|m| !matches!(m.shown, Shown::Length { .. }));
        for measure in lengths.into_iter().chain(rest) {
            let placed = match &measure.shown {
                Shown::Length { from, to, lane } => {
                    self.length(to_page * *from, to_page * *to, *lane, bounds, &measure.words)
                }
                Shown::Angle { apex, from, to } => {
                    let apex = to_page * *apex;
                    // Without room for an arc the words point at the sloping line.
                    let line = [25.0, 15.0, 35.0].map(|r| apex + Vec2::from_angle(*to) * r);
                    self.angle(apex, *from, *to, &measure.words) || self.note(&line, true, &measure.words)
                }
                Shown::Note { at, on_edge } => {
                    let at: Vec<Point> = at.iter().map(|p| to_page * *p).collect();
                    self.note(&at, *on_edge, &measure.words)
                }
            };
            if !placed {
                self.left_over.push(measure.words.clone());
            }
        }
    }

    /// Whether words may stand in a rectangle.
    fn is_free(&self, words: Rect) -> bool {
        let block = words.inflate(CLEAR, CLEAR);
        !self.words.iter().any(|w| w.overlaps(block)) && !self.ink.crosses(block)
    }

    /// Whether a line keeps clear of all words.
    fn is_clear(&self, line: (Point, Point)) -> bool {
        !self.words.iter().any(|w| crosses(line, w.inflate(0.4, 0.4)))
    }

    /// Takes what is drawn, if its words and lines have room.
    fn take(&mut self, items: Vec<Item>) -> bool {
        let lines: Vec<(Point, Point)> = items.iter().flat_map(lines_of).collect();
        let words: Vec<Rect> = items.iter().filter_map(words_of).collect();
        let own = |w: &Rect| lines.iter().any(|line| crosses(*line, *w));
        let free = words.iter().all(|w| self.is_free(*w) && !own(w)) && lines.iter().all(|line| self.is_clear(*line));
        if free {
            lines.into_iter().for_each(|line| self.ink.add(line));
            self.words.extend(words);
            self.items.extend(items);
        }
        free
    }

    /// Names a light line laid over the view.
    pub fn name(&mut self, at: Point, words: &str) {
        if !self.note(&[at], true, words) {
            self.left_over.push(words.to_owned());
        }
    }

    fn length(&mut self, from: Point, to: Point, lane: Lane, bounds: Rect, words: &str) -> bool {
        let upright = matches!(lane, Lane::Left | Lane::Right);
        for k in 0..LANES {
            let out = FIRST + STEP * k as f64;
            let off = match lane {
                Lane::Over => bounds.y1 + out - from.y.max(to.y),
                Lane::Under => bounds.y0 - out - from.y.min(to.y),
                Lane::Left => from.x.min(to.x) - bounds.x0 + out,
                Lane::Right => from.x.max(to.x) - bounds.x1 - out,
            };
            for (from, to) in [(from, to), (to, from)] {
                let along = if upright { FRAC_PI_2 } else { 0.0 };
                let items = draw(&Dimension { from, to, along, off, words: words.to_owned() });
                let bar = items.iter().rfind(|i| matches!(i.shape, Shape::Stroke { .. })).map(|i| {
                    lines_of(i)
                        .iter()
                        .fold(Rect::from_points(lines_of(i)[0].0, lines_of(i)[0].1), |r, l| r.union_pt(l.1))
                });
                let Some(bar) = bar else { continue };
                let near = bar.inflate(2.0, 2.0);
                if !self.bars.iter().any(|(u, other)| *u == upright && other.overlaps(near)) && self.take(items) {
                    self.bars.push((upright, bar));
                    return true;
                }
            }
        }
        false
    }

    /// The arc between two directions with the first one drawn as a line, words beyond its end or beside it.
    fn angle(&mut self, apex: Point, from: f64, to: f64, words: &str) -> bool {
        let turn = (to - from + PI).rem_euclid(2.0 * PI) - PI;
        // Words stand on the side away from the slope.
        let side = if turn > 0.0 { 1.0 } else { -1.0 };
        for radius in RADII {
            let at = |angle: f64, r: f64| apex + Vec2::from_angle(angle) * r;
            let wide = radius * turn.abs() > 3.0 * ARROW;
            // Arrows that find no room point inwards from outside.
            let more = if wide { 0.0 } else { 2.0 * ARROW / radius * turn.signum() };
            let arc = Arc::circular(apex, radius, from - more, turn + 2.0 * more);
            let mut items = vec![
                thin(Path::line(at(from, 3.0), at(from, radius + 3.0))),
                thin(Path::open(vec![Segment::Arc(arc)])),
            ];
            let inwards = if wide { 1.0 } else { -1.0 } * turn.signum();
            items.push(arrow(at(from, radius), Vec2::from_angle(from).turn_90() * inwards));
            items.push(arrow(at(to, radius), -Vec2::from_angle(to).turn_90() * inwards));
            let out = if wide { 2.0 } else { 2.0 * ARROW + 2.0 };
            // Beyond the arc's two ends, then beyond the wood along the slope, then over the first line.
            let beside = |end: f64, side: f64, by: f64| (at(end, radius) + Vec2::new(side * by, 0.0), side);
            let inner = [out, out + 4.0, out + 8.0, out + 12.0, out + 18.0].map(|by| beside(to, -side, by));
            let places = [beside(from, side, out)].into_iter().chain(inner).chain([(at(from, radius + 9.0), side)]);
            for (place, side) in places {
                let mut drawn = items.clone();
                drawn.extend(two_lines(place, side, words));
                if self.take(drawn) {
                    return true;
                }
            }
        }
        false
    }

    /// Words joined by a line to a point: an arrow on an edge, a dot within a face (ISO 128-2).
    fn note(&mut self, points: &[Point], on_edge: bool, words: &str) -> bool {
        let text = Text::new(Point::ORIGIN, LETTERING, words);
        // Words left of their point, and right of it, measured once.
        let sides = [(Anchor::End, -1.0), (Anchor::Start, 1.0)]
            .map(|(anchor, side)| (anchor, side, text.clone().anchored(anchor).bounding_box()));
        for ring in 1..26 {
            let reach = 6.0 * f64::from(ring);
            for (at, spoke) in points.iter().flat_map(|at| (0..24).map(move |spoke| (*at, spoke))) {
                let tip = at + Vec2::from_angle(PI / 12.0 * (f64::from(spoke) + 0.5)) * reach;
                let (anchor, side, around) = sides[usize::from(tip.x >= at.x)];
                let place = tip + Vec2::new(1.2 * side, -LETTERING / 2.0);
                let leader = (at, tip);
                let crossed = self.leaders.iter().any(|other| meet(*other, leader));
                if crossed || !self.is_clear(leader) || !self.is_free(around + place.to_vec2()) {
                    continue;
                }
                let text = Text { at: place, ..text.clone() }.anchored(anchor);
                let end = if on_edge {
                    arrow(at, (tip - at).normalize())
                } else {
                    let shape = Shape::Fill { rings: vec![Path::circle(at, 0.5)], grey: 0.0 };
                    Item { role: Role::Mark, part: None, clip: None, shape }
                };
                if self.take(vec![thin(Path::line(at, tip)), end, item(Role::Text, text)]) {
                    self.leaders.push(leader);
                    return true;
                }
            }
        }
        false
    }
}

/// Words beside a point, the remark in brackets under them.
fn two_lines(at: Point, side: f64, words: &str) -> Vec<Item> {
    let anchor = if side > 0.0 { Anchor::Start } else { Anchor::End };
    let line = |words: &str, down: f64| {
        item(Role::Text, Text::new(at - Vec2::new(0.0, down), LETTERING, words).anchored(anchor))
    };
    match words.split_once(" (") {
        None => vec![line(words, LETTERING / 2.0)],
        Some((first, rest)) => vec![line(first, -0.8), line(&format!("({rest}"), LETTERING + 1.0)],
    }
}

/// Straight pieces that follow a line closely enough to keep words off it.
fn straight(line: &Segment) -> Vec<(Point, Point)> {
    let steps = if matches!(line, Segment::Line(_)) { 1 } else { CURVE_STEPS };
    let at = |i: usize| line.eval(i as f64 / steps as f64);
    (0..steps).map(|i| (at(i), at(i + 1))).collect()
}

fn lines_of(item: &Item) -> Vec<(Point, Point)> {
    match &item.shape {
        Shape::Stroke { path, .. } => path.segments().iter().flat_map(straight).collect(),
        Shape::Fill { rings, .. } => rings.iter().flat_map(Path::segments).flat_map(straight).collect(),
        Shape::Text(_) => Vec::new(),
    }
}

fn words_of(item: &Item) -> Option<Rect> {
    match &item.shape {
        Shape::Text(text) => Some(text.bounding_box()),
        _ => None,
    }
}

/// Whether a straight line passes through a rectangle (Liang and Barsky's clipping, from memory).
fn crosses((a, b): (Point, Point), r: Rect) -> bool {
    if a.x.max(b.x) < r.x0 || a.x.min(b.x) > r.x1 || a.y.max(b.y) < r.y0 || a.y.min(b.y) > r.y1 {
        return false;
    }
    let d = b - a;
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-d.x, a.x - r.x0), (d.x, r.x1 - a.x), (-d.y, a.y - r.y0), (d.y, r.y1 - a.y)] {
        if p == 0.0 {
            if q < 0.0 {
                return false;
            }
        } else if p < 0.0 {
            low = low.max(q / p);
        } else {
            high = high.min(q / p);
        }
    }
    low <= high
}

/// Whether two straight lines cross.
fn meet((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::crosses;
    use crate::geometry::{Point, Rect};

    #[test]
    fn a_line_is_told_to_pass_through_a_rectangle_or_past_it() {
        let r = Rect::new(0.0, 0.0, 10.0, 5.0);
        let line = |a: (f64, f64), b: (f64, f64)| crosses((Point::from(a), Point::from(b)), r);
        assert!(line((-5.0, 2.0), (15.0, 3.0)));
        assert!(line((2.0, 2.0), (3.0, 3.0)), "inside");
        assert!(!line((-5.0, 6.0), (15.0, 7.0)));
        assert!(!line((-3.0, 2.0), (2.0, 9.0)), "past the corner");
    }
}
