//! What a board is sawn from in a shop that says nothing of it.

use fullsize::model::Allowances;
use fullsize::piece::SolvedBoard;
use fullsize::stock::{Part, Stock, stock};
use fullsize::units::Units;

pub fn plain_stock(board: &SolvedBoard) -> Stock {
    stock(Part::Board(board), &[], &Allowances::usual(Units::Mm))
}
