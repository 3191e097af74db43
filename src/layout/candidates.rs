//! The sheets that a paper offers for a pattern.

use super::furniture::least_for_bar;
use super::tile::Setup;
use crate::geometry::Rect;
use crate::model::{Orientation, Paper, ReadingsFrom, Shop};
use crate::tolerance::ROUNDED_SHARE;

/// The longest page that viewers show at its true size, mm (14,400 units of 1/72 in: PDF Reference 1.6, implementation
/// note 171).
pub const LONGEST_PAGE: f64 = 5080.0;

/// The printer's correction along x and along y of a page. A printer feeds a landscape page turned, and a roll along its
/// length: what is across the paper for the printer is not always x.
pub fn correction(shop: &Shop, page_size: (f64, f64)) -> (f64, f64) {
    let (across, up) = (shop.printer.across.0, shop.printer.up.0);
    if across_is_x(shop, page_size) { (across, up) } else { (up, across) }
}

/// What the bar that lies on a page is called, and the one that stands, by which of the printer's readings each gives.
pub fn bar_names(shop: &Shop, page_size: (f64, f64)) -> [&'static str; 2] {
    if across_is_x(shop, page_size) { ["across", "up"] } else { ["up", "across"] }
}

/// Whether what is across the paper for the printer is x.
pub fn across_is_x(shop: &Shop, (width, height): (f64, f64)) -> bool {
    match &shop.paper {
        Paper::Sheet { .. } => width <= height,
        Paper::Roll { width: roll } => (width - roll.mm()).abs() < (height - roll.mm()).abs(),
    }
}

/// For which printer a print is corrected: `a printer that draws 0.60 % short across and true up`; `None` where it is for none.
pub fn printer_corrected(shop: &Shop) -> Option<String> {
    let factors = [shop.printer.across.0, shop.printer.up.0];
    let is_corrected = factors.iter().any(|factor| (factor - 1.0).abs() > ROUNDED_SHARE);
    let [across, up] = factors.map(|factor| match format!("{:+.2}", (1.0 / factor - 1.0) * 100.0).split_at(1) {
        (_, "0.00") => "true".to_owned(),
        ("-", share) => format!("{share} % short"),
        (_, share) => format!("{share} % long"),
    });
    is_corrected.then(|| format!("a printer that draws {across} across and {up} up"))
}

/// Words that say the print is corrected already, and how to tell a further reading; `None` where it is not.
pub fn corrected_words(setup: &Setup) -> Option<String> {
    let printer = printer_corrected(setup.shop)?;
    let (whose, cure) = match setup.readings_from {
        Some(ReadingsFrom::Named(file)) => {
            (format!("as {file} says, "), measured_again(&format!(" --shop {}", in_words(file))))
        }
        Some(ReadingsFrom::Own) => ("as your shop file says, ".to_owned(), measured_again("")),
        // The shop file, which takes readings one after the other, does not go before the piece's own.
        _ => (
            "as the piece's own file says, ".to_owned(),
            "write the reading that stands there times the new one, over what the bar says".to_owned(),
        ),
    };
    Some(format!("This print is corrected, {whose}for {printer}. If a bar still is not as long as it says, {cure}."))
}

/// How a reading of a corrected print is told to a shop file.
fn measured_again(which: &str) -> String {
    format!(
        "type  fullsize shop{which} --measured \"bar across=…\"  with what it reads (or \"bar up=…\"), by the name in quotes at that bar"
    )
}

/// A file's name as one word of a command.
fn in_words(name: &str) -> String {
    if name.contains(' ') { format!("\"{name}\"") } else { name.to_owned() }
}

/// The command by which what bars read is written down, where it goes before all else that is said of the printer.
pub fn command_for(from: Option<&ReadingsFrom>) -> String {
    match from {
        Some(ReadingsFrom::Piece) => "fullsize set FILE".to_owned(),
        Some(ReadingsFrom::Named(file)) => format!("fullsize shop --shop {}", in_words(file)),
        Some(ReadingsFrom::Own) | None => "fullsize shop".to_owned(),
    }
}

/// Page sizes (width, height in mm) to try for a pattern of the given bounds, the first to be preferred among equals.
/// `furniture` is how much wider and higher a page is than what it shows of the pattern.
pub fn page_sizes(shop: &Shop, bounds: Rect, furniture: (f64, f64)) -> Vec<(f64, f64)> {
    match &shop.paper {
        Paper::Sheet { width, height, .. } => {
            let (width, height) = (width.mm(), height.mm());
            match shop.orientation {
                Orientation::Portrait => vec![(width, height)],
                Orientation::Landscape => vec![(height, width)],
                Orientation::Auto => vec![(width, height), (height, width)],
            }
        }
        Paper::Roll { width } => {
            let long = |length: f64| length.min(LONGEST_PAGE);
            // A short pattern has a page that still holds a rule bar along it; what is drawn runs up the roll as it would up a sheet.
            let shown = |length: f64| length.max(least_for_bar());
            let long = |length: f64| long(length * shop.printer.up.0);
            let across = (long(shown(bounds.width()) + furniture.0), width.mm());
            let along = (width.mm(), long(shown(bounds.height()) + furniture.1));
            vec![across, along]
        }
    }
}
