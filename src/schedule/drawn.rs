//! The flat parts that the file draws directly.

use super::Schedule;
use super::data::rough;
use super::table::{ROUGH, Table};
use super::text::rough_line;
use crate::model::DrawnPattern;
use crate::stock::Stock;
use crate::units::Notation;
use serde_json::{Value as Json, json};
use std::fmt::Write;

/// What is drilled and milled, one phrase a size, in the order of the file: `2 holes 8 mm, 1 slot 25 mm wide`.
fn holes(part: &DrawnPattern, say: &Notation) -> String {
    let drilled = part.holes.iter().map(|hole| ("hole", say.measured(hole.what.diameter)));
    let milled = part.slots.iter().map(|slot| ("slot", format!("{} wide", say.measured(slot.what.width))));
    let mut all: Vec<((&str, String), usize)> = Vec::new();
    for one in drilled.chain(milled) {
        match all.iter_mut().find(|(known, _)| *known == one) {
            Some((_, count)) => *count += 1,
            None => all.push((one, 1)),
        }
    }
    let said = all
        .iter()
        .map(|((what, size), count)| format!("{count} {what}{} {size}", if *count == 1 { "" } else { "s" }));
    said.collect::<Vec<_>>().join(", ")
}

/// One row a part.
pub fn table(schedule: &Schedule) -> Table {
    let columns = [
        "Part",
        "Make",
        "Thickness",
        "Net blank",
        ROUGH,
        "Of the rough blank",
        "Material",
        "Holes and slots",
        "Revision",
    ];
    let mut table = Table::new("Parts drawn directly", columns);
    let say = &schedule.notation;
    for (part, stock, revision) in schedule.drawn() {
        table.row([
            part.name.clone(),
            part.make.to_string(),
            say.length(part.thickness),
            stock.net_words(part.grain.is_some(), say),
            stock.rough.words(say),
            stock.why_words().to_owned(),
            part.material.clone().unwrap_or_default(),
            holes(part, say),
            revision.clone(),
        ]);
    }
    table
}

/// The parts as text, three lines each and one for holes.
pub fn text(schedule: &Schedule) -> String {
    let mut out = String::new();
    let say = &schedule.notation;
    for (part, stock, revision) in schedule.drawn() {
        let material = part.material.as_ref().map_or_else(String::new, |material| format!(" {material}"));
        let thick = say.length(part.thickness);
        // Writing to a string cannot fail.
        let _ = writeln!(out, "\n{} (revision {revision}): make {}", part.name, part.make);
        let _ = writeln!(out, "  {thick} thick{material}, net blank {}", stock.net_words(part.grain.is_some(), say));
        out.push_str(&rough_line(stock, say));
        let holes = holes(part, say);
        if !holes.is_empty() {
            let _ = writeln!(out, "  {holes}");
        }
    }
    out
}

/// The parts as data, mm and degrees, unrounded.
pub fn json(schedule: &Schedule) -> Json {
    let one = |(part, stock, revision): (&DrawnPattern, &Stock, &String)| {
        let holes =
            part.holes.iter().map(|hole| &hole.what).map(
                |hole| json!({ "at": [hole.at.x, hole.at.y], "diameter": hole.diameter.mm(), "label": hole.label }),
            );
        let slots = part.slots.iter().map(|slot| &slot.what).map(|slot| {
            let (from, to) = (slot.from, slot.to);
            json!({ "from": [from.x, from.y], "to": [to.x, to.y], "width": slot.width.mm(), "label": slot.label })
        });
        json!({
            "name": part.name,
            "make": part.make,
            "thickness": part.thickness.mm(),
            "material": part.material,
            "grain": part.grain.map(|grain| grain.degrees()),
            "blank": [stock.net.long, stock.net.wide],
            "rough": rough(stock),
            "holes": holes.collect::<Vec<Json>>(),
            "slots": slots.collect::<Vec<Json>>(),
            "revision": revision,
        })
    };
    schedule.drawn().map(one).collect()
}
