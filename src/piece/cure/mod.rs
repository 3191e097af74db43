//! Cures found by trying: one number of the file is changed until the finding is gone and no new one stops the work.
//!
//! Whether a part lands on another hangs on every number of the piece at once, and a formula for one of them would hold only where
//! the others are tame. So the piece itself is asked: what is printed as "just fits" has been solved.

mod number;
pub mod search;

use super::assemble::Work;
use super::limits::base as place_of;
use super::top::Made;
use crate::finding::{Beside, Cure, Cures, Finding, Place, Quantity, Setting, Severity};
use crate::model::base::Base;
use crate::model::top::Top;
use crate::model::{Kind, number_at, set_number};
use crate::tolerance::READ_ALIKE;
use crate::units::{Angle, Length, Notation};
use std::cell::{Cell, RefCell};

/// How far and how finely a number is looked through for a value that cures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sweep {
    /// As far as a maker would go, in a few steps.
    Near,
    /// Through all that such a number may be, in small ones: where the near sweep has found nothing.
    Far,
}

impl Sweep {
    /// Values tried between the given one and either end of its range before the nearest that cures is narrowed down.
    fn tries(self) -> u32 {
        match self {
            Sweep::Near => 8,
            Sweep::Far => 24,
        }
    }
}

/// So many numbers are tried as the second of two that cure together: each costs about a hundred solutions.
const SECONDS: usize = 6;

/// So many of the numbers that may cure a finding, the first, are what a maker would change without a second thought.
const NATURAL: usize = 3;

/// A finding whose cure is to be found.
#[derive(Debug, Clone)]
pub(super) struct Ask {
    /// It, before a cure names another place.
    finding: Finding,
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
        self.asks.push(Ask { finding: finding.clone(), fields, near: None });
    }

    /// Adds to what was asked last that a number may cure near a value, mm or degrees.
    pub(super) fn perhaps_near(&mut self, field: &str, value: f64) {
        if let Some(ask) = self.asks.last_mut() {
            ask.near = Some((place_of(field).pointer, value));
        }
    }
}

/// So much is tried for the findings of one piece: pieces of outlines that are made anew, and [`EACH`] for every solution. It is
/// one or two seconds' worth; findings left over then say only their own words.
const TRIED: usize = 1_500_000;

/// What a solution costs beside its outlines, counted in pieces of them.
const EACH: usize = 50;

/// What it costs to go through all that comes after the boards, counted likewise.
const WHOLE: usize = 15_000;

/// What stops the work on a base and top after their boards are made: joints, aids, routing and rules.
pub type ThenStops<'a> = &'a dyn Fn(Option<&Base>, Option<&Top>) -> Option<Finding>;

/// What trying leaves behind for the next trial.
#[derive(Debug)]
pub(super) struct Tried {
    /// The top, which most trials leave alone.
    top: Made,
    /// How much may still be tried.
    left: Cell<usize>,
}

impl Default for Tried {
    fn default() -> Tried {
        Tried { top: Made::default(), left: Cell::new(TRIED) }
    }
}

/// A piece that is to be cured.
pub(super) struct Patient<'a> {
    pub(super) tried: &'a Tried,
    pub(super) base: Option<&'a Base>,
    pub(super) top: Option<&'a Top>,
    pub(super) notation: &'a Notation,
    pub(super) then: ThenStops<'a>,
}

impl<'a> Patient<'a> {
    /// What stops the work with a value after the boards are made.
    fn then_stops(&self, field: &str, value: f64) -> Option<Finding> {
        self.tried.left.set(self.tried.left.get().saturating_sub(WHOLE));
        let (base, top) = self.with(field, value);
        (self.then)(base.as_ref(), top.as_ref())
    }

    /// A base and its top solved; `None` once enough was tried.
    fn solved(&self, base: Option<&Base>, top: Option<&Top>) -> Option<Work<'a>> {
        let work = (self.tried.left.get() > 0).then(|| super::worked(base, top, &self.tried.top, self.notation))?;
        self.tried.left.set(self.tried.left.get().saturating_sub(EACH + work.pieces()));
        Some(work)
    }

    /// The piece with this value in a field.
    pub(super) fn with(&self, field: &str, value: f64) -> (Option<Base>, Option<Top>) {
        let (mut base, mut top) = (self.base.cloned(), self.top.cloned());
        set_number(base.as_mut(), top.as_mut(), &Place::pointer(field), value);
        (base, top)
    }
}

/// A change of numbers of the piece.
#[derive(Debug, Clone)]
pub(crate) struct NumberChange {
    /// What each number that is set is called.
    pub(crate) called: Vec<String>,
}

/// A value of a field that cures, as it can be written.
#[derive(Debug, Clone)]
struct Fit {
    field: String,
    value: f64,
    written: Quantity,
    /// What the number is called.
    called: String,
}

/// A value of a number as a cure writes it; `None` of counts and shares, which no cure changes.
fn quantity(kind: Kind, value: f64) -> Option<Quantity> {
    match kind {
        Kind::Length => Some(Quantity::Length(Length::from_mm(value))),
        Kind::Angle => Some(Quantity::Angle(Angle::from_degrees(value))),
        Kind::Count | Kind::Share => None,
    }
}

impl Fit {
    /// The number as it is to be set.
    fn setting(&self) -> Setting {
        Setting { place: place_of(&self.field), value: self.written }
    }

    /// It as a change by itself.
    fn alone(&self) -> Cure {
        Fit::all(std::slice::from_ref(self))
    }

    /// Several of them together.
    fn all(fits: &[Fit]) -> Cure {
        let called = fits.iter().map(|fit| fit.called.clone()).collect();
        Cure::new(fits.iter().map(Fit::setting).collect(), NumberChange { called })
    }
}

/// Writes into each finding that was asked about the nearest value that cures it, else two values that do together, else what
/// stands against the first number alone.
pub(super) fn find(findings: &mut [Finding], asks: &[Ask], patient: &Patient) {
    let (stops, before) = (stopping(findings), findings.to_vec());
    for (i, ask) in asks.iter().enumerate() {
        if asks[..i].iter().any(|other| other.finding.is_like(&ask.finding, READ_ALIKE)) {
            continue;
        }
        let wanted = Wanted { ask, before: alike(&before, ask), stops: &stops, lesser: RefCell::default() };
        let cures = wanted.cures(patient);
        for finding in findings.iter_mut().filter(|finding| finding.is_like(&ask.finding, READ_ALIKE)) {
            if let Cures::Nearest(cure) = &cures {
                let mut settings = cure.settings.iter();
                finding.place = settings.next().map_or(Place::default(), |first| first.place.clone());
                finding.related.extend(settings.map(|set| (set.place.clone(), Beside::Second(set.value))));
            }
            finding.cures = cures.clone();
        }
    }
}

/// What a cure is to do.
struct Wanted<'a> {
    ask: &'a Ask,
    /// How many findings like it there are without a cure.
    before: usize,
    /// What may go on stopping the work.
    stops: &'a [Stopping],
    /// The first value that made the boards, and what stopped the work after them.
    lesser: RefCell<Option<(Fit, Finding)>>,
}

/// A value that is the end of a finding but not of all: another stops the work then.
struct Half {
    cure: Fit,
    /// What stops it then.
    then: Finding,
    /// How that is asked about, where a number may cure it.
    asked: Option<Ask>,
    /// How many findings like that there are.
    before: usize,
}

impl Wanted<'_> {
    /// One number that cures, else two that do together, else what stands against the first number alone.
    fn cures(&self, patient: &Patient) -> Cures {
        if let Some(fit) = self.single(patient, &self.ask.fields) {
            return Cures::Nearest(fit.alone());
        }
        if let Some((fit, then)) = self.lesser.take() {
            return Cures::Half(fit.alone(), Box::new(then));
        }
        let halves = self.halves(patient);
        match (halves.iter().find_map(|half| self.pair(patient, half)), halves.first()) {
            (Some(pair), _) => Cures::Nearest(Fit::all(&pair)),
            (None, Some(half)) => Cures::Half(half.cure.alone(), Box::new(half.then.clone())),
            (None, None) => Cures::None,
        }
    }

    fn trial<'a>(&'a self, patient: &'a Patient<'a>, field: &'a str, sweep: Sweep) -> Trial<'a> {
        let near = self.ask.near.as_ref().filter(|(of, _)| of == field).map(|(_, value)| *value);
        Trial {
            patient,
            field,
            near,
            sweep,
            ask: self.ask,
            before: self.before,
            stops: Some(self.stops),
            whole: false,
        }
    }

    /// The first of the fields that cures by itself, through all that comes after the boards: the value nearest to what is given,
    /// else, where that makes the boards and something stops the work after them, one that does more.
    fn single(&self, patient: &Patient, fields: &[String]) -> Option<Fit> {
        let goes_through = |fit: &Fit| {
            let stop = patient.then_stops(&fit.field, fit.value);
            let goes = stop.is_none();
            let mut lesser = self.lesser.borrow_mut();
            *lesser = lesser.take().or_else(|| stop.map(|stop| (fit.clone(), stop)));
            goes
        };
        let nearest =
            |sweep| fields.iter().find_map(|field| self.trial(patient, field, sweep).nearest().filter(goes_through));
        let found = nearest(Sweep::Near).or_else(|| nearest(Sweep::Far));
        if found.is_some() || self.lesser.borrow().is_none() {
            return found;
        }
        let whole = |field: &String| Trial { whole: true, ..self.trial(patient, field, Sweep::Near) }.nearest();
        fields.iter().take(NATURAL).find_map(whole)
    }

    /// What the most natural fields do where anything else may stop the work.
    fn halves(&self, patient: &Patient) -> Vec<Half> {
        let half = |field: &String| {
            let cure = Trial { stops: None, ..self.trial(patient, field, Sweep::Near) }.nearest()?;
            let (base, top) = patient.with(&cure.field, cure.value);
            let work = patient.solved(base.as_ref(), top.as_ref())?;
            let known = |f: &Finding| self.stops.iter().any(|(code, at)| *code == f.code && *at == f.place.pointer);
            let then = work.findings.iter().find(|f| f.severity == Severity::Stop && !known(f))?;
            let asked = work.asks.iter().find(|ask| ask.finding.is_like(then, READ_ALIKE));
            let before = asked.map_or(0, |ask| alike(&work.findings, ask));
            Some(Half { cure, then: then.clone(), asked: asked.cloned(), before })
        };
        self.ask.fields.iter().take(NATURAL).filter_map(half).collect()
    }

    /// The value of the first number and that of another that cure together. The second is found for what stops the work with the
    /// first as it is; else for that alone, and the first once more with it.
    fn pair(&self, patient: &Patient, half: &Half) -> Option<[Fit; 2]> {
        let asked = half.asked.as_ref()?;
        let fields: Vec<String> =
            asked.fields.iter().filter(|f| **f != half.cure.field).take(SECONDS).cloned().collect();
        let (base, top) = patient.with(&half.cure.field, half.cure.value);
        let with_first = Patient { base: base.as_ref(), top: top.as_ref(), ..*patient };
        if let Some(second) = self.single(&with_first, &fields) {
            return Some([half.cure.clone(), second]);
        }
        fields.iter().take(NATURAL).find_map(|field| {
            let sweep = Sweep::Near;
            let alone = Trial {
                patient: &with_first,
                field,
                near: None,
                sweep,
                ask: asked,
                before: half.before,
                stops: None,
                whole: false,
            };
            let second = alone.nearest()?;
            let (base, top) = patient.with(field, second.value);
            let with_second = Patient { base: base.as_ref(), top: top.as_ref(), ..*patient };
            Some([self.single(&with_second, std::slice::from_ref(&half.cure.field))?, second])
        })
    }
}

/// How many different things are found that are of the same code and at the same place as what was asked about.
fn alike(findings: &[Finding], ask: &Ask) -> usize {
    let asked = &ask.finding;
    let mut different: Vec<&Finding> = Vec::new();
    let same = |f: &&Finding| f.code == asked.code && f.place.pointer == asked.place.pointer;
    for finding in findings.iter().filter(same) {
        if !different.iter().any(|known| known.is_like(finding, READ_ALIKE)) {
            different.push(finding);
        }
    }
    different.len()
}

/// A code and a place: what tells one reason to stop from another whatever the numbers in its words.
type Stopping = (&'static str, String);

/// What stops the work.
fn stopping(findings: &[Finding]) -> Vec<Stopping> {
    let stops = findings.iter().filter(|f| f.severity == Severity::Stop);
    stops.map(|f| (f.code, f.place.pointer.clone())).collect()
}

/// One number that may cure a finding.
struct Trial<'a> {
    patient: &'a Patient<'a>,
    field: &'a str,
    near: Option<f64>,
    sweep: Sweep,
    ask: &'a Ask,
    /// How many findings like it there are without a cure.
    before: usize,
    /// What may go on stopping the work; `None` for anything else.
    stops: Option<&'a [Stopping]>,
    /// Whether it has to go through all that comes after the boards.
    whole: bool,
}

impl Trial<'_> {
    /// The nearest value that cures, as it can be written; `None` where none does.
    fn nearest(&self) -> Option<Fit> {
        let number = number_at(self.patient.base, self.patient.top, &Place::pointer(self.field))?;
        let (given, kind) = (number.value, number.kind);
        quantity(kind, given)?;
        let (low, high) = number::range(&number, self.sweep == Sweep::Far);
        let tries = self.sweep.tries();
        let towards = |end: f64| -> Vec<f64> {
            let at = |k: u32| given + (end - given) * (f64::from(k) / f64::from(tries)).powi(2);
            (1..=tries).map(at).filter(|value| *value != given).collect()
        };
        let near = self.near.filter(|near| *near > low && *near < high);
        let ladders = [towards(low), towards(high), near.into_iter().collect()];
        let written = |good: f64, up: bool, finely: bool| stepped(good, up, kind, finely, self.patient.notation);
        let value = search::nearest(given, &ladders, &|value| self.cures(value), &written)?;
        Some(Fit { field: self.field.to_owned(), value, written: quantity(kind, value)?, called: number.words })
    }

    /// Whether the finding is gone with this value, and none stops the work that did not before.
    fn cures(&self, value: f64) -> bool {
        let (base, top) = self.patient.with(self.field, value);
        let Some(work) = self.patient.solved(base.as_ref(), top.as_ref()) else { return false };
        let found = work.findings;
        alike(&found, self.ask) < self.before
            && self.stops.is_none_or(|stops| stopping(&found).iter().all(|stop| stops.contains(stop)))
            && !(self.whole && self.patient.then_stops(self.field, value).is_some())
    }
}

/// A value rounded up or down to what can be written: tenths of a degree, or as a length; finely, to 0.001 degree.
fn stepped(value: f64, up: bool, kind: Kind, finely: bool, notation: &Notation) -> f64 {
    match kind {
        Kind::Length => search::length(value, up, finely, notation),
        Kind::Angle | Kind::Share => search::decimal(value, up, finely),
        Kind::Count => value,
    }
}
