//! Pockets for the screws of a top: slanted holes from the inside face of a part, where a plumb one leaves too little wood or its head no
//! seat.
//!
//! A pocket begins in the inside face, wide as the screw's head, and stops short of the edge under the top; from its bottom the hole
//! for the screw goes on and comes out where the plumb one would begin. A slanted screw cannot follow a top that moves across the part:
//! there no pocket is offered.

use super::fixing::{Hole, Landing};
use super::parts::SolvedBoard;
use super::plane_of;
use crate::board::Source;
use crate::geometry::{Placement, Vec3};
use crate::tolerance::{JUST, NO_LEAN, SHOWN};
use crate::units::Angle;

/// Angles off the inside face that are tried, the usual one first, degrees (common practice, no source).
const SLANTS: [f64; 4] = [15.0, 12.0, 10.0, 8.0];

/// Wood that stays under the head of a slanted screw, along it, mm: as much as under a plumb one where there is room, and no less than
/// that it would pull through (common practice, no source).
const UNDER_HEAD: [f64; 2] = [12.0, 20.0];

/// A slanted hole for a screw, from the inside face of a part; lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pocket {
    /// The face in which it begins.
    pub inside: Source,
    /// Between its axis and that face.
    pub slant: Angle,
    /// From the arris of that face under the top down the face to where its axis begins.
    pub below: f64,
    /// Its diameter: that of the screw's head.
    pub head: f64,
    /// How deep it is along its axis, from the face.
    pub deep: f64,
    /// The wood that stays under the head, along the axis.
    pub under_head: f64,
    /// The angle between its axis and a plumb line.
    pub off_plumb: Angle,
}

impl Pocket {
    /// From the shortest wood screw that holds to the longest that stays in a top so thick, mm: it stands aslant in the top too.
    pub fn screw_lengths(&self, top: f64) -> [f64; 2] {
        Landing::lengths_past(0.0, top).map(|square| self.under_head + square / self.off_plumb.radians().cos())
    }
}

impl Landing {
    /// The pocket from which each of its screws, so thick, comes out at its place under the top; `None` where the top moves across the
    /// part, where no pocket leaves enough wood, and where the places differ.
    pub fn pocket(&self, board: &SolvedBoard, screw: f64, moves: bool) -> Option<Pocket> {
        let follows = |play| self.line.runs_across() || matches!(self.hole(play, screw, moves), Hole::Round(_));
        if !self.plays.iter().all(follows) {
            return None;
        }
        let section = Section::of(self, board)?;
        SLANTS.iter().find_map(|slant| section.pocket(Angle::from_degrees(*slant), screw))
    }
}

/// A part cut across where its screws stand, the face towards the middle of the top first.
struct Section {
    inside: Source,
    /// From the place of a screw to the arris of the inside face and to that of the outside, level, mm.
    room: [f64; 2],
    /// How thick the part is, square to its faces, mm.
    thickness: f64,
    /// How far the part reaches down from the top, mm.
    drop: f64,
    /// In world axes: out of the inside face, and up it.
    out: Vec3,
    up: Vec3,
}

impl Section {
    /// `None` of a part that lies more than it stands, and of one in which screws stand differently.
    fn of(landing: &Landing, board: &SolvedBoard) -> Option<Section> {
        let to_left = (landing.line.middle().to_vec2().dot(landing.line.way().turn_90())) < 0.0;
        let inside = landing.sides[usize::from(!to_left)];
        if !matches!(inside, Source::Face | Source::Far) {
            return None;
        }
        let placement: Placement = board.copies.get(landing.copy)?.placement;
        let out = placement.direction_to_world(plane_of(&board.board, inside)?.normal());
        let up = (Vec3::Z - out * out.z).unit()?;
        let mut all = landing.plays.iter().map(|play| landing.beside(play));
        let first = all.next()?;
        let alike = all.all(|room| room.iter().zip(first).all(|(a, b)| (a - b).abs() < SHOWN));
        let room = if to_left { first } else { [first[1], first[0]] };
        let section = Section { inside, room, thickness: board.board.thickness, drop: landing.deep, out, up };
        (alike && up.z > out.z.abs() + NO_LEAN).then_some(section)
    }

    /// How far a level millimetre is off a face, square to it: the cosine of the part's lean.
    fn square(&self) -> f64 {
        self.up.z
    }

    fn pocket(&self, slant: Angle, screw: f64) -> Option<Pocket> {
        let (sin, cos) = slant.radians().sin_cos();
        let head = Landing::head(screw);
        let [inwards, outwards] = self.room.map(|level| level * self.square());
        // The hole comes out under the top no nearer to either face than any other.
        let leaves = |room: f64, radius: f64| room - radius * cos >= Landing::WALL - JUST;
        if !leaves(inwards, screw / 2.0) || !leaves(outwards, screw / 2.0) {
            return None;
        }
        // At its bottom the whole head lies in wood, told to half a millimetre.
        let whole = (inwards - head / 2.0 * cos) / sin;
        let under_head = (2.0 * whole.min(UNDER_HEAD[1])).floor() / 2.0;
        let bottom = inwards - under_head * sin;
        if under_head < UNDER_HEAD[0] || !leaves(self.thickness - bottom, head / 2.0) {
            return None;
        }
        let level = Vec3::new(-self.out.x, -self.out.y, 0.0).unit()?;
        let below = inwards * cos / sin - self.room[0] * level.dot(self.up);
        // Its mouth in the face, an ellipse, ends above the lower edge.
        let mouth = below + head / 2.0 / sin;
        let axis = self.up * cos - self.out * sin;
        let off_plumb = Angle::from_radians(axis.z.clamp(-1.0, 1.0).acos());
        (mouth <= self.drop / self.square() - Landing::WALL).then_some(Pocket {
            inside: self.inside,
            slant,
            below,
            head,
            deep: inwards / sin - under_head,
            under_head,
            off_plumb,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::Section;
    use crate::board::Source;
    use crate::geometry::Vec3;
    use crate::units::Angle;

    /// An upright apron 15 thick and 80 deep, screws of 5 in its middle: off 12 degrees the head of 10 lies whole in wood
    /// (7.5 - 5 cos 12) / sin 12 = 12.5 below the edge; off 15 only 10.3 would stay under it.
    #[test]
    fn a_pocket_lies_in_wood() {
        let upright =
            Section { inside: Source::Far, room: [7.5, 7.5], thickness: 15.0, drop: 80.0, out: Vec3::Y, up: Vec3::Z };
        assert_eq!(upright.pocket(Angle::from_degrees(15.0), 5.0), None);
        let pocket = upright.pocket(Angle::from_degrees(12.0), 5.0).expect("a pocket");
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
        let tan = 12_f64.to_radians().tan();
        assert!(near(pocket.under_head, 12.5) && near(pocket.below, 7.5 / tan), "{pocket:?}");
        assert!(near(pocket.deep, 7.5 / 12_f64.to_radians().sin() - 12.5), "{pocket:?}");
        assert!(near(pocket.off_plumb.degrees(), 12.0), "{pocket:?}");
        // Its mouth would run out of the lower edge of a shallow one.
        let shallow = Section { drop: 50.0, ..upright };
        assert_eq!(shallow.pocket(Angle::from_degrees(12.0), 5.0), None);
    }
}
