//! What lies on the surfaces of a board, in all of its copies.

use crate::board::{PartId, Source};
use crate::geometry::Path;
use crate::piece::SolvedBoard;
use crate::tolerance::SAME_PLACE;

/// Where another part lies: once for all copies on which it lies alike.
pub struct Landed<'a> {
    /// The surface.
    pub on: Source,
    /// The contact, closed rims, in the axes of [`crate::piece::Meet::contact`].
    pub contact: &'a [Path],
    /// The part.
    board: &'a PartId,
    /// The copies that have it.
    copies: Vec<usize>,
}

/// What lies on a board, that of its first copy first.
pub fn landed(solved: &SolvedBoard) -> Vec<Landed<'_>> {
    let mut all: Vec<Landed> = Vec::new();
    let mut meets: Vec<_> = solved.meets.iter().collect();
    meets.sort_by_key(|meet| meet.own_copy);
    for meet in meets {
        match all.iter_mut().find(|known| known.on == meet.on && is_same(known.contact, &meet.contact)) {
            Some(known) if known.copies.contains(&meet.own_copy) => {}
            Some(known) => known.copies.push(meet.own_copy),
            None => all.push(Landed {
                on: meet.on,
                contact: &meet.contact,
                board: &meet.board,
                copies: vec![meet.own_copy],
            }),
        }
    }
    all
}

impl Landed<'_> {
    /// What it is called, and on which copies it lies where not on all: `stretcher, only left frame`.
    pub fn words(&self, solved: &SolvedBoard) -> String {
        let name = self.board.words();
        if self.copies.len() == solved.copies.len() {
            return name;
        }
        let labels = self.copies.iter().filter_map(|copy| solved.copies.get(*copy)).map(|copy| copy.label.as_str());
        format!("{name}, only {}", labels.collect::<Vec<_>>().join(", "))
    }
}

/// Whether two contacts have the same corners.
fn is_same(a: &[Path], b: &[Path]) -> bool {
    let nodes = |all: &[Path]| all.iter().flat_map(Path::nodes).collect::<Vec<_>>();
    let (a, b) = (nodes(a), nodes(b));
    a.len() == b.len() && a.iter().all(|p| b.iter().any(|q| p.distance(*q) < SAME_PLACE))
}
