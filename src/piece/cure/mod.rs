//! Cures found by trying: one number of the file is changed until the finding is gone and no new one stops the work.
//!
//! Whether a part lands on another hangs on every number of the piece at once, and a formula for one of them would hold only where
//! the others are tame. So the piece itself is asked: what is printed as "just fits" has been solved.

mod number;

use super::assemble::Work;
use super::limits::base as place_of;
use crate::finding::{Finding, Severity};
use crate::project::base::{Base, Top};
use crate::units::{Length, Notation, Units};
use number::{Kind, numbers};

/// Values tried between the given one and either end of its range before the nearest that cures is narrowed down.
const TRIES: u32 = 8;

/// A value and the nearest that does not cure are told apart to this, mm or degrees: a tenth of what is printed.
const NARROW: f64 = 0.01;

/// So many of the numbers that may cure a finding, the first, are what a maker would change without a second thought.
const NATURAL: usize = 3;

/// A finding whose cure is to be found.
#[derive(Debug, Clone)]
pub(super) struct Ask {
    /// Its code.
    code: &'static str,
    /// Its message, which tells it from others of its code.
    message: String,
    /// The numbers that may cure it, the one that a maker would change first before the others.
    fields: Vec<String>,
    /// A value, mm or degrees, near which a number may cure where the room is too narrow to be hit upon.
    near: Option<(String, f64)>,
}

impl Work<'_> {
    /// Records a finding that stops the work and the numbers that may cure it; its own words hold where none does.
    pub(super) fn stop_to_cure<T>(&mut self, finding: Finding, fields: &[&str]) -> Option<T> {
        self.ask(&finding, fields);
        self.stop(finding)
    }

    /// Asks for the cure of a finding that is told.
    pub(super) fn ask(&mut self, finding: &Finding, fields: &[&str]) {
        let fields = fields.iter().map(|field| place_of(field).pointer).collect();
        self.asks.push(Ask { code: finding.code, message: finding.message.clone(), fields, near: None });
    }

    /// Adds to what was asked last that a number may cure near a value, mm or degrees.
    pub(super) fn perhaps_near(&mut self, field: &str, value: f64) {
        if let Some(ask) = self.asks.last_mut() {
            ask.near = Some((place_of(field).pointer, value));
        }
    }
}

/// A piece that is to be cured.
pub(super) struct Patient<'a> {
    pub(super) base: Option<&'a Base>,
    pub(super) top: Option<&'a Top>,
    pub(super) notation: &'a Notation,
}

/// Writes into each finding that was asked about the nearest value that cures it.
pub(super) fn find(findings: &mut [Finding], asks: &[Ask], patient: &Patient) {
    let stops = codes(findings);
    for (i, ask) in asks.iter().enumerate() {
        if asks[..i].iter().any(|other| other.code == ask.code && other.message == ask.message) {
            continue;
        }
        let before = of_code(findings, ask.code);
        let tried = |fields: &'_ [String], stops| {
            let near = |field: &String| ask.near.as_ref().filter(|(of, _)| of == field).map(|(_, value)| *value);
            let nearest =
                |field: &String| Trial { patient, field, near: near(field), code: ask.code, before, stops }.nearest();
            fields.iter().find_map(|field| nearest(field).map(|(value, kind)| (field.clone(), value, kind)))
        };
        // Where several things are wrong, the cure of this one brings up the next.
        let natural = &ask.fields[..ask.fields.len().min(NATURAL)];
        let cure = tried(&ask.fields, Some(&stops[..])).or_else(|| tried(natural, None));
        let Some((field, value, kind)) = cure else { continue };
        let written = written(value, kind, patient.notation);
        for finding in findings.iter_mut().filter(|f| f.code == ask.code && f.message.starts_with(&ask.message)) {
            finding.remedy = format!("{} of {written} just fits", words(&field));
            finding.place = place_of(&field);
            finding.measured.retain(|(name, _)| *name != "fits");
            finding.measured.push(("fits", value));
        }
    }
}

/// How many different things findings of one code say.
fn of_code(findings: &[Finding], code: &str) -> usize {
    let mut said: Vec<&str> = findings.iter().filter(|f| f.code == code).map(|f| f.message.as_str()).collect();
    said.sort_unstable();
    said.dedup();
    said.len()
}

/// The codes of the findings that stop the work.
fn codes(findings: &[Finding]) -> Vec<&'static str> {
    findings.iter().filter(|f| f.severity == Severity::Stop).map(|f| f.code).collect()
}

/// One number that may cure a finding.
struct Trial<'a> {
    patient: &'a Patient<'a>,
    field: &'a str,
    near: Option<f64>,
    code: &'static str,
    /// How many findings of this code there are without a cure.
    before: usize,
    /// What may go on stopping the work; `None` for anything else.
    stops: Option<&'a [&'static str]>,
}

impl Trial<'_> {
    /// The nearest value that cures, as it can be written; `None` where none does.
    fn nearest(&self) -> Option<(f64, Kind)> {
        let (mut base, mut top) = (self.patient.base.cloned(), self.patient.top.cloned());
        let (given, kind) = numbers(base.as_mut(), top.as_mut(), self.field).first().map(|n| (n.get(), n.kind()))?;
        let (low, high) = number::range(self.field, given, kind);
        let towards = |end: f64| {
            let at = |k: u32| given + (end - given) * (f64::from(k) / f64::from(TRIES)).powi(2);
            let good = (1..=TRIES).find(|k| at(*k) != given && self.cures(at(*k)))?;
            Some(self.narrowed(at(good - 1), at(good)))
        };
        let near = self.near.filter(|near| *near > low && *near < high && self.cures(*near));
        let near = near.map(|near| self.narrowed(given, near));
        let found = [towards(low), towards(high), near].into_iter().flatten();
        let good = found.min_by(|a, b| (a - given).abs().total_cmp(&(b - given).abs()))?;
        // Rounded away from what does not fit; where only a sliver fits, more finely.
        let rounded = [false, true].map(|finely| stepped(good, good > given, kind, finely, self.patient.notation));
        rounded.into_iter().find(|value| self.cures(*value)).map(|value| (value, kind))
    }

    /// A value between one that does not cure and one that does, just on the side of the latter.
    fn narrowed(&self, mut bad: f64, mut good: f64) -> f64 {
        while (good - bad).abs() > NARROW {
            let middle = (bad + good) / 2.0;
            if self.cures(middle) { good = middle } else { bad = middle }
        }
        good
    }

    /// Whether the finding is gone with this value, and none stops the work that did not before.
    fn cures(&self, value: f64) -> bool {
        let (mut base, mut top) = (self.patient.base.cloned(), self.patient.top.cloned());
        numbers(base.as_mut(), top.as_mut(), self.field).into_iter().for_each(|number| number.set(value));
        let found = super::worked(base.as_ref(), top.as_ref(), self.patient.notation).findings;
        of_code(&found, self.code) < self.before
            && self.stops.is_none_or(|stops| codes(&found).iter().all(|code| stops.contains(code)))
    }
}

/// A value rounded up or down to what can be written: tenths, or steps of the maker's rule; finely, to 0.001 mm, degree or inch.
fn stepped(value: f64, up: bool, kind: Kind, finely: bool, notation: &Notation) -> f64 {
    let whole = |steps: f64| if up { steps.ceil() } else { steps.floor() };
    match (kind, notation.units) {
        (Kind::Length, Units::Inch) => {
            let per_inch = if finely { 1000.0 } else { f64::from(notation.denominator.max(1)) };
            Length::from_inches(whole(Length::from_mm(value).inches() * per_inch) / per_inch).mm()
        }
        _ => {
            let per_unit = if finely { 1000.0 } else { 10.0 };
            whole(value * per_unit) / per_unit
        }
    }
}

/// A value as a maker writes it into the file.
fn written(value: f64, kind: Kind, notation: &Notation) -> String {
    match kind {
        Kind::Length => notation.exact(Length::from_mm(value)),
        Kind::Angle => format!("{value}°"),
    }
}

/// `a stretcher height`, `an outside edge rise`.
fn words(field: &str) -> String {
    let path = field.trim_start_matches("/base/").trim_start_matches('/');
    let parts: Vec<&str> = path.split('/').filter(|part| *part != "frames").collect();
    // The leg's edges and taper are known by their own names.
    let parts = if parts.len() > 2 { &parts[1..] } else { &parts[..] };
    let said = parts.join(" ").replace("_at_", " at the ").replace('_', " ");
    let article = if said.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {said}")
}
