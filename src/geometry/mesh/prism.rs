//! A polygon swept square to its plane, cut by planes.

use super::Mesh;
use super::facet::triangles;
use crate::geometry::{Plane, Point, Point3, Vec3};
use crate::tolerance::ON_PLANE;
use std::collections::BTreeMap;

/// A flat face: corners anticlockwise as seen from outside.
#[derive(Debug, Clone)]
struct Face {
    normal: Vec3,
    corners: Vec<usize>,
}

/// A solid with flat faces.
#[derive(Debug, Clone)]
pub struct Prism {
    vertices: Vec<Point3>,
    faces: Vec<Face>,
}

impl Prism {
    /// The solid between a polygon in the plane z = 0, anticlockwise as seen from above, and its like at z = -`thickness`.
    pub fn new(polygon: &[Point], thickness: f64) -> Prism {
        let count = polygon.len();
        let at = |z: f64| polygon.iter().map(move |p| Point3::new(p.x, p.y, z));
        let vertices = at(0.0).chain(at(-thickness)).collect();
        let mut faces = vec![
            Face { normal: Vec3::Z, corners: (0..count).collect() },
            Face { normal: -Vec3::Z, corners: (count..2 * count).rev().collect() },
        ];
        for i in 0..count {
            let next = (i + 1) % count;
            let along = polygon[next] - polygon[i];
            let normal = Vec3::new(along.y, -along.x, 0.0);
            faces.push(Face { normal, corners: vec![i, count + i, count + next, next] });
        }
        Prism { vertices, faces }
    }

    /// Takes away what lies outside a plane.
    pub fn cut(&mut self, plane: &Plane) {
        let out: Vec<f64> = self.vertices.iter().map(|p| plane.distance(*p)).collect();
        let mut made = BTreeMap::new();
        let mut kept = Vec::new();
        for face in std::mem::take(&mut self.faces) {
            let outside = face.corners.iter().filter(|i| out[**i] > ON_PLANE).count();
            if outside == 0 {
                kept.push(face);
            } else if outside < face.corners.len() {
                self.cut_face(&face, &out, plane, &mut made, &mut kept);
            }
        }
        self.faces = kept;
        self.close(plane.normal());
    }

    /// The parts of a face inside a plane: its runs of corners there, joined along the cut as they lie on it.
    fn cut_face(
        &mut self,
        face: &Face,
        out: &[f64],
        plane: &Plane,
        made: &mut BTreeMap<(usize, usize), usize>,
        kept: &mut Vec<Face>,
    ) {
        let count = face.corners.len();
        let inside = |k: usize| out[face.corners[k % count]] <= ON_PLANE;
        let Some(first) = (0..count).find(|k| inside(*k) && !inside(k + count - 1)) else { return };
        let mut runs: Vec<Vec<usize>> = Vec::new();
        for k in first..first + count {
            let (here, before) = (face.corners[k % count], face.corners[(k + count - 1) % count]);
            match (inside(k), inside(k + count - 1)) {
                (true, false) => runs.push(vec![self.crossing(before, here, out, made), here]),
                (true, true) => runs.extend_from_last(here),
                (false, true) => {
                    let end = self.crossing(before, here, out, made);
                    runs.extend_from_last(end);
                }
                (false, false) => {}
            }
        }
        for run in &mut runs {
            run.dedup();
        }
        let along = face.normal.cross(plane.normal());
        kept.extend(self.joined(runs, along).into_iter().map(|corners| Face { normal: face.normal, corners }));
    }

    /// The corner that the plane makes on an edge; the edge's own inner corner where that lies on the plane.
    fn crossing(&mut self, a: usize, b: usize, out: &[f64], made: &mut BTreeMap<(usize, usize), usize>) -> usize {
        let inner = if out[a] <= ON_PLANE { a } else { b };
        if out[inner] > -ON_PLANE {
            return inner;
        }
        let (low, high) = (a.min(b), a.max(b));
        *made.entry((low, high)).or_insert_with(|| {
            let share = out[low] / (out[low] - out[high]);
            self.vertices.push(self.vertices[low] + (self.vertices[high] - self.vertices[low]) * share);
            self.vertices.len() - 1
        })
    }

    /// Rings of runs: the end of each goes on with the run whose start lies next to it along the cut.
    fn joined(&self, runs: Vec<Vec<usize>>, along: Vec3) -> Vec<Vec<usize>> {
        if runs.len() == 1 {
            return runs.into_iter().map(closed).filter(|ring| ring.len() > 2).collect();
        }
        let place = |i: usize| self.vertices[i].to_vec().dot(along);
        let mut ends: Vec<(f64, usize, bool)> = Vec::new();
        for (k, run) in runs.iter().enumerate() {
            let both = [(run.first(), true), (run.last(), false)];
            ends.extend(both.into_iter().filter_map(|(i, is_start)| i.map(|i| (place(*i), k, is_start))));
        }
        ends.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut next = vec![None; runs.len()];
        for pair in ends.chunks_exact(2) {
            match (pair[0], pair[1]) {
                ((_, from, false), (_, to, true)) | ((_, to, true), (_, from, false)) => next[from] = Some(to),
                _ => {}
            }
        }
        let mut used = vec![false; runs.len()];
        let mut rings = Vec::new();
        for start in 0..runs.len() {
            let mut ring = Vec::new();
            let mut at = Some(start);
            while let Some(k) = at.filter(|k| !used[*k]) {
                used[k] = true;
                ring.extend_from_slice(&runs[k]);
                at = next[k];
            }
            rings.push(closed(ring));
        }
        rings.retain(|ring| ring.len() > 2);
        rings
    }

    /// Closes what a cut has opened: edges that run one way only are run the other way by the new face.
    fn close(&mut self, normal: Vec3) {
        let mut open: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        let edges = |face: &Face| {
            let next = face.corners.iter().copied().cycle().skip(1);
            face.corners.iter().copied().zip(next).collect::<Vec<(usize, usize)>>()
        };
        let all: BTreeMap<(usize, usize), ()> = self.faces.iter().flat_map(edges).map(|e| (e, ())).collect();
        for (a, b) in all.keys().filter(|(a, b)| !all.contains_key(&(*b, *a))) {
            open.entry(*b).or_default().push(*a);
        }
        while let Some(start) = open.iter().find(|(_, to)| !to.is_empty()).map(|(from, _)| *from) {
            let mut corners = Vec::new();
            let mut at = start;
            while let Some(to) = open.get_mut(&at).and_then(Vec::pop) {
                corners.push(at);
                at = to;
                if at == start {
                    break;
                }
            }
            if corners.len() > 2 {
                self.faces.push(Face { normal, corners });
            }
        }
    }

    /// Keeps only the connected part that has a corner nearest to a point.
    pub fn keep_nearest(&mut self, point: Point3) {
        let mut part: Vec<usize> = (0..self.vertices.len()).collect();
        fn root(part: &mut [usize], mut i: usize) -> usize {
            while part[i] != i {
                part[i] = part[part[i]];
                i = part[i];
            }
            i
        }
        for face in &self.faces {
            for pair in face.corners.windows(2) {
                let (a, b) = (root(&mut part, pair[0]), root(&mut part, pair[1]));
                part[a] = b;
            }
        }
        let used = self.faces.iter().flat_map(|f| f.corners.iter().copied());
        let away = |i: usize| self.vertices[i].distance(point);
        let Some(nearest) = used.min_by(|a, b| away(*a).total_cmp(&away(*b))) else { return };
        let kept = root(&mut part, nearest);
        self.faces.retain(|f| f.corners.first().is_some_and(|i| root(&mut part, *i) == kept));
    }

    /// The surface as triangles.
    pub fn mesh(&self) -> Mesh {
        let mut index: BTreeMap<usize, u32> = BTreeMap::new();
        let mut mesh = Mesh { vertices: Vec::new(), triangles: Vec::new() };
        for face in &self.faces {
            let Some(normal) = face.normal.unit() else { continue };
            let side = if normal.x.abs() < 0.6 { Vec3::X } else { Vec3::Y };
            let Some(x) = side.cross(normal).unit() else { continue };
            let y = normal.cross(x);
            let flat = |i: &usize| {
                let p = self.vertices[*i].to_vec();
                Point::new(p.dot(x), p.dot(y))
            };
            let corners: Vec<Point> = face.corners.iter().map(flat).collect();
            for triangle in triangles(&corners) {
                let corner = triangle.map(|k| {
                    let vertex = face.corners[k];
                    *index.entry(vertex).or_insert_with(|| {
                        mesh.vertices.push(self.vertices[vertex]);
                        (mesh.vertices.len() - 1) as u32
                    })
                });
                mesh.triangles.push(corner);
            }
        }
        mesh
    }
}

/// A ring without a corner that repeats the one before it.
fn closed(mut ring: Vec<usize>) -> Vec<usize> {
    ring.dedup();
    if ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    ring
}

/// Adding a corner to the run that is being made.
trait Runs {
    fn extend_from_last(&mut self, corner: usize);
}

impl Runs for Vec<Vec<usize>> {
    fn extend_from_last(&mut self, corner: usize) {
        if let Some(run) = self.last_mut() {
            run.push(corner);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Prism;
    use crate::geometry::{Plane, Point, Point3, Vec3};

    fn square() -> Prism {
        Prism::new(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)].map(Point::from), 4.0)
    }

    #[test]
    fn a_corner_cut_off_a_block_leaves_its_volume() {
        let mut block = square();
        assert!((block.mesh().volume() - 400.0).abs() < 1e-9);
        // The tetrahedron between the corner (10, 10, 0) and points 3 away along each edge has a volume of 27 / 6.
        block.cut(&Plane::through(Point3::new(7.0, 10.0, 0.0), Vec3::new(1.0, 1.0, 1.0)).unwrap());
        assert!((block.mesh().volume() - (400.0 - 4.5)).abs() < 1e-9);
    }

    #[test]
    fn a_cut_through_corners_and_one_beside_the_block_leave_it_closed() {
        let mut block = square();
        block.cut(&Plane::through(Point3::new(10.0, 0.0, 0.0), Vec3::new(1.0, 1.0, 0.0)).unwrap());
        assert!((block.mesh().volume() - 200.0).abs() < 1e-9);
        block.cut(&Plane::level(1.0));
        block.cut(&Plane::level(0.0));
        assert!((block.mesh().volume() - 200.0).abs() < 1e-9);
    }

    #[test]
    fn a_hollow_block_falls_into_two_and_one_is_kept() {
        let u = [(0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (6.0, 6.0), (6.0, 2.0), (3.0, 2.0), (3.0, 6.0), (0.0, 6.0)];
        let mut block = Prism::new(&u.map(Point::from), 1.0);
        block.cut(&Plane::through(Point3::new(0.0, 3.0, 0.0), -Vec3::Y).unwrap());
        assert!((block.mesh().volume() - 18.0).abs() < 1e-9);
        block.keep_nearest(Point3::new(9.0, 6.0, 0.0));
        assert!((block.mesh().volume() - 9.0).abs() < 1e-9);
    }
}
