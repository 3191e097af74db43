//! Legs turned from a square blank: where their centre lines stand and how large they are there.

use super::parts::SolvedBoard;
use crate::board::{Board, EdgeName, Fitting, Solid};
use crate::geometry::{Affine, Path, Placement, Plane, Point, Point3, Vec2, Vec3};
use crate::tolerance::PARALLEL;
use crate::units::Angle;
use std::f64::consts::FRAC_PI_2;

/// Left on the foot below its long side, to be sawn off when the legs stand, mm (common practice, no source).
const FOOT_WASTE: f64 = 15.0;

/// Left beyond the end of the tenon for the centre, mm (common practice, no source).
const HEAD_WASTE: f64 = 10.0;

/// How much thicker and wider the squared blank is than the turning, mm (common practice, no source).
const ROUGHING: f64 = 6.0;

/// From one station of the callipers to the next, mm.
const STATION: f64 = 100.0;

/// A station this near to the floor, mm, is told by the foot's own.
const AT_FOOT: f64 = 25.0;

/// What is turned from a square blank, about a line along it; lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turned {
    /// A point of that line, in board axes; it runs along u.
    pub axis: Point3,
    /// Diameter at the head, below the tenon.
    pub head: f64,
    /// Diameter at the foot.
    pub foot: f64,
    /// Diameter of the tenon.
    pub tenon: f64,
}

impl Turned {
    /// Where its centre line, moved across by `across`, comes through a plane.
    fn through(&self, plane: &Plane, across: Vec3) -> Option<Point3> {
        let (from, share) = (self.axis + across, plane.normal().x);
        (share.abs() > PARALLEL).then(|| from - Vec3::X * (plane.distance(from) / share))
    }
}

/// The rims of the end that a cut leaves, in the axes of that end: of a turned board the rim of the turning, for its blank is
/// never there.
pub(super) fn end_rims(board: &Board, solid: &Solid, turned: Option<Turned>, cut: usize) -> Vec<Path> {
    let (Some(end), Some(sawn)) = (solid.ends.get(cut), board.cuts.get(cut)) else { return Vec::new() };
    let rim = |turned: Turned| {
        let at = |across: Vec3| turned.through(&sawn.plane, across).map(|p| end.drop(p));
        let (o, y, z) = (at(Vec3::X * 0.0)?, at(Vec3::Y)?, at(Vec3::Z)?);
        let map = Affine::new([y.x - o.x, y.y - o.y, z.x - o.x, z.y - o.y, o.x, o.y]);
        let diameter = if sawn.place == EdgeName::Foot { turned.foot } else { turned.head };
        Some(Path::circle(Point::ORIGIN, diameter / 2.0).transformed(map))
    };
    match turned.and_then(rim) {
        Some(rim) => vec![rim],
        None => end.rings.iter().map(|ring| ring.path().clone()).collect(),
    }
}

/// A turned leg as it goes to the lathe: lengths in mm, taken along its centre line from the shoulder, which stands where that
/// line meets the underside of the top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turning {
    /// The diameters.
    pub turned: Turned,
    /// From the shoulder to the end of the tenon; 0 where there is none.
    pub tenon: f64,
    /// From the shoulder to the floor.
    pub length: f64,
    /// Between the centre line and plumb.
    pub tilt: Angle,
}

impl Turning {
    /// How much farther than the centre line the leg reaches on its outer side where the floor cuts it, and how much less on its
    /// inner side.
    pub fn foot_slant(&self) -> f64 {
        self.turned.foot / 2.0 * self.tilt.radians().tan()
    }

    /// From the shoulder down the outer side, which is the longer one, and the inner side to the floor.
    pub fn sides(&self) -> [f64; 2] {
        [self.length + self.foot_slant(), self.length - self.foot_slant()]
    }

    /// How far a square shoulder that touches the leaning seat on the outer side stands off it on the inner side.
    pub fn shoulder_gap(&self) -> f64 {
        self.turned.head * self.tilt.radians().tan()
    }

    /// Whether the tenon is thinner than the head, so that there is a shoulder.
    pub fn has_shoulder(&self) -> bool {
        self.tenon > 0.0 && self.turned.tenon < self.turned.head
    }

    /// From the shoulder down to where the foot is left long.
    pub fn left_long(&self) -> f64 {
        self.sides()[0] + FOOT_WASTE
    }

    /// From the end of the tenon to where the foot is left long.
    pub fn overall(&self) -> f64 {
        self.tenon + self.left_long()
    }

    /// The squared blank: how thick and wide it is, and how long.
    pub fn blank(&self) -> [f64; 2] {
        [self.turned.head + ROUGHING, self.overall() + HEAD_WASTE]
    }

    /// The diameter below the shoulder: a straight taper from head to foot, carried on below the floor.
    pub fn diameter_at(&self, below: f64) -> f64 {
        self.turned.head + (self.turned.foot - self.turned.head) * below / self.length
    }

    /// Distances below the shoulder at which callipers are set, the floor last.
    pub fn stations(&self) -> Vec<f64> {
        let whole = (1..).map(|i| f64::from(i) * STATION).take_while(|below| *below < self.length - AT_FOOT);
        std::iter::once(0.0).chain(whole).chain([self.length]).collect()
    }
}

impl SolvedBoard {
    /// Where the centre line of a turned board comes through one of its cuts, in board axes; `None` for one that is not turned.
    pub fn centre_at(&self, cut: &EdgeName) -> Option<Point3> {
        let plane = self.board.cuts.get(self.board.cut(cut)?)?.plane;
        self.turned?.through(&plane, Vec3::X * 0.0)
    }

    /// How it goes to the lathe; `None` for a board that is not turned.
    pub fn turning(&self) -> Option<Turning> {
        let (turned, head, foot) = (self.turned?, self.centre_at(&EdgeName::Head)?, self.centre_at(&EdgeName::Foot)?);
        let level = self.board.cuts.get(self.board.cut(&EdgeName::Foot)?)?.plane.normal().x.abs();
        let tenon = self.mortises.iter().find(|mortise| mortise.fitting == Fitting::Standing);
        Some(Turning {
            turned,
            tenon: tenon.map_or(0.0, |tenon| tenon.depth),
            length: head.distance(foot),
            tilt: Angle::from_radians(FRAC_PI_2 - level.clamp(0.0, 1.0).asin()),
        })
    }
}

/// The rim of something round where a level surface cuts it, as seen from above: its centre line leans as a board placed there
/// does. A foot is taken as thick on either side of the cut as at its middle.
pub fn level_rim(centre: Point, placement: &Placement, diameter: f64) -> Option<Path> {
    let along = placement.u();
    let lean = Vec2::new(along.x, along.y);
    (along.z.abs() > PARALLEL).then(|| {
        let longer = Affine::scale_non_uniform(1.0 / along.z.abs(), 1.0);
        let place = Affine::translate(centre.to_vec2()) * Affine::rotate(lean.atan2()) * longer;
        Path::circle(Point::ORIGIN, diameter / 2.0).transformed(place)
    })
}
