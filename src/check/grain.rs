//! Short grain: where wood may break along its grain because the grain runs out on both sides within a short way.
//!
//! Lines along the grain are followed from edge to edge. One of them is short where it is less than three times as long as the
//! part is wide there (a rule of thumb, no source: it is a part that runs more than 19 degrees off its grain), and where what
//! would break off stands out from the line by half as much again as the line is long, so that it has a lever (likewise). A rail's
//! rounded corner, a disc or a stub of a bracket, which have none, are no short grain. Sawn ends are no edges: every mitred corner ends in a short line.

use super::Told;
use super::{BetterGrain, ShapeProblem};
use crate::board::{PartRole, Source};
use crate::finding::{Finding, Place};
use crate::geometry::{Nearest, Path, Point, Segment, Vec2};
use crate::model::DrawnPattern;
use crate::piece::{SolvedBoard, Spot};
use crate::tolerance::SHOWN;
use crate::units::{Angle, Length};
use std::ops::Range;

/// The least length along the grain for each mm of width (rule of thumb).
const SHARE: f64 = 3.0;

/// How far what would break off stands out for each mm of the line before it has a lever (rule of thumb).
const LEVER: f64 = 1.5;

/// Lines along the grain that are followed in each part.
const LINES: usize = 400;

/// Straight steps that a curved piece of an outline is taken in: half a turn of 200 mm is then true to 0.02 mm.
const STEPS: u32 = 256;

/// Other directions of the grain are tried in steps of this, degrees.
const TURN: i32 = 5;

/// A part as wood with a grain.
struct Wood {
    /// Corners of the outline, each with whether the side that starts there is an edge; then of its openings.
    rings: Vec<Vec<(Point, bool)>>,
    /// Its sides.
    sides: Nearest,
}

/// A part seen along its grain.
struct Grained<'a> {
    wood: &'a Wood,
    along: Vec2,
    square: Vec2,
    /// How far each corner of each ring lies across the grain, mm.
    across: Vec<Vec<f64>>,
    /// Of the outline's corners the least and the largest of any run.
    heights: Spans,
}

/// A short line along the grain.
#[derive(Debug, Clone, Copy)]
struct Short {
    /// From edge to edge along the grain, mm.
    length: f64,
    /// The width of the part there: twice from the line's middle to the nearest edge, mm.
    width: f64,
    /// How far what would break off stands out from the line, mm.
    out: f64,
    /// The line's middle.
    at: Point,
}

/// The lines along the grain that are followed, and which sides each of them may cross.
struct Lines {
    /// How far across the grain the part reaches, mm.
    reach: [f64; 2],
    /// For each line the first of its sides; at last how many there are.
    starts: Vec<usize>,
    /// Rings and their sides, those of each line together in the order of the part.
    sides: Vec<(usize, usize)>,
}

impl Lines {
    fn across(part: &Grained) -> Lines {
        let mut lines = Lines { reach: [0.0; 2], starts: vec![0; LINES + 1], sides: Vec::new() };
        let Some(reach) = part.heights.all() else { return lines };
        lines.reach = reach;
        let rings = part.wood.rings.iter().enumerate();
        let sides = rings.flat_map(|(ring, corners)| (0..corners.len()).map(move |side| (ring, side)));
        let meeting = sides.map(|side| (side, lines.meeting(part.heights_of(side))));
        let meeting: Vec<((usize, usize), Range<usize>)> = meeting.collect();
        for (_, range) in &meeting {
            range.clone().for_each(|line| lines.starts[line + 1] += 1);
        }
        for line in 0..LINES {
            lines.starts[line + 1] += lines.starts[line];
        }
        let mut next = lines.starts.clone();
        lines.sides = vec![(0, 0); next[LINES]];
        for (side, range) in meeting {
            for line in range {
                lines.sides[next[line]] = side;
                next[line] += 1;
            }
        }
        lines
    }

    /// How far across the grain a line lies, mm.
    fn height(&self, line: usize) -> f64 {
        let [low, high] = self.reach;
        low + (high - low) * (line as f64 + 0.5) / LINES as f64
    }

    /// The lines that a side may cross whose ends lie so far across the grain, give or take one for rounding.
    fn meeting(&self, [from, to]: [f64; 2]) -> Range<usize> {
        let [low, high] = self.reach;
        let step = (high - low) / LINES as f64;
        let number = |height: f64| ((height - low) / step - 0.5).clamp(0.0, LINES as f64);
        let first = number(from.min(to)).floor() as usize;
        let last = (number(from.max(to)).ceil() as usize + 1).min(LINES);
        first.min(last)..last
    }

    /// Where a line crosses sides, in their order.
    fn crossed(&self, line: usize, part: &Grained) -> Vec<Crossing> {
        let height = self.height(line);
        let sides = self.sides[self.starts[line]..self.starts[line + 1]].iter();
        sides.filter_map(|side| part.crossing(*side, height)).collect()
    }
}

/// Where a line along the grain crosses a side.
struct Crossing {
    /// Along the grain.
    along: f64,
    ring: usize,
    side: usize,
}

fn corners<'a>(pieces: impl Iterator<Item = (&'a Segment, bool)>) -> Vec<(Point, bool)> {
    let steps = |segment: &Segment| if matches!(segment, Segment::Line(_)) { 1 } else { STEPS };
    let points = pieces.flat_map(|(segment, edge)| {
        let count = steps(segment);
        (0..count).map(move |i| (segment.eval(f64::from(i) / f64::from(count)), edge))
    });
    points.collect()
}

impl Wood {
    fn of_board(board: &SolvedBoard) -> Wood {
        let is_edge = |source: Source| matches!(source, Source::Edge(_));
        let pieces = board.solid.face.pieces().map(|(piece, source)| (piece, is_edge(source)));
        Wood::of(vec![corners(pieces)])
    }

    fn of_drawn(drawn: &DrawnPattern) -> Wood {
        let ring = |path: &Path| corners(path.segments().iter().map(|segment| (segment, true)));
        Wood::of(drawn.rings().iter().map(ring).collect())
    }

    fn of(rings: Vec<Vec<(Point, bool)>>) -> Wood {
        let closed = |ring: &Vec<(Point, bool)>| {
            let points: Vec<Point> = ring.iter().map(|(point, _)| *point).collect();
            Path::polyline(&points, true)
        };
        let sides = Nearest::of(&rings.iter().map(closed).collect::<Vec<Path>>());
        Wood { rings, sides }
    }

    /// It with the grain at an angle, radians, from x.
    fn grained(&self, grain: f64) -> Grained<'_> {
        let (along, square) = (Vec2::new(grain.cos(), grain.sin()), Vec2::new(-grain.sin(), grain.cos()));
        let heights = |ring: &Vec<(Point, bool)>| ring.iter().map(|(p, _)| p.to_vec2().dot(square)).collect();
        let across: Vec<Vec<f64>> = self.rings.iter().map(heights).collect();
        let heights = Spans::of(across.first().cloned().unwrap_or_default());
        Grained { wood: self, along, square, across, heights }
    }

    /// The direction, degrees from x, nearest to the grain's own in which no line is short; `None` where there is none.
    fn better(&self, grain: Angle) -> Option<f64> {
        let turns = (1..=90 / TURN).flat_map(|i| [f64::from(i * TURN), -f64::from(i * TURN)]);
        turns
            .map(|turn| grain.degrees() + turn)
            .find(|angle| self.grained(angle.to_radians()).short().next().is_none())
    }
}

impl Grained<'_> {
    /// The shortest of its short lines.
    fn shortest(&self) -> Option<Short> {
        self.short().min_by(|a, b| a.length.total_cmp(&b.length))
    }

    /// Its short lines along the grain, from one side of the part to the other, each looked for when it is asked for.
    fn short(&self) -> impl Iterator<Item = Short> {
        let lines = Lines::across(self);
        (0..LINES).flat_map(move |line| self.on_line(lines.height(line), lines.crossed(line, self)))
    }

    /// The corners between which a side of a ring runs.
    fn corners_of(&self, (ring, side): (usize, usize)) -> [usize; 2] {
        [side, if side + 1 == self.wood.rings[ring].len() { 0 } else { side + 1 }]
    }

    /// How far across the grain they lie, mm.
    fn heights_of(&self, side: (usize, usize)) -> [f64; 2] {
        self.corners_of(side).map(|corner| self.across[side.0][corner])
    }

    /// Where a side crosses the line so far across the grain.
    fn crossing(&self, side: (usize, usize), height: f64) -> Option<Crossing> {
        let [from, to] = self.heights_of(side).map(|end| end - height);
        ((from < 0.0) != (to < 0.0)).then(|| {
            let [a, b] = self.corners_of(side).map(|corner| self.wood.rings[side.0][corner].0);
            let p = a.lerp(b, from / (from - to));
            Crossing { along: p.to_vec2().dot(self.along), ring: side.0, side: side.1 }
        })
    }

    /// The short stretches of one line along the grain.
    fn on_line(&self, height: f64, mut crossings: Vec<Crossing>) -> Vec<Short> {
        crossings.sort_by(|a, b| a.along.total_cmp(&b.along));
        // A line is in the wood between its first crossing and its second, its third and its fourth.
        let stretches = crossings.chunks_exact(2).filter_map(|pair| {
            let [from, to] = pair else { return None };
            let outer = |c: &Crossing| c.ring == 0 && self.wood.rings[0].get(c.side).is_some_and(|(_, edge)| *edge);
            if !outer(from) || !outer(to) {
                return None;
            }
            let length = to.along - from.along;
            let out = self.stands_out(from.side, to.side, height);
            if out <= LEVER * length {
                return None;
            }
            let at = (self.square * height + self.along * ((from.along + to.along) / 2.0)).to_point();
            let width = 2.0 * self.wood.sides.distance(at);
            (length < SHARE * width - SHOWN).then_some(Short { length, width, out, at })
        });
        stretches.collect()
    }

    /// How far the part's lesser side of a line between two sides stands out from it, mm.
    fn stands_out(&self, from: usize, to: usize, height: f64) -> f64 {
        let reach = |first: usize, last: usize| {
            let [low, high] = self.heights.after(first, last);
            (high - height).max(height - low).max(0.0)
        };
        reach(from, to).min(reach(to, from))
    }
}

/// Numbers of which the least and the largest of any run are asked, each in about as many steps as the logarithm of how many
/// there are.
struct Spans {
    /// Of single numbers, of pairs, of pairs of pairs.
    levels: Vec<Vec<[f64; 2]>>,
}

/// What holds nothing.
const EMPTY: [f64; 2] = [f64::INFINITY, f64::NEG_INFINITY];

fn both([a, b]: [f64; 2], [c, d]: [f64; 2]) -> [f64; 2] {
    [a.min(c), b.max(d)]
}

impl Spans {
    fn of(numbers: Vec<f64>) -> Spans {
        let mut levels = vec![numbers.into_iter().map(|x| [x, x]).collect::<Vec<_>>()];
        while let Some(last) = levels.last().filter(|level| level.len() > 1) {
            levels.push(last.chunks(2).map(|pair| pair.iter().copied().fold(EMPTY, both)).collect());
        }
        Spans { levels }
    }

    /// Of all of them; `None` of none.
    fn all(&self) -> Option<[f64; 2]> {
        self.levels.last()?.first().copied()
    }

    /// What follows one number as far as another, which is taken in, over the end where that lies behind.
    fn after(&self, first: usize, last: usize) -> [f64; 2] {
        let count = self.levels[0].len();
        match first <= last {
            true => self.run(first + 1, last + 1),
            false => both(self.run(first + 1, count), self.run(0, last + 1)),
        }
    }

    /// From one number to before another.
    fn run(&self, mut from: usize, mut to: usize) -> [f64; 2] {
        let mut found = EMPTY;
        for level in &self.levels {
            if from >= to {
                break;
            }
            if from % 2 == 1 {
                found = both(found, level[from]);
                from += 1;
            }
            if to % 2 == 1 {
                to -= 1;
                found = both(found, level[to]);
            }
            (from, to) = (from / 2, to / 2);
        }
        found
    }
}

/// What is told of a part by its name, and where; `field` is the word for its grain in the file, where it has one.
fn told(
    wood: &Wood,
    (name, field): (&str, Option<&'static str>),
    grain: Angle,
    place: Place,
) -> Option<(Finding, Point)> {
    let short = wood.grained(grain.radians()).shortest()?;
    let better = wood.better(grain).map(|angle| BetterGrain {
        turn: Angle::from_degrees((angle - grain.degrees()).abs()),
        angle: Angle::from_degrees(angle),
    });
    let [length, width, out] = [short.length, short.width, short.out].map(Length::from_mm);
    let problem = ShapeProblem::ShortGrain { part: name.to_owned(), length, width, out, field, better };
    Some((Finding::of(problem, place), short.at))
}

/// Tells where a board has short grain; its grain runs along u.
pub(super) fn check(index: usize, board: &SolvedBoard) -> Option<Told> {
    // A top is as wide as it likes: its boards are glued along the grain.
    if board.role == PartRole::Top {
        return None;
    }
    let place = Place::pointer(board.pointer.clone());
    let (finding, at) = told(&Wood::of_board(board), (&board.label, None), Angle::ZERO, place)?;
    Some(Told::new(index, finding).at(at, "short grain"))
}

/// Tells where a part that is drawn directly, and whose grain is given, has short grain, and marks the place.
pub fn of_drawn(drawn: &DrawnPattern) -> Option<(Finding, Spot)> {
    let (finding, at) =
        told(&Wood::of_drawn(drawn), (&drawn.name, Some("grain")), drawn.grain?, drawn.place.child("grain"))?;
    Some((finding, Spot { at, words: "short grain".to_owned() }))
}

#[cfg(test)]
mod tests {
    use super::{EMPTY, Spans, both, check};
    use crate::board::{Board, Edge, EdgeName};
    use crate::check::samples::{rail, solved};
    use crate::geometry::{Arc, Path, Point, Segment};
    use crate::piece::SolvedBoard;
    use std::f64::consts::{FRAC_PI_2, PI};

    fn board(edges: Vec<Edge>) -> SolvedBoard {
        solved(Board { thickness: 20.0, edges, cuts: Vec::new(), keep: None, sides: ["face", "far"] })
    }

    /// Half a ring between two radii: at its sides the grain runs straight across it.
    fn half_ring(outer: f64, inner: f64) -> SolvedBoard {
        let arc = |r: f64, start: f64, sweep: f64| Segment::Arc(Arc::circular(Point::ORIGIN, r, start, sweep));
        let line = |a: f64, b: f64| Segment::line(Point::new(a, 0.0), Point::new(b, 0.0));
        board(vec![
            Edge::new(EdgeName::OutsideEdge, vec![arc(outer, 0.0, PI)]),
            Edge::new(EdgeName::LeftEnd, vec![line(-outer, -inner)]),
            Edge::new(EdgeName::InsideEdge, vec![arc(inner, PI, -PI)]),
            Edge::new(EdgeName::RightEnd, vec![line(inner, outer)]),
        ])
    }

    #[test]
    fn a_straight_rail_and_a_disc_have_none() {
        assert!(check(0, &rail(60.0, 20.0)).is_none());
        let disc = Path::circle(Point::ORIGIN, 150.0);
        assert!(check(0, &board(vec![Edge::new(EdgeName::Edge, disc.segments().to_vec())])).is_none());
    }

    /// At a height y over the feet the line runs from one circle to the other, and the foot below it stands out by y: the shortest
    /// that counts is as long as two thirds of that.
    #[test]
    fn a_tight_bow_has() {
        let along = |y: f64| (200.0_f64.powi(2) - y * y).sqrt() - (150.0_f64.powi(2) - y * y).sqrt();
        let (mut low, mut high) = (0.0, 150.0);
        for _ in 0..60 {
            let y = 0.5 * (low + high);
            if 1.5 * along(y) > y { low = y } else { high = y }
        }
        let told = check(0, &half_ring(200.0, 150.0)).expect("short grain");
        assert_eq!(told.finding.code, "short-grain");
        let length = told.finding.measure("length").unwrap();
        assert!(length >= along(low) - 0.05 && length < along(low) + 0.3, "{length} {}", along(low));
        let (at, _) = told.spot.expect("marked");
        assert!((at.y - low).abs() < 0.6 && at.x.abs() > 150.0, "{at:?}");
    }

    /// A shallow bow is followed by its grain for most of its length.
    #[test]
    fn a_flat_bow_passes() {
        let arc = |r: f64, y: f64, turn: f64| {
            let half = (150.0_f64 / r).asin();
            Segment::Arc(Arc::circular(Point::new(0.0, y), r, FRAC_PI_2 - turn * half, 2.0 * turn * half))
        };
        let (upper, lower) = (arc(1200.0, -1200.0, 1.0), arc(1200.0, -1260.0, -1.0));
        let bow = board(vec![
            Edge::new(EdgeName::UpperEdge, vec![upper]),
            Edge::new(EdgeName::LeftEnd, vec![Segment::line(upper.end(), lower.start())]),
            Edge::new(EdgeName::LowerEdge, vec![lower]),
            Edge::new(EdgeName::RightEnd, vec![Segment::line(lower.end(), upper.start())]),
        ]);
        assert!(check(0, &bow).is_none());
    }

    #[test]
    fn spans_are_what_a_look_at_every_number_finds() {
        let numbers: Vec<f64> = (0..23).map(|i| f64::from(i * 7 % 23) - f64::from(i % 3)).collect();
        let spans = Spans::of(numbers.clone());
        for first in 0..numbers.len() {
            for last in 0..numbers.len() {
                let steps = (last + numbers.len() - first) % numbers.len();
                let chain = (1..=steps).map(|i| numbers[(first + i) % numbers.len()]);
                assert_eq!(spans.after(first, last), chain.map(|x| [x, x]).fold(EMPTY, both), "{first} {last}");
            }
        }
    }
}
