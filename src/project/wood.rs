//! Wood and its moisture as meant.

use super::raw::{ClimateText, MoistureAtText, MoistureText, SpeciesText};
use super::resolve::Resolver;

/// A wood as the file gives it.
#[derive(Debug, Clone, PartialEq)]
pub enum Wood {
    /// By a name that is looked up.
    Named(String),
    /// With numbers of its own.
    Given {
        /// What it is called.
        name: String,
        /// Change for each per cent of moisture across a quarter-sawn board, as a share.
        radial: f64,
        /// Change for each per cent of moisture across a flat-sawn board, as a share.
        tangential: f64,
        /// Mass of a cubic metre at 12 % moisture, kg.
        density: Option<f64>,
    },
}

/// Between which moisture contents a wood moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moisture {
    /// Today.
    pub today: MoistureAt,
    /// The driest.
    pub driest: MoistureAt,
    /// The dampest.
    pub dampest: MoistureAt,
}

/// A moisture content, or the air in which wood comes to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MoistureAt {
    /// Per cent, 6 to 14.
    Percent(f64),
    /// The air of a room.
    Climate {
        /// Degrees Celsius, -10 to 50.
        celsius: f64,
        /// Relative humidity, per cent, 1 to 95.
        humidity: f64,
    },
}

/// Works a wood out.
pub fn species(written: &SpeciesText, resolver: &mut Resolver) -> Option<Wood> {
    match written {
        SpeciesText::Named(name) => Some(Wood::Named(name.clone())),
        SpeciesText::Given(given) => {
            let (radial, tangential) = (resolver.number(&given.radial), resolver.number(&given.tangential));
            let density = given.density.as_ref().map_or(Some(None), |d| resolver.number(d).map(Some));
            Some(Wood::Given {
                name: given.name.clone(),
                radial: radial?,
                tangential: tangential?,
                density: density?,
            })
        }
    }
}

/// Works the moisture contents out.
pub fn moisture(written: &MoistureText, resolver: &mut Resolver) -> Option<Moisture> {
    let all = [&written.today, &written.driest, &written.dampest].map(|at| moisture_at(at, resolver));
    let [today, driest, dampest] = all;
    Some(Moisture { today: today?, driest: driest?, dampest: dampest? })
}

fn moisture_at(written: &MoistureAtText, resolver: &mut Resolver) -> Option<MoistureAt> {
    match written {
        MoistureAtText::Percent(percent) => resolver.number(percent).map(MoistureAt::Percent),
        MoistureAtText::Climate(ClimateText::CelsiusClimate(air)) => {
            let (celsius, humidity) = (resolver.number(&air.celsius), resolver.number(&air.humidity));
            Some(MoistureAt::Climate { celsius: celsius?, humidity: humidity? })
        }
        MoistureAtText::Climate(ClimateText::FahrenheitClimate(air)) => {
            let (fahrenheit, humidity) = (resolver.number(&air.fahrenheit), resolver.number(&air.humidity));
            Some(MoistureAt::Climate { celsius: (fahrenheit? - 32.0) / 1.8, humidity: humidity? })
        }
    }
}
