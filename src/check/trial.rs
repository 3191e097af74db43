//! The cure of a wall or shoulder that is too thin, tried on the whole piece before it is told.
//!
//! One number is changed: of the joint, or, where none of its own does, of the parts. The joints are made again with it, and it is
//! told where the wall is then thick enough, no other wall of the joint, in either part, is thinner than it may be or was, no
//! rule tells more than before and nothing stops the work.

use super::crossing::wall_between;
use super::shoulders::missing_shoulder;
use super::walls::{around, wanted};
use super::{crossing, falls_short, profile, reach, shoulders};
use crate::board::{Fitting, Mortise, PartId, Source};
use crate::finding::{Cure, Cures, Finding, stops};
use crate::joinery::{Change, changes, changes_between, join, last_resorts};
use crate::model::Project;
use crate::model::joint::Joint;
use crate::piece::{Hollow, Piece, SolvedBoard, search, solve_with};
use crate::solid::FeatureId;
use crate::tolerance::SAMPLED;
use crate::units::Notation;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;

/// What is missing of a wall is taken so many times from a number, or put to it, until it does.
const RUNGS: [f64; 7] = [1.0, 1.1, 1.5, 2.0, 2.2, 3.0, 5.0];

/// Mortises whose directions differ by less than about 25 degrees, as a cosine, go side by side.
const ALONGSIDE: f64 = 0.9;

/// So many changes are offered, the most natural first.
const OFFERED: usize = 3;

/// What a wall lies before.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Behind {
    /// A surface of the board.
    Surface(Source),
    /// Another mortise: the JSON pointer of its joint, and which of that joint's on the board, from 0.
    Mortise(String, usize),
    /// What a joint without a tenon takes: the JSON pointer of that joint, and which of the board's features it is.
    Cutout(String, FeatureId),
    /// The rim of the end on which a tenon stands: the wall is its shoulder.
    Rim,
}

/// A wall of a piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct WallAt {
    /// The board.
    board: PartId,
    /// JSON pointer of the joint.
    joint: String,
    /// Which mortise of that joint on that board, from 0.
    index: usize,
    /// What is behind the wall.
    behind: Behind,
}

impl WallAt {
    /// The wall between a mortise of a board and what is behind it.
    pub(super) fn of(board: &SolvedBoard, mortise: &Mortise, behind: Behind) -> WallAt {
        WallAt { board: board.id.clone(), joint: mortise.pointer.clone(), index: index_of(board, mortise), behind }
    }

    /// The wall between two hollows of a board, seen from a mortise: of two the second; `None` where neither is one.
    pub(super) fn between(board: &SolvedBoard, [a, b]: [&Hollow; 2]) -> Option<WallAt> {
        let seen =
            |own: &Hollow, other: &Hollow| Some(WallAt::of(board, own.mortise()?, Behind::other(board, other)));
        seen(b, a).or_else(|| seen(a, b))
    }

    /// The same wall seen from the other mortise.
    fn turned(&self) -> Option<WallAt> {
        let Behind::Mortise(joint, index) = &self.behind else { return None };
        let behind = Behind::Mortise(self.joint.clone(), self.index);
        Some(WallAt { board: self.board.clone(), joint: joint.clone(), index: *index, behind })
    }

    /// Its mortise on the board.
    fn mortise<'a>(&'a self, board: &'a SolvedBoard) -> Option<&'a Mortise> {
        of_joint(board, &self.joint).nth(self.index)
    }
}

impl Behind {
    /// Another hollow of the board.
    fn other(board: &SolvedBoard, hollow: &Hollow) -> Behind {
        match hollow.mortise() {
            Some(mortise) => Behind::Mortise(mortise.pointer.clone(), index_of(board, mortise)),
            None => Behind::Cutout(hollow.pointer.to_owned(), hollow.id),
        }
    }
}

/// Which of its joint's mortises on the board one is, from 0.
fn index_of(board: &SolvedBoard, mortise: &Mortise) -> usize {
    of_joint(board, &mortise.pointer).position(|known| std::ptr::eq(known, mortise)).unwrap_or(0)
}

/// The mortises of one joint on a board.
fn of_joint<'a>(board: &'a SolvedBoard, joint: &'a str) -> impl Iterator<Item = &'a Mortise> {
    board.mortises.iter().filter(move |mortise| mortise.pointer == joint)
}

/// What the rules say of a joint.
struct Tally {
    /// How many mortises it has.
    mortises: usize,
    /// The walls that are too thin, and what is missing of each, mm.
    thin: Vec<(WallAt, f64)>,
    /// The codes of everything else that is told.
    told: Vec<&'static str>,
}

impl Tally {
    fn missing(&self, wall: &WallAt) -> f64 {
        self.thin.iter().find(|(known, _)| known == wall).map_or(0.0, |(_, missing)| *missing)
    }

    /// Whether a wall that is thin by so much is no news.
    fn allows(&self, wall: &WallAt, missing: f64) -> bool {
        let known = self.missing(wall);
        known > 0.0 && missing <= known + SAMPLED
    }
}

/// How often a code is told.
fn count(told: &[&str], code: &str) -> usize {
    told.iter().filter(|known| **known == code).count()
}

/// The mortises of a joint on all boards.
fn mortises_of<'a>(piece: &'a Piece, joint: &'a str) -> impl Iterator<Item = (&'a SolvedBoard, &'a Mortise)> {
    piece.boards.iter().flat_map(move |board| of_joint(board, joint).map(move |mortise| (board, mortise)))
}

/// The walls of a joint's mortises that are too thin, one mortise measured after the other, and what is missing of each, mm.
fn thin_of<'a>(piece: &'a Piece, joint: &'a str) -> impl Iterator<Item = (WallAt, f64)> {
    mortises_of(piece, joint).flat_map(|(board, mortise)| {
        thin(board, mortise).into_iter().map(|(behind, missing)| (WallAt::of(board, mortise, behind), missing))
    })
}

/// The walls of so many mortises are measured anew in all for the cures of one piece: a few seconds' worth under a curved edge. A
/// piece with a hundred mortises and a dozen faults is told the first cures; the others come when those are mended.
const MEASURED_ANEW: usize = 5000;

/// A piece on which cures are tried.
pub(super) struct Trial<'a> {
    project: &'a Project,
    piece: &'a Piece,
    /// How many mortises may still be measured anew.
    left: Cell<usize>,
    /// What the rules say of each joint as it is, by its JSON pointer.
    tallies: RefCell<BTreeMap<String, Rc<Tally>>>,
}

impl<'a> Trial<'a> {
    /// Cures are tried on this piece, its joints made.
    pub(super) fn new(piece: &'a Piece, project: &'a Project) -> Trial<'a> {
        Trial { project, piece, left: Cell::new(MEASURED_ANEW), tallies: RefCell::default() }
    }

    /// Writes its cures into the finding of each thin wall.
    pub(super) fn cure(&self, findings: &mut [Finding], walls: &[(usize, WallAt)]) {
        for (index, wall) in walls {
            let Some(finding) = findings.get_mut(*index) else { continue };
            let cures = self.cures_of(wall);
            finding.cures = if cures.is_empty() { Cures::None } else { Cures::Any(cures) };
        }
    }

    fn joint(&self, pointer: &str) -> Option<&'a Joint> {
        self.project.joints.iter().find(|joint| joint.place.pointer == pointer)
    }

    /// What cures a wall; between the mortises of two joints, changes of either.
    fn cures_of(&self, wall: &WallAt) -> Vec<Cure> {
        let cures = match wall.turned().filter(|turned| turned.joint != wall.joint) {
            None => self.own(wall, false, None),
            Some(turned) => {
                let named = |wall: &WallAt| {
                    let name = self.joint(&wall.joint).map(|joint| joint.name.clone());
                    self.own(wall, false, name).into_iter().take(1)
                };
                named(wall).chain(named(&turned)).collect()
            }
        };
        if cures.is_empty() { self.own(wall, true, None) } else { cures }
    }

    /// The changes of its own joint that cure a wall, or what is left where none does.
    fn own(&self, wall: &WallAt, at_last: bool, named: Option<String>) -> Vec<Cure> {
        let board = self.piece.board(&wall.board);
        let (Some(joint), Some(board)) = (self.joint(&wall.joint), board) else { return Vec::new() };
        let before = self.tally(&wall.joint);
        let before = before.as_ref();
        let offered = |all: Vec<Change>| -> Vec<Cure> {
            let found = all.into_iter().filter_map(|change| self.found(joint, wall, before, &change, named.clone()));
            found.take(OFFERED).collect()
        };
        // A shoulder is thin before a cheek or an edge: a face asks for both.
        let surface = match wall.behind {
            Behind::Surface(surface) => surface,
            Behind::Mortise(..) | Behind::Cutout(..) | Behind::Rim => Source::Face,
        };
        offered(match wall.turned() {
            _ if at_last => last_resorts(joint, board, surface),
            Some(turned) => changes_between(joint, board, side_by_side(wall.mortise(board), turned.mortise(board))),
            None => changes(joint, board, surface),
        })
    }

    /// The least of a change that cures.
    fn found(
        &self,
        joint: &Joint,
        wall: &WallAt,
        before: &Tally,
        change: &Change,
        named: Option<String>,
    ) -> Option<Cure> {
        let notation = &self.project.notation;
        let base = (self.project.base.as_ref(), self.project.top.as_ref());
        let given = change.given(joint, base)?;
        let missing = before.missing(wall);
        let [low, high] = change.range(joint, given);
        let ladder = |way: f64| -> Vec<f64> {
            let rungs = RUNGS.iter().map(|rung| given + way * rung * missing);
            rungs.filter(|value| (low..=high).contains(value)).collect()
        };
        let does = |value: f64| {
            let Some(left) = self.left.get().checked_sub(before.mortises.max(1)) else { return false };
            self.left.set(left);
            self.with(joint, change, value).is_some_and(|piece| self.cures(&piece, wall, before, change))
        };
        let written = |mm: f64, up: bool, finely: bool| search::length(mm, up, finely, notation);
        let value = search::nearest(given, &[ladder(-1.0), ladder(1.0)], &does, &written)?;
        Some(change.cure(joint, base, (given, value), named))
    }

    /// The piece with a change made; `None` where that stops the work.
    fn with(&self, joint: &Joint, change: &Change, value: f64) -> Option<Piece> {
        let (top, notation) = (self.project.top.as_ref(), &self.project.notation);
        if let Change::Number(pointer) = change {
            let with = (pointer.as_str(), value);
            let mut piece = solve_with(self.project.base.as_ref(), top, with, notation).ok()?;
            let joined = join(&mut piece, &self.project.joints, top, notation);
            return (!stops(&joined.findings)).then_some(piece);
        }
        // No joint asks for another's mortises: only those of the changed one are made again.
        let changed = change.made(joint, value)?;
        let mut piece = self.piece.clone();
        for board in &mut piece.boards {
            board.take_out(&joint.place.pointer);
        }
        let joined = join(&mut piece, std::slice::from_ref(&changed), top, notation);
        for board in &mut piece.boards {
            board.mortises.sort_by_key(|mortise| self.place_of(mortise));
        }
        (!stops(&joined.findings)).then_some(piece)
    }

    /// Which of the joints a mortise is of: in their order they are made.
    fn place_of(&self, mortise: &Mortise) -> Option<usize> {
        self.project.joints.iter().position(|joint| joint.place.pointer == mortise.pointer)
    }

    /// Whether the wall is thick enough in a changed piece, and nothing else is worse.
    fn cures(&self, piece: &Piece, wall: &WallAt, before: &Tally, change: &Change) -> bool {
        if change.keeps_places() && self.still_missing(piece, wall) {
            return false;
        }
        // With a tenon less they are counted anew.
        let no_worse = match change.keeps_places() {
            true => {
                mortises_of(piece, &wall.joint).count() == before.mortises
                    && thin_of(piece, &wall.joint).all(|(at, missing)| before.allows(&at, missing))
            }
            false => thin_of(piece, &wall.joint).count() < before.thin.len(),
        };
        no_worse && {
            let told = self.told(piece, &wall.joint);
            told.iter().all(|code| count(&told, code) <= count(&before.told, code))
        }
    }

    /// Whether the wall itself is still too thin.
    fn still_missing(&self, piece: &Piece, wall: &WallAt) -> bool {
        let board = piece.board(&wall.board);
        let mortise = board.and_then(|board| Some((board, of_joint(board, &wall.joint).nth(wall.index)?)));
        mortise.is_none_or(|(board, mortise)| thin(board, mortise).iter().any(|(known, _)| *known == wall.behind))
    }

    /// What the rules say of a joint as it is: of one that has several walls it is asked once.
    fn tally(&self, joint: &str) -> Rc<Tally> {
        let known = self.tallies.borrow().get(joint).cloned();
        known.unwrap_or_else(|| {
            let mortises = mortises_of(self.piece, joint).count();
            let thin = thin_of(self.piece, joint).collect();
            let tally = Rc::new(Tally { mortises, thin, told: self.told(self.piece, joint) });
            self.tallies.borrow_mut().insert(joint.to_owned(), Rc::clone(&tally));
            tally
        })
    }

    /// The codes of what else the rules tell of the boards of a joint.
    fn told(&self, piece: &Piece, joint: &str) -> Vec<&'static str> {
        let notation: &Notation = &self.project.notation;
        let mut codes = Vec::new();
        for (index, board) in piece.boards.iter().enumerate() {
            if of_joint(board, joint).next().is_none() {
                continue;
            }
            let machine = self.project.shop.mortiser.iter().flat_map(|m| reach::check(index, board, m));
            let rules = crossing::check(index, board, notation).into_iter();
            let all = rules.chain(shoulders::check(index, board, notation)).chain(machine);
            codes.extend(all.map(|told| told.finding.code));
        }
        codes.extend(profile::check(piece, self.project).into_iter().map(|told| told.finding.code));
        codes
    }
}

/// Whether two mortises go the same way, beside each other.
fn side_by_side(one: Option<&Mortise>, other: Option<&Mortise>) -> bool {
    one.zip(other).is_some_and(|(one, other)| one.frame.w().dot(other.frame.w()) > ALONGSIDE)
}

/// What lies behind the walls of a mortise that are too thin, and what is missing of each, mm; of a standing tenon its shoulder.
fn thin(board: &SolvedBoard, mortise: &Mortise) -> Vec<(Behind, f64)> {
    if mortise.fitting == Fitting::Standing {
        return missing_shoulder(board, mortise).map(|missing| (Behind::Rim, missing)).into_iter().collect();
    }
    let (wanted, _) = wanted(board.board.thickness);
    let Some(own) = Hollow::of(&board.board, mortise) else { return Vec::new() };
    let surfaces =
        around(board, &own, wanted).into_iter().map(|wall| (Behind::Surface(wall.surface), wall.thickness));
    let hollows = board.hollows();
    let others = hollows.iter().filter(|other| !other.mortise().is_some_and(|other| std::ptr::eq(other, mortise)));
    let between =
        others.filter_map(|other| wall_between(board, &own, other).map(|wall| (Behind::other(board, other), wall)));
    let thin = surfaces.chain(between).filter(|(_, thickness)| falls_short(*thickness, wanted));
    thin.map(|(behind, thickness)| (behind, wanted - thickness)).collect()
}
