//! Angled aids: what holds clamp, saw, drill and mortiser at the angles of the solved piece.
//!
//! Guarantees to everything below: every figure of an aid is at full size in millimetres with its first outline closed, and
//! every angle and length told of it is measured on the boards, not taken from the file.

mod block;
mod caul;
mod figure;
mod fitness;
mod guide;
mod layout;
mod offered;
mod sightline;
mod wedges;

pub use figure::{Aid, Figure, Line, Look, Said};
pub use offered::{Lean, leans};

use super::{AidProblem, Square, landing};
use crate::finding::{Finding, Place};
use crate::model::aid::{AidRequest, Wanted};
use crate::model::joint::Joint;
use crate::model::top::Top;
use crate::piece::Piece;
use crate::units::Notation;

/// What the aids are made from.
#[derive(Debug, Clone, Copy)]
pub struct Bench<'a> {
    /// The solved piece with its joints made.
    pub piece: &'a Piece,
    /// Its joints.
    pub joints: &'a [Joint],
    /// The top as its numbers have it.
    pub top: Option<&'a Top>,
    /// How lengths are written.
    pub notation: &'a Notation,
}

/// Makes the aids asked for; and what was found.
pub fn aids(asked: &[AidRequest], bench: &Bench) -> (Vec<Aid>, Vec<Finding>) {
    let (mut made, mut findings) = (Vec::new(), Vec::new());
    for one in asked {
        match make(one, bench) {
            Ok(Made { aids: mut all, findings: told }) => {
                findings.extend(told);
                // One that had to be drawn several times is told apart by a number.
                if all.len() > 1 {
                    all.iter_mut().enumerate().for_each(|(i, aid)| aid.name = format!("{} {}", aid.name, i + 1));
                }
                made.extend(all.into_iter().map(Aid::told));
            }
            Err(finding) => findings.push(*finding),
        }
    }
    (made, findings)
}

/// What one entry of the file made.
#[derive(Debug, Default)]
struct Made {
    aids: Vec<Aid>,
    /// What does not stop the work.
    findings: Vec<Finding>,
}

impl Made {
    /// Takes up what was found, once: copies of a part would be told the same.
    fn tell(&mut self, found: impl IntoIterator<Item = Finding>) {
        for finding in found {
            if !self.findings.contains(&finding) {
                self.findings.push(finding);
            }
        }
    }
}

impl From<Vec<Aid>> for Made {
    fn from(aids: Vec<Aid>) -> Made {
        Made { aids, findings: Vec::new() }
    }
}

fn make(asked: &AidRequest, bench: &Bench) -> Result<Made, Box<Finding>> {
    match &asked.wanted {
        Wanted::Caul(..) => caul::make(asked, bench),
        Wanted::Wedges(..) => wedges::make(asked, bench),
        Wanted::Block(..) => block::make(asked, bench).map(Made::from),
        Wanted::Sightline(..) => sightline::make(asked, bench),
        Wanted::Template(..) => layout::make(asked, bench).map(Made::from),
    }
}

/// An aid that would be a plain square block.
fn nothing_leans(place: &Place, what: Square) -> Box<Finding> {
    Box::new(Finding::of(AidProblem::NothingLeans { what }, place.clone()))
}
