//! How often each stage of a job has run.

use std::cell::Cell;

/// How often each stage of a job has run: never, or once.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Stages {
    /// The numbers were solved into boards.
    pub solved: u32,
    /// Joints were made.
    pub joined: u32,
    /// Angled aids were made.
    pub aided: u32,
    /// What is routed on parts of the piece was found.
    pub routed: u32,
    /// The rules of the trade were asked.
    pub checked: u32,
    /// Templates were worked out.
    pub templated: u32,
    /// What a cutter leaves, cannot reach or cannot follow was found.
    pub reached: u32,
    /// Parts drawn directly were looked at for short grain.
    pub grained: u32,
    /// Cures were searched: by far the most work of all.
    pub cured: u32,
    /// The boards and the parts drawn directly were drawn.
    pub drawn: u32,
    /// All further patterns were drawn.
    pub patterned: u32,
}

impl Stages {
    #[cfg(test)]
    const NONE: Stages = Stages {
        solved: 0,
        joined: 0,
        aided: 0,
        routed: 0,
        checked: 0,
        templated: 0,
        reached: 0,
        grained: 0,
        cured: 0,
        drawn: 0,
        patterned: 0,
    };

    /// Every stage by its name, with how often it has run.
    pub fn all(&self) -> [(&'static str, u32); 11] {
        [
            ("solved", self.solved),
            ("joined", self.joined),
            ("aided", self.aided),
            ("routed", self.routed),
            ("checked", self.checked),
            ("templated", self.templated),
            ("reached", self.reached),
            ("grained", self.grained),
            ("cured", self.cured),
            ("drawn", self.drawn),
            ("patterned", self.patterned),
        ]
    }
}

#[cfg(test)]
thread_local! {
    /// The runs of all jobs of a thread: what a command does whose jobs a test does not see.
    static OF_THREAD: Cell<Stages> = const { Cell::new(Stages::NONE) };
}

/// How often the stages of all jobs of this thread have run since this was last asked.
#[cfg(test)]
pub fn taken() -> Stages {
    OF_THREAD.with(|counts| counts.replace(Stages::NONE))
}

/// The counts of a job.
#[derive(Debug, Default)]
pub(super) struct Counts {
    stages: Cell<Stages>,
    /// Whether the job is but a trial of another's cure, a part of that search and not what a command makes.
    #[cfg(test)]
    of_trial: bool,
}

impl Counts {
    /// The counts of a job on which a cure is tried.
    pub(super) fn of_trial() -> Counts {
        Counts {
            #[cfg(test)]
            of_trial: true,
            ..Counts::default()
        }
    }

    /// Counts one run of a stage.
    pub(super) fn count(&self, stage: impl Fn(&mut Stages) -> &mut u32) {
        let mut stages = self.stages.get();
        *stage(&mut stages) += 1;
        self.stages.set(stages);
        #[cfg(test)]
        if self.of_trial {
            return;
        }
        #[cfg(test)]
        OF_THREAD.with(|counts| {
            let mut stages = counts.get();
            *stage(&mut stages) += 1;
            counts.set(stages);
        });
    }

    /// The counts as they are now.
    pub(super) fn get(&self) -> Stages {
        self.stages.get()
    }
}
