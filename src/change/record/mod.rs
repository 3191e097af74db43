//! What a print showed, kept beside it: the parts as wood, the codes of all patterns and of their sheets, the numbers.
//!
//! From a record alone its pieces are held against later ones, so that no older program is needed. It holds numbers and codes, no
//! pictures, no mesh, no clock.

mod laid;
mod since;
mod wood;

pub use laid::{LaidPattern, Lie};
pub use since::Since;
pub(super) use wood::{wood_json, wood_of};

use super::data::unit;
use super::read::{At, Torn};
use super::snapshot::{Given, Snapshot};
use super::wood::Wood;
use crate::job::{Job, Refusal, Sheets};
use crate::layout::Sheet;
use crate::model::Kind as Measures;
use crate::units::Units;
use laid::{laid_json, laid_of};
use serde_json::{Value as Json, json};

/// The member by which a record is known, and the number of its form.
pub const PRINTED: &str = "printed";
const FORM: f64 = 1.0;

/// What a print showed.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// The piece.
    pub piece: Snapshot,
    /// The patterns as they were laid.
    pub laid: Vec<LaidPattern>,
    /// By how much the printer was corrected, across and up.
    pub correction: [f64; 2],
    /// Digests of the records, as they were written, of the prints that this one carries on: it tells what of them is still right.
    pub follows: Vec<String>,
}

impl Record {
    /// What a print of a piece shows.
    ///
    /// # Errors
    /// Where a finding stops the work.
    pub fn of(job: &Job, sheets: &Sheets) -> Result<Record, Refusal> {
        let printer = &job.project().shop.printer;
        let correction = [printer.across.0, printer.up.0];
        let laid = sheets.patterns.iter().zip(&sheets.shows).zip(&sheets.manifest.patterns);
        let laid = laid.filter_map(|((pattern, shows), plan)| {
            let plan = plan.as_ref()?;
            let (sheets, lie) = (plan.sheets.iter().map(Sheet::code).collect(), Some(Lie::of(plan)));
            Some(LaidPattern { part: pattern.part.clone(), shows: shows.clone(), sheets, correction, lie })
        });
        Ok(Record { laid: laid.collect(), correction, piece: Snapshot::of(job)?, follows: Vec::new() })
    }

    /// The record as it is written.
    pub fn json(&self) -> Json {
        let piece = &self.piece;
        json!({
            PRINTED: FORM,
            "program": env!("CARGO_PKG_VERSION"),
            "title": piece.title,
            "heading": piece.heading,
            "units": if piece.units == Units::Inch { "in" } else { "mm" },
            "correction": self.correction,
            "follows": self.follows,
            "laid": self.laid.iter().map(laid_json).collect::<Vec<Json>>(),
            "numbers": piece.numbers.iter().map(given_json).collect::<Vec<Json>>(),
            "parts": piece.parts.iter().map(wood_json).collect::<Vec<Json>>(),
        })
    }

    /// A record as it was written.
    ///
    /// # Errors
    /// Where it is not as one is written, and what is wrong there.
    pub fn read(json: &Json) -> Result<Record, Torn> {
        let root = At::root(json);
        if root.field(PRINTED)?.number()? != FORM {
            return Err(root.field(PRINTED)?.torn("it is of another form than this program reads"));
        }
        let [x, y] = root.field("correction")?.numbers::<2>()?;
        let units = match root.field("units")?.text()? {
            "mm" => Units::Mm,
            "in" => Units::Inch,
            _ => return Err(root.field("units")?.torn("units are mm or in")),
        };
        let piece = Snapshot {
            heading: root.field("heading")?.text()?.to_owned(),
            title: root.field("title")?.text()?.to_owned(),
            units,
            parts: root.field("parts")?.each(wood_of)?,
            numbers: root.field("numbers")?.each(given_of)?,
        };
        // Records of older programs do not say.
        let follows = match root.field("follows") {
            Ok(all) => all.each(|digest| digest.text().map(str::to_owned))?,
            Err(_) => Vec::new(),
        };
        Ok(Record {
            piece,
            laid: root.field("laid")?.each(|laid| laid_of(laid, [x, y]))?,
            correction: [x, y],
            follows,
        })
    }
}

impl Snapshot {
    /// The piece as its record would give it back: held against one that comes of a record, it then tells what it would tell of that of its
    /// own print, to the last bit.
    pub fn as_recorded(self) -> Snapshot {
        let again = |json: Json| serde_json::from_str::<Json>(&json.to_string()).ok();
        let wood = |wood: &Wood| again(wood_json(wood)).and_then(|json| wood_of(&At::root(&json)).ok());
        let given = |given: &Given| again(given_json(given)).and_then(|json| given_of(&At::root(&json)).ok());
        let parts = self.parts.into_iter().map(|one| wood(&one).unwrap_or(one)).collect();
        let numbers = self.numbers.into_iter().map(|one| given(&one).unwrap_or(one)).collect();
        Snapshot { parts, numbers, ..self }
    }
}

pub(super) fn given_json(given: &Given) -> Json {
    json!([given.pointer, given.words, unit(given.measures), given.value])
}

pub(super) fn given_of(at: &At) -> Result<Given, Torn> {
    let text = |index: usize| Ok(at.entry(index)?.text()?.to_owned());
    let all = [Measures::Length, Measures::Angle, Measures::Count, Measures::Share];
    let said = at.entry(2)?.text()?;
    let measures = all.into_iter().find(|one| unit(*one) == said).ok_or_else(|| at.torn("no such unit"))?;
    Ok(Given { pointer: text(0)?, words: text(1)?, measures, value: at.entry(3)?.number()? })
}
