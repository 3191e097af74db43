//! Cures as data: the numbers of the file that were tried, and what came of it.

use super::{Finding, Place, Unit};
use crate::units::{Angle, Length, Notation};
use std::any::Any;
use std::fmt;
use std::sync::Arc;

/// Degrees are written to less than one part in so many.
const WRITTEN: f64 = 1e6;

/// A number as it would stand in the file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
    /// Two lengths, as a list.
    Pair([Length; 2]),
    /// A number without a unit.
    Number(f64),
}

impl Quantity {
    /// The unit in which [`Quantity::numbers`] are.
    pub fn unit(self) -> Unit {
        match self {
            Quantity::Length(_) | Quantity::Pair(_) => Unit::Mm,
            Quantity::Angle(_) => Unit::Degree,
            Quantity::Number(_) => Unit::Plain,
        }
    }

    /// The number, or both of a list.
    pub fn numbers(self) -> Vec<f64> {
        match self {
            Quantity::Length(length) => vec![length.mm()],
            Quantity::Number(number) => vec![number],
            Quantity::Pair(both) => both.map(Length::mm).to_vec(),
            // As it is written: turned into radians and back, a decimal may lose its last bit.
            Quantity::Angle(angle) => vec![(angle.degrees() * WRITTEN).round() / WRITTEN],
        }
    }
}

/// A number of the file and the value that it would have to have.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// Where the number stands.
    pub place: Place,
    /// What it would be.
    pub value: Quantity,
}

/// How a change of the file is worded.
pub trait Change: Any + fmt::Debug + Send + Sync {
    /// The change in a maker's words, with the numbers that it sets.
    fn say(&self, settings: &[Setting], notation: &Notation) -> String;
}

/// A change of the file that was tried and cures.
#[derive(Debug, Clone)]
pub struct Cure {
    /// The numbers that it sets, all of them together; none where it is no number, as leaving one of several out.
    pub settings: Vec<Setting>,
    change: Arc<dyn Change>,
}

impl Cure {
    /// A change that sets these numbers.
    pub fn new(settings: Vec<Setting>, change: impl Change + 'static) -> Cure {
        Cure { settings, change: Arc::new(change) }
    }

    /// The change as what it is, where it is that.
    pub fn change_as<T: Change>(&self) -> Option<&T> {
        let change: &dyn Any = &*self.change;
        change.downcast_ref()
    }

    /// The change in a maker's words.
    pub fn said(&self, notation: &Notation) -> String {
        self.change.say(&self.settings, notation)
    }
}

impl PartialEq for Cure {
    fn eq(&self, other: &Cure) -> bool {
        self.settings == other.settings
    }
}

/// What came of trying cures on a finding.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Cures {
    /// None was tried.
    #[default]
    Untried,
    /// Each of these cures by itself.
    Any(Vec<Cure>),
    /// This value of one number, or these of two together, are nearest to what is given and just fit.
    Nearest(Cure),
    /// None was found.
    None,
    /// None was found: with this one, another finding stops the work.
    Half(Cure, Box<Finding>),
}

impl Cures {
    /// The changes that cure, each by itself.
    pub fn all(&self) -> &[Cure] {
        match self {
            Cures::Any(cures) => cures,
            Cures::Nearest(cure) => std::slice::from_ref(cure),
            Cures::Untried | Cures::None | Cures::Half(..) => &[],
        }
    }
}
