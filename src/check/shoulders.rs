//! The thickness of a tenon, and the shoulders of a fixed one.
//!
//! Common practice, no source: a tenon is about a third of the thickness of its part and no more than half of it; a fixed
//! tenon has shoulders of at least 3 mm all round, which hide the mortise and stop the part.

use super::trial::{Behind, WallAt};
use super::{JointProblem, MortiseName, SmallerTenon, Told, falls_short, say};
use crate::board::{Fitting, Mortise, Source};
use crate::finding::{Finding, Place};
use crate::geometry::{Path, Point};
use crate::joinery::mouth;
use crate::piece::SolvedBoard;
use crate::units::{Length, Notation};

/// The largest share of the thickness (common practice).
const LARGEST: f64 = 0.5;

/// The least shoulder, mm (common practice).
const SHOULDER: f64 = 3.0;

/// The narrowest shoulder around a standing tenon, mm, and where it is: of a turned leg that of the turning, square to its centre
/// line.
fn narrowest(board: &SolvedBoard, mortise: &Mortise) -> Option<(f64, Point)> {
    if let Some(turned) = board.turned {
        let at = mortise.frame.origin();
        return Some(((turned.head - mortise.tenon[0]) / 2.0, Point::new(at.x, at.y)));
    }
    let Some(Source::Cut(cut)) = mortise.on else { return None };
    let end = board.solid.ends.get(cut)?;
    let tenon: Path = mouth(&board.board, &board.solid, mortise)?;
    let rims = || end.rings.iter().map(|ring| ring.path());
    let sides = tenon
        .segments()
        .iter()
        .flat_map(|s| rims().filter_map(move |rim| Some((rim.distance_to_line(s.start(), s.end())?, s.eval(0.5)))));
    let (least, at) = sides.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let at = end.lift(at);
    Some((least, Point::new(at.x, at.y)))
}

/// What is missing of the narrowest shoulder of a standing tenon, mm.
pub(super) fn missing_shoulder(board: &SolvedBoard, mortise: &Mortise) -> Option<f64> {
    let least = narrowest(board, mortise)?.0;
    falls_short(least, SHOULDER).then_some(SHOULDER - least)
}

/// The smaller tenon that has its shoulders, by its width or its thickness, each tried; a smaller one leaves more wood everywhere.
fn cure(board: &SolvedBoard, mortise: &Mortise, less: f64) -> SmallerTenon {
    let [thickness, width, length] = mortise.tenon;
    let does = |tenon: [f64; 3]| {
        let left = tenon[0] > 0.0 && tenon[1] >= tenon[0];
        let smaller = Mortise { tenon, ..mortise.clone() };
        left && narrowest(board, &smaller).is_some_and(|(least, _)| !falls_short(least, SHOULDER))
    };
    let (narrower, thinner) = (width - less, thickness - less);
    let [by_width, by_thickness] = [narrower, thinner].map(Length::from_mm);
    if board.turned.is_some() && does([thinner, narrower, length]) {
        return SmallerTenon::Round(by_thickness);
    }
    if does([thickness, narrower, length]) {
        return SmallerTenon::Width(by_width);
    }
    if does([thinner, width, length]) {
        return SmallerTenon::Thickness(by_thickness);
    }
    if does([thinner, narrower, length]) {
        return SmallerTenon::Both(by_width, by_thickness);
    }
    SmallerTenon::Unknown
}

/// Tells tenons that are too thick and shoulders that are too narrow.
pub(super) fn check(index: usize, board: &SolvedBoard, notation: &Notation) -> Vec<Told> {
    let mut told = Vec::new();
    for mortise in &board.mortises {
        let place = Place::pointer(mortise.pointer.clone());
        let from_end = matches!(mortise.on, Some(Source::Cut(_)));
        let largest = board.board.thickness * LARGEST;
        // A turned tenon has its shoulder all round, and is as thick as it is wide.
        if from_end && !mortise.is_drilled() && falls_short(largest, mortise.tenon[0]) {
            let problem = JointProblem::Thick {
                mortise: MortiseName::of(board, mortise),
                thickness: Length::from_mm(mortise.tenon[0]),
                largest: Length::from_mm(largest),
                board: Length::from_mm(board.board.thickness),
            };
            let finding = Finding::of(problem, place.child("thickness"));
            told.push(Told::new(index, finding));
        }
        if mortise.fitting != Fitting::Standing {
            continue;
        }
        let Some((shoulder, at)) = narrowest(board, mortise).filter(|(least, _)| falls_short(*least, SHOULDER))
        else {
            continue;
        };
        let less = 2.0 * (SHOULDER - shoulder);
        let problem = JointProblem::NarrowShoulder {
            mortise: MortiseName::of(board, mortise),
            shoulder: Length::from_mm(shoulder),
            wanted: Length::from_mm(SHOULDER),
            less: Length::from_mm(less),
            cure: cure(board, mortise, less),
        };
        let finding = Finding::of(problem, place);
        let wall = Some(WallAt::of(board, mortise, Behind::Rim));
        told.push(Told { wall, ..Told::new(index, finding).at(at, format!("shoulder {}", say(shoulder, notation))) });
    }
    told
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::board::{Fitting, Mortise};
    use crate::check::samples::{end_mortise, rail};
    use crate::geometry::{Placement, Vec3};
    use crate::units::Notation;

    fn told(thickness: f64, width: f64) -> Vec<&'static str> {
        let mut board = rail(60.0, 20.0);
        let cut = end_mortise(&board, thickness, width, 25.0);
        let frame = Placement::facing(cut.frame.origin(), Vec3::Y, Vec3::X).unwrap();
        board.mortises.push(Mortise { fitting: Fitting::Standing, round: false, frame, ..cut });
        check(0, &board, &Notation::default()).iter().map(|t| t.finding.code).collect()
    }

    #[test]
    fn shoulders_pass_touch_and_fail() {
        assert!(told(6.0, 40.0).is_empty());
        assert!(told(6.0, 54.0).is_empty(), "3 mm are left on either side: just enough");
        assert_eq!(told(6.0, 55.0), ["narrow-shoulder"]);
    }

    #[test]
    fn a_tenon_of_half_the_thickness_is_just_thin_enough() {
        assert!(told(10.0, 40.0).is_empty());
        assert_eq!(told(10.5, 40.0), ["tenon-thickness"]);
    }
}
