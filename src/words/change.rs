//! Words for what is wrong with a change of a file.

use super::written;
use super::{did_you_mean, listed};
use crate::finding::{Change, Cures, Said, Setting, Words, quoted};
use crate::project::edit::{ChangeProblem, InItsPlace, Nowhere, Unclear};
use crate::units::Notation;

fn nowhere(to: &Nowhere) -> Said {
    match to {
        Nowhere::EmptyList(step) => Said::new(
            format!("this list is empty, so there is no entry {step}"),
            "give the whole list, for example holes=[…]",
        ),
        Nowhere::NoEntry(step, count) => Said::new(
            format!("this list has no entry \"{step}\""),
            format!("its entries are counted from 0 to {}; to add one, give the whole list", count - 1),
        ),
        Nowhere::NoField(kind, step) => Said::new(
            format!("{} stands here, which has no field \"{step}\"", kind.said()),
            "name a field that exists",
        ),
        Nowhere::Unknown(name, near, in_shop) => {
            let lists = match in_shop {
                true => "fullsize shop lists all names",
                false => "fullsize set with the file alone lists all names",
            };
            match near {
                Some(near) => Said::new(
                    format!("nothing in this file is named {}", quoted(name)),
                    format!("did you mean {}? {lists}", quoted(near)),
                ),
                None => Said::new(
                    format!("nothing in this file is named {}, and nothing that it could say", quoted(name)),
                    lists,
                ),
            }
        }
        Nowhere::NoSuch(name, under, known) => Said::new(
            format!("there is no {} under \"{under}\"", quoted(name)),
            did_you_mean(&known.0.near).unwrap_or_else(|| format!("there are {}", listed(&known.0.all))),
        ),
    }
}

impl Words for ChangeProblem {
    fn say(&self, _notation: &Notation, _cures: &Cures) -> Said {
        match self {
            ChangeProblem::Unclear { change, why } => {
                let example =
                    || "write NAME=VALUE, such as thickness=15; --undo takes the last change back".to_owned();
                let (why, cure) = match why {
                    Unclear::NoEquals(meant) => {
                        let meant = meant.as_ref().map(|meant| match meant.contains(' ') {
                            true => format!("write {}", quoted(meant)),
                            false => format!("write {meant}"),
                        });
                        ("there is no `=` between name and value", meant.unwrap_or_else(example))
                    }
                    Unclear::OpenQuote => ("a quoted name is not closed", example()),
                    Unclear::NoName => ("a name is missing", example()),
                };
                Said::new(format!("`{change}` cannot be understood: {why}"), cure)
            }
            ChangeProblem::Ambiguous { name, all } => Said::new(
                format!("{} may be one of several fields", quoted(name)),
                format!("write one of {}", listed(&all.0)),
            ),
            ChangeProblem::NotThere { path } => Said::new(
                format!("nothing stands at {}, so there is nothing to remove", quoted(path)),
                "fullsize set with the file alone lists what stands in it",
            ),
            ChangeProblem::Nowhere { to } => nowhere(to),
        }
    }
}

impl Change for InItsPlace {
    /// The number alone: `40 mm`.
    fn say(&self, settings: &[Setting], notation: &Notation) -> String {
        settings.iter().map(|setting| written(setting.value, notation)).collect::<Vec<_>>().join(" and ")
    }
}
