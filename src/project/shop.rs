//! The shop as the file has it, and worked out.

use super::field::{Field, Read, Reader};
use super::field_problem::{Expected, FieldProblem, Ranged};
use super::given::{Given, given};
use super::json::{Node, Value};
use super::part_problem::TextProblem;
use super::resolve::Resolver;
use super::value::{Pair, Written};
use crate::finding::{Amount, Finding, Place, Ratio, Unit};
use crate::model::{
    Allowances, BearingAt, Collar, Correction, Cutter, Denominator, Mortiser, Orientation, Paper, PlotText, Plotter,
    Printer, RuleBar, Shop, Step, allowances, collar, cutter, mortiser, plotter, printer, shop,
};
use crate::tolerance::ROUNDED_SHARE;
use crate::units::{Angle, Length, Units};
use serde_json::{Map, Value as Json, json};

/// A larger share than this is no printer's error; rounding of the ends is let pass.
const LARGEST_ERROR: f64 = Printer::LARGEST_ERROR + ROUNDED_SHARE;

/// The least that must be left of a sheet inside its margins, mm.
const LEAST_PRINTED: f64 = 20.0;

shop!(given);

allowances!(given);

printer!(given);

plotter!(given);

cutter!(given);

collar!(given);

mortiser!(given);

/// The smallest fraction of an inch to show, before anything else is known.
pub fn denominator(shop: Option<&ShopText>) -> u32 {
    shop.and_then(|shop| shop.denominator).unwrap_or(Denominator::USUAL).0
}

/// The step to which derived millimetres are shown, before anything else is known.
pub fn step(shop: Option<&ShopText>) -> Length {
    Length::from_mm(shop.and_then(|shop| shop.step).unwrap_or(Step::USUAL).0)
}

/// Works the shop out; one of which nothing is written is the usual one.
pub fn shop(written: Option<&ShopText>, resolver: &mut Resolver) -> Option<Shop> {
    let place = Place::pointer("/shop");
    let nothing = Shop::of_nothing();
    let shop = Shop::work_out(written.or(nothing.as_ref())?, resolver)?;
    // Where a part of the shop could not be read, the usual one stands in its place: what that means for the sheet is no news.
    if resolver.told_at(&place) {
        return None;
    }
    check_sheet(&shop, &place, resolver).then_some(shop)
}

/// A paper as written, where, and in which of the texts.
#[derive(Debug, Clone)]
pub struct PaperText(String, Place, usize);

impl Read for PaperText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        let (place, source) = (Place::pointer(reader.place(node.span).pointer), usize::from(node.span.source));
        String::read(node, field, reader).map(|text| PaperText(text, place, source))
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        String::schema(field, definitions)
    }
}

impl Given for Paper {
    type Text = PaperText;

    fn work_out(PaperText(text, place, source): &PaperText, resolver: &mut Resolver) -> Option<Self> {
        match Paper::read(text, resolver.units_in(*source).unwrap_or_default()) {
            Ok(paper) => Some(paper),
            Err(why) => resolver.refuse(Finding::of(TextProblem::UnknownPaper { why }, place.clone())),
        }
    }
}

/// The smallest and the largest angle, and where they stand.
#[derive(Debug, Clone)]
pub struct AnglesText(Pair, Place);

impl Read for AnglesText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::List(_) => Pair::read(node, field, reader)
                .map(|pair| AnglesText(pair, Place::pointer(reader.place(node.span).pointer))),
            _ => reader.wrong_kind(node, Expected::AnglePair),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        Pair::schema(field, definitions)
    }
}

impl Given for [Angle; 2] {
    type Text = AnglesText;

    fn work_out(AnglesText(Pair(from, to), place): &AnglesText, resolver: &mut Resolver) -> Option<Self> {
        let (from, to) = (resolver.angle(from), resolver.angle(to));
        let (from, to) = (from?, to?);
        if from > to {
            return resolver.refuse(Finding::of(TextProblem::AnglesReversed { from, to }, place.clone()));
        }
        Some([from, to])
    }
}

impl Given for Denominator {
    type Text = Denominator;

    fn work_out(text: &Denominator, _: &mut Resolver) -> Option<Self> {
        Some(*text)
    }
}

impl Read for Denominator {
    fn read(node: &Node, _: &'static Field, reader: &mut Reader) -> Option<Self> {
        let Value::Number(number) = node.value else { return reader.wrong_kind(node, Expected::Denominator) };
        match Denominator::ALL.into_iter().find(|parts| f64::from(*parts) == number) {
            Some(parts) => Some(Denominator(parts)),
            None => {
                let number = Amount(number, Unit::Plain);
                reader.refuse(FieldProblem::BadDenominator { number }, node.span)
            }
        }
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "enum": Denominator::ALL })
    }
}

impl Given for Step {
    type Text = Step;

    fn work_out(text: &Step, _: &mut Resolver) -> Option<Self> {
        Some(*text)
    }
}

impl Read for Step {
    fn read(node: &Node, _: &'static Field, reader: &mut Reader) -> Option<Self> {
        let Value::Number(number) = node.value else { return reader.wrong_kind(node, Expected::Step) };
        match Step::ALL.contains(&number) {
            true => Some(Step(number)),
            false => {
                let number = Amount(number, Unit::Mm);
                reader.refuse(FieldProblem::BadStep { number }, node.span)
            }
        }
    }

    fn schema(_: &'static Field, _: &mut Map<String, Json>) -> Json {
        json!({ "enum": Step::ALL })
    }
}

/// By what the printer's lengths are to be multiplied, from what a bar reads: one that reads inches was read on its side in inches.
impl Given for Correction {
    type Text = Written;

    fn work_out(written: &Written, resolver: &mut Resolver) -> Option<Self> {
        let inches = resolver.in_inches(written);
        // How far a reading may be off depends on the bar, and is told with it.
        let length = resolver.length(&Written { range: (f64::MIN, f64::MAX), ..written.clone() })?;
        let true_length = RuleBar::read(length, inches).side(inches);
        let error = length.mm() / true_length.mm() - 1.0;
        if error.abs() > LARGEST_ERROR {
            let (what, value) = (Ranged::Bar(inches, length), Some(Amount(length.mm(), Unit::Mm)));
            let problem = FieldProblem::OutOfRange { what, value, smallest: None, largest: None };
            return resolver.refuse(Finding::of(problem, written.place.clone()));
        }
        // A reading in the units of the project, or with its own, can be of one bar only; what a mixed shop means is worth a word.
        if (inches || resolver.notation.units == Units::Inch) && written.sum.written_units().is_none() {
            let factor = Ratio(true_length.mm() / length.mm());
            let problem = TextProblem::BarTaken { inches, reading: length, factor };
            resolver.findings.push(Finding::of(problem, written.place.clone()));
        }
        Some(Correction(true_length.mm() / length.mm()))
    }
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
