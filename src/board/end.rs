//! The flat surface that a cut leaves: exact, because it is an affine image of a part of the outline.

use super::{Board, Ring, Source};
use crate::geometry::{
    Affine, FromInside, Nearest, Path, Plane, Point, Point3, SurfaceFrame, Vec2, Vec3, clip_half_plane,
};
use crate::tolerance::{NO_DIRECTION, NO_LEAN, SAME_POINT};

/// The surface that a cut leaves, in its own plane axes as seen from within: x along the cut's line on the face side, y away
/// from the face.
#[derive(Debug, Clone, PartialEq)]
pub struct EndFace {
    /// The rims: one, or several where the cut passes through several arms of the board.
    pub rings: Vec<Ring>,
    frame: SurfaceFrame<FromInside>,
}

impl EndFace {
    /// A point of the plane axes, in board axes.
    pub fn lift(&self, p: Point) -> Point3 {
        self.frame.lift(p)
    }

    /// A board point, in the plane axes.
    pub fn drop(&self, p: Point3) -> Point {
        self.frame.drop(p)
    }

    /// Its axes.
    pub fn frame(&self) -> &SurfaceFrame<FromInside> {
        &self.frame
    }

    /// Area, mm².
    pub fn area(&self) -> f64 {
        self.rings.iter().map(|r| r.path().signed_area()).sum()
    }

    /// Its corners in board axes with the sources of the two pieces that meet there.
    pub fn corners(&self) -> Vec<(Point3, Source, Source)> {
        let all = self.rings.iter().flat_map(Ring::corners);
        all.map(|(p, before, after)| (self.lift(p), before, after)).collect()
    }

    /// The plane's axes without a surface yet; `None` where the plane is parallel to the face.
    fn axes(plane: &Plane) -> Option<EndFace> {
        let n = plane.normal();
        let along = Vec3::new(-n.y, n.x, 0.0).unit()?;
        let flat = n.x.hypot(n.y);
        let origin = Point3::new(n.x, n.y, 0.0).to_vec() * (plane.offset() / (flat * flat));
        Some(EndFace { rings: Vec::new(), frame: SurfaceFrame::inward(Point3::ORIGIN + origin, n, along) })
    }
}

impl Board {
    /// The surface left by the cut with this index, of the part whose faces are given; `edges` are the board's.
    pub(super) fn end_face(&self, index: usize, [face, far]: [&Ring; 2], edges: &Nearest) -> Option<EndFace> {
        let plane = &self.cuts.get(index)?.plane;
        let mut end = EndFace::axes(plane)?;
        let mut paths =
            if plane.normal().z.abs() > NO_LEAN { self.bevelled(plane, &end) } else { self.square(plane, &end) };
        for other in self.cuts.iter().enumerate().filter(|(i, _)| *i != index).map(|(_, c)| &c.plane) {
            // The other plane's trace in these axes: n . (origin + x along + y away) = offset.
            let out = Vec2::new(other.normal().dot(end.frame.x()), other.normal().dot(end.frame.y()));
            let beyond = other.distance(end.frame.origin());
            if out.hypot() <= NO_DIRECTION {
                if beyond > 0.0 {
                    paths.clear();
                }
                continue;
            }
            paths = clip_half_plane(&paths, (out * (-beyond / out.hypot2())).to_point(), -out);
        }
        let ring = |path: &Path| Ring::new(path, |piece| self.source_of(piece, edges, |p| end.lift(p), true));
        let kept = |ring: &Ring| {
            let near =
                |of: &Ring, p: Point3| of.path().nearest(Point::new(p.x, p.y)).is_some_and(|n| n.0 < SAME_POINT);
            ring.corners().iter().any(|(p, before, after)| {
                let p3 = end.lift(*p);
                let on = |s: Source| *before == s || *after == s;
                (on(Source::Face) && near(face, p3)) || (on(Source::Far) && near(far, p3))
            })
        };
        let rings: Vec<Ring> = paths.iter().map(ring).collect();
        let touching: Vec<Ring> = rings.iter().filter(|r| kept(r)).cloned().collect();
        // A taper's surface may end short of both faces; then there is nothing to choose by.
        end.rings = if touching.is_empty() { rings } else { touching };
        Some(end)
    }

    /// The part of a bevelled plane inside the swept outline: the outline between the plane's lines on the two faces,
    /// taken to the plane's axes by an affine map.
    fn bevelled(&self, plane: &Plane, end: &EndFace) -> Vec<Path> {
        let n = plane.normal();
        let flat = Vec2::new(n.x, n.y);
        let line = |w: f64| (flat * ((plane.offset() - n.z * w) / flat.hypot2())).to_point();
        // Towards the far side the line wanders along the normal where n.z is positive.
        let inwards = flat * n.z.signum();
        let mut paths = clip_half_plane(&[self.outline()], line(0.0), inwards);
        paths = clip_half_plane(&paths, line(-self.thickness), -inwards);
        // x = (p - origin) . along; y = depth over the share of depth in one step away from the face.
        let o = Point::new(end.frame.origin().x, end.frame.origin().y);
        let along = Vec2::new(end.frame.x().x, end.frame.x().y);
        let deep = flat / (n.z * flat.hypot());
        let map = Affine::new([along.x, deep.x, along.y, deep.y, -along.dot(o.to_vec2()), -deep.dot(o.to_vec2())]);
        let turned = map.determinant() < 0.0;
        let image = |p: &Path| if turned { p.transformed(map).reversed() } else { p.transformed(map) };
        paths.iter().map(image).collect()
    }

    /// The part of a square plane inside the swept outline: a rectangle over each stretch of its line in the outline.
    fn square(&self, plane: &Plane, end: &EndFace) -> Vec<Path> {
        let n = plane.normal();
        let flat = Vec2::new(n.x, n.y);
        let o = Point::new(end.frame.origin().x, end.frame.origin().y);
        let along = Vec2::new(end.frame.x().x, end.frame.x().y);
        let depth = self.thickness / -end.frame.y().z;
        let mut stretches = Vec::new();
        for ring in clip_half_plane(&[self.outline()], o, -flat) {
            for piece in ring.segments() {
                let (a, b) = (piece.start() - o, piece.end() - o);
                // Clipping puts the ends of the closing line on it to about 1e-12.
                if a.dot(flat).abs() < SAME_POINT && b.dot(flat).abs() < SAME_POINT {
                    let (from, to) = (a.dot(along).min(b.dot(along)), a.dot(along).max(b.dot(along)));
                    stretches.push(Path::rectangle(crate::geometry::Rect::new(from, 0.0, to, depth)));
                }
            }
        }
        stretches
    }
}
