//! Lays what a part carries on it: in both halves where half of the part is drawn, once where the file says so.

use super::part_problem::{Across, LaidKind, PartProblem};
use super::resolve::Resolver;
use crate::finding::{Finding, Place};
use crate::geometry::{Built, MirrorLine, Rect};
use crate::model::{Half, HalfShow, InHalf, Laid, Mirrored};
use crate::tolerance::UNSEEN;
use crate::units::Length;

/// How a part of which half is drawn is mirrored.
#[derive(Debug, Clone, Copy)]
pub struct Halving {
    /// The mirror line.
    pub about: MirrorLine,
    /// 1 where the drawn half lies on the side of positive distances, else -1.
    side: f64,
    /// Whether the half alone is drawn.
    alone: bool,
}

/// Something that is laid on a part, as it was read.
pub struct Entry<T> {
    /// What it is, in words.
    pub kind: LaidKind,
    /// It.
    pub what: T,
    /// Whether it is made once only, where that is said.
    pub once: Option<bool>,
    /// Its place in the list of the file, from 0.
    pub index: usize,
    /// Where it stands in the file.
    pub place: Place,
}

impl Halving {
    /// How a part is mirrored; `None` where it is not.
    pub fn of(half: Option<&Half>, built: &Built) -> Option<Halving> {
        let (half, outline) = half.zip(built.half.as_ref())?;
        Some(Halving { about: half.about, side: outline.side(), alone: half.show == HalfShow::Half })
    }

    /// How far a box reaches over the mirror line, mm, and how far it lies beyond it; below 0 on the side of the half.
    fn beyond(&self, bounds: Rect) -> (f64, f64) {
        let [one, other] =
            [bounds.origin(), (bounds.x1, bounds.y1).into()].map(|p| -self.side * self.about.distance(p));
        (one.max(other), one.min(other))
    }

    /// How something lies where it may not; `None` where it may.
    fn across(&self, bounds: Rect, once: bool) -> Option<(Across, Length)> {
        let (over, beyond) = self.beyond(bounds);
        let how = match (once, beyond > -UNSEEN) {
            (true, _) => Across::Once,
            (false, true) => Across::Wholly,
            (false, false) => Across::Partly,
        };
        (over > UNSEEN && (self.alone || !once)).then(|| (how, Length::from_mm(over)))
    }
}

/// Something laid, followed by its mirror image where it has one. What lies across the mirror line is told.
pub fn laid<T: Mirrored>(
    halving: Option<&Halving>,
    entry: Entry<T>,
    resolver: &mut Resolver,
) -> Option<Vec<Laid<T>>> {
    let Entry { kind, what, once, index, place } = entry;
    let lie = |what: T, half: InHalf| Laid { what, entry: index, half };
    let Some(halving) = halving else {
        if once.is_some() {
            resolver.findings.push(Finding::of(PartProblem::OnceAlone {}, place.child("once")));
        }
        return Some(vec![lie(what, InHalf::Both)]);
    };
    if what.is_own_image(halving.about) {
        return Some(vec![lie(what, InHalf::Both)]);
    }
    let once = once == Some(true);
    if let Some((how, across)) = halving.across(what.bounds(), once) {
        let problem =
            PartProblem::AcrossMirror { what: kind, how, line: halving.about, across, once_does: !halving.alone };
        return resolver.refuse(Finding::of(problem, place));
    }
    if once {
        return Some(vec![lie(what, InHalf::Once)]);
    }
    let image = what.mirrored(halving.about);
    Some(vec![lie(what, InHalf::Drawn), lie(image, InHalf::Image)])
}
