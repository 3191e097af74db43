//! What a finding gives to scripts beside its words.

use super::{Finding, Quantity, Setting, Unit};
use crate::units::{Length, Notation, Units};
use serde_json::{Map, Value as Json, json};

impl Finding {
    /// The measured numbers by name, unrounded.
    pub(crate) fn measures_json(&self) -> Json {
        Json::Object(self.measures().iter().map(|m| (m.name.to_owned(), json!(m.value))).collect())
    }

    /// The unit of each measured number, by the same names.
    pub(crate) fn units_json(&self) -> Json {
        let units: Map<String, Json> =
            self.measures().iter().map(|m| (m.name.to_owned(), json!(m.unit.name()))).collect();
        Json::Object(units)
    }

    /// Each number that cures: its place, its value, the value's unit, and the command that sets it in a file; numbers that cure only
    /// together have one command.
    pub(crate) fn cures_json(&self, file: &str, notation: &Notation) -> Json {
        let entries = self.cures.all().iter().flat_map(|cure| {
            let line = set_line(file, &cure.settings, notation);
            cure.settings.iter().map(move |setting| {
                let numbers = setting.value.numbers();
                let value = if let [one] = numbers.as_slice() { json!(one) } else { json!(numbers) };
                json!({
                    "path": setting.place.pointer,
                    "value": value,
                    "unit": setting.value.unit().name(),
                    "set": line,
                })
            })
        });
        entries.collect()
    }
}

/// Numbers are written to one part in so many, of a millimetre, an inch or a degree.
const FINEST: f64 = 1e7;

/// The command that makes some changes to a file.
fn set_line(file: &str, settings: &[Setting], notation: &Notation) -> String {
    let changes = settings.iter().map(|setting| quoted(&setting.change(notation)));
    let words = ["fullsize".to_owned(), "set".to_owned(), quoted(file)];
    words.into_iter().chain(changes).collect::<Vec<_>>().join(" ")
}

impl Setting {
    /// The change that makes it, as `set` takes it: `base.stretcher.height=140`.
    pub(crate) fn change(&self, notation: &Notation) -> String {
        let names: Vec<String> = self.place.steps().map(|step| name(&step)).collect();
        format!("{}={}", names.join("."), bare(self.value, notation))
    }
}

/// A name as a change writes it: between double quotes where it would end before its own end.
fn name(step: &str) -> String {
    if step.contains(['.', '=', '"']) { Json::from(step).to_string() } else { step.to_owned() }
}

/// Bare numbers, in the file's own units, as the file has them.
fn bare(value: Quantity, notation: &Notation) -> String {
    let one = |number: f64| match (value.unit(), notation.units) {
        (Unit::Mm, Units::Inch) => short(Length::from_mm(number).inches()),
        _ => short(number),
    };
    let all: Vec<String> = value.numbers().into_iter().map(one).collect();
    if let [one] = all.as_slice() { one.clone() } else { format!("[{}]", all.join(",")) }
}

/// A number without what arithmetic adds.
fn short(number: f64) -> String {
    let text = json!((number * FINEST).round() / FINEST).to_string();
    text.strip_suffix(".0").map(str::to_owned).unwrap_or(text)
}

/// A word as a shell takes it.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "._=/-+,:@%".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        word.to_owned()
    } else {
        format!("'{}'", word.replace('\'', "'\\''"))
    }
}

#[cfg(test)]
mod tests {
    use super::set_line;
    use crate::finding::{Place, Quantity, Setting};
    use crate::units::{Angle, Length, Notation, Units};

    #[test]
    fn a_cure_is_a_command_that_a_shell_takes() {
        let setting = |pointer: &str, value| Setting { place: Place::pointer(pointer), value };
        let height = setting("/base/stretcher/height", Quantity::Length(Length::from_mm(140.25)));
        let slope = setting("/base/slope", Quantity::Angle(Angle::from_degrees(7.3)));
        let mm = Notation::default();
        let said = set_line("table.json", &[height.clone(), slope], &mm);
        assert_eq!(said, "fullsize set table.json base.stretcher.height=140.25 base.slope=7.3");
        let inches = Notation { units: Units::Inch, ..mm };
        let named = setting("/patterns/a b.c~1d/thickness", Quantity::Length(Length::from_inches(0.75)));
        let said = set_line("my table.json", &[named], &inches);
        assert_eq!(said, "fullsize set 'my table.json' 'patterns.\"a b.c/d\".thickness=0.75'");
    }
}
