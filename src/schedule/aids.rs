//! Angled aids in the schedule: those asked for with what was measured, and where a clamp would not pull square.

use super::Schedule;
use super::table::Table;
use crate::geometry::Affine;
use crate::geometry::svg_data::path_data;
use crate::joinery::aids::{Aid, Look, leans};
use crate::piece::Value;
use serde_json::{Map, Value as Json, json};

/// The aids asked for.
pub(super) fn table(schedule: &Schedule) -> Table {
    let mut table = Table::new("Aids", ["Aid", "Kind", "Make", "For", "Measures"]);
    for aid in schedule.aids {
        let measures = aid.measured(&schedule.notation).join("; ");
        table.row([aid.name.clone(), aid.kind.to_owned(), aid.count(), aid.what(), measures]);
    }
    table
}

/// Every joint at which a clamp would not pull square.
pub(super) fn clamping(schedule: &Schedule) -> Table {
    let mut table = Table::new("Clamping", ["Board", "On", "Wedge of the caul", "Pull off square to the joint"]);
    let say = |angle| schedule.notation.angle_and_slope(angle);
    for lean in leans(schedule.piece) {
        let (Some(from), Some(into)) = (schedule.piece.boards.get(lean.from), schedule.piece.boards.get(lean.into))
        else {
            continue;
        };
        let on = format!("{}, {}", into.label, into.board.name_of(lean.on));
        let pull = if lean.is_square_to_joint() { "square".to_owned() } else { say(lean.slides) };
        let row = [from.label.clone(), on, say(lean.wedge), pull];
        // Either end of a part, and either hand of it, is told once.
        if !table.rows.iter().any(|known| known[..] == row[..]) {
            table.row(row);
        }
    }
    table
}

/// The aids and the clamping for a terminal.
pub(super) fn lines(schedule: &Schedule) -> Vec<String> {
    let mut lines = Vec::new();
    for row in table(schedule).rows {
        if let [name, kind, make, what, measures] = row.as_slice() {
            lines.push(format!("aid {name} ({kind}, {make}): {what}; {measures}"));
        }
    }
    for row in clamping(schedule).rows {
        if let [board, on, wedge, slides] = row.as_slice() {
            let pull = match slides.as_str() {
                "square" => "with it a plain clamp pulls square to the joint".to_owned(),
                slides => format!("the pull lies {slides} off square to the joint"),
            };
            lines.push(format!("clamping the {board} on the {on}: a caul wants a wedge of {wedge}; {pull}"));
        }
    }
    lines
}

/// The aids for scripts: lengths in mm, angles in degrees, figures as SVG paths.
pub(super) fn json(schedule: &Schedule) -> Vec<Json> {
    schedule.aids.iter().map(entry).collect()
}

fn entry(aid: &Aid) -> Json {
    let value = |value: Value| match value {
        Value::Length(length) | Value::Movement(length) => length.mm(),
        Value::Angle(angle) => angle.degrees(),
        Value::Force(newtons) => newtons,
    };
    let look = |look: Look| match look {
        Look::Cut => "cut",
        Look::Drill => "drill",
        Look::Mark => "mark",
        Look::Centre => "centre",
        Look::Hidden => "hidden",
    };
    let figures: Vec<Json> = aid
        .figures
        .iter()
        .map(|figure| {
            let lines = figure.lines.iter();
            let lines = lines
                .map(|line| json!({ "look": look(line.look), "path": path_data([&line.path], Affine::IDENTITY) }));
            json!({ "name": figure.name, "lines": lines.collect::<Vec<Json>>() })
        })
        .collect();
    let facts: Map<String, Json> = aid.facts.iter().map(|fact| (fact.key(), json!(value(fact.value)))).collect();
    json!({
        "name": aid.name,
        "kind": aid.kind,
        "for": aid.what(),
        "make": { "as_drawn": aid.make, "mirrored": aid.mirrored },
        "facts": facts,
        "figures": figures,
        "words": aid.words(),
        "cautions": aid.cautions,
    })
}
