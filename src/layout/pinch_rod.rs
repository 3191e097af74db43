//! The strip of a pinch rod: two sticks that slide along each other take a length off the work, and the strip tells it.
//!
//! One stick bears the strip, the other is cut to a length that the strip names; where its inner end comes to lie on the strip
//! is the length over both.

use super::rail_face::RailFace;
use super::rod::{Tick, strip};
use super::share::coded;
use super::words::{item, wrap};
use crate::board::Source;
use crate::geometry::{Path, Point, Point3, Segment};
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
    pub drawn: Vec<Mark>,
    /// What the strip tells at its first and at its last line, mm over both sticks.
    pub from_to: [f64; 2],
    /// From the outer end of the stick that bears the strip to the strip's first line, mm.
    pub lead: f64,
    /// The length of the other stick, mm.
    pub other: f64,
}

/// The drawn length of one arris.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// The length, mm.
    pub at: f64,
    /// What the arris is called.
    pub name: String,
    /// Where it meets the rails' inside faces: how far up from their lower arris and off the centre line, towards the back above
    /// zero, mm; `None` of a part that does not go between bottom rails.
    pub spot: Option<[f64; 2]>,
}

impl Mark {
    /// What stands at its tick: with its spot as a file writes it.
    fn words(&self, notation: &Notation) -> String {
        let length = |mm: f64| {
            let sign = if mm < 0.0 { "-" } else { "" };
            format!("{sign}{}", notation.exact(Length::from_mm((mm.abs() / WRITTEN_TO).round() * WRITTEN_TO)))
        };
        let spot = self.spot.map(|[up, off]| format!(": up {}, off_centre {}", length(up), length(off)));
        format!("{}{}", self.name, spot.unwrap_or_default())
    }
}

/// Spots are written to so many mm.
const WRITTEN_TO: f64 = 0.1;

/// The pinch rods of a piece: one for each of its stretchers.
pub fn pinch_rods(piece: &Piece, notation: &Notation) -> Vec<PinchRod> {
    let stretchers = piece.boards.iter().filter(|board| board.role.is_stretcher());
    stretchers.filter_map(|board| pinch_rod(board, piece, notation)).collect()
}

/// In whole parts of what the strip counts in, mm: 10, or half an inch.
fn count(notation: &Notation) -> (f64, u32) {
    match notation.units {
        Units::Mm => (10.0, 10),
        Units::Inch => (Length::from_inches(0.5).mm(), 8),
    }
}

fn pinch_rod(board: &SolvedBoard, piece: &Piece, notation: &Notation) -> Option<PinchRod> {
    let edges = board.solid.arrises.iter().filter(|arris| {
        let ends: Vec<usize> = board.cuts.iter().filter(|saw| saw.long_point.is_some()).map(|saw| saw.cut).collect();
        !ends.iter().any(|cut| arris.source == Source::Cut(*cut))
    });
    let sides = board.board.sides;
    let mut drawn: Vec<Mark> = edges
        .flat_map(|arris| {
            let name = board.board.name_of(arris.source).into_owned();
            [(arris.face, sides[0], false), (arris.far, sides[1], true)].into_iter().filter(|(at, ..)| *at > 0.0).map(
                move |(at, side, is_far)| {
                    let spot = spot(board, piece, (arris.source, is_far));
                    Mark { at, name: format!("{name}, {side}"), spot }
                },
            )
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

/// Where both ends of an arris meet the rails' inside faces, in the mean of both.
fn spot(board: &SolvedBoard, piece: &Piece, (source, is_far): (Source, bool)) -> Option<[f64; 2]> {
    let (rim, depth) = if is_far { (&board.solid.far, board.board.thickness) } else { (&board.solid.face, 0.0) };
    let placement = board.copies.first()?.placement;
    let ends = |(piece, _): (&Segment, Source)| [piece.eval(0.0), piece.eval(1.0)];
    let ends: Vec<Point3> = rim
        .pieces()
        .filter(|(_, own)| *own == source)
        .flat_map(ends)
        .map(|p| placement.to_world(Point3::new(p.x, p.y, -depth)))
        .collect();
    let left = ends.iter().min_by(|a, b| a.x.total_cmp(&b.x))?;
    let right = ends.iter().max_by(|a, b| a.x.total_cmp(&b.x))?;
    let (left, right) = (RailFace::of(piece, -1.0)?.spot(*left), RailFace::of(piece, 1.0)?.spot(*right));
    Some([(left[0] + right[0]) / 2.0, (left[1] + right[1]) / 2.0])
}

impl PinchRod {
    /// Its strip, at full size, with how the sticks are cut.
    fn strip(&self, notation: &Notation, revision: &str) -> Pattern {
        let (step, parts) = count(notation);
        let [from, to] = self.from_to;
        let whole = (0..).map(|k| from + step * f64::from(k)).take_while(|at| *at <= to + SHOWN);
        let drawn = |at: f64| self.drawn.iter().any(|tick| (tick.at - at).abs() < SHOWN);
        let counted = whole.filter(|at| !drawn(*at)).map(|at| Tick { at, names: Vec::new() });
        let mut ticks: Vec<Tick> = counted.collect();
        for mark in &self.drawn {
            let words = mark.words(notation);
            match ticks.iter_mut().find(|other| (other.at - mark.at).abs() < SHOWN) {
                Some(other) => other.names.push(words),
                None => ticks.push(Tick::of(mark.at, format!("drawn: {words}"))),
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
             rails where each arris of the {} will lie: both ends laid on the rails' inside faces, that far up from the lower \
             arris and off the centre line (towards the back; - is towards the front) that stands beside its mark as up and \
             off_centre. The inner end shows the length over both. Write it into the file under between_rails, with that up \
             and off_centre and \"with\": \"rod\"; take mitre and bevel at each frame with the gauge off the rod.",
            self.part
        );
        wrap(&told, WORDS, (self.from_to[1] - self.from_to[0]).max(120.0))
    }
}

/// The strips of pinch rods, as patterns at full size.
pub fn pinch_rod_strips(piece: &Piece, notation: &Notation, revision: &str) -> Vec<Pattern> {
    coded(pinch_rods(piece, notation).iter().map(|rod| rod.strip(notation, revision)).collect())
}
