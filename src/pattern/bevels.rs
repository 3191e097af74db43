//! Every angle of the piece as a long line off a base line, at the angle that a gauge reads on the wood.
//!
//! A gauge's stock lies on a face or an edge, and on the saw's table beside a tilted blade: the line stands as the cut does, off square by
//! its bevel or mitre, and not off the base by it.

use super::lines::{EDGE_WIDTH, line, words};
use super::{Pattern, SolidLine, revision, title};
use crate::board::{EdgeName, Role as CutRole, Source, Surface};
use crate::geometry::{Flat, Path, Point, Rect, Vec2};
use crate::page::{About, Item, Label, Part, Pen, Rank, Role, Shape, Text};
use crate::piece::Piece;
use crate::tolerance::ONE_LINE;
use crate::units::{Angle, Notation};
use std::borrow::Cow;

/// Length of every line, mm: a gauge's blade laid along it shows a tenth of a degree as 0.3 mm, and one sheet of A4 or Letter holds them whole.
const LENGTH: f64 = 160.0;

/// From one line to the next where they share a base line, mm square to the second: room for its words.
const APART: f64 = 7.0;

/// How far a base line runs on past the last line's foot, mm: a gauge's stock lies along it.
const STOCK: f64 = 120.0;

/// How the sheet is used.
const HOW: [&str; 2] = [
    "Lay the stock of the gauge along a base line, its blade along the line that rises",
    "from it: so it fits the wood, and a tilted blade off the saw's table.",
];

/// Lines that lie flatter than this have a base line each: side by side they would need a long one.
const FLAT: Angle = Angle::from_degrees(45.0);

/// Under a base line its words, and from there to the next, mm.
const ROOM: (f64, f64) = (4.5, 9.0);

/// How far the heading reaches below the words over it, mm.
const BLOCK: f64 = 7.0;

/// One line of the sheet.
struct Bevel {
    /// Off square, or off its face.
    angle: Angle,
    /// Off which of the two it is told.
    off_face: bool,
    names: Vec<String>,
}

impl Bevel {
    /// What a gauge reads whose stock lies on the wood: the smaller of the two ways.
    fn reads(&self) -> Angle {
        if self.off_face { self.angle } else { Angle::RIGHT - self.angle }
    }

    /// `29.3° (56.1 to 100) off square, gauge 60.7° or 119.3°: side end bevel`.
    fn said(&self, apart: &Notation) -> String {
        let (angle, names) = (apart.angle_and_slope(self.angle), self.names.join(", "));
        match self.off_face {
            true => format!("{angle}: {names}"),
            false => {
                let gauge = [self.reads(), Angle::HALF_TURN - self.reads()].map(|reads| apart.angle(reads));
                format!("{angle} off square, gauge {} or {}: {names}", gauge[0], gauge[1])
            }
        }
    }
}

/// The bevel sheet of a piece; `None` where every cut is square. `settled` is the piece as codes take it.
pub fn bevels(piece: &Piece, settled: &Piece, project: &str, notation: &Notation) -> Option<Pattern> {
    let found = collected(piece);
    if found.is_empty() {
        return None;
    }
    // Lines that are drawn apart are told apart.
    let angles: Vec<Angle> = found.iter().map(|bevel| bevel.angle).collect();
    let apart = notation.telling_apart(&[], &angles);
    let (steep, flat): (Vec<&Bevel>, Vec<&Bevel>) = found.iter().partition(|bevel| bevel.reads() >= FLAT);
    let mut items = off_one_base(&steep, &apart);
    let below = if steep.is_empty() { 0.0 } else { -ROOM.1 };
    let (flat, mut y) = each_off_its_own(&flat, below, &apart);
    items.extend(flat);
    // Words along a line may be longer than it: they find their place on its sheet, and ask for none of their own.
    let lines = Item::bounds_of_all(&items.iter().filter(|item| !is_words(item)).cloned().collect::<Vec<Item>>());
    let revision = revision::angles(collected(settled).iter().map(Bevel::reads));
    let part = Part::new("bevel sheet", revision);
    for how in HOW {
        y -= ROOM.0;
        items.push(words(Role::Text, Text::new(Point::new(0.0, y), 2.5, how)));
    }
    let heading = format!("{project} · bevel sheet · rev {}", part.revision);
    let label = Label::new(About::Sheet, Rank::Plate).with_more(1);
    items.push(words(Role::Text, Text::new(Point::new(0.0, y - 5.5), 3.5, heading).about(label)));
    let sizes = if found.len() == 1 { "1 angle".to_owned() } else { format!("{} angles", found.len()) };
    let block = Rect::new(0.0, y - BLOCK, 0.0, y);
    let bounds = lines.unwrap_or(Rect::ZERO).union(block).inflate(title::CLEAR, title::CLEAR);
    let made = ("to set gauges by".to_owned(), sizes);
    let drawn = Pattern::new(part, made, Flat::either_way(items).paper(), bounds);
    Some(Pattern { solid: SolidLine::GaugeLine, ..drawn })
}

fn is_words(item: &Item) -> bool {
    matches!(item.shape, Shape::Text(_))
}

/// A line off a base line, with its words along it.
fn rising(bevel: &Bevel, foot: Point, apart: &Notation) -> [Item; 2] {
    let along = Vec2::from_angle(bevel.reads().radians());
    let rising = Path::line(foot, foot + along * LENGTH);
    let at = foot + along * ROOM.1 + along.turn_90() * 1.2;
    let said = Text::new(at, 2.5, bevel.said(apart)).turned(bevel.reads().radians()).about(Label::along(rising));
    [line(Role::Mark, foot, foot + along * LENGTH, Pen::solid(EDGE_WIDTH)), words(Role::Text, said)]
}

/// Lines side by side off one base line, the steepest first, so that none crosses another.
fn off_one_base(steep: &[&Bevel], apart: &Notation) -> Vec<Item> {
    let mut items = Vec::new();
    let mut x = 0.0;
    for bevel in steep {
        x += APART / bevel.reads().radians().sin();
        items.extend(rising(bevel, Point::new(x, 0.0), apart));
    }
    if !items.is_empty() {
        items.push(line(Role::Mark, Point::ORIGIN, Point::new(x + STOCK, 0.0), Pen::solid(EDGE_WIDTH)));
    }
    items
}

/// Lines below each other from a height down, each off its own base line; and where the last of them stands.
fn each_off_its_own(flat: &[&Bevel], mut y: f64, apart: &Notation) -> (Vec<Item>, f64) {
    let mut items = Vec::new();
    for bevel in flat {
        y -= LENGTH * bevel.reads().radians().sin() + ROOM.1;
        items.extend(rising(bevel, Point::new(0.0, y), apart));
        items.push(line(Role::Mark, Point::new(0.0, y), Point::new(LENGTH, y), Pen::solid(EDGE_WIDTH)));
    }
    (items, y)
}

/// The angles of every cut, the steepest line first, each with the cuts that need it.
fn collected(piece: &Piece) -> Vec<Bevel> {
    let mut found: Vec<Bevel> = Vec::new();
    let mut put = |angle: Angle, off_face: bool, name: String| {
        if angle.degrees() < 0.05 {
            return;
        }
        let is_same =
            |bevel: &&mut Bevel| bevel.off_face == off_face && (bevel.angle - angle).abs().degrees() < ONE_LINE;
        match found.iter_mut().find(is_same) {
            Some(bevel) if bevel.names.contains(&name) => {}
            Some(bevel) => bevel.names.push(name),
            None => found.push(Bevel { angle, off_face, names: vec![name] }),
        }
    };
    for board in &piece.boards {
        for saw in &board.cuts {
            // The two ends of a board are told as one.
            let place = match board.board.surface(Source::Cut(saw.cut)) {
                Surface::Edge { name: EdgeName::LeftEnd | EdgeName::RightEnd, nth: 1 } => Cow::Borrowed("end"),
                _ => board.board.name_of(Source::Cut(saw.cut)),
            };
            if saw.role == CutRole::End {
                put(saw.mitre(), false, format!("{} {place} mitre", board.label));
            }
            if saw.tapers() {
                put(Angle::RIGHT - saw.bevel, true, format!("{} {place}, off its face", board.label));
                continue;
            }
            put(saw.bevel, false, format!("{} {place} bevel", board.label));
        }
    }
    found.sort_by(|a, b| b.reads().radians().total_cmp(&a.reads().radians()));
    found
}
