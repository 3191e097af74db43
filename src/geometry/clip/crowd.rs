//! Pieces of which those near a rectangle are asked, and to which more come.

use super::rect::spans_inside;
use crate::geometry::boxes::{BoxTree, within_reach};
use crate::geometry::{Path, Segment};
use kurbo::{Affine, Rect};

/// So many newcomers are asked one by one before a tree takes them in.
const NEWCOMERS: usize = 64;

/// Pieces of paths. A question costs about as much as the pieces near the rectangle; more may come at any time.
#[derive(Debug, Clone, Default)]
pub struct Crowd {
    pieces: Vec<Segment>,
    /// Trees over the first of them, each of a run of pieces shorter than the run before it.
    settled: Vec<Run>,
    /// Boxes of those that come after.
    newcomers: Vec<Rect>,
}

/// A tree over the pieces from `first`.
#[derive(Debug, Clone)]
struct Run {
    first: usize,
    tree: BoxTree,
}

impl Crowd {
    /// Takes in the pieces of one more path.
    pub fn add(&mut self, path: &Path) {
        self.pieces.extend_from_slice(path.segments());
        self.newcomers.extend(path.segments().iter().map(Segment::bounding_box));
        if self.newcomers.len() > NEWCOMERS {
            self.settle();
        }
    }

    /// Takes the newcomers into a tree, with every run before that is no longer: so each piece settles a few times only, and
    /// there are few trees.
    fn settle(&mut self) {
        let mut first = self.pieces.len() - self.newcomers.len();
        while let Some(before) = self.settled.last().filter(|run| first - run.first <= self.pieces.len() - first) {
            first = before.first;
            self.settled.pop();
        }
        let tree = BoxTree::new(self.pieces[first..].iter().map(Segment::bounding_box).collect());
        self.settled.push(Run { first, tree });
        self.newcomers.clear();
    }

    /// Whether any piece lies inside a rectangle that `turn` makes upright, or on its border.
    pub fn touches(&self, rect: Rect, turn: Affine) -> bool {
        let around = turn.inverse().transform_rect_bbox(rect);
        let inside = |index: usize| {
            let piece = self.pieces[index].transformed(turn);
            rect.contains(piece.start()) || !spans_inside(&piece, rect).is_empty()
        };
        let first = self.pieces.len() - self.newcomers.len();
        let newcomers = self.newcomers.iter().enumerate().filter(|(_, bounds)| within_reach(bounds, &around, 0.0));
        let mut settled = self.settled.iter();
        newcomers.map(|(index, _)| first + index).any(inside)
            || settled.any(|run| run.tree.meeting(around).any(|index| inside(run.first + index)))
    }
}

#[cfg(test)]
mod tests {
    use super::{Affine, Crowd, Path, Rect};
    use crate::geometry::{PathIndex, Point};

    #[test]
    fn touches_what_each_path_alone_touches() {
        let mut crowd = Crowd::default();
        let mut paths = Vec::new();
        for k in 0..300 {
            let at = Point::new(f64::from(k % 20) * 11.0, f64::from(k / 20) * 9.0);
            let path = if k % 3 == 0 { Path::circle(at, 2.0) } else { Path::line(at, at + (5.0, 3.0)) };
            crowd.add(&path);
            paths.push(path);
            let turn = Affine::rotate(f64::from(k));
            let centre = Point::new(f64::from(k * 7 % 220), f64::from(k * 13 % 140));
            let rect = Rect::from_center_size(turn * centre, (6.0, 2.0));
            let one_by_one = paths.iter().any(|path| PathIndex::new(&path.transformed(turn)).touches(rect));
            assert_eq!(crowd.touches(rect, turn), one_by_one, "{k}");
        }
    }
}
