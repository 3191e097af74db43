//! Whether an aid of the sizes asked for would serve.

use super::super::run::run;
use super::caul::Sizes;
use super::offered::Lean;
use super::{Bench, SQUARE};
use crate::finding::Finding;
use crate::model::aid::AidRequest;
use crate::piece::{SolvedBoard, plane_of};
use crate::units::{Angle, Length};

/// A caul longer than the wood under it.
pub(super) const OFF_THE_WOOD: &str = "caul-off-the-wood";

/// How far in the wood the stretch under a caul is measured, mm: within what any saw leaves.
const WITHIN: f64 = 0.1;

/// A caul stands on less width than this share of its thick end only while nobody touches it (common practice, no source).
const STANDS: f64 = 1.0 / 3.0;

/// A part slides off a wedge steeper than this, degrees, whatever clamps it (common practice, no source: about one in two).
const HOLDS: f64 = 30.0;

/// A hole and a tenon whose diameters differ by more than this, mm, are of two sizes of drill.
const ONE_DRILL: f64 = 0.05;

/// Whether a caul bears along all of its foot, where a length was asked for, and stands.
pub(super) fn caul(asked: &AidRequest, bench: &Bench, lean: &Lean, (sizes, thick): (Sizes, f64)) -> Vec<Finding> {
    let Some(into) = bench.piece.boards.get(lean.into) else { return Vec::new() };
    let (say, mm) = (bench.notation, |mm: f64| Length::from_mm(mm));
    let mut found = Vec::new();
    if let Some(wood) = wood_under(lean, into).filter(|wood| sizes.length > *wood) {
        let message = format!(
            "the caul is {} long, and the {} under it only {}: the rest bears on nothing",
            say.exact(mm(sizes.length)),
            into.label,
            say.length(mm(wood))
        );
        let finding = Finding::warn(OFF_THE_WOOD, asked.place.child("length"), message);
        let finding = finding.remedy(format!("the longest that does is {}", say.at_most(mm(wood))));
        found.push(finding.measured("given", sizes.length).measured("largest", wood));
    }
    let least = thick * STANDS;
    if sizes.width < least {
        let message = format!(
            "a caul {} wide and {} thick tips over under the jaw",
            say.exact(mm(sizes.width)),
            say.length(mm(thick))
        );
        let remedy = format!("the least width that does is {}, or make it shorter", say.at_least(mm(least)));
        let finding = Finding::warn("caul-narrow", asked.place.child("width"), message).remedy(remedy);
        found.push(finding.measured("given", sizes.width).measured("least", least));
    }
    found
}

/// How far the wood reaches under a caul along its wedge, mm; `None` on a curved edge, which the foot follows.
fn wood_under(lean: &Lean, into: &SolvedBoard) -> Option<f64> {
    plane_of(&into.board, lean.on)?;
    let thin = lean.thin_end()?;
    let from = lean.at - lean.normal * WITHIN;
    let reach = |way| run(&into.board, from, way).map(|(length, _)| length);
    Some(reach(thin)? + reach(-thin)?)
}

/// Whether the hole is that of the tenon that stands in it, where the part has a round one.
pub(super) fn hole(asked: &AidRequest, bench: &Bench, own: &[&str], diameter: f64) -> Option<Finding> {
    let mut boards = bench.piece.boards.iter().filter(|board| own.contains(&board.id.as_str()));
    let (board, tenon) = boards.find_map(|board| Some((board, board.turned?.tenon)))?;
    if (tenon - diameter).abs() <= ONE_DRILL {
        return None;
    }
    let say = |mm: f64| bench.notation.exact(Length::from_mm(mm));
    let stands = match diameter > tenon {
        true => format!("would stand loose by {}", say(diameter - tenon)),
        false => "does not go in".to_owned(),
    };
    let message =
        format!("the hole is drilled {}, and the {}'s tenon of {} {stands}", say(diameter), board.label, say(tenon));
    let finding = Finding::warn("hole-unlike-tenon", asked.place.child("diameter"), message);
    let finding = finding.remedy(format!("leave \"diameter\" out, or make it {}", say(tenon)));
    Some(finding.measured("given", diameter).measured("tenon", tenon))
}

/// Whether a wedge holds its part; `instead` is the setting of the saw that does without it.
pub(super) fn wedge(asked: &AidRequest, bench: &Bench, what: &str, angle: Angle, instead: &str) -> Option<Finding> {
    let angle = angle.abs();
    if angle.degrees() <= HOLDS + SQUARE {
        return None;
    }
    let message = format!(
        "{what} is {}: steeper than {} a part slides off its wedge (common practice, no source)",
        bench.notation.angle_and_slope(angle),
        bench.notation.angle(Angle::from_degrees(HOLDS))
    );
    let finding = Finding::warn("wedge-too-steep", asked.place.clone(), message).remedy(instead.to_owned());
    Some(finding.measured("angle", angle.degrees()).measured("largest", HOLDS))
}
