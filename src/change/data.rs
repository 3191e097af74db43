//! A comparison as data for scripts.

use super::compared::{Compared, Fate, Met};
use super::differs::{Differences, How, SawAngle, SurfaceChange, WorkedChange, WorkedHow};
use super::snapshot::Given;
use super::wood::{Numbered, Wood, Worked};
use crate::board::Role;
use crate::model::Kind as Measures;
use crate::units::Notation;
use serde_json::{Value as Json, json};

/// A comparison as one JSON object: lengths in mm, angles in degrees, never rounded to shop steps.
pub fn json(compared: &Compared, say: &Notation) -> Json {
    json!({
        "from": compared.old.heading,
        "to": compared.new.heading,
        "units_note": "lengths in mm, angles in degrees, unrounded; out above zero where there is more wood than before",
        "same": compared.is_same(),
        "numbers": compared.numbers().iter().map(|both| number(*both)).collect::<Vec<Json>>(),
        "parts": compared.parts.iter().map(|met| part(met, say)).collect::<Vec<Json>>(),
    })
}

/// What a number measures, as files say it.
pub(super) const fn unit(of: Measures) -> &'static str {
    match of {
        Measures::Length => "mm",
        Measures::Angle => "degrees",
        Measures::Count => "count",
        Measures::Share => "share",
    }
}

/// What an end or an edge is, as files say it.
pub(super) const fn role(of: Role) -> &'static str {
    match of {
        Role::End => "end",
        Role::Edge => "edge",
    }
}

fn number([was, is]: [Option<&Given>; 2]) -> Json {
    let one = is.or(was);
    json!({
        "path": one.map(|one| &one.pointer),
        "name": one.map(|one| &one.words),
        "unit": one.map(|one| unit(one.measures)),
        "was": was.map(|was| was.value),
        "is": is.map(|is| is.value),
    })
}

fn part(met: &Met, say: &Notation) -> Json {
    let of = |one: Option<&Wood>| {
        one.map(|wood| json!({ "id": wood.id, "name": wood.name, "make": wood.make, "revision": wood.revision }))
    };
    let fate = match &met.fate {
        Fate::Same => "same",
        Fate::AsGood => "as_good",
        Fate::Changed(_) => "changed",
        Fate::New => "new",
        Fate::Gone => "gone",
    };
    let differences = match (&met.fate, met.old) {
        (Fate::Changed(differences), Some(old)) => Some(changes(differences, old, say)),
        _ => None,
    };
    json!({ "fate": fate, "was": of(met.old), "is": of(met.new), "differences": differences })
}

fn changes(of: &Differences, old: &Wood, say: &Notation) -> Json {
    json!({
        "words": of.lines(old, say),
        "thickness": of.thickness.map(both),
        "turned": of.turned.map(both),
        "surfaces": of.surfaces.iter().map(surface).collect::<Vec<Json>>(),
        "worked": of.worked.iter().map(|change| worked(change, old)).collect::<Vec<Json>>(),
        "numbers": of.numbers.iter().map(|change| both(change.was_and_is.each_ref().map(|one| one.as_ref().map(numbered)))).collect::<Vec<Json>>(),
    })
}

fn both<T: Into<Json>>([was, is]: [T; 2]) -> Json {
    json!({ "was": was.into(), "is": is.into() })
}

fn numbered(one: &Numbered) -> Json {
    let lengths: serde_json::Map<String, Json> =
        one.lengths.iter().map(|(name, mm)| (name.clone(), json!(mm))).collect();
    json!({ "what": one.what, "kind": one.kind, "lengths": lengths })
}

fn surface(of: &SurfaceChange) -> Json {
    let (how, out, most) = match &of.how {
        How::Moved { out, most, .. } => ("moved", Some(*out), most.clone()),
        How::Bent { is_curved: true, out } => ("curved", Some(*out), None),
        How::Bent { is_curved: false, out } => ("straight", Some(*out), None),
        How::Gone => ("gone", None, None),
        How::New => ("new", None, None),
    };
    let angles = of.angles.iter().map(|angle| {
        let [was, is] = angle.degrees;
        let name = match angle.of {
            SawAngle::Mitre => "mitre",
            SawAngle::Bevel => "bevel",
        };
        json!({ "of": name, "was": was, "is": is })
    });
    json!({
        "where": of.name,
        "role": role(of.role),
        "became": how,
        "out": out,
        "most": most.map(|(at, from)| json!({ "at": at, "from": from })),
        "angles": angles.collect::<Vec<Json>>(),
        "or": of.or,
    })
}

fn worked(of: &WorkedChange, old: &Wood) -> Json {
    let Worked { what, of: joint, number, on, copies, .. } = &of.what;
    let on = on.as_ref().map(|on| old.called(on));
    let name = json!({ "what": what.words(), "of": joint, "number": number, "on": on, "copies": copies });
    match &of.how {
        WorkedHow::Gone => json!({ "name": name, "became": "gone" }),
        WorkedHow::New => json!({ "name": name, "became": "new" }),
        WorkedHow::Changed { moved, size, depth, turned, rolled, outline, copies } => json!({
            "name": name,
            "became": "changed",
            "moved": moved.iter().map(|(by, towards)| json!({ "by": by, "towards": towards })).collect::<Vec<Json>>(),
            "long": size[0].map(both),
            "wide": size[1].map(both),
            "depth": depth.map(both),
            "turned": turned,
            "rolled_clockwise": rolled,
            "outline": outline.filter(|by| by.is_finite()),
            "copies": copies.as_ref().map(|[was, is]| json!({ "was": was, "is": is })),
        }),
    }
}
