//! The saw-setting schedule: what is made, and how the saw is set for it, before it is written.
//!
//! Guarantees to the writers: every length in the data is millimetres and every angle degrees, never rounded; in the tables every
//! cell is words in the maker's own notation, and every row has as many cells as its table has columns.

mod aids;
mod cutouts;
mod data;
mod drawn;
mod fasteners;
mod fixing;
mod joints;
mod settings;
mod table;
mod templates;
mod text;
mod turned;

pub use data::json;
pub use table::{Table, tables};
pub use text::{parts, text};

use crate::finding::Finding;
use crate::geometry::Point3;
use crate::joinery::aids::Aid;
use crate::model::DrawnPattern;
use crate::model::top::Top;
use crate::piece::{Piece, SolvedBoard};
use crate::router::TemplateSetting;
use crate::stock::{Stock, Stocks};
use crate::units::{Length, Notation, Units};

/// Everything a schedule is made from.
#[derive(Debug, Clone)]
pub struct Schedule<'a> {
    /// Title of the project.
    pub title: &'a str,
    /// The variant that was applied.
    pub variant: Option<&'a str>,
    /// Revision code of the whole.
    pub revision: &'a str,
    /// Revision code of each board, in the order of the piece's boards.
    pub revisions: &'a [String],
    /// The solved piece.
    pub piece: &'a Piece,
    /// The top as meant, with what holds it.
    pub top: Option<&'a Top>,
    /// The parts that the file draws directly.
    pub drawn: &'a [DrawnPattern],
    /// Revision code of each of them.
    pub drawn_revisions: &'a [String],
    /// What each board, each part drawn directly and a breadboard end is sawn from.
    pub stocks: &'a Stocks,
    /// The angled aids asked for.
    pub aids: &'a [Aid],
    /// How the router is set for each template.
    pub templates: &'a [TemplateSetting],
    /// Volume, mm³, and centre of gravity, board axes, of the first copy of each board.
    pub bulks: &'a [(f64, Point3)],
    /// Everything that is to be told about it.
    pub findings: &'a [Finding],
    /// How the tables' numbers are written.
    pub notation: Notation,
}

/// A force in newtons and in the pull of kilograms or pounds, which a spring balance shows.
fn force(newtons: f64, notation: &Notation) -> String {
    let kg = newtons / 9.80665;
    match notation.units {
        Units::Mm => format!("{newtons:.0} N ({kg:.1} kg on a spring balance)"),
        // The international pound: 0.45359237 kg.
        Units::Inch => format!("{newtons:.0} N ({:.0} lb on a spring balance)", kg / 0.453_592_37),
    }
}

/// A movement to a tenth of a millimetre, or to a thousandth of an inch beside the nearest fraction.
fn movement(length: Length, notation: &Notation) -> String {
    // What rounds to nothing has no sign: nothing added to the zero below it is the one above.
    let rounded = |number: f64, parts: f64| (number * parts).round() / parts + 0.0;
    match notation.units {
        Units::Mm => format!("{:.1} mm", rounded(length.mm(), 10.0)),
        Units::Inch => {
            let inches = rounded(length.inches(), 1000.0);
            format!("{inches:.3} in ({})", notation.length(Length::from_inches(inches)))
        }
    }
}

impl<'a> Schedule<'a> {
    /// The boards with what they are sawn from.
    fn stocked(&self) -> impl Iterator<Item = (&'a SolvedBoard, &'a Stock)> {
        self.piece.boards.iter().zip(&self.stocks.boards)
    }

    /// The boards with their revision codes.
    fn boards(&self) -> impl Iterator<Item = (&'a SolvedBoard, &'a str)> {
        let codes = self.revisions.iter().map(String::as_str).chain(std::iter::repeat(""));
        self.piece.boards.iter().zip(codes)
    }

    /// The parts that the file draws directly with their stock and their revision codes.
    fn drawn(&self) -> impl Iterator<Item = (&'a DrawnPattern, &'a Stock, &'a String)> {
        let stocked = self.drawn.iter().zip(&self.stocks.drawn);
        stocked.zip(self.drawn_revisions).map(|((part, stock), code)| (part, stock, code))
    }
}
