//! What the saw is set to for a cut, and how far the joint stands open where it is set by the nominal number instead.

use super::{Board, Cut, EdgeName, Nominal, Ring, Role, Solid, Source, Surface};
use crate::geometry::{Plane, Point, Point3, Segment, Vec2, Vec3};
use crate::tolerance::{PARALLEL, SAME_PLACE, SAME_POINT};
use crate::units::Angle;
use std::borrow::Cow;

/// Which face of the board a bevel leaves longer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FarSide {
    /// The far side is longer (of a ripped edge: wider).
    Longer,
    /// The far side is shorter (narrower).
    Shorter,
    /// The cut is square to the face.
    Equal,
}

/// Angles of a cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Angles {
    /// In the face, between the cut's line and a line square to the edge.
    pub mitre: Angle,
    /// The angle at which the line crosses the edge as it is when the cut is made, from square to its arris.
    pub edge_line: Angle,
}

/// A straight edge that a cut can be set out from.
#[derive(Debug, Clone, PartialEq)]
pub struct Register {
    /// Which it is.
    pub source: Source,
    /// What a maker calls it.
    pub edge: String,
    /// The cut's angles off it.
    pub angles: Angles,
}

/// A corner of a cut's surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Corner {
    /// In a maker's words: `upper outside`.
    pub name: String,
    /// Board axes, mm.
    pub at: Point3,
}

/// How far a corner stands open, square to the mating surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Gap {
    /// The corner's name.
    pub corner: String,
    /// mm; 0 at the corner that touches first.
    pub open: f64,
}

/// The settings of one cut.
#[derive(Debug, Clone, PartialEq)]
pub struct SawCut {
    /// Index of the cut in the board.
    pub cut: usize,
    /// End or edge.
    pub role: Role,
    /// Angles off the u axis.
    pub off_axis: Angles,
    /// The straight edges beside the cut and its angles off each, the one to hold to the fence first. Empty where both
    /// neighbours are curved: saw to the pattern.
    pub registers: Vec<Register>,
    /// Tilt of the blade from square to the face.
    pub bevel: Angle,
    /// Which face the bevel leaves longer.
    pub far_side: FarSide,
    /// The corner farthest out along u; ends only.
    pub long_point: Option<Corner>,
    /// The corner least far out along u; ends only.
    pub short_point: Option<Corner>,
    /// The setting that hurried practice would use.
    pub nominal: Option<Nominal>,
    /// How far each corner would stand open by it.
    pub naive_gap: Vec<Gap>,
}

impl SawCut {
    /// The mitre to set: off the register edge, or off the u axis where no straight edge registers.
    pub fn mitre(&self) -> Angle {
        self.registers.first().map_or(self.off_axis.mitre, |r| r.angles.mitre)
    }

    /// The tilt of the blade from square to the face: above zero where the far side is longer, below where it is shorter.
    pub fn signed_bevel(&self) -> Angle {
        match self.far_side {
            FarSide::Shorter => Angle::from_degrees(-self.bevel.degrees()),
            FarSide::Longer | FarSide::Equal => self.bevel,
        }
    }

    /// Whether a rip tapers the board's thickness: no blade leans so far, the far side is planed to the line.
    pub fn tapers(&self) -> bool {
        self.role == Role::Edge && self.bevel.degrees() > 60.0
    }

    /// The angle of the line across the register edge.
    pub fn edge_line(&self) -> Angle {
        self.registers.first().map_or(self.off_axis.edge_line, |r| r.angles.edge_line)
    }

    /// What a bevel gauge reads off the arris, from either face: 90° less the bevel and 90° and the bevel.
    pub fn gauge(&self) -> [Angle; 2] {
        let square = Angle::from_degrees(90.0);
        [square - self.bevel, square + self.bevel]
    }
}

/// Angles of a plane off a direction in the face, along which an edge with a normal of its own runs.
fn angles_off(normal: Vec3, along: Vec2, edge: Vec3) -> Angles {
    let flat = Vec2::new(normal.x, normal.y);
    let (on, across) = (flat.dot(along).abs(), flat.cross(along).abs());
    // The line over the edge lies in both planes.
    let (line, arris) = (normal.cross(edge), Vec3::new(along.x, along.y, 0.0));
    let edge_line = line.dot(arris).abs().atan2(line.cross(arris).length());
    Angles { mitre: Angle::from_radians(across.atan2(on)), edge_line: Angle::from_radians(edge_line) }
}

/// The normal of an edge square to the face that runs along a direction.
fn square_edge(along: Vec2) -> Vec3 {
    Vec3::new(along.y, -along.x, 0.0)
}

impl Board {
    /// The saw settings of every cut that leaves a surface.
    pub fn saw_cuts(&self, solid: &Solid) -> Vec<SawCut> {
        let made =
            self.cuts.iter().enumerate().filter(|(i, _)| solid.ends.get(*i).is_some_and(|e| !e.rings.is_empty()));
        made.map(|(i, cut)| self.saw_cut(i, cut, solid)).collect()
    }

    fn saw_cut(&self, index: usize, cut: &Cut, solid: &Solid) -> SawCut {
        let n = cut.plane.normal();
        let corners = self.end_corners(index, solid);
        let out = n.x.signum();
        let is_end = cut.role == Role::End;
        // Of corners equally far out, the one on the face side.
        let farther = |a: &Corner, b: &Corner, out: f64| {
            let by = out * (a.at.x - b.at.x);
            if by.abs() > SAME_POINT { by.total_cmp(&0.0) } else { a.at.z.total_cmp(&b.at.z) }
        };
        let long = corners.iter().max_by(|a, b| farther(a, b, out));
        let short = corners.iter().max_by(|a, b| farther(a, b, -out));
        SawCut {
            cut: index,
            role: cut.role,
            off_axis: angles_off(n, Vec2::new(1.0, 0.0), square_edge(Vec2::new(1.0, 0.0))),
            registers: self.registers(index, n, solid),
            bevel: Angle::from_radians(n.z.abs().min(1.0).asin()),
            far_side: match n.z {
                z if z > PARALLEL => FarSide::Longer,
                z if z < -PARALLEL => FarSide::Shorter,
                _ => FarSide::Equal,
            },
            long_point: long.filter(|_| is_end).cloned(),
            short_point: short.filter(|_| is_end).cloned(),
            nominal: cut.nominal,
            naive_gap: cut.nominal.map(|nominal| self.naive_gap(cut, nominal, &corners, solid)).unwrap_or_default(),
        }
    }

    /// The straight edges that the cut meets on the face side: those along u first, of these the ones square to the face.
    fn registers(&self, index: usize, normal: Vec3, solid: &Solid) -> Vec<Register> {
        let mut found: Vec<((bool, bool, usize), Register)> = Vec::new();
        for (_, before, after) in solid.face.corners() {
            let neighbour = match (before == Source::Cut(index), after == Source::Cut(index)) {
                (true, false) => after,
                (false, true) => before,
                _ => continue,
            };
            let pieces: Vec<&Segment> = solid.face.part(neighbour).collect();
            if let [Segment::Line(line)] = pieces.as_slice() {
                let along = (line.p1 - line.p0).normalize();
                let edge = self.name_of(neighbour).into_owned();
                let (is_cut, place) = match neighbour {
                    Source::Edge(i) => (false, i),
                    Source::Cut(i) => (true, i),
                    Source::Face | Source::Far => continue,
                };
                let rank = (along.y.abs() > PARALLEL, is_cut, place);
                let angles = angles_off(normal, along, self.edge_then(neighbour, index, along));
                found.push((rank, Register { source: neighbour, edge, angles }));
            }
        }
        found.sort_by_key(|(rank, _)| *rank);
        found.into_iter().map(|(_, register)| register).collect()
    }

    /// The normal of a straight edge along a direction as it is when a cut is made: edges are ripped before ends are sawn, and of
    /// several ends each is still square to the face until its own turn comes.
    fn edge_then(&self, edge: Source, cut: usize, along: Vec2) -> Vec3 {
        let made_before = |own: usize, made: &Cut| made.role == Role::Edge || own < cut;
        match edge {
            Source::Cut(own) => {
                self.cuts.get(own).filter(|made| made_before(own, made)).map(|made| made.plane.normal())
            }
            Source::Edge(_) | Source::Face | Source::Far => None,
        }
        .unwrap_or_else(|| square_edge(along))
    }

    /// The corners of a cut's surface, named by the edge and the side that meet there.
    pub fn end_corners(&self, index: usize, solid: &Solid) -> Vec<Corner> {
        let Some(end) = solid.ends.get(index) else { return Vec::new() };
        let name = |at: Point3, before: Source, after: Source| {
            let side = if at.z > -self.thickness / 2.0 { self.sides[0] } else { self.sides[1] };
            let edge = [before, after].into_iter().find(|s| !matches!(s, Source::Face | Source::Far));
            match edge.map(|source| self.surface(source)) {
                Some(Surface::Edge { name: EdgeName::UpperEdge, nth: 1 }) => format!("upper {side}"),
                Some(Surface::Edge { name: EdgeName::LowerEdge, nth: 1 }) => format!("lower {side}"),
                _ => format!("{}, {side}", edge.map_or(Cow::Borrowed(""), |source| self.name_of(source))),
            }
        };
        end.corners().into_iter().map(|(at, before, after)| Corner { name: name(at, before, after), at }).collect()
    }

    /// Saws the cut at its nominal setting, slides the board along u until the first corner touches, and measures how
    /// far each corner stands off the true plane, square to it.
    fn naive_gap(&self, cut: &Cut, nominal: Nominal, corners: &[Corner], solid: &Solid) -> Vec<Gap> {
        let n = cut.plane.normal();
        let (tilt, turn) = (nominal.bevel.radians(), nominal.mitre.radians());
        let naive = Vec3::new(
            n.x.signum() * tilt.cos() * turn.cos(),
            n.y.signum() * tilt.cos() * turn.sin(),
            n.z.signum() * tilt.sin(),
        );
        let Some(first) = corners.first() else { return Vec::new() };
        let Some(saw) = Plane::through(first.at, naive) else { return Vec::new() };
        // Each corner moves along the arris that it ends until it lies on the naive plane.
        let sawn = |corner: &Corner| {
            let along = self.arris_direction(corner, cut, solid);
            corner.at - along * (saw.distance(corner.at) / saw.normal().dot(along))
        };
        let stands: Vec<f64> = corners.iter().map(|c| cut.plane.distance(sawn(c))).collect();
        let touching = stands.iter().copied().fold(f64::MIN, f64::max);
        corners.iter().zip(stands).map(|(c, s)| Gap { corner: c.name.clone(), open: touching - s }).collect()
    }

    /// The direction of the arris that a corner ends: along the edge beside it on its face, or along u.
    fn arris_direction(&self, corner: &Corner, cut: &Cut, solid: &Solid) -> Vec3 {
        let ring: &Ring = if corner.at.z > -self.thickness / 2.0 { &solid.face } else { &solid.far };
        let flat = Point::new(corner.at.x, corner.at.y);
        let own = self.cuts.iter().position(|c| std::ptr::eq(c, cut)).map(Source::Cut);
        for (piece, source) in ring.pieces().filter(|(_, s)| Some(*s) != own) {
            let _ = source;
            let at =
                [(piece.start(), 0.0), (piece.end(), 1.0)].into_iter().find(|(p, _)| p.distance(flat) < SAME_PLACE);
            if let Some((_, t)) = at {
                let d = piece.tangent(t);
                return Vec3::new(d.x, d.y, 0.0);
            }
        }
        Vec3::X
    }
}
