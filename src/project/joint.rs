//! Joints worked out.

use super::field_problem::{FieldProblem, Missing};
use super::part_problem::TenonProblem;
use super::raw::JointText;
use super::resolve::Resolver;
use super::value::Written;
use crate::finding::{Finding, Place};
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
        let problem = TenonProblem::ThickerThanWide { width, thickness };
        return resolver.refuse(Finding::of(problem, place.child("width")));
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
        return resolver.refuse(Finding::of(TenonProblem::TwoSpreads {}, place.child("at")));
    }
    if at.is_empty() {
        return resolver.refuse(Finding::of(TenonProblem::NoPlaces {}, place.child("at")));
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
    let missing = |what: Missing, resolver: &mut Resolver| {
        resolver.refuse(Finding::of(FieldProblem::Missing { what }, place.clone()))
    };
    match (kind, mortise, given, length) {
        (Kind::Fixed, _, Some(_), _) => {
            resolver.refuse(Finding::of(TenonProblem::DepthsOfFixed {}, place.child("depths")))
        }
        (Kind::Fixed, Mortise::Through, None, _) => Some(([Length::ZERO; 2], Length::ZERO)),
        (Kind::Fixed, Mortise::Blind, None, Some(length)) => Some(([Length::ZERO, length + usual], usual)),
        (Kind::Loose, Mortise::Through, None, None) => missing(Missing::MortiseDepth, resolver),
        (_, _, None, None) => missing(Missing::TenonLength, resolver),
        (Kind::Loose, Mortise::Through, None, Some(length)) => Some(([length, length], usual)),
        (Kind::Loose, _, None, Some(length)) => Some(([(length + usual) / 2.0; 2], usual)),
        (Kind::Loose, Mortise::Through, Some(both), None) => {
            let problem = TenonProblem::SecondDepth { first: both[0] };
            resolver.findings.push(Finding::of(problem, place.child("depths")));
            Some((both, usual))
        }
        (Kind::Loose, _, Some(both), None) => Some((both, usual)),
        (Kind::Loose, _, Some(both), Some(length)) => {
            let room = both[0] + both[1] - length;
            if room < Length::ZERO || clearance.is_some_and(|asked| (asked - room).abs().mm() > ROUNDING) {
                let together = both[0] + both[1];
                let largest = together - clearance.unwrap_or(Length::ZERO);
                let problem = TenonProblem::TooLong { together, clearance, length, largest };
                return resolver.refuse(Finding::of(problem, place.child("length")));
            }
            Some((both, room))
        }
    }
}
