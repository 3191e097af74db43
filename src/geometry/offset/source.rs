//! The rings to set off from, made ready for many questions about distance.

use super::OffsetFault;
use super::thin::thinned;
use crate::geometry::nesting::depths;
use crate::geometry::{Arc, Nearest, NearestWalk, Path, Segment};
use crate::tolerance::{BELOW_CUTTING, ROUNDED_SHARE, ROUNDING};
use kurbo::{CubicBez, Point};
use std::f64::consts::PI;

/// Coordinates beyond this, mm, are refused: rounding there comes near to the crossings' tolerance.
pub(super) const FARTHEST: f64 = 1e6;

/// Rings as lines, circular arcs of half a turn at most, and cubics, the region on their left.
pub(super) struct Source {
    /// Thinned.
    pub(super) rings: Vec<Vec<Segment>>,
    edges: Nearest,
    /// As they were given, where they were thinned.
    given: Option<Nearest>,
}

/// Rings in simple pieces, each turned so that the region that the even-odd rule fills lies on its left.
pub(super) fn simple(rings: &[Path]) -> Result<Vec<Vec<Segment>>, OffsetFault> {
    let mut simple = Vec::new();
    for (ring, path) in rings.iter().enumerate() {
        if !path.segments().iter().all(|s| s.is_within(FARTHEST)) {
            return Err(OffsetFault::NotANumber { ring });
        }
        if !path.is_closed() {
            return Err(OffsetFault::Open { ring });
        }
        simple.push(path.segments().iter().flat_map(simplified).collect::<Vec<_>>());
    }
    simple.retain(|ring| !ring.is_empty());
    turn_by_nesting(&mut simple);
    Ok(simple)
}

impl Source {
    /// Simple rings made ready, thinned or as they are given; `None` where thinning leaves them as they are given.
    pub(super) fn of(simple: &[Vec<Segment>], thin: bool) -> Option<Source> {
        let of = |rings: &[Vec<Segment>]| Nearest::of_rings(rings.iter().map(Vec::as_slice));
        if !thin {
            return Some(Source { edges: of(simple), rings: simple.to_vec(), given: None });
        }
        let rings: Vec<Vec<Segment>> = simple.iter().map(|ring| thinned(ring)).collect();
        (rings != simple).then(|| Source { edges: of(&rings), rings, given: Some(of(simple)) })
    }

    /// The rings as they were given, to be asked of points that follow each other.
    pub(super) fn given(&self) -> NearestWalk<'_> {
        self.given.as_ref().unwrap_or(&self.edges).walk()
    }

    /// The thinned rings, to be asked of points that follow each other.
    pub(super) fn edges(&self) -> NearestWalk<'_> {
        self.edges.walk()
    }
}

/// A piece as the simple ones that stand for it; none for a piece of no size.
fn simplified(segment: &Segment) -> Vec<Segment> {
    let pieces = match segment {
        Segment::Line(_) => vec![*segment],
        Segment::Arc(arc) if arc.radius(ROUNDING).is_some() => halved(arc),
        Segment::Arc(arc) => arc.to_cubics(BELOW_CUTTING).into_iter().map(Segment::Cubic).collect(),
        Segment::Cubic(cubic) if is_straight(cubic) => vec![Segment::line(cubic.p0, cubic.p3)],
        Segment::Cubic(_) => vec![*segment],
    };
    let sized = |s: &Segment| s.bounding_box().width().max(s.bounding_box().height()) > ROUNDING;
    pieces.into_iter().filter(sized).collect()
}

/// A circular arc in parts of half a turn at most, turning from its x axis anticlockwise or clockwise by its sweep alone.
fn halved(arc: &Arc) -> Vec<Segment> {
    let radius = arc.p.hypot();
    let start = (arc.at_angle(arc.start) - arc.center).atan2();
    let sweep = if arc.p.cross(arc.q) < 0.0 { -arc.sweep } else { arc.sweep };
    let parts = (sweep.abs() / PI - ROUNDED_SHARE).ceil().clamp(1.0, 8.0);
    let step = sweep / parts;
    (0..parts as usize)
        .map(|i| Segment::Arc(Arc::circular(arc.center, radius, start + step * i as f64, step)))
        .collect()
}

/// Whether a cubic never leaves its chord.
fn is_straight(c: &CubicBez) -> bool {
    let chord = c.p3 - c.p0;
    let off = |p: Point| chord.cross(p - c.p0).abs() / chord.hypot();
    off(c.p1).max(off(c.p2)) <= ROUNDING
}

/// Turns each ring so that the filled side lies on its left: outlines anticlockwise, holes clockwise, islands in holes
/// anticlockwise again.
pub(super) fn turn_by_nesting(rings: &mut [Vec<Segment>]) {
    let depths = depths(rings);
    for (ring, depth) in rings.iter_mut().zip(depths) {
        if (signed_area(ring) > 0.0) != depth.is_multiple_of(2) {
            *ring = ring.iter().rev().map(Segment::reversed).collect();
        }
    }
}

/// Enclosed area, mm²: positive for a ring that runs anticlockwise.
pub(super) fn signed_area(ring: &[Segment]) -> f64 {
    let Some(origin) = ring.first().map(Segment::start) else { return 0.0 };
    ring.iter().map(|s| s.swept_area(origin)).sum()
}
