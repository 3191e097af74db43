//! The rod: a strip of full size for each direction, with named ticks that are transferred to the wood without a rule.

use super::elevation::face_corners;
use super::share::coded;
use super::words::{item, wrap};
use crate::board::{EdgeName, PartRole, Role, Source, Surface};
use crate::geometry::{Flat, Path, Placement, Point, Point3, Rect, Vec2};
use crate::page::{self, Item, Part, Pen, Text};
use crate::pattern::{Pattern, SolidLine};
use crate::piece::{Piece, SolvedBoard, level_rim};
use crate::tolerance::{FACES_SQUARELY, SHOWN};
use crate::units::{Length, Notation};
use std::f64::consts::FRAC_PI_2;

/// Length of a tick from the strip's edge, mm.
const TICK: f64 = 12.0;

/// Height of the names, mm, and how far apart they stand at least.
const NAME: f64 = 3.5;
const APART: f64 = 6.0;

/// From the end of a tick to its name, mm: room for a slanting line where names are moved apart.
const JOG: f64 = 10.0;

/// Length of a line of names, mm: with tick and jog it stays on one row of the usual sheets. A longer name is broken at blanks.
const LONGEST: f64 = 110.0;

/// Between the names of what falls on one tick.
const TOGETHER: &str = " / ";

/// The three directions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Along the piece (x).
    Lengths,
    /// Across it (y).
    Widths,
    /// Up (z).
    Heights,
}

impl Direction {
    /// All three.
    pub const ALL: [Direction; 3] = [Direction::Heights, Direction::Widths, Direction::Lengths];

    fn name(self) -> &'static str {
        match self {
            Direction::Lengths => "lengths",
            Direction::Widths => "widths",
            Direction::Heights => "heights",
        }
    }

    fn of(self, p: Point3) -> f64 {
        match self {
            Direction::Lengths => p.x,
            Direction::Widths => p.y,
            Direction::Heights => p.z,
        }
    }
}

/// A mark on a strip.
#[derive(Debug, Clone, PartialEq)]
pub struct Tick {
    /// Where it stands, mm: over the floor, or from the centre line.
    pub at: f64,
    /// What falls on it, each by its name.
    pub names: Vec<String>,
}

impl Tick {
    /// Of one thing.
    pub fn of(at: f64, name: impl Into<String>) -> Tick {
        Tick { at, names: vec![name.into()] }
    }
}

/// The ticks of a direction, rising.
pub fn ticks(piece: &Piece, direction: Direction) -> Vec<Tick> {
    let mut found: Vec<Tick> = match direction {
        Direction::Heights => vec![Tick::of(0.0, "floor")],
        _ => vec![Tick::of(0.0, "centre line")],
    };
    for board in &piece.boards {
        found.extend(ticks_of(board, direction));
    }
    found.sort_by(|a, b| a.at.total_cmp(&b.at));
    let mut merged: Vec<Tick> = Vec::new();
    for tick in found {
        match merged.last_mut() {
            Some(last) if tick.at - last.at < SHOWN => {
                let new = tick.names.into_iter().filter(|name| !last.names.contains(name));
                last.names.extend(new.collect::<Vec<String>>());
            }
            _ => merged.push(tick),
        }
    }
    merged
}

/// Where the corners of a board's face side fall, named by the edge or end that they belong to; of a turned one its rims.
fn ticks_of(board: &SolvedBoard, direction: Direction) -> Vec<Tick> {
    let mut found = Vec::new();
    for copy in &board.copies {
        let place = copy.placement;
        if let Some(turned) = board.turned {
            let ends = [(EdgeName::Head, turned.head), (EdgeName::Foot, turned.foot)];
            found.extend(ends.into_iter().flat_map(|end| rim_ticks(board, direction, &place, end)));
            continue;
        }
        let across = direction.of(Point3::ORIGIN + place.w()).abs() > FACES_SQUARELY;
        if across {
            // A board that lies flat in this direction has two faces to mark, and no corners.
            let middle = board.solid.face.path().centroid().unwrap_or_default();
            let sides = board.board.sides;
            for (w, name) in [(0.0, sides[0]), (-board.board.thickness, sides[1])] {
                let at = direction.of(place.to_world(Point3::new(middle.x, middle.y, w)));
                found.push(Tick::of(at, format!("{} {name}", board.label)));
            }
            continue;
        }
        if board.role == PartRole::Top {
            let b = board.solid.blank;
            for (u, v) in [(b.x0, b.y0), (b.x1, b.y1)] {
                let at = direction.of(place.to_world(Point3::new(u, v, 0.0)));
                found.push(Tick::of(at, format!("{} edge", board.label)));
            }
            continue;
        }
        for (p, a, b) in face_corners(board, &place) {
            let name = corner_name(board, direction, a, b);
            found.push(Tick::of(direction.of(p), name));
        }
    }
    found
}

/// Of a turned board the two sides of its rim at an end, where top or floor cut it; the end's height where heights are told.
fn rim_ticks(
    board: &SolvedBoard,
    direction: Direction,
    place: &Placement,
    (end, diameter): (EdgeName, f64),
) -> Vec<Tick> {
    let Some(centre) = board.centre_at(&end).map(|p| place.to_world(p)) else { return Vec::new() };
    let name = format!("{} {}", board.label, end.words());
    let rim = level_rim(Point::new(centre.x, centre.y), place, diameter).and_then(|rim| rim.bounding_box());
    let (low, high) = match (direction, rim) {
        (Direction::Heights, _) | (_, None) => return vec![Tick::of(direction.of(centre), name)],
        (Direction::Lengths, Some(rim)) => (rim.x0, rim.x1),
        (Direction::Widths, Some(rim)) => (rim.y0, rim.y1),
    };
    let side = |at: f64, other: f64| if at.abs() > other.abs() { "outer" } else { "inner" };
    [(low, high), (high, low)].map(|(at, other)| Tick::of(at, format!("{name}, {} side", side(at, other)))).into()
}

/// `bottom rail, lower edge` for a height; for a length or width the end too.
fn corner_name(board: &SolvedBoard, direction: Direction, a: Source, b: Source) -> String {
    let is_end = |s: &Source| match s {
        Source::Cut(i) => board.board.cuts.get(*i).is_some_and(|cut| cut.role == Role::End),
        _ => false,
    };
    // Which of its ends it is is seen where the tick stands.
    let names = |s: Source| match board.board.surface(s) {
        Surface::Edge { name: EdgeName::LeftEnd | EdgeName::RightEnd, nth: 1 } => "end".to_owned(),
        Surface::Edge { name: EdgeName::LeftEnd | EdgeName::RightEnd, nth } => format!("end {nth}"),
        _ => board.board.name_of(s).into_owned(),
    };
    let (end, edge) = if is_end(&a) { (a, b) } else { (b, a) };
    if board.role == PartRole::Leg {
        return format!("{} {}, {}", board.label, names(end), names(edge));
    }
    match direction {
        Direction::Heights => format!("{} {}", board.label, names(edge)),
        _ => format!("{} {}, {}", board.label, names(end), names(edge)),
    }
}

/// The three strips as patterns at full size; the strip of a direction in which nothing is told is left out.
pub fn rod(piece: &Piece, notation: &Notation, revision: &str) -> Vec<Pattern> {
    let strips = Direction::ALL.into_iter().map(|direction| (direction, ticks(piece, direction)));
    coded(
        strips
            .filter(|(_, ticks)| ticks.len() > 1)
            .map(|(direction, ticks)| {
                strip(format!("rod, {}", direction.name()), (&ticks, Vec::new()), notation, revision)
            })
            .collect(),
    )
}

/// A strip of ticks, each with its number and its name, and with what else is drawn on it.
pub(super) fn strip(
    name: String,
    (ticks, more): (&[Tick], Vec<Item>),
    notation: &Notation,
    revision: &str,
) -> Pattern {
    let (first, last) = (ticks[0].at, ticks[ticks.len() - 1].at);
    let said: Vec<Vec<String>> = ticks.iter().map(|tick| lines_of(tick, notation)).collect();
    // As many places side by side as a tick has lines; the tick leads to its first.
    let all_places = ticks.iter().zip(&said).flat_map(|(tick, lines)| lines.iter().map(|_| tick.at));
    let mut places = spread(&all_places.collect::<Vec<f64>>()).into_iter();
    let line = |a: Point, b: Point, width: f64| Item::stroke(page::Role::Mark, Path::line(a, b), Pen::solid(width));
    let mut items: Vec<Item> = vec![line(Point::new(first, 0.0), Point::new(last, 0.0), 0.25)];
    for (tick, lines) in ticks.iter().zip(said) {
        let (foot, end) = (Point::new(tick.at, 0.0), Point::new(tick.at, TICK));
        items.push(line(foot, end, 0.25));
        for (k, (words, name_at)) in lines.into_iter().zip(&mut places).enumerate() {
            let name_from = Point::new(name_at, TICK + JOG);
            if k == 0 {
                items.push(line(end, name_from, 0.18));
            }
            let at = name_from + Vec2::new(NAME / 2.0, 1.5);
            items.push(item(page::Role::Text, Text::new(at, NAME, words).turned(FRAC_PI_2)));
        }
    }
    items.extend(more);
    let bounds = Item::bounds_of_all(&items).unwrap_or(Rect::ZERO);
    let made = ("make 1".into(), notation.length(Length::from_mm(last - first)));
    let (items, bounds) = (Flat::from_outside(items).paper(), bounds.inflate(2.0, 2.0));
    Pattern { solid: SolidLine::RodMark, ..Pattern::new(Part::new(name, revision), made, items, bounds) }
}

/// What stands at a tick, in lines: its number and the names of all that falls on it, kept whole where they fit a line.
fn lines_of(tick: &Tick, notation: &Notation) -> Vec<String> {
    let fits = |words: &str| Text::new(Point::ORIGIN, NAME, words).width() <= LONGEST;
    let mut lines: Vec<String> = Vec::new();
    let mut open = format!("{} ", notation.bare_length(Length::from_mm(tick.at.abs())));
    for (k, name) in tick.names.iter().enumerate() {
        let longer = if k == 0 { format!("{open} {name}") } else { format!("{open}{TOGETHER}{name}") };
        if k == 0 || fits(&longer) {
            open = longer;
        } else {
            // The stroke at the line's end says that more stands on the same tick.
            lines.push(format!("{open}{}", TOGETHER.trim_end()));
            open = name.clone();
        }
    }
    lines.push(open);
    lines.into_iter().flat_map(|line| if fits(&line) { vec![line] } else { wrap(&line, NAME, LONGEST) }).collect()
}

/// Places for names no nearer to each other than [`APART`], each as near to its tick as can be: runs of crowded names are
/// centred over their ticks.
fn spread(ticks: &[f64]) -> Vec<f64> {
    // Runs of names: where the first stands, and how many.
    let mut runs: Vec<(f64, usize)> = Vec::new();
    let mut sums: Vec<f64> = Vec::new();
    for tick in ticks {
        runs.push((*tick, 1));
        sums.push(*tick);
        while let [.., (a, count), (b, more)] = runs[..] {
            if a + APART * count as f64 <= b {
                break;
            }
            // The names of both runs stand in one row whose middle is that of their ticks.
            let sum = sums.pop().unwrap_or_default() + sums.pop().unwrap_or_default();
            runs.truncate(runs.len() - 2);
            let all = count + more;
            runs.push((sum / all as f64 - APART * (all - 1) as f64 / 2.0, all));
            sums.push(sum);
        }
    }
    runs.iter().flat_map(|(from, count)| (0..*count).map(move |k| from + APART * k as f64)).collect()
}

#[cfg(test)]
mod tests {
    use super::{APART, spread};

    #[test]
    fn crowded_names_stand_apart_and_in_order() {
        let at = spread(&[0.0, 1.0, 2.0, 50.0, 53.0, 200.0]);
        assert!(at.windows(2).all(|w| w[1] - w[0] >= APART - 1e-9), "{at:?}");
        assert!((at[1] - 1.0).abs() < 1e-9 && (at[5] - 200.0).abs() < 1e-9 && (at[3] + at[4] - 103.0).abs() < 1e-9);
    }
}
