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
use crate::page::Part;
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
    /// Digests of the records of prints that say nothing any more: one of the whole piece came after them.
    pub replaces: Vec<String>,
    /// The name of the PDF of the whole piece, beside which it is looked for; `None` where the print is of no file.
    pub whole: Option<String>,
    /// The names of patterns that were left out and of which no paper lies there: nobody wants them printed.
    pub left_out: Vec<String>,
    /// The names of patterns of which older paper was told to be void, and of which nothing was printed since.
    pub void: Vec<String>,
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
        let piece = Snapshot::of(job)?;
        let [follows, replaces, left_out, void] = [const { Vec::new() }; 4];
        Ok(Record { laid: laid.collect(), correction, piece, follows, replaces, whole: None, left_out, void })
    }

    /// What several prints say together, of which none carries on another: the last of them speaks for all of the piece, and of a pattern
    /// that lies there alike on sheets of several it is the last that counts. `None` of none.
    pub fn together(records: impl IntoIterator<Item = Record>) -> Option<Record> {
        records.into_iter().reduce(|earlier, later| {
            let has = |part: &Part| later.laid.iter().any(|laid| laid.shows.contains(part));
            let more = earlier.laid.into_iter().filter_map(|laid| {
                let shows: Vec<Part> = laid.shows.iter().filter(|part| !has(part)).cloned().collect();
                (!shows.is_empty()).then_some(LaidPattern { shows, ..laid })
            });
            let laid: Vec<LaidPattern> = more.collect();
            let laid: Vec<LaidPattern> = later.laid.iter().cloned().chain(laid).collect();
            let follows = both(earlier.follows, later.follows);
            let replaces = both(earlier.replaces, later.replaces);
            let left_out = without_paper(both(earlier.left_out, later.left_out), &laid);
            let void = without_paper(both(earlier.void, later.void), &laid);
            Record {
                void,
                piece: later.piece,
                laid,
                correction: later.correction,
                follows,
                replaces,
                whole: later.whole,
                left_out,
            }
        })
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
            "replaces": self.replaces,
            "whole": self.whole,
            "left_out": self.left_out,
            "void": self.void,
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
        let texts = |name: &str| match root.field(name) {
            Ok(all) => all.each(|one| one.text().map(str::to_owned)),
            Err(_) => Ok(Vec::new()),
        };
        let whole = match root.field("whole") {
            Ok(name) if !name.is_null() => Some(name.text()?.to_owned()),
            _ => None,
        };
        Ok(Record {
            piece,
            laid: root.field("laid")?.each(|laid| laid_of(laid, [x, y]))?,
            correction: [x, y],
            follows: texts("follows")?,
            replaces: texts("replaces")?,
            whole,
            left_out: texts("left_out")?,
            void: texts("void")?,
        })
    }
}

/// All of two lists, each once.
fn both(mut all: Vec<String>, more: Vec<String>) -> Vec<String> {
    let new: Vec<String> = more.into_iter().filter(|one| !all.contains(one)).collect();
    all.extend(new);
    all
}

/// Those names of which no pattern lies there.
fn without_paper(mut names: Vec<String>, laid: &[LaidPattern]) -> Vec<String> {
    names.retain(|name| !laid.iter().flat_map(|laid| &laid.shows).any(|part| part.name == *name));
    names
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
