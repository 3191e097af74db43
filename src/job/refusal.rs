//! Why something that is asked of a job cannot be made.

use crate::finding::{nearest, quoted};
use crate::layout::TooManySheets;
use crate::model::Shop;
use std::error::Error;
use std::fmt;

/// Why something that is asked of a job cannot be made.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// A finding stops the work: it is among [`super::Job::findings`].
    Stopped,
    /// The file has neither base nor top.
    NoPiece,
    /// The file has no pattern of that name.
    UnknownPattern {
        /// The name that was asked for.
        asked: String,
        /// The names that there are.
        known: Vec<String>,
    },
    /// A pattern is too long to be laid on sheets.
    TooLong {
        /// Its name.
        pattern: String,
    },
    /// There is nothing to draw in the file.
    NothingToDraw,
    /// There is nothing to see of the piece.
    NothingToSee,
    /// It takes more sheets than may be made.
    TooManySheets {
        /// How many it takes.
        sheets: usize,
    },
    /// The paper is too small for a pattern.
    NoRoom {
        /// What the printer leaves free on every side, mm.
        margin: f64,
        /// What two sheets share, mm.
        overlap: f64,
    },
}

impl Refusal {
    /// The paper of a shop is too small.
    pub(super) fn no_room(shop: &Shop) -> Refusal {
        Refusal::NoRoom { margin: shop.margin.mm(), overlap: shop.overlap.mm() }
    }
}

impl From<TooManySheets> for Refusal {
    fn from(many: TooManySheets) -> Refusal {
        Refusal::TooManySheets { sheets: many.sheets }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refusal::Stopped => write!(f, "something stops the work"),
            Refusal::NoPiece => write!(
                f,
                "the file has no base and no top, so there is no piece; print, plot and schedule make what it draws directly"
            ),
            Refusal::UnknownPattern { asked, known } => {
                write!(f, "the file has no pattern \"{asked}\"; ")?;
                match nearest(asked, known.iter().map(String::as_str)) {
                    Some(name) => write!(f, "did you mean \"{name}\"?"),
                    // A template's name holds a comma.
                    None => {
                        let known: Vec<String> = known.iter().map(|name| quoted(name)).collect();
                        write!(f, "it has: {}", known.join(", "))
                    }
                }
            }
            Refusal::TooLong { pattern } => {
                write!(f, "the pattern \"{pattern}\" is more than 50 m long; look at its numbers")
            }
            Refusal::NothingToDraw => {
                write!(f, "the file has nothing to draw; add a part under \"patterns\", or a base")
            }
            Refusal::NothingToSee => write!(f, "there is nothing to draw"),
            Refusal::TooManySheets { sheets } => write!(
                f,
                "this takes {sheets} sheets; look at its numbers, take larger paper, or say --sheets {sheets} to have them all"
            ),
            Refusal::NoRoom { margin, overlap } => write!(
                f,
                "the paper is too small: margins of {margin:.1} mm, the rule bars and an overlap of {overlap:.1} mm leave \
                 no room for the pattern; take larger paper or a smaller overlap"
            ),
        }
    }
}

impl Error for Refusal {}
