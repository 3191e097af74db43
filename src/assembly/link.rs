//! The tenons that are drawn up when a piece is glued, in the world.

use crate::board::{Fitting, Mortise};
use crate::geometry::{Point3, Vec3};
use crate::piece::Piece;
use crate::tolerance::{BELOW_CUTTING, NO_DIRECTION, SAME_PLACE};

/// A board of the piece: its index, and which copy of it.
pub type Member = (usize, usize);

/// A tenon between two boards.
#[derive(Debug, Clone, PartialEq)]
pub struct Link {
    /// The board on which it stands, its own or, of a loose one, where it was glued first.
    pub stands_on: Member,
    /// The board into which it goes.
    pub goes_into: Member,
    /// Which of the piece's joints it is of.
    pub joint: usize,
    /// The middle of its shoulder.
    pub at: Point3,
    /// Its direction from the one board into the other.
    pub axis: Vec3,
    /// Along its width and through its thickness, square to it.
    pub across: [Vec3; 2],
    /// How far it stands out when the gluing begins, mm: of a loose one what stands out of the deeper of its two mortises.
    pub stands: f64,
    /// How far it may go aside in its mortise, mm each way.
    pub play: f64,
}

impl Link {
    /// How far it runs into its cheeks, mm, where it is drawn up along a direction; `None` where that does not draw it up.
    pub fn bind_along(&self, way: Vec3) -> Option<f64> {
        let along = way.dot(self.axis).abs();
        let aside = self.across.iter().map(|across| way.dot(*across).abs()).fold(0.0, f64::max);
        (along > NO_DIRECTION).then(|| aside / along * self.stands)
    }
}

/// A mortise or standing tenon of one copy of a board, in the world.
struct Placed<'a> {
    play: f64,
    member: Member,
    mortise: &'a Mortise,
    at: Point3,
    axis: Vec3,
    across: [Vec3; 2],
}

/// Every tenon between two boards of a piece. Tenons in a glue line lie in one board, and are not among them.
pub fn links(piece: &Piece) -> Vec<Link> {
    let placed: Vec<Placed> = placed(piece).collect();
    let mut found = Vec::new();
    for (index, one) in placed.iter().enumerate() {
        for other in placed.iter().skip(index + 1).filter(|other| is_same(one, other)) {
            // A tenon that stands goes into the other; a loose one is glued into the deeper mortise first, where it stands out least.
            let stands = other.mortise.fitting == Fitting::Standing;
            let deeper = other.mortise.loose && other.mortise.depth > one.mortise.depth;
            let (from, into) = if stands || deeper { (other, one) } else { (one, other) };
            found.extend(Some(link(from, into)).filter(|link| link.stands > BELOW_CUTTING));
        }
    }
    found
}

fn placed(piece: &Piece) -> impl Iterator<Item = Placed<'_>> {
    piece.boards.iter().enumerate().flat_map(|(board, solved)| {
        let mortises = solved.mortises.iter().filter(|mortise| mortise.on.is_some());
        mortises.flat_map(move |mortise| {
            let copies = mortise.copies.iter().filter_map(|copy| Some((*copy, &solved.copies.get(*copy)?.placement)));
            copies.map(move |(copy, place)| {
                let frame = &mortise.frame;
                let [axis, u, v] = [frame.w(), frame.u(), frame.v()].map(|way| place.direction_to_world(way));
                let at = place.to_world(frame.origin());
                Placed { play: solved.play.mm(), member: (board, copy), mortise, at, axis, across: [u, v] }
            })
        })
    })
}

/// Whether two are the two sides of one tenon.
fn is_same(one: &Placed, other: &Placed) -> bool {
    let same = one.mortise.of == other.mortise.of && one.member != other.member;
    same && one.at.distance(other.at) < SAME_PLACE && one.axis.cross(other.axis).length() < SAME_PLACE
}

fn link(from: &Placed, into: &Placed) -> Link {
    let stands = match from.mortise.fitting {
        Fitting::Standing => from.mortise.depth,
        Fitting::Blind | Fitting::Through => from.mortise.tenon[2] - from.mortise.depth,
    };
    Link {
        stands_on: from.member,
        goes_into: into.member,
        joint: into.mortise.of,
        at: into.at,
        axis: into.axis,
        across: into.across,
        stands,
        play: into.play,
    }
}
