//! A tree of boxes over the pieces of a path, in path order: neighbours along a path lie near each other already, so that
//! pairing them level by level makes a good tree without a sort.

use kurbo::Rect;

/// Boxes of pieces, of pairs of pieces, of pairs of pairs, up to one around everything.
#[derive(Debug, Clone)]
pub struct BoxTree {
    levels: Vec<Vec<Rect>>,
}

/// A box of the tree: its level (0: single pieces) and its index there.
pub(super) type TreeBox = (usize, usize);

impl BoxTree {
    /// The tree over boxes in path order.
    pub fn new(boxes: Vec<Rect>) -> Self {
        let mut levels = vec![boxes];
        while let Some(last) = levels.last().filter(|level| level.len() > 1) {
            let above = last.chunks(2).filter_map(|pair| pair.iter().copied().reduce(|a, b| a.union(b))).collect();
            levels.push(above);
        }
        BoxTree { levels }
    }

    /// The box around everything; `None` where there is nothing.
    pub(super) fn root(&self) -> Option<TreeBox> {
        let top = self.levels.len() - 1;
        (!self.levels[top].is_empty()).then_some((top, 0))
    }

    /// The rectangle of a box.
    pub(super) fn rect(&self, (level, index): TreeBox) -> Rect {
        self.levels[level][index]
    }

    /// The one or two boxes that make up a box, in path order; none for a single piece.
    pub(super) fn parts(&self, (level, index): TreeBox) -> impl DoubleEndedIterator<Item = TreeBox> + use<> {
        let below = level.checked_sub(1).map_or(0, |l| self.levels[l].len());
        let first = (2 * index).min(below);
        (first..(first + 2).min(below)).map(move |i| (level.saturating_sub(1), i))
    }

    /// Indices of the pieces whose boxes meet `rect`, rising.
    pub fn meeting(&self, rect: Rect) -> Vec<usize> {
        let mut found = Vec::new();
        let mut pending: Vec<TreeBox> = self.root().into_iter().collect();
        while let Some(at) = pending.pop() {
            if !within_reach(&self.rect(at), &rect, 0.0) {
                continue;
            }
            match at {
                (0, index) => found.push(index),
                _ => pending.extend(self.parts(at).rev()),
            }
        }
        found
    }
}

/// Whether two boxes come within `reach` of each other; never, for boxes that are not numbers.
pub(super) fn within_reach(a: &Rect, b: &Rect, reach: f64) -> bool {
    a.x0 <= b.x1 + reach && b.x0 <= a.x1 + reach && a.y0 <= b.y1 + reach && b.y0 <= a.y1 + reach
}

#[cfg(test)]
mod tests {
    use super::{BoxTree, Rect};

    #[test]
    fn finds_exactly_the_boxes_that_meet() {
        let boxes: Vec<Rect> = (0..37).map(|i| Rect::new(f64::from(i), 0.0, f64::from(i) + 0.5, 1.0)).collect();
        let tree = BoxTree::new(boxes.clone());
        for (x0, x1) in [(-5.0, -1.0), (3.2, 7.1), (3.6, 3.9), (36.5, 40.0), (-1.0, 100.0)] {
            let rect = Rect::new(x0, 0.2, x1, 0.4);
            let plain: Vec<usize> = (0..37).filter(|i| boxes[*i].x0 <= x1 && boxes[*i].x1 >= x0).collect();
            assert_eq!(tree.meeting(rect), plain);
        }
        assert!(BoxTree::new(Vec::new()).meeting(Rect::new(0.0, 0.0, 1.0, 1.0)).is_empty());
    }
}
