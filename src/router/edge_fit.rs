//! Whether the profiles of a part find the wood that they need: across the part, beside its openings, and in its thickness.

use super::problem::{EdgeProblem, InTheWay, ProfilesMeet};
use super::profile::ProfileSection;
use super::profiled_edge::edge_sections;
use super::routed::with_part_on_left;
use crate::finding::{Finding, Severity};
use crate::geometry::{Join, Path, Point, Segment, Vec2, contacts, offset};
use crate::model::{DrawnPattern, EdgeChoice, EdgeToProfile, edge_of};
use crate::tolerance::{BELOW_A_RULE, CONTACT_TOLERANCE, JUST, UNSEEN};
use crate::units::Length;

/// An edge is looked across at so many places: more than its curves have turns.
const LOOKS: usize = 48;
/// Edges that face each other within 45 degrees lie across; at a sharper corner a profile runs out at its end.
const FACING: f64 = -std::f64::consts::FRAC_1_SQRT_2;
/// A thinner edge than this, mm, that comes out slanting breaks away and cuts the hand (common practice, no source).
const THINNEST: f64 = 1.0;
/// An edge of 75 degrees or more is not sharp: the tangent of the other 15.
const BLUNT: f64 = 0.268;

/// What does not go together among a part's profiles.
pub(super) fn findings(drawn: &DrawnPattern) -> Vec<Finding> {
    let sections: Vec<(&EdgeToProfile, ProfileSection)> =
        edge_sections(drawn).into_iter().filter_map(|(worked, section)| Some((worked, section.ok()?))).collect();
    let mut found = Vec::new();
    for (index, (worked, section)) in sections.iter().enumerate() {
        found.extend(too_wide(drawn, worked, section));
        found.extend(sharp(drawn, worked, section));
        let before = sections.iter().take(index).filter(|(other, _)| share_an_edge(drawn, worked, other));
        found.extend(before.filter_map(|other| both(drawn, (worked, section), (other.0, &other.1))));
    }
    found
}

fn index_of(drawn: &DrawnPattern, choice: &EdgeChoice) -> Option<usize> {
    edge_of(&drawn.routing.edges, choice)
}

/// Whether two profiles run along one edge; one without an edge runs along all.
fn share_an_edge(drawn: &DrawnPattern, one: &EdgeToProfile, other: &EdgeToProfile) -> bool {
    match (&one.edge, &other.edge) {
        (Some(one), Some(other)) => index_of(drawn, one) == index_of(drawn, other),
        _ => true,
    }
}

/// A profile that reaches farther in than there is wood, or, that failing, into an opening or a hole.
fn too_wide(drawn: &DrawnPattern, worked: &EdgeToProfile, section: &ProfileSection) -> Option<Finding> {
    let reach = section.eats_in;
    let room = |holes: bool| match &worked.edge {
        None => all_round(drawn, reach, holes),
        Some(choice) => from_edge(drawn, choice, holes).filter(|room| *room <= reach),
    };
    let (room, holes) = room(false).map(|room| (room, false)).or_else(|| Some((room(true)?, true)))?;
    let meets = match (holes, &worked.edge) {
        (true, _) => InTheWay::Hole,
        (false, None) => InTheWay::Itself,
        (false, Some(_)) => InTheWay::End,
    };
    let [reaches_in, met, most] = [reach, room, (room - UNSEEN).max(0.0)].map(Length::from_mm);
    let severity = if holes { Severity::Warn } else { Severity::Stop };
    let problem = EdgeProblem::TooWide { meets, most, reaches_in, room: met };
    Some(Finding::of(problem, worked.place.clone()).weighed(severity))
}

/// What is cut through a part within its outline: openings, slots, holes.
fn cut_through(drawn: &DrawnPattern) -> Vec<Path> {
    let openings = drawn.openings.iter().map(|opening| opening.what.path().clone());
    let holes = drawn.holes.iter().map(|hole| Path::circle(hole.what.at, hole.what.diameter.mm() / 2.0));
    openings.chain(drawn.slots.iter().map(|slot| slot.what.ring())).chain(holes).collect()
}

/// How far in profiles along all edges may reach before they meet, mm; `None` where they do not at `reach`.
fn all_round(drawn: &DrawnPattern, reach: f64, holes: bool) -> Option<f64> {
    let mut rings = vec![drawn.built.outline.path().clone()];
    if holes {
        rings.extend(cut_through(drawn));
    }
    let count = rings.len();
    let apart = |by: f64| offset(&rings, -by, Join::Round).is_ok_and(|moved| moved.rings.len() == count);
    // What touches already is told by itself.
    if apart(reach) || !apart(UNSEEN) {
        return None;
    }
    let (mut low, mut high) = (UNSEEN, reach);
    while high - low > UNSEEN {
        let middle = (low + high) / 2.0;
        if apart(middle) { low = middle } else { high = middle }
    }
    Some(high)
}

/// How far in from one edge the wood reaches, mm: to the edge across, or only to the nearest place that is cut through.
fn from_edge(drawn: &DrawnPattern, choice: &EdgeChoice, holes: bool) -> Option<f64> {
    let edge = with_part_on_left(drawn, drawn.routing.edges.get(index_of(drawn, choice)?)?)?;
    let away =
        |ring: &Path| looks_at(ring).into_iter().filter_map(|at| Some(edge.nearest(at)?.0)).collect::<Vec<_>>();
    if holes {
        return cut_through(drawn).iter().flat_map(away).reduce(f64::min);
    }
    let outline = drawn.built.outline.path();
    let across = (0..LOOKS).filter_map(|look| {
        let place = edge.place_at_length(edge.length() * (look as f64 + 0.5) / LOOKS as f64)?;
        Some(look_across(outline, edge.point_at(place)?, edge.tangent_at(place)?.turn_90()))
    });
    // Of a part without an edge across: its farthest place.
    let farthest = away(outline).into_iter().fold(0.0, f64::max);
    Some(across.fold(farthest, f64::min))
}

/// A profile that leaves a slanting edge so thin that it cuts.
fn sharp(drawn: &DrawnPattern, worked: &EdgeToProfile, section: &ProfileSection) -> Option<Finding> {
    let left = section.edge_from_to.1 - section.edge_from_to.0;
    let pieces = section.line.segments();
    let slope = match (section.on_face > 0.0, section.on_far_side > 0.0) {
        (true, false) => pieces.last()?.tangent(1.0),
        (false, true) => pieces.first()?.tangent(0.0),
        _ => return None,
    };
    let thinnest = THINNEST.min(drawn.thickness.mm());
    if left >= thinnest - JUST || slope.x.abs() <= BLUNT * slope.y.abs() {
        return None;
    }
    let [least, deepest] = [thinnest, drawn.thickness.mm() - thinnest].map(Length::from_mm);
    let (nothing, left) = (left < JUST, Length::from_mm(left));
    Some(Finding::of(EdgeProblem::KnifeEdge { nothing, least, left, deepest }, worked.place.clone()))
}

/// Two profiles of one edge that want the same wood.
fn both(
    drawn: &DrawnPattern,
    (worked, section): (&EdgeToProfile, &ProfileSection),
    (other, before): (&EdgeToProfile, &ProfileSection),
) -> Option<Finding> {
    let other_place = || other.place.pointer.clone();
    let side = if section.on_face > 0.0 && before.on_face > 0.0 {
        Some(ProfilesMeet::OnFace)
    } else if section.on_far_side > 0.0 && before.on_far_side > 0.0 {
        Some(ProfilesMeet::OnFarSide)
    } else {
        None
    };
    if let Some(how) = side {
        let problem = EdgeProblem::ProfilesMeet { how, other: other_place(), over: None, deepest: None };
        return Some(Finding::of(problem, worked.place.clone()));
    }
    let thickness = drawn.thickness.mm();
    let depth = |of: &ProfileSection| thickness - (of.edge_from_to.1 - of.edge_from_to.0);
    let (own, room) = (depth(section), thickness - depth(before));
    let over = own - room;
    (over > JUST).then(|| {
        let how = ProfilesMeet::TooDeep([own, depth(before), thickness].map(Length::from_mm));
        let [over, deepest] = [over, room].map(|mm| Some(Length::from_mm(mm)));
        let problem = EdgeProblem::ProfilesMeet { how, other: other_place(), over, deepest };
        Finding::of(problem, worked.place.clone())
    })
}

/// Places along a ring.
fn looks_at(ring: &Path) -> Vec<Point> {
    let along = |piece: &Segment| (0..LOOKS).map(|look| piece.eval(look as f64 / LOOKS as f64)).collect::<Vec<_>>();
    ring.segments().iter().flat_map(along).collect()
}

/// How far it is from a place on an edge, square into the part, to the first edge that faces it, mm.
fn look_across(outline: &Path, from: Point, into: Vec2) -> f64 {
    let reach = outline.bounding_box().map_or(0.0, |bounds| bounds.width() + bounds.height());
    let ray = Segment::line(from + into * BELOW_A_RULE, from + into * reach);
    let facing = |piece: &Segment| {
        let meets = contacts(&ray, piece, CONTACT_TOLERANCE).unwrap_or_default();
        let facing = meets.iter().filter(|meet| piece.tangent(meet.second.0).turn_90().dot(into) < FACING);
        facing.map(|meet| meet.point.distance(from)).fold(f64::INFINITY, f64::min)
    };
    outline.segments().iter().map(facing).fold(f64::INFINITY, f64::min)
}
