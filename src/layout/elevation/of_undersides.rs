//! What a maker asks of a piece from below: where it stands, how large a foot is as sawn, and how much room there is between
//! the boards under the top.

use super::measure::{Measurer, corners, cut_corners};
use super::shown::Lane;
use crate::board::{EdgeName, PartRole};
use crate::geometry::{Point, Rect};
use crate::piece::SolvedBoard;

impl Measurer<'_> {
    /// Numbers of the view from below.
    pub(super) fn underside(&mut self) {
        self.feet();
        let piece = self.piece;
        let under_top = |b: &&SolvedBoard| b.role.is_apron() || b.role == PartRole::TopRail;
        for board in piece.boards.iter().filter(under_top) {
            self.room_between(board);
        }
    }

    /// Over all feet, and one foot as it is sawn.
    fn feet(&mut self) {
        let around = |points: &mut dyn Iterator<Item = Point>| {
            points.map(|p| Rect::from_points(p, p)).reduce(|a, b| a.union(b))
        };
        let seen: Vec<Point> =
            cut_corners(self.piece, &EdgeName::Foot).iter().map(|p| self.view.project(*p)).collect();
        let Some(all) = around(&mut seen.iter().copied()) else { return };
        let Some(one) = around(&mut seen.iter().copied().filter(|p| p.x < 0.0 && p.y < 0.0)) else { return };
        self.length("over the feet, along", Point::new(all.x0, all.y0), Point::new(all.x1, all.y0), Lane::Under);
        self.length("over the feet, across", Point::new(all.x1, all.y0), Point::new(all.x1, all.y1), Lane::Right);
        self.length("foot as sawn, along", Point::new(one.x0, one.y0), Point::new(one.x1, one.y0), Lane::Under);
        self.length("foot as sawn, across", Point::new(one.x0, one.y0), Point::new(one.x0, one.y1), Lane::Left);
    }

    /// The clear distance between two copies of a board that stand opposite each other.
    fn room_between(&mut self, board: &SolvedBoard) {
        let around = |place| {
            let seen = corners(board, place).into_iter().map(|p| self.view.project(p));
            seen.map(|p| Rect::from_points(p, p)).reduce(|a, b| a.union(b))
        };
        let rects: Vec<Rect> = board.copies.iter().filter_map(|copy| around(&copy.placement)).collect();
        let [a, b] = rects[..] else { return };
        let (low, high) = if a.x0 + a.y0 < b.x0 + b.y0 { (a, b) } else { (b, a) };
        let what = format!("between the two of {}", board.label);
        if low.x1 < high.x0 {
            self.length(&what, Point::new(low.x1, low.y0), Point::new(high.x0, high.y0), Lane::Over);
        } else if low.y1 < high.y0 {
            self.length(&what, Point::new(low.x0, low.y1), Point::new(high.x0, high.y0), Lane::Left);
        }
    }
}
