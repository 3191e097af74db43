//! Where a top's fasteners stand, and how much play each needs across the grain.
//!
//! A top that is held in its middle moves at a distance from it in proportion to that distance. Everything is measured in the
//! top's own axes, x along its grain and y across it, from its middle.

use super::button::Button;
use super::{Piece, SolvedBoard, SurfaceAxes, plane_of};
use crate::board::{PartRole, Source};
use crate::geometry::{Path, Plane, Point, Point3, Rect, Vec2};
use crate::model::fixing::{Fasteners, Hold, MadeFasteners};
use crate::model::top::Top;
use crate::tolerance::UNSEEN;
use crate::wood::of_top;

/// From the end of a landing to the first fastener, mm: clear of the joint at the end (common practice, no source).
const FROM_END: f64 = 40.0;

/// Surfaces whose normals agree to this cosine are parallel: a thousandth of a radian.
const LEVEL: f64 = 0.999_999_5;

/// A place where a top is held, and how far the wood of the top moves there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Play {
    /// Where it stands today.
    pub at: Point,
    /// How far the top's wood moves towards its middle until the driest, mm.
    pub inwards: f64,
    /// How far it moves away from its middle until the dampest, mm.
    pub outwards: f64,
}

impl Play {
    pub(super) fn new(at: Point, share: [f64; 2]) -> Play {
        let [inwards, outwards] = share.map(|each| each * at.y.abs());
        Play { at, inwards, outwards }
    }

    /// Away from the middle, across the grain.
    fn out(&self) -> Vec2 {
        Vec2::new(0.0, if self.at.y < 0.0 { -1.0 } else { 1.0 })
    }

    /// Where a screw that is fast in the top stands over the base at the driest and at the dampest.
    pub fn in_base(&self) -> [Point; 2] {
        [self.at - self.out() * self.inwards, self.at + self.out() * self.outwards]
    }

    /// Where a pin that stands still is met by the wood of the top, as it lies today, at the driest and at the dampest.
    pub fn in_top(&self) -> [Point; 2] {
        [self.at + self.out() * self.inwards, self.at - self.out() * self.outwards]
    }
}

/// A part that the underside of the top lies on, with the fasteners through it.
#[derive(Debug, Clone, PartialEq)]
pub struct Landing {
    /// Index of the part's board.
    pub board: usize,
    /// Which of its copies.
    pub copy: usize,
    /// Where it lies, a closed rim.
    pub rim: Path,
    /// How far the part reaches down from the top, mm.
    pub deep: f64,
    /// What holds the top to it: where each screw goes into the top.
    pub plays: Vec<Play>,
    /// The buttons beside it, where it is held by such.
    pub button: Option<Button>,
}

/// Wood that stays under the head of a screw, mm, where a part is deeper than that by as much again (common practice, no source).
const UNDER_HEAD: f64 = 20.0;

/// The head of a countersunk screw against its shank (common practice, no source: about twice).
const HEAD: f64 = 2.0;

/// Wood that a widened slot leaves to either face, mm (common practice, no source).
const WALL: f64 = 3.0;

impl Landing {
    /// How wide the head of a screw is, mm.
    pub fn head(screw: f64) -> f64 {
        HEAD * screw
    }

    /// To what the slots are widened from below for the heads of the screws, and how deep, mm; `None` where they are not, or where the
    /// part is too thin for that.
    pub fn widened(&self, screw: f64) -> Option<(f64, f64)> {
        let (bore, bounds) = (self.counterbore()?, self.rim.bounding_box()?);
        let room = |p: Point| match runs_across(bounds) {
            true => (p.x - bounds.x0).min(bounds.x1 - p.x),
            false => (p.y - bounds.y0).min(bounds.y1 - p.y),
        };
        let room = self.plays.iter().flat_map(Play::in_base).map(room).fold(f64::MAX, f64::min);
        let head = Landing::head(screw);
        (room - head / 2.0 >= WALL).then_some((head, bore))
    }

    /// How deep the slots are widened from below for the heads of the screws, mm; `None` where the screws go through the whole part.
    pub fn counterbore(&self) -> Option<f64> {
        (self.deep > 2.0 * UNDER_HEAD).then_some(self.deep - UNDER_HEAD)
    }
}

/// How much each mm from the middle moves inwards and outwards; `None` without a wood and its moisture.
pub(super) fn share(top: &Top) -> Option<[f64; 2]> {
    of_top(top).0?.bracket(1.0)
}

/// The parts that the top is fastened to. Heads of legs, and whatever else meets it with its end grain, are left out: nothing
/// holds there.
///
/// Without a wood and its moisture the places are known and need no play.
pub fn landings(piece: &Piece, top: &Top) -> Vec<Landing> {
    let Some(Fasteners::Made(MadeFasteners { by, spacing, .. })) = &top.fasteners else { return Vec::new() };
    let share = share(top).unwrap_or_default();
    let Some(board) = piece.top() else { return Vec::new() };
    let mut found = Vec::new();
    for (index, part) in piece.boards.iter().enumerate().filter(|(_, part)| part.role != PartRole::Top) {
        for (copy, rim) in under(board, part) {
            let Some(bounds) = rim.bounding_box() else { continue };
            let button = (*by == Hold::Buttons).then(|| Button::of(bounds, share));
            let screw = |at: Point| button.map_or(at, |button| button.beside(at, bounds));
            let plays = places(bounds, spacing.mm()).into_iter().map(|at| Play::new(screw(at), share)).collect();
            let deep = deep(board, part, copy);
            found.push(Landing { board: index, copy, rim, deep, plays, button });
        }
    }
    found
}

/// How far a copy of a part reaches down from the underside of the top, mm.
fn deep(top: &SolvedBoard, part: &SolvedBoard, copy: usize) -> f64 {
    let (Some(above), Some(at)) = (top.copies.first(), part.copies.get(copy)) else { return 0.0 };
    let sides = [(part.solid.face.path(), 0.0), (part.solid.far.path(), -part.board.thickness)];
    let corners = sides.iter().flat_map(|(rim, z)| rim.nodes().into_iter().map(|p| Point3::new(p.x, p.y, *z)));
    let level = |corner| above.placement.to_board(at.placement.to_world(corner)).z;
    -top.board.thickness - corners.map(level).fold(-top.board.thickness, f64::min)
}

/// Where the copies of a part lie flat under the top, in the top's axes.
fn under(top: &SolvedBoard, part: &SolvedBoard) -> Vec<(usize, Path)> {
    let Some(above) = top.copies.first().map(|copy| copy.placement) else { return Vec::new() };
    let surfaces = [Source::Face, Source::Far]
        .into_iter()
        .chain((0..part.board.edges.len()).map(Source::Edge))
        .chain((0..part.board.cuts.len()).map(Source::Cut));
    let mut found = Vec::new();
    // An edge that a cut has taken off whole is none any more.
    let left = |surface: Source| {
        !matches!(surface, Source::Edge(_)) || part.solid.face.pieces().any(|(_, source)| source == surface)
    };
    for surface in surfaces.filter(|surface| left(*surface)) {
        let Some(plane) = plane_of(&part.board, surface).filter(|plane| !is_end_grain(plane)) else { continue };
        for (copy, at) in part.copies.iter().map(|copy| copy.placement).enumerate() {
            let normal = above.direction_to_board(at.direction_to_world(plane.normal()));
            let foot = Point3::ORIGIN - plane.normal() * plane.distance(Point3::ORIGIN);
            let on = above.to_board(at.to_world(foot));
            if normal.z < LEVEL || (on.z + top.board.thickness).abs() > UNSEEN {
                continue;
            }
            let axes = SurfaceAxes::of(&part.board, &part.solid, surface);
            let seen = axes.map_or_else(Vec::new, |axes| axes.seen_from(&at, &above));
            found.extend(seen.into_iter().map(|rim| (copy, rim)));
        }
    }
    found
}

/// Whether a surface of a board, whose grain runs along u, lies nearer to square across the grain than along it.
fn is_end_grain(plane: &Plane) -> bool {
    let normal = plane.normal();
    normal.x.abs() > normal.y.hypot(normal.z)
}

/// Whether a landing runs across the grain rather than along it.
pub fn runs_across(bounds: Rect) -> bool {
    bounds.height() > bounds.width()
}

/// Places along a landing, no farther apart than `spacing`; across the grain one in the middle, which holds it there.
fn places(bounds: Rect, spacing: f64) -> Vec<Point> {
    let (middle, across) = (bounds.center(), runs_across(bounds));
    let (along, length) =
        if across { (Vec2::new(0.0, 1.0), bounds.height()) } else { (Vec2::new(1.0, 0.0), bounds.width()) };
    let room = length - 2.0 * FROM_END;
    if room <= 0.0 {
        return vec![middle];
    }
    let mut gaps = (room / spacing).ceil().max(1.0);
    if across && gaps % 2.0 == 1.0 {
        gaps += 1.0;
    }
    (0..=gaps as usize).map(|i| middle + along * (room * (i as f64 / gaps - 0.5))).collect()
}

#[cfg(test)]
mod tests {
    use super::{Play, places};
    use crate::geometry::{Point, Rect};

    #[test]
    fn a_dry_top_draws_its_screws_inwards_and_is_met_farther_out_by_its_pins() {
        let play = Play::new(Point::new(10.0, -400.0), [0.0073, 0.01095]);
        assert!((play.inwards - 2.92).abs() < 1e-9 && (play.outwards - 4.38).abs() < 1e-9);
        let [dry, damp] = play.in_base();
        assert!((dry.y + 397.08).abs() < 1e-9 && (damp.y + 404.38).abs() < 1e-9);
        let [dry, damp] = play.in_top();
        assert!((dry.y + 402.92).abs() < 1e-9 && (damp.y + 395.62).abs() < 1e-9);
    }

    #[test]
    fn fasteners_across_the_grain_have_one_in_the_middle() {
        let across = places(Rect::new(0.0, -300.0, 30.0, 300.0), 300.0);
        assert_eq!(across.iter().map(|p| p.y).collect::<Vec<_>>(), [-260.0, 0.0, 260.0]);
        let along = places(Rect::new(-500.0, 0.0, 500.0, 25.0), 300.0);
        assert_eq!(along.len(), 5);
        assert!(along.windows(2).all(|pair| pair[1].x - pair[0].x <= 300.0));
        assert_eq!(places(Rect::new(0.0, -30.0, 30.0, 40.0), 300.0), [Point::new(15.0, 5.0)]);
    }
}
