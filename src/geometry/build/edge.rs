//! The edges between corners.

use super::{EdgeFact, EdgeShape, Node, Problem, ProblemKind};
use crate::geometry::{Arc, Batten, BattenEnd, BattenError, LARGEST, MOST_TENSION, MirrorLine, Path, Segment};
use kurbo::{Point, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};

/// Corners and batten points nearer to each other than this, mm, are the same: no rule shows it.
const SAME: f64 = 1e-3;
/// An arc that rises by less than this, mm, is a straight line: its radius would be kilometres.
const FLAT: f64 = 1e-3;
/// By this share a rise may exceed half the chord, or a radius fall short of it: sums of sizes round.
const ROUNDING: f64 = 1e-9;

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
    let before = corners.iter().cycle().skip(last);
    let mut built = Vec::new();
    let mut problems = Vec::new();
    for (node, (from, to)) in before.zip(&corners).enumerate().skip(usize::from(mirror.is_some())) {
        let draw = Draw { from: *from, to: *to, outward };
        // A batten stands square to a mirror line that it ends on.
        let leaves = side.filter(|_| node == 1).map(|(line, side)| line.normal() * side);
        let arrives = side.filter(|_| node == last).map(|(line, side)| line.normal() * -side);
        let held = [leaves, arrives].map(|d| d.map_or(BattenEnd::Free, |d| BattenEnd::Along(d.atan2())));
        match draw.edge(&nodes[node].edge, held) {
            Ok((path, rise, radius)) => built.push(Edge { node, path, rise, radius }),
            Err(kind) => problems.push(Problem { node, kind }),
        }
    }
    if problems.is_empty() { Ok(built) } else { Err(problems) }
}

/// Whether the corners and batten points, joined straight, run round anticlockwise; two corners alone count as if they did.
pub(super) fn runs_anticlockwise(nodes: &[Node]) -> bool {
    let path = Path::polyline(&rough_points(nodes), true);
    // Rounding leaves this much of an area where there is none.
    path.signed_area() > -1e-9 * path.length() * path.length()
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
        if 2.0 * half < SAME {
            return Err(ProblemKind::RepeatedCorner { at: self.to });
        }
        match shape {
            EdgeShape::Straight => Ok((Path::line(self.from, self.to), None, None)),
            EdgeShape::Rise(rise) if rise.abs() > half * (1.0 + ROUNDING) => {
                Err(ProblemKind::RiseTooLarge { rise: *rise, largest: half })
            }
            EdgeShape::Rise(rise) => Ok(self.arc(*rise)),
            EdgeShape::Radius { radius, .. } if *radius < half * (1.0 - ROUNDING) => {
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
        }
    }

    /// A circular arc by its rise: with h half the chord, radius (h² + rise²) / (2 rise) (Machinery's Handbook, 31st
    /// edition, p. 79) and angle 4 atan(rise / h).
    fn arc(&self, rise: f64) -> Drawn {
        let half = self.from.distance(self.to) / 2.0;
        if rise.abs() < FLAT {
            return (Path::line(self.from, self.to), Some(rise), None);
        }
        let radius = (half * half + rise * rise) / (2.0 * rise.abs());
        let right = rise * self.outward;
        let left = (self.to - self.from).turn_90() / (2.0 * half);
        let center = self.from.midpoint(self.to) + left * ((radius - rise.abs()) * right.signum());
        let p = self.from - center;
        let arc = Arc { center, p, q: p.turn_90(), start: 0.0, sweep: 4.0 * (right / half).atan() };
        (Path::open(vec![Segment::Arc(arc)]), Some(rise), Some(radius))
    }

    fn half_ellipse(&self, rise: f64) -> Drawn {
        if rise.abs() < FLAT {
            return (Path::line(self.from, self.to), Some(rise), None);
        }
        let center = self.from.midpoint(self.to);
        let p = self.from - center;
        // Half the chord turned to the right of travel points out of an anticlockwise part.
        let q = p.turn_90() / p.hypot() * (rise * self.outward);
        let arc = Arc { center, p, q, start: 0.0, sweep: PI };
        (Path::open(vec![Segment::Arc(arc)]), Some(rise), arc.radius(ROUNDING))
    }

    fn quarter_ellipse(&self, leaves_along_x: bool) -> Result<Drawn, ProblemKind> {
        let across = self.to - self.from;
        if across.x.abs() < SAME || across.y.abs() < SAME {
            return Err(ProblemKind::QuarterEllipseFlat);
        }
        let q = if leaves_along_x { Vec2::new(across.x, 0.0) } else { Vec2::new(0.0, across.y) };
        let center = self.to - q;
        let arc = Arc { center, p: self.from - center, q, start: 0.0, sweep: FRAC_PI_2 };
        Ok((Path::open(vec![Segment::Arc(arc)]), None, arc.radius(ROUNDING)))
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
