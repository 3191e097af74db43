//! Whether the piece goes together, and what makes it.

use super::problem::AssemblyProblem;
use crate::assembly::{Bind, Link, Plan, plan};
use crate::finding::{Cure, Cures, Finding, Place, stops};
use crate::joinery::{Change, join};
use crate::model::Project;
use crate::model::joint::{Axis, Joint};
use crate::piece::{Piece, search};
use crate::tolerance::SHOWN;
use crate::units::{Angle, Length};

/// A tenon is made so many times shorter until its part goes on.
const SHORTER: [f64; 6] = [0.9, 0.75, 0.6, 0.45, 0.3, 0.2];

/// That tenons stand along their parts instead of square to the sawn ends.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TenonsAlong {
    /// The names of their joints.
    pub joints: Vec<String>,
}

/// What does not go together.
pub(super) fn check(piece: &Piece, project: &Project) -> Vec<(Finding, Binding)> {
    let made = plan(piece);
    let all = made.binds().map(|(_, bind)| told(piece, project, &made, bind));
    let mut found: Vec<(Finding, Binding)> = Vec::new();
    for (finding, binding) in all.flatten() {
        // Both frames of a table tell the same thing once.
        if !found.iter().any(|(known, _)| known.is_like(&finding, SHOWN)) {
            found.push((finding, binding));
        }
    }
    found
}

/// The joints that bind each other, by their index in the file.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Binding {
    joints: Vec<usize>,
}

fn told(piece: &Piece, project: &Project, made: &Plan, bind: &Bind) -> Option<(Finding, Binding)> {
    let links = bind.between.map(|index| made.links.get(index));
    let [Some(first), Some(second)] = links else { return None };
    let joint = |link: &Link| project.joints.get(link.joint);
    let label = |board: usize| piece.boards.get(board).map(|board| board.label.clone());
    let closing = made.binds().find(|(_, known)| std::ptr::eq(*known, bind)).map(|(closing, _)| closing)?;
    let moving = closing.parts.get(bind.part)?;
    let [from, into] = match moving.contains(&second.goes_into) {
        true => [second.stands_on, second.goes_into],
        false => [second.goes_into, second.stands_on],
    };
    let problem = AssemblyProblem::Bind {
        part: label(into.0)?,
        onto: label(from.0)?,
        first: joint(first)?.name.clone(),
        second: joint(second)?.name.clone(),
        angle: Angle::from_radians(bind.angle),
        bind: bind.bind.map(Length::from_mm),
        over: Length::from_mm(second.stands),
        looser: bind.looser.map(Length::from_mm),
    };
    let mut joints = vec![first.joint, second.joint];
    joints.dedup();
    let place = Place::pointer(joint(second)?.place.pointer.clone());
    Some((Finding::of(problem, place), Binding { joints }))
}

/// Writes into a finding what of its joints' axes and depths lets everything go together that they hold, tried on the piece.
pub(super) fn cure(finding: &mut Finding, binding: &Binding, piece: &Piece, project: &Project) {
    let joints: Vec<&Joint> = binding.joints.iter().filter_map(|index| project.joints.get(*index)).collect();
    let goes = |changed: &[Joint]| goes_together(piece, project, changed, &binding.joints);
    let mut cures = Vec::new();
    let square = joints.iter().filter(|joint| joint.axis == Axis::Square && !joint.is_turned_leg());
    let along: Vec<Joint> = square.map(|joint| Joint { axis: Axis::Along, ..(*joint).clone() }).collect();
    if !along.is_empty() && goes(&along) {
        let names = along.iter().map(|joint| joint.name.clone()).collect();
        cures.push(Cure::new(Vec::new(), TenonsAlong { joints: names }));
    }
    for joint in &joints {
        cures.extend(shallower(joint, joints.len() > 1, &goes, project));
    }
    finding.cures = if cures.is_empty() { Cures::None } else { Cures::Any(cures) };
}

/// The greatest depth of a joint's tenons with which its parts go together.
fn shallower(joint: &Joint, named: bool, goes: &dyn Fn(&[Joint]) -> bool, project: &Project) -> Option<Cure> {
    let base = (project.base.as_ref(), project.top.as_ref());
    let change = Change::Second;
    let given = change.given(joint, base)?;
    let [low, high] = change.range(joint, given);
    let ladder = SHORTER.iter().map(|share| given * share).filter(|depth| (low..=high).contains(depth)).collect();
    let does = |depth: f64| change.made(joint, depth).is_some_and(|made| goes(&[made]));
    let written = |mm: f64, up: bool, finely: bool| search::length(mm, up, finely, &project.notation);
    let value = search::nearest(given, &[ladder], &does, &written)?;
    Some(change.cure(joint, base, (given, value), named.then(|| joint.name.clone())))
}

/// Whether the tenons of some joints bind no more where joints are changed, and no others do that did not before.
fn goes_together(piece: &Piece, project: &Project, changed: &[Joint], asked: &[usize]) -> bool {
    let place = |joint: &Joint| changed.iter().find(|made| made.place.pointer == joint.place.pointer);
    let joints: Vec<Joint> = project.joints.iter().map(|joint| place(joint).unwrap_or(joint).clone()).collect();
    let mut made = piece.clone();
    made.boards.iter_mut().for_each(|board| board.mortises.clear());
    let joined = join(&mut made, &joints, project.top.as_ref(), &project.notation);
    if stops(&joined.findings) {
        return false;
    }
    let now = plan(&made);
    let binds = now.binds().any(|(_, bind)| {
        bind.between.iter().filter_map(|index| now.links.get(*index)).any(|link| asked.contains(&link.joint))
    });
    !binds && now.binds().count() < plan(piece).binds().count()
}
