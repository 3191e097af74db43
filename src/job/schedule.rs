//! The schedule: what is made and how the saw is set for it.

use super::{Job, Refusal};
use crate::finding::Finding;
use crate::piece::{Held, Piece};
use crate::schedule::Schedule;

/// What a schedule tells beside what is kept of the other stages.
#[derive(Debug)]
pub(super) struct Told {
    /// Everything that is to be told, with its cures.
    findings: Vec<Finding>,
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
        let told = self.told.get_or_init(|| Told {
            findings: self
                .cured_findings()
                .cloned()
                .chain(piece.map(Piece::weighed_as_sawn).unwrap_or_default())
                .collect(),
            no_piece: Piece { boards: Vec::new(), held: Held::default(), facts: Vec::new(), findings: Vec::new() },
        });
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
            notation: self.project.notation,
        })
    }
}
