//! The print that was measured, and what it was corrected for.

use crate::cli::args::{Input, Shop};
use crate::cli::files::{Files, only_project};
use crate::cli::load::{Stopped, project};
use crate::cli::output::output_file;
use crate::cli::records::{self, Lying};
use crate::cli::shop::ShopFile;
use crate::layout::printer_corrected;
use crate::model::{Correction, Printer, ReadingsFrom, Shop as ShopModel};
use crate::tolerance::SAME_CORRECTION;
use std::path::{Path, PathBuf};

/// The print of a piece, as its record says.
pub struct Print {
    /// With what it is printed, as the piece and the shop file say together.
    pub shop: ShopModel,
    pdf: PathBuf,
    /// For which printer it was corrected; `None` where no record lies beside it.
    printer: Option<Printer>,
    /// Whether it is said to be younger than what the shop file says.
    is_since: bool,
}

impl Print {
    /// The print of a piece that lies beside its file.
    ///
    /// # Errors
    /// Where the piece cannot be read.
    pub fn of(asked: &Shop, (piece, file): (&Path, &ShopFile), files: &Files) -> Result<Print, Stopped> {
        let input = input(asked, piece, file);
        // What is wrong with the piece is told where it is laid on sheets.
        let project = project(&input, files, &mut std::io::sink())?;
        let pdf = output_file((&input, files), &project.variants, None, "pdf", &["pdf"])?;
        let printer = records::left(&pdf, files).as_ref().map(corrected_for);
        Ok(Print { shop: project.shop, pdf, printer, is_since: asked.printed_since })
    }

    /// Whether a record says what it was corrected for.
    pub fn is_known(&self) -> bool {
        self.printer.is_some()
    }

    /// The printer for which it was corrected, where a shop corrects for another one since.
    pub fn older_than(&self, shop: &ShopModel) -> Option<Printer> {
        let differs = |one: Correction, other: Correction| (one.0 - other.0).abs() > SAME_CORRECTION;
        let is = &shop.printer;
        self.printer.filter(|was| !self.is_since && (differs(was.across, is.across) || differs(was.up, is.up)))
    }

    /// What the readings are held against, where that is not as the shop file says now.
    pub fn words(&self, shop: &ShopModel) -> String {
        let Some(printer) = self.older_than(shop) else { return String::new() };
        let was = printer_corrected(&ShopModel { printer, ..shop.clone() });
        let was = was.map_or_else(|| "for no printer".to_owned(), |was| format!("for {was}"));
        format!(
            "{} was corrected {was}, before the readings of your shop file last changed: what you read is held against that. If you \
             measured a later print, add --printed-since.\n",
            self.pdf.display()
        )
    }
}

/// The last print of the one piece in this folder, of those that are corrected by the shop file.
pub struct Last {
    /// The piece.
    pub piece: PathBuf,
    /// The print.
    pub pdf: PathBuf,
    /// For which printer it was corrected.
    pub printer: Printer,
}

impl Last {
    /// That which lies here; `None` where there are no or several pieces, no record lies beside a print, or the piece says itself what its
    /// printer's bars read.
    pub fn at_hand(asked: &Shop, file: &ShopFile, files: &Files) -> Option<Last> {
        let piece = only_project().ok()?;
        let input = input(asked, &piece, file);
        let project = project(&input, files, &mut std::io::sink()).ok()?;
        let whole = output_file((&input, files), &project.variants, None, "pdf", &["pdf"]).ok()?;
        let last = records::last(&whole, files).filter(|_| project.readings_from != Some(ReadingsFrom::Piece))?;
        let printer = corrected_for(&last);
        Some(Last { piece, pdf: last.pdf, printer })
    }
}

fn input(asked: &Shop, piece: &Path, file: &ShopFile) -> Input {
    Input { file: piece.to_owned(), variant: asked.variant.clone(), shop: file.named(), font: Vec::new() }
}

/// The printer for which a print was corrected.
fn corrected_for(lying: &Lying) -> Printer {
    let [across, up] = lying.record.correction.map(Correction);
    Printer { across, up }
}
