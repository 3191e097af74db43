//! An edge profile on a board as it is worked, for whoever looks at the board.

use crate::geometry::{Path, Point, Point3};
use crate::tolerance::BELOW_CUTTING;

/// A profile along an edge of a board.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkedEdge {
    /// The square edge in (u, v), mm, the wood on its left: closed where the profile runs all round, else run on straight past both
    /// its ends, as a cutter runs.
    pub edge: Path,
    /// The finished line of its section: x into the wood from the square edge, y up from the face side, mm.
    pub line: Path,
    /// What of the section is cut away, closed.
    pub removed: Vec<Path>,
    /// How far it reaches in from the square edge at its most, mm.
    pub eats_in: f64,
    /// The lines that it leaves along the edge, each in (u, v) at its level w, mm.
    pub left: Vec<(Path, f64)>,
}

impl WorkedEdge {
    /// Whether a place in the square wood of a board so thick, mm, is cut away. One on the surface of the square wood counts as just inside.
    pub fn takes(&self, p: Point3, thickness: f64) -> bool {
        let Some((off, _)) = self.edge.nearest(Point::new(p.x, p.y)) else { return false };
        if off >= self.eats_in {
            return false;
        }
        let level = p.z.min(-BELOW_CUTTING).max(BELOW_CUTTING - thickness);
        let at = Point::new(off.max(BELOW_CUTTING), level);
        self.removed.iter().any(|ring| ring.encloses(at))
    }
}
