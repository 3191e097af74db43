//! Which boards are made from one pattern.

use crate::board::{Ring, Solid};
use crate::geometry::{Affine, Point};
use crate::tolerance::SAME_POINT;

/// How one board lies on another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Lies {
    /// As it is.
    Same,
    /// With u run the other way, about the line `u = value`.
    Flipped(f64),
}

/// How `other` lies on `drawn`, which has the same thickness; `None` where they differ.
pub(super) fn lies(drawn: &Solid, other: &Solid) -> Option<Lies> {
    if alike(drawn, other, Affine::IDENTITY) {
        return Some(Lies::Same);
    }
    let about = (drawn.blank.x0 + other.blank.x1) / 2.0;
    let flip = Affine::translate((2.0 * about, 0.0)) * Affine::FLIP_X;
    alike(drawn, other, flip).then_some(Lies::Flipped(about))
}

/// The line `u = value` about which the board is its own mirror image.
pub(super) fn own_mirror(solid: &Solid) -> Option<f64> {
    let about = solid.blank.center().x;
    alike(solid, solid, Affine::translate((2.0 * about, 0.0)) * Affine::FLIP_X).then_some(about)
}

/// Whether both rims of `other`, mapped, are those of `drawn`.
fn alike(drawn: &Solid, other: &Solid, map: Affine) -> bool {
    rims_alike(&drawn.face, &other.face, map) && rims_alike(&drawn.far, &other.far, map)
}

fn rims_alike(drawn: &Ring, other: &Ring, map: Affine) -> bool {
    let points = |ring: &Ring| -> Vec<Point> {
        ring.path().segments().iter().flat_map(|s| [s.start(), s.eval(0.5)]).collect()
    };
    let (a, b) = (points(drawn), points(other));
    let near = |p: &Point| b.iter().any(|q| (map * *q).distance(*p) < SAME_POINT);
    a.len() == b.len() && a.iter().all(near)
}
