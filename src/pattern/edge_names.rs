//! Which edges of a board are named on its pattern: those of which its marks speak, so that nobody takes one for another.

use crate::board::{Source, Surface};
use crate::geometry::Segment;
use crate::joinery::{Marking, far_marking, marked_span, marking};
use crate::piece::SolvedBoard;

/// The longest straight or curved piece, as it is drawn, of every edge that the words of its joints name, with what it is called, in
/// their order. Sawn ends and ripped edges have their names at their cuts, landings at what lands there.
pub fn spoken_of(solved: &SolvedBoard) -> Vec<(Segment, String)> {
    let spoken = surfaces(solved);
    let board = &solved.board;
    let named = |source: &Source| {
        let is_drawn = match source {
            Source::Edge(_) => board.edge_of(*source).is_some_and(|name| !name.is_landing()),
            Source::Cut(_) | Source::Face | Source::Far => false,
        };
        is_drawn && spoken.contains(&board.surface(*source))
    };
    let all = (0..board.edges.len()).map(Source::Edge).filter(named);
    let longest = |source: Source| {
        let own = solved.solid.face.part(source);
        let longest = own.max_by(|a, b| a.length().total_cmp(&b.length()))?;
        Some((*longest, board.name_of(source).into_owned()))
    };
    all.filter_map(longest).collect()
}

/// The surfaces on which joints are marked, and from which and along which.
fn surfaces(solved: &SolvedBoard) -> Vec<Surface> {
    let near = solved.mortises.iter().filter_map(|own| Some((own.on, marking(solved, own)?)));
    let far = solved.mortises.iter().filter_map(|own| {
        let (exit, told) = far_marking(solved, own)?;
        Some((Some(exit), told))
    });
    let cutouts = solved.joint_cutouts().filter_map(|own| Some((Some(own.on), marked_span(solved, &own)?.marking)));
    let all: Vec<(Option<Source>, Marking)> = near.chain(far).chain(cutouts).collect();
    let named = |(on, told): &(Option<Source>, Marking)| -> Vec<Surface> {
        on.map(|on| solved.board.surface(on)).into_iter().chain(told.surfaces().cloned()).collect()
    };
    all.iter().flat_map(named).collect()
}
