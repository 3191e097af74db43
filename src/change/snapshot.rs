//! All that a comparison needs of a piece: its parts as wood, the patterns that go with them, the numbers that they come from.

use super::wood::{OnSheets, Wood};
use crate::board::PartRole;
use crate::job::{Job, Refusal};
use crate::model::Kind as Measures;
use crate::pattern::{made_words, make_words};
use crate::piece::SolvedBoard;
use crate::units::Units;

/// A piece at some moment.
#[derive(Debug, Clone, PartialEq)]
pub struct Snapshot {
    /// Its title, with its variant where one was applied.
    pub heading: String,
    /// The file's title.
    pub title: String,
    /// The units in which it is told.
    pub units: Units,
    /// Its parts.
    pub parts: Vec<Wood>,
    /// The numbers of base, top, joints and aids.
    pub numbers: Vec<Given>,
}

/// A number of a file.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// JSON pointer of its place.
    pub pointer: String,
    /// What it is called.
    pub words: String,
    /// What it measures.
    pub measures: Measures,
    /// Its value: mm, degrees, or as it is.
    pub value: f64,
}

/// The first step to the numbers of a shop, which make no part another.
const SHOP: &str = "shop";

impl Snapshot {
    /// A piece as a job makes it.
    ///
    /// # Errors
    /// Where a finding stops the work.
    pub fn of(job: &Job) -> Result<Snapshot, Refusal> {
        let (piece, project, (board_codes, drawn_codes)) = (job.piece()?, job.project(), job.part_codes()?);
        let boards = piece.into_iter().flat_map(|piece| &piece.boards).zip(board_codes).enumerate();
        let mut parts: Vec<Wood> =
            boards.filter_map(|(index, (board, code))| of_board(job, index, board, code.clone())).collect();
        parts.extend(project.patterns.iter().zip(drawn_codes).filter_map(|(drawn, code)| {
            let (name, make, revision) = (drawn.name.clone(), made_words(drawn), code.clone());
            Wood::of_drawn(drawn, OnSheets { name, make, revision })
        }));
        let numbers =
            project.numbers().into_iter().filter(|number| number.place.steps().next().as_deref() != Some(SHOP));
        let given = numbers.map(|number| Given {
            pointer: number.place.pointer,
            words: number.words,
            measures: number.kind,
            value: number.value,
        });
        Ok(Snapshot {
            heading: job.heading().to_owned(),
            title: project.title.clone(),
            units: project.notation.units,
            parts,
            numbers: given.collect(),
        })
    }

    /// Some boards of a piece as a job makes it, by their keys, without codes.
    ///
    /// # Errors
    /// As [`Snapshot::of`].
    pub(super) fn woods(job: &Job, is_wanted: &dyn Fn(&str) -> bool) -> Result<Vec<Wood>, Refusal> {
        let boards = job.piece()?.into_iter().flat_map(|piece| &piece.boards).enumerate();
        let wanted = boards.filter(|(_, board)| is_wanted(board.id.as_str()));
        Ok(wanted.filter_map(|(index, board)| of_board(job, index, board, String::new())).collect())
    }
}

/// A board of a piece by its place in that, with its code.
fn of_board(job: &Job, index: usize, board: &SolvedBoard, revision: String) -> Option<Wood> {
    let routed = job.routing().parts.iter().find(|part| part.board == index).map(|part| &part.drawn);
    let top = job.project().top.as_ref().filter(|_| board.role == PartRole::Top);
    let (name, make) = (board.label.clone(), make_words(board));
    Wood::of_board(board, routed, top, OnSheets { name, make, revision })
}
