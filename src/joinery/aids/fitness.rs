//! Whether an aid of the sizes asked for would serve.

use super::super::run::run;
use super::super::{AidProblem, Instead};
use super::Bench;
use super::caul::Sizes;
use super::offered::Lean;
use crate::board::PartId;
use crate::finding::{Degrees, Finding};
use crate::model::aid::AidRequest;
use crate::piece::{SolvedBoard, plane_of};
use crate::tolerance::{SHOWN, SHOWN_SQUARE, UNDER_CAUL};
use crate::units::{Angle, Length};

/// A caul stands on less width than this share of its thick end only while nobody touches it (common practice, no source).
const STANDS: f64 = 1.0 / 3.0;

/// A part slides off a wedge steeper than this, degrees, whatever clamps it (common practice, no source: about one in two).
pub(super) const HOLDS: f64 = 30.0;

/// Whether a caul bears along all of its foot, where a length was asked for, and stands.
pub(super) fn caul(asked: &AidRequest, bench: &Bench, lean: &Lean, (sizes, thick): (Sizes, f64)) -> Vec<Finding> {
    let Some(into) = bench.piece.boards.get(lean.into) else { return Vec::new() };
    let mm = Length::from_mm;
    let mut found = Vec::new();
    if let Some(wood) = wood_under(lean, into).filter(|wood| sizes.length > *wood) {
        let problem =
            AidProblem::CaulOffTheWood { part: into.label.clone(), given: mm(sizes.length), largest: mm(wood) };
        found.push(Finding::of(problem, asked.place.child("length")));
    }
    let least = thick * STANDS;
    if sizes.width < least {
        let problem = AidProblem::CaulNarrow { thick: mm(thick), given: mm(sizes.width), least: mm(least) };
        found.push(Finding::of(problem, asked.place.child("width")));
    }
    found
}

/// How far the wood reaches under a caul along its wedge, mm; `None` on a curved edge, which the foot follows.
fn wood_under(lean: &Lean, into: &SolvedBoard) -> Option<f64> {
    plane_of(&into.board, lean.on)?;
    let thin = lean.thin_end()?;
    let from = lean.at - lean.normal * UNDER_CAUL;
    let reach = |way| run(&into.board, from, way).map(|(length, _)| length);
    Some(reach(thin)? + reach(-thin)?)
}

/// Whether the hole is that of the tenon that stands in it, where the part has a round one.
pub(super) fn hole(asked: &AidRequest, bench: &Bench, own: &[&PartId], diameter: f64) -> Option<Finding> {
    let mut boards = bench.piece.boards.iter().filter(|board| own.contains(&&board.id));
    let (board, tenon) = boards.find_map(|board| Some((board, board.turned?.tenon)))?;
    if (tenon - diameter).abs() <= SHOWN {
        return None;
    }
    let [given, tenon] = [diameter, tenon].map(Length::from_mm);
    let problem = AidProblem::HoleUnlikeTenon { part: board.label.clone(), given, tenon };
    Some(Finding::of(problem, asked.place.child("diameter")))
}

/// Whether a wedge holds its part; `instead` is what does without it.
pub(super) fn wedge(asked: &AidRequest, wedge: &str, angle: Angle, instead: Instead) -> Option<Finding> {
    let angle = angle.abs();
    if angle.degrees() <= HOLDS + SHOWN_SQUARE {
        return None;
    }
    let largest = Degrees(HOLDS);
    let problem = AidProblem::WedgeTooSteep { wedge: wedge.to_owned(), angle, largest, instead };
    Some(Finding::of(problem, asked.place.clone()))
}
