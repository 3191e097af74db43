//! What joints take out of a board, read from the board's features: the mortises of tenons, and what a joint without a tenon takes.
//!
//! Whoever asks for walls or for a place to mark asks here, and need not know of which kind a hollow is. That of a tenon is told
//! in a closed form, as far as its depth; of all others the points of their faces and mouths are told, as the solid has them.

use super::body::{feature_id, surface_plane};
use super::cutout::JointCutout;
use super::parts::SolvedBoard;
use crate::board::{Board, Fitting, Mortise, Source};
use crate::geometry::{Path, Plane, Point, Point3, Vec3, convex_hull};
use crate::solid::FeatureId;

/// Points of each piece of a round section that are looked at: round a tenon's end of 10 mm its hull is then true to 0.006 mm.
const STEPS: usize = 32;

/// What a joint takes out of a board.
#[derive(Debug, Clone)]
pub struct Hollow<'a> {
    /// The joint's name.
    pub joint: &'a str,
    /// JSON pointer of its numbers.
    pub pointer: &'a str,
    /// Which feature of the board it is.
    pub id: FeatureId,
    /// The surface from which it goes in; none where that is a glue line inside the board.
    pub on: Option<Source>,
    /// Every surface that it opens, that one among them.
    pub opens: Vec<Source>,
    /// Directions of its sides, of unit length, board axes; the last is its own axis.
    pub sides: [Vec3; 3],
    /// The way out of it, against its own axis or square to its surface.
    pub out: Vec3,
    /// The copies that have it; `None` for all.
    copies: Option<&'a [usize]>,
    form: Form<'a>,
}

#[derive(Debug, Clone)]
enum Form<'a> {
    /// A tenon's, with the plane in which it opens.
    Mortise(&'a Mortise, Plane),
    /// Corners and points of the rims of its faces and mouths, board axes; at least one.
    Points(Vec<Point3>),
}

impl SolvedBoard {
    /// What joints take out of it: the mortises in their order, then what else is taken.
    pub fn hollows(&self) -> Vec<Hollow<'_>> {
        let mortises = self.mortises.iter().filter_map(|mortise| Hollow::of(&self.board, mortise));
        mortises.chain(self.joint_cutouts().filter_map(|cutout| Hollow::of_cutout(&cutout))).collect()
    }
}

impl<'a> Hollow<'a> {
    /// The hollow of a mortise; `None` of a tenon that stands, and where its mouth lies in no plane.
    pub fn of(board: &Board, mortise: &'a Mortise) -> Option<Hollow<'a>> {
        let mouth = surface_plane(board, mortise).filter(|_| mortise.fitting != Fitting::Standing)?;
        let frame = &mortise.frame;
        Some(Hollow {
            joint: &mortise.joint,
            pointer: &mortise.pointer,
            id: feature_id(mortise),
            on: mortise.on,
            opens: mortise.on.into_iter().chain(mortise.exit).collect(),
            sides: [frame.u(), frame.v(), frame.w()],
            out: -frame.w(),
            copies: Some(&mortise.copies),
            form: Form::Mortise(mortise, mouth),
        })
    }

    /// That of a joint's cutout; `None` where nothing of it meets the wood.
    fn of_cutout(cutout: &JointCutout<'a>) -> Option<Hollow<'a>> {
        let points = cutout.points();
        if points.is_empty() {
            return None;
        }
        Some(Hollow {
            joint: cutout.joint,
            pointer: cutout.pointer,
            id: cutout.feature.id,
            on: Some(cutout.on),
            opens: cutout.opens(&points),
            sides: cutout.sides()?,
            out: cutout.out(middle(&points))?,
            copies: cutout.feature.copies.as_deref(),
            form: Form::Points(points),
        })
    }

    /// The mortise, where it is one of a tenon.
    pub fn mortise(&self) -> Option<&'a Mortise> {
        match self.form {
            Form::Mortise(mortise, _) => Some(mortise),
            Form::Points(_) => None,
        }
    }

    /// The plane in which a tenon's mortise opens.
    pub fn mouth(&self) -> Option<&Plane> {
        match &self.form {
            Form::Mortise(_, mouth) => Some(mouth),
            Form::Points(_) => None,
        }
    }

    /// Whether some copy of the board has both.
    pub fn shares_copy(&self, other: &Hollow) -> bool {
        match (self.copies, other.copies) {
            (Some(own), Some(other)) => own.iter().any(|copy| other.contains(copy)),
            (Some(own), None) | (None, Some(own)) => !own.is_empty(),
            (None, None) => true,
        }
    }

    /// A point of it about which the others lie.
    pub fn origin(&self) -> Point3 {
        match &self.form {
            Form::Mortise(mortise, _) => mortise.frame.origin(),
            Form::Points(points) => middle(points),
        }
    }

    /// No point of it lies farther than this from its origin, mm.
    pub fn reach(&self) -> f64 {
        match &self.form {
            Form::Mortise(mortise, mouth) => {
                let half = mortise.tenon[0].hypot(mortise.tenon[1]) / 2.0;
                mortise.depth + half / mouth.normal().dot(mortise.frame.w()).abs()
            }
            Form::Points(points) => {
                let middle = middle(points);
                points.iter().map(|p| p.distance(middle)).fold(0.0, f64::max)
            }
        }
    }

    /// The middle of its bottom, or of all of it where it has none.
    pub fn bottom(&self) -> Point3 {
        match &self.form {
            Form::Mortise(mortise, _) => mortise.frame.to_world(Point3::new(0.0, 0.0, mortise.depth)),
            Form::Points(points) => middle(points),
        }
    }

    /// Its point that lies farthest in a direction.
    pub fn farthest_point(&self, way: Vec3) -> Point3 {
        match &self.form {
            Form::Mortise(mortise, mouth) => mortise.farthest_point(mouth, way),
            Form::Points(points) => {
                let along = |p: &Point3| p.to_vec().dot(way);
                points.iter().copied().max_by(|a, b| along(a).total_cmp(&along(b))).unwrap_or_default()
            }
        }
    }

    /// Points between which it lies: the corners of a box about a mortise.
    pub fn corners(&self) -> Vec<Point3> {
        match &self.form {
            Form::Mortise(mortise, mouth) => mortise.corners(mouth),
            Form::Points(points) => points.clone(),
        }
    }

    /// Its outline seen from the face side, without hollows.
    pub fn hull(&self) -> Option<Path> {
        match &self.form {
            Form::Mortise(mortise, mouth) => of_mortise(mortise, mouth),
            Form::Points(points) => seen(points.iter()),
        }
    }
}

/// The outline of a mortise or standing tenon seen from the face side: the smallest ring without hollows around its corners, or
/// around points of its round ends.
pub fn hull(board: &Board, mortise: &Mortise) -> Option<Path> {
    of_mortise(mortise, &surface_plane(board, mortise)?)
}

fn of_mortise(mortise: &Mortise, mouth: &Plane) -> Option<Path> {
    let corners = if mortise.round { rounded(mortise, mouth) } else { mortise.corners(mouth) };
    seen(corners.iter())
}

/// The smallest ring without hollows about points, seen from the face side.
fn seen<'a>(points: impl Iterator<Item = &'a Point3>) -> Option<Path> {
    let ring = convex_hull(points.map(|p| Point::new(p.x, p.y)).collect());
    (ring.len() >= 3).then(|| Path::polyline(&ring, true))
}

/// Points round the mouth and the bottom of a mortise with round ends.
fn rounded(mortise: &Mortise, mouth: &Plane) -> Vec<Point3> {
    let section = mortise.section();
    let round = || section.segments().iter().flat_map(|s| (0..STEPS).map(move |i| s.eval(i as f64 / STEPS as f64)));
    let bottom = |p: Point| mortise.frame.to_world(Point3::new(p.x, p.y, mortise.depth));
    round().filter_map(|p| mortise.carried(p, mouth)).chain(round().map(bottom)).collect()
}

/// The middle of a box about points.
fn middle(points: &[Point3]) -> Point3 {
    let ends = |of: fn(&Point3) -> f64| {
        let (low, high) =
            points.iter().map(of).fold((f64::MAX, f64::MIN), |(low, high), v| (low.min(v), high.max(v)));
        (low + high) / 2.0
    };
    Point3::new(ends(|p| p.x), ends(|p| p.y), ends(|p| p.z))
}
