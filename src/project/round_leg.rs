//! Splayed legs worked out: of rectangular section, or turned.

use super::raw::{RoundLegText, SplayedLegsText, TaperText};
use super::resolve::Resolver;
use super::transposed;
use crate::finding::{Finding, Place};
use crate::model::base::{SquareLeg, Taper};
use crate::model::problem::{NotTurned, Problem};
use crate::model::round_leg::{RoundLeg, place};

/// Works a turned leg out.
fn round_leg(written: &RoundLegText, resolver: &mut Resolver) -> Option<RoundLeg> {
    let (diameter, tenon) = (resolver.length(&written.diameter), resolver.length(&written.tenon));
    let foot = resolver.optional_length(written.foot.as_ref());
    let depth = resolver.optional_length(written.depth.as_ref());
    let (diameter, tenon) = (diameter?, tenon?);
    let foot = foot?.unwrap_or(diameter);
    for (field, words, size) in [("tenon", "a tenon", tenon), ("foot", "a foot", foot)] {
        if size > diameter {
            let say = resolver.notation;
            let message =
                format!("{words} {} thick cannot be turned from a leg of {}", say.exact(size), say.exact(diameter));
            let finding = Finding::stop("thicker-than-leg", place().child(field), message);
            let finding = finding.remedy(format!("the largest that does is {}", say.at_most(diameter)));
            return resolver.refuse(finding.measured("given", size.mm()).measured("largest", diameter.mm()));
        }
    }
    Some(RoundLeg { diameter, foot, tenon, depth: depth? })
}

/// Refuses what needs flat faces on a leg that is turned; whether there was none.
fn stands_alone(written: &SplayedLegsText, resolver: &mut Resolver) -> bool {
    let flat = [
        ("/base/leg/taper", written.leg.taper.is_some(), NotTurned::Taper),
        ("/base/leg/width", written.leg.width.is_some(), NotTurned::Width),
        ("/base/leg/thickness", written.leg.thickness.is_some(), NotTurned::Thickness),
        ("/base/apron", written.apron.is_some(), NotTurned::Aprons),
        ("/base/end_apron", written.end_apron.is_some(), NotTurned::EndAprons),
        ("/base/stretchers", written.stretchers.is_some(), NotTurned::Stretchers),
    ];
    let mut alone = true;
    for (pointer, _, what) in flat.into_iter().filter(|(_, given, _)| *given) {
        resolver.findings.push(Finding::of(Problem::TurnedLeg { what }, Place::pointer(pointer)));
        alone = false;
    }
    alone
}

/// Works a leg out: of rectangular section, or turned from a square blank.
pub fn square_leg(written: &SplayedLegsText, resolver: &mut Resolver) -> Option<SquareLeg> {
    if let Some(text) = &written.leg.round {
        let alone = stands_alone(written, resolver);
        let round = round_leg(text, resolver)?;
        let (width, thickness) = (round.diameter, round.diameter);
        return alone.then_some(SquareLeg { width, thickness, taper: None, round: Some(round) });
    }
    let (Some(width), Some(thickness)) = (&written.leg.width, &written.leg.thickness) else {
        let field = if written.leg.width.is_none() { "width" } else { "thickness" };
        let message = format!("\"{field}\" is missing: the size of the leg's section");
        let finding = Finding::stop("field-missing", Place::pointer("/base/leg"), message);
        return resolver.refuse(finding.remedy(format!("add \"{field}\", or \"round\" for turned legs")));
    };
    let (width, thickness) = (resolver.length(width), resolver.length(thickness));
    let taper = written.leg.taper.as_ref().map(|text| taper(text, resolver));
    Some(SquareLeg { width: width?, thickness: thickness?, taper: transposed(taper)?, round: None })
}

fn taper(written: &TaperText, resolver: &mut Resolver) -> Option<Taper> {
    let from = resolver.length(&written.from);
    let (width, thickness) = (resolver.length(&written.foot_width), resolver.length(&written.foot_thickness));
    Some(Taper { from: from?, foot_width: width?, foot_thickness: thickness? })
}
