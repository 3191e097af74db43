//! The legs of a leaning frame.

use super::Shared;
use super::frame::{Frame, LegLines};
use crate::board::{Against, Board, Cut, Edge, EdgeName, Nominal, PartRole, Role, Source};
use crate::geometry::{Affine, Placement, Plane, Point, Segment};
use crate::piece::assemble::{Single, Work};
use crate::piece::edge::EdgeLine;
use crate::piece::fact::{Fact, FactName};
use crate::units::Angle;

/// How far the wood stands beyond head and foot before they are sawn, mm: any amount above zero gives the same leg.
const WASTE: f64 = 5.0;

/// A stretch of a leg's inside edge on which a rail lands, by its levels up the slope.
#[derive(Debug, Clone)]
pub(super) struct Landing {
    /// What it is on the leg.
    pub(super) name: EdgeName,
    /// Level of the rail's lower arris on its face side.
    pub(super) low: f64,
    /// Level of the rail's upper arris on its face side.
    pub(super) high: f64,
    /// Whether the chord is carried on beyond the upper arris, up to the leg's head.
    pub(super) carried_on: bool,
}

/// The map from a frame's face (distance from the centre line, s) to a leg's (u, v): u along the outside edge's chord
/// from foot to head, v towards the other leg.
fn to_leg(lines: &LegLines) -> Option<(Affine, Point)> {
    let (head, foot) = (lines.outside.start(), lines.outside.end());
    let chord = head - foot;
    (chord.hypot() > 0.0).then(|| {
        let u = chord.normalize();
        let v = u.turn_90();
        let turn = Affine::new([u.x, v.x, u.y, v.y, 0.0, 0.0]);
        (turn * Affine::translate(-foot.to_vec2()), foot)
    })
}

/// The inside edge with its landings flat, from head to foot, each stretch with its name.
fn inside_edges(inside: &EdgeLine, landings: &[Landing], head: f64, foot: f64) -> Option<Vec<(EdgeName, EdgeLine)>> {
    const NAME: EdgeName = EdgeName::InsideEdge;
    if inside.is_straight() || landings.is_empty() {
        return Some(vec![(NAME, inside.between_levels(head, foot)?)]);
    }
    let mut edges = Vec::new();
    let mut level = head;
    for landing in landings {
        let (high, low) = (inside.at_level(landing.high)?, inside.at_level(landing.low)?);
        let top = if landing.carried_on { high + (high - low) * ((head - high.y) / (high.y - low.y)) } else { high };
        if !landing.carried_on && level > landing.high {
            edges.push((NAME, inside.between_levels(level, landing.high)?));
        }
        edges.push((landing.name.clone(), EdgeLine::from_segments(vec![Segment::line(top, low)])));
        level = landing.low;
    }
    edges.push((NAME, inside.between_levels(level, foot)?));
    Some(edges)
}

/// The board of a leg in the frame; its placement puts it on the `sign` side of the frame's centre line.
fn leg_board(shared: &Shared, frame: &Frame, lines: &LegLines, landings: &[Landing]) -> Option<Board> {
    let (map, _) = to_leg(lines)?;
    let thickness = shared.base.leg.thickness.mm();
    // Through the thickness, head and foot wander by this much along s.
    let wander = (thickness * frame.lean.tan()).abs() + WASTE;
    let (top, bottom) = (frame.slope + wander, -wander);
    let outside = lines.outside.between_levels(top, bottom)?.reversed().transformed(map);
    let inside = inside_edges(&lines.inside, landings, top, bottom)?;
    let inside: Vec<(EdgeName, EdgeLine)> = inside.into_iter().map(|(n, e)| (n, e.transformed(map))).collect();
    let (first, last) = (inside.first()?.1.start(), inside.last()?.1.end());
    let mut edges = vec![
        Edge::new(EdgeName::OutsideEdge, outside.segments().to_vec()),
        Edge::new(EdgeName::Head, vec![Segment::line(outside.end(), first)]),
    ];
    edges.extend(inside.iter().map(|(name, line)| Edge::new(name.clone(), line.segments().to_vec())));
    edges.push(Edge::new(EdgeName::Foot, vec![Segment::line(last, outside.start())]));
    Some(Board { thickness, edges, cuts: Vec::new(), keep: None, sides: ["outer face", "inner face"] })
}

/// Takes up the two legs of a frame, front and back; their indices.
pub(super) fn add(
    shared: &Shared,
    frame: &Frame,
    lines: &LegLines,
    landings: &[Landing],
    work: &mut Work,
) -> Option<[usize; 2]> {
    let board = leg_board(shared, frame, lines, landings)?;
    let (_, foot) = to_leg(lines)?;
    let mut made = Vec::new();
    for (sign, side) in [(-1.0, "front"), (1.0, "back")] {
        let across = frame.across * sign;
        let chord = lines.outside.start() - lines.outside.end();
        let along = across * chord.x + frame.up * chord.y;
        let origin = frame.point(sign * foot.x, 0.0, 0.0);
        let placement = Placement::facing(origin, along, frame.out)?;
        // v points towards the other leg: on one side of the frame that makes the axes left-handed.
        let placement = if placement.v().dot(across) < 0.0 { placement } else { placement.flipped_across() };
        let mut board = board.clone();
        board.cuts = cuts(shared, &placement);
        made.push(work.add(Single {
            role: PartRole::Leg,
            given: None,
            which: vec![frame.name.into(), side.into()],
            board,
            placement,
            make: 1,
            pointer: "/base/leg".into(),
            facts: facts(shared, frame, lines, landings),
            turned: None,
        })?);
    }
    <[usize; 2]>::try_from(made).ok()
}

/// Head and foot.
fn cuts(shared: &Shared, placement: &Placement) -> Vec<Cut> {
    let nominal = Nominal { mitre: shared.base.leg.splay.abs(), bevel: Angle::ZERO, from: "splay" };
    let cut = |place: EdgeName, against: Option<Against>, plane: Plane| Cut {
        place,
        against,
        role: Role::End,
        plane: placement.plane_to_board(&plane),
        nominal: Some(nominal),
    };
    vec![
        cut(EdgeName::Head, None, Plane::level(shared.height)),
        cut(EdgeName::Foot, Some(Against::Floor), Plane::level(0.0).flipped()),
    ]
}

/// Lengths and widths of a leg as a rule reads them.
fn facts(shared: &Shared, frame: &Frame, lines: &LegLines, landings: &[Landing]) -> Vec<Fact> {
    let leg = &shared.base.leg;
    let square = leg.splay.radians().cos();
    let inside = lines.inside.start() - lines.inside.end();
    let outside: f64 = lines.outside.segments().iter().map(Segment::length).sum();
    let mut facts = vec![
        Fact::length(FactName::SlopeHeight, "floor to head up the slope of the frame's outside face", frame.slope),
        Fact::length(FactName::OutsideEdge, "outside edge, along its line", outside),
        Fact::length(FactName::HeadAlong, "head, along the sawn line", leg.head.mm()),
        Fact::length(FactName::HeadSquare, "head, square across from the outside edge", leg.head.mm() * square),
        Fact::length(FactName::FootAlong, "foot, along the sawn line", leg.foot.mm()),
        Fact::length(FactName::FootSquare, "foot, square across from the outside edge", leg.foot.mm() * square),
        Fact::angle(
            FactName::InsideEdgeAngle,
            "inside edge's chord from the frame's centre line",
            (-inside.x).atan2(inside.y),
        ),
    ];
    if !lines.inside.is_straight() {
        for landing in landings {
            let gap = lines.inside.gap_to_chord(landing.high, landing.low, crate::geometry::Vec2::new(-1.0, 0.0));
            let words = format!("largest gap between the {} and the curve", landing.name.words());
            let told = gap.map(|g| Fact::length(FactName::LandingGap, words, g.abs()));
            facts.extend(told.map(|fact| match landing.name {
                EdgeName::Landing(role) => fact.of(role),
                _ => fact,
            }));
        }
    }
    facts
}

/// The surface of a leg on which a rail lands: its landing, or the whole inside edge where that is straight.
pub(super) fn landing_surface(board: &Board, name: &EdgeName) -> Option<Source> {
    let find =
        |name: &EdgeName| board.edges.iter().position(|e| e.name == *name && e.is_straight()).map(Source::Edge);
    find(name).or_else(|| find(&EdgeName::InsideEdge))
}
