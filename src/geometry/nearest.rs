//! The nearest of many pieces to a point, found over a tree of boxes.

use super::boxes::{BoxTree, TreeBox};
use super::path::squared_distance_to_box;
use super::{Path, PathPlace, Point, Rect, Segment};
use std::cmp::Ordering;

/// Boxes that wait at most, four every other level, in a tree of a hundred million pieces.
const PENDING: usize = 64;

/// Paths of which the nearest to a point is asked often. A question costs about the logarithm of how many pieces they have.
#[derive(Debug, Clone)]
pub struct Nearest {
    pieces: Vec<Piece>,
    tree: BoxTree,
}

/// A piece of one of the paths.
#[derive(Debug, Clone)]
struct Piece {
    path: usize,
    segment: usize,
    shape: Segment,
}

/// Where one of several paths comes near a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Near {
    /// Distance from the point, mm.
    pub distance: f64,
    /// Index of the path.
    pub path: usize,
    /// The place of it.
    pub place: PathPlace,
}

impl Piece {
    fn near(&self, point: Point) -> Near {
        let (distance, t) = self.shape.nearest(point);
        Near { distance, path: self.path, place: PathPlace { segment: self.segment, t } }
    }
}

impl Nearest {
    /// Of these paths.
    pub fn of(paths: &[Path]) -> Nearest {
        Nearest::of_rings(paths.iter().map(Path::segments))
    }

    /// Of the paths that these pieces make.
    pub fn of_rings<'a>(paths: impl Iterator<Item = &'a [Segment]>) -> Nearest {
        let pieces = paths.enumerate().flat_map(|(path, segments)| {
            let segments = segments.iter().enumerate();
            segments.map(move |(segment, shape)| Piece { path, segment, shape: *shape })
        });
        let pieces: Vec<Piece> = pieces.collect();
        let tree = BoxTree::new(pieces.iter().map(|piece| piece.shape.bounding_box()).collect());
        Nearest { pieces, tree }
    }

    /// The place that is nearest to a point, of several as near the first; `None` where the paths have no pieces.
    pub fn to(&self, point: Point) -> Option<Near> {
        self.nearer(point, f64::INFINITY)
    }

    /// It, where it is nearer than `limit`, mm.
    pub fn nearer(&self, point: Point, limit: f64) -> Option<Near> {
        self.search(point, limit, (None, None), &mut Vec::with_capacity(PENDING)).map(|(_, near)| near)
    }

    /// The nearest piece and its place, where it is nearer than `limit`, mm: looked for from a piece that may well be it, and
    /// no further once something is nearer than `enough`, mm. `pending` is room for boxes that wait.
    fn search(
        &self,
        point: Point,
        limit: f64,
        (first, enough): (Option<usize>, Option<f64>),
        pending: &mut Vec<(TreeBox, f64)>,
    ) -> Option<(usize, Near)> {
        let away = |at: TreeBox| squared_distance_to_box(self.tree.rect(at), point);
        // Squares spare the root at every box. Larger by their rounding, so that no piece as near is passed over.
        let squared = |distance: f64| distance * distance * (1.0 + 4.0 * f64::EPSILON);
        let is_enough = |near: &Near| enough.is_some_and(|enough| near.distance < enough);
        let first = first.map(|index| (index, self.pieces[index].near(point)));
        let mut best = first.filter(|(_, near)| near.distance < limit);
        let mut bound = squared(best.as_ref().map_or(limit, |(_, near)| near.distance));
        pending.clear();
        pending.extend(self.tree.root().map(|root| (root, away(root))));
        while !best.as_ref().is_some_and(|(_, near)| is_enough(near))
            && let Some((at, far)) = pending.pop()
        {
            if far > bound {
                continue;
            }
            if let (0, index) = at {
                let near = self.pieces[index].near(point);
                let order = |near: &Near| (near.path, near.place.segment);
                let nearer = |(_, best): &(usize, Near)| match near.distance.total_cmp(&best.distance) {
                    Ordering::Equal => order(&near) < order(best),
                    other => other.is_lt(),
                };
                if near.distance < limit && best.as_ref().is_none_or(nearer) {
                    bound = squared(near.distance);
                    best = Some((index, near));
                }
                continue;
            }
            let before = pending.len();
            for part in self.tree.quarters(at) {
                let far = away(part);
                if far <= bound {
                    pending.push((part, far));
                    // What is taken next lies last.
                    let mut at = pending.len() - 1;
                    while at > before && pending[at - 1].1 < far {
                        pending.swap(at - 1, at);
                        at -= 1;
                    }
                }
            }
        }
        best
    }

    /// To be asked of points each of which lies near the one before it: that costs much less.
    pub fn walk(&self) -> NearestWalk<'_> {
        NearestWalk { nearest: self, last: None, pending: Vec::with_capacity(PENDING) }
    }

    /// How far a point lies from the nearest of the paths, mm; infinity where they have no pieces.
    pub fn distance(&self, point: Point) -> f64 {
        self.to(point).map_or(f64::INFINITY, |near| near.distance)
    }

    /// The nearest place of each path that comes within `reach`, mm, of a point, by path.
    pub fn within(&self, point: Point, reach: f64) -> Vec<Near> {
        let around = Rect::from_center_size(point, (2.0 * reach, 2.0 * reach));
        let mut found: Vec<Near> = Vec::new();
        for index in self.tree.meeting(around) {
            let near = self.pieces[index].near(point);
            match found.last_mut() {
                _ if near.distance > reach => {}
                // Pieces rise by path.
                Some(last) if last.path == near.path => {
                    if near.distance < last.distance {
                        *last = near;
                    }
                }
                _ => found.push(near),
            }
        }
        found
    }
}

/// The nearest of paths to points that follow each other: what was nearest to the last is looked at first.
#[derive(Debug)]
pub struct NearestWalk<'a> {
    nearest: &'a Nearest,
    last: Option<usize>,
    /// Room for boxes that wait, kept from one question to the next.
    pending: Vec<(TreeBox, f64)>,
}

impl NearestWalk<'_> {
    /// How far a point lies from the nearest of the paths, mm, where that is less than `limit`; else `limit`.
    pub fn distance(&mut self, point: Point, limit: f64) -> f64 {
        self.distance_down_to(point, limit, 0.0)
    }

    /// It, where it is no less than `enough`, mm; else perhaps the distance of another place that is nearer than that.
    pub fn distance_down_to(&mut self, point: Point, limit: f64, enough: f64) -> f64 {
        let found = self.nearest.search(point, limit, (self.last, Some(enough)), &mut self.pending);
        self.last = found.map(|(index, _)| index).or(self.last);
        found.map_or(limit, |(_, near)| near.distance)
    }

    /// Whether any of the paths comes nearer to a point than `limit`, mm.
    pub fn comes_within(&mut self, point: Point, limit: f64) -> bool {
        self.distance_down_to(point, limit, limit) < limit
    }
}

#[cfg(test)]
mod tests {
    use super::{Nearest, Path, Point};

    #[test]
    fn the_tree_finds_what_a_look_at_every_piece_finds() {
        let rings: Vec<Path> = (0..9)
            .map(|i| {
                let at = Point::new(f64::from(i % 3) * 50.0, f64::from(i / 3) * 40.0);
                Path::circle(at, f64::from(5 + i))
            })
            .collect();
        let tree = Nearest::of(&rings);
        let (mut walk, mut other) = (tree.walk(), tree.walk());
        for k in 0..500 {
            let point = Point::new(f64::from(k % 25) * 6.3 - 20.0, f64::from(k / 25) * 7.1 - 20.0);
            let all = |reach: f64| {
                let near = rings.iter().enumerate().filter_map(|(path, ring)| Some((path, ring.nearest(point)?.0)));
                near.filter(|(_, far)| *far <= reach).collect::<Vec<_>>()
            };
            let shortest = all(f64::INFINITY).into_iter().map(|(_, far)| far).fold(f64::INFINITY, f64::min);
            assert_eq!(tree.distance(point), shortest);
            assert_eq!(walk.distance(point, f64::INFINITY), shortest);
            assert_eq!(walk.distance(point, 15.0), shortest.min(15.0));
            let down_to = walk.distance_down_to(point, 15.0, 4.0);
            assert!(
                if shortest < 4.0 { down_to < 4.0 } else { down_to == shortest.min(15.0) },
                "{down_to} {shortest}"
            );
            assert_eq!(other.comes_within(point, 15.0), shortest < 15.0);
            let within: Vec<(usize, f64)> =
                tree.within(point, 15.0).into_iter().map(|near| (near.path, near.distance)).collect();
            assert_eq!(within, all(15.0));
        }
        assert_eq!(Nearest::of(&[]).distance(Point::ORIGIN), f64::INFINITY);
        assert!(Nearest::of(&[]).within(Point::ORIGIN, 1e6).is_empty());
    }
}
