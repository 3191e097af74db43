//! A solid as a closed surface of triangles: the features as solids with flat faces, joined and cut by `manifold-rust`.
//!
//! All is done in the solid's own axes, where coordinates that are equal stay equal, and what is taken away reaches a little beyond
//! the surface in which it has its mouth: else skins without thickness are left over mouths.

use super::{Body, Does, End, Prism, Shape, Turned};
use crate::geometry::{Mesh, Path, Placement, Point, Point3, Segment, Vec3, polygon};
use crate::tolerance::{FLUSH, MESHED};
use manifold_rust::manifold::Manifold;
use manifold_rust::types::{Error, MeshGL64, OpType};

/// How far a shape reaches beyond a surface on which it ends, mm: more than rounding and less than any wall of wood.
const OVER: f64 = 1.0;

/// A step between two corners of a turned round: no more than this share of a turn, however thin it is.
const LEAST_STEPS: f64 = 24.0;

/// What is made so far.
enum Made {
    Nothing,
    /// A blank cut by planes only: its corners are shared as they are.
    Convex(Box<crate::geometry::Prism>),
    Joined(Box<Manifold>),
}

impl Body {
    /// The surface of the solid, curves followed to `tolerance` mm, in triangles that share their corners. `keep` is a point of the
    /// part that is kept where the first cuts leave several. `None` where a feature leaves no closed surface.
    pub fn mesh(&self, tolerance: f64, keep: Point3) -> Option<Mesh> {
        let reach = self.reach();
        let mut made = Made::Nothing;
        for feature in &self.features {
            made = match (made, &feature.does) {
                (Made::Nothing, Does::Add(Shape::Prism(blank))) if is_level(blank) => {
                    Made::Convex(Box::new(blank.solid(tolerance, reach, 0.0)?.0))
                }
                (Made::Nothing, Does::Add(shape)) => {
                    Made::Joined(Box::new(manifold(&shape.mesh(tolerance, reach, 0.0)?)?))
                }
                (Made::Nothing, _) => Made::Nothing,
                (Made::Convex(mut solid), Does::Beyond(plane)) => {
                    solid.cut(plane);
                    Made::Convex(solid)
                }
                (Made::Joined(solid), Does::Beyond(plane)) => {
                    let n = plane.normal();
                    let inwards = manifold_rust::linalg::Vec3::new(-n.x, -n.y, -n.z);
                    Made::Joined(Box::new(solid.trim_by_plane(inwards, -plane.offset())))
                }
                (made, Does::Take(shape)) => {
                    let cutter = shape.mesh(tolerance.max(MESHED), reach, OVER)?;
                    joined(made, &cutter, OpType::Subtract, keep)?
                }
                (made, Does::Add(shape)) => {
                    joined(made, &shape.mesh(tolerance.max(MESHED), reach, OVER)?, OpType::Add, keep)?
                }
            };
        }
        match made {
            Made::Nothing => None,
            Made::Convex(mut solid) => {
                solid.keep_nearest(keep);
                Some(solid.mesh())
            }
            // Flush floors leave triangles of no area; nothing else is simplified.
            Made::Joined(solid) => Some(triangles(&solid.simplify(0.0))),
        }
    }

    /// How far from the solid's own origin any of its wood may lie.
    fn reach(&self) -> f64 {
        let of = |shape: &Shape| match shape {
            Shape::Prism(prism) => {
                let size = prism
                    .outline
                    .bounding_box()
                    .map_or(0.0, |b| b.x0.abs().max(b.x1.abs()) + b.y0.abs().max(b.y1.abs()));
                let deep = |end: End| if let End::To(depth) = end { depth.abs() } else { 0.0 };
                prism.frame.origin().to_vec().length() + size + deep(prism.ends[0]) + deep(prism.ends[1])
            }
            Shape::Turned(turned) => {
                let far = turned.profile.iter().map(|p| p.to_vec2().hypot()).fold(0.0, f64::max);
                turned.frame.origin().to_vec().length() + far
            }
        };
        let added = self.features.iter().filter_map(|feature| match &feature.does {
            Does::Add(shape) => Some(of(shape)),
            Does::Beyond(_) | Does::Take(_) => None,
        });
        added.fold(0.0, f64::max) + 10.0 * OVER
    }
}

/// Whether a prism lies in the solid's own axes, its far end in their origin.
fn is_level(prism: &Prism) -> bool {
    let frame = &prism.frame;
    matches!(prism.ends, [End::To(low), End::To(high)] if low < 0.0 && high == 0.0)
        && (frame.origin(), frame.u(), frame.v()) == (Point3::ORIGIN, Vec3::X, Vec3::Y)
        && !frame.is_mirrored()
}

/// What was made, with one more shape taken away or added.
fn joined(made: Made, shape: &Mesh, how: OpType, keep: Point3) -> Option<Made> {
    let before = match made {
        Made::Nothing => return Some(Made::Nothing),
        Made::Convex(mut solid) => {
            solid.keep_nearest(keep);
            manifold(&solid.mesh())?
        }
        Made::Joined(solid) => *solid,
    };
    let after = before.boolean(&manifold(shape)?, how);
    (after.status() == Error::NoError).then(|| Made::Joined(Box::new(after)))
}

fn manifold(mesh: &Mesh) -> Option<Manifold> {
    let given = MeshGL64 {
        num_prop: 3,
        vert_properties: mesh.vertices.iter().flat_map(|p| [p.x, p.y, p.z]).collect(),
        tri_verts: mesh.triangles.iter().flatten().map(|i| u64::from(*i)).collect(),
        ..MeshGL64::default()
    };
    let made = Manifold::from_mesh_gl64(&given);
    (made.status() == Error::NoError).then_some(made)
}

fn triangles(solid: &Manifold) -> Mesh {
    let given = solid.get_mesh_gl64(-1);
    let stride = (given.num_prop as usize).max(3);
    let corners = given.vert_properties.chunks_exact(stride);
    let vertices: Vec<Point3> = corners.map(|c| Point3::new(c[0], c[1], c[2])).collect();
    // Corners that are given twice are one.
    let mut one: Vec<u32> = (0..vertices.len() as u32).collect();
    for (from, to) in given.merge_from_vert.iter().zip(&given.merge_to_vert) {
        if let Some(at) = one.get_mut(*from as usize) {
            *at = *to as u32;
        }
    }
    let corner = |i: &u64| one.get(*i as usize).copied().unwrap_or_default();
    let triangles = given.tri_verts.chunks_exact(3).map(|t| [corner(&t[0]), corner(&t[1]), corner(&t[2])]).collect();
    Mesh { vertices, triangles }
}

impl Shape {
    /// Its closed surface, reaching `over` mm beyond the surfaces on which it ends.
    fn mesh(&self, tolerance: f64, reach: f64, over: f64) -> Option<Mesh> {
        match self {
            Shape::Prism(prism) => {
                let (solid, frame) = prism.solid(tolerance, reach, over)?;
                Some(placed(&solid.mesh(), &frame))
            }
            Shape::Turned(turned) => turned.mesh(tolerance),
        }
    }
}

/// A surface taken from the axes of a frame.
fn placed(mesh: &Mesh, frame: &Placement) -> Mesh {
    let turned = frame.is_mirrored();
    let triangle = |t: &[u32; 3]| if turned { [t[0], t[2], t[1]] } else { *t };
    Mesh {
        vertices: mesh.vertices.iter().map(|p| frame.to_world(*p)).collect(),
        triangles: mesh.triangles.iter().map(triangle).collect(),
    }
}

impl Prism {
    /// Itself with flat faces, from the far end down, and the frame of that end.
    fn solid(&self, tolerance: f64, reach: f64, over: f64) -> Option<(crate::geometry::Prism, Placement)> {
        let w = self.frame.w();
        let origin = w.dot(self.frame.origin().to_vec());
        let level = |end: End, out: f64| match end {
            End::To(depth) => depth,
            // Beyond all wood along the axis; a slanting plane is reached from there too.
            End::On(_) | End::Open => out * 2.0 * reach - origin,
        };
        let (low, high) = (level(self.ends[0], -1.0), level(self.ends[1], 1.0));
        if high - low < FLUSH {
            return None;
        }
        let frame = self.frame.moved(Vec3::Z * high);
        let mut solid = crate::geometry::Prism::new(&polygon(&self.outline, tolerance), high - low);
        for end in self.ends {
            if let End::On(plane) = end {
                solid.cut(&frame.plane_to_board(&plane.moved(over)));
            }
        }
        Some((solid, frame))
    }
}

impl Turned {
    /// Itself with flat faces.
    fn mesh(&self, tolerance: f64) -> Option<Mesh> {
        let largest = self.profile.iter().map(|p| p.y).fold(0.0, f64::max);
        let circle = Path::closed(vec![Segment::Arc(crate::geometry::Arc::circular(
            Point::ORIGIN,
            largest,
            0.0,
            std::f64::consts::TAU,
        ))]);
        let steps = (polygon(&circle, tolerance).len() as f64).max(LEAST_STEPS) as usize;
        let mut rounds: Vec<Point> = self.profile.clone();
        rounds.dedup_by(|a, b| a.distance(*b) < FLUSH);
        let (first, last) = (rounds.first()?.x, rounds.last()?.x);
        let mut vertices = vec![Point3::new(0.0, 0.0, first), Point3::new(0.0, 0.0, last)];
        for p in &rounds {
            vertices.extend((0..steps).map(|k| {
                let (sin, cos) = (std::f64::consts::TAU * k as f64 / steps as f64).sin_cos();
                Point3::new(p.y * cos, p.y * sin, p.x)
            }));
        }
        let at = |round: usize, k: usize| (2 + round * steps + k % steps) as u32;
        let mut triangles = Vec::new();
        for k in 0..steps {
            triangles.push([0, at(0, k + 1), at(0, k)]);
            triangles.push([1, at(rounds.len() - 1, k), at(rounds.len() - 1, k + 1)]);
            for round in 1..rounds.len() {
                let [a, b, c, d] = [at(round - 1, k), at(round - 1, k + 1), at(round, k + 1), at(round, k)];
                triangles.extend([[a, b, c], [a, c, d]]);
            }
        }
        Some(placed(&Mesh { vertices, triangles }, &self.frame))
    }
}
