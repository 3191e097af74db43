//! Joints worked out.

use super::raw::JointText;
use super::resolve::Resolver;
use super::value::Written;
use crate::finding::{Finding, Place, Unit};
use crate::model::joint::{Axis, Ends, Joint, Kind, Mortise, Spread, StandsWith};
use crate::tolerance::ROUNDING;
use crate::units::Length;

/// How much longer two mortises together are than their tenon unless the file says otherwise, mm (common practice: room for
/// glue).
const USUAL_CLEARANCE: f64 = 2.0;

/// Works a joint out.
pub fn joint(name: &str, written: &JointText, resolver: &mut Resolver) -> Option<Joint> {
    let place = Place::pointer("/joints").child(name);
    let (thickness, width) = (resolver.length(&written.thickness), resolver.length(&written.width));
    let spread = spread(written, &place, resolver);
    let from_face = resolver.optional_length(written.from_face.as_ref());
    let (thickness, width) = (thickness?, width?);
    if width < thickness {
        let say = resolver.notation;
        let message = format!("a tenon {} wide is {} thick", say.exact(width), say.exact(thickness));
        let finding = Finding::stop("tenon-sizes", place.child("width"), message);
        return resolver.refuse(finding.remedy(format!("make it at least {} wide", say.exact(thickness))));
    }
    let kind = written.kind.unwrap_or(Kind::Loose);
    let mortise = written.mortise.unwrap_or(Mortise::Blind);
    let (depths, clearance) = depths(written, kind, mortise, &place, resolver)?;
    let usual_ends = if kind == Kind::Loose { Ends::Round } else { Ends::Square };
    Some(Joint {
        name: name.to_owned(),
        place,
        stands_with: StandsWith::Joints,
        from: written.from.clone(),
        into: written.into.clone(),
        kind,
        mortise,
        thickness,
        width,
        depths,
        clearance,
        spread: spread?,
        from_face: from_face?,
        axis: written.axis.unwrap_or(Axis::Square),
        ends: written.ends.unwrap_or(usual_ends),
    })
}

fn spread(written: &JointText, place: &Place, resolver: &mut Resolver) -> Option<Spread> {
    let Some(at) = &written.at else {
        let spacing = resolver.optional_length(written.spacing.as_ref());
        let margin = resolver.optional_length(written.margin.as_ref());
        return Some(Spread::Even { count: written.count, spacing: spacing?, margin: margin? });
    };
    if written.count.is_some() || written.spacing.is_some() || written.margin.is_some() {
        let message = "\"at\" gives the places by hand; \"count\", \"spacing\" and \"margin\" give them by rule";
        return resolver
            .refuse(Finding::stop("two-spreads", place.child("at"), message).remedy("keep one of the two ways"));
    }
    if at.is_empty() {
        let finding = Finding::stop("no-places", place.child("at"), "no place is given for a tenon");
        return resolver.refuse(finding.remedy("give the distance of each centre, or leave \"at\" out"));
    }
    let all: Vec<Option<Length>> = at.iter().map(|at: &Written| resolver.length(at)).collect();
    all.into_iter().collect::<Option<Vec<Length>>>().map(Spread::At)
}

/// The depths of the two mortises and their clearance.
fn depths(
    written: &JointText,
    kind: Kind,
    mortise: Mortise,
    place: &Place,
    resolver: &mut Resolver,
) -> Option<([Length; 2], Length)> {
    let length = resolver.optional_length(written.length.as_ref())?;
    let clearance = resolver.optional_length(written.clearance.as_ref())?;
    let given = match &written.depths {
        Some(pair) => {
            let (first, second) = (resolver.length(&pair.0), resolver.length(&pair.1));
            Some([first?, second?])
        }
        None => None,
    };
    let usual = clearance.unwrap_or(Length::from_mm(USUAL_CLEARANCE));
    let missing = |what: &str, resolver: &mut Resolver| {
        let finding = Finding::stop("field-missing", place.clone(), format!("{what} is missing"));
        resolver.refuse(finding.remedy("add \"length\""))
    };
    match (kind, mortise, given, length) {
        (Kind::Fixed, _, Some(_), _) => {
            let message = "a fixed tenon needs no mortise in its own part";
            let finding = Finding::stop("depths-of-fixed-tenon", place.child("depths"), message);
            resolver.refuse(finding.remedy("give its \"length\" and the \"clearance\" at its end"))
        }
        (Kind::Fixed, Mortise::Through, None, _) => Some(([Length::ZERO; 2], Length::ZERO)),
        (Kind::Fixed, Mortise::Blind, None, Some(length)) => Some(([Length::ZERO, length + usual], usual)),
        (Kind::Loose, Mortise::Through, None, None) => missing("how deep the first part is mortised", resolver),
        (_, _, None, None) => missing("the length of the tenon", resolver),
        (Kind::Loose, Mortise::Through, None, Some(length)) => Some(([length, length], usual)),
        (Kind::Loose, _, None, Some(length)) => Some(([(length + usual) / 2.0; 2], usual)),
        (Kind::Loose, _, Some(both), None) => Some((both, usual)),
        (Kind::Loose, _, Some(both), Some(length)) => {
            let room = both[0] + both[1] - length;
            if room < Length::ZERO || clearance.is_some_and(|asked| (asked - room).abs().mm() > ROUNDING) {
                let say = resolver.notation;
                let message = format!(
                    "a tenon {} long lies in mortises {} deep together",
                    say.exact(length),
                    say.exact(both[0] + both[1])
                );
                let fits = both[0] + both[1] - clearance.unwrap_or(Length::ZERO);
                let remedy = match clearance {
                    None => format!("the length that does is {}, or deepen the mortises", say.at_most(fits)),
                    // The three numbers have to agree: one of them is left to follow from the others.
                    Some(_) if room < Length::ZERO => format!(
                        "leave \"length\" out, and it is {}; or deepen the mortises by {} together and leave \"clearance\" out",
                        say.exact(fits),
                        say.at_least(-room)
                    ),
                    Some(asked) => format!(
                        "leave \"length\" out, and it is {}; or leave \"clearance\" out, and it is {} in place of {}",
                        say.exact(fits),
                        say.exact(room),
                        say.exact(asked)
                    ),
                };
                let finding = Finding::stop("tenon-too-long", place.child("length"), message).remedy(remedy);
                return resolver.refuse(finding.measured("length", length.mm(), Unit::Mm).measured(
                    "largest",
                    fits.mm(),
                    Unit::Mm,
                ));
            }
            Some((both, room))
        }
    }
}
