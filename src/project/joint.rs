//! Joints as the file has them.

use super::field_problem::{FieldProblem, Missing};
use super::given::{Given, given};
use super::part_problem::TenonProblem;
use super::resolve::Resolver;
use crate::finding::{Finding, Place};
use crate::model::joint::{Axis, Ends, Joint, JointFault, JointGiven, Kind, Mortise, joint_given};
use crate::units::Length;

joint_given!(given);

/// Works a joint out: its numbers, and what they make.
pub fn joint(name: &str, written: &JointText, resolver: &mut Resolver) -> Option<(JointGiven, Joint)> {
    let place = Place::pointer("/joints").child(name);
    let given = JointGiven::work_out(written, resolver)?;
    let made = given.joint(name);
    let faults = made.as_ref().err().into_iter().flatten();
    resolver.findings.extend(faults.map(|fault| told(*fault, &place)));
    if let Some(first) = given.ignored_depth() {
        resolver.findings.push(Finding::of(TenonProblem::SecondDepth { first }, place.child("depths")));
    }
    Some((given, made.ok()?))
}

fn told(fault: JointFault, place: &Place) -> Finding {
    let missing = |what: Missing| Finding::of(FieldProblem::Missing { what }, place.clone());
    let tenon = |problem: TenonProblem, field: &str| Finding::of(problem, place.child(field));
    match fault {
        JointFault::ThickerThanWide { width, thickness } => {
            tenon(TenonProblem::ThickerThanWide { width, thickness }, "width")
        }
        JointFault::TwoSpreads => tenon(TenonProblem::TwoSpreads {}, "at"),
        JointFault::NoPlaces => tenon(TenonProblem::NoPlaces {}, "at"),
        JointFault::DepthsOfFixed => tenon(TenonProblem::DepthsOfFixed {}, "depths"),
        JointFault::NoDepth => missing(Missing::MortiseDepth),
        JointFault::NoLength => missing(Missing::TenonLength),
        JointFault::TooLong { together, clearance, length, largest } => {
            tenon(TenonProblem::TooLong { together, clearance, length, largest }, "length")
        }
    }
}
