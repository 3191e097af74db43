//! Limits as cures: where a problem of the file knows the number that just does, that number is tried in the file.

use super::set_in;
use crate::finding::{Amount, Cure, Cures, Finding, Quantity, Setting, Severity, Unit};
use crate::project::{
    FieldProblem, OutlineProblem, Ranged, Shops, Sources, TenonProblem, TextProblem, no_drawings, read_in,
};
use crate::units::{Angle, Length, Notation};

/// The most findings for which a limit is tried, since the whole file is read again for each.
const MOST_TRIED: usize = 20;

/// And so many bytes are read in all, but for one try: a large file with many such findings would take seconds.
const MOST_READ: usize = 2 << 20;

/// A number written in place of the one that is there.
#[derive(Debug, Clone, Copy)]
pub(crate) struct InItsPlace;

/// Gives findings of the reader the number that cures them, where their problem knows it, it stands in the project file, and the
/// file that has it is read without the finding. It may bring another stop, in reading or, as `stops` tells of the text that has it,
/// in making: then it is where a number may begin, and no cure (`Cures::Half`). The file was read with no
/// shop file but the person's own, and without a variant.
pub fn offer_limits(
    findings: &mut [Finding],
    sources: &Sources,
    shops: Shops,
    stops: &dyn Fn(&str) -> Option<Finding>,
) {
    let Some(file) = sources.files().first() else { return };
    let notation = sources.notation();
    let most = (MOST_READ / file.text.len().max(1)).clamp(1, MOST_TRIED);
    let is_own = |finding: &Finding| finding.place.span.is_none_or(|span| span.source == 0);
    let limited = findings
        .iter_mut()
        .filter(|finding| is_own(finding))
        .filter_map(|finding| Some((limit(finding, &notation)?, finding)));
    for (value, finding) in limited.filter(|(_, finding)| finding.cures == Cures::Untried).take(most) {
        let setting = Setting { place: finding.place.clone(), value };
        let then = match with(&setting, finding, (&file.text, shops), &notation) {
            Ok(text) => stops(&text).map(Box::new),
            Err(Some(stop)) => Some(stop),
            Err(None) => continue,
        };
        let cure = Cure::new(vec![setting], InItsPlace);
        finding.cures = match then {
            Some(stop) => Cures::Half(cure, stop),
            None => Cures::Any(vec![cure]),
        };
    }
}

/// The file that has a number, where it is read without a finding and without a new stop.
///
/// # Errors
/// The stop, where there is one.
fn with(
    setting: &Setting,
    finding: &Finding,
    (text, shops): (&str, Shops),
    notation: &Notation,
) -> Result<String, Option<Box<Finding>>> {
    let changed = set_in("", text, &[&setting.change(notation)], shops);
    let changed = changed.map_err(|refused| {
        let mut stops = refused.findings.into_iter().filter(|found| found.severity == Severity::Stop);
        stops.next().map(|stop| Box::new(Finding { refused: None, ..stop }))
    })?;
    let after = read_in("", changed.text.as_bytes(), shops, None, &no_drawings);
    let same = |left: &Finding| left.code == finding.code && left.place.pointer == finding.place.pointer;
    match after.findings.into_iter().find(same) {
        Some(left) => Err(Some(Box::new(left))),
        None => Ok(changed.text),
    }
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
