//! Templates for the router in the schedule: what follows them, how far off they are, and what the cutter must cut and reach.

use super::Schedule;
use super::table::Table;
use super::text::push_statements;
use crate::router::{Caution, Held, Passes, TemplateSetting};
use crate::units::{Length, Notation};
use serde_json::{Value as Json, json};
use std::fmt::Write;

/// One row a template.
pub fn table(schedule: &Schedule) -> Table {
    let columns = [
        "Part",
        "Template",
        "Collar",
        "Cutter",
        "Offset",
        "Sleeve adds",
        "Template thick",
        "Thicker than the collar stands out",
        "Cutter must cut",
        "Recess deep",
        "Taken in",
        "Cutter cuts",
        "Cutter must stand out",
        "Cutter stands out at most",
        "Held",
    ];
    let mut table = Table::new("Router templates", columns);
    let say = &schedule.notation;
    for setting in schedule.templates {
        let cutter = setting.cutter.as_ref();
        let length = |length: Option<Length>| length.map_or_else(String::new, |length| say.length(length));
        let at_least = |length: Option<Length>| length.map_or_else(String::new, |length| say.at_least(length));
        let mm = |mm: Option<f64>| length(mm.map(Length::from_mm));
        table.row([
            setting.part.clone(),
            setting.template.clone(),
            collars(setting, say),
            cutter.map_or_else(String::new, |tool| named(&tool.name, tool.cutter.diameter, say)),
            mm(setting.offset),
            mm(setting.sleeve),
            length(setting.thickness),
            mm(setting.above_collar()),
            at_least(cutter.and(setting.must_cut)),
            length(setting.recess),
            setting.passes.and_then(|passes| passes.words(say)).unwrap_or_default(),
            enough(cutter.and_then(|tool| tool.cutter.length), setting.cuts_only().is_none(), say),
            at_least(cutter.and(setting.must_reach)),
            enough(cutter.and_then(|tool| tool.cutter.reach), setting.stands_out_only().is_none(), say),
            setting.held.as_ref().map(held).unwrap_or_default(),
        ]);
    }
    table
}

/// What a cutter has, and whether it is enough.
fn enough(has: Option<Length>, is_enough: bool, say: &Notation) -> String {
    let too_little = if is_enough { "" } else { ": TOO LITTLE, take another cutter" };
    has.map_or_else(String::new, |has| format!("{}{too_little}", say.length(has)))
}

fn named(name: &str, diameter: Length, say: &Notation) -> String {
    format!("{name} {}", say.measured(diameter))
}

/// By how many screws, and what else there must be.
fn held(held: &Held) -> String {
    let screws = match held.screws {
        0 => None,
        1 => Some("by 1 screw".to_owned()),
        screws => Some(format!("by {screws} screws")),
    };
    screws.into_iter().chain(held.words()).collect::<Vec<String>>().join("; ")
}

fn collars(setting: &TemplateSetting, say: &Notation) -> String {
    let all: Vec<String> = setting.collars.iter().map(|tool| named(&tool.name, tool.collar.diameter, say)).collect();
    all.join(", then ")
}

/// The templates as text, each with what to mind.
pub fn text(schedule: &Schedule) -> String {
    let mut out = String::new();
    let table = table(schedule);
    if table.rows.is_empty() {
        return out;
    }
    // Writing to a string cannot fail.
    let _ = writeln!(out, "\n{}", table.title);
    for row in &table.rows {
        let cells = row.iter().zip(&table.columns).skip(2).filter(|(cell, _)| !cell.is_empty());
        let names = row.iter().take(2).cloned().collect::<Vec<String>>().join(", ");
        let said = cells.map(|(cell, head)| format!("{} {cell}", head.to_lowercase()));
        push_statements(&mut out, &std::iter::once(names).chain(said).collect::<Vec<String>>());
    }
    for caution in cautions(schedule) {
        let _ = writeln!(out, "  {}", caution.words(&schedule.notation));
    }
    out
}

/// Every caution that applies to some template, once, in the order told.
fn cautions(schedule: &Schedule) -> Vec<Caution> {
    let mut all: Vec<Caution> = Vec::new();
    for caution in schedule.templates.iter().flat_map(|setting| &setting.cautions) {
        if !all.contains(caution) {
            all.push(*caution);
        }
    }
    all
}

/// How a cut is taken, as data.
fn passes(taken: Passes) -> Json {
    json!({ "saw_first": taken.saw_first.map(Length::mm), "count": taken.count, "each": taken.each.mm() })
}

/// The templates as data: lengths in millimetres, unrounded.
pub fn json(schedule: &Schedule) -> Json {
    let mm = |length: Option<Length>| length.map(Length::mm);
    let one = |setting: &TemplateSetting| {
        let collars: Vec<Json> = setting
            .collars
            .iter()
            .map(|tool| {
                let (diameter, projection) = (tool.collar.diameter.mm(), mm(tool.collar.projection));
                json!({ "name": tool.name, "diameter": diameter, "projection": projection })
            })
            .collect();
        let cutter = setting.cutter.as_ref().map(|tool| {
            json!({
                "name": tool.name,
                "diameter": tool.cutter.diameter.mm(),
                "bearing": mm(tool.cutter.bearing),
                "length": mm(tool.cutter.length),
                "reach": mm(tool.cutter.reach),
            })
        });
        let cautions: Vec<_> = setting.cautions.iter().map(|caution| caution.words(&schedule.notation)).collect();
        json!({
            "part": setting.part,
            "template": setting.template,
            "collars": collars,
            "cutter": cutter,
            "offset": setting.offset,
            "sleeve": setting.sleeve,
            "thickness": mm(setting.thickness),
            "above_collar": setting.above_collar(),
            "must_cut": mm(setting.must_cut),
            "recess": mm(setting.recess),
            "passes": setting.passes.map(passes),
            "must_reach": mm(setting.must_reach),
            "held": setting.held.as_ref().map(|held| json!({ "screws": held.screws, "no_screw_beyond": held.bare })),
            "cautions": cautions,
        })
    };
    schedule.templates.iter().map(one).collect()
}
