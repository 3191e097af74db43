//! Joints: one solid in space for each tenon, from which the mortises of both parts are taken.
//!
//! Guarantees to everything below: the two mortises of a tenon are one box in the world, each lies inside its board (a
//! through one but for its far mouth), and every copy of a board that has a mortise is named in it.

pub mod aids;
mod arrises;
mod change;
mod glue;
mod held;
mod landing;
mod limits;
mod marking;
mod mouth;
mod problem;
mod run;
mod seat;
mod spread;

pub use crate::piece::{hull, surface_plane};
pub use arrises::{Straight, arrises, centre_line};
pub(crate) use change::JointChange;
pub use change::{Change, changes, changes_between, last_resorts};
pub use glue::glue_lines;
pub use held::{HeldMark, held_marks, marks_in_lines};
pub use landing::named;
pub use marking::{
    BlankSide, From as MarkedFrom, Line as MarkedAlong, MarkedSpan, Marking, far_marking, marked_span, marking,
    squared_across,
};
pub use mouth::{edge_length, far_mouth, mouth};
pub(crate) use problem::{
    AidProblem, Fewer, Instead, NoMeeting, OffEnd, OffLanding, SeatProblem, SetIn, Square, TenonKind, TooLong,
};
pub use run::run;

use crate::board::{EdgeName, Fitting, Mortise, PartRole, Source};
use crate::finding::Finding;
use crate::geometry::{Placement, Point, Point3, Rect, Vec3};
use crate::model::joint::{Ends, Joint, Kind, Spread};
use crate::model::top::Top;
use crate::piece::Piece;
use crate::tolerance::{ALIKE, SAME_PLACE};
use crate::units::{Length, Notation};
use landing::{Landing, Pair};
use std::rc::Rc;

/// What was found when the joints of a piece were made.
#[derive(Debug, Clone, Default)]
pub struct Joined {
    /// What is to be told, without the cures that have to be tried.
    pub findings: Vec<Finding>,
    /// The tenons that could not be made, by the index of the finding that tells it.
    unmade: Vec<(usize, Unmade)>,
}

/// A tenon that cannot be made on a landing.
#[derive(Debug, Clone)]
struct Unmade {
    /// Its joint; of tenons set by hand with this one alone.
    joint: Joint,
    /// Which of the places set by hand it is in the file; 0 where there is none.
    index: usize,
    /// The landing.
    landing: Landing,
    /// Every landing of the joint, this one included.
    all: Rc<[Landing]>,
}

impl Joined {
    /// Whether there is a cure to search.
    pub fn asks_for_cures(&self) -> bool {
        !self.unmade.is_empty()
    }

    /// The findings, each with the limits or the changes of the joint with which it can be made, tried on the piece.
    pub fn cured(&self, piece: &Piece, notation: &Notation) -> Vec<Finding> {
        let mut findings = self.findings.clone();
        for (index, unmade) in &self.unmade {
            if let Some(finding) = findings.get_mut(*index) {
                *finding = unmade.cured(piece, finding.clone(), notation);
            }
        }
        findings
    }
}

/// Makes the joints of a piece.
pub fn join(piece: &mut Piece, joints: &[Joint], top: Option<&Top>, notation: &Notation) -> Joined {
    let mut joined = Joined::default();
    for joint in joints {
        let is_top = |name: &str| match landing::named(piece, name).as_slice() {
            [] => PartRole::Top.is_called(name),
            parts => parts.iter().all(|part| piece.boards[*part].role == PartRole::Top),
        };
        if is_top(&joint.from) && is_top(&joint.into) {
            glue::join(piece, joint, top, notation, &mut joined.findings);
            continue;
        }
        match landings(piece, joint) {
            Ok(landings) => {
                let all: Rc<[Landing]> = landings.into();
                for landing in all.iter() {
                    make(piece, joint, (landing, &all), notation, &mut joined);
                }
            }
            Err(finding) => joined.findings.push(*finding),
        }
    }
    for (index, joint) in joints.iter().enumerate() {
        let made = piece.boards.iter_mut().flat_map(|board| &mut board.mortises);
        made.filter(|mortise| mortise.pointer == joint.place.pointer).for_each(|mortise| mortise.of = index);
    }
    piece.leave_out_parted_clashes();
    joined
}

/// Where a joint's tenons come: every landing, of a fixed tenon one way only.
fn landings(piece: &Piece, joint: &Joint) -> Result<Vec<Landing>, Box<Finding>> {
    let all = landing::landings(piece, &Pair { from: &joint.from, into: &joint.into, place: &joint.place })?;
    match joint.kind {
        Kind::Loose => Ok(all),
        Kind::Fixed => landing::one_way(all, &joint.place),
    }
}

/// Makes the tenons of one landing of all; what stops it is told.
fn make(
    piece: &mut Piece,
    joint: &Joint,
    (landing, all): (&Landing, &Rc<[Landing]>),
    notation: &Notation,
    joined: &mut Joined,
) {
    let made = match pairs(piece, joint, landing, notation) {
        Ok(made) => made,
        Err(finding) => {
            for (finding, joint, index) in stopped(piece, joint, landing, *finding, notation) {
                // The four legs of a table tell the same thing once.
                if !joined.findings.iter().any(|known| known.is_like(&finding, ALIKE)) {
                    let unmade = Unmade { joint, index, landing: landing.clone(), all: Rc::clone(all) };
                    joined.unmade.push((joined.findings.len(), unmade));
                    joined.findings.push(finding);
                }
            }
            return;
        }
    };
    for (from_mortise, into_mortise) in made {
        put(piece, landing.from, from_mortise);
        put(piece, landing.into, into_mortise);
    }
}

/// What stops the tenons of a landing, each place given by hand for itself, with the joint of that place alone.
fn stopped(
    piece: &Piece,
    joint: &Joint,
    landing: &Landing,
    finding: Finding,
    notation: &Notation,
) -> Vec<(Finding, Joint, usize)> {
    let Spread::At(places) = &joint.spread else { return vec![(finding, joint.clone(), 0)] };
    let alone = |(index, given): (usize, &Length)| {
        let one = Joint { spread: Spread::At(vec![*given]), ..joint.clone() };
        let mut finding = *pairs(piece, &one, landing, notation).err()?;
        let at = joint.place.child("at");
        finding.move_place(&at.child(0), &at.child(index));
        Some((finding, one, index))
    };
    places.iter().enumerate().filter_map(alone).collect()
}

impl Unmade {
    /// What stops it, with what cures it on all landings.
    fn cured(&self, piece: &Piece, finding: Finding, notation: &Notation) -> Finding {
        let Unmade { joint, index, landing, all } = self;
        let does = |joint: &Joint| all.iter().all(|landing| pairs(piece, joint, landing, notation).is_ok());
        let mut cured = match finding.problem() {
            Some(SeatProblem::OffLanding { how: OffLanding::Hole { .. }, .. }) => {
                *set_in(piece, joint, landing, notation, Box::new(finding))
            }
            _ => *limits::true_limits(joint, notation, Box::new(finding), &does),
        };
        let at = joint.place.child("at");
        cured.move_place(&at.child(0), &at.child(index));
        cured
    }
}

/// The mortises (or tenon and mortise) of each tenon of one landing: of the first part and of the second.
fn pairs(
    piece: &Piece,
    joint: &Joint,
    landing: &Landing,
    notation: &Notation,
) -> Result<Vec<(Mortise, Mortise)>, Box<Finding>> {
    let seat = seat::seat(piece, joint, landing, notation)?;
    let (from, into) = (&piece.boards[landing.from], &piece.boards[landing.into]);
    let (from_at, into_at) = (&from.copies[landing.from_copy].placement, &into.copies[landing.into_copy].placement);
    let mut made = Vec::new();
    for centre in &seat.centres {
        let out = Placement::facing(*centre, seat.across, seat.axis).ok_or_else(|| seat::not_a_direction(joint))?;
        let back = Placement::facing(*centre, seat.across, -seat.axis).ok_or_else(|| seat::not_a_direction(joint))?;
        let crossed = |p: Point3| into_at.to_board(from_at.to_world(p));
        let turned = |d| into_at.direction_to_board(from_at.direction_to_world(d));
        let inside = Placement::facing(crossed(*centre), turned(seat.across), turned(seat.axis));
        let inside = inside.ok_or_else(|| seat::not_a_direction(joint))?;
        let [first, second] = joint.depths.map(|depth| depth.mm());
        let mut into_mortise = Mortise {
            joint: joint.name.clone(),
            pointer: joint.place.pointer.clone(),
            of: 0,
            loose: joint.kind == Kind::Loose,
            number: 0,
            fitting: Fitting::Blind,
            frame: inside,
            tenon: [joint.thickness.mm(), joint.width.mm(), 0.0],
            depth: second,
            round: joint.ends == Ends::Round,
            on: Some(landing.on),
            exit: None,
            copies: vec![landing.into_copy],
        };
        if joint.is_turned_leg() {
            seat::lies_on(joint, into, &into_mortise)?;
        }
        let reach = seat::fit(joint, into, &mut into_mortise)? - joint.clearance.mm();
        let (fitting, frame, depth) = match joint.kind {
            Kind::Loose => (Fitting::Blind, back, first),
            Kind::Fixed => (Fitting::Standing, out, reach),
        };
        into_mortise.tenon[2] = first + reach;
        let from_mortise = Mortise {
            fitting,
            frame,
            depth,
            on: Some(Source::Cut(landing.cut)),
            exit: None,
            copies: vec![landing.from_copy],
            ..into_mortise.clone()
        };
        if fitting == Fitting::Blind {
            seat::stays_inside(joint, from, &from_mortise)?;
        }
        made.push((from_mortise, into_mortise));
    }
    Ok(made)
}

/// A turned leg's hole that its top does not hold, with how much farther in the leg would stand in it, or how thin: each is tried.
fn set_in(
    piece: &Piece,
    joint: &Joint,
    landing: &Landing,
    notation: &Notation,
    finding: Box<Finding>,
) -> Box<Finding> {
    let Some(copy) = piece.boards[landing.from].copies.get(landing.from_copy) else { return finding };
    let Some(centre) = piece.boards[landing.from].centre_at(&EdgeName::Head).map(|p| copy.placement.to_world(p))
    else {
        return finding;
    };
    let does = |joint: &Joint, by: Vec3| {
        let mut moved = piece.clone();
        if let Some(copy) = moved.boards[landing.from].copies.get_mut(landing.from_copy) {
            copy.placement = copy.placement.moved(copy.placement.direction_to_board(by));
        }
        pairs(&moved, joint, landing, notation).is_ok()
    };
    limits::set_in(joint, finding, centre, &does)
}

/// Gives a board a mortise, once for all copies that have it in the same place.
fn put(piece: &mut Piece, board: usize, mortise: Mortise) {
    let Some(board) = piece.boards.get_mut(board) else { return };
    if let Fitting::Standing = mortise.fitting {
        let corners = mortise.section_corners().map(|p| mortise.frame.to_world(Point3::new(p.x, p.y, mortise.depth)));
        let reach = |blank: Rect, p: &Point3| blank.union_pt(Point::new(p.x, p.y));
        board.solid.blank = corners.iter().fold(board.solid.blank, reach);
    }
    let same = |known: &&mut Mortise| {
        let apart = known.frame.origin().distance(mortise.frame.origin());
        let turned = (known.frame.w() - mortise.frame.w()).length();
        known.joint == mortise.joint && apart < SAME_PLACE && turned < SAME_PLACE
    };
    if let Some(known) = board.mortises.iter_mut().find(same) {
        known.copies.extend(mortise.copies);
        known.copies.sort_unstable();
        known.copies.dedup();
        return;
    }
    // The two mortises of a glue line's tenon lie in one part and have one number.
    let second = |mortise: &Mortise| mortise.on.is_none() && mortise.frame.w().y > 0.0;
    // A side of a mitred box has tenons and mortises of one joint: each are counted for themselves.
    let stands = |mortise: &Mortise| mortise.fitting == Fitting::Standing;
    let alike = |known: &&Mortise| known.joint == mortise.joint && stands(known) == stands(&mortise);
    let known = board.mortises.iter().filter(alike).filter(|known| !second(known)).count();
    let number = if second(&mortise) { known } else { known + 1 };
    board.mortises.push(Mortise { number, ..mortise });
}
