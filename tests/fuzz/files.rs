//! Project files of every kind, altered as values, to every output.

use super::outputs::{Asked, Outputs, outputs};
use super::{Told, inputs, seed, stored};
use crate::common::draws::{Draws, for_all_from};
use serde_json::{Map, Value, json};
use std::time::{Duration, Instant};

/// No input may take longer, ten times as long as the slowest did in a build without optimisation on a busy machine.
const LONGEST: Duration = Duration::from_secs(300);

const PAPERS: [&str; 6] = ["A4", "A3", "Letter", "Tabloid", "A0", "roll 24 in"];

/// Good files: those of the fixtures, those stored for this, the demos, and what the guide shows.
fn seeds() -> Vec<Value> {
    let folders = ["fixtures/good", "fixtures/corpus", "fixtures/routed", "templates-demo"];
    let mut texts: Vec<Vec<u8>> =
        folders.into_iter().flat_map(|folder| stored(folder, "json")).map(|(_, text)| text).collect();
    texts.extend(crate::common::guide::examples().into_iter().map(|(_, text)| text.into_bytes()));
    texts
        .iter()
        .filter_map(|text| serde_json::from_slice(text).ok())
        .filter(|file: &Value| file.is_object())
        .collect()
}

/// The ways to all values of a file, the file itself left out.
fn pointers(value: &Value, here: &str, found: &mut Vec<String>) {
    let mut deeper = |name: &str, value: &Value| {
        let own = format!("{here}/{}", name.replace('~', "~0").replace('/', "~1"));
        pointers(value, &own, found);
        found.push(own);
    };
    match value {
        Value::Object(members) => members.iter().for_each(|(name, value)| deeper(name, value)),
        Value::Array(entries) => entries.iter().enumerate().for_each(|(k, value)| deeper(&k.to_string(), value)),
        _ => {}
    }
}

/// A number near another, or a wild one.
fn number(own: f64, draws: &mut Draws) -> f64 {
    match draws.below(10) {
        0 => draws.one_of(&[0.0, -1.0, 1.0, 1e-3, 45.0, 90.0, 1e4, 1e6]),
        1 => -own,
        2 => own * draws.between(0.01, 5.0),
        _ => own * draws.between(0.7, 1.3),
    }
}

/// Replaces, changes or takes away one value.
fn alter(file: &mut Value, others: &[Value], draws: &mut Draws) {
    let mut all = Vec::new();
    pointers(file, "", &mut all);
    let pointer = &all[draws.below(all.len())];
    let (parent, name) = pointer.rsplit_once('/').unwrap_or(("", ""));
    let what = draws.below(12);
    let Some(value) = file.pointer_mut(pointer) else { return };
    match (&mut *value, what) {
        (Value::Number(own), _) if what < 9 => *value = json!(number(own.as_f64().unwrap_or(1.0), draws)),
        (Value::String(_), 0..=1) => {
            *value = json!(
                draws.one_of(&["0", "1/2 in", "12 mm", "90 deg", "1:6", "w / 2", "top", "leg", "straight", "é"])
            );
        }
        (_, 9) => {
            if let Some(Value::Object(members)) = file.pointer_mut(parent) {
                members.shift_remove(name);
            }
        }
        (_, 10) => *value = draws_any(others, name, draws).unwrap_or(Value::Null),
        _ => {}
    }
}

/// What stands under a name in some other file.
fn draws_any(others: &[Value], name: &str, draws: &mut Draws) -> Option<Value> {
    let other = &others[draws.below(others.len())];
    let mut all = Vec::new();
    pointers(other, "", &mut all);
    all.retain(|pointer| pointer.rsplit_once('/').is_some_and(|(_, last)| last == name));
    let pointer = all.get(draws.below(all.len().max(1)))?;
    other.pointer(pointer).cloned()
}

/// A good file with sections of another laid into it and some values altered.
fn file(seeds: &[Value], draws: &mut Draws) -> Value {
    let mut file = seeds[draws.below(seeds.len())].clone();
    let other = &seeds[draws.below(seeds.len())];
    for section in ["base", "top", "joints", "patterns", "aids", "shop", "sizes", "climate"] {
        if draws.chance(0.1)
            && let (Some(members), Some(lent)) = (file.as_object_mut(), other.get(section))
        {
            let mut merged: Map<String, Value> = members.clone();
            merged.insert(section.to_owned(), lent.clone());
            *members = merged;
        }
    }
    for _ in 0..draws.below(4) {
        alter(&mut file, seeds, draws);
    }
    file
}

fn drawings(name: &str) -> Result<Vec<u8>, String> {
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/svg").join(name);
    std::fs::read(file).map_err(|_| "there is no such file".to_owned())
}

fn made(text: &[u8], asked: Asked) -> Outputs {
    let began = Instant::now();
    let made = outputs(text, asked, &drawings);
    assert!(began.elapsed() < LONGEST, "{asked:?} took {:?}", began.elapsed());
    made
}

#[test]
fn every_output_of_any_file_can_be_read_and_is_the_same_again() {
    let seeds = seeds();
    assert!(seeds.len() > 20, "{}", seeds.len());
    let (mut whole, mut refused) = (0_u32, 0_u32);
    for_all_from(seed(), inputs(12), |draws| {
        let text = file(&seeds, draws).to_string();
        let _told = Told(text.as_bytes());
        let asked = Asked { paper: draws.one_of(&PAPERS), cures: draws.chance(0.2), more: draws.chance(0.3) };
        let first = made(text.as_bytes(), asked);
        if draws.chance(0.3) {
            assert!(first == made(text.as_bytes(), asked), "other bytes the second time");
        }
        if first.iter().any(|(name, bytes)| *name == "print" && bytes.is_some()) {
            whole += 1;
        } else {
            refused += 1;
        }
    });
    println!("{whole} files printed, {refused} refused");
    assert!(whole > 0 && refused > 0, "{whole} printed, {refused} refused");
}

/// The stored files say what their names promise: those named `good` are printed, all others stop somewhere on the way.
#[test]
fn the_stored_files_are_answered() {
    let files = stored("fixtures/corpus", "json");
    assert!(files.len() >= 10);
    for (name, text) in files {
        let asked = Asked { paper: "A4", cures: true, more: true };
        let printed = made(&text, asked).iter().any(|(name, bytes)| *name == "print" && bytes.is_some());
        assert_eq!(printed, name.starts_with("good"), "{name}");
    }
}
