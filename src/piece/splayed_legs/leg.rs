//! A leg splayed both ways, set out from its outermost arris.

use super::Shared;
use crate::board::{Against, Board, Cut, Edge, EdgeName, Nominal, PartRole, Role};
use crate::finding::Finding;
use crate::geometry::{Placement, Plane, Point, Point3, Segment, Vec3};
use crate::piece::assemble::{Single, Work};
use crate::piece::fact::{Fact, FactName};
use crate::piece::faults::{ANGLES, SPANS};
use crate::piece::limits::base;
use crate::piece::turned::Turned;
use crate::piece::{FrameProblem, LegsCross};
use crate::units::{Angle, Length};

/// How far the wood stands beyond head and foot before they are sawn, mm: any amount above zero gives the same leg.
const WASTE: f64 = 5.0;

/// A leg in the world.
#[derive(Debug, Clone)]
pub(super) struct Leg {
    /// -1 on the left, +1 on the right.
    pub(super) x: f64,
    /// -1 in front, +1 at the back.
    pub(super) y: f64,
    /// The head point of the arris.
    pub(super) head: Point3,
    /// Out of the front (or back) face.
    pub(super) front: Vec3,
    /// Board axes: u up the arris from its foot point, v away from the side face, w out of the front face.
    pub(super) placement: Placement,
    /// Length of the arris, mm.
    pub(super) arris: f64,
}

impl Leg {
    /// The leg on the given sides of the middle.
    pub(super) fn new(shared: &Shared, x: f64, y: f64) -> Option<Leg> {
        let (a, b) = (shared.base.splay_front.radians(), shared.base.splay_side.radians());
        let down = Vec3::new(x * a.tan(), y * b.tan(), -1.0);
        let head = Point3::new(x * shared.half_length, y * shared.half_width, shared.height);
        let front = Vec3::new(0.0, y * b.cos(), b.sin());
        let side = front.cross(down).unit()?;
        let side = if side.x * x > 0.0 { side } else { -side };
        let foot = head + down * shared.height;
        let placement = Placement::facing(foot, -down, front)?;
        let placement = if placement.v().dot(side) < 0.0 { placement } else { placement.flipped_across() };
        let (head, placement) = match shared.base.leg.round() {
            Some(round) => about_its_axis(head, placement, round.diameter.mm()),
            None => (head, placement),
        };
        Some(Leg { x, y, head, front, placement, arris: shared.height * down.length() })
    }

    /// Width and thickness at `u` above the foot point, along the arris.
    pub(super) fn section(shared: &Shared, arris: f64, u: f64) -> (f64, f64) {
        let leg = &shared.base.leg;
        let (width, thick) = (leg.width().mm(), leg.thickness().mm());
        let Some(taper) = leg.taper else { return (width, thick) };
        let share = (u / (arris - taper.from.mm())).clamp(0.0, 1.0);
        let at = |foot: f64, full: f64| foot + (full - foot) * share;
        (at(taper.foot_width.mm(), width), at(taper.foot_thickness.mm(), thick))
    }

    /// Which of the four.
    pub(super) fn which(&self) -> Vec<String> {
        let (x, y) = (if self.x < 0.0 { "left" } else { "right" }, if self.y < 0.0 { "front" } else { "back" });
        vec![format!("{x} {y}")]
    }

    /// The plane of the inner side face (the tapered part of it), its normal out of the leg.
    pub(super) fn inner_side(&self, shared: &Shared, tapered: bool) -> Option<Plane> {
        let leg = &shared.base.leg;
        let width = leg.width().mm();
        let plane = match leg.taper.filter(|_| tapered) {
            Some(taper) => sloped(self.arris - taper.from.mm(), width, taper.foot_width.mm(), Vec3::Y)?,
            None => Plane::through(Point3::new(0.0, width, 0.0), Vec3::Y)?,
        };
        Some(self.placement.plane_to_world(&plane))
    }

    /// The plane of the inner front face (the tapered part of it), its normal out of the leg.
    pub(super) fn inner_front(&self, shared: &Shared, tapered: bool) -> Option<Plane> {
        Some(self.placement.plane_to_world(&inner_front(shared, self.arris, tapered)?))
    }

    /// Takes up the leg; its index.
    pub(super) fn add(&self, shared: &Shared, work: &mut Work) -> Option<usize> {
        let board = self.board(shared)?;
        let reach = (board.thickness, shared.base.leg.width().mm());
        let index = work.add(Single {
            role: PartRole::Leg,
            given: None,
            which: self.which(),
            board,
            placement: self.placement,
            make: 1,
            pointer: "/base/leg".into(),
            facts: self.facts(shared),
            turned: self.turned(shared),
        })?;
        // The inner arris is the one that could pass the middle.
        let past = [0.0, self.arris].map(|u| {
            let p = self.placement.to_world(Point3::new(u, reach.1, -reach.0));
            (-p.x * self.x).max(-p.y * self.y)
        });
        if past.iter().any(|by| *by >= 0.0) {
            let by = past.into_iter().fold(0.0, f64::max);
            let past = Some(Length::from_mm(by));
            let problem = FrameProblem::LegsCross { which: LegsCross::Middle, width: None, room: None, past };
            let finding = Finding::of(problem, base("leg/width"));
            let fields = [&["leg/width", "leg/thickness"], &SPANS[..], &ANGLES].concat();
            return work.stop_to_cure(finding, &fields);
        }
        Some(index)
    }

    fn board(&self, shared: &Shared) -> Option<Board> {
        let leg = &shared.base.leg;
        let (width, thickness) = (leg.width().mm(), leg.thickness().mm());
        let level = self.placement.direction_to_board(Vec3::Z);
        let wander = (level.y.abs() * width + level.z.abs() * thickness) / level.x + WASTE;
        let (foot, head) = (-wander, self.arris + wander);
        let line = |a: (f64, f64), b: (f64, f64)| vec![Segment::line(Point::from(a), Point::from(b))];
        let mut edges = vec![
            Edge::new(EdgeName::OutsideEdge, line((foot, 0.0), (head, 0.0))),
            Edge::new(EdgeName::Head, line((head, 0.0), (head, width))),
        ];
        let last = match leg.taper.filter(|t| t.foot_width.mm() != width) {
            Some(taper) => {
                let from = self.arris - taper.from.mm();
                let end = taper.foot_width.mm() + (width - taper.foot_width.mm()) * foot / from;
                edges.push(Edge::new(EdgeName::InsideEdge, line((head, width), (from, width))));
                edges.push(Edge::new(EdgeName::TaperedInsideEdge, line((from, width), (foot, end))));
                (foot, end)
            }
            None => {
                edges.push(Edge::new(EdgeName::InsideEdge, line((head, width), (foot, width))));
                (foot, width)
            }
        };
        edges.push(Edge::new(EdgeName::Foot, line(last, (foot, 0.0))));
        Some(Board { thickness, edges, cuts: self.cuts(shared)?, keep: None, sides: ["outer face", "inner face"] })
    }

    fn cuts(&self, shared: &Shared) -> Option<Vec<Cut>> {
        let nominal = Nominal { mitre: shared.base.splay_front.abs(), bevel: Angle::ZERO, from: "front splay" };
        let end = |place: EdgeName, against: Option<Against>, plane: Plane| Cut {
            place,
            against,
            role: Role::End,
            plane: self.placement.plane_to_board(&plane),
            nominal: Some(nominal),
        };
        let mut cuts = vec![
            end(EdgeName::Head, None, Plane::level(shared.height)),
            end(EdgeName::Foot, Some(Against::Floor), Plane::level(0.0).flipped()),
        ];
        let leg = &shared.base.leg;
        if leg.taper.is_some_and(|t| t.foot_thickness.mm() != leg.thickness().mm()) {
            let plane = inner_front(shared, self.arris, true)?;
            cuts.push(Cut {
                place: EdgeName::TaperedInnerFace,
                against: None,
                role: Role::Edge,
                plane,
                nominal: None,
            });
        }
        Some(cuts)
    }

    fn turned(&self, shared: &Shared) -> Option<Turned> {
        let round = shared.base.leg.round()?;
        // The head point is on the middle line, and the arris half a blank away from it either way.
        let half = round.diameter.mm() / 2.0;
        Some(Turned {
            axis: Point3::new(0.0, half, -half),
            head: round.diameter.mm(),
            foot: round.foot_diameter().mm(),
            tenon: round.tenon.mm(),
        })
    }

    fn facts(&self, shared: &Shared) -> Vec<Fact> {
        let (a, b) = (shared.base.splay_front.radians().tan(), shared.base.splay_side.radians().tan());
        // tan R = sqrt(tan² a + tan² b); the sightline runs along the plan direction (2.leg.formula).
        let mut facts = vec![
            Fact::angle(FactName::Resultant, "resultant tilt from plumb", a.hypot(b).atan()),
            Fact::angle(FactName::Sightline, "sightline from the front view's plane", b.abs().atan2(a.abs())),
        ];
        if let Some(taper) = shared.base.leg.taper {
            let (width, thick) = Leg::section(shared, self.arris, 0.0);
            facts.extend([
                Fact::length(FactName::TaperFrom, "taper begins below the head, along the arris", taper.from.mm()),
                Fact::length(FactName::FootWidth, "width at the foot, square to the arris", width),
                Fact::length(FactName::FootThickness, "thickness at the foot, square to the arris", thick),
            ]);
        }
        facts.push(match self.turned(shared) {
            Some(_) => Fact::length(FactName::CentreLine, "centre line, shoulder to floor", self.arris),
            None => Fact::length(FactName::Arris, "outermost arris, head to foot", self.arris),
        });
        facts
    }
}

/// The arris's head and the placement of a blank whose middle, not whose arris, passes the head point.
fn about_its_axis(head: Point3, placement: Placement, diameter: f64) -> (Point3, Placement) {
    let (half, up) = (diameter / 2.0, placement.u());
    let in_section = placement.v() * half - placement.w() * half;
    // Along the leg back into the plane of the head.
    let level = in_section - up * (in_section.z / up.z);
    (head - level, placement.moved(placement.direction_to_board(-level)))
}

/// The inner front face in a leg's axes.
fn inner_front(shared: &Shared, arris: f64, tapered: bool) -> Option<Plane> {
    let leg = &shared.base.leg;
    let thick = leg.thickness().mm();
    match leg.taper.filter(|_| tapered) {
        Some(taper) => sloped(arris - taper.from.mm(), thick, taper.foot_thickness.mm(), -Vec3::Z),
        None => Plane::through(Point3::new(0.0, 0.0, -thick), -Vec3::Z),
    }
}

/// The plane that stands `full` out along `out` at u = `from` and `foot` at u = 0.
fn sloped(from: f64, full: f64, foot: f64, out: Vec3) -> Option<Plane> {
    let normal = out * from - Vec3::X * (full - foot);
    Plane::through(Point3::ORIGIN + out * foot, normal)
}
