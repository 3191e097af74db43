//! Paper sizes by name.

use crate::finding::nearest;
use crate::tolerance::UNSEEN;
use crate::units::{FaultKind, Length, MM_PER_INCH, Sum, Units};

/// The shortest side of a sheet, mm.
const SHORTEST_SIDE: f64 = 50.0;
/// The longest side of a sheet, mm: what common PDF viewers open (200 in, PDF Reference 1.6, implementation note 171).
const LONGEST_SIDE: f64 = 5080.0;

/// Paper as asked for.
#[derive(Debug, Clone, PartialEq)]
pub enum Paper {
    /// A sheet, upright: `width` is at most `height`. Both lie between 50 mm and 5080 mm.
    Sheet {
        /// Its name as a person writes it.
        name: String,
        /// The shorter side.
        width: Length,
        /// The longer side.
        height: Length,
    },
    /// A roll, 50 mm to 5080 mm wide.
    Roll {
        /// Its width.
        width: Length,
    },
}

/// Names, shorter and longer sides, in millimetres: ISO 216.
const METRIC: [(&str, f64, f64); 12] = [
    ("A0", 841.0, 1189.0),
    ("A1", 594.0, 841.0),
    ("A2", 420.0, 594.0),
    ("A3", 297.0, 420.0),
    ("A4", 210.0, 297.0),
    ("A5", 148.0, 210.0),
    ("B0", 1000.0, 1414.0),
    ("B1", 707.0, 1000.0),
    ("B2", 500.0, 707.0),
    ("B3", 353.0, 500.0),
    ("B4", 250.0, 353.0),
    ("B5", 176.0, 250.0),
];

/// Names, shorter and longer sides, in inches: ANSI/ASME Y14.1 and the architectural series.
const INCHES: [(&str, f64, f64); 13] = [
    ("Letter", 8.5, 11.0),
    ("Legal", 8.5, 14.0),
    ("Tabloid", 11.0, 17.0),
    ("Ledger", 11.0, 17.0),
    ("ANSI C", 17.0, 22.0),
    ("ANSI D", 22.0, 34.0),
    ("ANSI E", 34.0, 44.0),
    ("ARCH A", 9.0, 12.0),
    ("ARCH B", 12.0, 18.0),
    ("ARCH C", 18.0, 24.0),
    ("ARCH D", 24.0, 36.0),
    ("ARCH E", 36.0, 48.0),
    ("ARCH E1", 30.0, 42.0),
];

/// What is wrong with a paper's name.
#[derive(Debug, Clone, PartialEq)]
pub struct BadPaper {
    /// What is wrong.
    pub kind: BadPaperKind,
    /// The sides that would do as inches, in the order written, and the name of the sheet that has them.
    pub in_inches: Option<([Length; 2], Option<&'static str>)>,
}

/// What can be wrong with a paper's name.
#[derive(Debug, Clone, PartialEq)]
pub enum BadPaperKind {
    /// No paper is so called; a name that is near.
    Unknown {
        /// The name.
        name: String,
        /// One that is known.
        near: Option<&'static str>,
    },
    /// A side cannot be read.
    Unreadable(FaultKind),
    /// There is paper of these numbers in millimetres and in inches, and neither is said.
    EitherUnit(String),
    /// No paper has so long a side, or so short a one.
    NoSuchSide {
        /// The side.
        side: Length,
        /// The shortest.
        shortest: Length,
        /// The longest.
        longest: Length,
    },
}

impl From<BadPaperKind> for BadPaper {
    fn from(kind: BadPaperKind) -> Self {
        BadPaper { kind, in_inches: None }
    }
}

impl Paper {
    /// The paper that a shop has unless it says otherwise: A4, or Letter where the units are inches.
    pub fn usual(units: Units) -> Paper {
        let (name, width, height) = match units {
            Units::Mm => ("A4", 210.0, 297.0),
            Units::Inch => ("Letter", 8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH),
        };
        Paper::Sheet { name: name.to_owned(), width: Length::from_mm(width), height: Length::from_mm(height) }
    }

    /// The name as a person writes it, which [`Paper::read`] takes back.
    pub fn name(&self) -> String {
        match self {
            Paper::Sheet { name, .. } => name.clone(),
            Paper::Roll { width } => format!("roll: {} mm", width.mm()),
        }
    }

    /// Reads a paper's name, a size such as `300 x 420 mm`, or `roll: 610 mm`. Bare numbers are millimetres in a file of millimetres; in one of
    /// inches they are whatever there is paper of, and refused where that may be either.
    ///
    /// # Errors
    /// An unknown name, an unreadable size, a side outside 50 mm to 5080 mm, a size in one unit or another.
    pub fn read(text: &str, units: Units) -> Result<Paper, BadPaper> {
        if let Some(sheet) = named(text) {
            return Ok(sheet);
        }
        let lower = text.trim().to_lowercase();
        let read = |bare: Units| {
            if let Some(width) = lower.strip_prefix("roll") {
                let width = width.trim_start().trim_start_matches(':').trim();
                return Ok(Paper::Roll { width: side(width, bare)? });
            }
            let is_size = lower.starts_with(|c: char| c.is_ascii_digit() || c == '.');
            match lower.split_once(['x', '×']).filter(|_| is_size) {
                Some((first, second)) => sheet_of(first.trim(), second.trim(), bare),
                None => Err(unknown(text)),
            }
        };
        if units == Units::Mm {
            return read(Units::Mm);
        }
        match (read(Units::Inch), read(Units::Mm)) {
            (Ok(in_inches), Ok(in_mm)) if in_inches == in_mm => Ok(in_inches),
            (Ok(_), Ok(_)) => Err(BadPaperKind::EitherUnit(text.trim().to_owned()).into()),
            (Ok(in_inches), Err(_)) => Ok(in_inches),
            (Err(_), in_mm) => in_mm,
        }
    }
}

fn plain(name: &str) -> String {
    name.chars().filter(|c| !matches!(c, ' ' | '-' | '_')).collect::<String>().to_lowercase()
}

/// Every name with its sides in millimetres.
fn sheets() -> impl Iterator<Item = (&'static str, f64, f64)> {
    let inches = INCHES.iter().map(|(name, width, height)| (*name, width * MM_PER_INCH, height * MM_PER_INCH));
    METRIC.iter().copied().chain(inches)
}

/// A number of a name, without what inches leave of rounding.
fn shown(number: f64) -> f64 {
    (number * 1e4).round() / 1e4
}

fn named(text: &str) -> Option<Paper> {
    let (name, width, height) = sheets().find(|(name, ..)| plain(name) == plain(text))?;
    Some(Paper::Sheet { name: name.to_owned(), width: Length::from_mm(width), height: Length::from_mm(height) })
}

fn sheet_of(first: &str, second: &str, bare: Units) -> Result<Paper, BadPaper> {
    // A unit on the second side holds for both: `12 x 18 in`.
    let says_inches = second.ends_with(['"', '”', '″']) || second.trim_end_matches('.').ends_with("in");
    let inches = says_inches || bare == Units::Inch && !second.ends_with(|c: char| c.is_alphabetic());
    let units = if inches { Units::Inch } else { Units::Mm };
    let inches_meant = |bad: BadPaper| match (side(first, Units::Inch), side(second, Units::Inch)) {
        (Ok(a), Ok(b)) if !inches => BadPaper { in_inches: Some(([a, b], sheet_like(a, b))), ..bad },
        _ => bad,
    };
    let (a, b) = (side(first, units).map_err(inches_meant)?, side(second, units).map_err(inches_meant)?);
    let (width, height) = if a <= b { (a, b) } else { (b, a) };
    let name = if inches {
        format!("{} x {} in", shown(width.inches()), shown(height.inches()))
    } else {
        format!("{} x {} mm", shown(width.mm()), shown(height.mm()))
    };
    Ok(Paper::Sheet { name, width, height })
}

/// The name of the sheet that has these sides.
fn sheet_like(a: Length, b: Length) -> Option<&'static str> {
    let (width, height) = if a <= b { (a, b) } else { (b, a) };
    let like = sheets().find(|(_, w, h)| (w - width.mm()).abs() < UNSEEN && (h - height.mm()).abs() < UNSEEN);
    like.map(|(name, ..)| name)
}

fn side(text: &str, units: Units) -> Result<Length, BadPaper> {
    let value = Sum::read(text).and_then(|sum| sum.value(Some(units), |_| None));
    let quantity = value.map_err(|fault| BadPaperKind::Unreadable(fault.kind))?;
    let length = quantity.to_length(Some(units)).map_err(|why| BadPaperKind::Unreadable(FaultKind::Refused(why)))?;
    if (SHORTEST_SIDE..=LONGEST_SIDE).contains(&length.mm()) {
        return Ok(length);
    }
    let [shortest, longest] = [SHORTEST_SIDE, LONGEST_SIDE].map(Length::from_mm);
    Err(BadPaperKind::NoSuchSide { side: length, shortest, longest }.into())
}

fn unknown(text: &str) -> BadPaper {
    let near = nearest(text, sheets().map(|(name, ..)| name));
    BadPaperKind::Unknown { name: text.to_owned(), near }.into()
}

#[cfg(test)]
mod tests {
    use super::{LONGEST_SIDE, Paper, SHORTEST_SIDE, sheets};
    use crate::units::{Length, Units};

    fn sides(text: &str) -> (f64, f64) {
        match Paper::read(text, Units::Mm) {
            Ok(Paper::Sheet { width, height, .. }) => (width.mm(), height.mm()),
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn names_are_read_however_they_are_spelt() {
        assert_eq!(sides("a4"), (210.0, 297.0));
        assert_eq!(sides("letter"), (8.5 * 25.4, 11.0 * 25.4));
        assert_eq!(sides("arch-e1"), (30.0 * 25.4, 42.0 * 25.4));
        assert_eq!(sides("Ansi_C"), (17.0 * 25.4, 22.0 * 25.4));
        assert!(matches!(Paper::read("A 3", Units::Mm), Ok(Paper::Sheet { name, .. }) if name == "A3"));
    }

    #[test]
    fn sizes_may_be_given_in_numbers() {
        assert_eq!(sides("420x300"), (300.0, 420.0));
        assert_eq!(sides("300 x 420 mm"), (300.0, 420.0));
        assert_eq!(sides("12 x 18 in"), (12.0 * 25.4, 18.0 * 25.4));
        assert_eq!(sides("12\" × 18\""), (12.0 * 25.4, 18.0 * 25.4));
        assert_eq!(sides("11x17 in"), (11.0 * 25.4, 17.0 * 25.4));
        assert_eq!(sides("8.5x11in"), (8.5 * 25.4, 11.0 * 25.4));
        assert_eq!(Paper::read("roll:610mm", Units::Mm), Ok(Paper::Roll { width: Length::from_mm(610.0) }));
        assert_eq!(Paper::read("roll 24 in", Units::Mm), Ok(Paper::Roll { width: Length::from_inches(24.0) }));
    }

    /// In a file of inches a size without a unit is in inches where there is such paper, in millimetres where there is only such, and asked
    /// about where there is either.
    #[test]
    fn a_bare_size_takes_the_units_of_its_file() {
        let sides = |text: &str| match Paper::read(text, Units::Inch) {
            Ok(Paper::Sheet { name, width, height }) => (name, width.mm(), height.mm()),
            other => panic!("{text}: {other:?}"),
        };
        assert_eq!(sides("8.5x11"), ("8.5 x 11 in".to_owned(), 8.5 * 25.4, 11.0 * 25.4));
        assert_eq!(sides("18 x 12 in"), ("12 x 18 in".to_owned(), 12.0 * 25.4, 18.0 * 25.4));
        assert_eq!(sides("300 x 420"), ("300 x 420 mm".to_owned(), 300.0, 420.0));
        assert_eq!(sides("60 x 90 mm"), ("60 x 90 mm".to_owned(), 60.0, 90.0));
        assert_eq!(Paper::read("roll: 24", Units::Inch), Ok(Paper::Roll { width: Length::from_inches(24.0) }));
        assert_eq!(Paper::read("roll: 610", Units::Inch), Ok(Paper::Roll { width: Length::from_mm(610.0) }));
        for text in ["60 x 90", "roll: 100"] {
            let said = Paper::read(text, Units::Inch).expect_err(text).said();
            assert!(
                said.remedy.contains(&format!("{text} in")) && said.remedy.contains(&format!("{text} mm")),
                "{said:?}"
            );
        }
    }

    #[test]
    fn what_is_no_paper_is_refused() {
        for text in
            ["A9", "foolscap", "", "x", "300x", "0 x 0", "9000 x 100", "roll:", "roll: 1 deg", "300 x 420 x 2"]
        {
            assert!(Paper::read(text, Units::Mm).is_err(), "{text}");
        }
        assert!(
            Paper::read("11x17", Units::Mm)
                .is_err_and(|bad| bad.said().remedy.starts_with("did you mean \"Tabloid\", or \"11 x 17 in\"?"))
        );
        assert!(
            Paper::read("20 x 26", Units::Mm)
                .is_err_and(|bad| bad.said().remedy.starts_with("did you mean \"20 x 26 in\"?"))
        );
        assert!(Paper::read("lettre", Units::Mm).is_err_and(|bad| bad.said().remedy.contains("\"Letter\"")));
    }

    #[test]
    fn every_named_sheet_stands_upright_and_within_the_limits() {
        for (name, width, height) in sheets() {
            assert!(width <= height && width >= SHORTEST_SIDE && height <= LONGEST_SIDE, "{name}");
        }
        for units in [Units::Mm, Units::Inch] {
            assert!(
                matches!(Paper::usual(units), Paper::Sheet { name, .. } if Paper::read(&name, units) == Ok(Paper::usual(units)))
            );
        }
    }

    /// Records 5.iso216.A, 5.iso216.B (ISO 216), 5.y14.1 (ANSI/ASME Y14.1) and 5.arch of `fixtures/paper_sizes.json`.
    #[test]
    fn sizes_are_those_of_the_standards() {
        let text = include_str!("../../fixtures/paper_sizes.json");
        let records: serde_json::Value = serde_json::from_str(text).unwrap();
        let mut seen = 0;
        for (id, prefix, mm) in
            [("5.iso216.A", "", 1.0), ("5.iso216.B", "", 1.0), ("5.y14.1", "ANSI ", 25.4), ("5.arch", "ARCH ", 25.4)]
        {
            let record = records.as_array().unwrap().iter().find(|record| record["id"] == id).unwrap();
            for (name, size) in record["values"].as_object().unwrap() {
                let ours = match name.as_str() {
                    "A letter" => "Letter".to_owned(),
                    "B tabloid/ledger" => "Tabloid".to_owned(),
                    // A size that makers do not meet.
                    "F" => continue,
                    name => format!("{prefix}{name}"),
                };
                let expected = (size[0].as_f64().unwrap() * mm, size[1].as_f64().unwrap() * mm);
                assert_eq!(sides(&ours), expected, "{id} {name}");
                seen += 1;
            }
        }
        assert_eq!(seen, 22);
    }
}
