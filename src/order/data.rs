//! An order of work as data for scripts.

use super::plan::{Plan, State};
use super::step::{Need, Reference, Step, Why};
use super::wedge::{ThickAt, Wedged};
use super::words::Told;
use crate::board::Source;
use crate::piece::Piece;
use crate::units::Notation;
use serde_json::{Value as Json, json};

/// An order of work as one JSON object.
pub fn json(plan: &Plan, piece: Option<&Piece>, heading: &str, say: &Notation) -> Json {
    let told = Told { plan, piece, say };
    let part = |(index, part): (usize, &super::plan::Part)| {
        let own = plan.steps.iter().enumerate().filter(|(_, step)| step.part == Some(index));
        let state = match part.state {
            State::ToMake => "to_make",
            State::Exists => "exists",
            State::ToTrim => "to_trim",
            State::ToWork => "to_work",
            State::Held => "held_back",
        };
        json!({
            "id": part.id,
            "label": part.label,
            "cut": part.rank + 1,
            "state": state,
            "undecided": part.waits_for,
            "to_make": part.some_made.as_ref().map(|some| &some.to_make),
            "made": part.some_made.as_ref().map(|some| &some.made),
            "steps": own.map(|(at, _)| at + 1).collect::<Vec<usize>>(),
        })
    };
    json!({
        "title": heading,
        "units_note": "steps are numbered from 1 in the order in which they are done; after and before are such numbers",
        "parts": plan.parts.iter().enumerate().map(part).collect::<Vec<Json>>(),
        "steps": plan.steps.iter().enumerate().map(|(at, one)| step(&told, at, one)).collect::<Vec<Json>>(),
        "waiting": plan.waiting.iter().map(|one| json!({ "part": id(plan, one.part), "work": one.work.key() })).collect::<Vec<Json>>(),
    })
}

fn id(plan: &Plan, part: Option<usize>) -> Option<&str> {
    plan.parts.get(part?).map(|part| part.id.as_str())
}

fn reference(told: &Told, part: usize, on: Reference) -> Json {
    let (kind, source) = match on {
        Reference::Surface(source) => ("surface", Some(source)),
        Reference::Side(side) => {
            return json!({ "kind": "blank_side", "key": side.key(), "name": told.reference(part, on) });
        }
        Reference::Beyond(source) => ("wood_beyond", Some(source)),
    };
    json!({ "kind": kind, "key": source.and_then(|source| key(told, part, source)), "name": told.reference(part, on) })
}

/// The key of a surface, as schedules have it; `None` of a part drawn directly.
fn key(told: &Told, part: usize, source: Source) -> Option<String> {
    Some(told.piece?.boards.get(part)?.board.surface(source).key())
}

/// Wedges under a part, the upper first.
fn wedged(told: &Told, part: Option<usize>, own: &Wedged) -> Json {
    let part = part.unwrap_or(usize::MAX);
    let thick_at = |at: ThickAt| match at {
        ThickAt::End(source) => reference(told, part, Reference::Surface(source)),
        ThickAt::Side(side) => reference(told, part, Reference::Side(side)),
        ThickAt::Drawn { is_right } => {
            let key = if is_right { "right" } else { "left" };
            json!({ "kind": "drawn_end", "key": key, "name": told.thick_at(part, at) })
        }
    };
    let wedges =
        own.wedges.iter().map(|wedge| json!({ "degrees": wedge.degrees, "thick_at": thick_at(wedge.thick_at) }));
    json!({ "lies_on": reference(told, part, Reference::Side(own.lies_on)), "wedges": wedges.collect::<Vec<Json>>() })
}

fn step(told: &Told, at: usize, one: &Step) -> Json {
    let plan = told.plan;
    let need = |need: &Need| json!({ "for": need.used.key(), "part": id(plan, Some(need.part)), "on": reference(told, need.part, need.on) });
    let why = |why: &Why| match why {
        Why::Makes(own) => json!({ "makes": need(own) }),
        Why::Keeps(own) => json!({ "would_take": need(own) }),
        Why::Apart => json!("boards_apart"),
        Why::Arrises => json!("arrises"),
        Why::Finished => json!("parts_finished"),
        Why::Measured => json!("measured"),
        Why::Staged => json!("stages_of_gluing"),
        Why::Trimmed => json!("part_trimmed"),
    };
    let after = plan.links.iter().filter(|link| link.after == at);
    let before = plan.links.iter().filter(|link| link.before == at);
    let missed = plan.missed.iter().filter(|missed| missed.step == at);
    let mitred = plan.mitred.iter().filter(|pair| pair.contains(&at));
    json!({
        "number": at + 1,
        "part": id(plan, one.part),
        "work": one.work.key(),
        "words": told.step(one),
        "wedges": Wedged::at(plan, told.piece, at).iter().map(|own| wedged(told, one.part, own)).collect::<Vec<Json>>(),
        "joins": one.work.joins().iter().filter_map(|part| id(plan, Some(*part))).collect::<Vec<&str>>(),
        "needs": one.needs.iter().map(need).collect::<Vec<Json>>(),
        "after": after.map(|link| json!({ "step": link.before + 1, "why": why(&link.why) })).collect::<Vec<Json>>(),
        "before": before.map(|link| json!({ "step": link.after + 1, "why": why(&link.why) })).collect::<Vec<Json>>(),
        "goes_without": missed.map(|missed| need(&missed.need)).collect::<Vec<Json>>(),
        "mitred_with": mitred.map(|pair| pair[usize::from(pair[0] == at)] + 1).collect::<Vec<usize>>(),
    })
}
