//! Loose tenons along the glue lines of a top.

use super::put;
use super::spread::{Room, spread};
use super::{OffEnd, SeatProblem, TooLong};
use crate::board::{Fitting, Mortise, PartRole};
use crate::finding::Finding;
use crate::geometry::{Placement, Point, Point3, Segment, Vec3, contacts};
use crate::model::joint::{Axis, Ends, Joint, Kind, Mortise as Goes, Spread};
use crate::model::top::Top;
use crate::piece::{Piece, search};
use crate::tolerance::CONTACT_TOLERANCE;
use crate::units::{Length, Notation};

/// The share of a board's width that is left behind a mortise in its edge when a shallower one is told (common practice, no source).
const LEFT: f64 = 1.0 / 3.0;

/// Where the boards of a top meet, mm across it from its middle, front first.
pub fn glue_lines(top: &Top) -> Vec<f64> {
    let mut across = -top.glue_up.iter().map(|w| w.mm()).sum::<f64>() / 2.0;
    let mut lines = Vec::new();
    for width in top.glue_up.iter().take(top.glue_up.len().saturating_sub(1)) {
        across += width.mm();
        lines.push(across);
    }
    lines
}

/// What is said of a joint that a glue line has no use for: its tenons lie square to it, and end in both boards.
fn ignored(joint: &Joint) -> impl Iterator<Item = Finding> {
    let axis = (joint.axis != Axis::Square).then_some(("axis", "square to it"));
    let through = (joint.mortise != Goes::Blind).then_some(("mortise", "blind in both boards"));
    let place = joint.place.clone();
    axis.into_iter()
        .chain(through)
        .map(move |(field, goes)| Finding::of(SeatProblem::IgnoredInGlueLine { field, goes }, place.child(field)))
}

/// Puts the tenons of a joint along every glue line of the top. By rule they are spread over what the final shape leaves of the
/// line.
pub fn join(piece: &mut Piece, joint: &Joint, top: Option<&Top>, notation: &Notation, findings: &mut Vec<Finding>) {
    let index = piece.boards.iter().position(|board| board.role == PartRole::Top);
    let lines = top.map_or_else(Vec::new, glue_lines);
    let (Some(index), Some(top), false) = (index, top, lines.is_empty()) else {
        findings.push(Finding::of(SeatProblem::NoGlueLines {}, joint.place.clone()));
        return;
    };
    if joint.kind == Kind::Fixed {
        findings.push(Finding::of(SeatProblem::FixedInGlueLine {}, joint.place.child("kind")));
        return;
    }
    findings.extend(ignored(joint));
    if let Some(finding) = too_deep(joint, top, notation) {
        findings.push(finding);
        return;
    }
    for line in lines {
        match along(piece, index, joint, top, line, notation) {
            Ok(mortises) => mortises.into_iter().for_each(|mortise| put(piece, index, mortise)),
            Err(finding) => {
                findings.push(*finding);
                return;
            }
        }
    }
}

/// A mortise deeper than the board beside a glue line is wide.
fn too_deep(joint: &Joint, top: &Top, notation: &Notation) -> Option<Finding> {
    let pairs = || top.glue_up.windows(2).flat_map(|pair| pair.iter().zip(joint.depths).enumerate());
    let through = pairs().filter(|(_, (board, depth))| depth >= *board);
    let (_, (board, depth)) = through.min_by(|a, b| a.1.0.mm().total_cmp(&b.1.0.mm()))?;
    // On either side the narrowest board says how deep, and each glue line has both sides.
    let fits = |side: usize| {
        let narrowest =
            pairs().filter(|(of, _)| *of == side).map(|(_, (board, _))| board.mm()).fold(f64::MAX, f64::min);
        let most = search::length(narrowest * (1.0 - LEFT), false, false, notation);
        if joint.depths[side].mm() < narrowest { joint.depths[side] } else { Length::from_mm(most) }
    };
    let (first, second) = (fits(0), fits(1));
    let how = TooLong::GlueLine((first.mm().min(second.mm()) > 0.0).then_some([first, second]));
    let problem = SeatProblem::TooLong { how, depth, largest: *board, ahead: None };
    Some(Finding::of(problem, joint.place.clone()))
}

/// The two mortises of each tenon of one line.
fn along(
    piece: &Piece,
    index: usize,
    joint: &Joint,
    top: &Top,
    line: f64,
    notation: &Notation,
) -> Result<Vec<Mortise>, Box<Finding>> {
    let board = &piece.boards[index];
    let half = top.length.mm() / 2.0;
    let thickness = top.thickness.mm();
    // By hand the tenons are measured over the whole blank, and may be cut open by the final shape: that is checked later.
    let whole = Room { from: 0.0, to: 2.0 * half, each: joint.width.mm() };
    let room = match joint.spread {
        Spread::At(_) => whole,
        Spread::Even { .. } => inside(board.solid.face.path().segments(), line, half, whole),
    };
    // A glue line ends at the shoulder of a breadboard end.
    let ends = top.breadboard.as_ref().map_or(0.0, |ends| ends.width.mm());
    let room = Room { from: room.from.max(ends), to: room.to.min(2.0 * half - ends), ..room };
    let w = level(joint, thickness)?;
    let mut mortises = Vec::new();
    for place in spread(joint, room, notation)? {
        let centre = Point3::new(place - half, line, w);
        for (way, depth) in [(-Vec3::Y, joint.depths[0]), (Vec3::Y, joint.depths[1])] {
            let Some(frame) = Placement::facing(centre, Vec3::X, way) else { continue };
            mortises.push(Mortise {
                joint: joint.name.clone(),
                pointer: joint.place.pointer.clone(),
                of: 0,
                loose: true,
                number: 0,
                fitting: Fitting::Blind,
                frame,
                tenon: [
                    joint.thickness.mm(),
                    joint.width.mm(),
                    (joint.depths[0] + joint.depths[1] - joint.clearance).mm(),
                ],
                depth: depth.mm(),
                round: joint.ends == Ends::Round,
                on: None,
                exit: None,
                copies: vec![0],
            });
        }
    }
    Ok(mortises)
}

/// How far the middle of the tenons lies below the face side, mm, as a coordinate.
fn level(joint: &Joint, thickness: f64) -> Result<f64, Box<Finding>> {
    let w = match joint.from_face {
        None => -thickness / 2.0,
        Some(set) => -(set.mm() + joint.thickness.mm() / 2.0),
    };
    if w - joint.thickness.mm() / 2.0 < -thickness || w + joint.thickness.mm() / 2.0 > 0.0 {
        return Err(Box::new(off_the_edge(joint, Length::from_mm(thickness))));
    }
    Ok(w)
}

/// A tenon that does not lie in the edges of a top so thick: too thick for any, or set off too far.
fn off_the_edge(joint: &Joint, through: Length) -> Finding {
    let takes = joint.thickness;
    let left = through - takes;
    let (how, field, largest) = match joint.from_face {
        Some(set) if left > Length::ZERO => (OffEnd::GlueDistance(set), "from_face", left),
        _ => (OffEnd::GlueThickness, "thickness", through / 3.0),
    };
    Finding::of(SeatProblem::OffEnd { how, takes, through, largest }, joint.place.child(field))
}

/// What the final shape leaves of a glue line, from the left end of the blank.
fn inside(outline: &[Segment], line: f64, half: f64, whole: Room) -> Room {
    let across = Segment::line(Point::new(-half - 1.0, line), Point::new(half + 1.0, line));
    let crossed = outline.iter().flat_map(|s| contacts(&across, s, CONTACT_TOLERANCE).unwrap_or_default());
    let places: Vec<f64> = crossed.map(|contact| contact.point.x + half).collect();
    let (low, high) =
        (places.iter().copied().fold(f64::MAX, f64::min), places.iter().copied().fold(f64::MIN, f64::max));
    if high > low { Room { from: low, to: high, ..whole } } else { whole }
}
