//! The rules of the trade, one a file: what is measured, where, and the change that cures it.
//!
//! Guarantees to everything below: nothing is changed but what is told; each rule says where its limit comes from, and where
//! that is common practice it says so; what a rule warns of is marked on its board.

mod assembly;
mod bored;
mod breadboard;
pub mod cautions;
mod crossing;
mod fixing;
mod grain;
mod heads;
mod other_way;
mod problem;
mod profile;
mod proportions;
mod reach;
mod room;
mod shoulders;
mod slots;
mod tipping;
mod trial;
mod trim;
pub mod walls;

pub(crate) use assembly::{Looser, TenonsAlong, WithoutTenons};
pub use grain::of_drawn as short_grain;
pub(crate) use heads::Seat;
pub use problem::Governs;
pub(crate) use problem::{
    AssemblyProblem, BetterGrain, ButtonWall, DeeperCut, FeetOut, FenceCure, HeldBy, InProfile, JointProblem,
    LyingFlat, MachineProblem, MortiseName, ShapeProblem, SmallerTenon, Tilted, TopProblem,
};
pub use walls::{ENOUGH, wanted as wanted_wall};

use crate::finding::Finding;
use crate::geometry::Point;
use crate::model::Project;
use crate::piece::{FactName, Piece, Spot, Value, end_piece};
use crate::tolerance::{SHOWN, UNSEEN};
use crate::units::{Length, Notation};
use trial::{Trial, WallAt};

/// What a rule found on one board: the finding, and the place to mark.
struct Told {
    /// Index of the board.
    board: usize,
    /// What is told.
    finding: Finding,
    /// Where on the face side, and in a few words what.
    spot: Option<(Point, String)>,
    /// The wall or shoulder that is thin: its cure is tried on the whole piece.
    wall: Option<WallAt>,
}

impl Told {
    /// What is told of a board and marked nowhere on it.
    fn new(board: usize, finding: Finding) -> Told {
        Told { board, finding, spot: None, wall: None }
    }

    /// Marks the place.
    fn at(self, at: Point, words: impl Into<String>) -> Told {
        Told { spot: Some((at, words.into())), ..self }
    }
}

/// What the rules found on a piece.
#[derive(Debug, Clone, Default)]
pub struct Checked {
    /// What is to be told, without the cures that have to be tried.
    pub findings: Vec<Finding>,
    /// The walls and shoulders that are too thin, by the index of the finding that tells it.
    thin: Vec<(usize, WallAt)>,
    /// The joints that do not go together, likewise.
    binding: Vec<(usize, assembly::Binding)>,
    /// The boards in which screws lack something, likewise.
    screwed: Vec<(usize, usize)>,
    /// The boards without tenons that are shut in, likewise.
    shut: Vec<(usize, assembly::ShutIn)>,
}

impl Checked {
    /// Whether there is a cure to search.
    pub fn asks_for_cures(&self) -> bool {
        !(self.thin.is_empty() && self.binding.is_empty() && self.screwed.is_empty() && self.shut.is_empty())
    }

    /// The findings, each of a thin wall or shoulder with the changes that cure it, tried on the piece that was checked.
    pub fn cured(&self, piece: &Piece, project: &Project) -> Vec<Finding> {
        let mut findings = self.findings.clone();
        if !self.thin.is_empty() {
            Trial::new(piece, project).cure(&mut findings, &self.thin);
        }
        for (index, binding) in &self.binding {
            findings.get_mut(*index).into_iter().for_each(|f| assembly::cure(f, binding, piece, project));
        }
        for (index, board) in &self.screwed {
            findings.get_mut(*index).into_iter().for_each(|f| heads::cure(f, *board, piece, project));
        }
        for (index, shut) in &self.shut {
            findings.get_mut(*index).into_iter().for_each(|f| assembly::free(f, shut, piece, project));
        }
        findings
    }
}

/// Tries every rule on a piece. Measures are added to its facts, places to look at to its boards.
pub fn check(piece: &mut Piece, project: &Project) -> Checked {
    let notation = &project.notation;
    let mut told = Vec::new();
    for (index, board) in piece.boards.iter().enumerate() {
        told.extend(walls::check(index, board, notation));
        told.extend(crossing::check(index, board, notation));
        told.extend(trim::check(index, board));
        told.extend(shoulders::check(index, board, notation));
        told.extend(grain::check(index, board));
        told.extend(project.shop.mortiser.iter().flat_map(|m| reach::check(index, board, m)));
    }
    told.extend(profile::check(piece, project));
    let (mut findings, thin) = once(piece, told);
    let mut binding = Vec::new();
    for (finding, of) in assembly::check(piece, project) {
        binding.push((findings.len(), of));
        findings.push(finding);
    }
    let mut shut = Vec::new();
    for (finding, of) in assembly::shut_in(piece) {
        shut.push((findings.len(), of));
        findings.push(finding);
    }
    findings.extend(assembly::unjoined(piece));
    findings.extend(project.base.iter().flat_map(other_way::check));
    findings.extend(proportions::check(piece));
    findings.extend(project.top.as_ref().and_then(trim::boards));
    findings.extend(fixing::check(piece, project.top.as_ref()));
    let mut screwed = Vec::new();
    let unseated = heads::check(piece, project.top.as_ref());
    for (finding, board) in unseated.into_iter().chain(bored::check(piece, project.top.as_ref())) {
        screwed.push((findings.len(), board));
        findings.push(finding);
    }
    let mut facts = room::facts(piece, project.top.as_ref(), notation);
    let sides = facts.iter().find(|fact| fact.name == FactName::OverhangSides).map(|fact| fact.value);
    if let Some(top) = &project.top {
        let sides = match sides {
            Some(Value::Length(over)) => Some(top.width.mm() / 2.0 - over.mm()),
            _ => None,
        };
        let board = piece.top();
        let end = board.and_then(|board| end_piece(board, top));
        let pin = end.and_then(|end| end.pins.iter().map(|pin| pin.at.y.abs()).max_by(f64::total_cmp));
        let fasteners = piece.held.landings.iter().flat_map(|landing| &landing.plays);
        let outermost = fasteners.map(|play| play.at.y.abs()).max_by(f64::total_cmp);
        facts.extend(slots::facts(top, (outermost, sides), pin));
    }
    findings.extend(room::check(&facts, notation));
    findings.extend(room::feet_out(&facts));
    facts.extend(tipping::fact(piece, project.top.as_ref(), notation));
    piece.facts.extend(facts);
    Checked { findings, thin, binding, screwed, shut }
}

/// Marks every spot, and tells what is alike (one rule, one board, one joint, the same measures) once; the thin walls, by the
/// index of their finding.
fn once(piece: &mut Piece, told: Vec<Told>) -> (Vec<Finding>, Vec<(usize, WallAt)>) {
    let mut findings: Vec<(usize, Finding, usize)> = Vec::new();
    let mut walls = Vec::new();
    for Told { board: index, finding, spot, wall } in told {
        if let (Some((at, words)), Some(board)) = (spot, piece.boards.get_mut(index)) {
            board.spots.push(Spot { at, words });
        }
        let same = |known: &&mut (usize, Finding, usize)| {
            let (own, other) = (known.1.measures(), finding.measures());
            known.0 == index
                && known.1.code == finding.code
                && known.1.place == finding.place
                && own.iter().zip(&other).all(|(a, b)| (a.value - b.value).abs() < SHOWN)
        };
        match findings.iter_mut().find(same) {
            Some((.., more)) => *more += 1,
            None => {
                walls.extend(wall.map(|wall| (findings.len(), wall)));
                findings.push((index, finding, 0));
            }
        }
    }
    let said = |(_, finding, more): (usize, Finding, usize)| if more > 0 { finding.and_more(more) } else { finding };
    (findings.into_iter().map(said).collect(), walls)
}

/// Whether something is less than a rule of the trade wants, mm. What differs by less than a maker works to is not less: told of it, one would
/// read a wall of 5.998 mm where 6 mm is wanted.
fn falls_short(is: f64, wanted: f64) -> bool {
    is < wanted - UNSEEN
}

/// A length as a finding says it: to a tenth of a millimetre, or as the maker's rule shows it.
fn say(mm: f64, notation: &Notation) -> String {
    notation.measured(Length::from_mm(mm))
}

#[cfg(test)]
mod samples;
