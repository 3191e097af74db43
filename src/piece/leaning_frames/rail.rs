//! The rails of a leaning frame.

use super::Shared;
use super::frame::{Frame, LegLines};
use super::leg::Landing;
use crate::board::{EdgeName, Nominal, PartRole};
use crate::finding::Finding;
use crate::geometry::{Affine, Placement, Plane, Point3, Vec3};
use crate::model::base::{BottomRail, Curve, Meets, TopRail};
use crate::piece::FrameProblem;
use crate::piece::assemble::{Single, Work};
use crate::piece::beam::{Beam, End, Long};
use crate::piece::limits::base;
use crate::tolerance::ROUNDING;
use crate::units::{Angle, Length};

/// A rail of either kind.
#[derive(Debug, Clone)]
pub(super) struct Rail {
    /// Thickness.
    pub(super) thickness: Length,
    /// Depth, square across the rail's face side.
    pub(super) depth: Length,
    /// Plumb height of the face side's lower arris above the floor; the bottom rail's only.
    height: Length,
    /// Its face below the leg's outside face; centred in the leg's thickness where not given.
    set_back: Option<Length>,
    /// The lower edge.
    lower_edge: Curve,
    /// The upper edge; a top rail's is planed level.
    upper_edge: Curve,
    /// How its ends meet curved legs.
    meets: Meets,
}

impl From<&TopRail> for Rail {
    fn from(rail: &TopRail) -> Rail {
        Rail {
            thickness: rail.thickness,
            depth: rail.depth,
            height: Length::ZERO,
            set_back: rail.set_back,
            lower_edge: rail.lower_edge.clone(),
            upper_edge: Curve::Straight,
            meets: rail.meets,
        }
    }
}

impl From<&BottomRail> for Rail {
    fn from(rail: &BottomRail) -> Rail {
        Rail {
            thickness: rail.thickness,
            depth: rail.depth,
            height: rail.height,
            set_back: rail.set_back,
            lower_edge: rail.lower_edge.clone(),
            upper_edge: rail.upper_edge.clone(),
            meets: rail.meets,
        }
    }
}

/// Which rail.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Which {
    /// Between the heads.
    Top,
    /// Near the floor.
    Bottom,
}

impl Which {
    /// What it is in the piece.
    pub(super) const fn role(self) -> PartRole {
        match self {
            Which::Top => PartRole::TopRail,
            Which::Bottom => PartRole::BottomRail,
        }
    }

    /// Its field, which is called as its role is.
    pub(super) const fn field(self) -> &'static str {
        self.role().key()
    }
}

/// Where a rail lies in its frame.
#[derive(Debug, Clone, Copy)]
pub(super) struct RailPlace {
    /// Which rail.
    pub(super) which: Which,
    /// Depth of its face side below the frame's outside face, mm.
    pub(super) set_back: f64,
    /// Level of its lower arris on its face side.
    pub(super) low: f64,
    /// Level of its upper arris on its face side.
    pub(super) high: f64,
}

impl RailPlace {
    /// Where a rail of the base lies in a frame.
    pub(super) fn new(shared: &Shared, frame: &Frame, which: Which, rail: &Rail) -> RailPlace {
        let set_back = shared.base.set_back(rail.set_back, rail.thickness).mm();
        let depth = rail.depth.mm();
        let low = match which {
            Which::Top => frame.s_at(shared.height, set_back) - depth,
            Which::Bottom => frame.s_at(rail.height.mm(), set_back),
        };
        RailPlace { which, set_back, low, high: low + depth }
    }

    /// The landing it asks of the legs; `None` where it is scribed to them.
    pub(super) fn landing(&self, rail: &Rail) -> Option<Landing> {
        let carried_on = self.which == Which::Top;
        (rail.meets == Meets::Flat).then_some(Landing {
            name: EdgeName::Landing(self.which.role()),
            low: self.low,
            high: self.high,
            carried_on,
        })
    }
}

/// Takes up a frame's rail; its index.
pub(super) fn add(
    shared: &Shared,
    frame: &Frame,
    lines: &LegLines,
    rail: &Rail,
    place: &RailPlace,
    work: &mut Work,
) -> Option<usize> {
    let field = place.which.field();
    let origin = frame.point(0.0, place.low, place.set_back);
    let placement = Placement::facing(origin, frame.across, frame.out)?;
    let placement = if placement.v().dot(frame.up) > 0.0 { placement } else { placement.flipped_across() };
    let upper = match place.which {
        Which::Top => Long::Ripped(placement.plane_to_board(&Plane::level(shared.height))),
        Which::Bottom => Long::Square(place.high - place.low, rail.upper_edge.clone()),
    };
    let beam = Beam {
        thickness: rail.thickness.mm(),
        edges: [Long::Square(0.0, rail.lower_edge.clone()), upper],
        names: [EdgeName::LowerEdge, EdgeName::UpperEdge],
        ends: ends(shared, lines, rail, place)?,
        sides: ["outside", "inside"],
    };
    let board = match beam.board() {
        Ok(board) => board,
        Err(fault) => return work.beam_fault(fault, field),
    };
    work.add(Single {
        role: place.which.role(),
        given: None,
        which: vec![frame.name.into()],
        board,
        placement,
        make: 1,
        pointer: format!("/base/{field}"),
        facts: Vec::new(),
        turned: None,
    })
}

/// The two ends of a rail in its own axes: flat against the landings or following the curves.
fn ends(shared: &Shared, lines: &LegLines, rail: &Rail, place: &RailPlace) -> Option<[End; 2]> {
    let to_rail = Affine::translate((0.0, -place.low));
    if rail.meets == Meets::Scribed && !lines.inside.is_straight() {
        // Beyond the upper arris the far side may be longer: carry on by as much as any lean can ask, and a little.
        let beyond = rail.thickness.mm() * 4.0 + 10.0;
        let right = lines.inside.between_levels(place.high + beyond, place.low)?.reversed().transformed(to_rail);
        let left = right.transformed(Affine::FLIP_X);
        return Some([End::Scribed(left), End::Scribed(right)]);
    }
    let (low, high) = (lines.inside.at_level(place.low)?, lines.inside.at_level(place.high)?);
    let along = high - low;
    let nominal = Nominal { mitre: shared.base.leg.splay.abs(), bevel: Angle::ZERO, from: "splay" };
    let end = |sign: f64| {
        let plane = Plane::through(Point3::new(sign * low.x, 0.0, 0.0), Vec3::new(sign * along.y, -along.x, 0.0))?;
        Some(End::Sawn { plane, nominal: Some(nominal) })
    };
    Some([end(-1.0)?, end(1.0)?])
}

/// Whether a rail fits between the leg's faces and above the floor; a finding where not.
pub(super) fn fits(shared: &Shared, frame: &Frame, rail: &Rail, place: &RailPlace, work: &mut Work) -> bool {
    let field = place.which.field();
    let words = place.which.role().words().to_owned();
    let (leg, thick) = (shared.base.leg.thickness.mm(), rail.thickness.mm());
    let over = (place.set_back + thick - leg).max(-place.set_back);
    // Rounding of a rail exactly as thick as the leg.
    if over > ROUNDING {
        let fields = [format!("{field}/thickness"), format!("{field}/set_back")];
        let problem = FrameProblem::RailTooThick {
            rail: words,
            thickness: rail.thickness,
            leg: shared.base.leg.thickness,
            stands_out: Length::from_mm(over),
        };
        let finding = Finding::of(problem, base(&fields[0]));
        work.ask(&finding, &[&fields[0], &fields[1], "leg/thickness"]);
        work.perhaps_near(&fields[0], leg - rail.set_back.map_or(0.0, |back| back.mm()));
        return work.stop::<()>(finding).is_some();
    }
    let lowest = frame.z_at(place.low, place.set_back + thick).min(frame.z_at(place.low, place.set_back));
    if lowest < -ROUNDING {
        let part = if place.which == Which::Top { "depth" } else { "height" };
        let own = format!("{field}/{part}");
        let problem = FrameProblem::RailBelowFloor { rail: words, below: Length::from_mm(-lowest) };
        let finding = Finding::of(problem, base(&own));
        return work.stop_to_cure::<()>(finding, &[&own, "height"]).is_some();
    }
    true
}
