//! Recess and plug of an inlay from one template, with a sleeve over the collar for the recess.

use super::collar::{TemplateFault, moved};
use super::shortfall::{Shortfall, shortfalls};
use crate::geometry::{Nearest, Path, Point, nesting};
use crate::tolerance::{CORNER, NOTICEABLE};
use crate::units::Length;

/// What an inlay is cut with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InlayTools {
    /// Outside diameter with the sleeve on, for the recess.
    pub large: Length,
    /// Outside diameter of the bare collar, for the plug.
    pub small: Length,
    /// Diameter of the cutter.
    pub cutter: Length,
}

impl InlayTools {
    /// By how much the plug is smaller all round than the recess, mm: 0 where large less small collar is twice the cutter
    /// (references 7.inlay); below 0 the plug does not go in.
    pub fn gap(&self) -> f64 {
        (self.small - self.large).mm() / 2.0 + self.cutter.mm()
    }
}

/// A corner of the motif and whether the pair of cuts can follow it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InlayCorner {
    /// Where.
    pub at: Point,
    /// Whether it is an inside corner of the motif: one where the ground reaches in.
    pub inside: bool,
    /// How far the recess stops short of it or goes beyond it, mm.
    pub recess_off: f64,
    /// How far the plug stops short of it or goes beyond it, mm.
    pub plug_off: f64,
}

impl InlayCorner {
    /// Whether both cuts keep the corner.
    pub fn survives(&self) -> bool {
        self.recess_off <= NOTICEABLE && self.plug_off <= NOTICEABLE
    }
}

/// Template, recess and plug of an inlay.
#[derive(Debug, Clone, PartialEq)]
pub struct InlayPair {
    /// The opening to cut in the template.
    pub template: Vec<Path>,
    /// The edge of the recess, cut with the sleeve on.
    pub recess: Vec<Path>,
    /// The edge of the plug, cut with the sleeve off.
    pub plug: Vec<Path>,
    /// See [`InlayTools::gap`].
    pub gap: f64,
    /// The least radius of an outside corner that needs no easing, mm: the cutter's own.
    pub least_outside_radius: f64,
    /// The least radius of an inside corner that keeps its shape, mm: half of large collar less cutter.
    pub least_inside_radius: f64,
    /// Every sharp corner of the motif.
    pub corners: Vec<InlayCorner>,
    /// Where the motif itself is lost, in both cuts or in the recess alone.
    pub lost: Vec<Shortfall>,
    /// Where the plug is larger than the recess by more than can be pressed in: outside corners to be eased on the plug, or
    /// cut out with a chisel in the recess.
    pub to_ease: Vec<Shortfall>,
}

/// The template, recess and plug for a motif (closed rings, filled by the even-odd rule).
///
/// The template is the motif set out by half of large collar less cutter. In it the sleeve leads the cutter round the recess,
/// the bare collar round the plug, on whose far side the cutter runs.
///
/// # Errors
/// See [`TemplateFault`].
pub fn inlay_pair(motif: &[Path], tools: InlayTools) -> Result<InlayPair, TemplateFault> {
    let (large, small, cutter) = (tools.large.mm() / 2.0, tools.small.mm() / 2.0, tools.cutter.mm() / 2.0);
    if !(cutter > 0.0 && large.is_finite() && small.is_finite()) {
        return Err(TemplateFault::NoDiameter);
    }
    if small <= cutter || large <= small {
        return Err(TemplateFault::CollarTooSmall);
    }
    let template = moved(motif, large - cutter)?;
    let recess = moved(&moved(&template, -large)?, cutter)?;
    let plug = moved(&template, -(small + cutter))?;
    let gap = tools.gap();
    // An exact fit says what the shape loses; the gap all round is told by itself.
    let nominal = if gap.abs() > NOTICEABLE { moved(&plug, gap)? } else { plug.clone() };
    let corners = corners(motif, &recess, &nominal);
    let lost = shortfalls(motif, &recess, large - cutter);
    let to_ease = shortfalls(&nominal, &recess, cutter);
    Ok(InlayPair {
        template,
        recess,
        plug,
        gap,
        least_outside_radius: cutter,
        least_inside_radius: large - cutter,
        corners,
        lost,
        to_ease,
    })
}

fn corners(motif: &[Path], recess: &[Path], plug: &[Path]) -> Vec<InlayCorner> {
    let (recess, plug) = (Nearest::of(recess), Nearest::of(plug));
    let mut corners = Vec::new();
    for (ring, depth) in motif.iter().zip(nesting(motif)) {
        // The edge of an opening in the motif lies in an odd number of others.
        let is_hole = depth % 2 == 1;
        let pieces = ring.segments();
        let way = ring.signed_area().signum();
        for (before, after) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
            let (arriving, leaving) = (before.tangent(1.0), after.tangent(0.0));
            let turn = arriving.cross(leaving).atan2(arriving.dot(leaving)) * way;
            if turn.abs() > CORNER {
                let at = after.start();
                corners.push(InlayCorner {
                    at,
                    inside: (turn < 0.0) != is_hole,
                    recess_off: recess.distance(at),
                    plug_off: plug.distance(at),
                });
            }
        }
    }
    corners
}

#[cfg(test)]
mod tests {
    use super::{InlayCorner, InlayTools, Length, Path, Point, TemplateFault, inlay_pair};
    use crate::geometry::Rect;

    fn tools(large: f64, small: f64, cutter: f64) -> InlayTools {
        let mm = Length::from_mm;
        InlayTools { large: mm(large), small: mm(small), cutter: mm(cutter) }
    }

    #[test]
    fn pairs_of_the_references_fit() {
        // References 7.inlay: cutter 5 mm with 10 and 20; cutter 1/8 in with 1/2 and 3/4.
        assert_eq!(tools(20.0, 10.0, 5.0).gap(), 0.0);
        assert!(tools(0.75 * 25.4, 0.5 * 25.4, 3.175).gap().abs() < 1e-12);
        let pair = inlay_pair(&[Path::circle(Point::new(5.0, 5.0), 30.0)], tools(20.0, 10.0, 5.0)).expect("round");
        for ring in [&pair.recess[0], &pair.plug[0]] {
            assert!((ring.bounding_box().expect("a ring").width() - 60.0).abs() < 1e-6);
        }
        assert!((pair.template[0].bounding_box().expect("a ring").width() - 75.0).abs() < 1e-6);
        assert!(pair.lost.is_empty() && pair.to_ease.is_empty() && pair.corners.is_empty());
    }

    #[test]
    fn corners_of_an_ell() {
        let ell = [(0.0, 0.0), (80.0, 0.0), (80.0, 40.0), (40.0, 40.0), (40.0, 80.0), (0.0, 80.0)];
        let pair =
            inlay_pair(&[Path::polyline(&ell.map(Point::from), true)], tools(20.0, 10.0, 5.0)).expect("an ell");
        let inside: Vec<&InlayCorner> = pair.corners.iter().filter(|c| c.inside).collect();
        assert_eq!((pair.corners.len(), inside.len()), (6, 1));
        assert_eq!(inside[0].at, Point::new(40.0, 40.0));
        // Both cuts fill the inside corner with the radius of 7.5 mm; outside, the recess is round and the plug sharp.
        let filled = 7.5 * (2.0_f64.sqrt() - 1.0);
        assert!((inside[0].recess_off - filled).abs() < 1e-3 && (inside[0].plug_off - filled).abs() < 1e-3);
        for corner in pair.corners.iter().filter(|c| !c.inside) {
            assert!((corner.recess_off - 2.5 * (2.0_f64.sqrt() - 1.0)).abs() < 1e-3 && corner.plug_off < 1e-3);
            assert!(!corner.survives());
        }
        assert_eq!((pair.lost.len(), pair.to_ease.len()), (6, 5));
    }

    #[test]
    fn a_pair_that_does_not_fit_is_told_by_its_gap() {
        let motif = [Path::rectangle(Rect::new(0.0, 0.0, 60.0, 40.0))];
        let loose = inlay_pair(&motif, tools(19.0, 10.0, 5.0)).expect("a rectangle");
        assert!((loose.gap - 0.5).abs() < 1e-12);
        let width = |rings: &[Path]| rings[0].bounding_box().map_or(0.0, |b| b.width());
        assert!((width(&loose.recess) - width(&loose.plug) - 1.0).abs() < 1e-6);
        assert_eq!(inlay_pair(&motif, tools(9.0, 10.0, 5.0)), Err(TemplateFault::CollarTooSmall));
        let thin = [Path::rectangle(Rect::new(0.0, 0.0, 60.0, 4.0))];
        assert_eq!(inlay_pair(&thin, tools(20.0, 10.0, 5.0)), Err(TemplateFault::TooNarrow));
    }

    #[test]
    fn openings_of_the_motif_turn_corners_round() {
        let hole = Path::rectangle(Rect::new(30.0, 30.0, 70.0, 70.0));
        let pair = inlay_pair(&[Path::circle(Point::new(50.0, 50.0), 60.0), hole], tools(20.0, 10.0, 5.0));
        assert!(pair.expect("a ring").corners.iter().all(|corner| corner.inside));
    }
}
