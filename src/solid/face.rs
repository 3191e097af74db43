//! The flat faces of a solid: on each plane that a feature brings along, what is wood a hair inside and is not a hair outside.

use super::flat::{Flat, Part};
use super::{Axes, Body, Does, FeatureId, Hair, Shape};
use crate::geometry::{Affine, Path, Plane, Point, Point3, Vec3, clip_half_plane, difference};
use crate::tolerance::{FLUSH, NEARLY_FLAT, PARALLEL_PLANES, SAME_PLACE};

/// A surface of a solid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Surface {
    /// The feature that makes it.
    pub feature: FeatureId,
    /// Where on that feature.
    pub at: Where,
}

/// A surface of a feature.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Where {
    /// The plane of a cut.
    Cut,
    /// The near end of a prism or a turned body: the bottom of a mortise begun there, or the far side of a board.
    Near,
    /// The far end.
    Far,
    /// What the piece of the outline or of the half profile with this index sweeps.
    Wall(usize),
}

/// A flat face.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// The surface it is; where several are flush, the first one's.
    pub surface: Surface,
    /// Its plane, normal out of the wood, with axes.
    pub axes: Axes,
    /// Its rims in those axes: outer ones anticlockwise, holes clockwise.
    pub rings: Vec<Path>,
}

impl Face {
    /// Its area, mm².
    pub fn area(&self) -> f64 {
        self.rings.iter().map(Path::signed_area).sum()
    }
}

impl Body {
    /// All its flat faces. `None` where curves run so nearly together that they cannot be told apart.
    pub fn faces(&self) -> Option<Vec<Face>> {
        let middle = self.middle();
        let mut known: Vec<Plane> = Vec::new();
        let mut faces = Vec::new();
        for (plane, surface) in self.planes() {
            let same = |other: &Plane| {
                other.normal().dot(plane.normal()) > 0.0
                    && other.normal().cross(plane.normal()).length() < PARALLEL_PLANES
                    && (other.distance(middle) - plane.distance(middle)).abs() < FLUSH
            };
            if known.iter().any(same) {
                continue;
            }
            known.push(plane);
            let axes = Axes::of(&plane, middle);
            let mut rings = self.face_on(&axes)?;
            for told in &faces {
                rings = not_told(rings, &axes, told)?;
            }
            if !rings.is_empty() {
                faces.push(Face { surface, axes, rings });
            }
        }
        Some(faces)
    }

    /// The face on a plane with its normal out of the wood.
    fn face_on(&self, axes: &Axes) -> Option<Vec<Path>> {
        let inside = self.on_plane(axes, Hair::In)?;
        let outside = self.on_plane(axes, Hair::Out)?;
        match inside.is_empty() || outside.is_empty() {
            true => Some(inside),
            false => difference(&inside, &outside),
        }
    }

    /// The surface on which a point of a rim lies, besides those in the rim's own plane: of the last feature that passes there.
    pub fn surface_at(&self, p: Point3, own: &Plane) -> Option<Surface> {
        let passes = |normal: Vec3| normal.cross(own.normal()).length() > PARALLEL_PLANES;
        self.features.iter().rev().find_map(|feature| {
            let at = match &feature.does {
                Does::Beyond(plane) => {
                    (plane.distance(p).abs() < SAME_PLACE && passes(plane.normal())).then_some(Where::Cut)
                }
                Does::Take(shape) | Does::Add(shape) => {
                    let all = match shape {
                        Shape::Prism(prism) => prism.surfaces_at(p, SAME_PLACE),
                        Shape::Turned(turned) => turned.surfaces_at(p, SAME_PLACE),
                    };
                    all.into_iter().find(|(_, normal)| passes(*normal)).map(|(at, _)| at)
                }
            };
            at.map(|at| Surface { feature: feature.id, at })
        })
    }
}

/// What of a face is not told by another already: two facets so flat to each other that both are flush with either's plane are
/// faces of both planes.
fn not_told(rings: Vec<Path>, axes: &Axes, told: &Face) -> Option<Vec<Path>> {
    let (own, other) = (axes.plane.normal(), told.axes.plane.normal());
    if rings.is_empty() || own.dot(other) < 0.0 || own.cross(other).length() > NEARLY_FLAT {
        return Some(rings);
    }
    // Each lies within that of a plane between them.
    let within = [axes.plane.moved(-2.0 * FLUSH).flipped(), axes.plane.moved(2.0 * FLUSH)];
    let looked_at = Flat::of(&told.axes, Hair::In);
    let near = within.iter().fold(told.rings.clone(), |rings, plane| match looked_at.inside(plane) {
        Part::Whole => rings,
        Part::Nothing => Vec::new(),
        Part::Half { point, inwards } => clip_half_plane(&rings, point, inwards),
    });
    if near.is_empty() {
        return Some(rings);
    }
    let drop = |p: Point| axes.drop(told.axes.lift(p));
    let (o, x, y) = (drop(Point::ORIGIN), drop(Point::new(1.0, 0.0)), drop(Point::new(0.0, 1.0)));
    let map = Affine::new([x.x - o.x, x.y - o.y, y.x - o.x, y.y - o.y, o.x, o.y]);
    let near: Vec<Path> = near.iter().map(|ring| ring.transformed(map)).collect();
    difference(&rings, &near)
}
