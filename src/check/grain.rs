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
use crate::geometry::{Path, Point, Segment, Vec2};
use crate::model::DrawnPattern;
use crate::piece::{SolvedBoard, Spot};
use crate::tolerance::SHOWN;
use crate::units::{Angle, Length};

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
        Wood { rings: vec![corners(pieces)] }
    }

    fn of_drawn(drawn: &DrawnPattern) -> Wood {
        let ring = |path: &Path| corners(path.segments().iter().map(|segment| (segment, true)));
        Wood { rings: drawn.rings().iter().map(ring).collect() }
    }

    /// The shortest of its short lines with the grain at an angle from x.
    fn shortest(&self, grain: f64) -> Option<Short> {
        let (along, across) = (Vec2::new(grain.cos(), grain.sin()), Vec2::new(-grain.sin(), grain.cos()));
        let heights = self.rings.first()?.iter().map(|(p, _)| p.to_vec2().dot(across));
        let (low, high) = heights.fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(x), h.max(x)));
        let lines = (0..LINES).map(|i| low + (high - low) * (i as f64 + 0.5) / LINES as f64);
        let short = lines.flat_map(|height| self.on_line(height, along, across));
        short.min_by(|a, b| a.length.total_cmp(&b.length))
    }

    /// The short stretches of one line along the grain.
    fn on_line(&self, height: f64, along: Vec2, across: Vec2) -> Vec<Short> {
        let mut crossings = Vec::new();
        for (ring, corners) in self.rings.iter().enumerate() {
            for (side, ((a, _), (b, _))) in corners.iter().zip(corners.iter().cycle().skip(1)).enumerate() {
                let (from, to) = (a.to_vec2().dot(across) - height, b.to_vec2().dot(across) - height);
                if (from < 0.0) != (to < 0.0) {
                    let p = a.lerp(*b, from / (from - to));
                    crossings.push(Crossing { along: p.to_vec2().dot(along), ring, side });
                }
            }
        }
        crossings.sort_by(|a, b| a.along.total_cmp(&b.along));
        // A line is in the wood between its first crossing and its second, its third and its fourth.
        let stretches = crossings.chunks_exact(2).filter_map(|pair| {
            let [from, to] = pair else { return None };
            let outer = |c: &Crossing| c.ring == 0 && self.rings[0].get(c.side).is_some_and(|(_, edge)| *edge);
            let length = to.along - from.along;
            let at = (across * height + along * ((from.along + to.along) / 2.0)).to_point();
            let width = 2.0 * self.nearest(at);
            if !outer(from) || !outer(to) || length >= SHARE * width - SHOWN {
                return None;
            }
            let out = self.stands_out(from.side, to.side, height, across);
            (out > LEVER * length).then_some(Short { length, width, out, at })
        });
        stretches.collect()
    }

    /// How far the part's lesser side of a line between two sides stands out from it, mm.
    fn stands_out(&self, from: usize, to: usize, height: f64, across: Vec2) -> f64 {
        let corners = &self.rings[0];
        let count = corners.len();
        let reach = |first: usize, last: usize| {
            let steps = (last + count - first) % count;
            let chain = (1..=steps).map(|i| corners[(first + i) % count].0);
            chain.map(|p| (p.to_vec2().dot(across) - height).abs()).fold(0.0, f64::max)
        };
        reach(from, to).min(reach(to, from))
    }

    /// How far a point lies from the nearest side, mm.
    fn nearest(&self, at: Point) -> f64 {
        let sides = self.rings.iter().flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)));
        sides.map(|((a, _), (b, _))| Segment::line(*a, *b).nearest(at).0).fold(f64::MAX, f64::min)
    }

    /// The direction, degrees from x, nearest to the grain's own in which no line is short; `None` where there is none.
    fn better(&self, grain: Angle) -> Option<f64> {
        let turns = (1..=90 / TURN).flat_map(|i| [f64::from(i * TURN), -f64::from(i * TURN)]);
        turns.map(|turn| grain.degrees() + turn).find(|angle| self.shortest(angle.to_radians()).is_none())
    }
}

/// What is told of a part by its name, and where; `field` is the word for its grain in the file, where it has one.
fn told(
    wood: &Wood,
    (name, field): (&str, Option<&'static str>),
    grain: Angle,
    place: Place,
) -> Option<(Finding, Point)> {
    let short = wood.shortest(grain.radians())?;
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
    use super::check;
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
}
