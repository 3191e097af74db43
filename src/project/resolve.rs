//! Written quantities to lengths, angles and numbers.

use super::drawing::{Drawings, no_drawings};
use super::field_problem::{FieldProblem, Ranged};
use super::quantity_problem::{QuantityProblem, Unreadable};
use super::value::{Pair, Written, span_inside};
use crate::finding::{Amount, Finding, Names, Offered, Place, Severity, Span, Unit, nearest};
use crate::geometry::Point;
use crate::units::{Angle, Fault, FaultKind, Given, Length, Notation, Quantity, Refusal, Sum, Units, is_unit_name};
use std::collections::BTreeSet;
use std::ops::Range;

/// The largest angle of a named size, degrees.
const LARGEST_ANGLE: f64 = 360.0;

/// Works quantities out, and tells what is wrong with them.
pub struct Resolver<'a> {
    /// The texts read, by source.
    texts: &'a [&'a str],
    /// The units of bare numbers by source; a shop file may not say any.
    units: Vec<Option<Units>>,
    /// How numbers are shown.
    pub notation: Notation,
    /// Where drawings come from.
    pub drawings: Drawings<'a>,
    /// The named sizes; those that are wrong have no value, and were reported.
    sizes: Vec<(String, Option<Quantity>)>,
    /// The names of sizes that something asked for.
    used: BTreeSet<String>,
    /// What was found.
    pub findings: Vec<Finding>,
    /// The lengths that were read.
    given: Vec<Length>,
    /// Whether lengths and angles are worked out as revision codes take them.
    pub settles: bool,
    /// Whether any length or angle so far is not what revision codes take it for.
    pub unsettled: bool,
}

impl<'a> Resolver<'a> {
    /// A resolver that knows no sizes yet. `units` are those of the bare numbers of each text.
    pub fn new(texts: &'a [&'a str], units: Vec<Option<Units>>, notation: Notation) -> Self {
        let (sizes, used, findings, given) = (Vec::new(), BTreeSet::new(), Vec::new(), Vec::new());
        let (drawings, settles, unsettled) = (&no_drawings, false, false);
        Resolver { texts, units, notation, drawings, sizes, used, findings, given, settles, unsettled }
    }

    /// Whether a stop was told about this place or one inside it.
    pub fn told_at(&self, place: &Place) -> bool {
        let inside = |finding: &Finding| {
            finding
                .place
                .pointer
                .strip_prefix(&place.pointer)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
        };
        self.findings.iter().any(|finding| finding.severity == Severity::Stop && inside(finding))
    }

    /// Tells a problem, and that there is no value.
    pub fn refuse<T>(&mut self, finding: Finding) -> Option<T> {
        self.findings.push(finding);
        None
    }

    /// A length within the field's range.
    pub fn length(&mut self, written: &Written) -> Option<Length> {
        let length = self.length_as_written(written)?;
        let settled = length.settled();
        self.unsettled |= length != settled;
        Some(if self.settles { settled } else { length })
    }

    /// A length within the field's range, as it is written.
    fn length_as_written(&mut self, written: &Written) -> Option<Length> {
        let units = self.units_at(written);
        if units == Some(Units::Mm) && self.tell_bare_fraction(written) {
            return None;
        }
        let length = self.converted(written, None, |quantity| quantity.to_length(units))?;
        self.given.push(length);
        self.within(written, Amount(length.mm(), Unit::Mm)).then_some(length)
    }

    /// How numbers are shown, those that were read as they are written.
    pub fn notation_of_given(&self) -> Notation {
        Notation { given: Given::of(self.given.iter().copied()), ..self.notation.clone() }
    }

    /// An angle within the field's range.
    pub fn angle(&mut self, written: &Written) -> Option<Angle> {
        if self.tell_no_angle(written) {
            return None;
        }
        let bare = self.bare_size(written);
        let angle = self.converted(written, bare, Quantity::to_angle)?;
        let settled = angle.settled();
        self.unsettled |= angle != settled;
        let worked_out = if self.settles { settled } else { angle };
        self.within(written, Amount(angle.degrees(), Unit::Degree)).then_some(worked_out)
    }

    /// The size that is all of a value.
    fn bare_size(&self, written: &Written) -> Option<String> {
        let names: Vec<&str> = written.sum.names().map(|(name, _)| name).collect();
        let [name] = names.as_slice() else { return None };
        self.sizes.iter().any(|(size, _)| size == name).then(|| (*name).to_owned())
    }

    /// Tells of a word where an angle belongs: no size is so called, and none is so near that it may be meant.
    fn tell_no_angle(&mut self, written: &Written) -> bool {
        let names: Vec<(&str, _)> = written.sum.names().collect();
        let [(name, range)] = names.as_slice() else { return false };
        let known = || self.sizes.iter().map(|(size, _)| size.as_str());
        if is_unit_name(name) || nearest(name, known()).is_some() {
            return false;
        }
        let why = Unreadable::NoAngle(field_name(&written.place), (*name).to_owned());
        self.faulty(written, range, why);
        true
    }

    /// A plain number within the field's range.
    pub fn number(&mut self, written: &Written) -> Option<f64> {
        let number = self.converted(written, None, Quantity::to_number)?;
        self.within(written, Amount(number, Unit::Plain)).then_some(number)
    }

    /// A point, both of whose coordinates lie within the field's range.
    pub fn point(&mut self, Pair(x, y): &Pair) -> Option<Point> {
        let (x, y) = (self.length(x), self.length(y));
        Some(Point::new(x?.mm(), y?.mm()))
    }

    /// As [`Resolver::length`], where the field is given.
    pub fn optional_length(&mut self, written: Option<&Written>) -> Option<Option<Length>> {
        written.map_or(Some(None), |written| self.length(written).map(Some))
    }

    /// As [`Resolver::angle`], where the field is given.
    pub fn optional_angle(&mut self, written: Option<&Written>) -> Option<Option<Angle>> {
        written.map_or(Some(None), |written| self.angle(written).map(Some))
    }

    /// The usual size in the units that the maker thinks in: so many millimetres, or so many inches.
    pub fn either(&self, mm: f64, inches: f64) -> Length {
        match self.notation.units {
            Units::Mm => Length::from_mm(mm),
            Units::Inch => Length::from_inches(inches),
        }
    }

    fn units_at(&self, written: &Written) -> Option<Units> {
        self.units_in(written.place.span.map_or(0, |span| usize::from(span.source)))
    }

    /// The units that one of the texts says.
    pub fn units_in(&self, source: usize) -> Option<Units> {
        self.units.get(source).copied().flatten()
    }

    /// The quantity as what its field takes; `size` is the one that is all of it, where that may be why it is of another kind.
    fn converted<T>(
        &mut self,
        written: &Written,
        size: Option<String>,
        convert: impl Fn(Quantity) -> Result<T, Refusal>,
    ) -> Option<T> {
        let quantity = self.quantity(written)?;
        match convert(quantity) {
            Ok(value) => Some(value),
            Err(why) => {
                let problem = QuantityProblem::Wrong { why, size: Offered(size) };
                self.refuse(Finding::of(problem, written.place.clone()))
            }
        }
    }

    /// The value as it stands, its kind and range not looked at.
    fn quantity(&mut self, written: &Written) -> Option<Quantity> {
        let mut known = true;
        for (name, range) in written.sum.names() {
            self.used.insert(name.to_owned());
            match self.sizes.iter().find(|(size, _)| size == name) {
                Some((_, Some(_))) => {}
                Some((_, None)) => known = false,
                None => {
                    known = false;
                    let why = self.unknown_size(name);
                    self.faulty(written, &range, why);
                }
            }
        }
        if !known {
            return None;
        }
        match written.sum.value(self.units_at(written), |name| self.known(name)) {
            Ok(quantity) => Some(quantity),
            Err(Fault { range, kind }) => {
                self.faulty(written, &range, Unreadable::Fault(kind));
                None
            }
        }
    }

    fn unknown_size(&self, name: &str) -> Unreadable {
        if is_unit_name(name) {
            return Unreadable::Fault(FaultKind::NumberBefore(name.to_owned()));
        }
        let known = self.sizes.iter().map(|(name, _)| name.as_str());
        Unreadable::UnknownSize(name.to_owned(), Names::instead_of(name, known))
    }

    fn faulty(&mut self, written: &Written, range: &Range<usize>, why: Unreadable) {
        let span = written.place.span.map(|token: Span| span_inside(self.texts, token, range));
        let place = Place { span, ..written.place.clone() };
        self.findings.push(Finding::of(QuantityProblem::Unreadable { why }, place));
    }

    fn within(&mut self, written: &Written, value: Amount) -> bool {
        let (low, high) = written.range;
        let Amount(number, unit) = value;
        // Written so that what is no number passes here as everywhere else.
        if !(number < low || number > high) {
            return true;
        }
        let what = Ranged::Field(field_name(&written.place));
        let [value, smallest, largest] = [number, low, high].map(|number| Some(Amount(number, unit)));
        let problem = FieldProblem::OutOfRange { what, value, smallest, largest };
        self.findings.push(Finding::of(problem, written.place.clone()));
        false
    }

    /// Works the named sizes out, each after those that it needs; a bare number is a length. Sizes that need each other are
    /// told once, with the whole ring.
    pub fn work_out_sizes(&mut self, written: &[(String, Option<Written>)]) {
        // Every name is known from here on; a value follows when it has been worked out.
        self.sizes = written.iter().map(|(name, _)| (name.clone(), None)).collect();
        let mut states = vec![State::Untouched; written.len()];
        for index in 0..written.len() {
            self.work_out(index, written, &mut states, &mut Vec::new());
        }
    }

    fn work_out(
        &mut self,
        index: usize,
        written: &[(String, Option<Written>)],
        states: &mut [State],
        chain: &mut Vec<usize>,
    ) {
        let (Some((_, size)), Some(State::Untouched)) = (written.get(index), states.get(index).copied()) else {
            return;
        };
        set(states, index, State::Begun);
        chain.push(index);
        for (name, _) in size.iter().flat_map(|size| size.sum.names()) {
            let Some(needed) = written.iter().position(|(other, _)| other == name) else { continue };
            match states.get(needed) {
                Some(State::Begun) => self.ring(needed, chain, written),
                _ => self.work_out(needed, written, states, chain),
            }
        }
        chain.pop();
        let value = size.as_ref().and_then(|size| self.size(size));
        if let Some((_, slot)) = self.sizes.get_mut(index) {
            *slot = value;
        }
        set(states, index, State::Done);
    }

    fn size(&mut self, written: &Written) -> Option<Quantity> {
        let quantity = self.quantity(written)?;
        if let Quantity::Angle(angle) = quantity {
            let range = (-LARGEST_ANGLE, LARGEST_ANGLE);
            let written = Written { range, ..written.clone() };
            let fits = self.within(&written, Amount(angle.degrees(), Unit::Degree));
            return fits.then_some(quantity);
        }
        self.length_as_written(written).map(Quantity::Length)
    }

    fn ring(&mut self, first: usize, chain: &[usize], written: &[(String, Option<Written>)]) {
        let start = chain.iter().position(|index| *index == first).unwrap_or(0);
        let ring: Vec<usize> = chain.iter().skip(start).copied().chain([first]).collect();
        let sizes = ring.iter().filter_map(|index| written.get(*index)).map(|(name, _)| name.clone()).collect();
        let Some((_, Some(size))) = written.get(first) else { return };
        self.findings.push(Finding::of(QuantityProblem::Ring { sizes }, size.place.clone()));
    }

    /// Whether a quantity stands in inches: by its own sign, or by the units of its place where it has none.
    pub fn in_inches(&self, written: &Written) -> bool {
        written.sum.written_units().or_else(|| self.units_at(written)) == Some(Units::Inch)
    }

    /// A quantity as it is written, between its quotes; empty for a plain number.
    pub fn text_of(&self, written: &Written) -> String {
        let token = written
            .place
            .span
            .and_then(|span| self.texts.get(usize::from(span.source))?.get(span.start as usize..span.end as usize));
        token.and_then(|text| serde_json::from_str::<String>(text).ok()).unwrap_or_default()
    }

    /// The value of a size that could be worked out.
    pub fn known(&self, name: &str) -> Option<Quantity> {
        self.sizes.iter().find(|(size, _)| size == name).and_then(|(_, value)| *value)
    }

    /// A length as it stands, where it is one; nothing is told.
    pub fn quiet_length(&self, written: &Written) -> Option<Length> {
        let units = self.units_at(written);
        let quantity = written.sum.value(units, |name| self.known(name)).ok()?;
        quantity.to_length(units).ok()
    }

    /// A fraction of a millimetre is on no rule: it was meant in inches, or as a part of something. Whether there is one.
    fn tell_bare_fraction(&mut self, written: &Written) -> bool {
        let Some(token) = written.place.span else { return false };
        let text = self.text_of(written);
        let Some(range) = written.sum.bare_fraction(&text) else { return false };
        let fraction = text.get(range.clone()).unwrap_or("").trim_start_matches(['+', '-', ' ']).to_owned();
        let Ok(Quantity::Number(mm)) = Sum::read(&fraction).and_then(|sum| sum.value(None, |_| None)) else {
            return false;
        };
        let place = Place { span: Some(span_inside(self.texts, token, &range)), ..written.place.clone() };
        let problem = QuantityProblem::BareFraction { text: fraction, size: Length::from_mm(mm) };
        self.findings.push(Finding::of(problem, place));
        true
    }

    /// Warns of sizes that nothing asks for: a number that is changed there changes nothing.
    pub fn tell_unused_sizes(&mut self, written: &[(String, Option<Written>)], has_variants: bool) {
        // A variant that is not applied may use a size that nothing else does: then it is named a second time.
        let words = |text: &&str| -> Vec<String> {
            text.split(|c: char| !(c.is_ascii_alphanumeric() || c == '_')).map(str::to_owned).collect()
        };
        let all: Vec<String> = self.texts.first().map(words).filter(|_| has_variants).unwrap_or_default();
        for (name, size) in written {
            let Some(size) = size.as_ref().filter(|_| !self.used.contains(name)) else { continue };
            if all.iter().filter(|word| *word == name).count() > 1 {
                continue;
            }
            let others = self.sizes.iter().map(|(name, _)| name.as_str()).filter(|other| other != name);
            let others = Names::instead_of(name, others);
            let problem = QuantityProblem::UnusedSize { name: name.clone(), added: false, others };
            self.findings.push(Finding::of(problem, size.place.clone()));
        }
    }

    /// The sizes that could be worked out.
    pub fn known_sizes(&self) -> Vec<(String, Quantity)> {
        self.sizes.iter().filter_map(|(name, value)| Some((name.clone(), (*value)?))).collect()
    }
}

/// How far the working out of a size has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    Untouched,
    Begun,
    Done,
}

fn set(states: &mut [State], index: usize, state: State) {
    if let Some(slot) = states.get_mut(index) {
        *slot = state;
    }
}

/// The name of the field that a place is or lies in: its last step that is no index.
fn field_name(place: &Place) -> String {
    let names = place.steps().filter(|step| step.parse::<usize>().is_err());
    names.last().unwrap_or_default()
}
