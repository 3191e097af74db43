//! What is worked in a part beside its cuts, measured: where it begins, how large and how deep it is.

use super::wood::{What, Worked};
use crate::geometry::{Path, Placement, Plane, Point, Point3, Rect, Segment, Vec2, Vec3};
use crate::solid::{End, Prism, Shape, Why};
use crate::tolerance::{NO_MOUTH, NOTICEABLE};

impl Worked {
    /// Whether a screw or a button holds a top in it, whose place in the top is marked from it.
    pub fn holds_top(&self) -> bool {
        matches!(self.what, What::For(Why::Button | Why::Slot | Why::Counterbore))
    }

    /// The same beginning at the side of a board so thick, mm, through which it goes in where its cutter begins outside of the wood.
    pub fn seated(self, thickness: f64) -> Worked {
        let Shape::Prism(prism) = &self.shape else { return self };
        let (End::To(near), w) = (prism.ends[0], prism.frame.w()) else { return self };
        let begins = (prism.frame.origin() + w * near).z;
        let side = match () {
            () if begins > 0.0 && w.z < 0.0 => Plane::level(0.0),
            () if begins < -thickness && w.z > 0.0 => Plane::level(-thickness).flipped(),
            () => return self,
        };
        let ends = [End::On(side), prism.ends[1]];
        Worked { shape: Shape::Prism(Prism { ends, ..prism.clone() }), ..self }
    }

    /// Its axes: the last one its own, along which it goes in or stands out.
    pub fn frame(&self) -> Placement {
        match &self.shape {
            Shape::Prism(prism) => prism.frame,
            Shape::Turned(turned) => turned.frame,
        }
    }

    /// The middle of its mouth, board axes.
    pub fn mouth(&self) -> Point3 {
        match &self.shape {
            Shape::Prism(prism) => begin(prism, around(prism).center()),
            Shape::Turned(turned) => turned.frame.origin(),
        }
    }

    /// Its width and its thickness, mm: of what is round, its diameter twice.
    pub fn size(&self) -> [f64; 2] {
        match &self.shape {
            Shape::Prism(prism) => [around(prism).width(), around(prism).height()],
            Shape::Turned(turned) => [2.0 * turned.profile.iter().map(|p| p.y).fold(0.0, f64::max); 2],
        }
    }

    /// How deep it goes from its mouth along its own axis, or how far it stands out, mm; `None` where it goes through.
    pub fn depth(&self) -> Option<f64> {
        match &self.shape {
            Shape::Prism(prism) => {
                let End::To(far) = prism.ends[1] else { return None };
                let middle = around(prism).center();
                let start = prism.frame.to_world(Point3::new(middle.x, middle.y, 0.0));
                let deep = far - (begin(prism, middle) - start).dot(prism.frame.w());
                // A part drawn directly has what goes through it from side to side.
                (!matches!(prism.ends[0], End::Open)).then_some(deep)
            }
            Shape::Turned(turned) => turned.profile.first().zip(turned.profile.last()).map(|(a, b)| b.x - a.x),
        }
    }

    /// The corners of the box around it, board axes: at its mouth and, where it goes no further than some depth, at its bottom. None of
    /// what is round.
    pub fn corners(&self) -> Vec<Point3> {
        let Shape::Prism(prism) = &self.shape else { return Vec::new() };
        let around = around(prism);
        let rim = [(around.x0, around.y0), (around.x1, around.y0), (around.x1, around.y1), (around.x0, around.y1)];
        let mouth = rim.map(|(x, y)| begin(prism, Point::new(x, y)));
        let bottom =
            |far: f64| rim.map(|(x, y)| prism.frame.to_world(Point3::new(x, y, 0.0)) + prism.frame.w() * far);
        let bottom = match prism.ends[1] {
            End::To(far) => bottom(far).to_vec(),
            End::On(_) | End::Open => Vec::new(),
        };
        mouth.into_iter().chain(bottom).collect()
    }

    /// By how much another has its mouth turned about this one's own axis, degrees, above zero clockwise as one sees it who stands before the
    /// part; `way` gives directions of the other here. Zero where no turn shows: of what is round.
    pub fn rolled(&self, other: &Worked, way: impl Fn(Vec3) -> Vec3) -> f64 {
        let (Shape::Prism(own), Shape::Prism(its)) = (&self.shape, &other.shape) else { return 0.0 };
        if is_round(own) || is_round(its) {
            return 0.0;
        }
        let axis = own.frame.w();
        let across = |u: Vec3| u - axis * u.dot(axis);
        let (from, to) = (across(own.frame.u()), across(way(its.frame.u())));
        let turn = from.cross(to).dot(axis).atan2(from.dot(to)).to_degrees();
        // What is as wide as thick is the same after a quarter turn, all else after half of one.
        let [wide, thick] = self.size();
        let same = if (wide - thick).abs() < NOTICEABLE { 90.0 } else { 180.0 };
        let turn = turn - same * (turn / same).round();
        // A mouth is looked into along its axis, a tenon at against it.
        if self.stands { -turn } else { turn }
    }

    /// How far its outline lies off another's at most, mm, middle on middle; infinity where that is of another kind.
    pub fn outline_off(&self, other: &Worked) -> f64 {
        match (&self.shape, &other.shape) {
            (Shape::Prism(own), Shape::Prism(its)) => {
                let middle = |prism: &Prism| around(prism).center().to_vec2();
                let by = middle(own) - middle(its);
                farthest(&own.outline, &its.outline, by).max(farthest(&its.outline, &own.outline, -by))
            }
            (Shape::Turned(own), Shape::Turned(its)) => {
                let pairs = own.profile.iter().zip(&its.profile);
                let even = own.profile.len() == its.profile.len();
                let off = pairs.map(|(a, b)| a.distance(*b)).fold(0.0, f64::max);
                if even { off } else { f64::INFINITY }
            }
            (Shape::Prism(_), Shape::Turned(_)) | (Shape::Turned(_), Shape::Prism(_)) => f64::INFINITY,
        }
    }
}

/// How far a line lies off another that is shifted, at the quarters of its pieces.
fn farthest(own: &Path, other: &Path, shifted: Vec2) -> f64 {
    let looks = own.segments().iter().flat_map(|s| [0.0, 0.25, 0.5, 0.75].map(|t| s.eval(t) - shifted));
    looks.filter_map(|p: Point| other.nearest(p)).map(|near| near.0).fold(0.0, f64::max)
}

/// Whether a turn about its own axis does not show.
fn is_round(prism: &Prism) -> bool {
    let (bounds, straight) = (around(prism), |piece: &Segment| matches!(piece, Segment::Line(_)));
    (bounds.width() - bounds.height()).abs() < NOTICEABLE && !prism.outline.segments().iter().any(straight)
}

fn around(prism: &Prism) -> Rect {
    prism.outline.bounding_box().unwrap_or_default()
}

/// Where a line along the axis through a point of the outline enters the prism.
fn begin(prism: &Prism, at: Point) -> Point3 {
    let start = prism.frame.to_world(Point3::new(at.x, at.y, 0.0));
    match prism.ends[0] {
        End::To(near) => start + prism.frame.w() * near,
        End::On(plane) => carried(start, prism.frame.w(), &plane),
        End::Open => start,
    }
}

fn carried(start: Point3, along: Vec3, to: &Plane) -> Point3 {
    let steep = to.normal().dot(along);
    if steep.abs() > NO_MOUTH { start - along * (to.distance(start) / steep) } else { start }
}
