//! The rim of a board as lines of sight meet it.

use crate::geometry::{Affine, BoxTree, Path, Point, Rect, Segment, Vec2};
use crate::tolerance::{BELOW_A_RULE, EXACT, PLAINLY};
use kurbo::common::solve_itp;
use std::cell::OnceCell;

/// A piece of the rim along which both coordinates only grow or only shrink.
#[derive(Debug, Clone)]
struct Piece {
    segment: Segment,
    start: Point,
    end: Point,
}

/// A closed rim, ready for many straight lines.
#[derive(Debug, Clone)]
pub struct Rim {
    pieces: Vec<Piece>,
    tree: BoxTree,
    /// A circle about its middle that lies inside, once asked for.
    heart: OnceCell<Option<(Point, f64)>>,
}

impl Piece {
    /// The parameter at which a coordinate of the piece reaches a value that lies between those of its two ends.
    fn parameter(&self, coordinate: fn(Point) -> f64, value: f64) -> f64 {
        let (a, b) = (coordinate(self.start) - value, coordinate(self.end) - value);
        if let Segment::Line(_) = self.segment {
            return (a / (a - b)).clamp(0.0, 1.0);
        }
        if a == 0.0 || b == 0.0 {
            return if a == 0.0 { 0.0 } else { 1.0 };
        }
        let sign = if a < b { 1.0 } else { -1.0 };
        let height = |t: f64| sign * (coordinate(self.segment.eval(t)) - value);
        solve_itp(height, 0.0, 1.0, EXACT, 1, 0.2, sign * a, sign * b)
    }

    fn bounds(&self) -> Rect {
        Rect::from_points(self.start, self.end)
    }
}

impl Rim {
    /// The rim of a closed path under a map.
    pub fn new(outline: &Path, map: Affine) -> Rim {
        let mut pieces: Vec<Piece> = Vec::new();
        for segment in outline.segments() {
            let segment = segment.transformed(map);
            let mut turns: Vec<f64> = [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)]
                .iter()
                .flat_map(|axis| segment.turns_along(*axis))
                .collect();
            turns.extend([0.0, 1.0]);
            turns.sort_by(f64::total_cmp);
            for pair in turns.windows(2).filter(|pair| pair[1] > pair[0]) {
                let part = segment.subsegment(pair[0], pair[1]);
                // Neighbours share their ends to the last digit, so that no line slips between them.
                let start = pieces.last().map_or(part.start(), |p| p.end);
                pieces.push(Piece { segment: part, start, end: part.end() });
            }
        }
        if let (Some(first), Some(end)) = (pieces.first().map(|p| p.start), pieces.last_mut()) {
            end.end = first;
        }
        let tree = BoxTree::new(pieces.iter().map(Piece::bounds).collect());
        Rim { pieces, tree, heart: OnceCell::new() }
    }

    /// The pieces whose boxes meet a rectangle.
    fn near(&self, rect: Rect) -> impl Iterator<Item = &Piece> {
        self.tree.meeting(rect).map(|index| &self.pieces[index])
    }

    /// Whether a point lies inside (even-odd), told by the plumb line up from it.
    pub fn holds(&self, p: Point) -> bool {
        let above = |piece: &&Piece| {
            let (a, b) = (piece.start, piece.end);
            if (a.x <= p.x) == (b.x <= p.x) || a.y.max(b.y) <= p.y {
                return false;
            }
            a.y.min(b.y) > p.y || piece.segment.eval(piece.parameter(|q| q.x, p.x)).y > p.y
        };
        self.near(Rect::new(p.x, p.y, p.x, f64::INFINITY)).filter(above).count() % 2 == 1
    }

    /// Whether a point lies nearer to the rim than `reach` mm.
    fn is_near(&self, p: Point, reach: f64) -> bool {
        let around = Rect::from_center_size(p, (2.0 * reach, 2.0 * reach));
        self.near(around).any(|piece| piece.segment.nearest(p).0 < reach)
    }

    /// Whether a point lies inside and farther than `graze` mm from the rim.
    pub fn holds_well(&self, p: Point, graze: f64) -> bool {
        self.holds(p) && !self.is_near(p, graze)
    }

    /// Where the level line `y` may pass into the wood or out of it between `from` and `to`, rising, with these two.
    fn cuts(&self, y: f64, from: f64, to: f64) -> Vec<f64> {
        let mut cuts = vec![from, to];
        let within = |x: f64| (x > from && x < to).then_some(x);
        for piece in self.near(Rect::new(from, y - BELOW_A_RULE, to, y + BELOW_A_RULE)) {
            let (a, b) = (piece.start, piece.end);
            if (a.y <= y) != (b.y <= y) {
                cuts.extend(within(piece.segment.eval(piece.parameter(|q| q.y, y)).x));
            }
            cuts.extend([a, b].into_iter().filter(|q| (q.y - y).abs() < BELOW_A_RULE).filter_map(|q| within(q.x)));
        }
        cuts.sort_by(f64::total_cmp);
        cuts
    }

    /// Whether the level line `y` runs inside from one place to another between which it does not pass the rim, farther than
    /// `graze` mm from the rim half way.
    fn holds_stretch(&self, y: f64, (from, to): (f64, f64), graze: f64) -> bool {
        to - from > graze && self.holds_well(Point::new(0.5 * (from + to), y), graze)
    }

    /// The circle about its middle that lies inside; `None` where the middle does not.
    fn heart(&self) -> Option<(Point, f64)> {
        *self.heart.get_or_init(|| {
            let around = self.pieces.iter().map(Piece::bounds).reduce(|a, b| a.union(b))?;
            let middle = Some(around.center()).filter(|middle| self.holds(*middle))?;
            let off = self.pieces.iter().map(|piece| piece.segment.nearest(middle).0);
            Some((middle, off.fold(f64::INFINITY, f64::min)))
        })
    }

    /// Whether the level line `y` runs far through the heart between two places.
    fn passes_heart(&self, y: f64, from: f64, to: f64) -> bool {
        self.heart().is_some_and(|(middle, radius)| {
            let half = (radius * radius - (y - middle.y).powi(2)).max(0.0).sqrt();
            (middle.x + half).min(to) - (middle.x - half).max(from) > PLAINLY
        })
    }

    /// Whether there are any [`Rim::stretches`]. One through the heart is the least to ask for; then the longest between two cuts most
    /// likely is one.
    pub fn has_stretch(&self, y: f64, from: f64, to: f64, graze: f64) -> bool {
        if self.passes_heart(y, from, to) {
            return true;
        }
        let cuts = self.cuts(y, from, to);
        let pairs = || cuts.windows(2).map(|pair| (pair[0], pair[1]));
        let longest = pairs().max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
        let holds = |pair: (f64, f64)| self.holds_stretch(y, pair, graze);
        longest.is_some_and(holds) || pairs().filter(|pair| Some(*pair) != longest).any(holds)
    }

    /// The stretches of the level line `y` between `from` and `to` that run inside, farther than `graze` mm from the rim
    /// at their middles.
    pub fn stretches(&self, y: f64, from: f64, to: f64, graze: f64) -> Vec<(f64, f64)> {
        let mut found: Vec<(f64, f64)> = Vec::new();
        for pair in self.cuts(y, from, to).windows(2) {
            if !self.holds_stretch(y, (pair[0], pair[1]), graze) {
                continue;
            }
            match found.last_mut() {
                Some(last) if last.1 == pair[0] => last.1 = pair[1],
                _ => found.push((pair[0], pair[1])),
            }
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::Rim;
    use crate::geometry::{Affine, Path, Point, Rect};

    fn stretches(path: &Path, y: f64) -> Vec<(f64, f64)> {
        Rim::new(path, Affine::IDENTITY).stretches(y, -1e4, 1e4, 1e-4)
    }

    #[test]
    fn a_line_through_a_circle_is_a_chord() {
        let circle = Path::circle(Point::new(10.0, 0.0), 50.0);
        let [(a, b)] = stretches(&circle, 30.0)[..] else { panic!("one chord") };
        assert!((a + 30.0).abs() < 1e-9 && (b - 50.0).abs() < 1e-9, "{a} {b}");
        assert_eq!(stretches(&circle, 50.0), []);
    }

    #[test]
    fn a_line_along_an_edge_is_not_inside() {
        let step = [(0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (20.0, 10.0), (20.0, 20.0), (0.0, 20.0)].map(Point::from);
        let step = Path::polyline(&step, true);
        assert_eq!(stretches(&step, 0.0), []);
        assert_eq!(stretches(&step, 20.0), []);
        // Along the step's tread it comes out of the wood where the tread begins.
        assert_eq!(stretches(&step, 10.0), [(0.0, 20.0)]);
        assert_eq!(stretches(&step, 15.0), [(0.0, 20.0)]);
    }

    #[test]
    fn points_are_told_inside_from_outside() {
        let rim = Rim::new(&Path::rectangle(Rect::new(0.0, 0.0, 10.0, 5.0)), Affine::IDENTITY);
        assert!(rim.holds_well(Point::new(5.0, 2.0), 1e-4));
        assert!(!rim.holds_well(Point::new(5.0, 5e-5), 1e-4));
        assert!(!rim.holds(Point::new(11.0, 2.0)));
    }
}
