//! Dimensions and notes placed by rule and moved until they are free of each other and of the lines.

use super::list::List;
use super::shown::{BEHIND, Lane, Measure, Shown, Words};
use super::straight::{lines_of, meet, straight};
use crate::geometry::{Affine, Arc, Path, Point, Rect, Segment, Vec2, Vec3};
use crate::layout::dimension::{ARROW, Dimension, LETTERING, arrow, draw_aside, thin};
use crate::layout::lettering::block::Block;
use crate::layout::lettering::leader::{self, CLEAR, Led};
use crate::layout::seams::letters;
use crate::layout::words::item;
use crate::page::{Anchor, Item, Pen, Role, Shape, Standing, Text};
use crate::tolerance::PARALLEL;
use crate::view::View;
use std::f64::consts::{FRAC_PI_2, PI};

/// From the view's lines to the first dimension line, mm.
const FIRST: f64 = 9.0;

/// From one dimension line to the next, mm (more than twice the lettering).
const STEP: f64 = 7.0;

/// Dimension lines that are tried before a number is given up to the list of notes.
const LANES: usize = 11;

/// How much farther beside a short dimension its words are tried, mm.
const ASIDE: [f64; 3] = [0.0, 10.0, 22.0];

/// How often lengths are placed anew because one found no room.
const AGAIN: usize = 2;

/// From a leader's end to its words, mm.
const BEFORE_WORDS: f64 = 1.2;

/// A line keeps off words by so much, mm.
const OFF_WORDS: f64 = 0.4;

/// Radii at which an angle's arc is tried, mm.
const RADII: [f64; 9] = [32.0, 38.0, 26.0, 44.0, 50.0, 20.0, 56.0, 62.0, 15.0];

/// The name of a side stands this far off what is drawn, mm; how far it is moved out where it finds no room, how often, and
/// how far to either side of the middle it is tried.
const SIDE_OFF: f64 = 5.0;
const SIDE_STEP: f64 = 3.0;
const SIDE_TRIES: u32 = 24;
const SIDE_TRIES_INSIDE: u32 = 3;
const SIDE_ASIDE: [f64; 5] = [0.0, 9.0, -9.0, 18.0, -18.0];

/// Shares of a leader at which it is asked whether wood lies under it.
const ALONG_LEADER: [f64; 4] = [0.25, 0.5, 0.75, 0.95];

/// Radius of the ring round a hidden corner, mm; width, dash and gap of the line to it.
const HIDDEN_RING: f64 = 1.0;
const HIDDEN_LEADER: (f64, [f64; 2]) = (0.18, [1.5, 0.8]);

/// Lines and words that stand already.
#[derive(Debug, Clone, Default)]
pub struct Room {
    standing: Standing,
    /// Dimension lines: whether upright, and around them.
    bars: Vec<(bool, Rect)>,
    /// Leaders, which do not cross each other.
    leaders: Vec<(Point, Point)>,
    /// The same, along which no other line runs.
    led: Standing,
    /// Dimension lines and their extension lines, which no leader crosses.
    dimension_lines: Vec<(Point, Point)>,
    /// What was placed.
    pub items: Vec<Item>,
    /// Where words with a leader stand, if not anywhere.
    within: Option<Rect>,
    /// Letters given so far.
    letters: usize,
    /// What stands under the view.
    pub list: List,
}

impl Room {
    /// Room in which words stay within a rectangle.
    pub fn within(rect: Rect) -> Room {
        Room { within: Some(rect), ..Room::default() }
    }

    /// Takes up lines that words keep clear of.
    pub fn keep_off<'a>(&mut self, lines: impl Iterator<Item = &'a Segment>) {
        // Curves of a view are many: as straight pieces they are asked at a tenth of the cost.
        lines.flat_map(straight).for_each(|(from, to)| self.standing.add(&thin(Path::line(from, to))));
    }

    /// Places the numbers of a view whose lines fill `bounds` on the page; `to_page` takes the view's millimetres there.
    ///
    /// Angles come first; then short lengths, so that they stand nearest to the view; where one finds no room it is tried again before
    /// all others.
    pub fn place(&mut self, measures: &[Measure], bounds: Rect, to_page: Affine) {
        let is_angle = |m: &Measure| matches!(m.shown, Shown::Angle { .. });
        let is_length = |m: &Measure| matches!(m.shown, Shown::Length { .. });
        // Angles have the fewest places.
        let (angles, measures): (Vec<&Measure>, Vec<&Measure>) = measures.iter().partition(|m| is_angle(m));
        angles.into_iter().for_each(|measure| self.told(measure, to_page));
        let (mut lengths, rest): (Vec<&Measure>, Vec<&Measure>) = measures.into_iter().partition(|m| is_length(m));
        lengths.sort_by(|a, b| span(a).total_cmp(&span(b)));
        let mut placed = self.clone();
        let mut failed = placed.lengths(&lengths, bounds, to_page);
        for _ in 0..AGAIN {
            let Some(first) = failed.first().copied() else { break };
            let place = lengths.remove(first);
            lengths.insert(0, place);
            let mut again = self.clone();
            let still = again.lengths(&lengths, bounds, to_page);
            if still.len() <= failed.len() {
                (placed, failed) = (again, still);
            }
        }
        *self = placed;
        // What stays without room is tried on the other side of the view.
        failed.retain(|k| {
            let Some(Measure { shown: Shown::Length { from, to, lane }, words, .. }) = lengths.get(*k).copied()
            else {
                return false;
            };
            !self.length(to_page * *from, to_page * *to, lane.across(), bounds, &words.whole())
        });
        self.list.unmarked.extend(failed.iter().filter_map(|k| lengths.get(*k)).map(|m| m.named()));
        rest.into_iter().for_each(|measure| self.told(measure, to_page));
    }

    /// Places an angle or a note, or puts it into the list.
    fn told(&mut self, measure: &Measure, to_page: Affine) {
        if !self.one(measure, to_page) {
            self.list.unmarked.push(measure.named());
        }
    }

    /// Places lengths; which of them found no room.
    fn lengths(&mut self, lengths: &[&Measure], bounds: Rect, to_page: Affine) -> Vec<usize> {
        let placed = |(k, m): (usize, &&Measure)| match &m.shown {
            Shown::Length { from, to, lane } => {
                let found = self.length(to_page * *from, to_page * *to, *lane, bounds, &m.words.whole());
                (!found).then_some(k)
            }
            _ => None,
        };
        lengths.iter().enumerate().filter_map(placed).collect()
    }

    /// Places an angle, a note, or a letter of the list.
    fn one(&mut self, measure: &Measure, to_page: Affine) -> bool {
        let moved = |at: &[Point]| at.iter().map(|p| to_page * *p).collect::<Vec<Point>>();
        match &measure.shown {
            Shown::Length { .. } => false,
            Shown::Angle { apex, from, to } => {
                let apex = to_page * *apex;
                // Without room for an arc the words point at the sloping line.
                let line = [25.0, 15.0, 35.0].map(|r| apex + Vec2::from_angle(*to) * r);
                self.angle(apex, *from, *to, &measure.words)
                    || self.note(&line, Mark::Arrow, &measure.words, &|_| true)
            }
            Shown::Note { at, on_edge } => {
                let mark = if *on_edge { Mark::Arrow } else { Mark::Dot };
                self.note(&moved(at), mark, &measure.words, &|_| true)
            }
            Shown::Listed { at } => self.listed(&moved(at), &measure.words.whole()),
        }
    }

    /// Whether what is drawn has room for its words and its lines.
    fn has_room(&self, items: &[Item]) -> bool {
        let is_words = |one: &&Item| matches!(one.shape, Shape::Text(_));
        let words = || items.iter().filter(is_words).filter_map(Item::bounding_box);
        let stays = |block: Rect| self.within.is_none_or(|room| room.contains_rect(block));
        let is_free = |block: Rect| stays(block) && !self.standing.touches(block.inflate(CLEAR, CLEAR));
        let is_clear = |(from, to): (Point, Point)| !self.standing.words_cross(from, to, OFF_WORDS);
        if !words().all(is_free) || !items.iter().flat_map(lines_of).all(is_clear) {
            return false;
        }
        let own = Standing::of(items.iter().filter(|one| !is_words(one)));
        let is_apart = |line: &Segment| match line {
            Segment::Line(line) => !self.led.runs_along(line.p0, line.p1),
            _ => true,
        };
        let strokes = items.iter().filter_map(|one| match &one.shape {
            Shape::Stroke { path, .. } => Some(path),
            Shape::Fill { .. } | Shape::Text(_) => None,
        });
        !words().any(|block| own.touches(block)) && strokes.flat_map(Path::segments).all(is_apart)
    }

    /// Takes what is drawn, if its words and lines have room.
    fn take(&mut self, items: Vec<Item>) -> bool {
        let free = self.has_room(&items);
        if free {
            self.put(items);
        }
        free
    }

    /// Words that stand in the list, by a letter that points to where they belong.
    fn listed(&mut self, points: &[Point], words: &str) -> bool {
        let letter = letters(self.letters).to_lowercase();
        let placed = self.note(points, Mark::Dot, &letter.clone().into(), &|_| true);
        if placed {
            self.letters += 1;
            self.list.lettered.push((letter, words.to_owned()));
        }
        placed
    }

    /// Takes the first of some ways to draw a thing whose words and lines have room off all dimension lines and leaders; the last of them where none has.
    pub fn put_one(&mut self, ways: impl Iterator<Item = Vec<Item>>) {
        if let Err(last) = self.take_one(ways) {
            self.put(last);
        }
    }

    /// Takes the first of some ways that has such room.
    ///
    /// # Errors
    /// Gives the last of them back where none has.
    fn take_one(&mut self, ways: impl Iterator<Item = Vec<Item>>) -> Result<(), Vec<Item>> {
        let mut last = Vec::new();
        for way in ways {
            let lines: Vec<(Point, Point)> = way.iter().flat_map(lines_of).collect();
            let mut others = self.dimension_lines.iter().chain(&self.leaders);
            let crosses = others.any(|other| lines.iter().any(|line| meet(*line, *other)));
            // Wide lines and arrows that lie on another line are read as part of it.
            let body = way.iter().filter(|one| one.role != Role::Text).filter_map(Item::bounding_box);
            let crowded =
                body.reduce(|a, b| a.union(b)).is_some_and(|b| self.standing.lines_touch(b.inflate(CLEAR, CLEAR)));
            last = way.clone();
            if !crosses && !crowded && self.take(way) {
                self.dimension_lines.extend(lines);
                return Ok(());
            }
        }
        Err(last)
    }

    /// Takes what stands where it must, whatever is there already.
    fn put(&mut self, items: Vec<Item>) {
        items.iter().for_each(|one| self.standing.add(one));
        self.items.extend(items);
    }

    /// Names a light line laid over the view, or a point, at one of some places on it.
    pub fn name(&mut self, at: &[Point], words: &Words) {
        if !self.note(at, Mark::Arrow, words, &|_| true) {
            self.list.unmarked.push(words.whole());
        }
    }

    /// Names a corner of wood: the words stand where no wood is seen, if there is such a place. One that wood hides is ringed, and the
    /// line to it is dashed, as what lies behind.
    pub fn name_corner(&mut self, at: Point, words: &str, hidden: bool, is_wood: &dyn Fn(Point) -> bool) {
        let mark = if hidden { Mark::Ring } else { Mark::Arrow };
        let words = Words { said: words.to_owned(), remark: hidden.then(|| BEHIND.to_owned()) };
        let outside = |block: Rect| {
            let corners = [(block.x0, block.y0), (block.x1, block.y0), (block.x0, block.y1), (block.x1, block.y1)];
            !corners.into_iter().map(Point::from).chain([block.center()]).any(is_wood)
        };
        // A line over a face would be taken to end there.
        let led_outside = |block: Rect| {
            let near = Point::new(at.x.clamp(block.x0, block.x1), at.y.clamp(block.y0, block.y1));
            outside(block) && !ALONG_LEADER.into_iter().any(|share| is_wood(at.lerp(near, share)))
        };
        // What wood hides is led to over wood; a corner in the middle of the picture is named on the wood beside it.
        let first: &dyn Fn(Rect) -> bool = if hidden { &outside } else { &led_outside };
        if !self.note(&[at], mark, &words, first) && !self.note(&[at], mark, &words, &|_| true) {
            self.list.unmarked.push(words.whole());
        }
    }

    /// Names a point with words that stand within a rectangle, if there is such a place.
    pub fn name_within(&mut self, at: Point, words: &Words, within: Rect) {
        if !self.note(&[at], Mark::Arrow, words, &|block| within.contains_rect(block)) {
            self.name(&[at], words);
        }
    }

    /// Names the front and both ends of the piece, whose drawing fills `bounds`: in a plan within it where there is room, so that no sheet
    /// grows, each with an arrow; in a picture beside it.
    pub fn name_sides(&mut self, bounds: Rect, view: &View) {
        let is_plan = view.towards().z.abs() > 1.0 - PARALLEL;
        for (name, way) in [("front", -Vec3::Y), ("left", -Vec3::X), ("right", Vec3::X)] {
            let way = Vec2::new(view.right().dot(way), view.up().dot(way));
            if way.hypot() < PARALLEL {
                continue;
            }
            let way = way.normalize();
            let words = if is_plan { pointing(name, way) } else { name.to_owned() };
            let text =
                |at: Point| item(Role::Text, Text::new(at, LETTERING, words.as_str()).anchored(Anchor::Middle));
            let half = text(Point::ORIGIN).bounding_box().map_or(0.0, |b| b.width() / 2.0);
            // From the middle out past the edge that lies that way, then farther, and to either side.
            let [x, y] = [(way.x, bounds.width()), (way.y, bounds.height())].map(|(d, size)| size / 2.0 / d.abs());
            let reach = x.min(y);
            let at = |sign: f64, k: u32, aside: f64| {
                let out = reach + sign * (SIDE_OFF + SIDE_STEP * f64::from(k) + half * way.x.abs());
                bounds.center() + way * out + way.turn_90() * aside - Vec2::new(0.0, LETTERING / 2.0)
            };
            let tried =
                |sign: f64, tries: u32| (0..tries).flat_map(move |k| SIDE_ASIDE.map(|aside| (sign, k, aside)));
            let inside = tried(-1.0, if is_plan { SIDE_TRIES_INSIDE } else { 0 });
            let all = inside.chain(tried(1.0, SIDE_TRIES));
            if self.take_one(all.map(|(sign, k, aside)| vec![text(at(sign, k, aside))])).is_err() {
                self.name(&[bounds.center() + way * reach], &words.into());
            }
        }
    }

    /// A length in the first free place of a lane.
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
            let ways = ASIDE.iter().flat_map(|aside| [(from, to, *aside), (to, from, *aside)]);
            for (from, to, aside) in ways {
                let along = if upright { FRAC_PI_2 } else { 0.0 };
                let items = draw_aside(&Dimension { from, to, along, off, words: words.to_owned() }, aside);
                let bar = items.iter().rfind(|one| matches!(one.shape, Shape::Stroke { .. }));
                let Some(bar) = bar.and_then(Item::bounding_box) else { continue };
                let near = bar.inflate(2.0, 2.0);
                if !self.bars.iter().any(|(u, other)| *u == upright && other.overlaps(near)) && self.has_room(&items)
                {
                    self.bars.push((upright, bar));
                    self.dimension_lines.extend(items.iter().flat_map(lines_of));
                    self.put(items);
                    return true;
                }
            }
        }
        false
    }

    /// The arc between two directions with the first one drawn as a line, words beyond its end or beside it.
    fn angle(&mut self, apex: Point, from: f64, to: f64, words: &Words) -> bool {
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
            // Beyond the arc's end within the piece, past the wood along the slope; then outside; then over the first line.
            let beside = |end: f64, side: f64, by: f64| (at(end, radius) + Vec2::new(side * by, 0.0), side);
            let inner = [out, out + 4.0, out + 8.0, out + 12.0, out + 18.0].map(|by| beside(to, -side, by));
            let places = inner.into_iter().chain([beside(from, side, out), (at(from, radius + 9.0), side)]);
            for (place, side) in places {
                let mut drawn = items.clone();
                drawn.extend(two_lines(place, side, words).into_iter().map(|text| item(Role::Text, text)));
                if self.take(drawn) {
                    return true;
                }
            }
        }
        false
    }

    /// Words joined by a line to a point, in a place where they may stand.
    fn note(&mut self, points: &[Point], mark: Mark, words: &Words, may_stand: &dyn Fn(Rect) -> bool) -> bool {
        let lines = |side: f64| two_lines(Point::new(BEFORE_WORDS * side, 0.0), side, words);
        let Some((left, right)) = Block::of(lines(-1.0)).zip(Block::of(lines(1.0))) else { return false };
        let crosses = |from: Point, to: Point| {
            self.leaders.iter().chain(&self.dimension_lines).any(|other| meet(*other, (from, to)))
        };
        let drawn = |led: &Led| {
            let words = led.texts().iter().map(|text| item(Role::Text, text.clone()));
            mark.drawn(led.from, led.to).into_iter().chain(words).collect::<Vec<Item>>()
        };
        let sides = [left, right];
        let may_stand = |block: Rect| self.within.is_none_or(|room| room.contains_rect(block)) && may_stand(block);
        let places = leader::about(points, &sides, &self.standing, &may_stand, &crosses);
        let found = places.map(|led| (drawn(&led), led)).find(|(items, _)| self.has_room(items));
        let Some((items, led)) = found else { return false };
        self.put(items);
        self.leaders.push((led.from, led.to));
        self.led.add(&thin(Path::line(led.from, led.to)));
        true
    }
}

/// How a leader ends at what its words are about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mark {
    /// An arrow, on an edge (ISO 128-2).
    Arrow,
    /// A dot, within a face (ISO 128-2).
    Dot,
    /// A ring round what wood hides, the leader dashed.
    Ring,
}

impl Mark {
    /// The leader from its tip to what it is about, with its end.
    fn drawn(self, at: Point, tip: Point) -> Vec<Item> {
        let back = (tip - at).normalize();
        match self {
            Mark::Arrow => vec![thin(Path::line(at, tip)), arrow(at, back)],
            Mark::Dot => {
                let shape = Shape::Fill { rings: vec![Path::circle(at, 0.5)], grey: 0.0 };
                vec![thin(Path::line(at, tip)), Item { role: Role::Mark, part: None, clip: None, shape }]
            }
            Mark::Ring => {
                let line = Path::line(at + back * HIDDEN_RING, tip);
                let dashed = Item::stroke(Role::Mark, line, Pen::dashed(HIDDEN_LEADER.0, &HIDDEN_LEADER.1));
                vec![dashed, thin(Path::circle(at, HIDDEN_RING))]
            }
        }
    }
}

/// The name of a side with an arrow the way it lies on the page.
fn pointing(name: &str, way: Vec2) -> String {
    match (way.x.abs() > way.y.abs(), way.x > 0.0, way.y > 0.0) {
        (true, true, _) => format!("{name} →"),
        (true, false, _) => format!("← {name}"),
        (false, _, true) => format!("{name} ↑"),
        (false, _, false) => format!("{name} ↓"),
    }
}

/// How much of the view a length spans, mm.
fn span(measure: &Measure) -> f64 {
    match measure.shown {
        Shown::Length { from, to, lane: Lane::Over | Lane::Under } => (from.x - to.x).abs(),
        Shown::Length { from, to, .. } => (from.y - to.y).abs(),
        _ => 0.0,
    }
}

/// Words beside a point, the remark in brackets under them.
fn two_lines(at: Point, side: f64, words: &Words) -> Vec<Text> {
    let anchor = if side > 0.0 { Anchor::Start } else { Anchor::End };
    let line = |words: &str, down: f64| Text::new(at - Vec2::new(0.0, down), LETTERING, words).anchored(anchor);
    match &words.remark {
        None => vec![line(&words.said, LETTERING / 2.0)],
        Some(remark) => vec![line(&words.said, -0.8), line(&format!("({remark})"), LETTERING + 1.0)],
    }
}
