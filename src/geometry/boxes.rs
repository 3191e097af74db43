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

    /// The box of a piece, by its place in the order.
    pub fn piece(&self, index: usize) -> Rect {
        self.levels[0][index]
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

    /// The boxes two levels below a box, which make it up, or the one or two of which one level below that are single pieces.
    pub(super) fn quarters(&self, (level, index): TreeBox) -> impl Iterator<Item = TreeBox> + use<> {
        let (below, wide) = if level > 1 { (level - 2, 4) } else { (0, if level == 1 { 2 } else { 0 }) };
        let count = self.levels[below].len();
        let first = (wide * index).min(count);
        (first..(first + wide).min(count)).map(move |i| (below, i))
    }

    /// Indices of the pieces whose boxes meet `rect`, rising, each looked for when it is asked for.
    pub fn meeting(&self, rect: Rect) -> Meeting<'_> {
        Meeting { tree: self, rect, at: self.root() }
    }

    /// The box that follows a box and all of its parts.
    fn after(&self, (mut level, mut index): TreeBox) -> Option<TreeBox> {
        // Past the second of a pair, or a first without a second, what follows is what follows their pair.
        while index % 2 == 1 || index + 1 >= self.levels[level].len() {
            (level, index) = (level + 1, index / 2);
            if level >= self.levels.len() {
                return None;
            }
        }
        Some((level, index + 1))
    }
}

/// The pieces of a tree whose boxes meet a rectangle.
#[derive(Debug)]
pub struct Meeting<'a> {
    tree: &'a BoxTree,
    rect: Rect,
    /// The box that is looked at next.
    at: Option<TreeBox>,
}

impl Iterator for Meeting<'_> {
    type Item = usize;

    fn next(&mut self) -> Option<usize> {
        while let Some(at) = self.at {
            let meets = within_reach(&self.tree.rect(at), &self.rect, 0.0);
            match at {
                (0, index) => {
                    self.at = self.tree.after(at);
                    if meets {
                        return Some(index);
                    }
                }
                (level, index) if meets => self.at = Some((level - 1, 2 * index)),
                _ => self.at = self.tree.after(at),
            }
        }
        None
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
        for count in [1_u32, 2, 3, 4, 5, 36, 37] {
            finds_of(count);
        }
        assert!(BoxTree::new(Vec::new()).meeting(Rect::new(0.0, 0.0, 1.0, 1.0)).next().is_none());
    }

    fn finds_of(count: u32) {
        let boxes: Vec<Rect> = (0..count).map(|i| Rect::new(f64::from(i), 0.0, f64::from(i) + 0.5, 1.0)).collect();
        let tree = BoxTree::new(boxes.clone());
        for (x0, x1) in [(-5.0, -1.0), (3.2, 7.1), (3.6, 3.9), (36.5, 40.0), (-1.0, 100.0)] {
            let rect = Rect::new(x0, 0.2, x1, 0.4);
            let plain: Vec<usize> = (0..boxes.len()).filter(|i| boxes[*i].x0 <= x1 && boxes[*i].x1 >= x0).collect();
            assert_eq!(tree.meeting(rect).collect::<Vec<usize>>(), plain);
        }
    }
}
