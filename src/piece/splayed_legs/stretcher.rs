//! Stretchers between splayed legs: a box of four, or an H of three.

use super::Shared;
use super::apron::{Between, end_face, long_face};
use super::leg::Leg;
use crate::board::{EdgeName, Nominal, PartRole, Source};
use crate::finding::Finding;
use crate::geometry::{Placement, Plane, Point3, Vec3};
use crate::model::base::{Layout, LowerEdge, Stretchers};
use crate::piece::LegsProblem;
use crate::piece::assemble::{Landing, Single, Work};
use crate::piece::beam::{Beam, End, Long};
use crate::piece::limits::base;
use crate::tolerance::LANDS;
use crate::units::{Angle, Length};

/// Legs at the smaller and at the greater u.
type Pair<'a> = [(&'a Leg, usize); 2];

/// Takes up the stretchers; `pairs` are front, back, right and left.
pub(super) fn add(shared: &Shared, given: &Stretchers, pairs: &[Pair; 4], work: &mut Work) -> Option<()> {
    match given.layout {
        Layout::Box => {
            for pair in &pairs[..2] {
                along(shared, given, *pair)?.add(shared, work)?;
            }
            for pair in &pairs[2..] {
                across(shared, given, *pair)?.add(shared, work)?;
            }
            Some(())
        }
        Layout::H => {
            let right = across(shared, given, pairs[2])?;
            let left = across(shared, given, pairs[3])?;
            let ends = [(left.face, left.add(shared, work)?), (right.face, right.add(shared, work)?)];
            middle(shared, given, ends, left.top, work)
        }
    }
}

/// Height of the upper outside arris of a board whose face lies `splay` from plumb.
fn top(given: &Stretchers, splay: Angle) -> f64 {
    given.height.mm() + given.depth.mm() * splay.radians().cos()
}

/// Whether a height lies on the tapered part of the legs.
fn is_tapered(shared: &Shared, leg: &Leg, z: f64) -> bool {
    shared.base.leg.taper.is_some_and(|t| z * leg.arris / shared.height <= leg.arris - t.from.mm())
}

/// A stretcher along x of a box, centred in the legs' thickness unless an inset is given.
fn along<'a>(shared: &Shared, given: &Stretchers, legs: Pair<'a>) -> Option<Between<'a>> {
    let leg = legs[0].0;
    let top = top(given, shared.base.splay_side);
    let (_, thick) = Leg::section(shared, leg.arris, top * leg.arris / shared.height);
    let inset = given.inset.map_or((thick - given.thickness.mm()) / 2.0, |i| i.mm());
    let which = if leg.y < 0.0 { "front" } else { "back" };
    let tapered = is_tapered(shared, leg, top);
    Some(between(given, legs, true, long_face(leg, inset)?, top, (PartRole::Stretcher, which), tapered))
}

/// A stretcher along y whose middle lies on the middle of the legs' inner front faces, unless a box's inset is given.
fn across<'a>(shared: &Shared, given: &Stretchers, legs: Pair<'a>) -> Option<Between<'a>> {
    let leg = legs[0].0;
    let top = top(given, shared.base.splay_front);
    let middle = (given.height.mm() + top) / 2.0;
    // The middle of the inner front face at that height: its width and depth change slowly with u, so a few rounds settle it.
    let mut u = middle * leg.arris / shared.height;
    for _ in 0..50 {
        let (width, thick) = Leg::section(shared, leg.arris, u);
        let z = leg.placement.to_world(Point3::new(u, width / 2.0, -thick)).z;
        u += (middle - z) * leg.arris / shared.height;
    }
    let (width, thick) = Leg::section(shared, leg.arris, u);
    let on_middle = leg.placement.to_world(Point3::new(u, width / 2.0, -thick));
    let parallel = end_face(shared, leg, 0.0)?;
    let centred = -(parallel.distance(on_middle) + given.thickness.mm() / 2.0);
    let inset = given.inset.filter(|_| given.layout == Layout::Box).map_or(centred, |i| i.mm());
    let face = parallel.moved(-inset);
    let which = if leg.x < 0.0 { "left" } else { "right" };
    Some(between(given, legs, false, face, top, (PartRole::EndStretcher, which), is_tapered(shared, leg, top)))
}

fn between<'a>(
    given: &Stretchers,
    legs: Pair<'a>,
    along_x: bool,
    face: Plane,
    top: f64,
    (role, which): (PartRole, &'static str),
    tapered: bool,
) -> Between<'a> {
    Between {
        role,
        field: "stretchers",
        which,
        legs,
        along_x,
        thickness: given.thickness.mm(),
        depth: given.depth.mm(),
        face,
        top,
        lower_edge: LowerEdge::Square,
        tapered,
    }
}

/// The stretcher along x between the middles of two others (left and right, each with its outside face), plumb, its upper edge level with theirs.
fn middle(shared: &Shared, given: &Stretchers, ends: [(Plane, usize); 2], top: f64, work: &mut Work) -> Option<()> {
    let (thick, depth) = (given.thickness.mm(), given.depth.mm());
    // The face side looks to the back: with v up, u runs to the left.
    let [left, right] = ends;
    let ends = [right, left];
    let placement = Placement::facing(Point3::new(0.0, thick / 2.0, top), -Vec3::X, Vec3::Y)?;
    let nominal = Nominal { mitre: shared.base.splay_front.abs(), bevel: Angle::ZERO, from: "front splay" };
    let end = |face: &Plane| {
        let plane = placement.plane_to_board(&face.moved(-thick));
        End::Sawn { plane, nominal: Some(nominal) }
    };
    let beam = Beam {
        thickness: thick,
        edges: [-depth, 0.0].map(|v| Long::Square(v, Default::default())),
        names: [EdgeName::LowerEdge, EdgeName::UpperEdge],
        ends: [end(&ends[0].0), end(&ends[1].0)],
        sides: ["back", "front"],
    };
    let board = match beam.board() {
        Ok(board) => board,
        Err(fault) => return work.beam_fault(fault, "stretchers"),
    };
    let index = work.add(Single {
        role: PartRole::Stretcher,
        given: None,
        which: Vec::new(),
        board,
        placement,
        make: 1,
        pointer: "/base/stretchers".into(),
        facts: Vec::new(),
        turned: None,
    })?;
    for (cut, (_, to)) in ends.into_iter().enumerate() {
        let landing = Landing { from: (index, cut), to, on: Source::Far };
        let over = work.overshoot(&landing);
        if over > LANDS {
            let problem = LegsProblem::OffStretcher { beyond: Length::from_mm(over) };
            let finding = Finding::of(problem, base("stretchers/depth"));
            return work.stop_to_cure(finding, &["stretchers/depth", "stretchers/thickness", "splay_front"]);
        }
        work.land(landing);
    }
    Some(())
}
