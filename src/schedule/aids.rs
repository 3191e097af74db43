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
    clampings(schedule).into_iter().for_each(|clamping| table.row(clamping.row));
    table
}

/// A joint at which a clamp would not pull square, as a row and line by line.
struct Clamping {
    row: [String; 4],
    lines: Vec<String>,
}

/// What pulls where no caul would stay.
const NO_CAUL: &str = "no caul stays on that: a band round the whole pulls, or blocks glued on along the joint";

/// Each once: either end of a part, and either hand of it.
fn clampings(schedule: &Schedule) -> Vec<Clamping> {
    let mut all: Vec<Clamping> = Vec::new();
    let say = |angle| schedule.notation.angle_and_slope(angle);
    for lean in leans(schedule.piece) {
        let (Some(from), Some(into)) = (schedule.piece.boards.get(lean.from), schedule.piece.boards.get(lean.into))
        else {
            continue;
        };
        let on = format!("{}, {}", into.label, into.board.name_of(lean.on));
        let wedge = say(lean.wedge);
        let head = format!("{}: ", lean.words(schedule.piece));
        let caul = format!("{head}a caul wants a wedge of {wedge}");
        let (pull, lines) = match lean {
            lean if lean.is_too_steep() => {
                let steep = format!("{head}a clamp's jaw stands {wedge} off the pull");
                (NO_CAUL.to_owned(), vec![steep, NO_CAUL.to_owned()])
            }
            lean if lean.is_square_to_joint() => {
                let pull = "with it a plain clamp pulls square to the joint";
                ("square".to_owned(), vec![caul, pull.to_owned()])
            }
            lean => {
                let slides = say(lean.slides);
                let pull = format!("the pull lies {slides} off square to the joint");
                (slides, vec![caul, pull])
            }
        };
        let row = [from.label.clone(), on, wedge, pull];
        if !all.iter().any(|known| known.row == row) {
            all.push(Clamping { row, lines });
        }
    }
    all
}

/// The aids and the clamping for a terminal, each in statements of a line.
pub(super) fn lines(schedule: &Schedule) -> Vec<Vec<String>> {
    let aid = |aid: &Aid| {
        let head = format!("aid {} ({}, {}): {}", aid.name, aid.kind, aid.count(), aid.what());
        std::iter::once(head).chain(aid.measured(&schedule.notation)).collect()
    };
    let clampings = clampings(schedule).into_iter().map(|clamping| clamping.lines);
    schedule.aids.iter().map(aid).chain(clampings).collect()
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
