//! Turned legs in the schedule: how they go to the lathe, in place of saw settings.

use super::Schedule;
use super::table::Table;
use crate::pattern::turning_words;
use crate::piece::SolvedBoard;
use serde_json::{Value as Json, json};

/// How a board is turned, a sentence each; nothing for one that is not.
pub(super) fn lines(schedule: &Schedule, board: &SolvedBoard) -> Vec<String> {
    board.turning().map_or_else(Vec::new, |turning| turning_words(&turning, &schedule.notation))
}

/// The table of turned boards.
pub(super) fn table(schedule: &Schedule) -> Table {
    let mut table = Table::new("Turning", ["Board", "How"]);
    for (board, _) in schedule.boards() {
        lines(schedule, board).into_iter().for_each(|line| table.row([board.label.clone(), line]));
    }
    table
}

/// How a board is turned, for scripts; null for one that is not.
pub(super) fn json(board: &SolvedBoard) -> Json {
    let Some(turning) = board.turning() else { return Json::Null };
    let [outer, inner] = turning.sides();
    let stations = turning.stations().into_iter();
    let stations = stations.map(|below| json!({ "below_shoulder": below, "diameter": turning.diameter_at(below) }));
    json!({
        "head": turning.turned.head,
        "foot": turning.turned.foot,
        "tenon": turning.turned.tenon,
        "tenon_length": turning.tenon,
        "shoulder_to_floor": turning.length,
        "outer_side": outer,
        "inner_side": inner,
        "overall": turning.overall(),
        "tilt": turning.tilt.degrees(),
        "shoulder_gap": turning.shoulder_gap(),
        "stations": stations.collect::<Vec<Json>>(),
    })
}
