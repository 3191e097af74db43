//! Sizes and sums that make nonsense of an outline, though it can be built.

use super::batten::turns_back;
use super::outline::Drawn;
use super::outline_problem::{NamedSize, OutlineProblem};
use super::raw::{CornerText, CurvedEdge, EdgeText};
use super::resolve::Resolver;
use super::value::{Pair, Written};
use crate::finding::{Beside, Finding, Place};
use crate::geometry::{Node, Path, Point};
use crate::units::{Length, Quantity};
use std::collections::BTreeSet;

/// The sizes that stand in an outline's coordinates and are zero or negative, each with its value. A rise may be
/// of either sign, and a size that is one is left out.
pub fn sizes_below_zero(corners: &[CornerText], resolver: &Resolver) -> Vec<(String, Length)> {
    let rises: BTreeSet<&str> =
        corners.iter().filter_map(rise).flat_map(|rise| rise.sum.names()).map(|n| n.0).collect();
    let names: BTreeSet<&str> =
        corners.iter().flat_map(coordinates).flat_map(|c| c.sum.names()).map(|n| n.0).collect();
    let value = |name: &str| match resolver.known(name) {
        Some(Quantity::Length(length)) if length <= Length::ZERO => Some(length),
        _ => None,
    };
    names.difference(&rises).filter_map(|name| Some(((*name).to_owned(), value(name)?))).collect()
}

/// Warns of an outline that can be built and is hardly meant: drawn with a size that is zero or negative, turned over by a
/// difference that came out negative, or with a batten that turns back on itself.
pub fn warn(corners: &[CornerText], drawn: &Drawn, place: &Place, resolver: &mut Resolver) {
    for (name, value) in sizes_below_zero(corners, resolver) {
        let at = Place::pointer("/sizes").child(&name);
        let is_told = |finding: &Finding| {
            matches!(finding.problem(), Some(OutlineProblem::SizeBelowZero { .. })) && finding.place == at
        };
        if resolver.findings.iter().any(is_told) {
            continue;
        }
        let problem = OutlineProblem::SizeBelowZero { name, value };
        resolver.findings.push(Finding::of(problem, at).related(place.clone(), Beside::Outline));
    }
    if runs_clockwise(&drawn.nodes) {
        let turned = corners.iter().flat_map(coordinates).find_map(|written| below_zero(written, resolver));
        resolver.findings.extend(turned);
    }
    battens(&drawn.nodes, &[], place, resolver);
}

/// Warns of battens that turn back on themselves, but for those that are told of already.
pub fn battens(nodes: &[Node], told: &[usize], place: &Place, resolver: &mut Resolver) {
    for index in (0..nodes.len()).filter(|index| !told.contains(index)) {
        if let Some(back) = turns_back(nodes, index, false) {
            resolver.findings.push(back.warning(&place.child(index).child("edge")));
        }
    }
}

/// The finding that a coordinate is a difference of sizes which came out negative.
fn below_zero(written: &Written, resolver: &Resolver) -> Option<Finding> {
    let names: Vec<&str> = written.sum.names().map(|(name, _)| name).collect();
    let value = resolver.quiet_length(written).filter(|value| *value < Length::ZERO)?;
    if !written.sum.is_difference() {
        return None;
    }
    let length = |name: &str| match resolver.known(name)? {
        Quantity::Length(length) => Some(length),
        _ => None,
    };
    let names: BTreeSet<&str> = names.into_iter().collect();
    let sizes = names.into_iter().filter_map(|name| Some(NamedSize { name: name.to_owned(), value: length(name)? }));
    let (text, sizes) = (resolver.text_of(written).to_owned(), sizes.collect());
    Some(Finding::of(OutlineProblem::TurnedOver { text, value, sizes }, written.place.clone()))
}

fn coordinates(corner: &CornerText) -> impl Iterator<Item = &Written> {
    let Pair(x, y) = &corner.to;
    let between = match &corner.edge {
        Some(EdgeText::Curved(CurvedEdge::BattenEdge(edge))) => edge.batten.as_slice(),
        _ => &[],
    };
    [x, y].into_iter().chain(between.iter().flat_map(|Pair(x, y)| [x, y]))
}

fn rise(corner: &CornerText) -> Option<&Written> {
    match &corner.edge {
        Some(EdgeText::Curved(CurvedEdge::RiseEdgeText(edge))) => Some(&edge.rise),
        Some(EdgeText::Curved(CurvedEdge::HalfEllipseEdge(edge))) => Some(&edge.half_ellipse),
        _ => None,
    }
}

fn runs_clockwise(nodes: &[Node]) -> bool {
    let corners: Vec<Point> = nodes.iter().map(|node| node.to).collect();
    Path::polyline(&corners, true).signed_area() < 0.0
}
