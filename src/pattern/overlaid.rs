//! A part as it is over the same part as it was.

use super::lines::{CUT_WIDTH, EDGE_WIDTH, MARK_WIDTH, stroke};
use super::{Pattern, title};
use crate::geometry::{Flat, Path};
use crate::page::{Part, Pen, Role};

/// Dash and gap of a part as it was, mm: longer than any other broken line of a pattern.
const WAS_DASH: [f64; 2] = [6.0, 2.0];

/// A part as it is and as it was, seen from the face side, in one set of axes.
#[derive(Debug, Clone, PartialEq)]
pub struct Overlaid {
    /// Its name and its codes.
    pub part: Part,
    /// How many are made.
    pub make: String,
    /// Its rim as it is, and what is worked in it.
    pub is: (Path, Vec<Path>),
    /// All of that as it was.
    pub was: Vec<Path>,
    /// What is said of it.
    pub words: Vec<String>,
}

impl Overlaid {
    /// The part as it is, alone: for a picture, which draws what was in its own way.
    pub fn as_it_is(&self) -> Pattern {
        self.drawn(&[])
    }

    /// Both, at full size.
    pub fn both(&self) -> Pattern {
        self.drawn(&self.was)
    }

    fn drawn(&self, was: &[Path]) -> Pattern {
        let (rim, worked) = &self.is;
        let mut items = vec![stroke(Role::Outline, rim.clone(), Pen::solid(CUT_WIDTH))];
        items.extend(worked.iter().map(|path| stroke(Role::Mark, path.clone(), Pen::solid(MARK_WIDTH))));
        items.extend(was.iter().map(|path| stroke(Role::Mark, path.clone(), Pen::dashed(EDGE_WIDTH, &WAS_DASH))));
        title::write(&mut items, rim, &self.part.name, (&self.words, &[0]), None);
        let items = Flat::from_outside(items).paper();
        Pattern::around(self.part.clone(), self.make.clone(), "as it is over as it was".to_owned(), items)
    }
}
