//! Joints as the file has them, and worked out.

use super::field_problem::{FieldProblem, Missing};
use super::given::{Given, given};
use super::part_problem::TenonProblem;
use super::resolve::Resolver;
use crate::finding::{Finding, Place};
use crate::model::joint::{Axis, Ends, Joint, JointGiven, Kind, Mortise, Spread, StandsWith, joint_given};
use crate::tolerance::ROUNDING;
use crate::units::Length;

/// How much longer two mortises together are than their tenon unless the file says otherwise, mm (common practice: room for
/// glue).
const USUAL_CLEARANCE: f64 = 2.0;

joint_given!(given);

/// Works a joint out.
pub fn joint(name: &str, written: &JointText, resolver: &mut Resolver) -> Option<Joint> {
    let place = Place::pointer("/joints").child(name);
    let given = JointGiven::work_out(written, resolver)?;
    let JointGiven { thickness, width, kind, mortise, .. } = given;
    if width < thickness {
        let problem = TenonProblem::ThickerThanWide { width, thickness };
        return resolver.refuse(Finding::of(problem, place.child("width")));
    }
    let spread = spread(&given, &place, resolver);
    let (depths, clearance) = depths(&given, &place, resolver)?;
    let usual_ends = if kind == Kind::Loose { Ends::Round } else { Ends::Square };
    Some(Joint {
        name: name.to_owned(),
        place,
        stands_with: StandsWith::Joints,
        from: given.from,
        into: given.into,
        kind,
        mortise,
        thickness,
        width,
        depths,
        clearance,
        spread: spread?,
        from_face: given.from_face,
        axis: given.axis,
        ends: given.ends.unwrap_or(usual_ends),
    })
}

fn spread(given: &JointGiven, place: &Place, resolver: &mut Resolver) -> Option<Spread> {
    let Some(at) = &given.at else {
        return Some(Spread::Even { count: given.count, spacing: given.spacing, margin: given.margin });
    };
    if given.count.is_some() || given.spacing.is_some() || given.margin.is_some() {
        return resolver.refuse(Finding::of(TenonProblem::TwoSpreads {}, place.child("at")));
    }
    if at.is_empty() {
        return resolver.refuse(Finding::of(TenonProblem::NoPlaces {}, place.child("at")));
    }
    Some(Spread::At(at.clone()))
}

/// The depths of the two mortises and their clearance.
fn depths(given: &JointGiven, place: &Place, resolver: &mut Resolver) -> Option<([Length; 2], Length)> {
    let JointGiven { length, clearance, depths, kind, mortise, .. } = *given;
    let usual = clearance.unwrap_or(Length::from_mm(USUAL_CLEARANCE));
    let missing = |what: Missing, resolver: &mut Resolver| {
        resolver.refuse(Finding::of(FieldProblem::Missing { what }, place.clone()))
    };
    match (kind, mortise, depths, length) {
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
