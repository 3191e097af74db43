//! What was measured on a print, put into the shop file.
//!
//! A reading says how a print differs from what is drawn, and a print is drawn for a printer: each reading is held against the correction that
//! its print had, as the record beside it says. Nothing is written by one diagonal alone, which cannot tell the printer from the taping, nor by
//! diagonals that contradict what was read before: the bars of a sheet decide.

mod counted;
mod print;
mod taped;
mod written;

use super::ShopFile;
use super::bars::{Bars, TellBy};
use crate::cli::args::{Input, Shop};
use crate::cli::files::{Files, ReadAs, only_project};
use crate::cli::load::{Stopped, load, paper, say as say_findings};
use crate::cli::output::{Trouble, harmless, program, say, typed};
use crate::finding::and;
use crate::job::Job;
use crate::layout::Stretch;
use crate::model::{Printer, ReadingsFrom, RuleBar, Shop as ShopModel};
use crate::project::read_shop;
use crate::tolerance::{SAME_CORRECTION, SAME_POINT};
use crate::units::{Fault, Length, Notation, Sum, Units, with_points};
use counted::{Prints, counted_already, earlier};
use print::Print;
use std::io::Write;
use std::path::{Path, PathBuf};
use taped::{Taped, Verdict};
pub(super) use written::{PRINTER, Way};
use written::{Reading, write};

/// How far a reading of a bar may be off on a rule of half millimetres, whose one end lies at the rule's own: a quarter, mm.
const BAR_ERROR: f64 = 0.25;

/// The bar as whose reading a correction is written down where none was measured: that of the smallest usual sheets.
const USUAL_BAR: RuleBar = RuleBar::ALL[1];

/// What was measured.
enum Told {
    /// A bar, up or else across, and its reading.
    Bar { is_up: bool, reading: String },
    /// The distance of two ringed crosses, by their names as they were written.
    Crosses { names: [String; 2], reading: String },
}

/// Runs `shop --measured`.
pub fn run(
    asked: &Shop,
    file: &ShopFile,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let told = asked.measured.iter().map(|words| Told::read(words)).collect::<Result<Vec<_>, _>>()?;
    let bars: Vec<(bool, &str)> = told.iter().filter_map(Told::bar).collect();
    let crosses: Vec<(&[String; 2], &str)> = told.iter().filter_map(Told::crosses).collect();
    match (bars.as_slice(), crosses.as_slice()) {
        (bars, []) => of_bars(asked, bars, file, files, out, err),
        ([], crosses) => of_crosses(asked, crosses, file, files, out, err),
        _ => Err(Trouble::new("bars and diagonals tell the same thing twice: give one or the other").into()),
    }
}

impl Told {
    fn read(words: &str) -> Result<Told, Trouble> {
        let unclear = || {
            Trouble::new(format!(
                "\"{words}\" tells no measure; write P-Q=1759 for the distance from ringed cross P to Q, or \"bar across=149.8\""
            ))
        };
        let (name, reading) = words.split_once('=').ok_or_else(unclear)?;
        let (name, reading) = (name.trim().to_lowercase(), reading.trim().to_owned());
        if reading.is_empty() {
            return Err(unclear());
        }
        match name.trim_start_matches("bar").trim_end_matches("bar").trim_matches([' ', '_', '"']) {
            "across" => return Ok(Told::Bar { is_up: false, reading }),
            "up" => return Ok(Told::Bar { is_up: true, reading }),
            "lying" | "standing" => {
                return Err(Trouble::new(format!(
                    "which reading of the printer that bar gives hangs on how the sheet went through it: take the name in quotes that stands at \
                     the bar, \"bar across={reading}\" or \"bar up={reading}\""
                )));
            }
            _ => {}
        }
        let parts: Vec<String> = name
            .replace(" to ", "-")
            .split(['-', '–'])
            .map(|part| part.trim().to_uppercase())
            .filter(|part| !part.is_empty())
            .collect();
        <[String; 2]>::try_from(parts).map(|names| Told::Crosses { names, reading }).map_err(|_| unclear())
    }

    fn bar(&self) -> Option<(bool, &str)> {
        if let Told::Bar { is_up, reading } = self { Some((*is_up, reading)) } else { None }
    }

    fn crosses(&self) -> Option<(&[String; 2], &str)> {
        if let Told::Crosses { names, reading } = self { Some((names, reading)) } else { None }
    }
}

/// A length as it was typed, and whether it was told in inches.
pub(super) fn length(words: &str, units: Units) -> Result<(Length, bool), Trouble> {
    let unclear =
        || Trouble::new(format!("\"{words}\" is no length; write for example 1759, 1759.5 mm or 69 1/4 in"));
    let two_ways = |fault: Fault| Trouble::new(format!("{}: nothing was written", fault.kind.said().in_one_line()));
    let sum = Sum::read(&with_points(words).map_err(two_ways)?).map_err(|_| unclear())?;
    let value = sum.value(Some(units), |_| None).map_err(|_| unclear())?;
    let length = value.to_length(Some(units)).map_err(|_| unclear())?;
    Ok((length, sum.written_units().unwrap_or(units) == Units::Inch))
}

/// Refuses a print that was scaled.
fn refuse_scaled(what: &str, share: f64) -> Result<(), Trouble> {
    if share.abs() <= Printer::LARGEST_ERROR {
        return Ok(());
    }
    Err(not_written(scaled(what, share)))
}

/// Why something was refused, and that it changed nothing.
pub(super) fn not_written(why: String) -> Trouble {
    Trouble::new(format!("{why}. Nothing was written"))
}

/// That something is off by a share of its length by which none but a scaled print is.
pub(super) fn scaled(what: &str, share: f64) -> String {
    let off = share.abs() * 100.0;
    let way = if share > 0.0 { "long" } else { "short" };
    format!(
        "{what} is {off:.1} % too {way}, and no printer or paper does so much: a scaling setting (\"fit to page\") was left on, or another \
         line was measured. Print page 1 again at 100 % (\"actual size\") and lay a rule on its bars"
    )
}

/// Mends the readings of the shop file by what bars of a print read, held against what that print was corrected for.
fn of_bars(
    asked: &Shop,
    bars: &[(bool, &str)],
    file: &ShopFile,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let (shop, notation) = shop_of(file, files, err)?;
    let print = asked.piece.as_ref().map(|piece| Print::of(asked, (piece, file), files)).transpose()?;
    let mut on = print.as_ref().map_or_else(|| shop.clone(), |print| print.shop.clone());
    on.paper = paper(asked.paper.as_deref(), notation.units)?.unwrap_or(on.paper);
    let on = Bars::of(&on, &notation, TellBy::Measured);
    let older = print.as_ref().and_then(|print| print.older_than(&shop));
    // What a print is corrected for that has a record is known.
    let is_open = older.is_none() && !asked.printed_since && !print.as_ref().is_some_and(Print::is_known);
    let prints = if is_open { Some(Prints::of(asked, file, files)?) } else { None };
    let made_for = ShopModel { printer: older.unwrap_or(shop.printer), ..shop.clone() };
    let (mut readings, mut confirmed) = (Vec::new(), Vec::new());
    for (is_up, reading) in bars {
        on.believe(Way::of(*is_up), reading).map_err(not_written)?;
        let (read, inches) = length(reading, notation.units)?;
        let bar = RuleBar::read(read, inches);
        let (way, drawn) = (Way::of(*is_up), bar.side(inches).mm());
        let name = way.bar();
        let share = read.mm() / drawn - 1.0;
        refuse_scaled(&format!("the {name}"), share)?;
        let now = drawn * way.factor(&made_for.printer) / way.factor(&shop.printer);
        match older {
            // That it reads just as the shop file says is counted already.
            Some(_) if (now - read.mm()).abs() <= BAR_ERROR && (now - drawn).abs() > BAR_ERROR => {
                return Err(counted_already(name).into());
            }
            Some(_) => {}
            None => prints.iter().try_for_each(|prints| prints.refuse(way, (drawn, read.mm()), &shop.printer))?,
        }
        let factor = way.factor(&made_for.printer);
        let is_same = |other: f64| (factor - other).abs() <= SAME_CORRECTION;
        let is_true = (read.mm() - drawn).abs() <= SAME_POINT;
        if is_true && !is_same(1.0) && is_same(way.factor(&shop.printer)) {
            confirmed.push(format!("the {name}"));
            continue;
        }
        readings.push(match (factor - 1.0).abs() <= SAME_CORRECTION {
            true => Reading::typed(way, (reading, is_true), notation.units),
            false => {
                let [read, drawn] = [read, Length::from_mm(drawn)].map(|length| notation.exact(length));
                let how = format!("{read} was read where {drawn} was drawn");
                Reading::worked_out(way, (bar, inches), factor / (1.0 + share), (&how, &made_for))
            }
        });
    }
    if let Some(print) = &print {
        say(out, harmless(&print.words(&shop)).as_bytes())?;
    }
    say(out, confirmed_words(&confirmed, readings.is_empty()).as_bytes())?;
    if readings.is_empty() {
        return Ok(());
    }
    write(file, readings, notation.units, files, (out, err))
}

/// That bars of a corrected print read what they say, and whether that is all there was to tell.
fn confirmed_words(bars: &[String], is_all: bool) -> String {
    let nothing = if is_all { " Nothing was written." } else { "" };
    let (read, it) = if bars.len() == 1 { ("reads", "it") } else { ("read", "they") };
    match bars {
        [] => String::new(),
        bars => format!(
            "What {} {read} is what {it} should: what your shop file corrects for is right there, and stays.{nothing}\n",
            and(bars)
        ),
    }
}

/// What the shop file says by itself.
fn shop_of(file: &ShopFile, files: &Files, err: &mut dyn Write) -> Result<(ShopModel, Notation), Stopped> {
    let bytes = if file.path.exists() { files.bytes(&file.regular()?, ReadAs::Shop)? } else { b"{}".to_vec() };
    let reading = read_shop(&file.path.to_string_lossy(), &bytes);
    say_findings(&reading.findings, &reading.sources, err);
    let project = reading.project.ok_or(Stopped::ByFinding)?;
    Ok((project.shop, project.notation))
}

/// Mends the readings of the shop file by diagonals of a taped pattern.
fn of_crosses(
    asked: &Shop,
    crosses: &[(&[String; 2], &str)],
    file: &ShopFile,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let piece = asked.piece.clone().map_or_else(|| at_hand(asked), Ok)?;
    let input = Input { file: piece.clone(), variant: asked.variant.clone(), shop: file.named(), font: Vec::new() };
    let mut loaded = load(&input, files, err)?;
    if let Some(paper) = paper(asked.paper.as_deref(), loaded.job.project().notation.units)? {
        loaded.job.set_paper(paper);
    }
    let print = Print::of(asked, (&piece, file), files)?;
    let is_own = loaded.job.project().readings_from != Some(ReadingsFrom::Piece);
    if !asked.printed_since && is_own && print.older_than(&loaded.job.project().shop).is_none() {
        refuse_counted_crosses(asked, crosses, &mut loaded.job, &earlier(file, files)?)?;
    }
    let now = loaded.job.project().shop.clone();
    let older = print.older_than(&now);
    if let Some(made_for) = older {
        loaded.job.set_printer(made_for);
    }
    let job = &loaded.job;
    let sheets = job.sheets(loaded.job.patterns_named(&[])?)?;
    let taped = Taped::of(asked, crosses, job, &sheets)?;
    let project = job.project();
    let shop = &project.shop;
    if older.is_some_and(|made_for| taped.reads_as_of(&made_for, (&now.printer, shop))) {
        return Err(counted_already(&taped.first()).into());
    }
    let report = taped.report(&again(asked, crosses, file))?;
    say(out, harmless(&format!("{}{}", print.words(&now), report.words)).as_bytes())?;
    let is_corrected = shop.printer != Printer::TRUE;
    let contradicts = match report.verdict {
        Verdict::Open => return Ok(()),
        Verdict::True if older.is_none() => return Ok(()),
        Verdict::True => true,
        Verdict::Off => {
            older.is_some()
                || is_corrected && !asked.printed_since && report.stretch.largest() > REFINED + taped.in_doubt()
        }
    };
    if contradicts {
        return Ok(say(out, harmless(&otherwise(&piece, file)).as_bytes())?);
    }
    let readings = worked_out(&taped, report.stretch, shop, project.notation.units);
    write(file, readings, project.notation.units, files, (out, err))?;
    if project.readings_from == Some(ReadingsFrom::Piece) {
        let words = format!(
            "But {} says itself what its printer's bars read, and that goes before: take it away with  fullsize set {} shop.printer=none\n",
            piece.display(),
            typed(&piece)
        );
        say(out, harmless(&words).as_bytes())?;
    }
    Ok(())
}

/// By so much more than a rule leaves in doubt may diagonals of a corrected print differ from what is drawn and still say more exactly what a
/// bar said before them: what a quarter of a millimetre is on a bar of 150. Beyond it the two contradict each other.
const REFINED: f64 = BAR_ERROR / 150.0;

/// That a reading says otherwise than the one before it, and what decides between the two.
fn otherwise(piece: &Path, file: &ShopFile) -> String {
    let shop = if file.is_own { String::new() } else { format!(" --shop {}", typed(&file.path)) };
    format!(
        "What your shop file corrects for says otherwise: one of the two readings is off, as they are of sheets that are taped askew, with gaps, \
         or on other crosses. Nothing was written. No tape moves the bars of a sheet: lay a steel rule on those of any one sheet of this print, \
         and tell what they read, in place of both:\n  {} shop{shop} --measured \"bar across=…\" --measured \"bar up=…\" --in {}\n",
        program(),
        typed(piece)
    )
}

/// What the bars of an uncorrected print would read, by what the diagonals of a taped pattern do.
fn worked_out(taped: &Taped, stretch: Stretch, shop: &ShopModel, units: Units) -> Vec<Reading> {
    let corrected = stretch.corrected(shop, taped.plan);
    let mut bars = taped.plan.bars().map(|bar| bar.unwrap_or(USUAL_BAR));
    if !Stretch::lies_across(shop, taped.plan) {
        bars.reverse();
    }
    let how = format!("worked out of {} of {}", taped.told(), taped.pattern.part.name);
    let moved = |(way, bar): (Way, RuleBar)| {
        let factor = way.factor(&corrected);
        let is_moved = (factor - way.factor(&shop.printer)).abs() > SAME_CORRECTION;
        is_moved.then(|| Reading::worked_out(way, (bar, units == Units::Inch), factor, (&how, shop)))
    };
    Way::BOTH.into_iter().zip(bars).filter_map(moved).collect()
}

/// The command that tells readings again.
fn again(asked: &Shop, crosses: &[(&[String; 2], &str)], file: &ShopFile) -> String {
    let mut words = format!("{} shop", program());
    if !file.is_own {
        words.push_str(&format!(" --shop {}", typed(&file.path)));
    }
    for (name, value) in [("of", &asked.of), ("variant", &asked.variant), ("paper", &asked.paper)] {
        words.extend(value.iter().map(|value| format!(" --{name} {}", typed(Path::new(value)))));
    }
    words.extend(asked.piece.iter().map(|piece| format!(" --in {}", typed(piece))));
    for ([a, b], reading) in crosses {
        words.push_str(&format!(" --measured {}", typed(Path::new(&format!("{a}-{b}={reading}")))));
    }
    words
}

/// Refuses readings of a print that was made before earlier ones were counted. Its sheets may lie otherwise, so that they are laid
/// again as they were.
fn refuse_counted_crosses(
    asked: &Shop,
    crosses: &[(&[String; 2], &str)],
    job: &mut Job,
    earlier: &[Printer],
) -> Result<(), Stopped> {
    let is = job.project().shop.printer;
    let mut found = None;
    for made_for in earlier.iter().filter(|printer| **printer != is) {
        job.set_printer(*made_for);
        let sheets = job.sheets(job.patterns_named(&[])?)?;
        // A print that had no such crosses is not the one.
        let Ok(taped) = Taped::of(asked, crosses, job, &sheets) else { continue };
        if taped.reads_as_of(made_for, (&is, &job.project().shop)) {
            found = Some(taped.first());
            break;
        }
    }
    job.set_printer(is);
    found.map_or(Ok(()), |what| Err(counted_already(&what).into()))
}

/// The one piece in this folder.
fn at_hand(asked: &Shop) -> Result<PathBuf, Trouble> {
    only_project().map_err(|several| {
        let of = asked.of.as_deref().map_or_else(String::new, |of| format!(" that \"{of}\" is a part of"));
        Trouble::new(format!("which piece was printed? Name the file{of} with --in FILE{several}"))
    })
}
