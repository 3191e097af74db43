//! Whether a reading is of a print that was made before earlier readings were counted.
//!
//! A print is drawn for the printer that the shop file told of at that time. Its error is counted when its reading is; read again, or read by
//! other lines, the same print tells the same error once more, and only a print that was made since tells what is left of it.

use super::BAR_ERROR;
use super::print::Last;
use super::written::Way;
use crate::cli::args::Shop;
use crate::cli::files::{Files, ReadAs};
use crate::cli::output::{Trouble, typed};
use crate::cli::set::journal;
use crate::cli::shop::ShopFile;
use crate::model::Printer;
use crate::project::read_shop;
use crate::tolerance::SAME_CORRECTION;

/// The prints that a bar may have been read on, where nobody says on which.
pub struct Prints {
    /// The printers for which earlier ones were corrected.
    earlier: Vec<Printer>,
    /// The last print of the piece that lies here.
    last: Option<Last>,
}

impl Prints {
    /// Those that the way back of a shop file and the record beside a print tell of.
    ///
    /// # Errors
    /// Where the shop file cannot be read.
    pub fn of(asked: &Shop, file: &ShopFile, files: &Files) -> Result<Prints, Trouble> {
        // Who names a print has said where the bar was read.
        let last = if asked.piece.is_none() { Last::at_hand(asked, file, files) } else { None };
        Ok(Prints { earlier: earlier(file, files)?, last })
    }

    /// Refuses a reading that an earlier print gives by one printer, as the shop file now knows it, and one that may be of a print which was
    /// corrected otherwise along that way: held against the present correction it would be counted twice. `drawn` and `read` in mm.
    ///
    /// # Errors
    /// Why it is refused, and how it is told.
    pub fn refuse(&self, way: Way, (drawn, read): (f64, f64), now: &Printer) -> Result<(), Trouble> {
        let differs = |was: &Printer| (way.factor(was) / way.factor(now) - 1.0).abs() > SAME_CORRECTION;
        let then = |old: &Printer| drawn * way.factor(old) / way.factor(now);
        let older = self.earlier.iter().filter(|old| differs(old)).map(then);
        let reads_so: Vec<f64> = older.filter(|then| (then - read).abs() <= BAR_ERROR).collect();
        if reads_so.iter().any(|then| (then - drawn).abs() > BAR_ERROR) {
            return Err(counted_already(way.bar()));
        }
        // What a rule cannot tell from what is drawn is of the nearer, where nobody knows whether there is a print since.
        let is_nearer = |then: &f64| (then - read).abs() < (drawn - read).abs();
        match &self.last {
            Some(last) if differs(&last.printer) => Err(of_which_print(way.bar(), last)),
            None if reads_so.iter().any(is_nearer) => Err(counted_already(way.bar())),
            _ => Ok(()),
        }
    }
}

/// The printers for which the shop file corrected prints before it was as it is, as far as that is known; before all else for none.
pub fn earlier(file: &ShopFile, files: &Files) -> Result<Vec<Printer>, Trouble> {
    let mut all = vec![Printer::TRUE];
    if file.path.exists() {
        let bytes = files.bytes(&file.regular()?, ReadAs::Shop)?;
        let texts = journal::texts_before(files, &file.path, &String::from_utf8_lossy(&bytes));
        let read = |text: &String| Some(read_shop("", text.as_bytes()).project?.shop.printer);
        all.extend(texts.iter().filter_map(read));
    }
    Ok(all)
}

/// Why a reading of an older print is refused.
pub fn counted_already(what: &str) -> Trouble {
    Trouble::new(format!(
        "a print that was made before the readings of your shop file last changed reads just that on {what}, and it is counted already: \
         nothing was written. Print page 1 or the proof sheet again and measure that; if this print was made since, add --printed-since"
    ))
}

/// Why a reading is refused that may be of an older print or of a sheet that was printed since.
fn of_which_print(what: &str, last: &Last) -> Trouble {
    Trouble::new(format!(
        "on which print did you read the {what}? {pdf} was printed before the readings of your shop file last changed, and what that print reads \
         is held against what it was corrected for. Nothing was written. If you read it there, add --in {piece}; if you read it on a sheet that \
         was printed since, the proof sheet for example, add --printed-since",
        pdf = last.pdf.display(),
        piece = typed(&last.piece),
    ))
}
