//! Mortises that the shop's machine cannot reach.
//!
//! The machine registers on the surface that is mortised, its fence on the face side; for a mortise in a face, the fence lies on
//! the nearest edge. Its limits are those that the shop gives.

use super::{DeeperCut, FenceCure, LyingFlat, MachineProblem, MortiseName, Told};
use crate::board::{Fitting, Mortise, Role, Source};
use crate::finding::{Degrees, Finding, Place};
use crate::joinery::surface_plane;
use crate::model::Mortiser;
use crate::piece::SolvedBoard;
use crate::tolerance::{JUST, SHOWN, SHOWN_SQUARE};
use crate::units::{Angle, Length};

/// Tells every mortise that lies too far from the fence, at an angle it has not, leaning, or too deep.
pub(super) fn check(index: usize, board: &SolvedBoard, machine: &Mortiser) -> Vec<Told> {
    let cut = board.mortises.iter().filter(|m| m.fitting != Fitting::Standing);
    cut.flat_map(|mortise| {
        let all = [
            far(board, mortise, machine),
            angle(board, mortise, machine),
            lean(board, mortise),
            deep(board, mortise, machine),
        ];
        let told = |problem| Told::new(index, Finding::of(problem, Place::pointer(mortise.pointer.clone())));
        all.into_iter().flatten().map(told).collect::<Vec<_>>()
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

fn far(board: &SolvedBoard, mortise: &Mortise, machine: &Mortiser) -> Option<MachineProblem> {
    let (from, reach) = (from_fence(board, mortise), machine.reach.mm());
    (from > reach + JUST).then(|| MachineProblem::BeyondFence {
        mortise: MortiseName::of(board, mortise),
        from: Length::from_mm(from),
        reach: machine.reach,
        sides: board.board.sides,
        flat: lying_flat(board, mortise, machine),
    })
}

/// How an end or edge mortise is cut with board and machine flat on the bench.
fn lying_flat(board: &SolvedBoard, mortise: &Mortise, machine: &Mortiser) -> LyingFlat {
    let height = machine.height.filter(|_| !matches!(mortise.on, Some(Source::Face | Source::Far)));
    let Some(height) = height else { return LyingFlat::Not };
    let above = board.board.thickness + mortise.frame.origin().z;
    let spacer = height.mm() - above;
    if spacer.abs() < SHOWN {
        LyingFlat::OnTheBench
    } else if spacer > 0.0 {
        LyingFlat::BoardRaised(Length::from_mm(spacer))
    } else {
        LyingFlat::MachineRaised(Length::from_mm(-spacer))
    }
}

fn angle(board: &SolvedBoard, mortise: &Mortise, machine: &Mortiser) -> Option<MachineProblem> {
    let plane = surface_plane(&board.board, mortise)?;
    // The fence lies on the face side: square to an end, 90 degrees and what the end leans.
    let leans = match mortise.on {
        Some(Source::Face | Source::Far) => 0.0,
        _ => plane.normal().z.clamp(-1.0, 1.0).asin().to_degrees(),
    };
    let wanted = 90.0 + leans;
    let [low, high] = machine.angles.map_or([90.0, 90.0], |both| both.map(Angle::degrees));
    let beyond = (low - wanted).max(wanted - high);
    if beyond <= SHOWN_SQUARE {
        return None;
    }
    let other = 180.0 - wanted;
    let cure = match (low..=high).contains(&other) {
        true => FenceCure::FarSide(Angle::from_degrees(other)),
        false => FenceCure::Wedge(Angle::from_degrees(beyond)),
    };
    let (mortise, far) = (MortiseName::of(board, mortise), board.board.sides[1]);
    Some(MachineProblem::FenceAngle { mortise, angle: Degrees(wanted), beyond: Degrees(beyond), far, cure })
}

/// A mortise that leans along its width: the fence turns about that line, and sets no such angle.
fn lean(board: &SolvedBoard, mortise: &Mortise) -> Option<MachineProblem> {
    let normal = surface_plane(&board.board, mortise)?.normal();
    let width = mortise.frame.u();
    let along = (width - normal * width.dot(normal)).unit()?;
    let angle = Angle::from_radians(mortise.frame.w().dot(along).abs().clamp(0.0, 1.0).asin());
    let mortise = MortiseName::of(board, mortise);
    (angle.degrees() > SHOWN_SQUARE).then_some(MachineProblem::Leans { mortise, angle })
}

fn deep(board: &SolvedBoard, mortise: &Mortise, machine: &Mortiser) -> Option<MachineProblem> {
    let most = machine.depth?;
    if mortise.depth <= most.mm() + JUST {
        return None;
    }
    let cut = match mortise.fitting {
        Fitting::Through if mortise.depth <= 2.0 * most.mm() => DeeperCut::FromBothSides,
        Fitting::Through => DeeperCut::ByHandBetween,
        _ => DeeperCut::LessDeep,
    };
    let (mortise, depth) = (MortiseName::of(board, mortise), Length::from_mm(mortise.depth));
    Some(MachineProblem::TooDeep { mortise, depth, largest: most, cut })
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
        let told = check(0, &board, &machine);
        told.into_iter().map(|t| (t.finding.code, t.finding.said(&Notation::default()).remedy)).collect()
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
