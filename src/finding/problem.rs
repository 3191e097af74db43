//! What is wrong, as data: a type in each module that finds something, and its words elsewhere.

use super::{Cures, Datum, Measure, Severity, Unit};
use crate::units::{Angle, Length, Notation};
use std::any::Any;
use std::fmt;

/// What a rule found. The types are made by `problems!` in the module that has the rule; they hold numbers and names, no prose.
pub trait Problem: Words + fmt::Debug + Any + Send + Sync {
    /// How much it matters.
    fn severity(&self) -> Severity;

    /// Its kind, as a stable short name in kebab case.
    fn code(&self) -> &'static str;

    /// All that it holds; what is given to scripts has a name.
    fn data(&self) -> Vec<(Option<&'static str>, &dyn Datum)>;
}

impl dyn Problem {
    /// The numbers that are given to scripts.
    pub fn measures(&self) -> Vec<Measure> {
        let named = self.data().into_iter().filter_map(|(name, datum)| Some((name?, datum.number()?)));
        named.map(|(name, (value, unit))| Measure { name, value, unit }).collect()
    }

    /// The lengths and the angles that it holds.
    pub fn quantities(&self) -> (Vec<Length>, Vec<Angle>) {
        let numbers: Vec<(f64, Unit)> = self.data().into_iter().filter_map(|(_, datum)| datum.number()).collect();
        let of = |wanted: Unit| numbers.iter().filter(move |(_, unit)| *unit == wanted).map(|(value, _)| *value);
        (of(Unit::Mm).map(Length::from_mm).collect(), of(Unit::Degree).map(Angle::from_degrees).collect())
    }

    /// Whether another is of the same kind and holds the same, numbers differing by no more than `within`, mm or degrees.
    pub fn is_like(&self, other: &dyn Problem, within: f64) -> bool {
        let (own, others) = (self.data(), other.data());
        self.code() == other.code()
            && own.len() == others.len()
            && own.iter().zip(&others).all(|((_, own), (_, other))| own.is_like(*other, within))
    }
}

/// A finding in words.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Said {
    /// What is wrong and how much, in the file's units.
    pub message: String,
    /// The change that cures it.
    pub remedy: String,
}

impl Said {
    /// What is wrong, and what cures it.
    pub fn new(message: impl Into<String>, remedy: impl Into<String>) -> Said {
        Said { message: message.into(), remedy: remedy.into() }
    }

    /// Both in one line, for where a finding has no lines of its own.
    pub fn in_one_line(&self) -> String {
        if self.remedy.is_empty() { self.message.clone() } else { format!("{}; {}", self.message, self.remedy) }
    }
}

/// The words for a problem. They stand in `words`, one file a family of problems, and nowhere else.
pub trait Words {
    /// The problem, and what came of trying cures on it, in a maker's words.
    fn say(&self, notation: &Notation, cures: &Cures) -> Said;
}

/// Declares the problems of a module, each with its severity, its code and what it holds:
///
/// ```text
/// problems! {
///     /// What a rule finds.
///     pub(crate) enum Problem {
///         /// A wall is thin.
///         Warn "thin-wall" ThinWall { mortise: String, wall: Length as "wall" }
///     }
/// }
/// ```
///
/// A number with a name after `as` is given to scripts by that name.
macro_rules! problems {
    (@name) => { None };
    (@name $name:literal) => { Some($name) };
    (
        $(#[$doc:meta])*
        $vis:vis enum $problem:ident {
            $(
                $(#[$about:meta])*
                $severity:ident $code:literal $kind:ident {
                    $( $(#[$field_doc:meta])* $field:ident : $type:ty $(as $name:literal)? ),* $(,)?
                }
            )*
        }
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone)]
        $vis enum $problem {
            $( $(#[$about])* $kind { $( $(#[$field_doc])* $field: $type ),* } ),*
        }

        impl $crate::finding::Problem for $problem {
            fn severity(&self) -> $crate::finding::Severity {
                match self { $( $problem::$kind { .. } => $crate::finding::Severity::$severity ),* }
            }

            fn code(&self) -> &'static str {
                match self { $( $problem::$kind { .. } => $code ),* }
            }

            fn data(&self) -> Vec<(Option<&'static str>, &dyn $crate::finding::Datum)> {
                match self {
                    $( $problem::$kind { $($field),* } => vec![
                        $( ($crate::finding::problems!(@name $($name)?), $field as &dyn $crate::finding::Datum) ),*
                    ] ),*
                }
            }
        }
    };
}
pub(crate) use problems;
