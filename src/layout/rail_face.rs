//! The inside face of a bottom rail as it is measured on: up from its lower arris, and off its frame's centre line.

use crate::board::{EdgeName, PartRole, Source};
use crate::geometry::{Placement, Point, Point3, Segment};
use crate::piece::{Piece, SolvedBoard};
use crate::tolerance::AT_END;

/// The inside face of the bottom rail of one frame of a solved piece.
#[derive(Debug, Clone, Copy)]
pub struct RailFace<'a> {
    board: &'a SolvedBoard,
    placement: Placement,
    /// Along the rail, where the frame's centre line crosses it, mm.
    centre: f64,
    /// Across the rail, where its lower arris is there, mm.
    low: f64,
    /// Which way along the rail the back is.
    back: f64,
}

impl<'a> RailFace<'a> {
    /// Of the frame that stands on this side of the middle: −1 is the left one, 1 the right one. `None` where it has no such rail.
    pub fn of(piece: &'a Piece, side: f64) -> Option<RailFace<'a>> {
        let copies =
            piece.of_role(PartRole::BottomRail).flat_map(|board| board.copies.iter().map(move |copy| (board, copy)));
        let (board, copy) = copies.into_iter().find(|(_, copy)| copy.placement.origin().x * side > 0.0)?;
        let lower = board.board.edge(&EdgeName::LowerEdge).map(Source::Edge);
        let arris = || board.solid.far.pieces().filter(|(_, source)| Some(*source) == lower).map(|(piece, _)| piece);
        // Both legs of a frame are alike, so that its centre line halves the arris.
        let ends = arris().flat_map(|piece| [piece.eval(0.0).x, piece.eval(1.0).x]);
        let (from, to) = ends.fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(x), high.max(x)));
        let centre = (from + to) / 2.0;
        let low = arris().filter_map(|piece| crossing(piece, |p| p.x - centre)).map(|p| p.y).reduce(f64::min)?;
        let back = if copy.placement.u().y < 0.0 { -1.0 } else { 1.0 };
        Some(RailFace { board, placement: copy.placement, centre, low, back })
    }

    /// Its lower arris on the centre line, in the world.
    pub fn lowest(&self) -> Point3 {
        self.placement.to_world(Point3::new(self.centre, self.low, -self.board.board.thickness))
    }

    /// How far up from the lower arris and off the centre line a point on it is, towards the back above zero: mm.
    pub fn spot(&self, at: Point3) -> [f64; 2] {
        let own = self.placement.to_board(at);
        [own.y - self.low, self.back * (own.x - self.centre)]
    }

    /// From how far up to how far up it reaches, so far off the centre line: mm; `None` beyond its ends.
    pub fn heights(&self, off_centre: f64) -> Option<[f64; 2]> {
        let along = self.centre + self.back * off_centre;
        self.reach(|p| p.x - along, |p| p.y - self.low)
    }

    /// From where to where it reaches across, so far up: mm; `None` above and below it.
    pub fn widths(&self, up: f64) -> Option<[f64; 2]> {
        let (level, back, centre) = (self.low + up, self.back, self.centre);
        self.reach(|p| p.y - level, |p| back * (p.x - centre))
    }

    /// The least and the most of what is told of the rim where it crosses a line.
    fn reach(&self, off: impl Fn(Point) -> f64 + Copy, told: impl Fn(Point) -> f64) -> Option<[f64; 2]> {
        let crossed = self.board.solid.far.pieces().filter_map(|(piece, _)| crossing(piece, off)).map(told);
        let (from, to) = crossed.fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
        (from <= to).then_some([from, to])
    }
}

/// The point at which a piece, which comes no nearer again, crosses a line.
fn crossing(piece: &Segment, off: impl Fn(Point) -> f64) -> Option<Point> {
    let off = |t: f64| off(piece.eval(t));
    let (mut low, mut high) = (0.0, 1.0);
    if off(low) * off(high) > 0.0 {
        return None;
    }
    while high - low > AT_END {
        let middle = 0.5 * (low + high);
        if off(low) * off(middle) <= 0.0 { high = middle } else { low = middle }
    }
    Some(piece.eval(0.5 * (low + high)))
}
