//! Heads of a top's screws that find no seat: the part is deeper than a screw is long, and too thin for its slots to be widened from
//! below. And what gives screws what they lack, a seat or wood beside them, tried on the piece.

use super::bored::is_walled;
use super::fixing::{THINNEST, is_buttoned};
use super::problem::TopProblem;
use crate::finding::{Cure, Cures, Finding, Place, Quantity, Setting};
use crate::model::Project;
use crate::model::fixing::{Fasteners, Hold, MadeFasteners};
use crate::model::top::Top;
use crate::piece::{Landing, Piece, landings, search, solve, solve_with};
use crate::tolerance::JUST;
use crate::units::Length;

/// A part is made thicker by so many mm until the heads have room.
const THICKER: [f64; 6] = [2.0, 4.0, 6.0, 9.0, 13.0, 20.0];

/// A part is made less deep by so much of it at most: what is left is still the same part.
const SHALLOWER: [f64; 6] = [0.95, 0.9, 0.85, 0.8, 0.75, 0.7];

/// Screws are made thinner by so many times.
const THINNER: [f64; 5] = [0.9, 0.8, 0.7, 0.6, 0.5];

/// What makes a seat for the heads.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Seat {
    /// Thinner screws.
    Screw,
    /// A thicker part.
    Thickness(String),
    /// A part that a screw passes through whole.
    Depth(String),
    /// Buttons in place of screws.
    Buttons,
}

/// The heads that find no seat, each with the board in which.
pub(super) fn check(piece: &Piece, top: Option<&Top>) -> Vec<(Finding, usize)> {
    let Some((top, screw)) = top.and_then(|top| Some((top, screwed(top)?))) else { return Vec::new() };
    let mut found: Vec<(Finding, usize)> = Vec::new();
    for landing in landings(piece, top) {
        let known = found.iter().any(|(_, board)| *board == landing.board);
        let seats = landing.counterbore().is_none() || landing.widened(screw).is_some();
        let Some(part) = piece.boards.get(landing.board) else { continue };
        if known || seats {
            continue;
        }
        let [head, wall, wanted] =
            [Landing::head(screw), landing.beside_head(screw).max(0.0), Landing::WALL].map(Length::from_mm);
        let pocket = has_pocket(piece, top, landing.board);
        let problem = TopProblem::HeadSeat { part: part.label.clone(), head, wall, wanted, pocket };
        found.push((Finding::of(problem, Place::pointer("/top/fasteners")), landing.board));
    }
    found
}

/// The screws' holes of a top that is held by such.
pub(super) fn screwed(top: &Top) -> Option<f64> {
    match top.fasteners {
        Some(Fasteners::Made(MadeFasteners { by: Hold::Slots | Hold::Screws, screw, .. })) => Some(screw.mm()),
        _ => None,
    }
}

/// Whether the screws in every copy of a part, by its index, can go in from pockets.
pub(super) fn has_pocket(piece: &Piece, top: &Top, board: usize) -> bool {
    let (Some(part), Some(screw)) = (piece.boards.get(board), screwed(top)) else { return false };
    let moves = matches!(top.fasteners, Some(Fasteners::Made(MadeFasteners { by: Hold::Slots, .. })));
    let own = piece.held.landings.iter().filter(|landing| landing.board == board);
    let pockets: Vec<bool> = own.map(|landing| landing.pocket(part, screw, moves).is_some()).collect();
    !pockets.is_empty() && pockets.into_iter().all(|has| has)
}

/// Writes into a finding what gives the screws in a board what they want, tried on the piece: a seat for their heads and wood beside the
/// holes all the way down, whichever of the two it is that they lack. What gave them the one alone would only change what is told.
pub(super) fn cure(finding: &mut Finding, board: usize, piece: &Piece, project: &Project) {
    let (Some(top), Some(part)) = (project.top.as_ref(), piece.boards.get(board)) else { return };
    let Some(screw) = screwed(top) else { return };
    let patient = Patient { project, top, screw, pointer: &part.pointer };
    let all = [
        patient.thinner_screws(),
        patient.changed(
            "thickness",
            &THICKER.map(|more| part.board.thickness + more),
            Seat::Thickness(part.label.clone()),
        ),
        patient.depth().and_then(|deep| {
            patient.changed("depth", &SHALLOWER.map(|share| deep * share), Seat::Depth(part.label.clone()))
        }),
        patient.buttons(piece),
    ];
    let cures: Vec<Cure> = all.into_iter().flatten().collect();
    finding.cures = if cures.is_empty() { Cures::None } else { Cures::Any(cures) };
}

/// A part whose screws lack something, known by where its numbers stand in the file.
struct Patient<'a> {
    project: &'a Project,
    top: &'a Top,
    screw: f64,
    pointer: &'a str,
}

impl Patient<'_> {
    /// Whether all screws in the part have what they want.
    fn has_it(&self, piece: &Piece, top: &Top, screw: f64) -> bool {
        self.own(piece, top).all(|landing| landing.counterbore().is_none() || landing.widened(screw).is_some())
            && is_walled(piece, self.pointer)
    }

    /// Where the part lies under the top.
    fn own(&self, piece: &Piece, top: &Top) -> impl Iterator<Item = Landing> {
        let is_own = |landing: &Landing| piece.boards.get(landing.board).is_some_and(|b| b.pointer == self.pointer);
        landings(piece, top).into_iter().filter(is_own)
    }

    fn written(&self) -> impl Fn(f64, bool, bool) -> f64 {
        |mm: f64, up: bool, finely: bool| search::length(mm, up, finely, &self.project.notation)
    }

    fn thinner_screws(&self) -> Option<Cure> {
        let ladder = THINNER.iter().map(|share| self.screw * share).filter(|mm| *mm >= THINNEST - JUST).collect();
        let does = |mm: f64| {
            let Some(Fasteners::Made(made)) = self.top.fasteners else { return false };
            let fasteners = Some(Fasteners::Made(MadeFasteners { screw: Length::from_mm(mm), ..made }));
            let top = Top { fasteners, ..self.top.clone() };
            let solved = solve(self.project.base.as_ref(), Some(&top), &self.project.notation);
            solved.is_ok_and(|piece| self.has_it(&piece, &top, mm))
        };
        let value = search::nearest(self.screw, &[ladder], &does, &self.written())?;
        Some(Cure::new(vec![set("/top/fasteners/screw", value)], Seat::Screw))
    }

    /// The nearest of some values of a size of the part that cures.
    fn changed(&self, field: &str, ladder: &[f64], seat: Seat) -> Option<Cure> {
        let place = format!("{}/{field}", self.pointer);
        let numbers = self.project.numbers();
        let given = numbers.iter().find(|number| number.place.pointer == place)?.value;
        let does = |mm: f64| {
            let (base, say) = (self.project.base.as_ref(), &self.project.notation);
            let solved = solve_with(base, Some(self.top), (&place, mm), say);
            // A cure by less depth says that the screws go through whole.
            let whole = |piece: &Piece| {
                !matches!(seat, Seat::Depth(_)) || self.own(piece, self.top).all(|l| l.counterbore().is_none())
            };
            solved.is_ok_and(|piece| self.has_it(&piece, self.top, self.screw) && whole(&piece))
        };
        let value = search::nearest(given, &[ladder.to_vec()], &does, &self.written())?;
        Some(Cure::new(vec![set(&place, value)], seat))
    }

    /// How deep the part is, as the file gives it.
    fn depth(&self) -> Option<f64> {
        let place = format!("{}/depth", self.pointer);
        self.project.numbers().iter().find(|number| number.place.pointer == place).map(|number| number.value)
    }

    fn buttons(&self, piece: &Piece) -> Option<Cure> {
        is_buttoned(piece, self.top).then(|| Cure::new(Vec::new(), Seat::Buttons))
    }
}

fn set(place: &str, mm: f64) -> Setting {
    Setting { place: Place::pointer(place), value: Quantity::Length(Length::from_mm(mm)) }
}
