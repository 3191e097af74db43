//! What is left of the cut pieces, chained into rings.

use super::raw::{Piece, right};
use crate::geometry::Segment;
use crate::geometry::boxes::BoxTree;
use crate::tolerance::{FITTED, JOINED_OFFSETS, MENDED, NO_AREA, SAME_POINT};
use kurbo::{Point, Rect, Vec2};

/// Rings, and the pieces that belong to none.
pub(super) struct Chained {
    pub(super) rings: Vec<Vec<Piece>>,
    /// Those that hang together in one list.
    pub(super) loose: Vec<Vec<Piece>>,
}

/// Chains pieces into rings that do not cross.
pub(super) fn chain(pieces: Vec<Piece>) -> Chained {
    let mut graph = Graph::new(pieces);
    graph.drop_doubles();
    graph.mend();
    graph.prune();
    graph.rings()
}

/// Pieces between numbered places.
struct Graph {
    pieces: Vec<Piece>,
    /// Places of each piece's two ends.
    ends: Vec<(usize, usize)>,
    points: Vec<Point>,
    alive: Vec<bool>,
    /// Pieces that have no place to go to, or run together with another.
    settled: Vec<bool>,
}

impl Graph {
    fn new(pieces: Vec<Piece>) -> Graph {
        let tips: Vec<Point> = pieces.iter().flat_map(|p| [p.segment.start(), p.segment.end()]).collect();
        let (place_of, points) = places(&tips);
        let ends: Vec<(usize, usize)> = place_of.chunks(2).map(|pair| (pair[0], pair[1])).collect();
        // A piece that goes nowhere joins nothing; one that comes back to its place does.
        let alive: Vec<bool> = pieces
            .iter()
            .zip(&ends)
            .map(|(p, (from, to))| from != to || points[*from].distance(p.segment.eval(0.5)) > JOINED_OFFSETS)
            .collect();
        let settled = alive.iter().map(|alive| !alive).collect();
        Graph { pieces, ends, points, alive, settled }
    }

    fn living(&self) -> impl Iterator<Item = usize> {
        (0..self.pieces.len()).filter(|i| self.alive[*i])
    }

    /// Of pieces that run together one stays where they run the same way, none where they run against each other: there
    /// the offset has no width.
    fn drop_doubles(&mut self) {
        let mut order: Vec<usize> = self.living().collect();
        let key = |i: usize| {
            let (from, to) = self.ends[i];
            (from.min(to), from.max(to), i)
        };
        order.sort_by_key(|i| key(*i));
        let middle = |i: usize| self.pieces[i].segment.eval(0.5);
        let mut dropped = vec![false; self.pieces.len()];
        for (k, i) in order.iter().enumerate() {
            let same_ends = order[k + 1..].iter().take_while(|j| (key(**j).0, key(**j).1) == (key(*i).0, key(*i).1));
            for j in same_ends {
                if middle(*i).distance(middle(*j)) > FITTED || dropped[*i] || dropped[*j] {
                    continue;
                }
                dropped[*j] = true;
                dropped[*i] |= self.ends[*i].0 != self.ends[*j].0;
            }
        }
        for i in (0..dropped.len()).filter(|i| dropped[*i]) {
            self.alive[i] = false;
            self.settled[i] = true;
        }
    }

    /// How many living pieces leave each place, and arrive at it.
    fn degrees(&self) -> Vec<(usize, usize)> {
        let mut degrees = vec![(0, 0); self.points.len()];
        for i in self.living() {
            degrees[self.ends[i].0].0 += 1;
            degrees[self.ends[i].1].1 += 1;
        }
        degrees
    }

    /// Joins ends that lead nowhere to the nearest beginning that comes from nowhere, if that is near enough.
    fn mend(&mut self) {
        let degrees = self.degrees();
        let ends: Vec<usize> = (0..degrees.len()).filter(|v| degrees[*v].1 > degrees[*v].0).collect();
        let mut begins: Vec<usize> = (0..degrees.len()).filter(|v| degrees[*v].0 > degrees[*v].1).collect();
        // In order of x, so that only those beside an end are asked.
        begins.sort_by(|a, b| self.points[*a].x.total_cmp(&self.points[*b].x));
        let mut taken = vec![false; begins.len()];
        for end in ends {
            let at = self.points[end];
            let gap = |k: usize| at.distance(self.points[begins[k]]);
            let first = begins.partition_point(|v| self.points[*v].x <= at.x - MENDED);
            let beside = (first..begins.len()).take_while(|k| self.points[begins[*k]].x < at.x + MENDED);
            let nearest = beside.filter(|k| !taken[*k]).min_by(|a, b| gap(*a).total_cmp(&gap(*b)));
            let Some(k) = nearest.filter(|k| gap(*k) < MENDED) else { continue };
            taken[k] = true;
            let begin = begins[k];
            let segment = Segment::line(self.points[end], self.points[begin]);
            self.pieces.push(Piece { segment, follows: false, spike: false });
            self.ends.push((end, begin));
            self.alive.push(true);
            self.settled.push(false);
        }
    }

    /// Drops pieces that come from nowhere or lead nowhere, until there are none.
    fn prune(&mut self) {
        let mut degrees = self.degrees();
        let (mut leaving, mut arriving) = (vec![Vec::new(); self.points.len()], vec![Vec::new(); self.points.len()]);
        for i in self.living() {
            leaving[self.ends[i].0].push(i);
            arriving[self.ends[i].1].push(i);
        }
        let mut asked: Vec<usize> = self.living().collect();
        while let Some(i) = asked.pop() {
            let (from, to) = self.ends[i];
            if !self.alive[i] || (degrees[from].1 > 0 && degrees[to].0 > 0) {
                continue;
            }
            self.alive[i] = false;
            degrees[from].0 -= 1;
            degrees[to].1 -= 1;
            // What came here leads nowhere now, or what went on from there comes from nowhere.
            if degrees[from].0 == 0 {
                asked.append(&mut arriving[from]);
            }
            if degrees[to].1 == 0 {
                asked.append(&mut leaving[to]);
            }
        }
    }

    /// Walks the living pieces into rings. Where several meet, each goes on into the first on the region's side, so that
    /// rings touch and do not cross.
    fn rings(mut self) -> Chained {
        let mut leaving: Vec<Vec<usize>> = vec![Vec::new(); self.points.len()];
        for i in self.living() {
            leaving[self.ends[i].0].push(i);
        }
        let mut loose: Vec<usize> = (0..self.pieces.len()).filter(|i| !self.alive[*i] && !self.settled[*i]).collect();
        let mut rings = Vec::new();
        for first in 0..self.pieces.len() {
            if !self.alive[first] {
                continue;
            }
            let (walked, closed) = self.walk(first, &mut leaving);
            let ring: Vec<Piece> = walked.iter().map(|i| self.snapped(*i)).collect();
            let plain: Vec<Segment> = ring.iter().map(|p| p.segment).collect();
            if !closed {
                loose.extend(walked);
            } else if super::source::signed_area(&plain).abs() > NO_AREA {
                rings.push(ring);
            }
        }
        let loose = self.hanging_together(&loose);
        Chained { rings, loose }
    }

    /// Pieces sorted into those that hang together at their places.
    fn hanging_together(&self, loose: &[usize]) -> Vec<Vec<Piece>> {
        let mut at_place: Vec<Vec<usize>> = vec![Vec::new(); self.points.len()];
        let mut waiting = vec![false; self.pieces.len()];
        for &i in loose {
            at_place[self.ends[i].0].push(i);
            at_place[self.ends[i].1].push(i);
            waiting[i] = true;
        }
        let mut runs = Vec::new();
        for &first in loose {
            let (mut run, mut next) = (Vec::new(), vec![first]);
            while let Some(i) = next.pop() {
                if std::mem::take(&mut waiting[i]) {
                    run.push(self.pieces[i]);
                    next.append(&mut at_place[self.ends[i].0]);
                    next.append(&mut at_place[self.ends[i].1]);
                }
            }
            runs.push(run);
        }
        runs.retain(|run| !run.is_empty());
        runs
    }

    /// The pieces from `first` back to its beginning, taken out of the graph, and whether they came back.
    fn walk(&mut self, first: usize, leaving: &mut [Vec<usize>]) -> (Vec<usize>, bool) {
        let home = self.ends[first].0;
        let mut walked = vec![first];
        self.alive[first] = false;
        let mut at = first;
        loop {
            let place = self.ends[at].1;
            leaving[place].retain(|i| self.alive[*i]);
            let back = -self.pieces[at].segment.tangent(1.0);
            let clockwise =
                |along: Vec2| (-back.cross(along).atan2(back.dot(along))).rem_euclid(std::f64::consts::TAU);
            let angle = |i: &usize| clockwise(self.heading(*i));
            let next = leaving[place].iter().copied().min_by(|a, b| angle(a).total_cmp(&angle(b)));
            // Home, unless another ring only touches this one here and lies between.
            let first_angle = clockwise(self.heading(first));
            let goes_home = place == home && next.is_none_or(|n| first_angle <= angle(&n));
            match next {
                _ if goes_home => return (walked, true),
                Some(next) => {
                    self.alive[next] = false;
                    walked.push(next);
                    at = next;
                }
                None => return (walked, false),
            }
        }
    }

    /// The direction in which a piece leaves its place; seen a little way along it, so that curves that leave alike are told
    /// apart.
    fn heading(&self, i: usize) -> Vec2 {
        let segment = &self.pieces[i].segment;
        match segment {
            Segment::Line(_) => segment.tangent(0.0),
            Segment::Arc(_) | Segment::Cubic(_) => segment.eval(0.02) - segment.start(),
        }
    }

    /// A piece with its ends on their places, which neighbours share. An arc is as good as on them already.
    fn snapped(&self, i: usize) -> Piece {
        let (from, to) = (self.points[self.ends[i].0], self.points[self.ends[i].1]);
        let mut piece = self.pieces[i];
        match &mut piece.segment {
            Segment::Line(line) => (line.p0, line.p1) = (from, to),
            Segment::Cubic(c) => {
                (c.p1, c.p2) = (c.p1 + (from - c.p0), c.p2 + (to - c.p3));
                (c.p0, c.p3) = (from, to);
            }
            Segment::Arc(_) => {}
        }
        piece
    }
}

/// The place of each point, and where the places are: points within [`JOINED_OFFSETS`] of one before them share its place.
fn places(tips: &[Point]) -> (Vec<usize>, Vec<Point>) {
    let mut order: Vec<usize> = (0..tips.len()).collect();
    order.sort_by(|a, b| tips[*a].x.total_cmp(&tips[*b].x).then(a.cmp(b)));
    let mut place_of = vec![0; tips.len()];
    let mut points: Vec<Point> = Vec::new();
    for i in order {
        let near = points.iter().enumerate().rev().take_while(|(_, p)| tips[i].x - p.x <= JOINED_OFFSETS);
        let known = near.filter(|(_, p)| p.distance(tips[i]) <= JOINED_OFFSETS).map(|(k, _)| k).next();
        place_of[i] = known.unwrap_or_else(|| {
            points.push(tips[i]);
            points.len() - 1
        });
    }
    (place_of, points)
}

/// What the mitred corners add.
pub(super) struct Kites<'a> {
    kites: &'a [[Point; 4]],
    tree: BoxTree,
}

impl<'a> Kites<'a> {
    /// Of these, each by its corners in order.
    pub(super) fn of(kites: &'a [[Point; 4]]) -> Kites<'a> {
        let around = |kite: &[Point; 4]| kite.iter().fold(Rect::from_points(kite[0], kite[0]), |r, p| r.union_pt(*p));
        Kites { kites, tree: BoxTree::new(kites.iter().map(around).collect()) }
    }

    /// Whether a point lies inside one of them.
    pub(super) fn hold(&self, point: Point) -> bool {
        let mut near = self.tree.meeting(Rect::from_points(point, point));
        near.any(|index| inside_kite(&self.kites[index], point))
    }
}

/// Whether a point lies inside the kite of a mitred corner by more than rounding.
fn inside_kite(kite: &[Point; 4], point: Point) -> bool {
    let turns = kite[1].to_vec2() - kite[0].to_vec2();
    let anticlockwise = turns.cross(kite[2] - kite[0]) > 0.0;
    (0..4).all(|k| {
        let (from, to) = (kite[k], kite[(k + 1) % 4]);
        let off = right(to - from).dot(point - from);
        (if anticlockwise { -off } else { off }) > SAME_POINT
    })
}
