//! The aprons between leaning frames.

use super::frame::{Frame, LegLines};
use super::{FrameBoards, Shared};
use crate::board::{EdgeName, Nominal, PartRole, Source};
use crate::finding::{Finding, Ratio};
use crate::geometry::{Placement, Plane, Point, Point3, Vec2, Vec3};
use crate::model::base::{Apron, LowerEdge, Slope};
use crate::piece::assemble::{ENOUGH, Landing, Single, Work};
use crate::piece::beam::{Beam, End, Long};
use crate::piece::fact::{Fact, FactName};
use crate::piece::faults::ANGLES;
use crate::piece::limits::base;
use crate::piece::{FrameProblem, LegSide};
use crate::tolerance::{EXACT, LANDS, TRUE_TO};
use crate::units::{Angle, Length};

/// Rounds after which an apron's lie that has not settled never will: each round leaves about apron depth over radius of
/// the leg's curve, a tenth at the worst, of the error.
const ROUNDS: usize = 200;

/// How an apron would lie at one frame alone: a line in the plane of the legs' inside faces (x from the centre line, y is s).
#[derive(Debug, Clone, Copy)]
struct Lie {
    /// Where its outside face's upper arris meets the plane.
    upper: Point,
    /// Where its lower arris does.
    lower: Point,
    /// The chord's ends, upper and lower.
    chord: [Point; 2],
}

/// The lie at one frame of an apron that does not follow the leg's edge, `angle` radians from the frame's centre line, feet outward; its
/// inset is kept at its upper arris.
fn lie_at(
    shared: &Shared,
    frame: &Frame,
    lines: &LegLines,
    apron: &Apron,
    (sign, angle): (f64, f64),
    arris: Vec3,
) -> Option<Lie> {
    let depth_in = shared.base.leg.thickness.mm();
    let level = frame.s_at(shared.height - apron.drop.mm(), depth_in);
    let (inset, (sin, cos)) = (apron.inset.mm(), angle.sin_cos());
    let (down, out) = (Vec2::new(sin, -cos), Vec2::new(cos, sin));
    let run = run(frame, apron, (sign, down), arris);
    let upper_end = lines.outside.at_level(level + inset * out.y)?;
    let upper = upper_end - out * inset;
    Some(Lie { upper, lower: upper + down * run, chord: [upper_end, upper_end + down * run] })
}

/// The angle, radians, at which an apron stands in its frames where it does not follow the leg's edge.
fn told_slope(shared: &Shared, apron: &Apron) -> Option<f64> {
    match apron.slope {
        Slope::Chord => None,
        Slope::Splay => Some(shared.base.leg.splay.radians()),
        Slope::At(angle) => Some(angle.radians()),
    }
}

/// How an apron that does not follow the leg's edge leaves it at its lower arris.
#[derive(Debug, Clone, Copy)]
struct Leaves {
    /// How far the edge stands beyond the apron's line there, mm, square to that line: below zero where the apron stands out.
    by: f64,
    /// The angle of the apron's line off the frame's centre line, and of the edge over the same depth, radians.
    slopes: [f64; 2],
}

fn leaves_edge(lines: &LegLines, lie: &Lie) -> Option<Leaves> {
    let [upper, lower] = lie.chord;
    let along = (lower - upper).normalize();
    let edge = lines.outside.at_level(lower.y)?;
    let slopes = [lower, edge].map(|end| (end.x - upper.x).atan2(upper.y - end.y));
    Some(Leaves { by: (edge - lower).dot(Vec2::new(-along.y, along.x)), slopes })
}

/// How far down its line in the frame's plane an apron reaches, mm: its depth is square across its face.
fn run(frame: &Frame, apron: &Apron, (sign, along): (f64, Vec2), arris: Vec3) -> f64 {
    let world = frame.across * (sign * along.x) + frame.up * along.y;
    apron.depth.mm() / (world - arris * world.dot(arris)).length()
}

/// The lie at one frame of an apron whose arrises run along `arris` (world), on the `sign` side of the centre line.
///
/// The chord's angle and its ends depend on each other: found by repeating from the angle of a plumb chord.
fn lie(shared: &Shared, frame: &Frame, lines: &LegLines, apron: &Apron, sign: f64, arris: Vec3) -> Option<Lie> {
    let depth_in = shared.base.leg.thickness.mm();
    let level = frame.s_at(shared.height - apron.drop.mm(), depth_in);
    let inset = apron.inset.mm();
    if let Some(told) = told_slope(shared, apron) {
        return lie_at(shared, frame, lines, apron, (sign, told), arris);
    }
    let mut angle = 0.0_f64;
    for _ in 0..ROUNDS {
        let (sin, cos) = angle.sin_cos();
        let (along, out) = (Vec2::new(-sin, cos), Vec2::new(cos, sin));
        let run = run(frame, apron, (sign, along), arris);
        let upper_end = lines.outside.at_level(level + inset * out.y)?;
        let lower_end = lines.outside.at_level(upper_end.y - run * along.y)?;
        let next = (lower_end.x - upper_end.x).atan2(upper_end.y - lower_end.y);
        let moved = (next - angle).abs();
        angle = next;
        if moved < EXACT {
            let upper = upper_end - out * inset;
            return Some(Lie { upper, lower: upper - along * run, chord: [upper_end, lower_end] });
        }
    }
    None
}

/// The outside face of an apron in the world, from its lies at both frames.
struct FacePlane {
    placement: Placement,
    lies: [Lie; 2],
    /// Greatest error of the inset at the lower arris, mm; 0 between equal frames.
    inset_error: f64,
}

/// Lays an apron's face through both upper points and midway between the lower ones.
fn face(shared: &Shared, boards: &[FrameBoards; 2], apron: &Apron, sign: f64) -> Option<FacePlane> {
    let mut arris = Vec3::X;
    for _ in 0..ROUNDS {
        let at = |b: &FrameBoards| lie(shared, &b.frame, &b.lines, apron, sign, arris);
        let lies = [at(&boards[0])?, at(&boards[1])?];
        let depth_in = shared.base.leg.thickness.mm();
        let world = |i: usize, p: Point| boards[i].frame.point(sign * p.x, p.y, depth_in);
        let upper = [world(0, lies[0].upper), world(1, lies[1].upper)];
        let next = (upper[1] - upper[0]).unit()?;
        let moved = (next - arris).length();
        arris = next;
        if moved < EXACT {
            let middle = world(0, lies[0].lower).midway(world(1, lies[1].lower));
            let origin = upper[0].midway(upper[1]);
            let normal = arris.cross(middle - origin);
            let outwards = if normal.y * sign > 0.0 { normal } else { -normal };
            let placement = Placement::facing(origin, arris, outwards)?;
            // v runs up: on one side that makes the axes left-handed.
            let placement = if placement.v().z > 0.0 { placement } else { placement.flipped_across() };
            let error = |i: usize| inset_error(&boards[i].frame, &lies[i], apron, sign, &placement, depth_in);
            return Some(FacePlane { placement, lies, inset_error: error(0)?.max(error(1)?) });
        }
    }
    None
}

/// How far the face's lower arris misses the inset at a frame, mm.
fn inset_error(frame: &Frame, lie: &Lie, apron: &Apron, sign: f64, face: &Placement, depth_in: f64) -> Option<f64> {
    let inside = face.plane_to_board(&frame.plane(depth_in)?);
    let n = inside.normal();
    let v = -apron.depth.mm();
    let on_arris = face.to_world(Point3::new((inside.offset() - n.y * v) / n.x, v, 0.0));
    let from = on_arris - frame.point(0.0, 0.0, depth_in);
    let at = Point::new(sign * from.dot(frame.across), from.dot(frame.up));
    let along = (lie.chord[0] - lie.chord[1]).normalize();
    Some(((at - lie.chord[1]).cross(along).abs() - apron.inset.mm().abs()).abs())
}

/// Takes up both aprons.
pub(super) fn add(shared: &Shared, boards: &[FrameBoards; 2], apron: &Apron, work: &mut Work) -> Option<()> {
    for (sign, side, leg) in [(-1.0, "front", 0), (1.0, "back", 1)] {
        let Some(face) = face(shared, boards, apron, sign) else {
            let finding = Finding::of(FrameProblem::ApronFindsNoLie {}, base("apron/depth"));
            let fields =
                [&["apron/depth", "leg/outside_edge/rise", "apron/inset", "apron/drop"], &ANGLES[..]].concat();
            return work.stop_to_cure(finding, &fields);
        };
        deep_enough(shared, boards, apron, &face, work)?;
        let beam = beam(shared, boards, apron, &face)?;
        let board = match beam.board() {
            Ok(board) => board,
            Err(fault) => return work.beam_fault(fault, "apron"),
        };
        let follows = apron.slope == Slope::Chord;
        let gap = chord_gap(&boards[1].lines, &face.lies[1]).filter(|_| follows);
        let left = leaves_edge(&boards[1].lines, &face.lies[1]).filter(|_| !follows);
        let index = work.add(Single {
            role: PartRole::Apron,
            given: None,
            which: vec![side.into()],
            board,
            placement: face.placement,
            make: 1,
            pointer: "/base/apron".into(),
            facts: facts(&face, gap, left.map(|left| left.by)),
            turned: None,
        })?;
        tell(boards, apron, &face, gap, sign, work);
        if let Some(left) = left.filter(|left| sign < 0.0 && left.by.abs() > TRUE_TO) {
            let [slope, edge] = left.slopes.map(Angle::from_radians);
            let problem = FrameProblem::ApronLeavesEdge { left: Length::from_mm(left.by), slope, edge };
            work.findings.push(Finding::of(problem, base("apron/slope")));
        }
        let out = left.is_some_and(|left| -left.by - apron.inset.mm() > LANDS);
        for (cut, frame) in boards.iter().enumerate() {
            let landing = Landing { from: (index, cut), to: frame.legs[leg], on: Source::Far };
            let over = if out { LegSide::Outside } else { LegSide::Inside };
            lands(&landing, (gap.is_some_and(|g| g < 0.0), over), work)?;
            work.land(landing);
        }
        if shared.has_top && apron.drop.mm() == 0.0 {
            work.under_top(index, &EdgeName::UpperEdge);
        }
    }
    Some(())
}

/// Stops where the apron is deeper than the leg is long.
fn deep_enough(
    shared: &Shared,
    boards: &[FrameBoards; 2],
    apron: &Apron,
    face: &FacePlane,
    work: &mut Work,
) -> Option<()> {
    let depth_in = shared.base.leg.thickness.mm();
    for (frame, lie) in boards.iter().map(|b| &b.frame).zip(&face.lies) {
        let floor = frame.s_at(0.0, depth_in);
        if lie.lower.y >= floor {
            continue;
        }
        let below = frame.z_at(floor, depth_in) - frame.z_at(lie.lower.y, depth_in);
        let below = Length::from_mm(below);
        let problem = FrameProblem::ApronTooDeep { drop: apron.drop, depth: apron.depth, below };
        let finding = Finding::of(problem, base("apron/depth"));
        return work.stop_to_cure(finding, &["apron/depth", "apron/drop"]);
    }
    Some(())
}

fn beam(shared: &Shared, boards: &[FrameBoards; 2], apron: &Apron, face: &FacePlane) -> Option<Beam> {
    let depth_in = shared.base.leg.thickness.mm();
    let end = |b: &FrameBoards| {
        let plane = face.placement.plane_to_board(&b.frame.plane(depth_in)?);
        let mitre = Angle::from_radians(b.frame.lean).abs();
        let nominal = Some(Nominal { mitre, bevel: Angle::ZERO, from: "lean" });
        Some(End::Sawn { plane, nominal })
    };
    let top = shared.height - apron.drop.mm();
    let upper = face.placement.plane_to_board(&Plane::level(top));
    let lower = match apron.lower_edge {
        LowerEdge::Square => Long::Square(-apron.depth.mm(), Default::default()),
        LowerEdge::Level => {
            let z = face.placement.to_world(Point3::new(0.0, -apron.depth.mm(), 0.0)).z;
            Long::Ripped(face.placement.plane_to_board(&Plane::level(z).flipped()))
        }
    };
    Some(Beam {
        thickness: apron.thickness.mm(),
        edges: [lower, Long::Ripped(upper)],
        names: [EdgeName::LowerEdge, EdgeName::UpperEdge],
        ends: [end(&boards[0])?, end(&boards[1])?],
        sides: ["outside", "inside"],
    })
}

/// The largest distance of the leg's curve from the chord that the apron follows; `None` for a straight edge.
fn chord_gap(lines: &LegLines, lie: &Lie) -> Option<f64> {
    let [upper, lower] = lie.chord;
    let gap = || lines.outside.gap_to_chord(upper.y, lower.y, Vec2::new(1.0, 0.0));
    (!lines.outside.is_straight()).then(gap).flatten()
}

fn facts(face: &FacePlane, gap: Option<f64>, left: Option<f64>) -> Vec<Fact> {
    let tilt = face.placement.w().z.abs().asin();
    let mut facts = vec![Fact::angle(FactName::FaceFromPlumb, "outside face from plumb", tilt)];
    facts.extend(gap.map(|g| {
        let bend = if g < 0.0 { "hollow" } else { "full" };
        let words = format!("over the chord that the apron follows, the leg's curve is {bend} by at most");
        Fact::length(FactName::ChordGap, words, g.abs())
    }));
    facts.extend(left.map(|left| {
        let words = match left < 0.0 {
            true => "at its lower arris its outside face stands farther out than its inset from the leg's edge by",
            false => "at its lower arris its outside face stands farther in than its inset from the leg's edge by",
        };
        Fact::length(FactName::LeavesEdge, words, left.abs())
    }));
    if face.inset_error > LANDS {
        let words = "greatest error of the inset at the lower arris, between unequal frames";
        facts.push(Fact::length(FactName::InsetError, words, face.inset_error));
    }
    facts
}

/// Says what the maker should know about an apron's lie.
fn tell(boards: &[FrameBoards; 2], apron: &Apron, face: &FacePlane, gap: Option<f64>, sign: f64, work: &mut Work) {
    if let Some(gap) = gap.filter(|gap| sign < 0.0 && gap.abs() > TRUE_TO) {
        let of_gap = FrameProblem::ApronFollowsChord { gap: Length::from_mm(gap) };
        work.findings.push(Finding::of(of_gap, base("apron")));
        let proud = -gap - apron.inset.mm();
        if proud > TRUE_TO {
            let [proud, hides] = [proud, -gap].map(Length::from_mm);
            work.findings.push(Finding::of(FrameProblem::ApronProud { proud, hides }, base("apron/inset")));
        }
    }
    if face.inset_error > TRUE_TO {
        let frames = [0, 1].map(|i: usize| boards[i].frame.name.to_owned());
        let problem = FrameProblem::ApronInsetOff { frames, error: Length::from_mm(face.inset_error) };
        work.findings.push(Finding::of(problem, base("apron/inset")));
    }
}

/// Warns where an apron's end does not land wholly on the leg (a hollow edge tells of itself).
fn lands(landing: &Landing, (hollow, over_edge): (bool, LegSide), work: &mut Work) -> Option<()> {
    let over = work.overshoot(landing);
    let landed = work.share_landed(landing);
    if landed < ENOUGH {
        let problem = FrameProblem::ApronMissesLeg { beyond: Length::from_mm(over), landed: Ratio(landed) };
        let finding = Finding::of(problem, base("apron/inset"));
        let slope: &[&str] = if over_edge == LegSide::Outside { &["apron/slope"] } else { &[] };
        let others =
            ["apron/inset", "apron/thickness", "apron/drop", "apron/depth", "leg/head", "leg/outside_edge/rise"];
        return work.stop_to_cure(finding, &[slope, &others, &ANGLES[..]].concat());
    }
    let is_told = |finding: &Finding| matches!(finding.problem(), Some(FrameProblem::ApronOffLeg { .. }));
    if over > LANDS && !hollow && !work.findings.iter().any(is_told) {
        let problem = FrameProblem::ApronOffLeg { beyond: Length::from_mm(over), over: over_edge };
        work.findings.push(Finding::of(problem, base("apron/inset")));
    }
    Some(())
}
