//! The strip of a pinch rod: two sticks that slide along each other take a length off the work, and the strip tells it.
//!
//! One stick bears the strip, the other is cut to a length that the strip names; where its inner end comes to lie on the strip
//! is the length over both.

use super::rod::{Tick, strip};
use super::share::coded;
use super::words::{item, wrap};
use crate::geometry::{Path, Point};
use crate::page::{self, Item, Pen, Text};
use crate::pattern::Pattern;
use crate::piece::{Piece, SolvedBoard};
use crate::tolerance::SHOWN;
use crate::units::{Length, Notation, Units};

/// How far the strip goes beyond the drawn lengths to either side, mm: three times what frames are usually off.
const BEYOND: f64 = 15.0;

/// How long a tick of the finest step is, mm.
const FINE_TICK: f64 = 5.0;

/// Height of the words that say how the sticks are cut, mm, and how far below the strip they begin.
const WORDS: f64 = 3.5;

/// Both sticks overlap by at least so much, mm.
const OVERLAP: f64 = 100.0;

/// A pinch rod for one part.
#[derive(Debug, Clone, PartialEq)]
pub struct PinchRod {
    /// The part that it takes the length of.
    pub part: String,
    /// The drawn lengths of its long arrises, rising, each by its name: what the strip marks.
    pub drawn: Vec<Tick>,
    /// What the strip tells at its first and at its last line, mm over both sticks.
    pub from_to: [f64; 2],
    /// From the outer end of the stick that bears the strip to the strip's first line, mm.
    pub lead: f64,
    /// The length of the other stick, mm.
    pub other: f64,
}

/// The pinch rods of a piece: one for each of its stretchers.
pub fn pinch_rods(piece: &Piece, notation: &Notation) -> Vec<PinchRod> {
    let stretchers = piece.boards.iter().filter(|board| board.role.is_stretcher());
    stretchers.filter_map(|board| pinch_rod(board, notation)).collect()
}

/// In whole parts of what the strip counts in, mm: 10, or half an inch.
fn count(notation: &Notation) -> (f64, u32) {
    match notation.units {
        Units::Mm => (10.0, 10),
        Units::Inch => (Length::from_inches(0.5).mm(), 8),
    }
}

fn pinch_rod(board: &SolvedBoard, notation: &Notation) -> Option<PinchRod> {
    let edges = board.solid.arrises.iter().filter(|arris| {
        let ends: Vec<usize> = board.cuts.iter().filter(|saw| saw.long_point.is_some()).map(|saw| saw.cut).collect();
        !ends.iter().any(|cut| arris.source == crate::board::Source::Cut(*cut))
    });
    let sides = board.board.sides;
    let mut drawn: Vec<Tick> = edges
        .flat_map(|arris| {
            let name = board.board.name_of(arris.source).into_owned();
            [(arris.face, sides[0]), (arris.far, sides[1])]
                .into_iter()
                .filter(|(at, _)| *at > 0.0)
                .map(move |(at, side)| Tick { at, name: format!("{name}, {side}") })
        })
        .collect();
    drawn.sort_by(|a, b| a.at.total_cmp(&b.at));
    let (step, _) = count(notation);
    let (first, last) = (drawn.first()?.at, drawn.last()?.at);
    let from_to = [((first - BEYOND) / step).floor() * step, ((last + BEYOND) / step).ceil() * step];
    // The strip lies where the sticks overlap: the one that bears it is longer than half.
    let lead = ((from_to[0] / 2.0) / step).floor() * step;
    (lead > OVERLAP).then(|| PinchRod { part: board.label.clone(), drawn, from_to, lead, other: from_to[0] - lead })
}

impl PinchRod {
    /// Its strip, at full size, with how the sticks are cut.
    fn strip(&self, notation: &Notation, revision: &str) -> Pattern {
        let (step, parts) = count(notation);
        let [from, to] = self.from_to;
        let whole = (0..).map(|k| from + step * f64::from(k)).take_while(|at| *at <= to + SHOWN);
        let drawn = |at: f64| self.drawn.iter().any(|tick| (tick.at - at).abs() < SHOWN);
        let counted = whole.filter(|at| !drawn(*at)).map(|at| Tick { at, name: String::new() });
        let mut ticks: Vec<Tick> = counted.collect();
        for tick in &self.drawn {
            match ticks.iter_mut().find(|other| (other.at - tick.at).abs() < SHOWN) {
                Some(other) => other.name = format!("{} / {}", other.name, tick.name),
                None => ticks.push(Tick { at: tick.at, name: format!("drawn: {}", tick.name) }),
            }
        }
        ticks.sort_by(|a, b| a.at.total_cmp(&b.at));
        let fine = step / f64::from(parts);
        let lines = (0..).map(|k| from + fine * f64::from(k)).take_while(|at| *at <= to + SHOWN);
        let is_told = |at: f64| ticks.iter().any(|tick| (tick.at - at).abs() < SHOWN);
        let tick = |at: f64| {
            let path = Path::line(Point::new(at, 0.0), Point::new(at, FINE_TICK));
            Item::stroke(page::Role::Mark, path, Pen::solid(0.18))
        };
        let mut items: Vec<Item> = lines.filter(|at| !is_told(*at)).map(tick).collect();
        for (row, words) in self.how(notation).into_iter().enumerate() {
            let at = Point::new(from, -WORDS * (2.0 + 1.6 * row as f64));
            items.push(item(page::Role::Text, Text::new(at, WORDS, words)));
        }
        let name = format!("pinch rod, {}", self.part);
        Pattern { small: true, ..strip(name, (&ticks, items), notation, revision) }
    }

    /// How the sticks are cut and where the rod is held, in lines.
    fn how(&self, notation: &Notation) -> Vec<String> {
        let [lead, other] = [self.lead, self.other].map(|mm| notation.exact(Length::from_mm(mm)));
        let told = format!(
            "Point the ends of two sticks. On one, glue this strip so that its first line stands {lead} from the pointed end, the \
             numbers growing away from it. Cut the other {other} long, its inner end square. Slide both out between the \
             rails along each arris of the {}: the inner end shows the length over both. Write it into the file as \
             between_rails, with \"with\": \"rod\"; take mitre and bevel of each end with the gauge off the rod.",
            self.part
        );
        wrap(&told, WORDS, (self.from_to[1] - self.from_to[0]).max(120.0))
    }
}

/// The strips of pinch rods, as patterns at full size.
pub fn pinch_rod_strips(piece: &Piece, notation: &Notation, revision: &str) -> Vec<Pattern> {
    coded(pinch_rods(piece, notation).iter().map(|rod| rod.strip(notation, revision)).collect())
}
