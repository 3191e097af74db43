//! Words for orders of work, and for numbers that are not decided, or fixed.

use super::{did_you_mean, listed};
use crate::finding::{Cures, Said, Words, quoted};
use crate::job::NamedProblem;
use crate::order::OrderProblem;
use crate::units::Notation;

impl Words for OrderProblem {
    fn say(&self, _notation: &Notation, _cures: &Cures) -> Said {
        let OrderProblem::Ring { parts } = self;
        Said::new(
            format!("work on {} waits for itself in a ring", listed(parts)),
            "cut the first of these to its pattern and fit the others to it",
        )
    }
}

impl Words for NamedProblem {
    fn say(&self, _notation: &Notation, _cures: &Cures) -> Said {
        match self {
            NamedProblem::Holds { number, parts } => Said::new(
                format!("{} is not decided: {} held back", quoted(number), held(parts)),
                "print leaves them out unless you name them, and each sheet that is drawn of them says so; cut nothing of them before it is \
                 decided, then take its name out of \"undecided\"",
            ),
            NamedProblem::Idle { number } => Said::new(
                format!("{} is not decided, and no part hangs on it", quoted(number)),
                "nothing is held back for it",
            ),
            NamedProblem::Unknown { name, numbers } => Said::new(
                format!("there is no number {} that could be undecided", quoted(name)),
                did_you_mean(&numbers.0.near).unwrap_or_else(|| {
                    "name a number of base, top, joints or aids by its path, base.height for example, or a part that the file draws: \
                     patterns.shelf"
                        .to_owned()
                }),
            ),
            NamedProblem::FixedUnknown { name, numbers } => Said::new(
                format!("there is no number {} that could be fixed", quoted(name)),
                did_you_mean(&numbers.0.near).unwrap_or_else(|| {
                    "name a number by its path, base.height for example, or what holds several: base.leg".to_owned()
                }),
            ),
        }
    }
}

fn held(parts: &[String]) -> String {
    match parts {
        [one] => format!("{} hangs on it and is", quoted(one)),
        parts => format!("{} hang on it and are", listed(parts)),
    }
}
