//! Boards that are made from one pattern.

use super::assemble::{Single, Work};
use super::same::own_mirror;
use super::surface::plane_of;
use crate::board::{Board, PartRole, Solid, Source};
use crate::geometry::{Placement, Point3, Vec3};
use crate::tolerance::{NO_LEAN, SAME_PLACE};

/// A group of singles made from one pattern.
pub(super) struct Group {
    /// What they are.
    pub(super) role: PartRole,
    /// The board as drawn and its shape.
    pub(super) board: Board,
    pub(super) solid: Solid,
    /// How the drawn board differs from the singles' board.
    flip: Flip,
    /// The singles with their placements under the drawn board.
    pub(super) members: Vec<(usize, Placement)>,
}

/// Which way a drawn board runs beside the board as it was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Flip {
    /// As it was made.
    No,
    /// With u the other way.
    Along,
    /// With v the other way.
    Across,
}

impl Flip {
    fn placement(self, natural: Placement) -> Placement {
        match self {
            Flip::No => natural,
            Flip::Along => natural.flipped_along(0.0),
            Flip::Across => natural.flipped_across(),
        }
    }
}

impl Group {
    /// A group of one. Its board is drawn right-handed. Where the single is a mirrored one u is run the other way, so that the upper
    /// edge stays up; of a board with a head and a foot it is v.
    pub(super) fn new(index: usize, single: &Single, solid: &Solid) -> Option<Group> {
        let flip = match single.placement.is_mirrored() {
            false => Flip::No,
            true if single.board.lies() => Flip::Along,
            true => Flip::Across,
        };
        let (board, solid) = match flip {
            Flip::No => (single.board.clone(), solid.clone()),
            Flip::Along => with_solid(single.board.flipped_along())?,
            Flip::Across => with_solid(single.board.flipped_across())?,
        };
        let members = vec![(index, flip.placement(single.placement))];
        Some(Group { role: single.role, board, solid, flip, members })
    }

    /// Takes up a single whose board equals the first member's under the given placement; a mirrored one of a board that
    /// is its own mirror image is not mirrored at all. What is turned is no such board, whatever its blank is: it has a head and
    /// a foot.
    pub(super) fn join(&mut self, index: usize, natural: Placement, is_turned: bool) {
        let placement = self.flip.placement(natural);
        let placement = match own_mirror(&self.solid) {
            Some(about) if placement.is_mirrored() && !is_turned => placement.flipped_along(about),
            _ => placement,
        };
        self.members.push((index, placement));
    }

    /// The surface of the drawn board that is the given surface of a member's own board.
    pub(super) fn same_surface(&self, work: &Work, member: usize, surface: Source) -> Option<Source> {
        let single = work.single(member);
        let placement = self.members.iter().find(|(i, _)| *i == member)?.1;
        let probe = |source: Source| -> Option<(Vec3, Point3)> {
            let plane = plane_of(&single.board, source)?;
            let world = single.placement.plane_to_world(&plane);
            let drawn = placement.plane_to_board(&world);
            Some((drawn.normal(), Point3::ORIGIN + drawn.normal() * drawn.offset()))
        };
        match surface {
            Source::Face | Source::Far => Some(surface),
            Source::Cut(_) | Source::Edge(_) => {
                let (normal, on) = probe(surface)?;
                let near = |source: &Source| {
                    let plane = plane_of(&self.board, *source);
                    plane.is_some_and(|p| {
                        (p.normal() - normal).length() < NO_LEAN && p.distance(on).abs() < SAME_PLACE
                    })
                };
                let cuts = (0..self.board.cuts.len()).map(Source::Cut);
                let edges = (0..self.board.edges.len()).map(Source::Edge);
                cuts.chain(edges).find(near)
            }
        }
    }
}

/// A board with its cuts made.
fn with_solid(board: Board) -> Option<(Board, Solid)> {
    let solid = board.solid().ok()?;
    Some((board, solid))
}
