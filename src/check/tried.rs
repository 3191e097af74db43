//! The cure of a wall that is too thin, tried on the whole piece before it is told.
//!
//! One number is changed: of the joint, or, where none of its own does, of the parts. The joints are made again with it, and it is
//! told where the wall is then thick enough, no other wall of the joint, in either part, is thinner than it may be or was, no
//! rule tells more than before and nothing stops the work.

use super::change::{Change, changes, last_resorts};
use super::walls::{JUST, walls, wanted};
use super::{crossing, profile, reach, shoulders};
use crate::board::{Fitting, Mortise, Source};
use crate::finding::{Finding, stops};
use crate::joinery::join;
use crate::piece::{Piece, SolvedBoard, search, solve_with};
use crate::project::Project;
use crate::project::joint::Joint;
use crate::units::Notation;

/// A wall that was thin before may come out thinner by so much, mm: curved edges are sampled.
const TRIED: f64 = 0.02;

/// What is missing of a wall is taken so many times from a number, or put to it, until it does.
const RUNGS: [f64; 7] = [1.0, 1.1, 1.5, 2.0, 2.2, 3.0, 5.0];

/// So many changes are offered, the most natural first.
const OFFERED: usize = 3;

/// A wall of a piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct WallAt {
    /// The board's id.
    board: String,
    /// JSON pointer of the joint.
    joint: String,
    /// Which mortise of that joint on that board, from 0.
    index: usize,
    /// The surface behind the wall.
    pub(super) surface: Source,
}

impl WallAt {
    /// The wall between a mortise of a board and a surface.
    pub(super) fn of(board: &SolvedBoard, mortise: &Mortise, surface: Source) -> WallAt {
        let index = of_joint(board, &mortise.pointer).position(|known| std::ptr::eq(known, mortise)).unwrap_or(0);
        WallAt { board: board.id.clone(), joint: mortise.pointer.clone(), index, surface }
    }
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
        known > 0.0 && missing <= known + TRIED
    }

    fn count(&self, code: &str) -> usize {
        self.told.iter().filter(|known| **known == code).count()
    }
}

/// A piece on which cures are tried.
pub(super) struct Trial<'a> {
    project: &'a Project,
    piece: &'a Piece,
    /// The piece without its joints.
    bare: Piece,
}

impl<'a> Trial<'a> {
    /// Cures are tried on this piece, its joints made.
    pub(super) fn new(piece: &'a Piece, project: &'a Project) -> Trial<'a> {
        let mut bare = piece.clone();
        bare.boards.iter_mut().for_each(|board| board.mortises.clear());
        Trial { project, piece, bare }
    }

    /// Writes its cure into the finding of each thin wall.
    pub(super) fn cure(&self, findings: &mut [Finding], walls: &[(usize, WallAt)]) {
        for (index, wall) in walls {
            let (Some(finding), Some(joint)) = (findings.get_mut(*index), self.joint(&wall.joint)) else { continue };
            finding.remedy = self.remedy(joint, wall);
        }
    }

    fn joint(&self, pointer: &str) -> Option<&'a Joint> {
        self.project.joints.iter().find(|joint| joint.place.pointer == pointer)
    }

    fn remedy(&self, joint: &Joint, wall: &WallAt) -> String {
        let before = self.tally(self.piece, &wall.joint);
        let offered = |all: Vec<Change>| -> Vec<String> {
            let found = all.into_iter().filter_map(|change| self.found(joint, wall, &before, &change));
            found.take(OFFERED).collect()
        };
        let Some(board) = self.piece.boards.iter().find(|board| board.id == wall.board) else { return String::new() };
        let mut cures = offered(changes(joint, board, wall.surface));
        if cures.is_empty() {
            cures = offered(last_resorts(joint, board, wall.surface));
        }
        match cures.split_last() {
            None => "take a smaller tenon or a larger part: no one change was found that is enough".to_owned(),
            Some((last, [])) => format!("{last} just does"),
            Some((last, rest)) => format!("{} or {last} just does", rest.join(", ")),
        }
    }

    /// The least of a change that cures, in words.
    fn found(&self, joint: &Joint, wall: &WallAt, before: &Tally, change: &Change) -> Option<String> {
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
            self.with(joint, change, value).is_some_and(|piece| self.cures(&piece, wall, before, change))
        };
        let written = |mm: f64, up: bool, finely: bool| search::length(mm, up, finely, notation);
        let value = search::nearest(given, &[ladder(-1.0), ladder(1.0)], &does, &written)?;
        Some(change.words(joint, given, value, notation))
    }

    /// The piece with a change made; `None` where that stops the work.
    fn with(&self, joint: &Joint, change: &Change, value: f64) -> Option<Piece> {
        let (top, notation) = (self.project.top.as_ref(), &self.project.notation);
        let (mut piece, joints) = match change {
            Change::Number(pointer) => {
                let with = (pointer.as_str(), value);
                (solve_with(self.project.base.as_ref(), top, with, notation).ok()?, self.project.joints.clone())
            }
            _ => {
                let changed = change.made(joint, value)?;
                let swapped =
                    |known: &Joint| if known.place == joint.place { changed.clone() } else { known.clone() };
                (self.bare.clone(), self.project.joints.iter().map(swapped).collect())
            }
        };
        let found = join(&mut piece, &joints, top, notation);
        (!stops(&found)).then_some(piece)
    }

    /// Whether the wall is thick enough in a changed piece, and nothing else is worse.
    fn cures(&self, piece: &Piece, wall: &WallAt, before: &Tally, change: &Change) -> bool {
        if change.keeps_places() && self.still_missing(piece, wall) {
            return false;
        }
        let after = self.tally(piece, &wall.joint);
        // With a tenon less they are counted anew.
        let no_worse = match change.keeps_places() {
            true => {
                after.mortises == before.mortises
                    && after.thin.iter().all(|(at, missing)| before.allows(at, *missing))
            }
            false => after.thin.len() < before.thin.len(),
        };
        no_worse && after.told.iter().all(|code| after.count(code) <= before.count(code))
    }

    /// Whether the wall itself is still too thin.
    fn still_missing(&self, piece: &Piece, wall: &WallAt) -> bool {
        let board = piece.boards.iter().find(|board| board.id == wall.board);
        let mortise = board.and_then(|board| Some((board, of_joint(board, &wall.joint).nth(wall.index)?)));
        mortise.is_none_or(|(board, mortise)| thin(board, mortise).iter().any(|(known, _)| *known == wall.surface))
    }

    fn tally(&self, piece: &Piece, joint: &str) -> Tally {
        let notation: &Notation = &self.project.notation;
        let mut tally = Tally { mortises: 0, thin: Vec::new(), told: Vec::new() };
        for (index, board) in piece.boards.iter().enumerate() {
            let mortises: Vec<&Mortise> = of_joint(board, joint).collect();
            if mortises.is_empty() {
                continue;
            }
            tally.mortises += mortises.len();
            for mortise in mortises {
                let all = thin(board, mortise).into_iter();
                tally.thin.extend(all.map(|(surface, missing)| (WallAt::of(board, mortise, surface), missing)));
            }
            let machine = self.project.shop.mortiser.iter().flat_map(|m| reach::check(index, board, m, notation));
            let rules = crossing::check(index, board, notation).into_iter();
            let all = rules.chain(shoulders::check(index, board, notation)).chain(machine);
            tally.told.extend(all.map(|told| told.finding.code));
        }
        tally.told.extend(profile::check(piece, self.project).into_iter().map(|told| told.finding.code));
        tally
    }
}

/// The surfaces to which a mortise leaves too thin a wall, and what is missing, mm.
fn thin(board: &SolvedBoard, mortise: &Mortise) -> Vec<(Source, f64)> {
    if mortise.fitting == Fitting::Standing {
        return Vec::new();
    }
    let (wanted, _) = wanted(board.board.thickness);
    let missing = walls(board, mortise).into_iter().map(|wall| (wall.surface, wanted - wall.thickness));
    missing.filter(|(_, missing)| *missing > JUST).collect()
}
