//! A board with its cuts made: true faces, ends, blank, volume and centre of gravity.

use super::{Arris, Board, EndFace, Ring, Source};
use crate::geometry::{Nearest, Point, Point3, Rect};
use crate::solid::Moments;

/// A board with its cuts made.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// The rim of the face side, in (u, v).
    pub face: Ring,
    /// The rim of the far side, in (u, v).
    pub far: Ring,
    /// The surface that each cut leaves, by the cut's index; without rings where the cut removes nothing.
    pub ends: Vec<EndFace>,
    /// The lengths of every edge and cut on both faces.
    pub arrises: Vec<Arris>,
    /// The smallest squared blank: sides along u and v, around all of it.
    pub blank: Rect,
    /// Volume, mm³.
    pub volume: f64,
    /// Centre of gravity, board axes.
    pub centroid: Point3,
}

/// The cuts leave nothing of the board.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Vanished;

impl Board {
    /// Makes the cuts.
    ///
    /// # Errors
    /// [`Vanished`] where they leave nothing of the face side or of the far side.
    pub fn solid(&self) -> Result<Solid, Vanished> {
        let edges = Nearest::of_rings(self.edges.iter().map(|edge| edge.segments.as_slice()));
        let face = self.ring_at(0.0, &edges).ok_or(Vanished)?;
        let far = self.ring_at(-self.thickness, &edges).ok_or(Vanished)?;
        let ends = (0..self.cuts.len()).map(|i| self.end_face(i, [&face, &far], &edges));
        let ends: Option<Vec<EndFace>> = ends.collect();
        let ends = ends.ok_or(Vanished)?;
        let arrises = self.arrises(&face, &far);
        let boxes = [&face, &far].map(|r| r.path().bounding_box());
        let faces = boxes.into_iter().flatten().reduce(|a, b| a.union(b)).ok_or(Vanished)?;
        // Where a thickness tapers, an end may reach farther between the faces than on either.
        let corners = ends.iter().flat_map(EndFace::corners);
        let blank = corners.fold(faces, |blank, (p, _, _)| blank.union_pt(Point::new(p.x, p.y)));
        let (volume, centroid) = self.measure(&far, &ends);
        let sound = volume.is_finite() && volume > 0.0;
        if !sound { Err(Vanished) } else { Ok(Solid { face, far, ends, arrises, blank, volume, centroid }) }
    }

    /// Volume and centre of gravity, by the divergence of (0, 0, w), (0, 0, u w), (0, 0, v w) and (0, 0, w²/2):
    /// the face side and the swept edges give nothing, so the far side and the cuts give all.
    fn measure(&self, far: &Ring, ends: &[EndFace]) -> (f64, Point3) {
        let t = self.thickness;
        let area = far.path().signed_area();
        let middle = far.path().centroid().unwrap_or_default();
        let mut volume = t * area;
        let mut moment = Point3::new(middle.x, middle.y, -t / 2.0).to_vec() * volume;
        for (cut, end) in self.cuts.iter().zip(ends) {
            let n = cut.plane.normal().z;
            for ring in &end.rings {
                let m = Moments::of(ring.path());
                let (o, a, b) =
                    (end.lift(Point::ORIGIN), end.lift(Point::new(1.0, 0.0)), end.lift(Point::new(0.0, 1.0)));
                let (along, away) = (a - o, b - o);
                // w = deep y on the cut; u = o + along x + away y, and v alike.
                let deep = away.z;
                volume += n * deep * m.b;
                let mixed = |o: f64, along: f64, away: f64| n * deep * (o * m.b + along * m.ab + away * m.bb);
                moment.x += mixed(o.x, along.x, away.x);
                moment.y += mixed(o.y, along.y, away.y);
                moment.z += n * deep * deep * m.bb / 2.0;
            }
        }
        (volume, Point3::ORIGIN + moment * (1.0 / volume))
    }
}

impl Solid {
    /// The two faces as one list.
    pub fn faces(&self) -> [(Source, &Ring); 2] {
        [(Source::Face, &self.face), (Source::Far, &self.far)]
    }

    /// The lengths of one edge or cut on both faces.
    pub fn arris(&self, source: Source) -> Option<&Arris> {
        self.arrises.iter().find(|a| a.source == source)
    }
}
