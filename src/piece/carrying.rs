//! What carries the top of a piece whose kind of base does not say so.

use super::assemble::Work;
use crate::tolerance::{LANDS, NO_LEAN};

impl Work<'_> {
    /// Records the cuts that lie level at the height of the highest point, where the top will lie.
    pub(super) fn carry_top(&mut self) {
        let highest = self.highest();
        for index in 0..self.count() {
            let single = self.single(index);
            let level = single.board.cuts.iter().enumerate().filter(|(_, cut)| {
                let plane = single.placement.plane_to_world(&cut.plane);
                let n = plane.normal();
                n.z > 0.0 && n.x.hypot(n.y) < NO_LEAN && (plane.offset() - highest).abs() < LANDS
            });
            let cuts: Vec<usize> = level.map(|(cut, _)| cut).collect();
            cuts.into_iter().for_each(|cut| self.cut_under_top(index, cut));
        }
    }
}
