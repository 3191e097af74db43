//! One job: a read file and its shop, from which each stage of the work is made once and kept.
//!
//! Guarantees to whoever asks: a stage runs when something of it is first asked for, and never again; cures are searched only
//! where findings are asked for with them; in which order things are asked for makes no difference to what comes out. There is
//! no file system, no clock and no terminal here: drawings to which a file refers came with the reading.

mod as_built;
mod codes;
mod cure;
mod drawing;
mod made;
mod moved;
mod nudged;
mod patterns;
mod piece;
mod refusal;
mod schedule;
mod sheets;
mod stages;
mod stocks;
mod undecided;

pub use made::{AlreadyMade, SomeMade, ToDo};
pub use moved::Moved;
pub use patterns::NamedPattern;
pub use refusal::Refusal;
pub use sheets::{PaperCount, Plotted, Sheets};
pub use stages::Stages;
#[cfg(test)]
pub(crate) use stages::taken;
pub use undecided::HeldBack;
pub(crate) use undecided::{NamedProblem, not_decided};

use crate::finding::{Finding, Severity, stops};
use crate::model::{Paper, Printer, Project};
use crate::router::{Routed, TemplateSetting, Templates};
use crate::stock::Stocks;
use crate::view::Model;
use codes::Codes;
use patterns::{Drawn, ShortGrain};
use piece::Worked;
use schedule::Told;
use stages::Counts;
use std::cell::OnceCell;

/// A read file and its shop, and all that is made from them.
#[derive(Debug)]
pub struct Job {
    project: Project,
    /// The job on the same numbers as revision codes take them, where they are others.
    settled: Option<Box<Job>>,
    /// Whether only codes are made of it: then the rules are not asked, on which no code hangs.
    for_codes: bool,
    /// What stands on every sheet: the title, with the variant where one was applied.
    heading: String,
    /// The most sheets that are laid; `None` for as many as it takes.
    most_sheets: Option<usize>,
    /// Whether something is made even where a finding about what is routed stops the work.
    allows_stops: bool,
    /// The parts that exist already.
    made: Vec<AlreadyMade>,
    counts: Counts,
    worked: OnceCell<Worked>,
    cured: OnceCell<Vec<Finding>>,
    templates: OnceCell<Vec<Templates>>,
    routed: OnceCell<Vec<Routed>>,
    short_grain: OnceCell<Vec<Option<ShortGrain>>>,
    pattern_findings: OnceCell<Vec<Finding>>,
    drawn: OnceCell<Drawn>,
    codes: OnceCell<Codes>,
    patterns: OnceCell<Vec<NamedPattern>>,
    settings: OnceCell<Vec<TemplateSetting>>,
    told: OnceCell<Told>,
    stocks: OnceCell<Stocks>,
    in_space: OnceCell<Model>,
}

impl Job {
    /// A job on a project that was read.
    pub fn new(mut project: Project) -> Job {
        Job {
            settled: project.settled.take().map(|settled| Box::new(Job { for_codes: true, ..Job::new(*settled) })),
            for_codes: false,
            heading: project.heading(),
            project,
            most_sheets: None,
            allows_stops: false,
            made: Vec::new(),
            counts: Counts::default(),
            worked: OnceCell::new(),
            cured: OnceCell::new(),
            templates: OnceCell::new(),
            routed: OnceCell::new(),
            short_grain: OnceCell::new(),
            pattern_findings: OnceCell::new(),
            drawn: OnceCell::new(),
            codes: OnceCell::new(),
            patterns: OnceCell::new(),
            settings: OnceCell::new(),
            told: OnceCell::new(),
            stocks: OnceCell::new(),
            in_space: OnceCell::new(),
        }
    }

    /// Takes other paper than the file's. Only sheets are laid by it, and they are not kept.
    pub fn set_paper(&mut self, paper: Paper) {
        self.project.shop.paper = paper;
    }

    /// Corrects sheets for another printer than the file's, as [`Job::set_paper`].
    pub fn set_printer(&mut self, printer: Printer) {
        self.project.shop.printer = printer;
    }

    /// Allows at most so many sheets of patterns, of a view that is tiled or of the rod; without it there is no limit.
    pub fn limit_sheets(&mut self, most: usize) {
        self.most_sheets = Some(most);
    }

    /// Gives schedule, views and model of the piece even where a finding about what is routed, or about a part drawn directly,
    /// stops the work. Whoever asks for that tells the findings beside what is made.
    pub fn allow_stops(&mut self) {
        self.allows_stops = true;
    }

    /// Leaves the numbers as revision codes take them alone, for who only counts patterns: a second piece is then not made.
    /// Codes would be of the numbers as they are written.
    pub fn spare_codes(&mut self) {
        self.settled = None;
    }

    /// What was read.
    pub fn project(&self) -> &Project {
        &self.project
    }

    /// What stands on every sheet: the title, with the variant where one was applied.
    pub fn heading(&self) -> &str {
        &self.heading
    }

    /// How often each stage has run.
    pub fn stages(&self) -> Stages {
        self.counts.get()
    }

    /// Everything that is to be told of the piece and of the patterns, without the cures that have to be searched.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        self.piece_findings().iter().chain(self.pattern_findings())
    }

    /// As [`Job::findings`], each with what cures it. Where something is wrong that is by far the most work of all.
    pub fn cured_findings(&self) -> impl Iterator<Item = &Finding> {
        self.cured_piece_findings().iter().chain(self.pattern_findings())
    }

    /// Whether something stops the work, so that nothing may be cut by this file.
    pub fn stops(&self) -> bool {
        stops(self.piece_findings()) || stops(self.pattern_findings())
    }

    /// Goes on only where nothing stops the work, or where it was said that this makes no difference.
    ///
    /// # Errors
    /// Where a finding stops the work.
    fn cleared(&self) -> Result<(), Refusal> {
        if !self.allows_stops && self.stops() { Err(Refusal::Stopped) } else { Ok(()) }
    }

    /// What stops the work, with what cures it; the cures of what merely warns are not searched.
    pub fn cured_stops(&self) -> Vec<&Finding> {
        let of_piece = if stops(self.piece_findings()) { self.cured_piece_findings() } else { &[] };
        let all = of_piece.iter().chain(self.pattern_findings());
        all.filter(|finding| finding.severity == Severity::Stop).collect()
    }
}
