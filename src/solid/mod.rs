//! Solids as ordered lists of features: a blank, planes that cut it, and prisms and turned bodies taken away or added.
//!
//! Guarantees to everything below: each feature is exact (an arc stays an arc) and knows what it is for; the order is that of
//! the work. Three questions answer everything: which stretches of a line run in the wood ([`Body::on_line`]), what of a plane
//! does ([`Body::on_plane`]), and whether a point lies in it ([`Body::holds`]). Faces, volume and centre of gravity are made of these.

mod apart;
mod face;
mod feature;
mod flat;
mod line;
mod measure;
mod mesh;
mod prism;
mod turned;

pub use face::{Face, Surface, Where};
pub use feature::{Does, End, Feature, FeatureId, Prism, Shape, Side, Turned, Why};
pub use flat::{Axes, Hair};
pub use line::Spans;
pub use measure::{Bulk, Moments};

use crate::geometry::{Path, Plane, Point3, Vec3, clip_half_plane, difference, union};
use flat::{Flat, Part};

/// A solid: its features in the order in which they are worked.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Body {
    /// The features; the blank is the first.
    pub features: Vec<Feature>,
}

impl Body {
    /// What one copy of a board is: the features that it has.
    pub fn of_copy(&self, copy: usize) -> Body {
        Body { features: self.features.iter().filter(|feature| feature.is_in(copy)).cloned().collect() }
    }

    /// Whether two copies have the same features.
    pub fn alike(&self, copy: usize, other: usize) -> bool {
        self.features.iter().all(|feature| feature.is_in(copy) == feature.is_in(other))
    }

    /// Whether a point lies in the wood; one on a surface may be told either way.
    pub fn holds(&self, p: Point3) -> bool {
        self.features.iter().fold(false, |held, feature| match &feature.does {
            Does::Beyond(plane) => held && plane.distance(p) <= 0.0,
            Does::Take(shape) => held && !shape.holds(p),
            Does::Add(shape) => held || shape.holds(p),
        })
    }

    /// The stretches of the line `from + t way` in the wood, by t. Where the line lies in a surface, those of the line a hair off in
    /// the direction `hair`.
    pub fn on_line(&self, from: Point3, way: Vec3, hair: Vec3) -> Spans {
        self.features.iter().fold(Spans::default(), |all, feature| match &feature.does {
            Does::Beyond(plane) => all.less(&line::outside(plane, from, way, hair)),
            Does::Take(shape) if !all.is_empty() => all.less(&shape.on_line(from, way, hair)),
            Does::Take(_) => all,
            Does::Add(shape) => all.plus(&shape.on_line(from, way, hair)),
        })
    }

    /// What of a plane runs in the wood, in the axes given: of the plane a hair to the side told, so that surfaces flush with it
    /// decide by where they have their wood. Closed rings, in no order, that do not cross: outer rims run anticlockwise in the axes and
    /// holes clockwise, so that their signed areas add up to the area; none where no wood is met. A ring does not tell which rim a hole
    /// belongs to nor what made its pieces: [`Body::surface_at`] tells the latter. `None` where curves run so nearly together that
    /// they cannot be told apart.
    pub fn on_plane(&self, axes: &Axes, hair: Hair) -> Option<Vec<Path>> {
        let flat = Flat::of(axes, hair);
        self.features.iter().try_fold(Vec::new(), |rings: Vec<Path>, feature| match &feature.does {
            Does::Beyond(plane) => Some(match flat.inside(plane) {
                Part::Whole => rings,
                Part::Nothing => Vec::new(),
                Part::Half { point, inwards } => clip_half_plane(&rings, point, inwards),
            }),
            Does::Take(_) if rings.is_empty() => Some(rings),
            Does::Take(shape) => difference(&rings, &shape.on_plane(axes, &flat)?),
            Does::Add(shape) => {
                let own = shape.on_plane(axes, &flat)?;
                if rings.is_empty() { Some(own) } else { union(&rings, &own) }
            }
        })
    }

    /// The planes of all flat surfaces of the features, normals out of the wood that they leave, with the surfaces that lie in them.
    fn planes(&self) -> Vec<(Plane, Surface)> {
        self.features
            .iter()
            .flat_map(|feature| {
                let surface = |at: Where| Surface { feature: feature.id, at };
                match &feature.does {
                    Does::Beyond(plane) => vec![(*plane, surface(Where::Cut))],
                    Does::Take(shape) => {
                        shape.planes().into_iter().map(|(plane, at)| (plane.flipped(), surface(at))).collect()
                    }
                    Does::Add(shape) => shape.planes().into_iter().map(|(plane, at)| (plane, surface(at))).collect(),
                }
            })
            .collect()
    }

    /// A point about which the solid lies: the middle of its blank.
    fn middle(&self) -> Point3 {
        let blank = self.features.iter().find_map(|feature| match &feature.does {
            Does::Add(shape) => Some(shape.middle()),
            Does::Beyond(_) | Does::Take(_) => None,
        });
        blank.unwrap_or_default()
    }
}

impl Shape {
    fn holds(&self, p: Point3) -> bool {
        match self {
            Shape::Prism(prism) => prism.holds(p),
            Shape::Turned(turned) => turned.holds(p),
        }
    }

    fn on_line(&self, from: Point3, way: Vec3, hair: Vec3) -> Spans {
        match self {
            Shape::Prism(prism) => prism.on_line(from, way, hair),
            Shape::Turned(turned) => turned.on_line(from, way, hair),
        }
    }

    fn on_plane(&self, axes: &Axes, flat: &Flat) -> Option<Vec<Path>> {
        match self {
            Shape::Prism(prism) => Some(prism.on_plane(axes, flat)),
            Shape::Turned(turned) => turned.on_plane(axes, flat),
        }
    }

    fn planes(&self) -> Vec<(Plane, Where)> {
        match self {
            Shape::Prism(prism) => prism.planes(),
            Shape::Turned(turned) => turned.planes(),
        }
    }

    fn middle(&self) -> Point3 {
        match self {
            Shape::Prism(prism) => prism.middle(),
            Shape::Turned(turned) => turned.middle(),
        }
    }
}
