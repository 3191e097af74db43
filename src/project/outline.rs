//! Outlines worked out: corners and edges worked out, built, and what is wrong with them in words.

use super::drawing;
use super::lint;
use super::outline_problem::OutlineProblem;
use super::problem::Teller;
use super::raw::{Bulge, CornerText, CurvedEdge, EdgeText, OutlineText, RunsOn, WholeShape};
use super::resolve::Resolver;
use crate::finding::{Finding, Place};
use crate::geometry::{Built, EdgeShape, MirrorLine, Node, Outline, Point, ProblemKind, Vec2, build};
use crate::model::Drawing;
use crate::tolerance::{BELOW_A_RULE, SAME_POINT};

/// An outline with the corners and edges that it was built from.
pub struct Drawn {
    /// The corners and edges, in the order written.
    pub nodes: Vec<Node>,
    /// What became of them.
    pub built: Built,
    /// Openings that are drawn with the outline, all inside it and none inside another.
    pub openings: Vec<Outline>,
    /// The drawing from which it comes, where it comes from one.
    pub drawing: Option<Drawing>,
}

/// Works an outline out and builds it.
pub fn outline(
    written: &OutlineText,
    mirror: Option<MirrorLine>,
    place: &Place,
    resolver: &mut Resolver,
) -> Option<Drawn> {
    let corners = match written {
        OutlineText::Corners(corners) => corners.as_slice(),
        OutlineText::Shape(_) | OutlineText::Svg(_) => &[],
    };
    let nodes = match written {
        OutlineText::Corners(corners) => {
            let nodes: Vec<Option<Node>> = corners
                .iter()
                .enumerate()
                .map(|(index, corner)| node(corner, &place.child(index), resolver))
                .collect();
            nodes.into_iter().collect::<Option<Vec<Node>>>()?
        }
        OutlineText::Shape(shape) => whole(shape, mirror, place, resolver)?,
        OutlineText::Svg(svg) => return drawing::shape(svg, mirror, place, resolver),
    };
    if on_one_line(&nodes) {
        let finding = Finding::of(OutlineProblem::EnclosesNothing { corners: nodes.len() }, place.clone());
        let finding = with_sizes(finding, corners, resolver);
        return resolver.refuse(finding);
    }
    match build(&nodes, mirror) {
        Ok(built) => {
            let drawn = Drawn { nodes, built, openings: Vec::new(), drawing: None };
            lint::warn(corners, &drawn, place, resolver);
            Some(drawn)
        }
        Err(problems) => {
            let teller = Teller { nodes: &nodes, mirror, outline: place };
            let mut told: Vec<Finding> = problems.iter().map(|problem| teller.tell(problem)).collect();
            // Two edges that meet beyond the mirror line are both told of the same place.
            told.dedup_by(|second, first| tells_the_same(first, second));
            let told: Vec<Finding> = told.into_iter().map(|finding| with_sizes(finding, corners, resolver)).collect();
            resolver.findings.extend(told);
            let battens =
                problems.iter().filter(|problem| matches!(problem.kind, ProblemKind::BattenHasNoShape { .. }));
            let battens: Vec<usize> = battens.map(|problem| problem.node).collect();
            lint::battens(&nodes, &battens, place, resolver);
            None
        }
    }
}

/// Whether two findings tell the same, whichever of two edges that meet they tell of.
fn tells_the_same(one: &Finding, other: &Finding) -> bool {
    let meets = |finding: &Finding| match finding.problem() {
        Some(OutlineProblem::CrossesItself { how, alone, x, y, .. }) => Some((*how, *alone, x.mm(), y.mm())),
        _ => None,
    };
    match (meets(one), meets(other)) {
        (Some((how, alone, x, y)), Some((other_how, other_alone, u, v))) => {
            how == other_how && alone == other_alone && (x - u).hypot(y - v) < SAME_POINT
        }
        _ => one.is_like(other, 0.0),
    }
}

/// A finding with the sizes of zero or less that the outline is drawn with.
fn with_sizes(finding: Finding, corners: &[CornerText], resolver: &Resolver) -> Finding {
    Finding { sizes_below_zero: lint::sizes_below_zero(corners, resolver), ..finding }
}

fn node(written: &CornerText, place: &Place, resolver: &mut Resolver) -> Option<Node> {
    let to = resolver.point(&written.to);
    let edge = match &written.edge {
        None | Some(EdgeText::Straight) => Some(EdgeShape::Straight),
        Some(EdgeText::Blend) => Some(EdgeShape::Blend),
        Some(EdgeText::Curved(edge)) => curve(edge, place, resolver),
    };
    let radius = resolver.optional_length(written.corner_radius.as_ref());
    let corner_radius = radius?.map(|radius| radius.mm()).filter(|radius| *radius > 0.0);
    Some(Node { to: to?, edge: edge?, corner_radius })
}

fn curve(written: &CurvedEdge, place: &Place, resolver: &mut Resolver) -> Option<EdgeShape> {
    Some(match written {
        CurvedEdge::RiseEdgeText(edge) => EdgeShape::Rise(resolver.length(&edge.rise)?.mm()),
        CurvedEdge::RadiusEdge(edge) => {
            EdgeShape::Radius { radius: resolver.length(&edge.radius)?.mm(), bulges_out: edge.bulges == Bulge::Out }
        }
        CurvedEdge::HalfEllipseEdge(edge) => EdgeShape::HalfEllipse(resolver.length(&edge.half_ellipse)?.mm()),
        CurvedEdge::QuarterEllipseEdge(edge) => {
            EdgeShape::QuarterEllipse { leaves_along_x: edge.quarter_ellipse == MirrorLine::X }
        }
        CurvedEdge::TaperEdge(edge) => EdgeShape::Taper { from_next: edge.taper == RunsOn::After },
        CurvedEdge::BattenEdge(edge) => {
            if edge.batten.is_empty() {
                let place = place.child("edge").child("batten");
                return resolver.refuse(Finding::of(OutlineProblem::NoPoints {}, place));
            }
            let points: Vec<Option<Point>> = edge.batten.iter().map(|point| resolver.point(point)).collect();
            let tension = edge.tension.as_ref().map_or(Some(0.0), |tension| resolver.number(tension));
            EdgeShape::Batten { points: points.into_iter().collect::<Option<Vec<Point>>>()?, tension: tension? }
        }
    })
}

/// Refuses a mirror line for a shape that is whole already.
pub fn not_halved(mirror: Option<MirrorLine>, place: &Place, resolver: &mut Resolver) -> Option<()> {
    if mirror.is_none() {
        return Some(());
    }
    resolver.refuse(Finding::of(OutlineProblem::NotHalved {}, place.clone()))
}

/// The four quarters of an ellipse or circle, anticlockwise.
fn whole(
    shape: &WholeShape,
    mirror: Option<MirrorLine>,
    place: &Place,
    resolver: &mut Resolver,
) -> Option<Vec<Node>> {
    not_halved(mirror, place, resolver)?;
    let (size, at) = match shape {
        WholeShape::EllipseShape(ellipse) => {
            let size = resolver.point(&ellipse.ellipse);
            (size.map(Point::to_vec2), ellipse.at.as_ref())
        }
        WholeShape::CircleShape(circle) => {
            let diameter = resolver.length(&circle.circle);
            (diameter.map(|d| Vec2::new(d.mm(), d.mm())), circle.at.as_ref())
        }
    };
    let middle = at.map_or(Some(Point::ORIGIN), |at| resolver.point(at));
    let (Vec2 { x: a, y: b }, middle) = (size? / 2.0, middle?);
    let quarter = |x: f64, y: f64, leaves_along_x: bool| Node {
        to: middle + Vec2::new(x, y),
        edge: EdgeShape::QuarterEllipse { leaves_along_x },
        corner_radius: None,
    };
    Some(vec![quarter(a, 0.0, true), quarter(0.0, b, false), quarter(-a, 0.0, true), quarter(0.0, -b, false)])
}

/// Whether straight edges join corners that all lie on one line.
fn on_one_line(nodes: &[Node]) -> bool {
    let Some(first) = nodes.first().map(|node| node.to) else { return false };
    let farthest = nodes.iter().map(|node| node.to).max_by(|a, b| a.distance(first).total_cmp(&b.distance(first)));
    let along = farthest.unwrap_or(first) - first;
    let off = |point: Point| along.cross(point - first).abs() / along.hypot().max(f64::MIN_POSITIVE);
    nodes.len() > 1 && nodes.iter().all(|node| node.edge == EdgeShape::Straight && off(node.to) < BELOW_A_RULE)
}
