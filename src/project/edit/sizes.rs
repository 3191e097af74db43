//! Named sizes as cures: what no number of a field alone cures may be cured by the size that it follows, since other fields follow that too.

use super::{SIZES, set_in, standing};
use crate::finding::{Cure, Cures, Finding, Place, Quantity, Setting, Severity};
use crate::piece::NumberChange;
use crate::piece::search::{self, LESS, MORE};
use crate::project::{Shops, Sources};
use crate::units::{Angle, Length, Notation, Quantity as Amount, Sum, Units};

/// Files of more bytes than this are not read some thirty times more.
const MOST_READ: usize = 64 << 10;

/// The steps in which a size is offered, and the finer ones where only a sliver does: what a rule and a protractor have.
const STEPS_MM: [f64; 2] = [1.0, 0.5];
const STEPS_IN: [f64; 2] = [1.0 / 16.0, 1.0 / 64.0];
const STEPS_DEGREES: [f64; 2] = [0.5, 0.1];

/// Gives the first stop that no number of its own field cures the value of the size that it follows with which nothing stops the work, as
/// `stops` tells of a text. The file was read with no shop file but the person's own, and without a variant.
pub fn offer_sizes(findings: &mut [Finding], sources: &Sources, shops: Shops, stops: &dyn Fn(&str) -> bool) {
    let Some(file) = sources.files().first().filter(|file| file.text.len() <= MOST_READ) else { return };
    let notation = sources.notation();
    let is_open =
        |one: &Finding| one.severity == Severity::Stop && matches!(one.cures, Cures::None | Cures::Half(..));
    let mut open = findings.iter_mut().filter(|finding| is_open(finding));
    let Some((size, finding)) = open.find_map(|finding| Some((Size::of(finding, &file.text, &notation)?, finding)))
    else {
        return;
    };
    let does = |value: f64| {
        let changed = set_in("", &file.text, &[&size.setting(value).change(&notation)], shops);
        changed.is_ok_and(|changed| !stops(&changed.text))
    };
    if let Some(value) = search::nearest(size.given, &size.ladders(), &does, &|value, up, finely| {
        let step = size.steps()[usize::from(finely)];
        (if up { (value / step).ceil() } else { (value / step).floor() }) * step
    }) {
        let called = vec![size.name.replace('_', " ")];
        finding.cures = Cures::Nearest(Cure::new(vec![size.setting(value)], NumberChange { called }));
    }
}

/// A size that a field follows.
struct Size {
    name: String,
    /// In millimetres, inches or degrees.
    given: f64,
    measures: Measures,
}

#[derive(Clone, Copy)]
enum Measures {
    Mm,
    Inches,
    Degrees,
}

impl Size {
    /// The one size that the number at a finding's place follows, where it is written as a number itself.
    fn of(finding: &Finding, text: &str, notation: &Notation) -> Option<Size> {
        let steps: Vec<String> = finding.place.steps().collect();
        let sum = Sum::read(&unquoted(standing(text, &steps)?)).ok()?;
        let mut names: Vec<&str> = sum.names().map(|(name, _)| name).collect();
        names.dedup();
        let [name] = names.as_slice() else { return None };
        let written = unquoted(standing(text, &[SIZES.to_owned(), (*name).to_owned()])?);
        let (given, measures) = match Sum::read(&written).ok()?.value(Some(notation.units), |_| None).ok()? {
            Amount::Angle(angle) => (angle.degrees(), Measures::Degrees),
            amount => {
                let length = amount.to_length(Some(notation.units)).ok()?;
                match notation.units {
                    Units::Mm => (length.mm(), Measures::Mm),
                    Units::Inch => (length.inches(), Measures::Inches),
                }
            }
        };
        (given > 0.0).then(|| Size { name: (*name).to_owned(), given, measures })
    }

    fn setting(&self, value: f64) -> Setting {
        let value = match self.measures {
            Measures::Mm => Quantity::Length(Length::from_mm(value)),
            Measures::Inches => Quantity::Length(Length::from_inches(value)),
            Measures::Degrees => Quantity::Angle(Angle::from_degrees(value)),
        };
        Setting { place: Place::pointer(format!("/{SIZES}")).child(&self.name), value }
    }

    fn steps(&self) -> [f64; 2] {
        match self.measures {
            Measures::Mm => STEPS_MM,
            Measures::Inches => STEPS_IN,
            Measures::Degrees => STEPS_DEGREES,
        }
    }

    /// What is tried, going away from what is given.
    fn ladders(&self) -> [Vec<f64>; 2] {
        [LESS, MORE].map(|shares| shares.map(|share| share * self.given).to_vec())
    }
}

/// What is written, without the quotes of a string.
fn unquoted(written: String) -> String {
    serde_json::from_str::<String>(&written).unwrap_or(written)
}
