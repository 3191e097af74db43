//! The shop worked out.

use super::field_problem::{FieldProblem, Ranged};
use super::part_problem::TextProblem;
use super::raw::{AllowancesText, CollarText, CutterText, MortiserText, PlotterText, PrinterText, ShopText};
use super::resolve::Resolver;
use super::transposed;
use super::value::{Named, Written};
use crate::finding::{Amount, Finding, Place, Ratio, Unit};
use crate::model::{
    Allowances, Collar, Cutter, Mortiser, Orientation, Paper, PlotText, Plotter, PrinterCorrection, Shop,
    USUAL_GAUGE, USUAL_PLAY,
};
use crate::units::{Length, MM_PER_INCH, Notation, Units};

/// Length of the bars drawn on every sheet, mm.
const BAR: f64 = 100.0;
/// No printer is off by more than this share: a larger reading is of another bar, or of a sheet fitted to its page.
/// Rounding of the ends 90 mm and 110 mm is let pass.
const LARGEST_ERROR: f64 = 0.1 + 1e-9;
/// The least that must be left of a sheet inside its margins, mm.
const LEAST_PRINTED: f64 = 20.0;
/// The finest fraction of an inch unless the shop says otherwise.
const USUAL_DENOMINATOR: u32 = 32;

/// The smallest fraction of an inch to show, before anything else is known.
pub fn denominator(shop: Option<&ShopText>) -> u32 {
    shop.and_then(|shop| shop.denominator).map_or(USUAL_DENOMINATOR, |denominator| denominator.0)
}

/// The step to which derived millimetres are shown, before anything else is known.
pub fn step(shop: Option<&ShopText>) -> Length {
    shop.and_then(|shop| shop.step).map_or(Notation::default().step, |step| Length::from_mm(step.0))
}

/// Works the shop out.
pub fn shop(written: Option<&ShopText>, resolver: &mut Resolver) -> Option<Shop> {
    let units = resolver.notation.units;
    let place = Place::pointer("/shop");
    let paper = paper(written, units, &place, resolver);
    let (usual_margin, usual_overlap) = match units {
        Units::Mm => (Length::from_mm(10.0), Length::from_mm(15.0)),
        Units::Inch => (Length::from_inches(0.375), Length::from_inches(0.625)),
    };
    let margin = resolver.optional_length(written.and_then(|w| w.margin.as_ref()));
    let overlap = resolver.optional_length(written.and_then(|w| w.overlap.as_ref()));
    let gauge = resolver.optional_length(written.and_then(|w| w.gauge.as_ref()));
    let play = resolver.optional_length(written.and_then(|w| w.play.as_ref()));
    let allowances = allowances(written.and_then(|w| w.allowances.as_ref()), resolver);
    let printer = printer(written.and_then(|w| w.printer.as_ref()), resolver);
    let plotter = plotter(written.and_then(|w| w.plotter.as_ref()), resolver);
    let cutters = named(written.and_then(|w| w.cutters.as_ref()), |text| cutter(text, resolver));
    let collars = named(written.and_then(|w| w.collars.as_ref()), |text| collar(text, resolver));
    let mortiser =
        written.and_then(|w| w.mortiser.as_ref()).map(|text| mortiser(text, &place.child("mortiser"), resolver));
    let shop = Shop {
        paper: paper?,
        orientation: written.and_then(|w| w.orientation).unwrap_or(Orientation::Auto),
        margin: margin?.unwrap_or(usual_margin),
        overlap: overlap?.unwrap_or(usual_overlap),
        printer: printer?,
        denominator: denominator(written),
        plotter: plotter?,
        cutters: cutters?,
        collars: collars?,
        mortiser: transposed(mortiser)?,
        gauge: gauge?.unwrap_or(USUAL_GAUGE),
        play: play?.unwrap_or(USUAL_PLAY),
        allowances: allowances?,
    };
    // Where a part of the shop could not be read, the usual one stands in its place: what that means for the sheet is no news.
    if resolver.told_at(&place) {
        return None;
    }
    check_sheet(&shop, &place, resolver).then_some(shop)
}

fn paper(written: Option<&ShopText>, units: Units, shop: &Place, resolver: &mut Resolver) -> Option<Paper> {
    let Some(text) = written.and_then(|w| w.paper.as_ref()) else { return Some(Paper::usual(units)) };
    match Paper::read(text) {
        Ok(paper) => Some(paper),
        Err(bad) => resolver.refuse(Finding::of(TextProblem::UnknownPaper { why: bad }, shop.child("paper"))),
    }
}

fn allowances(written: Option<&AllowancesText>, resolver: &mut Resolver) -> Option<Allowances> {
    let saw = resolver.optional_length(written.and_then(|w| w.saw.as_ref()));
    let plane = resolver.optional_length(written.and_then(|w| w.plane.as_ref()));
    let ends = resolver.optional_length(written.and_then(|w| w.ends.as_ref()));
    let usual = Allowances::usual(resolver.notation.units);
    Some(Allowances {
        saw: saw?.unwrap_or(usual.saw),
        plane: plane?.unwrap_or(usual.plane),
        ends: ends?.unwrap_or(usual.ends),
    })
}

fn printer(written: Option<&PrinterText>, resolver: &mut Resolver) -> Option<PrinterCorrection> {
    let across = factor(written.and_then(|w| w.bar_across.as_ref()), resolver);
    let up = factor(written.and_then(|w| w.bar_up.as_ref()), resolver);
    Some(PrinterCorrection { across: across?, up: up? })
}

fn plotter(written: Option<&PlotterText>, resolver: &mut Resolver) -> Option<Plotter> {
    let bed = match written.and_then(|w| w.bed.as_ref()) {
        Some(bed) => {
            let corner = resolver.point(bed)?;
            Some((Length::from_mm(corner.x), Length::from_mm(corner.y)))
        }
        None => None,
    };
    Some(Plotter { bed, text: written.and_then(|w| w.text).unwrap_or(PlotText::Strokes) })
}

fn mortiser(written: &MortiserText, place: &Place, resolver: &mut Resolver) -> Option<Mortiser> {
    let reach = resolver.length(&written.reach);
    let angles = written.angles.as_ref().map(|angles| {
        let (from, to) = (resolver.angle(&angles.0.0), resolver.angle(&angles.0.1));
        let (from, to) = (from?, to?);
        if from > to {
            let problem = TextProblem::AnglesReversed { from, to };
            return resolver.refuse(Finding::of(problem, place.child("angles")));
        }
        Some([from, to])
    });
    let depth = resolver.optional_length(written.depth.as_ref());
    let height = resolver.optional_length(written.height.as_ref());
    Some(Mortiser { reach: reach?, angles: transposed(angles)?, depth: depth?, height: height? })
}

fn cutter(written: &CutterText, resolver: &mut Resolver) -> Option<Cutter> {
    let diameter = resolver.length(&written.diameter);
    let bearing = resolver.optional_length(written.bearing.as_ref());
    let length = resolver.optional_length(written.length.as_ref());
    let reach = resolver.optional_length(written.reach.as_ref());
    let (diameter, bearing, length) = (diameter?, bearing?, length?);
    Some(Cutter { diameter, bearing, bearing_at: written.bearing_at, length, reach: reach? })
}

fn collar(written: &CollarText, resolver: &mut Resolver) -> Option<Collar> {
    let diameter = resolver.length(&written.diameter);
    let projection = resolver.optional_length(written.projection.as_ref());
    Some(Collar { diameter: diameter?, projection: projection? })
}

/// Reads every named thing, so that all that is wrong is told.
fn named<W, T>(written: Option<&Named<W>>, mut read: impl FnMut(&W) -> Option<T>) -> Option<Vec<(String, T)>> {
    let all: Vec<Option<(String, T)>> = written
        .map_or(&[][..], |named| named.0.as_slice())
        .iter()
        .map(|(name, written)| read(written).map(|value| (name.clone(), value)))
        .collect();
    all.into_iter().collect()
}

/// Whether margins and overlap leave something of the sheet to print on.
fn check_sheet(shop: &Shop, place: &Place, resolver: &mut Resolver) -> bool {
    let (sheet, side) = match &shop.paper {
        Paper::Sheet { name, width, .. } => (Some(name.clone()), *width),
        Paper::Roll { width } => (None, *width),
    };
    let printed = side - shop.margin * 2.0;
    if printed.mm() < LEAST_PRINTED {
        let most = (side - Length::from_mm(LEAST_PRINTED)) / 2.0;
        let problem = TextProblem::MarginsWide { sheet, side, margin: shop.margin, largest: most };
        resolver.findings.push(Finding::of(problem, place.child("margin")));
        return false;
    }
    // Each sheet must carry the drawing on by at least half of what is printed on it.
    let most = printed / 2.0;
    if shop.overlap > most {
        let problem = TextProblem::OverlapWide { sheet, printed, overlap: shop.overlap, largest: most };
        resolver.findings.push(Finding::of(problem, place.child("overlap")));
        return false;
    }
    true
}

/// By what the printer's lengths are to be multiplied, from what a bar reads: one that reads inches was the 4 in bar.
fn factor(reading: Option<&Written>, resolver: &mut Resolver) -> Option<f64> {
    let Some(written) = reading else { return Some(1.0) };
    let inches = resolver.in_inches(written);
    // How far a reading may be off depends on the bar, and is told with it.
    let length = resolver.length(&Written { range: (f64::MIN, f64::MAX), ..written.clone() })?;
    let true_length = if inches { 4.0 * MM_PER_INCH } else { BAR };
    let error = length.mm() / true_length - 1.0;
    if error.abs() > LARGEST_ERROR {
        let (what, value) = (Ranged::Bar(inches, length), Some(Amount(length.mm(), Unit::Mm)));
        let problem = FieldProblem::OutOfRange { what, value, smallest: None, largest: None };
        return resolver.refuse(Finding::of(problem, written.place.clone()));
    }
    // A reading in the units of the project can be of one bar only; what a mixed shop means is worth a word.
    if inches || resolver.notation.units == Units::Inch {
        let factor = Ratio(true_length / length.mm());
        let problem = TextProblem::BarTaken { inches, reading: length, factor };
        resolver.findings.push(Finding::of(problem, written.place.clone()));
    }
    Some(true_length / length.mm())
}
