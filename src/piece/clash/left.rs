//! What boards that ran into each other still share when joints are made: a halving takes away what was shared.

use crate::geometry::{Placement, Plane, Point3, Vec3, intersection};
use crate::piece::{CutFor, Piece, PieceProblem, SolvedBoard};
use crate::solid::{Axes, Body, Hair};
use crate::tolerance::TOUCHING;

/// At so many levels of the one board's thickness what both hold is looked at.
const LEVELS: u32 = 8;

impl Piece {
    /// Leaves out the warnings of boards of which joints have taken away all that they shared.
    pub fn leave_out_parted_clashes(&mut self) {
        let cut = |board: &&SolvedBoard| board.cutouts.iter().any(|one| matches!(one.made_for, CutFor::Joint { .. }));
        if !self.boards.iter().any(|board| cut(&board)) {
            return;
        }
        let parted = |pointers: &[String; 2]| {
            let [one, other] = pointers.each_ref().map(|pointer| self.boards.iter().find(|b| b.pointer == *pointer));
            one.zip(other).is_some_and(|(one, other)| cut(&one) && cut(&other) && !share_wood(one, other))
        };
        let left: Vec<bool> = self
            .findings
            .iter()
            .map(|finding| match finding.problem::<PieceProblem>() {
                Some(PieceProblem::Clash { between, .. }) => !parted(&between.0),
                _ => true,
            })
            .collect();
        let mut left = left.into_iter();
        self.findings.retain(|_| left.next().unwrap_or(true));
    }
}

/// Whether any two copies of two boards, as they are worked, hold more than a touch of the same wood.
fn share_wood(one: &SolvedBoard, other: &SolvedBoard) -> bool {
    let bodies = |board: &SolvedBoard| -> Vec<(Body, Placement)> {
        let body = board.body();
        board.copies.iter().enumerate().map(|(i, copy)| (body.of_copy(i), copy.placement)).collect()
    };
    let thickness = one.board.thickness;
    let others = bodies(other);
    bodies(one).iter().any(|a| {
        others.iter().any(|b| {
            (0..LEVELS).any(|level| share_at(a, b, -thickness * (f64::from(level) + 0.5) / f64::from(LEVELS)))
        })
    })
}

/// Whether they do at a level of the first one's axes; so too where it cannot be told.
fn share_at((a, at): &(Body, Placement), (b, other): &(Body, Placement), level: f64) -> bool {
    let own = Axes { plane: Plane::level(level), origin: Point3::new(0.0, 0.0, level), x: Vec3::X, y: Vec3::Y };
    let way = |d: Vec3| other.direction_to_board(at.direction_to_world(d));
    let theirs = Axes {
        plane: other.plane_to_board(&at.plane_to_world(&own.plane)),
        origin: other.to_board(at.to_world(own.origin)),
        x: way(own.x),
        y: way(own.y),
    };
    let rings = a.on_plane(&own, Hair::In).zip(b.on_plane(&theirs, Hair::In));
    let Some(common) = rings.and_then(|(a, b)| intersection(&a, &b)) else { return true };
    let touch = |side: f64| side <= TOUCHING;
    common.iter().filter_map(|ring| ring.bounding_box()).any(|b| !touch(b.width()) && !touch(b.height()))
}
