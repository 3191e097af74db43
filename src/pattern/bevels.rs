//! Every angle of the piece as a long line off a base line, from which a bevel gauge is set.

use super::lines::{line, words};
use super::{Pattern, revision, title};
use crate::geometry::{Point, Rect, Vec2};
use crate::page::{Anchor, Item, Part, Pen, Role, Text};
use crate::piece::Piece;
use crate::units::{Angle, Notation};

/// Length of every line, mm: a gauge's blade laid along it shows a tenth of a degree as half a millimetre.
const LENGTH: f64 = 300.0;

/// Angles that differ by less than this, degrees, are one line: a person is shown tenths.
const SAME: f64 = 0.02;

/// Distances from the corner, mm, at which the words of neighbouring lines end: they stand side by side.
const WORDS_END: [f64; 3] = [LENGTH - 2.0, LENGTH - 95.0, LENGTH - 185.0];

/// Angles that lie nearer than this, degrees, get their words at different distances.
const CROWDED: f64 = 1.4;

/// One line of the sheet.
struct Bevel {
    angle: Angle,
    names: Vec<String>,
}

/// The bevel sheet of a piece; `None` where every cut is square.
pub fn bevels(piece: &Piece, project: &str, notation: &Notation) -> Option<Pattern> {
    let found = collected(piece);
    if found.is_empty() {
        return None;
    }
    let base = (Point::ORIGIN, Point::new(LENGTH, 0.0));
    let mut items = vec![line(Role::Mark, base.0, base.1, Pen::solid(0.25))];
    items.push(words(Role::Text, Text::new(Point::new(LENGTH, -4.0), 2.5, "base line").anchored(Anchor::End)));
    let mut slots: [f64; 3] = [f64::NEG_INFINITY; 3];
    for bevel in &found {
        let degrees = bevel.angle.degrees();
        let along = Vec2::from_angle(bevel.angle.radians());
        items.push(line(Role::Mark, base.0, base.0 + along * LENGTH, Pen::solid(0.25)));
        let slot = (0..3).find(|i| degrees - slots[*i] >= CROWDED).unwrap_or(0);
        slots[slot] = degrees;
        let at = base.0 + along * WORDS_END[slot] + along.turn_90() * 0.8;
        let said = format!("{}: {}", notation.angle_and_slope(bevel.angle), bevel.names.join(", "));
        let text = Text::new(at, 2.5, said).anchored(Anchor::End).turned(bevel.angle.radians());
        items.push(words(Role::Text, text));
    }
    let angles: Vec<Item> =
        items.iter().filter(|i| i.role == Role::Mark).map(|i| Item { role: Role::Outline, ..i.clone() }).collect();
    let part = Part { name: "bevel sheet".to_owned(), revision: revision::code(&angles, 0.0) };
    let heading = format!("{project} · bevel sheet · rev {}", part.revision);
    items.push(words(Role::Text, Text::new(Point::new(0.0, -12.0), 3.5, heading)));
    let how = "Lay the stock of the gauge along the base line, the blade along the line you need.";
    items.push(words(Role::Text, Text::new(Point::new(0.0, -17.0), 2.5, how)));
    let bounds = items.iter().map(title::item_bounds).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    let sizes = format!("{} angles", found.len());
    Some(Pattern {
        part,
        make: "to set gauges by".to_owned(),
        sizes,
        items,
        bounds: bounds.inflate(title::CLEAR, title::CLEAR),
        small: false,
    })
}

/// The angles of every cut, smallest first, each with the cuts that need it.
fn collected(piece: &Piece) -> Vec<Bevel> {
    let mut found: Vec<Bevel> = Vec::new();
    let mut put = |angle: Angle, name: String| {
        if angle.degrees() < 0.05 {
            return;
        }
        match found.iter_mut().find(|bevel| (bevel.angle - angle).abs().degrees() < SAME) {
            Some(bevel) if bevel.names.contains(&name) => {}
            Some(bevel) => bevel.names.push(name),
            None => found.push(Bevel { angle, names: vec![name] }),
        }
    };
    for board in &piece.boards {
        for saw in &board.cuts {
            let Some(cut) = board.board.cuts.get(saw.cut) else { continue };
            let place = if cut.place.ends_with("end") { "end" } else { cut.place.as_str() };
            put(saw.mitre(), format!("{} {place} mitre", board.label));
            put(saw.bevel, format!("{} {place} bevel", board.label));
        }
    }
    found.sort_by(|a, b| a.angle.radians().total_cmp(&b.angle.radians()));
    found
}
