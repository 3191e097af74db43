//! The edges between corners.

use super::{EdgeFact, EdgeShape, Node, Problem, ProblemKind};
use crate::geometry::{
    Arc, Batten, BattenEnd, BattenError, LARGEST, MOST_TENSION, MirrorLine, Path, Segment, blend, taper,
};
use crate::tolerance::{BELOW_A_RULE, ENCLOSES_NOTHING, ROUNDED_SHARE};
use kurbo::{Point, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};

/// An edge before its corners are rounded.
#[derive(Debug, Clone)]
pub(super) struct Edge {
    /// The node at which it arrives.
    pub(super) node: usize,
    pub(super) path: Path,
    rise: Option<f64>,
    radius: Option<f64>,
}

impl Edge {
    /// Direction of travel at its start (`t` = 0) or its end (1).
    fn direction(&self, t: f64) -> Option<Vec2> {
        let pieces = self.path.segments();
        if t > 0.5 { pieces.last().map(|s| s.tangent(1.0)) } else { pieces.first().map(|s| s.tangent(0.0)) }
    }

    /// What the edge measures.
    pub(super) fn fact(&self) -> EdgeFact {
        let chord = self.path.start().zip(self.path.end()).map_or(0.0, |(a, b)| a.distance(b));
        EdgeFact { node: self.node, chord, rise: self.rise, radius: self.radius, length: self.path.length() }
    }
}

/// The drawn edges, in the order of the nodes.
pub(super) fn edges(nodes: &[Node], mirror: Option<MirrorLine>) -> Result<Vec<Edge>, Vec<Problem>> {
    let last = nodes.len() - 1;
    let corners: Vec<Point> = nodes
        .iter()
        .enumerate()
        .map(|(i, n)| mirror.filter(|_| i == 0 || i == last).map_or(n.to, |line| line.foot(n.to)))
        .collect();
    let outward = if runs_anticlockwise(nodes) { 1.0 } else { -1.0 };
    let side = mirror.map(|line| (line, side_of_points(&rough_points(nodes), line)));
    let square = side.map(|(line, side)| line.normal() * side);
    let before = corners.iter().cycle().skip(last);
    let mut built: Vec<Option<Edge>> = vec![None; nodes.len()];
    let mut problems = Vec::new();
    let draws: Vec<Draw> = before.zip(&corners).map(|(from, to)| Draw { from: *from, to: *to, outward }).collect();
    // What runs on from its neighbours is drawn after them.
    for running_on in [false, true] {
        let drawn = built.clone();
        for (node, draw) in draws.iter().enumerate().skip(usize::from(mirror.is_some())) {
            let shape = &nodes[node].edge;
            if runs_on(shape) != running_on {
                continue;
            }
            // An edge that ends on a mirror line stands square to it there.
            let leaves = square.filter(|_| node == 1);
            let arrives = square.filter(|_| node == last).map(|square| -square);
            let edge = if running_on {
                let neighbour = |at: usize, t: f64| drawn[at % nodes.len()].as_ref().and_then(|e| e.direction(t));
                let leaves = leaves.or_else(|| neighbour(node + last, 1.0));
                draw.running_on(shape, leaves, arrives.or_else(|| neighbour(node + 1, 0.0)))
            } else {
                let held = [leaves, arrives].map(|d| d.map_or(BattenEnd::Free, |d| BattenEnd::Along(d.atan2())));
                draw.edge(shape, held)
            };
            match edge {
                Ok((path, rise, radius)) => built[node] = Some(Edge { node, path, rise, radius }),
                // Its neighbour was told already.
                Err(ProblemKind::NoDirection) if !problems.is_empty() => {}
                Err(kind) => problems.push(Problem { node, kind }),
            }
        }
    }
    if problems.is_empty() { Ok(built.into_iter().flatten().collect()) } else { Err(problems) }
}

/// Whether a shape is known only when its neighbours are.
fn runs_on(shape: &EdgeShape) -> bool {
    matches!(shape, EdgeShape::Blend | EdgeShape::Taper { .. })
}

/// Whether the corners and batten points, joined straight, run round anticlockwise; two corners alone count as if they did.
pub(super) fn runs_anticlockwise(nodes: &[Node]) -> bool {
    let path = Path::polyline(&rough_points(nodes), true);
    path.signed_area() > -ENCLOSES_NOTHING * path.length() * path.length()
}

/// The corners and batten points, in order.
fn rough_points(nodes: &[Node]) -> Vec<Point> {
    let mut points = Vec::new();
    for node in nodes {
        if let EdgeShape::Batten { points: between, .. } = &node.edge {
            points.extend_from_slice(between);
        }
        points.push(node.to);
    }
    points
}

/// The side of the mirror line, 1 or -1, on which a half lies: that of its farthest point.
pub(super) fn side<'a>(paths: impl Iterator<Item = &'a Path> + Clone, line: MirrorLine) -> f64 {
    let reach = |side: f64| paths.clone().filter_map(|p| farthest(p, line, side)).map(|f| f.1).fold(0.0, f64::max);
    if reach(1.0) >= reach(-1.0) { 1.0 } else { -1.0 }
}

/// The place of a path farthest from the mirror line on one side (1 or -1), and its distance; `None` for an empty path.
pub(super) fn farthest(path: &Path, line: MirrorLine, side: f64) -> Option<(Point, f64)> {
    let places = path.segments().iter().flat_map(|s| {
        let turns = s.turns_along(line.normal());
        turns.into_iter().chain([0.0, 1.0]).map(|t| s.eval(t)).collect::<Vec<_>>()
    });
    places.map(|p| (p, line.distance(p) * side)).max_by(|a, b| a.1.total_cmp(&b.1))
}

fn side_of_points(points: &[Point], line: MirrorLine) -> f64 {
    let far = points.iter().map(|p| line.distance(*p)).max_by(|a, b| a.abs().total_cmp(&b.abs()));
    if far.unwrap_or(0.0) >= 0.0 { 1.0 } else { -1.0 }
}

/// The taper from a point along a direction to another.
fn tapered(from: Point, along: Vec2, to: Point) -> Option<Path> {
    let along = along.normalize();
    let across = to - from;
    let length = across.dot(along);
    // Shorter than this it would all but turn at once.
    if length < BELOW_A_RULE { None } else { taper(from, along, length, along.cross(across)) }
}

/// What is known of an edge before its shape.
struct Draw {
    from: Point,
    to: Point,
    /// 1 where "out of the part" is to the right of travel, -1 where to the left.
    outward: f64,
}

/// An edge's path, its rise (positive out of the part) and its radius.
type Drawn = (Path, Option<f64>, Option<f64>);

impl Draw {
    fn edge(&self, shape: &EdgeShape, held: [BattenEnd; 2]) -> Result<Drawn, ProblemKind> {
        let half = self.from.distance(self.to) / 2.0;
        if 2.0 * half < BELOW_A_RULE {
            return Err(ProblemKind::RepeatedCorner { at: self.to });
        }
        match shape {
            EdgeShape::Straight => Ok((Path::line(self.from, self.to), None, None)),
            EdgeShape::Rise(rise) if rise.abs() > half * (1.0 + ROUNDED_SHARE) => {
                Err(ProblemKind::RiseTooLarge { rise: *rise, largest: half })
            }
            EdgeShape::Rise(rise) => Ok(self.arc(*rise)),
            EdgeShape::Radius { radius, .. } if *radius < half * (1.0 - ROUNDED_SHARE) => {
                Err(ProblemKind::RadiusTooSmall { radius: *radius, smallest: half })
            }
            EdgeShape::Radius { radius, bulges_out } => {
                // The rise r - sqrt(r² - h²), written so that a flat arc keeps its digits.
                let rise = half * half / (radius + (radius * radius - half * half).max(0.0).sqrt());
                Ok(self.arc(if *bulges_out { rise } else { -rise }))
            }
            EdgeShape::HalfEllipse(rise) => Ok(self.half_ellipse(*rise)),
            EdgeShape::QuarterEllipse { leaves_along_x } => self.quarter_ellipse(*leaves_along_x),
            EdgeShape::Batten { points, tension } => self.batten(points, *tension, held),
            EdgeShape::Blend | EdgeShape::Taper { .. } => Err(ProblemKind::NoDirection),
        }
    }

    /// A blend or a taper, by the directions of its neighbours where they are known.
    fn running_on(
        &self,
        shape: &EdgeShape,
        leaves: Option<Vec2>,
        arrives: Option<Vec2>,
    ) -> Result<Drawn, ProblemKind> {
        if self.from.distance(self.to) < BELOW_A_RULE {
            return Err(ProblemKind::RepeatedCorner { at: self.to });
        }
        let known = |direction: Option<Vec2>| direction.ok_or(ProblemKind::NoDirection);
        let path = match shape {
            EdgeShape::Taper { from_next: false } => tapered(self.from, known(leaves)?, self.to),
            // Drawn from its far end, back along the edge after it.
            EdgeShape::Taper { from_next: true } => {
                tapered(self.to, -known(arrives)?, self.from).map(|path| path.reversed())
            }
            _ => blend(self.from, known(leaves)?, self.to, known(arrives)?),
        };
        path.map(|path| (path, None, None)).ok_or(ProblemKind::TaperTurnsBack)
    }

    /// A circular arc by its rise.
    fn arc(&self, rise: f64) -> Drawn {
        if rise.abs() < BELOW_A_RULE {
            return (Path::line(self.from, self.to), Some(rise), None);
        }
        let arc = Segment::arc_by_rise(self.from, self.to, rise * self.outward);
        let radius = match &arc {
            Segment::Arc(arc) => Some(arc.p.hypot()),
            _ => None,
        };
        (Path::open(vec![arc]), Some(rise), radius)
    }

    fn half_ellipse(&self, rise: f64) -> Drawn {
        if rise.abs() < BELOW_A_RULE {
            return (Path::line(self.from, self.to), Some(rise), None);
        }
        let center = self.from.midpoint(self.to);
        let p = self.from - center;
        // Half the chord turned to the right of travel points out of an anticlockwise part.
        let q = p.turn_90() / p.hypot() * (rise * self.outward);
        let arc = Arc { center, p, q, start: 0.0, sweep: PI };
        (Path::open(vec![Segment::Arc(arc)]), Some(rise), arc.radius(ROUNDED_SHARE))
    }

    fn quarter_ellipse(&self, leaves_along_x: bool) -> Result<Drawn, ProblemKind> {
        let across = self.to - self.from;
        if across.x.abs() < BELOW_A_RULE || across.y.abs() < BELOW_A_RULE {
            return Err(ProblemKind::QuarterEllipseFlat);
        }
        let q = if leaves_along_x { Vec2::new(across.x, 0.0) } else { Vec2::new(0.0, across.y) };
        let center = self.to - q;
        let arc = Arc { center, p: self.from - center, q, start: 0.0, sweep: FRAC_PI_2 };
        Ok((Path::open(vec![Segment::Arc(arc)]), None, arc.radius(ROUNDED_SHARE)))
    }

    fn batten(&self, between: &[Point], tension: f64, held: [BattenEnd; 2]) -> Result<Drawn, ProblemKind> {
        let points: Vec<Point> = [self.from].into_iter().chain(between.iter().copied()).chain([self.to]).collect();
        let batten = Batten::spring(&points, held, tension).map_err(|error| match error {
            BattenError::PointCount(count) => ProblemKind::TooManyBattenPoints { count },
            BattenError::BadNumber if (0.0..=MOST_TENSION).contains(&tension) => {
                ProblemKind::OutOfReach { limit: LARGEST }
            }
            BattenError::BadNumber => ProblemKind::TensionOutOfRange { tension, largest: MOST_TENSION },
            BattenError::RepeatedPoint(index) => {
                ProblemKind::RepeatedBattenPoint { at: points.get(index).copied().unwrap_or(self.to) }
            }
            BattenError::NoShape { tension } => ProblemKind::BattenHasNoShape { tension },
        })?;
        Ok((Path::open(batten.to_cubics().into_iter().map(Segment::Cubic).collect()), None, None))
    }
}
