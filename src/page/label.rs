//! What words on a pattern are about, and what will do as well: for the layout that moves them.

use crate::geometry::{Affine, Path, Point};

/// What words are about.
#[derive(Debug, Clone, PartialEq)]
pub enum About {
    /// The part as a whole: they name it, and stay within its outline.
    Part,
    /// The sheet: they may stand anywhere on it.
    Sheet,
    /// A point or what is drawn there.
    Place(Point),
    /// A line, on either side of which they may stand.
    Along(Path),
    /// Which way something lies, at an arrow that stands with them, anywhere on the part.
    Way,
}

/// Which words are placed first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rank {
    /// What keeps hands and wood whole.
    Caution,
    /// What the part is.
    Plate,
    /// What a joint, a cut or a hole is.
    Joint,
    /// All else.
    Note,
}

/// One or more lines of words that stay together. It is held by the first of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// What the words are about.
    pub about: About,
    /// How early they are placed.
    pub rank: Rank,
    /// How many of the lines that follow belong to them.
    pub more: usize,
    /// Whether they stand on every sheet on which what they are about is seen.
    pub again: bool,
    /// How many strokes stand before them that move with them, an arrow's; those between their lines do too.
    pub before: usize,
    /// Which of the lines, from 0, must stay within the part's outline where the others find no room in it.
    pub staying: Vec<usize>,
    /// Shorter words that will do for all of the lines, the fullest first.
    pub shorter: Vec<String>,
}

impl Label {
    /// A line of words of its own.
    pub fn new(about: About, rank: Rank) -> Label {
        Label { about, rank, more: 0, again: false, before: 0, staying: Vec::new(), shorter: Vec::new() }
    }

    /// A line of words on what lies at a point.
    pub fn at(at: Point) -> Label {
        Label::new(About::Place(at), Rank::Joint)
    }

    /// A line of words on a path.
    pub fn along(path: Path) -> Label {
        Label::new(About::Along(path), Rank::Joint)
    }

    /// Words at an arrow of so many strokes.
    pub fn way(before: usize) -> Label {
        Label { before, ..Label::new(About::Way, Rank::Joint) }
    }

    /// The same, for every sheet on which what they are about is seen.
    pub fn on_each_sheet(self) -> Label {
        Label { again: true, ..self }
    }

    /// The same, of which so many further lines are part.
    pub fn with_more(self, more: usize) -> Label {
        Label { more, ..self }
    }

    /// The same, moved with what it is about.
    pub fn moved(mut self, map: Affine) -> Label {
        match &mut self.about {
            About::Part | About::Sheet | About::Way => {}
            About::Place(at) => *at = map * *at,
            About::Along(path) => *path = path.transformed(map),
        }
        self
    }
}
