//! A board between two others: a lower edge, an upper edge and two ends.

use super::edge::{CurveFault, EdgeLine};
use crate::board::{Board, Cut, Edge, EdgeName, Nominal, Role};
use crate::geometry::{Plane, Point, Segment, Vec2};
use crate::model::base::Curve;

/// How far the wood stands beyond its cuts before they are made, mm: any amount above zero gives the same board.
const WASTE: f64 = 5.0;

/// A long edge of a beam.
#[derive(Debug, Clone)]
pub(super) enum Long {
    /// Square to the face, at this v; curved by its chord between the two corners of the face side.
    Square(f64, Curve),
    /// Ripped along a plane (board axes, normal out of the board).
    Ripped(Plane),
}

/// An end of a beam.
#[derive(Debug, Clone)]
pub(super) enum End {
    /// Sawn along a plane (board axes).
    Sawn {
        /// The plane, its normal out of the board.
        plane: Plane,
        /// The setting that hurried practice would use.
        nominal: Option<Nominal>,
    },
    /// Following a curve, square to the face: run upward, from the lower corner to beyond the upper edge.
    Scribed(EdgeLine),
}

/// What a beam is made of.
#[derive(Debug, Clone)]
pub(super) struct Beam {
    /// Thickness, mm.
    pub(super) thickness: f64,
    /// The edge at the smaller v and the edge at the greater v.
    pub(super) edges: [Long; 2],
    /// What they are.
    pub(super) names: [EdgeName; 2],
    /// The ends at the smaller u and at the greater u.
    pub(super) ends: [End; 2],
    /// What the face side and the far side are called.
    pub(super) sides: [&'static str; 2],
}

/// Why a beam cannot be made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum BeamFault {
    /// Its ends meet or pass each other at the edge with this index; the length left there, mm.
    NoLength {
        /// mm, zero or less.
        left: f64,
    },
    /// The curve of the edge with this index (0 lower, 1 upper).
    Curve(usize, CurveFault),
}

/// The u at which a plane passes a point of the section.
fn u_on(plane: &Plane, v: f64, w: f64) -> f64 {
    let n = plane.normal();
    (plane.offset() - n.y * v - n.z * w) / n.x
}

/// The v at which a plane passes a point of the section.
fn v_on(plane: &Plane, u: f64, w: f64) -> f64 {
    let n = plane.normal();
    (plane.offset() - n.x * u - n.z * w) / n.y
}

impl Beam {
    /// The board.
    pub(super) fn board(&self) -> Result<Board, BeamFault> {
        let v = self.heights();
        let reach = self.reach(v);
        let mut rims = Vec::new();
        for (i, edge) in self.edges.iter().enumerate() {
            rims.push(self.rim(i, edge, v[i], reach)?);
        }
        let [lower, upper] = <[EdgeLine; 2]>::try_from(rims).map_err(|_| BeamFault::NoLength { left: 0.0 })?;
        let upper = upper.reversed();
        let right = self.side(1, lower.end(), upper.start());
        let left = self.side(0, upper.end(), lower.start());
        let edges = vec![
            Edge::new(self.names[0].clone(), lower.segments().to_vec()),
            Edge::new(EdgeName::RightEnd, right),
            Edge::new(self.names[1].clone(), upper.segments().to_vec()),
            Edge::new(EdgeName::LeftEnd, left),
        ];
        Ok(Board { thickness: self.thickness, edges, cuts: self.cuts(), keep: None, sides: self.sides })
    }

    /// The v of the lower and the upper rim: a ripped edge's lies beyond the plane on both faces.
    fn heights(&self) -> [f64; 2] {
        let at = |edge: &Long, sign: f64| match edge {
            Long::Square(v, _) => *v,
            Long::Ripped(plane) => {
                let on = [0.0, -self.thickness].map(|w| sign * v_on(plane, 0.0, w));
                sign * (on[0].max(on[1]) + WASTE)
            }
        };
        [at(&self.edges[0], -1.0), at(&self.edges[1], 1.0)]
    }

    /// The u beyond which no end reaches, left and right.
    fn reach(&self, v: [f64; 2]) -> [f64; 2] {
        let at = |end: &End, sign: f64| match end {
            End::Sawn { plane, .. } => {
                let section = [(v[0], 0.0), (v[1], 0.0), (v[0], -self.thickness), (v[1], -self.thickness)];
                let on = section.map(|(v, w)| sign * u_on(plane, v, w));
                sign * (on.into_iter().fold(f64::MIN, f64::max) + WASTE)
            }
            End::Scribed(line) => line.start().x,
        };
        [at(&self.ends[0], -1.0), at(&self.ends[1], 1.0)]
    }

    /// The corners of a rim on the face side.
    fn corners(&self, v: f64) -> [f64; 2] {
        [0, 1].map(|i| match &self.ends[i] {
            End::Sawn { plane, .. } => u_on(plane, v, 0.0),
            End::Scribed(line) => line.at_level(v).map_or(line.start().x, |p| p.x),
        })
    }

    /// A rim from left to right, carried on beyond the ends to be sawn.
    fn rim(&self, index: usize, edge: &Long, v: f64, reach: [f64; 2]) -> Result<EdgeLine, BeamFault> {
        let [left, right] = self.corners(v);
        if right - left <= 0.0 && matches!(edge, Long::Square(..)) {
            return Err(BeamFault::NoLength { left: right - left });
        }
        let out = Vec2::new(0.0, if index == 0 { -1.0 } else { 1.0 });
        let fault = |f| BeamFault::Curve(index, f);
        let Long::Square(_, curve) = edge else {
            let at = |i: usize, corner: f64| match self.ends[i] {
                End::Sawn { .. } => Point::new(reach[i], v),
                End::Scribed(_) => Point::new(corner, v),
            };
            return EdgeLine::between(at(0, left), at(1, right), &Curve::Straight, out).map_err(fault);
        };
        let line = EdgeLine::between(Point::new(left, v), Point::new(right, v), curve, out).map_err(fault)?;
        let beyond = |i: usize, corner: f64| match self.ends[i] {
            End::Sawn { .. } => (reach[i] - corner).abs(),
            End::Scribed(_) => 0.0,
        };
        Ok(line.extended(beyond(0, left), beyond(1, right)))
    }

    /// The rim of an end from one corner to another.
    fn side(&self, index: usize, from: Point, to: Point) -> Vec<Segment> {
        match &self.ends[index] {
            End::Sawn { .. } => vec![Segment::line(from, to)],
            End::Scribed(line) if index == 1 => joined(line, from, to),
            End::Scribed(line) => joined(&line.reversed(), from, to),
        }
    }

    fn cuts(&self) -> Vec<Cut> {
        let mut cuts = Vec::new();
        for (end, place) in self.ends.iter().zip([EdgeName::LeftEnd, EdgeName::RightEnd]) {
            if let End::Sawn { plane, nominal } = end {
                cuts.push(Cut { place, against: None, role: Role::End, plane: *plane, nominal: *nominal });
            }
        }
        for (edge, place) in self.edges.iter().zip(&self.names) {
            if let Long::Ripped(plane) = edge {
                let place = place.clone();
                cuts.push(Cut { place, against: None, role: Role::Edge, plane: *plane, nominal: None });
            }
        }
        cuts
    }
}

/// A scribed end between two corners: the stretch of its line between their levels.
fn joined(line: &EdgeLine, from: Point, to: Point) -> Vec<Segment> {
    line.between_levels(from.y, to.y).map_or_else(|| vec![Segment::line(from, to)], |part| part.segments().to_vec())
}
