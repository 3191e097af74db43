//! Which parts exist already, and what their sheets say of that.

use super::problem::{MadeName, Step};
use super::verdict::{Outcome, Verdict, Verdicts, told};
use crate::finding::{Finding, Place};
use crate::job::{AlreadyMade, ToDo};
use crate::pattern::InFull;
use crate::units::Notation;

/// The word that stands on every sheet of a part that exists.
const ALREADY: &str = "ALREADY MADE";

impl Verdicts {
    /// What is still to be done to each part that exists, and what its patterns say of that; a part of which only some copies exist is
    /// cut for the others.
    pub fn marks(&self, say: &Notation) -> Vec<AlreadyMade> {
        let known = self.all.iter().filter_map(|verdict| {
            Some(AlreadyMade {
                part: verdict.part.clone()?,
                copies: verdict.name.only.clone(),
                words: words(verdict, say),
                in_full: in_full(verdict, say),
                to_do: to_do(verdict),
                steps: steps(verdict, say),
            })
        });
        let unknown = self.unknown.iter().map(|part| AlreadyMade {
            part: part.clone(),
            copies: Vec::new(),
            words: format!("{ALREADY}, as what is not known"),
            in_full: None,
            to_do: ToDo::Make,
            steps: Vec::new(),
        });
        known.chain(unknown).collect()
    }
}

/// What is still to be done to a part that exists.
fn to_do(verdict: &Verdict) -> ToDo {
    match verdict.outcome() {
        Outcome::Keep => ToDo::Keep,
        Outcome::Trim if verdict.is_bare => ToDo::Work,
        Outcome::Trim | Outcome::Rescue => ToDo::Trim,
        Outcome::Again => ToDo::Make,
    }
}

/// What is to be done to it while it is kept, one by one, in order. What is cut into one that is bare is cut as into one that is made now.
fn steps(verdict: &Verdict, say: &Notation) -> Vec<String> {
    if matches!(verdict.outcome(), Outcome::Keep | Outcome::Again) {
        return Vec::new();
    }
    let is_done = |step: &&Step| match step {
        Step::Idle(_) => false,
        Step::Cut(_) => !verdict.is_bare,
        _ => true,
    };
    verdict.steps.iter().filter(is_done).map(|step| step.said(say)).collect()
}

/// All that is to be done to it, as it is told wherever it is told: `None` where nothing is.
fn in_full(verdict: &Verdict, say: &Notation) -> Option<InFull> {
    // Which other numbers would spare it is nothing that is done at the bench.
    let problem = told(verdict, false)?;
    let words = Finding::of(problem, Place::default()).said(say).remedy;
    Some(InFull { heading: format!("TO BE DONE TO WHAT IS MADE ({})", which(verdict)), words })
}

/// Which copies are meant, where not all are, and by which code they were made.
fn which(verdict: &Verdict) -> String {
    let MadeName { code, only, .. } = &verdict.name;
    let only = if only.is_empty() { String::new() } else { format!("{}, ", only.join(", ")) };
    format!("{only}rev {code}")
}

fn words(verdict: &Verdict, say: &Notation) -> String {
    let what = match verdict.outcome() {
        Outcome::Keep => "keep it, cut nothing".to_owned(),
        Outcome::Trim => match short(&verdict.steps, say) {
            taken if taken.is_empty() => "keep it, and cut what is not in it yet".to_owned(),
            taken => format!("keep it and trim {taken}"),
        },
        Outcome::Rescue => match short(&verdict.steps, say) {
            taken if taken.is_empty() => "keep it, fill and cut again what stands wrong in it".to_owned(),
            taken => format!("keep it, trim {taken}, fill and cut again what stands wrong in it"),
        },
        Outcome::Again if !verdict.rescues.is_empty() => {
            "no good as it is; see what would save it before you MAKE AGAIN by this".to_owned()
        }
        Outcome::Again => "no good any more, MAKE AGAIN by this".to_owned(),
    };
    format!("{ALREADY} ({}): {what}", which(verdict))
}

/// What is to be taken where, in a few words.
fn short(steps: &[Step], say: &Notation) -> String {
    let one = |step: &Step| match step {
        Step::Plane { side, by } => Some(format!("{side} {}", say.length(*by))),
        Step::Edge { edge: at, by, on_face, .. } | Step::Saw { end: at, by, on_face, .. } => {
            let [_, most] = on_face.unwrap_or(*by);
            Some(format!("{at} {}{}", say.length(most), if on_face.is_some() { " on the face" } else { "" }))
        }
        _ => None,
    };
    steps.iter().filter_map(one).collect::<Vec<String>>().join(", ")
}
