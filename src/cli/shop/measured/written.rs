//! Readings as they are written into the shop file.

use crate::cli::files::{Files, ReadAs};
use crate::cli::load::Stopped;
use crate::cli::output::say;
use crate::cli::shop::ShopFile;
use crate::layout::printer_corrected;
use crate::model::{Printer, RuleBar, Shop as ShopModel};
use crate::units::{Length, Sum, Units, with_points};
use serde_json::Value;
use std::io::Write;

/// Where the readings stand in a shop file.
pub const PRINTER: &str = "printer";

/// Which bar of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// The one that runs across the paper as it goes through the printer.
    Across,
    /// The one that runs up it.
    Up,
}

impl Way {
    /// Both.
    pub const BOTH: [Way; 2] = [Way::Across, Way::Up];

    /// The way of the bar up, or of the bar across.
    pub fn of(is_up: bool) -> Way {
        if is_up { Way::Up } else { Way::Across }
    }

    /// What its bar is called.
    pub fn bar(self) -> &'static str {
        match self {
            Way::Across => "bar across",
            Way::Up => "bar up",
        }
    }

    /// A printer's correction along it.
    pub fn factor(self, printer: &Printer) -> f64 {
        match self {
            Way::Across => printer.across.0,
            Way::Up => printer.up.0,
        }
    }

    /// Where its reading stands in a shop file, as a JSON pointer.
    pub fn pointer(self) -> String {
        format!("/{PRINTER}/{}", self.field())
    }

    fn field(self) -> &'static str {
        match self {
            Way::Across => "bar_across",
            Way::Up => "bar_up",
        }
    }
}

/// What a bar reads on a print without any correction.
pub struct Reading {
    way: Way,
    value: String,
    /// How it came about, where nobody read it so.
    how: Option<String>,
    /// Whether it is what the bar says, so that nothing is to be corrected.
    is_true: bool,
}

impl Reading {
    /// As somebody typed it; whether that is what the bar says.
    pub fn typed(way: Way, (reading, is_true): (&str, bool), units: Units) -> Reading {
        let reading = with_points(reading).unwrap_or_else(|_| reading.to_owned());
        let names_its_units = Sum::read(&reading).is_ok_and(|sum| sum.written_units().is_some());
        let unit = if units == Units::Inch { "in" } else { "mm" };
        let value = if names_its_units { reading } else { format!("{reading} {unit}") };
        Reading { way, value, how: None, is_true }
    }

    /// Worked out: what a bar, of its side in inches or in millimetres, reads where the correction is a factor; from what, and with
    /// which shop the print was made.
    pub fn worked_out(
        way: Way,
        (bar, inches): (RuleBar, bool),
        factor: f64,
        (how, shop): (&str, &ShopModel),
    ) -> Reading {
        let read = bar.side(inches).mm() / factor;
        let value = match inches {
            true => format!("{:.4} in", Length::from_mm(read).inches()),
            false => format!("{read:.3} mm"),
        };
        let on = printer_corrected(shop)
            .map_or_else(String::new, |printer| format!(", on a print corrected for {printer}"));
        let how = Some(format!("{} {value}: {how}{on}", way.field()));
        Reading { way, value, how, is_true: false }
    }
}

/// Writes what bars read into the shop file, and how it came about where nobody read it so; a bar of which nothing is known is left as it is.
///
/// # Errors
/// Where the file cannot be read or written.
pub fn write(
    file: &ShopFile,
    readings: Vec<Reading>,
    units: Units,
    files: &Files,
    (out, err): (&mut dyn Write, &mut dyn Write),
) -> Result<(), Stopped> {
    let mut changes: Vec<String> =
        readings.iter().map(|one| format!("{PRINTER}.{}={}", one.way.field(), one.value)).collect();
    let is_true = readings.iter().all(|one| one.is_true);
    let how: Vec<String> = readings.into_iter().filter_map(|one| one.how).collect();
    if !how.is_empty() {
        let known = note(file, files)?.into_iter().chain(how).collect::<Vec<_>>().join("; ");
        changes.push(format!("{PRINTER}.note={known}"));
    }
    file.change(&changes, units, files, out, err)?;
    let words = match is_true {
        true => "What you read is what they say: along them your printer draws true, and nothing is corrected.\n",
        false => {
            "That is what these bars read on a print without any correction; by it your prints are corrected from now on. Print page 1 or the \
             proof sheet again: its bars read what they say.\n"
        }
    };
    Ok(say(out, words.as_bytes())?)
}

/// The note beside the printer's readings, as it stands.
fn note(file: &ShopFile, files: &Files) -> Result<Option<String>, Stopped> {
    if !file.path.exists() {
        return Ok(None);
    }
    let bytes = files.bytes(&file.regular()?, ReadAs::Shop)?;
    let shop: Option<Value> = serde_json::from_slice(&bytes).ok();
    Ok(shop.and_then(|shop| shop.pointer(&format!("/{PRINTER}/note"))?.as_str().map(str::to_owned)))
}
