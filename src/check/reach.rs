//! Mortises that the shop's machine cannot reach.
//!
//! The machine registers on the surface that is mortised, its fence on the face side; for a mortise in a face, the fence lies on
//! the nearest edge. Its limits are those that the shop gives.

use super::{Told, mortise_name, say};
use crate::board::{Fitting, Mortise, Role, Source};
use crate::finding::{Finding, Place};
use crate::joinery::surface_plane;
use crate::model::Mortiser;
use crate::piece::SolvedBoard;
use crate::units::{Angle, Length, Notation};

/// Slack for what just does, mm or degrees: what arithmetic adds.
const JUST: f64 = 1e-6;

/// An angle smaller than this, degrees, is not set.
const TURNED: f64 = 0.05;

/// A spacer thinner than this, mm, is none.
const NO_SPACER: f64 = 0.05;

/// Tells every mortise that lies too far from the fence, at an angle it has not, leaning, or too deep.
pub(super) fn check(index: usize, board: &SolvedBoard, machine: &Mortiser, notation: &Notation) -> Vec<Told> {
    let cut = board.mortises.iter().filter(|m| m.fitting != Fitting::Standing);
    cut.flat_map(|mortise| {
        let all = [
            far(board, mortise, machine, notation),
            angle(board, mortise, machine, notation),
            lean(board, mortise, notation),
            deep(board, mortise, machine, notation),
        ];
        all.into_iter().flatten().map(|finding| Told::new(index, finding)).collect::<Vec<_>>()
    })
    .collect()
}

/// How far the middle of a mortise lies from what the fence lies on, mm.
fn from_fence(board: &SolvedBoard, mortise: &Mortise) -> f64 {
    let origin = mortise.frame.origin();
    match mortise.on {
        Some(Source::Face | Source::Far) => {
            let at = crate::geometry::Point::new(origin.x, origin.y);
            let nearest = |lies: &dyn Fn(Source) -> bool| {
                let edges = board.solid.face.pieces().filter(|(_, source)| lies(*source));
                edges.map(|(piece, _)| piece.nearest(at).0).min_by(f64::total_cmp)
            };
            // An edge may be made by a cut, as a box's rims are; of a board that has only ends, the fence lies on one.
            let is_edge = |source: Source| match source {
                Source::Edge(_) => true,
                Source::Cut(cut) => board.board.cuts.get(cut).is_some_and(|cut| cut.role == Role::Edge),
                Source::Face | Source::Far => false,
            };
            nearest(&is_edge).or_else(|| nearest(&|_| true)).unwrap_or(0.0)
        }
        _ => -origin.z,
    }
}

fn far(board: &SolvedBoard, mortise: &Mortise, machine: &Mortiser, notation: &Notation) -> Option<Finding> {
    let (from, reach) = (from_fence(board, mortise), machine.reach.mm());
    if from <= reach + JUST {
        return None;
    }
    let message = format!(
        "the mortise of {} lies {} from where the fence does, {} beyond its reach",
        mortise_name(board, mortise),
        say(from, notation),
        say(from - reach, notation)
    );
    let finding = Finding::warn("beyond-the-fence", Place::pointer(mortise.pointer.clone()), message);
    let flat = lying_flat(board, mortise, machine, notation);
    let straightedge = "set the machine against a straight edge clamped across the board instead".to_owned();
    Some(finding.remedy(flat.unwrap_or(straightedge)).measured("from", from).measured("reach", reach))
}

/// The spacer for cutting an end or edge mortise with board and machine flat on the bench.
fn lying_flat(board: &SolvedBoard, mortise: &Mortise, machine: &Mortiser, notation: &Notation) -> Option<String> {
    if matches!(mortise.on, Some(Source::Face | Source::Far)) {
        return None;
    }
    let height = machine.height?.mm();
    let above = board.board.thickness + mortise.frame.origin().z;
    let [face, far] = board.board.sides;
    let spacer = height - above;
    Some(if spacer.abs() < NO_SPACER {
        format!("cut it lying flat on the bench, the {far} down, as the machine does")
    } else if spacer > 0.0 {
        format!("cut it lying flat, the {far} down, on a spacer {} thick", say(spacer, notation))
    } else {
        format!(
            "cut it lying flat, the {far} down and the {face} up, the machine on a spacer {} thick",
            say(-spacer, notation)
        )
    })
}

fn angle(board: &SolvedBoard, mortise: &Mortise, machine: &Mortiser, notation: &Notation) -> Option<Finding> {
    let plane = surface_plane(&board.board, mortise)?;
    // The fence lies on the face side: square to an end, 90 degrees and what the end leans.
    let leans = match mortise.on {
        Some(Source::Face | Source::Far) => 0.0,
        _ => plane.normal().z.clamp(-1.0, 1.0).asin().to_degrees(),
    };
    let wanted = 90.0 + leans;
    let [low, high] = machine.angles.map_or([90.0, 90.0], |both| both.map(Angle::degrees));
    let beyond = (low - wanted).max(wanted - high);
    if beyond <= TURNED {
        return None;
    }
    let message = format!(
        "the mortise of {} wants the fence at {}, {} beyond what it has",
        mortise_name(board, mortise),
        notation.angle(Angle::from_degrees(wanted)),
        notation.angle(Angle::from_degrees(beyond))
    );
    let other = 180.0 - wanted;
    let remedy = if (low..=high).contains(&other) {
        let far = board.board.sides[1];
        format!(
            "lay the fence on the {far} at {} and set it off from there",
            notation.angle(Angle::from_degrees(other))
        )
    } else {
        let wedge = notation.angle_and_slope(Angle::from_degrees(beyond));
        format!("put a wedge of {wedge} between the fence and the face side")
    };
    let finding = Finding::warn("fence-angle", Place::pointer(mortise.pointer.clone()), message).remedy(remedy);
    Some(finding.measured("angle", wanted).measured("beyond", beyond))
}

/// A mortise that leans along its width: the fence turns about that line, and sets no such angle.
fn lean(board: &SolvedBoard, mortise: &Mortise, notation: &Notation) -> Option<Finding> {
    let normal = surface_plane(&board.board, mortise)?.normal();
    let width = mortise.frame.u();
    let along = (width - normal * width.dot(normal)).unit()?;
    let leans = mortise.frame.w().dot(along).abs().clamp(0.0, 1.0).asin().to_degrees();
    if leans <= TURNED {
        return None;
    }
    let message = format!(
        "the mortise of {} leans {} along its width from square to its surface, which no fence sets",
        mortise_name(board, mortise),
        notation.angle(Angle::from_degrees(leans))
    );
    let wedge = notation.angle_and_slope(Angle::from_degrees(leans));
    let remedy = format!("make its \"axis\" \"square\", or set the machine on a wedge of {wedge}");
    let finding =
        Finding::warn("lean-along-the-fence", Place::pointer(mortise.pointer.clone()), message).remedy(remedy);
    Some(finding.measured("angle", leans))
}

fn deep(board: &SolvedBoard, mortise: &Mortise, machine: &Mortiser, notation: &Notation) -> Option<Finding> {
    let most = machine.depth?.mm();
    if mortise.depth <= most + JUST {
        return None;
    }
    let message = format!(
        "the mortise of {} is {} deep, {} more than the machine cuts",
        mortise_name(board, mortise),
        say(mortise.depth, notation),
        say(mortise.depth - most, notation)
    );
    let finding = Finding::warn("deeper-than-the-machine", Place::pointer(mortise.pointer.clone()), message);
    let finding = finding.remedy(match mortise.fitting {
        Fitting::Through if mortise.depth <= 2.0 * most => {
            format!("cut it from both sides, {} from each", say(mortise.depth / 2.0, notation))
        }
        Fitting::Through => "cut it from both sides as deep as the machine does, and finish it by hand".to_owned(),
        _ => format!(
            "the largest depth that does is {}; or finish it by hand",
            notation.at_most(Length::from_mm(most))
        ),
    });
    Some(finding.measured("depth", mortise.depth).measured("largest", most))
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::check::samples::{end_mortise, rail};
    use crate::model::Mortiser;
    use crate::units::{Length, Notation};

    fn told(reach: f64, depth: f64) -> Vec<(&'static str, String)> {
        let mut board = rail(60.0, 20.0);
        board.mortises.push(end_mortise(&board, 6.0, 40.0, 25.0));
        let mm = Length::from_mm;
        let machine = Mortiser { reach: mm(reach), angles: None, depth: Some(mm(depth)), height: Some(mm(14.0)) };
        let told = check(0, &board, &machine, &Notation::default());
        told.into_iter().map(|t| (t.finding.code, t.finding.remedy)).collect()
    }

    /// The middle lies 10 mm below the face side and 10 above the far side, 25 deep.
    #[test]
    fn a_mortise_is_within_reach_just_so_and_beyond() {
        assert!(told(12.0, 28.0).is_empty());
        assert!(told(10.0, 25.0).is_empty());
        let beyond = told(9.0, 24.0);
        assert_eq!(
            beyond.iter().map(|(code, _)| *code).collect::<Vec<_>>(),
            ["beyond-the-fence", "deeper-than-the-machine"]
        );
        assert!(beyond[0].1.contains("on a spacer 4 mm thick"), "{}", beyond[0].1);
    }
}
