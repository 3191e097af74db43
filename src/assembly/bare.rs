//! Boards that no tenon holds, and when each goes in.
//!
//! Such a board touches others with plane surfaces, and travels along any way that leads away from each of them or along it. It goes
//! in as late as it can: after all else where that leaves it a way, else before the step that shuts it in, if the parts of that and of
//! later steps pass by it.

use super::link::Member;
use super::order::{Closing, Core, Plan, Stage, planned};
use crate::board::PartRole;
use crate::geometry::Vec3;
use crate::piece::{Piece, plane_of};
use crate::tolerance::NO_LEAN;

/// A board that no tenon holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Bare {
    /// The board.
    pub member: Member,
    /// When it goes in.
    pub goes: Goes,
}

/// When a board that no tenon holds goes in.
#[derive(Debug, Clone, PartialEq)]
pub enum Goes {
    /// After all else.
    Last,
    /// Before these boards go on, in the stage with this number.
    Before(Vec<Member>, usize),
    /// At no time: it is shut in by these boards.
    Never(Vec<Member>),
}

/// Boards that go on at one time, each with its way, of length 1; none for those that are there first.
struct Step {
    stage: usize,
    moved: Vec<(Member, Option<Vec3>)>,
}

/// Another board that touches one, and the direction from the one into it, of length 1.
struct Contact {
    other: Member,
    into: Vec3,
}

/// How a piece is glued: where a board without tenons could go in at no time, in another order of what can go on last, if one leaves it
/// a time.
pub fn plan(piece: &Piece) -> Plan {
    let (mut last, mut made) = (Vec::new(), planned(piece, &[]));
    loop {
        let shut = shut_in(piece, &made);
        let with = |member: Member| {
            let order: Vec<Member> = last.iter().copied().chain([member]).collect();
            let other = planned(piece, &order);
            let binds = other.binds().count() > made.binds().count();
            (!binds && shut_in(piece, &other).len() < shut.len()).then_some((order, other))
        };
        let Some(better) = shut.iter().flatten().copied().find_map(with) else { return made };
        (last, made) = better;
    }
}

/// What shuts in each board that can go in at no time.
fn shut_in(piece: &Piece, plan: &Plan) -> Vec<Vec<Member>> {
    let never = |one: Bare| match one.goes {
        Goes::Never(by) => Some(by),
        Goes::Last | Goes::Before(..) => None,
    };
    bare(piece, plan).into_iter().filter_map(never).collect()
}

/// Every board of the base without tenons that touches some with tenons, with when it goes in by a plan.
pub fn bare(piece: &Piece, plan: &Plan) -> Vec<Bare> {
    let steps: Vec<Step> = plan.stages.iter().flat_map(steps).collect();
    let is_held = |member: Member| plan.links.iter().any(|link| link.stands_on == member || link.goes_into == member);
    let boards = piece.boards.iter().enumerate().filter(|(_, board)| board.role != PartRole::Top);
    let members = boards.flat_map(|(index, board)| (0..board.copies.len()).map(move |copy| (index, copy)));
    let free = members.filter(|member| !is_held(*member));
    free.filter_map(|member| {
        let mut contacts = contacts(piece, member);
        contacts.retain(|contact| is_held(contact.other));
        (!contacts.is_empty()).then(|| Bare { member, goes: goes(&contacts, &steps) })
    })
    .collect()
}

fn steps(stage: &Stage) -> Vec<Step> {
    stage.closings.iter().flat_map(|closing| of_closing(stage.number, closing)).collect()
}

fn of_closing(stage: usize, closing: &Closing) -> Vec<Step> {
    let boards = |part: usize, way: Option<Vec3>| closing.parts[part].iter().map(move |member| (*member, way));
    let first: Vec<(Member, Option<Vec3>)> = match &closing.core {
        Core::One(part) => boards(*part, None).collect(),
        Core::Together(travels) => travels.iter().flat_map(|(part, travel)| boards(*part, travel.unit())).collect(),
        Core::Stuck(bind) => bind.among.iter().flat_map(|part| boards(*part, None)).collect(),
    };
    let puts = closing.puts.iter().map(|put| boards(put.part, Some(put.way)).collect());
    std::iter::once(first).chain(puts).map(|moved| Step { stage, moved }).collect()
}

/// What touches a board with a plane surface of its own.
fn contacts(piece: &Piece, (index, copy): Member) -> Vec<Contact> {
    let Some(board) = piece.boards.get(index) else { return Vec::new() };
    let Some(stands) = board.copies.get(copy).map(|copy| &copy.placement) else { return Vec::new() };
    let own = board.meets.iter().filter(|meet| meet.own_copy == copy);
    own.filter_map(|meet| {
        let other = piece.boards.iter().position(|other| other.id == meet.board)?;
        let into = stands.direction_to_world(plane_of(&board.board, meet.on)?.normal()).unit()?;
        Some(Contact { other: (other, meet.copy), into })
    })
    .collect()
}

/// The latest time at which a board goes in.
fn goes(contacts: &[Contact], steps: &[Step]) -> Goes {
    let standing = |until: usize| {
        let there =
            |member: Member| steps[..until].iter().any(|step| step.moved.iter().any(|(one, _)| *one == member));
        contacts.iter().filter(move |contact| there(contact.other)).map(|contact| contact.into).collect::<Vec<Vec3>>()
    };
    let fits = |time: &usize| has_way(&standing(*time)) && (*time..steps.len()).all(|at| passes(contacts, steps, at));
    match (0..=steps.len()).rev().find(fits) {
        Some(time) => match steps.get(time) {
            Some(step) => Goes::Before(step.moved.iter().map(|(member, _)| *member).collect(), step.stage),
            None => Goes::Last,
        },
        None => {
            let mut by: Vec<Member> = contacts.iter().map(|contact| contact.other).collect();
            by.sort_unstable();
            by.dedup();
            Goes::Never(by)
        }
    }
}

/// Whether what goes on in a step passes by a board that stands: it leaves the board behind as it comes off again, or takes it along
/// and what stands already is left behind.
fn passes(contacts: &[Contact], steps: &[Step], at: usize) -> bool {
    let Some(step) = steps.get(at) else { return true };
    let way_of = |member: Member| step.moved.iter().find(|(one, _)| *one == member).map(|(_, way)| *way);
    let before = |member: Member| steps[..at].iter().any(|step| step.moved.iter().any(|(one, _)| *one == member));
    // The parts come off against the way in which they go on.
    let stays = contacts.iter().all(|contact| match way_of(contact.other) {
        Some(Some(way)) => -way.dot(contact.into) > -NO_LEAN,
        _ => true,
    });
    let goes_along = |taken: Vec3| {
        contacts.iter().all(|contact| match way_of(contact.other) {
            None => !before(contact.other) || -taken.dot(contact.into) < NO_LEAN,
            Some(way) => way.is_some_and(|way| (way - taken).length() < NO_LEAN),
        })
    };
    let mut ways = step.moved.iter().filter_map(|(_, way)| *way);
    stays || ways.any(goes_along)
}

/// Whether there is a way that leads into none of what stands in these directions.
fn has_way(into: &[Vec3]) -> bool {
    let is_free = |way: Vec3| into.iter().all(|into| way.dot(*into) < NO_LEAN);
    let away = into.iter().fold(Vec3::default(), |sum, into| sum + -*into);
    // Where there is a way, there is one along two of them, along one, or away from all.
    let crossed = into.iter().flat_map(|a| into.iter().map(move |b| a.cross(*b)));
    let across = into.iter().flat_map(|a| [Vec3::X, Vec3::Y, Vec3::Z].map(|axis| a.cross(axis)));
    let both = crossed.chain(across).filter_map(Vec3::unit).flat_map(|way| [way, -way]);
    into.is_empty() || away.unit().into_iter().chain(both).any(is_free)
}

#[cfg(test)]
mod tests {
    use super::{Contact, Goes, Step, goes, has_way};
    use crate::geometry::Vec3;

    #[test]
    fn a_board_between_two_slides_and_one_shut_in_on_all_sides_does_not() {
        let all = [Vec3::X, -Vec3::X, Vec3::Y, -Vec3::Y, Vec3::Z, -Vec3::Z];
        for count in 0..6 {
            assert!(has_way(&all[..count]), "{count}");
        }
        assert!(!has_way(&all));
        // Three slanting sides and a bottom: out upwards. With a lid none.
        let tilted = |x: f64, y: f64| Vec3::new(x, y, -0.4).unit().expect("a direction");
        let tray = [tilted(1.0, 0.0), tilted(-0.5, 0.9), tilted(-0.5, -0.9), -Vec3::Z];
        assert!(has_way(&tray));
        assert!(!has_way(&[tray.as_slice(), &[Vec3::Z]].concat()));
    }

    /// A bottom between four sides under which and over which boards lie: it goes in before the last of them, and where that cannot
    /// pass by it, at no time.
    #[test]
    fn a_board_goes_in_before_what_shuts_it_in() {
        let contact = |other: usize, into: Vec3| Contact { other: (other, 0), into };
        let sides = [Vec3::X, -Vec3::X, Vec3::Y, -Vec3::Y, Vec3::Z, -Vec3::Z];
        let contacts: Vec<Contact> = sides.iter().enumerate().map(|(k, into)| contact(k, *into)).collect();
        let step = |other: usize, way: Option<Vec3>| Step { stage: 0, moved: vec![((other, 0), way)] };
        let there = || (0..5).map(|k| step(k, None));
        // The last one stands below and comes on from below.
        let from_below: Vec<Step> = there().chain([step(5, Some(Vec3::Z))]).collect();
        assert_eq!(goes(&contacts, &from_below), Goes::Before(vec![(5, 0)], 0));
        // Down from above it would have to go through the board, which cannot be taken along past the others.
        let from_above: Vec<Step> = there().chain([step(5, Some(-Vec3::Z))]).collect();
        assert!(matches!(goes(&contacts, &from_above), Goes::Never(by) if by.len() == 6));
        assert_eq!(goes(&contacts[..4], &from_below), Goes::Last);
    }
}
