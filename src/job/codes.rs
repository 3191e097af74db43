//! Revision codes, made of the numbers as codes take them.

use super::{Job, Refusal};
use crate::board::PartRole;
use crate::model::DrawnPattern;
use crate::pattern::{drawn_revision, revision};
use crate::piece::{Piece, SolvedBoard};
use crate::router::Templates;

/// Revision codes.
#[derive(Debug)]
pub(super) struct Codes {
    /// Of the whole.
    pub(super) whole: String,
    /// Of each board of the piece, in its order.
    pub(super) boards: Vec<String>,
    /// Of each part drawn directly.
    pub(super) parts: Vec<String>,
    /// Of each template of each part on which something may be routed, in the order of [`Job::parts`].
    pub(super) templates: Vec<Vec<String>>,
    /// Of each aid.
    pub(super) aids: Vec<String>,
}

impl Job {
    /// One code for the whole: it changes when that of a board, of a part drawn directly, of a template or of an aid does, or
    /// how many of them are made, or a loose tenon.
    ///
    /// # Errors
    /// Where a finding of the piece stops the work.
    pub fn revision(&self) -> Result<&str, Refusal> {
        Ok(&self.codes()?.whole)
    }

    /// The codes of the boards of the piece and of the parts drawn directly, each in their order.
    ///
    /// # Errors
    /// Where a finding of the piece stops the work.
    pub fn part_codes(&self) -> Result<(&[String], &[String]), Refusal> {
        let codes = self.codes()?;
        Ok((&codes.boards, &codes.parts))
    }

    /// The codes of the whole, of the boards, of the parts drawn directly, of templates and aids.
    pub(super) fn codes(&self) -> Result<&Codes, Refusal> {
        self.piece()?;
        Ok(self.codes.get_or_init(|| self.coded().made_codes()))
    }

    /// The job on the numbers as codes take them. Where these make another piece (other parts, or none) the numbers as they are
    /// written stand for themselves. No code hangs on what a cutter cannot reach or follow, so that nobody asks for it here.
    pub(super) fn coded(&self) -> &Job {
        self.settled.as_deref().filter(|settled| settled.piece().is_ok() && settled.is_like(self)).unwrap_or(self)
    }

    /// Whether two jobs make the same parts, each as often, with as many joints, templates and aids.
    fn is_like(&self, other: &Job) -> bool {
        let board = |board: &SolvedBoard| (board.id.clone(), board.count, board.handed, board.mortises.len());
        let boards = |job: &Job| -> Vec<_> { job.boards().map(board).collect() };
        let templates =
            |job: &Job| -> Vec<_> { job.templates().iter().map(|templates| templates.made().count()).collect() };
        let aids = |job: &Job| -> Vec<_> { job.aids().iter().map(|aid| (aid.kind, aid.figures.len())).collect() };
        boards(self) == boards(other) && templates(self) == templates(other) && aids(self) == aids(other)
    }

    fn boards(&self) -> impl Iterator<Item = &SolvedBoard> {
        self.made_piece().into_iter().flat_map(|piece| &piece.boards)
    }

    /// What is routed on a board of the piece.
    fn routed_board(&self, index: usize) -> Option<&DrawnPattern> {
        self.worked().routing.parts.iter().find(|part| part.board == index).map(|part| &part.drawn)
    }

    /// The codes of this job's own numbers.
    fn made_codes(&self) -> Codes {
        let (piece, top) = (self.made_piece(), self.project.top.as_ref());
        let boards = self.boards().enumerate().map(|(index, board)| {
            let top = piece.zip(top).filter(|_| board.role == PartRole::Top);
            revision::board(board, self.routed_board(index), top)
        });
        let boards: Vec<String> = boards.collect();
        let parts: Vec<String> = self.project.patterns.iter().map(drawn_revision).collect();
        let of_part = |(part, templates): (&DrawnPattern, &Templates)| -> Vec<String> {
            templates.made().map(|made| revision::template(part, made)).collect()
        };
        let templates: Vec<Vec<String>> = self.parts().zip(self.templates()).map(of_part).collect();
        let aids: Vec<String> = self.aids().iter().map(revision::aid).collect();
        let made = boards.iter().map(String::as_str).zip(self.boards().map(revision::made));
        let made =
            made.chain(parts.iter().zip(&self.project.patterns).map(|(code, part)| (code.as_str(), [part.make, 0])));
        let made = made.chain(templates.iter().flatten().map(|code| (code.as_str(), [1, 0])));
        let made =
            made.chain(aids.iter().zip(self.aids()).map(|(code, aid)| (code.as_str(), [aid.make, aid.mirrored])));
        let tenons = piece.map(revision::loose_tenons);
        let made = made.chain(tenons.as_deref().map(|code| (code, [1, 0])));
        Codes { whole: revision::together(made), boards, parts, templates, aids }
    }

    /// The piece, where it was made, whatever was found about it.
    fn made_piece(&self) -> Option<&Piece> {
        self.piece().ok().flatten()
    }
}
