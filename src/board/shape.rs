//! The rims of a board's flat surfaces, and where each of their pieces comes from.

use super::Board;
use crate::geometry::{Nearest, Path, Plane, Point, Point3, Segment, Vec2, clip_half_plane};
use crate::tolerance::{NO_LEAN, ON_SURFACE, PARALLEL};
use std::collections::HashMap;

/// Which surface of the board a piece of a rim belongs to besides the one it bounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Source {
    /// The face side.
    Face,
    /// The far side.
    Far,
    /// The edge of the outline with this index.
    Edge(usize),
    /// The cut with this index.
    Cut(usize),
}

/// A closed rim that runs anticlockwise as seen from outside the surface's plane axes, with the source of each piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    path: Path,
    sources: Vec<Source>,
}

/// The length of one edge of the board on both faces.
#[derive(Debug, Clone, PartialEq)]
pub struct Arris {
    /// Which edge or cut.
    pub source: Source,
    /// Length along it on the face side, mm; 0 where it does not reach that side.
    pub face: f64,
    /// Length along it on the far side, mm.
    pub far: f64,
    /// Straight from end to end on the face side and on the far side, mm, where the edge is curved.
    pub chord: Option<(f64, f64)>,
}

impl Ring {
    /// The rim of a path, each piece told by `source`.
    pub(super) fn new(path: &Path, source: impl Fn(&Segment) -> Source) -> Ring {
        let pieces: Vec<Segment> = path.segments().iter().copied().filter(|s| s.length() > ON_SURFACE).collect();
        let sources = pieces.iter().map(source).collect();
        Ring { path: Path::closed(pieces), sources }
    }

    /// The rim as a path.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Its pieces with their sources, in order.
    pub fn pieces(&self) -> impl DoubleEndedIterator<Item = (&Segment, Source)> + Clone {
        self.path.segments().iter().zip(self.sources.iter().copied())
    }

    /// The pieces of one source.
    pub fn part(&self, source: Source) -> impl Iterator<Item = &Segment> {
        self.pieces().filter(move |(_, s)| *s == source).map(|(piece, _)| piece)
    }

    /// The corners: each point at which the source changes, with the source before and after.
    pub fn corners(&self) -> Vec<(Point, Source, Source)> {
        let before = self.pieces().map(|(_, s)| s).cycle().skip(self.sources.len().saturating_sub(1));
        let turned = self.pieces().zip(before).filter(|((_, after), before)| after != before);
        turned.map(|((piece, after), before)| (piece.start(), before, after)).collect()
    }

    /// Length of the pieces of one source, mm.
    pub fn length_of(&self, source: Source) -> f64 {
        self.part(source).map(Segment::length).sum()
    }

    /// From the first point of a source's pieces to their last, mm.
    fn chord_of(&self, source: Source) -> f64 {
        // A run may begin in the middle of the list: begin after a piece of another source.
        let all: Vec<(&Segment, Source)> = self.pieces().collect();
        let first = (0..all.len()).find(|i| all[*i].1 == source && all[(i + all.len() - 1) % all.len()].1 != source);
        let Some(first) = first else { return 0.0 };
        let run: Vec<&Segment> =
            all.iter().cycle().skip(first).take(all.len()).take_while(|p| p.1 == source).map(|p| p.0).collect();
        match (run.first(), run.last()) {
            (Some(a), Some(b)) => a.start().distance(b.end()),
            _ => 0.0,
        }
    }
}

/// The line in which a plane meets the level `w`, as a point and the direction out of the wood; `None` where it is parallel.
fn trace(plane: &Plane, w: f64) -> Option<(Point, Vec2)> {
    let n = plane.normal();
    let flat = Vec2::new(n.x, n.y);
    let square = flat.hypot2();
    (square > PARALLEL * PARALLEL).then(|| ((flat * ((plane.offset() - n.z * w) / square)).to_point(), flat))
}

impl Board {
    /// The rim of the board at the level `w` of its thickness: the outline cut by every plane's line there.
    /// `None` where nothing is left; `edges` are the board's.
    pub(super) fn ring_at(&self, w: f64, edges: &Nearest) -> Option<Ring> {
        let mut rings = vec![self.outline()];
        for cut in &self.cuts {
            match trace(&cut.plane, w) {
                Some((point, out)) => rings = clip_half_plane(&rings, point, -out),
                None if cut.plane.distance(Point3::new(0.0, 0.0, w)) > 0.0 => return None,
                None => {}
            }
        }
        let ring = match rings.len() {
            0 | 1 => rings.pop()?,
            _ => self.nearest_ring(rings, self.keep_point())?,
        };
        Some(Ring::new(&ring, |piece| self.source_of(piece, edges, |p| Point3::new(p.x, p.y, w), false)))
    }

    /// The outline; where the cuts would leave several parts of it, the one that the board keeps.
    pub fn kept_outline(&self) -> Path {
        let outline = self.outline();
        let mut rings = vec![outline.clone()];
        for cut in &self.cuts {
            // Somewhere through the thickness there is wood up to here.
            let n = cut.plane.normal();
            let flat = Vec2::new(n.x, n.y);
            if flat.hypot() > NO_LEAN {
                let farthest = cut.plane.offset() + (n.z * self.thickness).max(0.0);
                rings = clip_half_plane(&rings, (flat * (farthest / flat.hypot2())).to_point(), -flat);
            }
        }
        if rings.len() < 2 {
            return outline;
        }
        self.nearest_ring(rings, self.keep_point()).unwrap_or(outline)
    }

    /// The point, in the face's plane, that tells the part to keep.
    fn keep_point(&self) -> Point {
        match self.keep {
            Some(p) => Point::new(p.x, p.y),
            None => self.outline().centroid().unwrap_or_default(),
        }
    }

    /// The ring that holds a point, or else comes nearest to it.
    fn nearest_ring(&self, rings: Vec<Path>, keep: Point) -> Option<Path> {
        let distance =
            |ring: &Path| if ring.encloses(keep) { 0.0 } else { ring.nearest(keep).map_or(f64::MAX, |n| n.0) };
        rings.into_iter().min_by(|a, b| distance(a).total_cmp(&distance(b)))
    }

    /// Where a piece of a rim comes from, of the board's edges the nearest; `lift` takes the rim's plane to board axes.
    pub(super) fn source_of(
        &self,
        piece: &Segment,
        edges: &Nearest,
        lift: impl Fn(Point) -> Point3,
        on_end: bool,
    ) -> Source {
        let ends = [lift(piece.start()), lift(piece.end())];
        let middle = lift(piece.eval(0.5));
        let at_level = |w: f64| [ends[0], ends[1], middle].iter().all(|p| (p.z - w).abs() < ON_SURFACE);
        if on_end && at_level(0.0) {
            return Source::Face;
        }
        if on_end && at_level(-self.thickness) {
            return Source::Far;
        }
        if matches!(piece, Segment::Line(_)) {
            let on = |plane: &Plane| ends.iter().all(|p| plane.distance(*p).abs() < ON_SURFACE);
            let other = |plane: &Plane| !on_end || !self.holds_plane(plane, &lift);
            if let Some(i) = self.cuts.iter().position(|c| on(&c.plane) && other(&c.plane)) {
                return Source::Cut(i);
            }
        }
        Source::Edge(edges.to(Point::new(middle.x, middle.y)).map_or(0, |near| near.path))
    }

    /// Whether a plane is the one that `lift` maps to.
    fn holds_plane(&self, plane: &Plane, lift: &impl Fn(Point) -> Point3) -> bool {
        let probes = [Point::ORIGIN, Point::new(1.0, 0.0), Point::new(0.0, 1.0)];
        probes.iter().all(|p| plane.distance(lift(*p)).abs() < ON_SURFACE)
    }

    /// The lengths of every edge and cut on both faces, in the order in which the face's rim passes them.
    pub(super) fn arrises(&self, face: &Ring, far: &Ring) -> Vec<Arris> {
        let mut sources: Vec<Source> = Vec::new();
        let mut places: HashMap<Source, usize> = HashMap::new();
        // The pieces of each source on the face and on the far side.
        let mut pieces: Vec<[Vec<&Segment>; 2]> = Vec::new();
        for (side, ring) in [face, far].into_iter().enumerate() {
            for (piece, source) in ring.pieces() {
                let place = *places.entry(source).or_insert(sources.len());
                if place == sources.len() {
                    sources.push(source);
                    pieces.push([Vec::new(), Vec::new()]);
                }
                pieces[place][side].push(piece);
            }
        }
        let arris = |(source, pieces): (Source, [Vec<&Segment>; 2])| {
            let curved = pieces.iter().flatten().any(|piece| !matches!(piece, Segment::Line(_)));
            let [on_face, on_far] = pieces.map(|pieces| pieces.into_iter().map(Segment::length).sum());
            let chord = curved.then(|| (face.chord_of(source), far.chord_of(source)));
            Arris { source, face: on_face, far: on_far, chord }
        };
        sources.into_iter().zip(pieces).map(arris).collect()
    }
}
