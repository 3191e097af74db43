//! What joints cut into boards that is no mortise, in the schedule: as rows of the table of joints.

use super::Schedule;
use super::joints::{COLUMNS, marking_json, wall_words, walls_json};
use crate::check::walls::{Wall, around};
use crate::geometry::{Affine, svg_data::path_data};
use crate::joinery::marked_span;
use crate::piece::{JointCutout, SolvedBoard};
use crate::units::Length;
use serde_json::{Value as Json, json};

/// Those of a board for scripts.
pub(super) fn json(board: &SolvedBoard) -> impl Iterator<Item = Json> {
    board.joint_cutouts().map(|cutout| {
        json!({
            "joint": cutout.joint,
            "number": cutout.feature.id.number,
            "board": board.id.as_str(),
            "copies": copies(board, &cutout),
            "kind": cutout.feature.id.why.words(),
            "on": board.board.name_of(cutout.on),
            "size": cutout.size(),
            "along": cutout.along(),
            "marked": marked_span(board, &cutout).map(|span| json!({
                "stations": span.stations,
                "offsets": span.offsets,
                "first": marking_json(board, &span.marking),
            })),
            "walls": walls_json(board, &walls(board, &cutout)),
            "mouth": path_data(&cutout.mouths(cutout.on), Affine::IDENTITY),
        })
    })
}

/// The walls around one, thinnest first.
fn walls(board: &SolvedBoard, cutout: &JointCutout) -> Vec<Wall> {
    let hollows = board.hollows();
    let own = hollows
        .iter()
        .find(|own| own.mortise().is_none() && own.id == cutout.feature.id && own.pointer == cutout.pointer);
    own.map_or_else(Vec::new, |own| around(board, own, f64::INFINITY))
}

/// Those of a board as rows of the table of joints.
pub(super) fn rows(schedule: &Schedule, board: &SolvedBoard) -> Vec<[String; COLUMNS]> {
    let say = |mm: f64| schedule.notation.fine(Length::from_mm(mm));
    let row = |cutout: JointCutout| {
        let name = format!("{} {}", cutout.joint, cutout.feature.id.number);
        let own = copies(board, &cutout);
        let labels = own.iter().filter_map(|copy| board.copies.get(*copy)).map(|copy| copy.label.as_str());
        let in_copies = match is_in_all(board, &cutout) {
            true => "all".to_owned(),
            false => labels.collect::<Vec<_>>().join(", "),
        };
        let what = cutout.feature.id.why.words();
        let what = cutout.size().map_or_else(
            || what.to_owned(),
            |[long, wide, deep]| format!("{what} {} x {}, {} deep", say(long), say(wide), say(deep)),
        );
        let on = board.board.name_of(cutout.on).into_owned();
        let wall = walls(board, &cutout).first().map_or_else(String::new, |wall| wall_words(schedule, board, wall));
        let span = marked_span(board, &cutout);
        let (along, off) = span.map_or_else(Default::default, |span| (span.along(&say, board), span.off(&say)));
        [name, board.label.clone(), in_copies, on, what, along, off, String::new(), String::new(), wall]
    };
    board.joint_cutouts().map(row).collect()
}

/// Each for a terminal, a statement a line.
pub(super) fn lines(schedule: &Schedule, board: &SolvedBoard) -> Vec<Vec<String>> {
    let line = |(cutout, row): (JointCutout, [String; COLUMNS])| {
        let [name, _, copies, on, what, along, off, .., wall] = row;
        let only = if is_in_all(board, &cutout) { String::new() } else { format!(" (only {copies})") };
        let places: Vec<String> = [along, off].into_iter().filter(|place| !place.is_empty()).collect();
        let wall = if wall.is_empty() { wall } else { format!("thinnest wall {wall}") };
        let said = [format!("joint {name} on the {on}{only}: {what}"), places.join(" and "), wall];
        said.into_iter().filter(|statement| !statement.is_empty()).collect()
    };
    board.joint_cutouts().zip(rows(schedule, board)).map(line).collect()
}

/// Whether all copies have it.
fn is_in_all(board: &SolvedBoard, cutout: &JointCutout) -> bool {
    copies(board, cutout).len() == board.copies.len()
}

/// The copies that have it.
fn copies(board: &SolvedBoard, cutout: &JointCutout) -> Vec<usize> {
    cutout.feature.copies.clone().unwrap_or_else(|| (0..board.copies.len()).collect())
}
