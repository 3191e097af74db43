//! Limits as cures: where a problem of the file knows the number that just does, that number is tried in the file.

use super::set;
use crate::finding::{Amount, Cure, Cures, Finding, Quantity, Setting, Unit};
use crate::project::{FieldProblem, OutlineProblem, Ranged, Sources, TenonProblem, TextProblem, read};
use crate::units::{Angle, Length, Notation};

/// The most findings for which a limit is tried, since the whole file is read again for each.
const MOST_TRIED: usize = 20;

/// A number written in place of the one that is there.
#[derive(Debug, Clone, Copy)]
pub(crate) struct InItsPlace;

/// Gives findings of the reader the number that cures them, where their problem knows it, it stands in the project file, and the
/// file that has it is read without the finding and without a new stop. The file was read alone: without a shop file or a variant.
pub fn offer_limits(findings: &mut [Finding], sources: &Sources) {
    let Some(file) = sources.files().first() else { return };
    let notation = sources.notation();
    let limited = findings.iter_mut().filter_map(|finding| Some((limit(finding, &notation)?, finding)));
    for (value, finding) in limited.filter(|(_, finding)| finding.cures == Cures::Untried).take(MOST_TRIED) {
        let setting = Setting { place: finding.place.clone(), value };
        if cures(&setting, finding, &file.text, &notation) {
            finding.cures = Cures::Any(vec![Cure::new(vec![setting], InItsPlace)]);
        }
    }
}

/// Whether the file that has a number is read without a finding and without a new stop.
fn cures(setting: &Setting, finding: &Finding, text: &str, notation: &Notation) -> bool {
    let Ok(changed) = set("", text, &[&setting.change(notation)]) else { return false };
    let after = read("", changed.as_bytes(), None, None);
    let same = |left: &Finding| left.code == finding.code && left.place.pointer == finding.place.pointer;
    !after.findings.iter().any(same)
}

/// The number that just does in place of the one at the finding's place, rounded to the side on which it does.
fn limit(finding: &Finding, notation: &Notation) -> Option<Quantity> {
    let at_most = |length: Length| Some(Quantity::Length(notation.rounded_down(length)));
    let at_least = |length: Length| Some(Quantity::Length(notation.rounded_up(length)));
    if let Some(FieldProblem::OutOfRange { what, value, smallest, largest }) = finding.problem() {
        return out_of_range(what, [*value, *smallest, *largest], notation);
    }
    match finding.problem::<OutlineProblem>() {
        Some(OutlineProblem::RiseTooLarge { rise, largest }) => {
            let most = notation.rounded_down(*largest);
            return Some(Quantity::Length(if *rise < Length::ZERO { -most } else { most }));
        }
        Some(OutlineProblem::RadiusTooSmall { smallest, .. }) => return at_least(*smallest),
        Some(OutlineProblem::RadiusTooLarge { largest, .. }) => return at_most(*largest),
        Some(OutlineProblem::Tension { largest, .. }) => return Some(Quantity::Number(largest.0)),
        _ => {}
    }
    if let Some(
        TextProblem::MarginsWide { largest, .. }
        | TextProblem::OverlapWide { largest, .. }
        | TextProblem::ThickerThanLeg { largest, .. },
    ) = finding.problem::<TextProblem>()
    {
        return at_most(*largest);
    }
    match finding.problem::<TenonProblem>()? {
        TenonProblem::ThickerThanWide { thickness, .. } => Some(Quantity::Length(*thickness)),
        TenonProblem::TooLong { clearance: None, largest, .. } => at_most(*largest),
        // Length, depths and clearance have to agree to the last digit.
        TenonProblem::TooLong { largest, .. } => Some(Quantity::Length(*largest)),
        _ => None,
    }
}

/// The end of the range that is nearest.
fn out_of_range(what: &Ranged, amounts: [Option<Amount>; 3], notation: &Notation) -> Option<Quantity> {
    match what {
        Ranged::Whole(number, low, high) => Some(Quantity::Number(number.round().clamp(*low, *high))),
        Ranged::Bar(..) => None,
        Ranged::Field(_) => {
            let [Amount(value, unit), Amount(low, _), Amount(high, _)] = [amounts[0]?, amounts[1]?, amounts[2]?];
            let is_small = value < low;
            let end = if is_small { low } else { high };
            Some(match unit {
                Unit::Mm if is_small => Quantity::Length(notation.first_in_range(Length::from_mm(end))),
                Unit::Mm => Quantity::Length(notation.last_in_range(Length::from_mm(end))),
                Unit::Degree => Quantity::Angle(Angle::from_degrees(end)),
                _ => Quantity::Number(end),
            })
        }
    }
}
