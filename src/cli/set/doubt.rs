//! Lengths that were changed to what can hardly be meant: far from what stood before, and near to it in another unit.

use crate::cli::new::brought;
use crate::cli::new::slip::Slip;
use crate::cli::output::{typed, typed_word};
use crate::model::path::steps;
use crate::model::{Kind, Project};
use crate::project::edit::{Made, SIZES, standing};
use crate::units::{Length, Sum, Units};
use std::path::Path;

/// A file that was changed.
#[derive(Clone, Copy)]
pub struct Texts<'a> {
    /// Its text before it was changed.
    pub before: &'a str,
    /// What that said.
    pub project: &'a Project,
    /// Its text now.
    pub now: &'a str,
    /// Its texts before earlier changes, the last first: what was meant once is not doubted.
    pub earlier: &'a [String],
}

/// What is doubted of changes, a line each, with the command that gives the likeliest unit where the file has a name.
pub fn doubts(made: &[Made], texts: Texts, file: Option<&Path>) -> Vec<String> {
    made.iter().filter_map(|made| texts.doubted(made, file)).collect()
}

impl Texts<'_> {
    fn doubted(&self, made: &Made, file: Option<&Path>) -> Option<String> {
        let notation = &self.project.notation;
        let way = steps(&made.path)?;
        let old = self.length(&way)?;
        let written = written_in(self.now, &way)?;
        let now = length(&written, notation.units)?;
        let usual = match way.as_slice() {
            [sizes, name] if sizes == SIZES => brought::usual(self.before, self.project, name),
            _ => None,
        };
        let earlier = self.earlier.iter().filter_map(|text| length(&written_in(text, &way)?, notation.units));
        let known: Vec<Length> = usual.into_iter().chain([old]).chain(earlier).collect();
        let slip = Slip::of(&written, &known, notation.units)?;
        let said = format!("{} is {} now, and was {}", made.path, notation.length(now), notation.length(old));
        let cure = match (&slip, file) {
            // What only grew or shrank by much may well be meant, where nobody knows what is usual.
            (Slip::Far, _) if usual.is_none() => return None,
            (Slip::Unit(meant), Some(file)) => {
                let first = meant.first().map_or("", |(written, _)| written.as_str());
                format!(" Then: fullsize set {} {}", typed(file), typed_word(&format!("{}={first}", made.path)))
            }
            _ => String::new(),
        };
        Some(format!("{said}: {}{cure}\n", slip.asked(notation)))
    }

    /// The length at the end of a way, as it was worked out.
    fn length(&self, way: &[String]) -> Option<Length> {
        if let [sizes, name] = way
            && sizes == SIZES
        {
            let (_, size) = self.project.sizes.iter().find(|(known, _)| known == name)?;
            return size.to_length(Some(self.project.notation.units)).ok();
        }
        let numbers = self.project.numbers();
        let number = numbers.iter().find(|number| number.place.steps().eq(way.iter().cloned()))?;
        (number.kind == Kind::Length).then(|| Length::from_mm(number.value))
    }
}

/// What stands at the end of a way in a text, without the quotes of a string.
fn written_in(text: &str, way: &[String]) -> Option<String> {
    let value = standing(text, way)?;
    Some(serde_json::from_str::<String>(&value).unwrap_or(value))
}

/// A length as it is written, where it follows no size.
fn length(written: &str, units: Units) -> Option<Length> {
    Sum::read(written).ok()?.value(Some(units), |_| None).ok()?.to_length(Some(units)).ok()
}
