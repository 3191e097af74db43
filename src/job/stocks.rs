//! What each part is sawn from.

use super::{Job, Refusal};
use crate::model::DrawnPattern;
use crate::piece::{Piece, end_piece};
use crate::router::Templates;
use crate::stock::{Part, Stock, Stocks, stock};

impl Job {
    /// The net and the rough blank of every part, with the shop's allowances and with what its router templates need.
    ///
    /// # Errors
    /// Where a finding of the piece stops the work.
    pub fn stocks(&self) -> Result<&Stocks, Refusal> {
        let piece = self.piece()?;
        Ok(self.stocks.get_or_init(|| self.all_stocks(piece)))
    }

    fn all_stocks(&self, piece: Option<&Piece>) -> Stocks {
        let allowances = &self.project.shop.allowances;
        let routing = &self.worked().routing.parts;
        let (of_piece, of_parts) = self.templates().split_at(routing.len());
        let board = |index: usize| {
            let own = routing.iter().zip(of_piece).filter(|(part, _)| part.board == index);
            let board = piece?.boards.get(index)?;
            Some(stock(Part::Board(board), own.flat_map(|(_, templates)| templates.made()), allowances))
        };
        let drawn = |(part, templates): (&DrawnPattern, &Templates)| -> Stock {
            stock(Part::Drawn(part), templates.made(), allowances)
        };
        let end = || {
            let (top, board) = (self.project.top.as_ref()?, piece?.top()?);
            let end = end_piece(board, top)?;
            Some(stock(Part::End(&end, top.thickness.mm()), &[], allowances))
        };
        Stocks {
            boards: (0..piece.map_or(0, |piece| piece.boards.len())).filter_map(board).collect(),
            drawn: self.project.patterns.iter().zip(of_parts).map(drawn).collect(),
            end: end(),
        }
    }
}
