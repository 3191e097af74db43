//! The effects of numbers as data for scripts.

use super::measured::{Effect, Effects, PartEffects, SizeEffects};
use super::words::size_words;
use crate::model::{Kind, Number};
use serde_json::{Value as Json, json};

/// All derivatives as one JSON object.
pub fn json(effects: &Effects, heading: &str) -> Json {
    let [length, angle] = effects.usual;
    let held: Vec<&str> =
        effects.held.iter().filter_map(|i| effects.numbers.get(*i)).map(|one| one.place.pointer.as_str()).collect();
    json!({
        "title": heading,
        "units_note": "lengths in mm, angles in degrees, unrounded; each is mm or degrees of the size for one mm or degree of the number; a number that is not listed under a size does not move it; ways is for less and for more of the number where these differ, null where nothing can be made on that side; a mitre is above zero where the corner at its register edge is blunt, a bevel where the far side is longer",
        "usual": { "length": length, "angle": angle },
        "numbers": effects.numbers.iter().map(number).collect::<Vec<Json>>(),
        "held": held,
        "parts": effects.parts.iter().enumerate().map(|(place, one)| part(effects, place, one)).collect::<Vec<Json>>(),
    })
}

fn number(of: &Number) -> Json {
    json!({ "path": of.place.pointer, "name": of.words, "unit": unit(of.kind == Kind::Angle), "value": of.value })
}

const fn unit(is_angle: bool) -> &'static str {
    if is_angle { "degrees" } else { "mm" }
}

fn part(effects: &Effects, place: usize, of: &PartEffects) -> Json {
    json!({
        "id": of.id,
        "label": of.label,
        "cut": place + 1,
        "hangs_by": of.hangs_by,
        "longest": of.longest,
        "sizes": of.sizes.iter().map(|one| size(effects, one)).collect::<Vec<Json>>(),
    })
}

fn size(effects: &Effects, of: &SizeEffects) -> Json {
    json!({
        "name": size_words(of.size.of, &of.place),
        "of": of.size.of.key(),
        "where": of.place,
        "nth": of.size.nth,
        "unit": unit(of.size.of.is_angle()),
        "value": of.size.value,
        "by": of.by.iter().map(|one| effect(effects, one)).collect::<Vec<Json>>(),
    })
}

fn effect(effects: &Effects, of: &Effect) -> Json {
    json!({
        "path": effects.numbers.get(of.number).map(|number| number.place.pointer.as_str()),
        "each": of.each,
        "ways": of.ways,
        "own": of.is_own,
    })
}
