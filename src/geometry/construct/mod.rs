//! Corners and edges as a maker gives them, turned into an outline.

mod edge;
mod fillet;
mod ring;
mod rounding;

use super::{ContactKind, HalfOutline, LARGEST, MirrorLine, Outline, Path};
use crate::tolerance::SAME_POINT;
use edge::Edge;
use kurbo::Point;
use ring::Ring;

/// How the edge arrives at a corner.
#[derive(Debug, Clone, PartialEq)]
pub enum EdgeShape {
    /// A straight line.
    Straight,
    /// A circular arc by its rise over the chord, mm: positive bulges out of the part. At most half the chord.
    Rise(f64),
    /// The minor arc of a radius, mm.
    Radius {
        /// Radius, mm; at least half the chord.
        radius: f64,
        /// Whether the arc bulges out of the part.
        bulges_out: bool,
    },
    /// Half an ellipse on the chord, by its rise, mm: positive bulges out of the part.
    HalfEllipse(f64),
    /// A quarter of an ellipse with axes along x and y, leaving the corner before along x (`true`) or along y.
    QuarterEllipse {
        /// Whether the edge leaves the corner before it along x.
        leaves_along_x: bool,
    },
    /// A thin batten sprung through the edge's two ends and the points between.
    Batten {
        /// Points between the two ends, in order.
        points: Vec<Point>,
        /// Tension drawn into the batten, as a multiple of its plain bending over the mean span; 0 for a plain batten.
        tension: f64,
    },
    /// A curve that leaves the edge before and joins the edge after it smoothly, without bending at either end.
    Blend,
    /// A cubic parabola that runs on from a neighbouring edge smoothly and bends ever more.
    Taper {
        /// Whether it runs on from the edge after it, backwards, rather than from the one before.
        from_next: bool,
    },
}

/// A corner of an outline and the edge that arrives at it.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// The corner, mm.
    pub to: Point,
    /// The edge from the corner before (the last corner's, for the first; of a half outline's first node it must be
    /// [`EdgeShape::Straight`] and is not used).
    pub edge: EdgeShape,
    /// Radius that rounds this corner, mm, tangent to both edges.
    pub corner_radius: Option<f64>,
}

/// What is wrong with an outline, at which node.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Index of the node.
    pub node: usize,
    /// What is wrong.
    pub kind: ProblemKind,
}

/// What can be wrong with an outline. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum ProblemKind {
    /// Fewer than two nodes, or no area between the edges.
    EnclosesNothing,
    /// A number is not finite or goes beyond 20 m.
    OutOfReach {
        /// The largest coordinate or size allowed.
        limit: f64,
    },
    /// The corner lies on the one before it: the edge has no length.
    RepeatedCorner {
        /// Where both are.
        at: Point,
    },
    /// An arc rises by more than half its chord, either way: more than half a circle.
    RiseTooLarge {
        /// The rise asked for.
        rise: f64,
        /// Half the chord.
        largest: f64,
    },
    /// An arc's radius does not span its chord.
    RadiusTooSmall {
        /// The radius asked for.
        radius: f64,
        /// Half the chord.
        smallest: f64,
    },
    /// A quarter ellipse between corners that lie level or plumb with each other.
    QuarterEllipseFlat,
    /// A batten's tension is below 0 or too large.
    TensionOutOfRange {
        /// The tension asked for.
        tension: f64,
        /// The largest allowed.
        largest: f64,
    },
    /// A batten is held by more points than can be.
    TooManyBattenPoints {
        /// How many, both ends included.
        count: usize,
    },
    /// A point of a batten lies on the one before it.
    RepeatedBattenPoint {
        /// Where both are.
        at: Point,
    },
    /// No batten stays in these points.
    BattenHasNoShape {
        /// The least of the tensions tried, 0.25 to 8, with which one stays.
        tension: Option<f64>,
    },
    /// The neighbour that a blend or taper runs on from is itself a blend or taper.
    NoDirection,
    /// A taper's end lies behind its beginning, as it runs on from its neighbour.
    TaperTurnsBack,
    /// A corner radius of zero or less.
    CornerRadiusNotPositive {
        /// The radius asked for.
        radius: f64,
    },
    /// The corner radius touches its edges beyond their ends, or where a neighbouring corner's radius has taken over.
    RadiusDoesNotFit {
        /// The radius asked for.
        radius: f64,
        /// The largest that fits, to 0.001 mm below; 0 where none does.
        largest: f64,
    },
    /// Edges meet away from the corner they share.
    CrossesItself {
        /// Where.
        at: Point,
        /// How they meet.
        how: ContactKind,
        /// Index of the node at which the one edge arrives.
        first: usize,
        /// Index of the node at which the other edge arrives: the same for an edge that crosses itself or its mirror image.
        second: usize,
    },
    /// So many edges come near each other that they cannot be checked.
    TooIntricate,
    /// Edges that bulge inwards pass right through the part to its other side: out and in have no meaning.
    InsideOut,
    /// An end of a half outline lies off the mirror line.
    OffMirrorLine {
        /// By how much.
        distance: f64,
    },
    /// A half outline passes to the other side of its mirror line.
    CrossesMirrorLine {
        /// The farthest place beyond.
        at: Point,
        /// By how much.
        distance: f64,
    },
    /// An edge of a half outline lies along the mirror line, which closes the half already.
    EdgeOnMirrorLine,
    /// The first corner of a half outline has an edge, and there is no corner before it.
    EdgeWithoutStart,
    /// A path is not joined to a ring.
    NotClosed {
        /// The end that is left over.
        at: Point,
    },
}

/// A built outline and what became of each node.
#[derive(Debug, Clone, PartialEq)]
pub struct Built {
    /// The outline of the whole part, the mirrored half included.
    pub outline: Outline,
    /// The drawn half, where a mirror line was given.
    pub half: Option<HalfOutline>,
    /// True corners of the whole part, before rounding, in the order of the nodes.
    pub corners: Vec<Point>,
    /// Where corner radii touch their edges: two for each rounded corner.
    pub tangents: Vec<Point>,
    /// What each drawn edge measures, in the order of the nodes.
    pub edges: Vec<EdgeFact>,
    /// Each drawn edge before its corners are rounded, run as drawn, in the order of `edges`.
    pub paths: Vec<Path>,
}

impl Built {
    /// An outline that was not drawn corner by corner.
    pub fn whole(outline: Outline) -> Built {
        let (corners, tangents, edges, paths) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Built { outline, half: None, corners, tangents, edges, paths }
    }
}

/// What an edge measures before its corners are rounded, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeFact {
    /// Index of the node at which the edge arrives.
    pub node: usize,
    /// Straight from corner to corner.
    pub chord: f64,
    /// Rise over the chord, of an arc or half ellipse: positive bulges out of the part.
    pub rise: Option<f64>,
    /// Radius, of a circular arc.
    pub radius: Option<f64>,
    /// Length along the edge.
    pub length: f64,
}

/// Builds the outline of the nodes, in order, either way round.
///
/// "Out of the part" is told from the way in which the corners and batten points, joined straight, run round (two corners
/// alone: anticlockwise). With a mirror line the nodes are the drawn half, from the line to the line; a batten that ends on the
/// line stands square to it there.
///
/// # Errors
/// Every problem found, each with its node: first those of single nodes, then of edges, then of corner radii, then of the
/// whole. Coordinates and sizes that are not finite or beyond 20 m are refused, so that no input makes this run on.
pub fn build(nodes: &[Node], mirror: Option<MirrorLine>) -> Result<Built, Vec<Problem>> {
    if nodes.len() < 2 {
        return Err(vec![Problem { node: 0, kind: ProblemKind::EnclosesNothing }]);
    }
    none_of(check_nodes(nodes, mirror))?;
    let edges = edge::edges(nodes, mirror)?;
    if let Some(line) = mirror {
        none_of(check_side(&edges, line))?;
    }
    let ring = Ring::new(nodes, &edges, mirror);
    let rounded = rounding::round(&ring)?;
    let outline = Outline::checked(Path::closed(rounded.segments.clone())).map_err(|kinds| rounded.located(kinds))?;
    let anticlockwise = edge::runs_anticlockwise(nodes);
    if (Path::closed(rounded.segments.clone()).signed_area() > 0.0) != anticlockwise {
        return Err(vec![Problem { node: 0, kind: ProblemKind::InsideOut }]);
    }
    let half = mirror.map(|line| HalfOutline::new(rounded.half(&ring, anticlockwise), line));
    let facts = edges.iter().map(Edge::fact).collect();
    let paths = edges.into_iter().map(|edge| edge.path).collect();
    Ok(Built { outline, half, corners: ring.corners(), tangents: rounded.tangents, edges: facts, paths })
}

/// Joins finished edges, each ending where the next begins, into an outline, and rounds the corner at the end of each by its
/// radius, mm, where it has one.
///
/// # Errors
/// Every problem found, each with the index of its edge as node.
pub fn join(edges: &[(Path, Option<f64>)]) -> Result<Outline, Vec<Problem>> {
    let radii = edges.iter().enumerate().filter_map(|(node, (_, radius))| radius.map(|r| (node, r)));
    let wrong = radii.filter(|(_, r)| *r <= 0.0 || r.is_nan());
    none_of(
        wrong.map(|(node, radius)| Problem { node, kind: ProblemKind::CornerRadiusNotPositive { radius } }).collect(),
    )?;
    let ring = Ring::joined(edges);
    let rounded = rounding::round(&ring)?;
    Outline::checked(Path::closed(rounded.segments.clone())).map_err(|kinds| rounded.located(kinds))
}

/// `Err` where there are problems.
fn none_of(problems: Vec<Problem>) -> Result<(), Vec<Problem>> {
    if problems.is_empty() { Ok(()) } else { Err(problems) }
}

/// Problems of single nodes and their numbers.
fn check_nodes(nodes: &[Node], mirror: Option<MirrorLine>) -> Vec<Problem> {
    let mut problems = Vec::new();
    let last = nodes.len() - 1;
    for (node, n) in nodes.iter().enumerate() {
        let mut tell = |kind| problems.push(Problem { node, kind });
        if !numbers(n).iter().all(|v| v.abs() <= LARGEST) {
            tell(ProblemKind::OutOfReach { limit: LARGEST });
        }
        if let Some(radius) = n.corner_radius.filter(|r| *r <= 0.0) {
            tell(ProblemKind::CornerRadiusNotPositive { radius });
        }
        let Some(line) = mirror else { continue };
        if node == 0 && n.edge != EdgeShape::Straight {
            tell(ProblemKind::EdgeWithoutStart);
        }
        let distance = line.distance(n.to).abs();
        if (node == 0 || node == last) && distance > SAME_POINT {
            tell(ProblemKind::OffMirrorLine { distance });
        }
    }
    problems
}

/// Every length among a node's numbers.
fn numbers(node: &Node) -> Vec<f64> {
    let mut all = vec![node.to.x, node.to.y, node.corner_radius.unwrap_or(0.0)];
    match &node.edge {
        EdgeShape::Straight | EdgeShape::QuarterEllipse { .. } | EdgeShape::Blend | EdgeShape::Taper { .. } => {}
        EdgeShape::Rise(rise) | EdgeShape::HalfEllipse(rise) => all.push(*rise),
        // A nearly straight arc may have a radius of many kilometres; one that is no number is not let pass.
        EdgeShape::Radius { radius, .. } => all.push(if radius.is_finite() { 0.0 } else { *radius }),
        EdgeShape::Batten { points, tension } => {
            all.push(*tension);
            all.extend(points.iter().flat_map(|p| [p.x, p.y]));
        }
    }
    all
}

/// Edges of a half outline that pass to the other side of its mirror line, or lie along it.
fn check_side(edges: &[Edge], line: MirrorLine) -> Vec<Problem> {
    let side = edge::side(edges.iter().map(|e| &e.path), line);
    let reach = |e: &Edge, side: f64| edge::farthest(&e.path, line, side).unwrap_or((Point::ORIGIN, 0.0));
    let mut problems = Vec::new();
    for e in edges {
        let (at, distance) = reach(e, -side);
        if distance > SAME_POINT {
            problems.push(Problem { node: e.node, kind: ProblemKind::CrossesMirrorLine { at, distance } });
        } else if reach(e, side).1 <= SAME_POINT {
            problems.push(Problem { node: e.node, kind: ProblemKind::EdgeOnMirrorLine });
        }
    }
    problems
}

#[cfg(test)]
mod tests;
