//! Wood and its moisture.

use super::field::{Field, Numbers, record};
use super::number::{Pointer, Slot};

/// A wood as the file gives it.
#[derive(Debug, Clone, PartialEq)]
pub enum Wood {
    /// By a name that is looked up.
    Named(String),
    /// With numbers of its own.
    Given(GivenSpecies),
}

impl Numbers for Wood {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        match self {
            Wood::Named(_) => {}
            Wood::Given(given) => given.each(fields, object, visit),
        }
    }
}

record! {
    ($) given_species GivenSpeciesText
    /// A wood with coefficients of its own.
    GivenSpecies {
        name: String = "Name", "what the wood is called.", "\"elm\"";
        radial: f64 = "Radial", "change for each 1 % of moisture across a quarter-sawn board, as a share.", Number 0.0002..=0.01, "0.0018";
        tangential: f64 = "Tangential", "change for each 1 % of moisture across a flat-sawn board, as a share.", Number 0.0002..=0.01, "0.0036";
        density: Option<f64> = "Density", "Mass of a cubic metre at 12 % moisture, kg.", Number 50.0..=1500.0, "680";
    }
}

record! {
    ($) moisture MoistureText
    /// Moisture contents between which the wood moves.
    #[derive(Copy)]
    Moisture {
        today: MoistureAt = "Today", "moisture of the wood today, per cent, or the air it has rested in; the table of movement holds from 6 to 14.", Number 3.0..=20.0, "8";
        driest: MoistureAt = "Driest", "the driest it will be, per cent, or the air of that season.", Number 3.0..=20.0, "{ \"celsius\": 21, \"humidity\": 30 }";
        dampest: MoistureAt = "Dampest", "the dampest it will be, per cent, or the air of that season.", Number 3.0..=20.0, "{ \"celsius\": 21, \"humidity\": 65 }";
    }
}

/// A moisture content, or the air in which wood comes to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MoistureAt {
    /// Per cent, 3 to 20.
    Percent(f64),
    /// The air of a room.
    Climate {
        /// Degrees Celsius, -10 to 50.
        celsius: f64,
        /// Relative humidity, per cent, 1 to 95.
        humidity: f64,
    },
}

/// A temperature may be told in either scale, so that the air of a room is not listed.
impl Numbers for MoistureAt {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        match self {
            MoistureAt::Percent(percent) => percent.each(fields, object, visit),
            MoistureAt::Climate { .. } => {}
        }
    }
}
