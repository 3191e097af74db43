//! Whether the piece goes together, and what makes it.

use super::problem::AssemblyProblem;
use crate::assembly::{Bind, Goes, Link, Member, Plan, bare, plan};
use crate::board::{Against, PartRole, Role};
use crate::finding::{Cure, Cures, Finding, Place, Quantity, Setting, stops};
use crate::joinery::{Change, join};
use crate::model::Project;
use crate::model::joint::{Axis, Joint};
use crate::piece::{Piece, SolvedBoard, search};
use crate::tolerance::SHOWN;
use crate::units::{Angle, Length};

/// A tenon is made so many times shorter until its part goes on.
const SHORTER: [f64; 6] = [0.9, 0.75, 0.6, 0.45, 0.3, 0.2];

/// Play is made larger by so many times what is lacking: what goes by the one part may bind by the next.
const LOOSER: [f64; 4] = [1.0, 1.1, 1.5, 2.0];

/// More play than this is no joint any more (the largest that the field takes).
const MOST_PLAY: Length = Length::from_mm(5.0);

/// That tenons stand along their parts instead of square to the sawn ends.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TenonsAlong {
    /// The names of their joints.
    pub joints: Vec<String>,
}

/// That the mortises are pared wider than the shop's usually are.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Looser {
    /// By how much, each way.
    pub by: Length,
}

/// That a part is put in without the tenons of some joints.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct WithoutTenons {
    /// What the part is called.
    pub part: String,
    /// The names of the joints.
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

/// A board without tenons that can go in at no time, and the boards that shut it in.
#[derive(Debug, Clone)]
pub(super) struct ShutIn {
    member: Member,
    by: Vec<Member>,
}

impl ShutIn {
    /// All of a piece.
    fn all(piece: &Piece) -> Vec<ShutIn> {
        let never = bare(piece, &plan(piece)).into_iter().filter_map(|one| match one.goes {
            Goes::Never(by) => Some(ShutIn { member: one.member, by }),
            Goes::Last | Goes::Before(..) => None,
        });
        never.collect()
    }
}

/// The boards without tenons that can go in at no time.
pub(super) fn shut_in(piece: &Piece) -> Vec<(Finding, ShutIn)> {
    let label = |(board, _): &Member| piece.boards.get(*board).map(|board| board.label.clone());
    let mut found: Vec<(Finding, ShutIn)> = Vec::new();
    for shut in ShutIn::all(piece) {
        let (Some(part), Some(board)) = (label(&shut.member), piece.boards.get(shut.member.0)) else { continue };
        let mut names: Vec<String> = shut.by.iter().filter_map(label).collect();
        names.dedup();
        let finding = Finding::of(AssemblyProblem::ShutIn { part, by: names }, Place::pointer(board.pointer.clone()));
        if !found.iter().any(|(known, _)| *known == finding) {
            found.push((finding, shut));
        }
    }
    found
}

/// Writes into a finding which of the parts that shut a board in lets it in where it has no tenons, tried on the piece.
pub(super) fn free(finding: &mut Finding, shut: &ShutIn, piece: &Piece, project: &Project) {
    let links = plan(piece).links;
    let mut parts: Vec<usize> = shut.by.iter().map(|(board, _)| *board).collect();
    parts.sort_unstable();
    parts.dedup();
    let cure = |board: usize| {
        let holds = |link: &&Link| link.stands_on.0 == board || link.goes_into.0 == board;
        let mut without: Vec<usize> = links.iter().filter(holds).map(|link| link.joint).collect();
        without.sort_unstable();
        without.dedup();
        let kept = project.joints.iter().enumerate().filter(|(index, _)| !without.contains(index));
        let kept: Vec<Joint> = kept.map(|(_, joint)| joint.clone()).collect();
        let mut made = piece.clone();
        made.boards.iter_mut().for_each(SolvedBoard::take_out_joints);
        let joined = join(&mut made, &kept, project.top.as_ref(), &project.notation);
        let freed =
            !stops(&joined.findings) && ShutIn::all(&made).iter().all(|still| still.member.0 != shut.member.0);
        let joints = without.iter().filter_map(|index| Some(project.joints.get(*index)?.name.clone())).collect();
        let part = piece.boards.get(board)?.label.clone();
        freed.then(|| Cure::new(Vec::new(), WithoutTenons { part, joints }))
    };
    let cures: Vec<Cure> = parts.into_iter().filter_map(cure).collect();
    finding.cures = if cures.is_empty() { Cures::None } else { Cures::Any(cures) };
}

/// End stretchers without joints in a piece that has some: the legs that they meet are glued up with them, and nothing else holds them.
pub(super) fn unjoined(piece: &Piece) -> Vec<Finding> {
    if piece.boards.iter().all(|board| board.mortises.is_empty()) {
        return Vec::new();
    }
    let bare = piece.boards.iter().filter(|board| board.role == PartRole::EndStretcher && board.mortises.is_empty());
    let told = bare.filter_map(|board| {
        let ends = board.board.cuts.iter().filter(|cut| cut.role == Role::End);
        let mut meets: Vec<String> = ends
            .filter_map(|cut| match cut.against.as_ref()? {
                Against::Part { part, .. } => Some(part.words()),
                Against::Floor => None,
            })
            .collect();
        meets.dedup();
        let place = Place::pointer(board.pointer.clone());
        let part = board.label.clone();
        (!meets.is_empty()).then(|| Finding::of(AssemblyProblem::Unjoined { part, meets }, place))
    });
    told.collect()
}

/// The joints that bind each other, by their index in the file.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Binding {
    joints: Vec<usize>,
    /// How much more play each way, mm, each tenon would need; `None` where none is enough.
    looser: Option<f64>,
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
    Some((Finding::of(problem, place), Binding { joints, looser: bind.looser }))
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
    cures.extend(looser(binding, piece, project));
    finding.cures = if cures.is_empty() { Cures::None } else { Cures::Any(cures) };
}

/// The least play of the shop with which everything goes together that its joints hold.
fn looser(binding: &Binding, piece: &Piece, project: &Project) -> Option<Cure> {
    let (given, more) = (project.shop.play, binding.looser?);
    let does = |play: f64| {
        let mut made = piece.clone();
        made.boards.iter_mut().for_each(|board| board.play = Length::from_mm(play));
        no_more_binds(&made, piece, &binding.joints)
    };
    let ladder = LOOSER.iter().map(|share| given.mm() + share * more).collect();
    let written = |mm: f64, up: bool, finely: bool| search::length(mm, up, finely, &project.notation);
    let play = Length::from_mm(search::nearest(given.mm(), &[ladder], &does, &written)?);
    let setting = Setting { place: Place::pointer("/shop/play"), value: Quantity::Length(play) };
    (play <= MOST_PLAY).then(|| Cure::new(vec![setting], Looser { by: play - given }))
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
    made.boards.iter_mut().for_each(SolvedBoard::take_out_joints);
    let joined = join(&mut made, &joints, project.top.as_ref(), &project.notation);
    if stops(&joined.findings) {
        return false;
    }
    no_more_binds(&made, piece, asked)
}

/// Whether the tenons of some joints bind no more in a changed piece, and no others do that did not before.
fn no_more_binds(made: &Piece, piece: &Piece, asked: &[usize]) -> bool {
    let now = plan(made);
    let binds = now.binds().any(|(_, bind)| {
        bind.between.iter().filter_map(|index| now.links.get(*index)).any(|link| asked.contains(&link.joint))
    });
    !binds && now.binds().count() < plan(piece).binds().count()
}
