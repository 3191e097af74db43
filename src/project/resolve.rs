//! Written quantities to lengths, angles and numbers.

use super::drawing::{Drawings, no_drawings};
use super::field::listed;
use super::value::{Pair, Written, fault_span};
use crate::finding::{Finding, Place, Severity, Span, Unit, nearest};
use crate::geometry::Point;
use crate::units::{Angle, Fault, Length, Notation, Quantity, Refusal, Sum, Units, is_unit_name};
use std::collections::BTreeSet;

/// The largest angle of a named size, degrees.
const LARGEST_ANGLE: f64 = 360.0;

/// Works quantities out, and tells what is wrong with them.
pub struct Resolver<'a> {
    /// The texts read, by source.
    texts: &'a [&'a str],
    /// The units of bare numbers by source; a shop file may not say any.
    units: [Option<Units>; 2],
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
}

impl<'a> Resolver<'a> {
    /// A resolver that knows no sizes yet. `units` are those of the project's and of the shop file's bare numbers.
    pub fn new(texts: &'a [&'a str], units: [Option<Units>; 2], notation: Notation) -> Self {
        let (sizes, used, findings) = (Vec::new(), BTreeSet::new(), Vec::new());
        Resolver { texts, units, notation, drawings: &no_drawings, sizes, used, findings }
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
        let units = self.units_at(written);
        if units == Some(Units::Mm) {
            self.tell_bare_fraction(written);
        }
        let length = self.converted(written, |quantity| quantity.to_length(units))?;
        self.within(written, (length.mm(), Unit::Mm), shown_length).then_some(length)
    }

    /// An angle within the field's range.
    pub fn angle(&mut self, written: &Written) -> Option<Angle> {
        if self.tell_no_angle(written) {
            return None;
        }
        let bare = self.bare_size(written);
        let angle = self.converted(written, |quantity| {
            let bare = bare.as_ref();
            quantity.to_angle().map_err(|refusal| match bare {
                Some(name) => Refusal { remedy: says_deg(name), ..refusal },
                None => refusal,
            })
        })?;
        self.within(written, (angle.degrees(), Unit::Degree), shown_angle).then_some(angle)
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
        let field = field_name(&written.place.pointer);
        let message = format!("{field} is an angle, and no size is named \"{name}\"");
        let remedy = "write an angle: 0 runs along x, 90 along y".to_owned();
        let fault = Fault { range: range.clone(), message, remedy };
        self.faulty(written, &fault);
        true
    }

    /// A plain number within the field's range.
    pub fn number(&mut self, written: &Written) -> Option<f64> {
        let number = self.converted(written, Quantity::to_number)?;
        self.within(written, (number, Unit::Plain), |_, number| rounded(number.number()).to_string())
            .then_some(number)
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

    fn units_at(&self, written: &Written) -> Option<Units> {
        let source = written.place.span.map_or(0, |span| usize::from(span.source));
        self.units.get(source).copied().flatten()
    }

    fn converted<T>(&mut self, written: &Written, convert: impl Fn(Quantity) -> Result<T, Refusal>) -> Option<T> {
        let quantity = self.quantity(written)?;
        convert(quantity).map_err(|refusal| self.told("wrong-quantity", written, refusal)).ok()
    }

    fn told(&mut self, code: &'static str, written: &Written, refusal: Refusal) {
        self.findings.push(Finding::stop(code, written.place.clone(), refusal.message).remedy(refusal.remedy));
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
                    let fault = self.unknown_size(name, range);
                    self.faulty(written, &fault);
                }
            }
        }
        if !known {
            return None;
        }
        match written.sum.value(self.units_at(written), |name| self.known(name)) {
            Ok(quantity) => Some(quantity),
            Err(fault) => {
                self.faulty(written, &fault);
                None
            }
        }
    }

    fn unknown_size(&self, name: &str, range: std::ops::Range<usize>) -> Fault {
        let names = || self.sizes.iter().map(|(name, _)| name.as_str());
        if is_unit_name(name) {
            let remedy = "write a quantity, for example \"38 mm\", \"1 1/2 in\" or \"height - 24\"".to_owned();
            return Fault { range, message: format!("a number belongs before `{name}`"), remedy };
        }
        let remedy = match nearest(name, names()) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None if self.sizes.is_empty() => format!("add \"sizes\": {{ \"{name}\": … }}"),
            None => format!("add it to \"sizes\", where there are {}", listed(names())),
        };
        Fault { range, message: format!("no size is named \"{name}\""), remedy }
    }

    fn faulty(&mut self, written: &Written, fault: &Fault) {
        let span = written.place.span.map(|token: Span| fault_span(self.texts, token, fault));
        let place = Place { span, ..written.place.clone() };
        self.findings
            .push(Finding::stop("unreadable-quantity", place, fault.message.clone()).remedy(fault.remedy.clone()));
    }

    fn within(
        &mut self,
        written: &Written,
        (value, unit): (f64, Unit),
        shown: impl Fn(&Notation, Shown) -> String,
    ) -> bool {
        let (low, high) = written.range;
        let shown = |value: Shown| shown(&self.notation, value);
        let name = field_name(&written.place.pointer);
        let (message, remedy) = if value < low {
            let smallest = shown(Shown::Smallest(low));
            (
                format!("{} is too small for {name}", shown(Shown::Value(value))),
                format!("at least {smallest} may be written here"),
            )
        } else if value > high {
            let largest = shown(Shown::Largest(high));
            (
                format!("{} is too large for {name}", shown(Shown::Value(value))),
                format!("at most {largest} may be written here"),
            )
        } else {
            return true;
        };
        let finding = Finding::stop("out-of-range", written.place.clone(), message).remedy(remedy);
        self.findings.push(
            [("value", value), ("smallest", low), ("largest", high)]
                .into_iter()
                .fold(finding, |finding, (name, number)| finding.measured(name, number, unit)),
        );
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
            let fits = self.within(&written, (angle.degrees(), Unit::Degree), shown_angle);
            return fits.then_some(quantity);
        }
        self.length(written).map(Quantity::Length)
    }

    fn ring(&mut self, first: usize, chain: &[usize], written: &[(String, Option<Written>)]) {
        let start = chain.iter().position(|index| *index == first).unwrap_or(0);
        let ring: Vec<usize> = chain.iter().skip(start).copied().chain([first]).collect();
        let name = |index: &usize| written.get(*index).map_or("", |(name, _)| name.as_str());
        let needs: Vec<String> = ring
            .windows(2)
            .filter_map(|pair| Some(format!("\"{}\" needs \"{}\"", name(pair.first()?), name(pair.last()?))))
            .collect();
        let Some((_, Some(size))) = written.get(first) else { return };
        let message = format!("these sizes go round in a ring: {}", needs.join(", "));
        let remedy = "give one of them a value that needs none of the others";
        self.findings.push(Finding::stop("sizes-in-a-ring", size.place.clone(), message).remedy(remedy));
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

    /// A fraction of a millimetre is on no rule: it was meant in inches, or as a part of something.
    fn tell_bare_fraction(&mut self, written: &Written) {
        let Some(token) = written.place.span else { return };
        let text = self.text_of(written);
        let Some(range) = written.sum.bare_fraction(&text) else { return };
        let fraction = text.get(range.clone()).unwrap_or("").trim_start_matches(['+', '-', ' ']).to_owned();
        let Ok(Quantity::Number(mm)) = Sum::read(&fraction).and_then(|sum| sum.value(None, |_| None)) else { return };
        let span =
            Some(fault_span(self.texts, token, &Fault { range, message: String::new(), remedy: String::new() }));
        let message = format!("{fraction} is read as {} mm here", rounded(mm));
        let finding = Finding::warn("fraction-of-a-millimetre", Place { span, ..written.place.clone() }, message)
            .remedy(format!("write {fraction} in if inches are meant, or {} mm", rounded(mm)));
        self.findings.push(finding);
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
            let remedy = match nearest(name, others) {
                Some(near) => format!("did you mean \"{near}\"? Else use it in a sum, or remove it"),
                None => "use it in a sum, or remove it".to_owned(),
            };
            let message = format!("no sum uses the size \"{name}\": to change it changes nothing");
            self.findings.push(Finding::warn("unused-size", size.place.clone(), message).remedy(remedy));
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

/// A number in a message: what stands in the file, or an end of the range that is allowed.
#[derive(Debug, Clone, Copy)]
enum Shown {
    Value(f64),
    Smallest(f64),
    Largest(f64),
}

impl Shown {
    fn number(self) -> f64 {
        match self {
            Shown::Value(number) | Shown::Smallest(number) | Shown::Largest(number) => number,
        }
    }
}

fn shown_length(notation: &Notation, shown: Shown) -> String {
    let length = Length::from_mm(shown.number());
    match shown {
        Shown::Value(_) => notation.exact(length),
        Shown::Smallest(_) => notation.range_start(length),
        Shown::Largest(_) => notation.range_end(length),
    }
}

fn shown_angle(_: &Notation, shown: Shown) -> String {
    format!("{}°", rounded(shown.number()))
}

/// How a size is made an angle.
fn says_deg(name: &str) -> String {
    format!(
        "a bare number in \"sizes\" is a length; make \"{name}\" there an angle, for example \"12 deg\" or \"1:6\""
    )
}

/// The name of the field that a pointer leads to or into: its last step that is no index, quoted.
fn field_name(pointer: &str) -> String {
    let name = pointer.rsplit('/').find(|step| step.parse::<usize>().is_err()).unwrap_or("");
    format!("\"{}\"", name.replace("~1", "/").replace("~0", "~"))
}

/// A number to three decimals, for a message.
fn rounded(number: f64) -> f64 {
    (number * 1000.0).round() / 1000.0
}
