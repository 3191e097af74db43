//! What joints cut into boards that is no mortise, in the schedule: as rows of the table of joints.

use super::Schedule;
use crate::geometry::{Affine, svg_data::path_data};
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
            "mouth": path_data(&cutout.mouths(cutout.on), Affine::IDENTITY),
        })
    })
}

/// Those of a board as rows of the table of joints.
pub(super) fn rows(schedule: &Schedule, board: &SolvedBoard) -> Vec<[String; 9]> {
    let say = |mm: f64| schedule.notation.fine(Length::from_mm(mm));
    let row = |cutout: JointCutout| {
        let name = format!("{} {}", cutout.joint, cutout.feature.id.number);
        let own = copies(board, &cutout);
        let labels = own.iter().filter_map(|copy| board.copies.get(*copy)).map(|copy| copy.label.as_str());
        let in_copies =
            if own.len() == board.copies.len() { "all".to_owned() } else { labels.collect::<Vec<_>>().join(", ") };
        let what = cutout.feature.id.why.words();
        let what = cutout.size().map_or_else(
            || what.to_owned(),
            |[long, wide, deep]| format!("{what} {} x {}, {} deep", say(long), say(wide), say(deep)),
        );
        let along = cutout.along().map_or_else(String::new, |[from, to]| {
            format!("from {} to {} off the left end of the blank", say(from), say(to))
        });
        let on = board.board.name_of(cutout.on).into_owned();
        [name, board.label.clone(), in_copies, on, what, along, String::new(), String::new(), String::new()]
    };
    board.joint_cutouts().map(row).collect()
}

/// One line each, for a terminal.
pub(super) fn lines(schedule: &Schedule, board: &SolvedBoard) -> Vec<String> {
    let line = |[name, _, copies, on, what, along, ..]: [String; 9]| {
        let only = if copies == "all" { String::new() } else { format!(" (only {copies})") };
        let along = if along.is_empty() { along } else { format!("; {along}") };
        format!("joint {name} on the {on}{only}: {what}{along}")
    };
    rows(schedule, board).into_iter().map(line).collect()
}

/// The copies that have it.
fn copies(board: &SolvedBoard, cutout: &JointCutout) -> Vec<usize> {
    cutout.feature.copies.clone().unwrap_or_else(|| (0..board.copies.len()).collect())
}
