//! Every angle of the piece as a long line off a base line, from which a bevel gauge is set.

use super::lines::{EDGE_WIDTH, line, words};
use super::{Pattern, SolidLine, revision};
use crate::board::{EdgeName, Role as CutRole, Source, Surface};
use crate::geometry::{Flat, Path, Point, Vec2};
use crate::page::{About, Label, Part, Pen, Rank, Role, Text};
use crate::piece::Piece;
use crate::tolerance::ONE_LINE;
use crate::units::{Angle, Notation};
use std::borrow::Cow;

/// Length of every line, mm: a gauge's blade laid along it shows a tenth of a degree as half a millimetre.
const LENGTH: f64 = 300.0;

/// Room under a base line for its words, and between one angle and the next, mm.
const ROOM: (f64, f64) = (4.5, 9.0);

/// One line of the sheet.
struct Bevel {
    angle: Angle,
    names: Vec<String>,
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
    let mut items = Vec::new();
    let mut y = 0.0;
    for bevel in &found {
        let (corner, along) = (Point::new(0.0, y), Vec2::from_angle(bevel.angle.radians()));
        items.push(line(Role::Mark, corner, corner + Vec2::new(LENGTH, 0.0), Pen::solid(EDGE_WIDTH)));
        items.push(line(Role::Mark, corner, corner + along * LENGTH, Pen::solid(EDGE_WIDTH)));
        let said = format!("{}: {}", apart.angle_and_slope(bevel.angle), bevel.names.join(", "));
        let base = Path::line(corner, corner + Vec2::new(LENGTH, 0.0));
        let said = Text::new(Point::new(0.0, y - ROOM.0), 2.5, said).about(Label::along(base));
        items.push(words(Role::Text, said));
        y += LENGTH * along.y + ROOM.1;
    }
    let revision = revision::angles(collected(settled).iter().map(|bevel| bevel.angle));
    let part = Part::new("bevel sheet", revision);
    let heading = format!("{project} · bevel sheet · rev {}", part.revision);
    let label = Label::new(About::Sheet, Rank::Plate).with_more(1);
    items.push(words(Role::Text, Text::new(Point::new(0.0, -13.0), 3.5, heading).about(label)));
    let how = "Lay the stock of the gauge along a base line, its blade along the line that rises from it.";
    items.push(words(Role::Text, Text::new(Point::new(0.0, -18.0), 2.5, how)));
    let sizes = if found.len() == 1 { "1 angle".to_owned() } else { format!("{} angles", found.len()) };
    let drawn = Pattern::around(part, "to set gauges by".to_owned(), sizes, Flat::either_way(items).paper());
    Some(Pattern { solid: SolidLine::GaugeLine, ..drawn })
}

/// The angles of every cut, smallest first, each with the cuts that need it.
fn collected(piece: &Piece) -> Vec<Bevel> {
    let mut found: Vec<Bevel> = Vec::new();
    let mut put = |angle: Angle, name: String| {
        if angle.degrees() < 0.05 {
            return;
        }
        match found.iter_mut().find(|bevel| (bevel.angle - angle).abs().degrees() < ONE_LINE) {
            Some(bevel) if bevel.names.contains(&name) => {}
            Some(bevel) => bevel.names.push(name),
            None => found.push(Bevel { angle, names: vec![name] }),
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
                put(saw.mitre(), format!("{} {place} mitre", board.label));
            }
            if saw.tapers() {
                put(Angle::from_degrees(90.0) - saw.bevel, format!("{} {place}, off its face", board.label));
                continue;
            }
            put(saw.bevel, format!("{} {place} bevel", board.label));
        }
    }
    found.sort_by(|a, b| a.angle.radians().total_cmp(&b.angle.radians()));
    found
}
