//! The schedule: what is made and how the saw is set for it.

use super::{Job, Refusal};
use crate::finding::Finding;
use crate::geometry::Point3;
use crate::piece::{Held, Piece};
use crate::schedule::Schedule;

/// What a schedule tells beside what is kept of the other stages.
#[derive(Debug)]
pub(super) struct Told {
    /// Everything that is to be told, with its cures.
    findings: Vec<Finding>,
    /// Volume, mm³, and centre of gravity of the first copy of each board.
    bulks: Vec<(f64, Point3)>,
    /// The boards that are weighed as sawn.
    as_sawn: Vec<Finding>,
    /// What stands for the piece of a file whose parts are all drawn directly.
    no_piece: Piece,
}

impl Job {
    /// What is made and how the saw is set for every cut.
    ///
    /// # Errors
    /// Where a finding stops the work: one of the piece, or, without [`Job::allow_stops`], any.
    pub fn schedule(&self) -> Result<Schedule<'_>, Refusal> {
        self.cleared()?;
        let piece = self.piece()?;
        let (codes, stocks) = (self.codes()?, self.stocks()?);
        let told = self.told(piece);
        Ok(Schedule {
            title: &self.project.title,
            variant: self.project.variant.as_deref(),
            revision: &codes.whole,
            revisions: &codes.boards,
            piece: piece.unwrap_or(&told.no_piece),
            top: self.project.top.as_ref(),
            drawn: &self.project.patterns,
            drawn_revisions: &codes.parts,
            stocks,
            aids: self.aids(),
            templates: self.template_settings(),
            findings: &told.findings,
            bulks: &told.bulks,
            notation: self.project.notation.clone(),
        })
    }

    /// What is to be told of boards that the schedule weighs as sawn.
    ///
    /// # Errors
    /// Where a finding of the piece stops the work.
    pub fn weighed_as_sawn(&self) -> Result<&[Finding], Refusal> {
        Ok(&self.told(self.piece()?).as_sawn)
    }

    fn told(&self, piece: Option<&Piece>) -> &Told {
        self.told.get_or_init(|| {
            let all = piece.map(Piece::bulks).unwrap_or_default();
            let as_sawn = piece.map(|piece| piece.weighed_as_sawn(&all)).unwrap_or_default();
            let boards = piece.map_or(&[][..], |piece| &piece.boards);
            Told {
                findings: self.cured_findings().chain(&as_sawn).cloned().collect(),
                bulks: boards.iter().zip(&all).map(|(board, own)| board.first_of(own)).collect(),
                as_sawn,
                no_piece: Piece {
                    boards: Vec::new(),
                    held: Held::default(),
                    facts: Vec::new(),
                    findings: Vec::new(),
                },
            }
        })
    }
}
