//! What is to be minded at the saw: said with every setting and on the first page of the sheets.

use crate::board::{Role, SawCut};
use crate::piece::Piece;
use crate::tolerance::SHOWN_SQUARE;

/// Said with every setting.
pub const SCRAP: &str = "one end in scrap first";

/// Said with every crosscut that is mitred and bevelled at once (common practice).
pub const COMPOUND: &str = "compound crosscut: keep the offcut free of fence and tilted blade";

/// What comes before anything that is printed here.
pub const FIRST: &str = "The tool's manual, local codes and licensed practice come before this sheet.";

/// Whether a cut is a crosscut that is mitred and bevelled at once.
pub fn is_compound(saw: &SawCut) -> bool {
    saw.role == Role::End && saw.bevel.degrees() > SHOWN_SQUARE && saw.mitre().abs().degrees() > SHOWN_SQUARE
}

/// What is said with the setting of a cut, a statement each.
pub fn of_cut(saw: &SawCut) -> Vec<&'static str> {
    let compound = is_compound(saw).then_some(COMPOUND);
    [SCRAP].into_iter().chain(compound).collect()
}

/// What is said of the whole; nothing where nothing is sawn.
pub fn of_piece(piece: &Piece) -> Vec<String> {
    let sawn = |wanted: &dyn Fn(&SawCut) -> bool| -> Vec<&str> {
        let boards = piece.boards.iter().filter(|board| board.cuts.iter().any(wanted));
        boards.map(|board| board.label.as_str()).collect()
    };
    if sawn(&|_| true).is_empty() {
        return Vec::new();
    }
    let mut all = vec!["Saw one end in scrap first and try it against the drawing, for every setting.".to_owned()];
    let compound = sawn(&is_compound);
    if !compound.is_empty() {
        all.push(format!(
            "Compound crosscuts ({}): keep the offcut free of fence and tilted blade, with no stop where it could bind.",
            compound.join(", ")
        ));
    }
    all.push(FIRST.to_owned());
    all
}
