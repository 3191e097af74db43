//! Cures held against the whole piece: what cures boards or a joint is tried through joints, aids, routing and rules, as the command
//! would.

use super::Job;
use super::stages::Counts;
use crate::finding::{Cure, Cures, Finding, Severity};
use crate::joinery::JointChange;
use crate::model::Project;
use crate::model::base::Base;
use crate::model::top::Top;

/// So many cures of joints are tried in the whole piece: each is all of it once more. Those left over were tried through joints and
/// rules.
const MOST_TRIED: usize = 16;

impl Job {
    /// What stops the work with another base and top, and does not with those of the file.
    pub(super) fn stop_with(&self, base: Option<&Base>, top: Option<&Top>) -> Option<Finding> {
        let mut project = self.project.piece_alone();
        (project.base, project.top) = (base.cloned(), top.cloned());
        project.follow_base();
        self.new_stop(project)
    }

    /// Takes out of findings the cures with which something else stops the work, and says what.
    pub(super) fn hold_cures(&self, findings: &mut [Finding]) {
        let mut left = MOST_TRIED;
        for finding in findings {
            let mut then = None;
            let mut goes_through = |cure: &Cure| {
                let Some(project) = self.with(cure).filter(|_| left > 0) else { return true };
                left -= 1;
                let stop = self.new_stop(project);
                let goes = stop.is_none();
                then = then.take().or(stop);
                goes
            };
            let held = match &finding.cures {
                Cures::Any(all) => {
                    let kept: Vec<Cure> = all.iter().filter(|cure| goes_through(cure)).cloned().collect();
                    Some(if kept.is_empty() { Cures::None } else { Cures::Any(kept) })
                }
                Cures::Nearest(cure) if !goes_through(cure) => {
                    then.map(|stop| Cures::Half(cure.clone(), Box::new(stop)))
                }
                _ => None,
            };
            if let Some(held) = held {
                finding.cures = held;
            }
        }
    }

    /// The piece with a cure made; `None` where it is none of a number of base, top or joint.
    fn with(&self, cure: &Cure) -> Option<Project> {
        let mut project = self.project.piece_alone();
        let joint = cure.change_as::<JointChange>().and_then(|made| Some((made.joint.place.clone(), made.made()?)));
        if let Some((place, made)) = joint {
            *project.joints.iter_mut().find(|joint| joint.place == place)? = made;
            return Some(project);
        }
        for setting in &cure.settings {
            let value = setting.value.numbers().first().copied()?;
            if !project.set_number(&setting.place, value) {
                return None;
            }
        }
        (!cure.settings.is_empty()).then_some(project)
    }

    /// What stops the work on a project, and not on this one.
    fn new_stop(&self, project: Project) -> Option<Finding> {
        let known = |stop: &Finding| {
            let same = |old: &&Finding| old.code == stop.code && old.place.pointer == stop.place.pointer;
            self.piece_findings().iter().any(|old| same(&old))
        };
        let tried = Job { counts: Counts::of_trial(), ..Job::new(project) };
        tried.findings().find(|found| found.severity == Severity::Stop && !known(found)).cloned()
    }
}
