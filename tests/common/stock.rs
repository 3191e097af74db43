//! What a board is sawn from in a shop that says nothing of it.

use fullsize::piece::SolvedBoard;
use fullsize::project::read;
use fullsize::stock::{Part, Stock, stock};

pub fn plain_stock(board: &SolvedBoard) -> Stock {
    let file = r#"{ "fullsize": 1, "title": "Seat", "units": "mm", "top": { "length": 500, "width": 300, "thickness": 20 } }"#;
    let shop = read("seat.json", file.as_bytes(), None, None).project.expect("a good file").shop;
    stock(Part::Board(board), &[], &shop.allowances)
}
