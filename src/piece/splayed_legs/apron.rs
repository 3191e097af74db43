//! Aprons and stretchers between splayed legs: boards parallel to the legs' outer faces.

use super::Shared;
use super::leg::Leg;
use crate::board::{EdgeName, Nominal, PartRole, Source};
use crate::geometry::{Placement, Plane, Point3, Vec3};
use crate::model::base::{Apron, LowerEdge};
use crate::piece::assemble::{Landing, Single, Work};
use crate::piece::beam::{Beam, End, Long};
use crate::units::Angle;

/// A board between two legs.
pub(super) struct Between<'a> {
    /// What it is: an apron or a stretcher.
    pub(super) role: PartRole,
    /// Its field under `/base`.
    pub(super) field: &'static str,
    /// Which of the two: `front`, `back`, `left`, `right`.
    pub(super) which: &'static str,
    /// The legs with their indices, at the smaller and at the greater x or y.
    pub(super) legs: [(&'a Leg, usize); 2],
    /// Whether it runs along x, between the inner side faces; else along y, between the inner front faces.
    pub(super) along_x: bool,
    /// Thickness, mm.
    pub(super) thickness: f64,
    /// Depth across the outside face, mm.
    pub(super) depth: f64,
    /// The outside face, its normal outwards.
    pub(super) face: Plane,
    /// Height of the upper outside arris, mm.
    pub(super) top: f64,
    /// How the lower edge is planed.
    pub(super) lower_edge: LowerEdge,
    /// Whether it lands on the tapered parts of the legs.
    pub(super) tapered: bool,
}

/// The outside face of a long board `inset` behind the legs' front faces.
pub(super) fn long_face(leg: &Leg, inset: f64) -> Option<Plane> {
    Plane::through(leg.head, leg.front).map(|p| p.moved(-inset))
}

/// The outside face of an end board `inset` inside the plane that holds the legs' arrises and the y direction.
pub(super) fn end_face(shared: &Shared, leg: &Leg, inset: f64) -> Option<Plane> {
    let a = shared.base.splay_front.radians();
    Plane::through(leg.head, Vec3::new(leg.x * a.cos(), 0.0, a.sin())).map(|p| p.moved(-inset))
}

impl<'a> Between<'a> {
    /// An apron.
    pub(super) fn apron(
        shared: &Shared,
        given: &Apron,
        legs: [(&'a Leg, usize); 2],
        along_x: bool,
    ) -> Option<Between<'a>> {
        let first = legs[0].0;
        let inset = given.inset.mm();
        let face = if along_x { long_face(first, inset)? } else { end_face(shared, first, inset)? };
        let (role, which) = match (along_x, first.x < 0.0, first.y < 0.0) {
            (true, _, true) => (PartRole::Apron, "front"),
            (true, _, false) => (PartRole::Apron, "back"),
            (false, true, _) => (PartRole::EndApron, "left"),
            (false, false, _) => (PartRole::EndApron, "right"),
        };
        Some(Between {
            role,
            field: role.key(),
            which,
            legs,
            along_x,
            thickness: given.thickness.mm(),
            depth: given.depth.mm(),
            face,
            top: shared.height - given.drop.mm(),
            lower_edge: given.lower_edge,
            tapered: false,
        })
    }

    /// Its placement: the origin on the upper outside arris, u level, v up: as someone before its outside sees it.
    fn placement(&self) -> Option<Placement> {
        let n = self.face.normal();
        let offset = self.face.offset() - n.z * self.top;
        let (along, origin) = match self.along_x {
            true => (Vec3::X, Point3::new(0.0, offset / n.y, self.top)),
            false => (Vec3::Y, Point3::new(offset / n.x, 0.0, self.top)),
        };
        let placement = Placement::facing(origin, along, n)?;
        if placement.v().z > 0.0 { Some(placement) } else { Placement::facing(origin, -along, n) }
    }

    /// Its legs, the one at the smaller u of a placement first.
    fn legs_along(&self, at: &Placement) -> [(&'a Leg, usize); 2] {
        let [a, b] = self.legs;
        if (b.0.head - a.0.head).dot(at.u()) < 0.0 { [b, a] } else { [a, b] }
    }

    fn beam(&self, shared: &Shared, at: &Placement) -> Option<Beam> {
        let (splay, from) = match self.along_x {
            true => (shared.base.splay_front, "front splay"),
            false => (shared.base.splay_side, "side splay"),
        };
        let nominal = Nominal { mitre: splay.abs(), bevel: Angle::ZERO, from };
        let end = |leg: &Leg| {
            // Against the leg the wood of this board lies outside the leg's face.
            let plane = match self.along_x {
                true => leg.inner_side(shared, self.tapered)?,
                false => leg.inner_front(shared, self.tapered)?,
            };
            Some(End::Sawn { plane: at.plane_to_board(&plane.flipped()), nominal: Some(nominal) })
        };
        let level = |z: f64, up: bool| {
            let plane = if up { Plane::level(z) } else { Plane::level(z).flipped() };
            Long::Ripped(at.plane_to_board(&plane))
        };
        let lower = match self.lower_edge {
            LowerEdge::Square => Long::Square(-self.depth, Default::default()),
            LowerEdge::Level => level(at.to_world(Point3::new(0.0, -self.depth, 0.0)).z, false),
        };
        let [first, second] = self.legs_along(at);
        Some(Beam {
            thickness: self.thickness,
            edges: [lower, level(self.top, true)],
            names: [EdgeName::LowerEdge, EdgeName::UpperEdge],
            ends: [end(first.0)?, end(second.0)?],
            sides: ["outside", "inside"],
        })
    }

    /// Takes up the board with its landings; its index.
    pub(super) fn add(&self, shared: &Shared, work: &mut Work) -> Option<usize> {
        let placement = self.placement()?;
        let beam = self.beam(shared, &placement)?;
        let board = match beam.board() {
            Ok(board) => board,
            Err(fault) => return work.beam_fault(fault, self.field),
        };
        let index = work.add(Single {
            role: self.role,
            given: None,
            which: vec![self.which.into()],
            board,
            placement,
            make: 1,
            pointer: format!("/base/{}", self.field),
            facts: Vec::new(),
            turned: None,
        })?;
        for (cut, (_, leg)) in self.legs_along(&placement).into_iter().enumerate() {
            let on = self.surface(&work.single(leg).board)?;
            let landing = Landing { from: (index, cut), to: leg, on };
            super::lands(shared, self, &landing, work)?;
            work.land(landing);
        }
        Some(index)
    }

    /// The leg's surface on which the ends land.
    fn surface(&self, leg: &crate::board::Board) -> Option<Source> {
        let edge = |name: EdgeName| leg.edge(&name).map(Source::Edge);
        match (self.along_x, self.tapered) {
            (true, true) => edge(EdgeName::TaperedInsideEdge).or_else(|| edge(EdgeName::InsideEdge)),
            (true, false) => edge(EdgeName::InsideEdge),
            (false, true) => leg.cut(&EdgeName::TaperedInnerFace).map(Source::Cut).or(Some(Source::Far)),
            (false, false) => Some(Source::Far),
        }
    }
}
