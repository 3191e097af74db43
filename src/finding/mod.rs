//! What the program tells a person about their file or their piece.
//!
//! A finding is said in full: what is wrong, where, how much, and the change that cures it. Findings are collected, never
//! thrown one at a time, so that one run says everything there is to say.

mod cure;
mod datum;
mod json;
mod measure;
mod name;
mod problem;

pub use cure::{Change, Cure, Cures, Quantity, Setting};
pub use datum::{Amount, Datum, Degrees, Names, Offered, Percent, Ratio};
pub(crate) use datum::{data, same};
pub use measure::{Measure, Unit};
pub use name::{and, capital, nearest, quoted, shortened};
pub(crate) use problem::problems;
pub use problem::{Problem, Said, Words};

use crate::units::Length;
use std::any::Any;
use std::fmt;
use std::sync::Arc;

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Nothing may be cut by this file: no pattern is made.
    Stop,
    /// The patterns are right, and the maker should think again.
    Warn,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The name used in `--format json`.
    pub const fn name(self) -> &'static str {
        match self {
            Severity::Stop => "stop",
            Severity::Warn => "warn",
            Severity::Note => "note",
        }
    }
}

/// A stretch of bytes in one of the texts that were read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub struct Span {
    /// Which text: an index into the list of files read (0 is the project file).
    pub source: u16,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

/// Where a finding points.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Place {
    /// JSON pointer into the project as merged (RFC 6901); empty for the whole file.
    pub pointer: String,
    /// The bytes to mark, where they are known; else whoever holds the text finds them by the pointer.
    pub span: Option<Span>,
}

impl Place {
    /// The place that a JSON pointer names.
    pub fn pointer(pointer: impl Into<String>) -> Self {
        Place { pointer: pointer.into(), span: None }
    }

    /// The names on the way from the root to the place.
    pub fn steps(&self) -> impl Iterator<Item = String> + '_ {
        self.pointer.split('/').skip(1).map(|step| step.replace("~1", "/").replace("~0", "~"))
    }

    /// The place `name` inside this one.
    pub fn child(&self, name: impl fmt::Display) -> Self {
        let name = name.to_string().replace('~', "~0").replace('/', "~1");
        Place { pointer: format!("{}/{name}", self.pointer), span: None }
    }
}

/// The name of a number that fits.
const FITS: &str = "fits";

/// What another place has to do with a finding.
#[derive(Debug, Clone, PartialEq)]
pub enum Beside {
    /// The name was written there first.
    FirstWritten,
    /// A bracket is open there.
    OpenBracket,
    /// The hole that it runs into.
    RunsIntoHole,
    /// The slot that it runs into.
    RunsIntoSlot,
    /// The edge that leads to a corner.
    EdgeToCorner,
    /// The outline that is meant.
    Outline,
    /// The other of two joints.
    OtherJoint,
    /// More of the same.
    TheseToo,
    /// The second of two numbers that cure together, and its value.
    Second(Quantity),
    /// The named size from which the number comes, by its place.
    ComesFrom(Place),
}

/// Why a change of a file was refused: the file is as it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RefusedChange {
    /// The change itself cannot be made.
    Itself,
    /// The finding stands in the file as changed.
    Outcome,
}

/// One thing to tell the maker.
#[derive(Debug, Clone)]
pub struct Finding {
    /// How much it matters.
    pub severity: Severity,
    /// A stable short name in kebab case, for scripts.
    pub code: &'static str,
    /// Where in the file.
    pub place: Place,
    /// Other places that belong to it, each with a word.
    pub related: Vec<(Place, Beside)>,
    /// What came of trying cures.
    pub cures: Cures,
    /// So many more like it were found.
    pub more: usize,
    /// Named sizes of zero or less that may be the reason.
    pub sizes_below_zero: Vec<(String, Length)>,
    /// The change of a file that was refused because of it.
    pub refused: Option<RefusedChange>,
    /// What is wrong, as data.
    pub(crate) problem: Arc<dyn Problem>,
}

impl Finding {
    /// That a problem is there.
    pub fn of(problem: impl Problem, place: Place) -> Self {
        Finding {
            severity: problem.severity(),
            code: problem.code(),
            place,
            related: Vec::new(),
            cures: Cures::Untried,
            more: 0,
            sizes_below_zero: Vec::new(),
            refused: None,
            problem: Arc::new(problem),
        }
    }

    /// What is wrong, where it is of a module's own kind.
    pub fn problem<P: Problem>(&self) -> Option<&P> {
        let problem: &dyn Any = self.problem.as_ref();
        problem.downcast_ref()
    }

    /// The same finding of another severity than its kind usually has.
    pub fn weighed(self, severity: Severity) -> Self {
        Finding { severity, ..self }
    }

    /// The same finding with other data of the same kind: a limit told more narrowly.
    pub fn with(self, problem: impl Problem) -> Self {
        Finding { problem: Arc::new(problem), ..self }
    }

    /// Puts the finding and its cures from one place to another, where they stand there.
    pub fn move_place(&mut self, from: &Place, to: &Place) {
        let cures = match &mut self.cures {
            Cures::Any(cures) => cures.as_mut_slice(),
            Cures::Nearest(cure) => std::slice::from_mut(cure),
            Cures::Untried | Cures::None | Cures::Half(..) => &mut [],
        };
        let settings = cures.iter_mut().flat_map(|cure| &mut cure.settings).map(|setting| &mut setting.place);
        settings.chain([&mut self.place]).filter(|place| *place == from).for_each(|place| *place = to.clone());
    }

    /// The numbers that were measured, then the one that cures, each with its unit.
    pub fn measures(&self) -> Vec<Measure> {
        let own = self.problem.measures().into_iter();
        // What fits by a rule gives way to what was found to fit.
        let untried = self.cures == Cures::Untried;
        own.filter(|measure| untried || measure.name != FITS).chain(self.fitting()).collect()
    }

    /// The value of the one number that just fits, where one was found.
    fn fitting(&self) -> Option<Measure> {
        let Cures::Nearest(cure) = &self.cures else { return None };
        let [setting] = cure.settings.as_slice() else { return None };
        let value = setting.value.numbers().first().copied()?;
        Some(Measure { name: FITS, value, unit: setting.value.unit() })
    }

    /// The number of a name among those measured.
    pub fn measure(&self, name: &str) -> Option<f64> {
        self.measures().into_iter().find(|measure| measure.name == name).map(|measure| measure.value)
    }

    /// The finding in a maker's words. No two of its numbers that differ read alike.
    pub fn said(&self, notation: &crate::units::Notation) -> Said {
        let (lengths, angles) = self.problem.quantities();
        let apart = notation.telling_apart(&lengths, &angles);
        self.added(self.problem.say(&apart, &self.cures), notation)
    }

    /// Whether another finding is of the same kind and says the same, wherever it stands; numbers may differ by `within`.
    pub fn is_like(&self, other: &Finding, within: f64) -> bool {
        self.problem.is_like(other.problem.as_ref(), within)
    }

    /// Says that there are so many more like it.
    pub fn and_more(mut self, more: usize) -> Self {
        self.more = more;
        self
    }

    /// Adds another place that belongs to it.
    pub fn related(mut self, place: Place, beside: Beside) -> Self {
        self.related.push((place, beside));
        self
    }
}

impl PartialEq for Finding {
    fn eq(&self, other: &Finding) -> bool {
        self.is_like(other, 0.0)
            && (self.severity, &self.place) == (other.severity, &other.place)
            && (&self.related, &self.cures, self.more) == (&other.related, &other.cures, other.more)
    }
}

/// Whether any of the findings stops the work.
pub fn stops(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.severity == Severity::Stop)
}
